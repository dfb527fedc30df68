package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/andybalholm/brotli"
)

// types are the media types of what the page is made of. They are ours, since what the
// system's table says differs from machine to machine.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8",
	".json": "application/json", ".wasm": "application/wasm", ".webmanifest": "application/manifest+json",
	".svg": "image/svg+xml", ".png": "image/png", ".txt": "text/plain; charset=utf-8",
}

// effort is how hard to compress.
type effort struct{ br, gz int }

var (
	quick    = effort{5, 6}
	thorough = effort{brotli.BestCompression, gzip.BestCompression}
)

// compress makes the compressed forms of every file that gets smaller by it.
func (s *Site) compress(e effort) {
	for name, f := range s.files {
		if path.Ext(name) == ".png" || f.download {
			continue
		}
		var br, gz bytes.Buffer
		w := brotli.NewWriterLevel(&br, e.br)
		pack(w, f.data)
		z, err := gzip.NewWriterLevel(&gz, e.gz)
		if err != nil {
			panic(err) // the level is a constant of ours
		}
		pack(z, f.data)
		if br.Len() < len(f.data) {
			f.br = br.Bytes()
		}
		if gz.Len() < len(f.data) {
			f.gz = gz.Bytes()
		}
	}
}

// pack compresses into memory, which does not fail.
func pack(w io.WriteCloser, data []byte) {
	w.Write(data)
	w.Close()
}

// ServeHTTP serves the files with their types, compressed where the browser takes it.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "only GET and HEAD", http.StatusMethodNotAllowed)
		return
	}
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" {
		name = "index.html"
	}
	f := s.files[name]
	if f == nil {
		http.NotFound(w, r)
		return
	}
	head := w.Header()
	head.Set("Content-Type", types[path.Ext(name)])
	head.Set("Content-Security-Policy", policy+"; frame-ancestors 'none'")
	head.Set("X-Content-Type-Options", "nosniff")
	head.Set("Referrer-Policy", "no-referrer")
	head.Set("Vary", "Accept-Encoding")
	if f.download {
		head.Set("Content-Disposition", `attachment; filename="`+name+`"`)
	}
	if f.lasting {
		head.Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		head.Set("Cache-Control", "no-cache")
	}
	body := f.data
	switch takes := r.Header.Get("Accept-Encoding"); {
	case f.br != nil && accepts(takes, "br"):
		head.Set("Content-Encoding", "br")
		body = f.br
	case f.gz != nil && accepts(takes, "gzip"):
		head.Set("Content-Encoding", "gzip")
		body = f.gz
	}
	head.Set("Content-Length", strconv.Itoa(len(body)))
	if r.Method == http.MethodGet {
		w.Write(body)
	}
}

// accepts reads an Accept-Encoding header as far as it matters here: a coding that is
// named, and not with a quality of zero.
func accepts(header, coding string) bool {
	for part := range strings.SplitSeq(header, ",") {
		name, params, _ := strings.Cut(strings.TrimSpace(part), ";")
		if strings.TrimSpace(name) != coding {
			continue
		}
		q, ok := strings.CutPrefix(strings.ReplaceAll(params, " ", ""), "q=")
		if !ok {
			return true
		}
		v, err := strconv.ParseFloat(q, 64)
		return err == nil && v > 0
	}
	return false
}

// write writes the folder: every file, and beside it its compressed forms for hosts that serve them.
func (s *Site) write(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for name, f := range s.files {
		for ext, data := range map[string][]byte{"": f.data, ".br": f.br, ".gz": f.gz} {
			if data == nil {
				continue
			}
			if err := os.WriteFile(filepath.Join(dir, name+ext), data, 0o644); err != nil {
				return err
			}
		}
	}
	return nil
}

// report prints the sizes.
func (s *Site) report(w io.Writer) {
	var names []string
	for name := range s.files {
		names = append(names, name)
	}
	slices.Sort(names)
	fmt.Fprintf(w, "%-36s %9s %9s\n", "file", "bytes", "brotli")
	for _, name := range names {
		f := s.files[name]
		fmt.Fprintf(w, "%-36s %9d %9d\n", name, len(f.data), f.smallest())
	}
	if s.remark != "" {
		fmt.Fprintln(w, s.remark)
	}
}

func (f *file) smallest() int {
	if f.br != nil {
		return len(f.br)
	}
	return len(f.data)
}
