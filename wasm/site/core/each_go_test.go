package core_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"whorl.example/wasm"
	"whorl.example/wasm/site/static"
)

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
			br := static.Brotli(folded, static.Thorough)
			t.Logf("%s: %d bytes, folded %d, brotli %d; budget %d", version, len(c.Module), len(folded), len(br), budget)
			if len(br) > budget {
				t.Errorf("the core is %d bytes over its budget", len(br)-budget)
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
