// Command whorl is the page and the library in one program, which needs no Go, no network and no other file:
//
//	whorl                              serve the page on 127.0.0.1:8020
//	whorl serve [-addr A] [-clinic F]  the same, elsewhere, with a clinic's file
//	whorl folder [-clinic F] DIR       write the page as a folder of static files for any web host
//	whorl clinic FILE                  check a clinic's file: each fault with its line
//	whorl assess [-report] [FILE]      compare an exam with the horse's history
//	whorl licences                     whose software is inside, and under which licence
//	whorl version
//
// "go run ./wasm/site -release DIR" makes it with the page inside. As the sources alone make it, it has no page.
package main

import (
	"archive/zip"
	"bytes"
	"embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	core "whorl.example/wasm/api"
	"whorl.example/wasm/assess"
	"whorl.example/wasm/site/static"
)

// version is given by the linker: the release and the commit.
var version = core.Version + " (not a release)"

const help = `Whorl: the physical exam of a horse, step by step.

  whorl                               serve the page on 127.0.0.1:8020
  whorl serve [-addr ADDRESS] [-clinic FILE]
                                      the same elsewhere, with a clinic's file
  whorl folder [-clinic FILE] DIR     write the page as a folder for any web host
  whorl clinic FILE                   check a clinic's file
  whorl assess [-report] [-lang LANGUAGE] [FILE]
                                      compare an exam with the horse's history
  whorl licences                      whose software is inside
  whorl version
`

func main() { os.Exit(run(os.Args[1:])) }

// run gives the exit code: 0, 1 if something could not be done, 2 if what was asked or given is wrong.
func run(args []string) int {
	if len(args) == 0 {
		args = []string{"serve"}
	}
	var err error
	switch rest := args[1:]; args[0] {
	case "serve":
		err = serve(rest)
	case "folder":
		err = folder(rest)
	case "clinic":
		err = clinic(rest)
	case "assess":
		return assess.Run(rest, os.Stdin, os.Stdout, os.Stderr)
	case "licences", "licenses":
		err = licences()
	case "version", "-version", "--version":
		fmt.Println(version)
	case "help", "-h", "-help", "--help":
		fmt.Print(help)
	default:
		err = wrong{fmt.Errorf("there is no %q\n\n%s", args[0], help)}
	}
	if err == nil || errors.Is(err, flag.ErrHelp) {
		return 0
	}
	fmt.Fprintln(os.Stderr, "whorl:", err)
	if errors.As(err, new(wrong)) {
		return 2
	}
	return 1
}

// wrong is an error of who asked.
type wrong struct{ error }

func serve(args []string) error {
	flags := flag.NewFlagSet("whorl serve", flag.ContinueOnError)
	addr := flags.String("addr", "127.0.0.1:8020", "address to serve on; port 0 takes a free one")
	file := flags.String("clinic", "", "lay this clinic's file beside the page")
	if err := parse(flags, args, 0); err != nil {
		return err
	}
	site, err := pageWith(*file)
	if err != nil {
		return err
	}
	listener, err := static.Listen(*addr)
	if err != nil {
		return err
	}
	site.Compress(static.Quick)
	return site.Serve(listener)
}

func folder(args []string) error {
	flags := flag.NewFlagSet("whorl folder", flag.ContinueOnError)
	file := flags.String("clinic", "", "lay this clinic's file beside the page, and into the page as one file")
	if err := parse(flags, args, 1); err != nil {
		return err
	}
	site, err := pageWith(*file)
	if err != nil {
		return err
	}
	site.Compress(static.Thorough)
	if err := site.Write(flags.Arg(0)); err != nil {
		return err
	}
	fmt.Println("Written to", flags.Arg(0))
	return nil
}

func clinic(args []string) error {
	flags := flag.NewFlagSet("whorl clinic", flag.ContinueOnError)
	if err := parse(flags, args, 1); err != nil {
		return err
	}
	if _, err := static.ReadClinic(flags.Arg(0)); err != nil {
		return wrong{err}
	}
	fmt.Println(flags.Arg(0), "can be laid beside the page.")
	return nil
}

// parse reads flags, which come before the arguments, of which there must be so many.
func parse(flags *flag.FlagSet, args []string, most int) error {
	if err := flags.Parse(args); err != nil {
		return wrong{err}
	}
	if flags.NArg() != most {
		return wrong{fmt.Errorf("%s takes %d argument(s) behind its flags, and not %d\n\n%s", flags.Name(), most, flags.NArg(), help)}
	}
	return nil
}

// inside are page.zip and NOTICE, where the program was made as a release.
var inside embed.FS

var errNoPage = errors.New("this program was made without the page; go run ./wasm/site -release DIR makes it with the page inside")

func licences() error {
	text, err := inside.ReadFile("NOTICE")
	if err != nil {
		return errNoPage
	}
	_, err = os.Stdout.Write(text)
	return err
}

// pageWith is the page that is inside, with a clinic's file if one is named.
func pageWith(file string) (*static.Site, error) {
	var text []byte
	if file != "" {
		var err error
		if text, err = static.ReadClinic(file); err != nil {
			return nil, wrong{err}
		}
	}
	zipped, err := inside.ReadFile("page.zip")
	if err != nil {
		return nil, errNoPage
	}
	all, err := unzipped(zipped)
	if err != nil {
		return nil, err
	}
	site := static.Of(all)
	if file == "" {
		return site, nil
	}
	return site, site.AddClinic(text)
}

func unzipped(zipped []byte) (map[string][]byte, error) {
	r, err := zip.NewReader(bytes.NewReader(zipped), int64(len(zipped)))
	if err != nil {
		return nil, err
	}
	all := map[string][]byte{}
	for _, f := range r.File {
		in, err := f.Open()
		if err != nil {
			return nil, err
		}
		all[f.Name], err = io.ReadAll(in)
		in.Close()
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}
