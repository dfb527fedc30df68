package wasm_test

import (
	"bytes"
	"crypto/sha256"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"whorl.example/wasm"
)

// The tests of the core's packages pass in WebAssembly, and slimmed as the core is shipped: the
// collector runs, stacks grow, panics are recovered. What is slimmed says no more in a trace
// than numbers, so that no package tests the text of one.
func TestTheCoresOwnTestsPassSlimmed(t *testing.T) {
	t.Parallel()
	share, err := strconv.ParseFloat(os.Getenv("WHORL_SLIMMED"), 64)
	if err != nil {
		t.Skip("some minutes: WHORL_SLIMMED=1 runs it, and a share that of the packages, drawn by WHORL_SEED, as .ci/test does")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here")
	}
	goroot := strings.TrimSpace(run(t, exec.Command("go", "env", "GOROOT")))
	version := strings.TrimSpace(run(t, exec.Command("go", "env", "GOVERSION")))
	for _, name := range []string{"vitals", "vitals/words", "baseline", "baseline/internal/level", "baseline/internal/normal", "baseline/recovery", "baseline/watch",
		"baseline/report", "schema", "schema/internal/lex",
		"schema/link", "schema/pack", "schema/sheet", "schema/calendar", "wasm/api"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if drawn := sha256.Sum256([]byte(os.Getenv("WHORL_SEED") + " " + name)); float64(drawn[0])/256 >= share {
				t.Skip("not drawn for this commit: WHORL_SLIMMED=1 runs every package")
			}
			module := filepath.Join(t.TempDir(), "test.wasm")
			build := exec.Command("go", "test", "-c", "-ldflags=-s -w", "-o", module, "./"+name)
			build.Dir = root
			build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOEXPERIMENT="+wasm.Experiment)
			run(t, build)
			plain, err := os.ReadFile(module)
			if err != nil {
				t.Fatal(err)
			}
			slim, known, err := wasm.Slim(plain, version)
			if err != nil || !known {
				t.Fatalf("the tables of %s known: %v; %v", version, known, err)
			}
			if err := os.WriteFile(module, slim, 0o600); err != nil {
				t.Fatal(err)
			}
			cmd := exec.Command(node, "--stack-size=8192", filepath.Join(goroot, "lib", "wasm", "wasm_exec_node.js"), module, "-test.short")
			cmd.Dir = filepath.Join(root, filepath.FromSlash(name))
			// Go's loader for node allows 8 kB for arguments and environment together.
			// GOGC=5 collects twenty times as often as is usual, so that the tables of pointers are walked everywhere.
			cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=/", "GOGC=5", "WHORL_DATA=" + os.Getenv("WHORL_DATA")}
			out := run(t, cmd)
			if !strings.HasSuffix(strings.TrimSpace(out), "PASS") {
				t.Errorf("the tests end with: %s", out[max(0, len(out)-2000):])
			}
		})
	}
}

func run(t *testing.T, cmd *exec.Cmd) string {
	t.Helper()
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s\n%s", strings.Join(cmd.Args, " "), err, out, errs.String())
	}
	return string(out)
}

// The slim core holds no name of a function or a file of source, and what is no module is refused.
func TestSlimTakesNamesOut(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("left out by -short: builds the core")
	}
	slim, err := core()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"tailQuantile", "baseline/compare.go", "runtime/mgc.go"} {
		if bytes.Contains(slim, []byte(name)) {
			t.Errorf("the core still says %s", name)
		}
	}
	// Of a version whose tables are not known the names stay, and the core is the same otherwise.
	for _, version := range []string{"go1.99", "go1.25.9", "devel go1.99-0123abc", ""} {
		again, known, err := wasm.Slim(slim, version)
		if err != nil || known || !bytes.Equal(again, slim) {
			t.Errorf("slimmed twice it differs, or the tables of %q are known: %v (%v)", version, known, err)
		}
		c := wasm.Core{Go: version, Slim: known}
		if remark := c.Remark(); !strings.Contains(remark, "WARNING") || !strings.Contains(remark, version) {
			t.Errorf("of %q it says only %q", version, remark)
		}
	}
	// A cut never panics, and never passes for a module with tables.
	for cut := 0; cut < len(slim); cut += len(slim)/97 + 1 {
		if got, _, err := wasm.Slim(slim[:cut], "go1.26.1"); err == nil {
			t.Errorf("cut at %d of %d it is taken for a module of %d", cut, len(slim), len(got))
		}
	}
}
