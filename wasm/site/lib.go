package main

import (
	"fmt"

	"whorl.example/wasm/lib"
)

// writeLibrary writes the core as a package that npm pack takes as it is.
func writeLibrary(dir string) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	if err := lib.Write(root, dir); err != nil {
		return err
	}
	fmt.Println("Written to", dir)
	return nil
}
