package static

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// What is kept is given again only if it unfolds to the same data; a damaged or foreign file in the cache, or none that can be
// written, changes nothing.
func TestCompressedFormsAreKept(t *testing.T) {
	cache := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", cache)
	t.Setenv("HOME", cache) // where the cache lies on other systems
	t.Setenv("LocalAppData", cache)
	data := bytes.Repeat([]byte("heart 36 a minute; "), keptFrom/16)
	made := Brotli(data, Thorough)
	find := func() []string {
		dir, err := os.UserCacheDir()
		td.Require(t).CmpNoError(err)
		names, err := filepath.Glob(filepath.Join(dir, "whorl", "compressed", "*"))
		td.Require(t).CmpNoError(err)
		return names
	}
	names := find()
	td.Require(t).Cmp(names, td.Len(1))
	td.Cmp(t, Brotli(data, Thorough), made)

	for _, wrong := range [][]byte{nil, {0}, made[:len(made)/2], Brotli(append(data, '.'), Quick)} {
		td.Require(t).CmpNoError(os.WriteFile(names[0], wrong, 0o600))
		td.Cmp(t, Brotli(data, Thorough), made)
		now, err := os.ReadFile(names[0])
		td.CmpNoError(t, err)
		td.Cmp(t, now, made, "mended")
	}

	td.Cmp(t, len(Gzip(data, Thorough)) < len(data), true)
	td.Cmp(t, find(), td.Len(2))
	Brotli(data, Quick)
	Brotli(data[:keptFrom-1], Thorough)
	td.Cmp(t, find(), td.Len(2), "what takes no time is not kept")

	t.Setenv("XDG_CACHE_HOME", filepath.Join(names[0], "no-folder"))
	t.Setenv("HOME", filepath.Join(names[0], "no-folder"))
	random := make([]byte, keptFrom)
	rand.NewChaCha8([32]byte{1}).Read(random)
	td.Cmp(t, unfolds(Brotli(random, Thorough), random, unbrotli), true)
}
