package wasm_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"whorl.example/wasm"
)

// A Go that was fetched because go.mod or GOTOOLCHAIN asked for it lies among the modules, where the go command replaces no
// file. There it makes the same core, to the byte, as where a person installs it.
func TestAGoAmongTheModulesMakesTheSameCore(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds the core")
	}
	want, err := core()
	if err != nil {
		t.Fatal(err)
	}
	// A cache of modules that has all that the real one has, and this Go.
	real := strings.TrimSpace(run(t, exec.Command("go", "env", "GOMODCACHE")))
	goroot := strings.TrimSpace(run(t, exec.Command("go", "env", "GOROOT")))
	entries, err := os.ReadDir(real)
	if err != nil {
		t.Fatal(err)
	}
	modules := t.TempDir()
	links := map[string]string{"go": goroot}
	for _, e := range entries {
		links[e.Name()] = filepath.Join(real, e.Name())
	}
	for name, to := range links {
		if err := os.Symlink(to, filepath.Join(modules, name)); err != nil {
			t.Skip("no links here: ", err)
		}
	}
	t.Setenv("GOMODCACHE", modules)
	t.Setenv("GOROOT", filepath.Join(modules, "go"))
	t.Setenv("GOTOOLCHAIN", "local")
	got, err := wasm.BuildPageCore(root)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Module, want) {
		t.Errorf("the core has other bytes: %d of them, and not %d", len(got.Module), len(want))
	}
}
