// Command assess compares an exam with the horse's history. What it takes and gives stands with package assess.
//
//	go run ./examples/assess examples/assess/testdata/record.json
package main

import (
	"os"

	"whorl.example/wasm/assess"
)

func main() { os.Exit(assess.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
