// Package wasm builds the core for the browser and for WASI, in the one way in which each
// is shipped, measured and tested.
package wasm

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// Experiment is the GOEXPERIMENT that the core for the browser is built with: the collector that
// Go had before 1.26 takes 8 kB less, and the new one's gain needs a processor's vectors.
const Experiment = "nogreenteagc"

// BuildCore compiles package browser and makes it slim; root is the directory of the module.
//
// Functions are inlined only where the time goes: in package baseline, in what it works
// with, and in the runtime. That takes some 35 kB of 900 under brotli and nothing off the
// speed of a comparison; without inlining anywhere it would be no smaller.
func BuildCore(root string) ([]byte, error) { return buildBrowser(root, "-s -w") }

// BuildPageCore is the same for the page, which hands the messages of a language over when they are needed.
func BuildPageCore(root string) ([]byte, error) {
	return buildBrowser(root, "-s -w", "-tags=givenwords")
}

// BuildNamedCore is the page's with the names of its functions, to measure what has which share.
func BuildNamedCore(root string) ([]byte, error) { return buildBrowser(root, "-w", "-tags=givenwords") }

func buildBrowser(root, link string, flags ...string) ([]byte, error) {
	overlay, err := overlayFmt(root)
	if err != nil {
		return nil, err
	}
	defer os.Remove(overlay)
	module, err := build(root, "js", Experiment, "./wasm/browser", link, slices.Concat(flags, []string{"-overlay=" + overlay}, inlined())...)
	if err != nil {
		return nil, err
	}
	version := exec.Command("go", "env", "GOVERSION")
	version.Dir = root
	out, err := version.Output()
	if err != nil {
		return nil, fmt.Errorf("go env GOVERSION: %w", err)
	}
	return Slim(module, strings.TrimSpace(string(out)))
}

// inlined are the flags for the compiler.
func inlined() []string {
	flags := []string{"-gcflags=all=-l"}
	for _, fast := range []string{"whorl.example/baseline", "math", "slices", "runtime", "internal/runtime/..."} {
		flags = append(flags, "-gcflags="+fast+"=")
	}
	return flags
}

// BuildTests compiles the tests of a package of the module as the core for the browser is compiled, so that their
// benchmarks can be run there.
func BuildTests(root, name string) ([]byte, error) {
	return compile(root, "js", Experiment, "test", name, append(inlined(), "-c")...)
}

// overlayFmt writes the file by which the compiler takes package said in the place of fmt.
func overlayFmt(root string) (string, error) {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", fmt.Errorf("go env GOROOT: %w", err)
	}
	dir := filepath.Join(strings.TrimSpace(string(out)), "src", "fmt")
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return "", err
	}
	replace := map[string]string{}
	for _, f := range files {
		if !strings.HasSuffix(f, "_test.go") {
			replace[f] = "" // as if it were not there
		}
	}
	if replace[filepath.Join(dir, "print.go")], err = filepath.Abs(filepath.Join(root, "wasm", "said", "fmt.go")); err != nil {
		return "", err
	}
	text, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	to, err := os.CreateTemp("", "whorl-overlay-*.json")
	if err != nil {
		return "", err
	}
	_, err = to.Write(text)
	return to.Name(), errors.Join(err, to.Close())
}

// BuildWASI compiles package wasi, a reactor for WASI preview 1; root is the directory of
// the module. A host compiles it once and keeps it, so that speed counts here and not size.
func BuildWASI(root string) ([]byte, error) {
	return build(root, "wasip1", "", "./wasm/wasi", "-s -w", "-buildmode=c-shared")
}

func build(root, system, experiment, from, link string, flags ...string) ([]byte, error) {
	return compile(root, system, experiment, "build", from, append([]string{"-trimpath", "-ldflags=" + link}, flags...)...)
}

func compile(root, system, experiment, command, from string, flags ...string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "whorl-core-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "core.wasm")
	args := append([]string{command, "-o", out}, flags...)
	cmd := exec.Command("go", append(args, from)...)
	cmd.Dir = root
	// An experiment of the environment's would change the size: jsonv2 adds some 230 kB.
	cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH=wasm", "GOEXPERIMENT="+experiment, "GOFLAGS=-mod=readonly")
	if text, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("go %s %s: %w\n%s", command, from, err, text)
	}
	return os.ReadFile(out)
}
