// Package core_test measures the core as the page ships it, and unfolds it by the page's own code. It is a package of the page's module, since
// package wasm, which an embedder has in go.mod, needs neither a compressor nor a bundler.
package core_test

import (
	"sync"
	"testing"

	"whorl.example/wasm"
	"whorl.example/wasm/site/static"
)

const (
	root = "../../.."
	// budget is the most that the core may weigh, in bytes under brotli at quality 11: 831,300 by Go 1.26.8 and 838,200 by 1.27.4.
	// It is 4.3 s at 1.6 Mbit/s, once.
	budget = 850_000
)

// core is the page's, built once for all tests.
var core = sync.OnceValues(func() ([]byte, error) {
	c, err := wasm.BuildPageCore(root)
	if err != nil {
		return nil, err
	}
	return c.Module, nil
})

// The core is built as the page ships it, measured, and held to its budget.
func TestCoreSize(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds the core and compresses it: about 15 s")
	}
	module, err := core()
	if err != nil {
		t.Fatal(err)
	}
	raw, err := wasm.Fold(module)
	if err != nil {
		t.Fatal(err)
	}
	gz, br := static.Gzip(raw, static.Thorough), static.Brotli(raw, static.Thorough)
	t.Logf("core.wasm: %d bytes, gzip %d, brotli %d; budget %d", len(raw), len(gz), len(br), budget)
	if len(br) > budget {
		t.Errorf("the core is %d bytes over its budget", len(br)-budget)
	}
}
