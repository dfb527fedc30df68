package main

import (
	"fmt"
	"os"

	"whorl.example/wasm/lib"
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
