package wasm

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Where no link can be made, a Go that lies among the modules is copied, and can still be run; one that does not stays where it is.
func TestAGoIsCopiedWhereNoLinkCanBeMade(t *testing.T) {
	t.Parallel()
	modules, elsewhere := t.TempDir(), t.TempDir()
	noLink := func(string, string) error { return errors.New("no right to") }
	for _, at := range []string{modules, elsewhere} {
		for name, mode := range map[string]os.FileMode{"bin/go": 0o555, "src/fmt/print.go": 0o444} {
			file := filepath.Join(at, "toolchain@v1", filepath.FromSlash(name))
			if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, []byte(name), mode); err != nil {
				t.Fatal(err)
			}
		}
	}
	to := t.TempDir()
	g, err := gotool{filepath.Join(modules, "toolchain@v1"), "go1.99", modules}.replaceable(to, noLink)
	if err != nil || filepath.Dir(g.root) != to {
		t.Fatalf("it is at %s, and not in %s (%v)", g.root, to, err)
	}
	for _, name := range []string{"bin/go", "src/fmt/print.go"} {
		if text, err := os.ReadFile(filepath.Join(g.root, filepath.FromSlash(name))); err != nil || string(text) != name {
			t.Errorf("%s: %q (%v)", name, text, err)
		}
	}
	if info, err := os.Stat(filepath.Join(g.root, "bin", "go")); err != nil || info.Mode()&0o100 == 0 {
		t.Errorf("the command cannot be run (%v)", err)
	}
	stays := gotool{filepath.Join(elsewhere, "toolchain@v1"), "go1.99", modules}
	if g, err := stays.replaceable(to, noLink); err != nil || g != stays {
		t.Errorf("%v became %v (%v)", stays, g, err)
	}
}

// A Go that is not known builds the core all the same, from the whole of its own library, and whoever builds is told.
func TestAnUnknownGoBuildsTheCore(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("left out by -short: builds the core")
	}
	g, err := goOf("..")
	if err != nil {
		t.Fatal(err)
	}
	g.version = "go1.99.1"
	c, err := g.buildBrowser("..", t.TempDir(), append(linked("-s -w"), "-tags=givenwords"))
	if err != nil {
		t.Fatal(err)
	}
	if c.Slim || !strings.Contains(c.Remark(), "WARNING") || !strings.Contains(c.Remark(), "go1.99.1") {
		t.Errorf("slim: %v; it says %q", c.Slim, c.Remark())
	}
	for _, name := range []string{"fmt.Sprintf", "whorl.example/baseline"} { // names in the tables, and the library's own fmt
		if !bytes.Contains(c.Module, []byte(name)) {
			t.Errorf("the core has no %s", name)
		}
	}
	folded, err := Fold(c.Module)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d bytes, folded %d", len(c.Module), len(folded))
}
