// Package wasm builds the core for the browser, in the one way in which it is shipped,
// measured and tested.
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
	dir, err := os.MkdirTemp("", "whorl-core-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "core.wasm")
	cmd := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w",
		"-gcflags=all=-l", "-gcflags=whorl.example/baseline=", "-o", out, "./wasm/browser")
	cmd.Dir = root
	// GOEXPERIMENT=jsonv2 would silently add some 230 kB.
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOEXPERIMENT=", "GOFLAGS=-mod=readonly")
	if text, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("go build ./wasm/browser: %w\n%s", err, text)
	}
	return os.ReadFile(out)
}
