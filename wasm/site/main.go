// Command site builds the page and serves it, or writes it as a folder of static files:
//
//	go run ./wasm/site                 build, serve on 127.0.0.1:8020
//	go run ./wasm/site -addr :9000     serve elsewhere
//	go run ./wasm/site -out DIR        write the folder for any web host, serve nothing; in it is
//	                                   whorl.html, the page as one file that needs no server, and
//	                                   notices-….txt, whose software is in the page
//	go run ./wasm/site -pack FILE      with a clinic's file beside the page, here or in -out
//	go run ./wasm/site -lib DIR        write the core as a package for JavaScript and TypeScript
//	go run ./wasm/site -release DIR    write all that is handed out of this commit: see package release
//
// It needs nothing but Go, and runs in any directory of the module.
package main

import (
	"flag"
	"fmt"
	"os"

	"whorl.example/wasm/site/static"
)

func main() {
	addr := flag.String("addr", "127.0.0.1:8020", "address to serve on; port 0 takes a free one")
	out := flag.String("out", "", "write the static folder here and serve nothing")
	library := flag.String("lib", "", "write the core as a package for JavaScript and TypeScript here")
	handed := flag.String("release", "", "write a release of this commit here: the page, the package, the program whorl for each platform, an image, the sums")
	clinic := flag.String("pack", "", "lay this clinic's file beside the page")
	flag.Parse()
	var err error
	switch {
	case *library != "":
		err = writeLibrary(*library)
	case *handed != "":
		err = writeRelease(*handed)
	default:
		err = run(*addr, *out, *clinic)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "site:", err)
		os.Exit(1)
	}
}

func run(addr, out, clinic string) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	if out != "" {
		return writeFolder(root, out, clinic)
	}
	listener, err := static.Listen(addr)
	if err != nil {
		return err
	}
	fmt.Fprintln(os.Stderr, "Building the page (the first time takes a minute)…")
	site, err := buildWith(root, clinic)
	if err != nil {
		return err
	}
	site.Compress(static.Quick)
	site.Report(os.Stderr)
	return site.Serve(listener)
}

func writeFolder(root, out, clinic string) error {
	site, err := buildWith(root, clinic)
	if err != nil {
		return err
	}
	site.Compress(static.Thorough)
	if err := site.Write(out); err != nil {
		return err
	}
	site.Report(os.Stderr)
	fmt.Println("Written to", out)
	return nil
}

// buildWith builds the page with a clinic's file, if one is named. The file is read first:
// what is wrong with it is said before the minute that the build takes.
func buildWith(root, clinic string) (*static.Site, error) {
	if clinic == "" {
		return Build(root)
	}
	text, err := static.ReadClinic(clinic)
	if err != nil {
		return nil, err
	}
	site, err := Build(root)
	if err != nil {
		return nil, err
	}
	return site, site.AddClinic(text)
}
