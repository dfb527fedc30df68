package wasm_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"

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

// Each version of Go named in WHORL_GO, which is fetched where it is not there, makes a core that is slim, folds, and is in the budget.
func TestEachGoMakesASlimCore(t *testing.T) {
	versions := strings.Fields(os.Getenv("WHORL_GO"))
	if len(versions) == 0 {
		t.Skip("fetches some 70 MB for each version of Go: WHORL_GO='go1.26.0 go1.27.4' runs it, as .ci/test does")
	}
	for _, version := range versions {
		t.Run(version, func(t *testing.T) {
			t.Setenv("GOTOOLCHAIN", version)
			if out, err := exec.Command("go", "version").CombinedOutput(); err != nil {
				t.Skipf("%s cannot be had here, so that nothing is tried with it: %v\n%s", version, err, out)
			}
			c, err := wasm.BuildPageCore(root)
			if err != nil {
				t.Fatal(err)
			}
			if !c.Slim || c.Remark() != "" || c.Go != version {
				t.Errorf("built by %s, slim: %v; %s", c.Go, c.Slim, c.Remark())
			}
			folded, err := wasm.Fold(c.Module)
			if err != nil {
				t.Fatal(err)
			}
			var br bytes.Buffer
			w := brotli.NewWriterLevel(&br, brotli.BestCompression)
			if err := write(w, folded); err != nil {
				t.Fatal(err)
			}
			if err := w.Close(); err != nil {
				t.Fatal(err)
			}
			t.Logf("%s: %d bytes, folded %d, brotli %d; budget %d", version, len(c.Module), len(folded), br.Len(), budget)
			if br.Len() > budget {
				t.Errorf("the core is %d bytes over its budget", br.Len()-budget)
			}
			file := filepath.Join(t.TempDir(), "core")
			if err := os.WriteFile(file, folded, 0o600); err != nil {
				t.Fatal(err)
			}
			if why := unfold(t, []toUnfold{{file, file + ".made", 65536}}); why[0] != "" {
				t.Fatal(why[0])
			}
			if made, err := os.ReadFile(file + ".made"); err != nil || !bytes.Equal(made, c.Module) {
				t.Errorf("it unfolds to another module, of %d bytes and not %d (%v)", len(made), len(c.Module), err)
			}
		})
	}
}
