package main

import (
	"fmt"
	"os"
	"path/filepath"

	"whorl.example/wasm/lib"
	"whorl.example/wasm/site/release"
	"whorl.example/wasm/site/static"
)

// writeLibrary writes the core as a package that npm pack takes as it is.
func writeLibrary(dir string) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	remark, err := lib.Write(root, dir)
	if err != nil {
		return err
	}
	if remark != "" {
		fmt.Fprintln(os.Stderr, remark)
	}
	fmt.Println("Written to", dir)
	return nil
}

// writeRelease builds everything and writes the files that are handed out.
func writeRelease(dir string) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	stamp, err := release.StampOf(root) // what is missing is said before the minutes that it takes
	if err != nil {
		return err
	}
	fmt.Fprintln(os.Stderr, "Making release", stamp.Version, "(some minutes)…")
	site, err := Build(root)
	if err != nil {
		return err
	}
	site.Compress(static.Thorough)
	if site.Remark != "" {
		fmt.Fprintln(os.Stderr, site.Remark)
	}
	library, err := libraryFiles(root)
	if err != nil {
		return err
	}
	all, err := release.Make(release.Input{Root: root, Page: site, Library: library, Stamp: stamp, Platforms: release.Platforms})
	if err != nil {
		return err
	}
	if err := release.Write(dir, all); err != nil {
		return err
	}
	fmt.Print(string(all["SHA256SUMS"]))
	fmt.Println("Written to", dir)
	return nil
}

// libraryFiles is the package for JavaScript, by the names of its files.
func libraryFiles(root string) (map[string][]byte, error) {
	dir, err := os.MkdirTemp("", "whorl-lib-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	if _, err := lib.Write(root, dir); err != nil {
		return nil, err
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	all := map[string][]byte{}
	for _, e := range entries {
		if all[e.Name()], err = os.ReadFile(filepath.Join(dir, e.Name())); err != nil {
			return nil, err
		}
	}
	return all, nil
}
