// Package wasm builds the core for the browser and for WASI, in the one way in which each
// is shipped, measured and tested.
package wasm

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Experiment is the GOEXPERIMENT that the core for the browser is built with: the collector that
// Go had before 1.26 takes 8 kB less, and the new one's gain needs a processor's vectors.
const Experiment = "nogreenteagc"

// Core is the core for the browser as it was built.
type Core struct {
	Module []byte
	Go     string // the version that built it
	Slim   bool   // [Slim] knows the tables of that version
}

// Remark says that the core is larger than it need be, and why, to the person who built it. It is empty for a slim core.
func (c *Core) Remark() string {
	if c.Slim {
		return ""
	}
	return fmt.Sprintf("WARNING: the core works, but it is much larger than it need be: it was built by %s, and Whorl knows how to slim "+
		"what %s links. With GOTOOLCHAIN=%s.0 in the environment it is made small.", c.Go, strings.Join(slimmed(), " or "), slices.Max(slimmed()))
}

// BuildCore compiles package browser and makes it slim; root is the directory of the module.
//
// Functions are inlined only where the time goes: in package baseline, in what it works
// with, and in the runtime. That takes some 35 kB of 900 under brotli and nothing off the
// speed of a comparison; without inlining anywhere it would be no smaller.
func BuildCore(root string) (*Core, error) { return buildBrowser(root, "-s -w") }

// BuildPageCore is the same for the page, which hands the messages of a language over when they are needed.
func BuildPageCore(root string) (*Core, error) {
	return buildBrowser(root, "-s -w", "-tags=givenwords")
}

// BuildNamedCore is the page's with the names of its functions and all that tells of a crash, to measure what has which share and to find
// what crashed.
func BuildNamedCore(root string) (*Core, error) {
	return buildBrowser(root, "-w", "-tags=givenwords")
}

func buildBrowser(root, link string, flags ...string) (*Core, error) {
	dir, err := os.MkdirTemp("", "whorl-go-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	g, err := goOf(root)
	if err != nil {
		return nil, err
	}
	return g.buildBrowser(root, dir, slices.Concat(linked(link), flags, inlined()))
}

// buildBrowser builds the core; what it needs for that is put in dir.
func (g gotool) buildBrowser(root, dir string, flags []string) (*Core, error) {
	g, standIn, err := g.withStandIns(root, dir)
	if err != nil {
		return nil, err
	}
	module, err := g.compile(root, target{"js", Experiment}, "build", "./wasm/browser", append(flags, standIn...))
	if err != nil {
		return nil, err
	}
	c := &Core{Go: g.version}
	c.Module, c.Slim, err = Slim(module, g.version)
	return c, err
}

// Linked gives, in the template language of go list, a line of each package that the core for the browser needs.
func Linked(root, format string) ([]string, error) {
	dir, err := os.MkdirTemp("", "whorl-go-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	g, err := goOf(root)
	if err != nil {
		return nil, err
	}
	g, standIn, err := g.withStandIns(root, dir)
	if err != nil {
		return nil, err
	}
	var faults bytes.Buffer
	args := slices.Concat([]string{"list", "-tags=givenwords", "-deps", "-f", format}, standIn, []string{"./wasm/browser"})
	cmd := g.command(root, target{"js", Experiment}, args...)
	cmd.Stderr = &faults
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w\n%s", err, faults.Bytes())
	}
	return strings.Split(strings.TrimSpace(string(out)), "\n"), nil
}

// inlined are the flags for the compiler.
func inlined() []string {
	flags := []string{"-gcflags=all=-l"}
	for _, fast := range []string{"whorl.example/baseline/internal/...", "math", "slices", "runtime", "internal/runtime/..."} {
		flags = append(flags, "-gcflags="+fast+"=")
	}
	return flags
}

// linked are those for the linker, and what keeps out of it the folder, and the commit where it is a repository: the same sources make the same bytes.
func linked(flags string) []string {
	return []string{"-trimpath", "-buildvcs=false", "-ldflags=" + flags}
}

// BuildTests compiles the tests of a package of the module as the core for the browser is compiled, so that their
// benchmarks can be run there.
func BuildTests(root, name string) ([]byte, error) {
	g, err := goOf(root)
	if err != nil {
		return nil, err
	}
	return g.compile(root, target{"js", Experiment}, "test", name, append(inlined(), "-c"))
}

// standIns are what the compiler takes in place of files of the standard library: in which package, which of its files go, and under
// which name ours is taken.
var standIns = []struct{ name, gone, file, ours string }{
	{"fmt", "*.go", "print.go", "wasm/said/fmt.go"},
	{"database/sql/driver", "*.go", "driver.go", "wasm/said/driver/driver.go"},
	{"math/rand", "*.go", "rand.go", "wasm/said/rand/rand.go"},
	{"internal/godebug", "*.go", "godebug.go", "wasm/said/godebug/godebug.go"},
	{"slices", "zsort*.go", "zsortanyfunc.go", "wasm/said/slices/sort.go"},
}

// withStandIns gives a Go that takes them, and the flag for that. One that is not known keeps its library, since packages of it may ask more of another.
func (g gotool) withStandIns(root, dir string) (_ gotool, flags []string, err error) {
	if _, known := layoutOf(g.version); !known {
		return g, nil, nil
	}
	if g, err = g.replaceable(dir, os.Symlink); err != nil {
		return g, nil, err
	}
	overlay, err := g.overlay(root, dir)
	return g, []string{"-overlay=" + overlay}, err
}

// overlay writes which files take the place of which.
func (g gotool) overlay(root, into string) (string, error) {
	replace := map[string]string{}
	for _, s := range standIns {
		dir := filepath.Join(g.root, "src", filepath.FromSlash(s.name))
		files, err := filepath.Glob(filepath.Join(dir, s.gone))
		if err != nil {
			return "", err
		}
		for _, f := range files {
			if !strings.HasSuffix(f, "_test.go") {
				replace[f] = "" // as if it were not there
			}
		}
		if replace[filepath.Join(dir, s.file)], err = filepath.Abs(filepath.Join(root, filepath.FromSlash(s.ours))); err != nil {
			return "", err
		}
	}
	text, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	to := filepath.Join(into, "overlay.json")
	return to, os.WriteFile(to, text, 0o600)
}

// BuildWASI compiles package wasi, a reactor for WASI preview 1; root is the directory of
// the module. A host compiles it once and keeps it, so that speed counts here and not size.
func BuildWASI(root string) ([]byte, error) {
	g, err := goOf(root)
	if err != nil {
		return nil, err
	}
	return g.compile(root, target{system: "wasip1"}, "build", "./wasm/wasi", append(linked("-s -w"), "-buildmode=c-shared"))
}

func (g gotool) compile(root string, to target, command, from string, flags []string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "whorl-core-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "core.wasm")
	cmd := g.command(root, to, slices.Concat([]string{command, "-o", out}, flags, []string{from})...)
	if text, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("go %s %s: %w\n%s", command, from, err, text)
	}
	return os.ReadFile(out)
}
