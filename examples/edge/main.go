// Command edge is Whorl as a worker at the edge of a network: a request in, the answer of
// package api out, nothing kept. It compiles to WebAssembly for workerd, and runs as a
// plain HTTP server for a try.
//
//	GET  /schema             the JSON Schema of the barn file
//	POST /OPERATION          the operation's request; its answer, as in DEVELOPERS.md
//
// Build, from the root of the module:
//
//	go tool workers-assets-gen -mode=go -o build/edge
//	GOOS=js GOARCH=wasm go build -trimpath -ldflags="-s -w" -o build/edge/app.wasm ./examples/edge
//
// The platform starts a new instance for each request, which is most of what a request
// costs. A page of one's own should compute on the device instead: see wasm/site.
package main

import (
	"net/http"

	"github.com/syumai/workers"
)

func main() { workers.Serve(handler()) }

// handler is the worker without its platform.
func handler() http.Handler { return guard(http.HandlerFunc(answer)) }
