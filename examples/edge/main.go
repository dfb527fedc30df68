// Command edge is Whorl as a worker at the edge of a network: a request in, the answer of
// package api out, nothing kept. It compiles to WebAssembly for workerd, and runs as a
// plain HTTP server for a try.
//
//	GET  /                   the page, and every other file of its folder
//	GET  /clinic.json        the clinic's file
//	GET  /schema             the JSON Schema of the barn file
//	POST /OPERATION          the operation's request; its answer, as in wasm/api/OPERATIONS.md
//
// Build, from the root of the module:
//
//	go tool workers-assets-gen -mode=go -o build/edge
//	GOOS=js GOARCH=wasm go build -trimpath -ldflags="-s -w" -o build/edge/app.wasm ./examples/edge
//	cp examples/edge/*.mjs build/edge
//	go run ./wasm/site -out build/files && cp examples/clinic/pack.json build/files/clinic.json
//
// go.mjs is the worker, build/files its static assets (binding ASSETS). Files are answered
// by the platform and start nothing of Go. An operation starts a new instance of Go, which is
// most of what it costs: kept.mjs is the same worker around the package for JavaScript
// (go run ./wasm/site -lib DIR: its whorl.wasm as core.wasm, whorl.js and wasm_exec.js), which
// keeps one instance as long as the platform keeps the worker. examples/DECISIONS.md has both figures.
package main

import (
	"net/http"

	"github.com/syumai/workers"
)

func main() { workers.Serve(handler()) }

var route = answer

// handler is the worker without its platform.
func handler() http.Handler {
	return guard(http.HandlerFunc(func(w http.ResponseWriter, q *http.Request) { route(w, q) }))
}
