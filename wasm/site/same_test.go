package main

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// The page is the same wherever the repository lies, to the byte and to the names, so that a release can be made again.
func TestThePageIsTheSameFromAnyFolder(t *testing.T) {
	t.Parallel()
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	elsewhere := copiedElsewhere(t, root)
	core := []byte("\x00asm\x01\x00\x00\x00")
	here, err := buildAround(core, root)
	if err != nil {
		t.Fatal(err)
	}
	there, err := buildAround(core, elsewhere)
	if err != nil {
		t.Fatal(err)
	}
	names := slices.Sorted(maps.Keys(here.Files))
	if other := slices.Sorted(maps.Keys(there.Files)); !slices.Equal(names, other) {
		t.Fatalf("files of other names:\n%v\n%v", names, other)
	}
	for _, name := range names {
		if !bytes.Equal(here.Files[name].Data, there.Files[name].Data) {
			t.Errorf("%s has other bytes", name)
		}
	}
}

// copiedElsewhere copies what the page is built of into another folder.
func copiedElsewhere(t *testing.T, root string) string {
	t.Helper()
	elsewhere := filepath.Join(t.TempDir(), "deeper", "and deeper")
	for _, name := range []string{"vitals", "baseline", "schema", "wasm"} {
		if err := os.CopyFS(filepath.Join(elsewhere, name), os.DirFS(filepath.Join(root, name))); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"go.mod", "go.sum", "LICENSE", "NOTICE"} {
		text, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(elsewhere, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return elsewhere
}
