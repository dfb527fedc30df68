package static

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/andybalholm/brotli"
)

// keptFrom is the size in bytes from which a compressed form is kept for the next time: the core takes twenty seconds of a
// processor at the highest effort, and most builds compress the same one.
const keptFrom = 1 << 18

// Brotli compresses data; at the highest effort what is large is kept in the user's cache, by its hash.
func Brotli(data []byte, e Effort) []byte {
	return kept(data, fmt.Sprintf("brotli-%d", e.br), e,
		func(w io.Writer) io.WriteCloser { return brotli.NewWriterLevel(w, e.br) },
		unbrotli)
}

func unbrotli(r io.Reader) (io.Reader, error) { return brotli.NewReader(r), nil }

// Gzip does the same for hosts and browsers that know no better.
func Gzip(data []byte, e Effort) []byte {
	return kept(data, fmt.Sprintf("gzip-%d", e.gz), e,
		func(w io.Writer) io.WriteCloser {
			z, err := gzip.NewWriterLevel(w, e.gz)
			if err != nil {
				panic(err) // the level is a constant of ours
			}
			return z
		},
		func(r io.Reader) (io.Reader, error) { return gzip.NewReader(r) })
}

// kept gives the compressed form that lies in the cache, if it unfolds to the data, or else makes it. A cache that cannot be
// read or written costs time and nothing else.
func kept(data []byte, how string, e Effort, pack func(io.Writer) io.WriteCloser, unpack func(io.Reader) (io.Reader, error)) []byte {
	name := ""
	if dir, err := os.UserCacheDir(); err == nil && e == Thorough && len(data) >= keptFrom {
		sum := sha256.Sum256(data)
		name = filepath.Join(dir, "whorl", "compressed", how+"-"+hex.EncodeToString(sum[:]))
		if packed, err := os.ReadFile(name); err == nil && unfolds(packed, data, unpack) {
			return packed
		}
	}
	var b bytes.Buffer
	w := pack(&b) // into memory, which does not fail
	w.Write(data)
	w.Close()
	if name != "" {
		keep(name, b.Bytes())
	}
	return b.Bytes()
}

func unfolds(packed, data []byte, unpack func(io.Reader) (io.Reader, error)) bool {
	r, err := unpack(bytes.NewReader(packed))
	if err != nil {
		return false
	}
	got, err := io.ReadAll(io.LimitReader(r, int64(len(data))+1))
	return err == nil && bytes.Equal(got, data)
}

// keep writes a file whole or not at all, since another build may read it meanwhile.
func keep(name string, data []byte) {
	dir := filepath.Dir(name)
	if os.MkdirAll(dir, 0o755) != nil {
		return
	}
	f, err := os.CreateTemp(dir, "being-written-*")
	if err != nil {
		return
	}
	_, err = f.Write(data)
	if f.Close() != nil || err != nil || os.Rename(f.Name(), name) != nil {
		os.Remove(f.Name())
	}
}
