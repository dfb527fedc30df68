// Package wasm builds the core for the browser and for WASI, in the one way in which each
// is shipped, measured and tested.
package wasm

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

// BuildCore compiles package browser; root is the directory of the module.
//
// Functions are not inlined, but for those of package baseline: that takes 80 kB of 930 under brotli,
// and what computes at length keeps its speed.
func BuildCore(root string) ([]byte, error) {
	return build(root, "js", "./wasm/browser", "-gcflags=all=-l", "-gcflags=whorl.example/baseline=")
}

// BuildWASI compiles package wasi, a reactor for WASI preview 1; root is the directory of
// the module. A host compiles it once and keeps it, so that speed counts here and not size.
func BuildWASI(root string) ([]byte, error) {
	return build(root, "wasip1", "./wasm/wasi", "-buildmode=c-shared")
}

func build(root, system, from string, flags ...string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "whorl-core-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "core.wasm")
	args := append([]string{"build", "-trimpath", "-ldflags=-s -w", "-o", out}, flags...)
	cmd := exec.Command("go", append(args, from)...)
	cmd.Dir = root
	// GOEXPERIMENT=jsonv2 would silently add some 230 kB.
	cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH=wasm", "GOEXPERIMENT=", "GOFLAGS=-mod=readonly")
	if text, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("go build %s: %w\n%s", from, err, text)
	}
	return os.ReadFile(out)
}
