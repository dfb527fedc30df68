// Package static has the built page as files: it serves them, writes them as a folder for any web host, and lays a clinic's file in.
// It needs neither Go nor the page's sources, so that a program with the page inside can do the same.
package static

import (
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/andybalholm/brotli"

	core "whorl.example/wasm/api"
)

// Policy is the Content-Security-Policy of the hosted page: nothing from elsewhere,
// nothing inline, and nothing leaves. It stands in the page itself as well.
const Policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; " +
	"connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"

const (
	// OneName is the page as one file that is opened from a disk or a stick, without any server.
	OneName = "whorl.html"
	// PicturePrefix begins the names of the pictures and icons that a browser asks for when somebody installs the page, and the page never.
	PicturePrefix = "picture-"

	indexName  = "index.html"
	workerName = "sw.js"
)

// Site is the page as files, by their name in the folder.
type Site struct {
	Files  map[string]*File
	Remark string // of the core, to the person who builds
}

// File is one file, with its compressed forms where they are smaller.
type File struct{ Data, Br, Gz []byte }

// hashed is a name that holds the hash of the content, so that it may be kept for ever.
var hashed = regexp.MustCompile(`-([0-9a-f]{12}|[0-9A-Z]{8})\.`)

// download reports whether a file is to be kept on a disk, and not to be shown by this host.
func download(name string) bool { return name == OneName }

// AddHashed adds a file under a name that holds the hash of its content, and gives the name.
func (s *Site) AddHashed(name, ext string, data []byte) string {
	sum := sha256.Sum256(data)
	full := name + "-" + hex.EncodeToString(sum[:])[:12] + ext
	s.Files[full] = &File{Data: data}
	return full
}

// AddWorker adds the service worker, which keeps every file that the page is made of. Before its script stands one line
// with their names, which another line can replace.
func (s *Site) AddWorker(script []byte) error {
	names := make([]string, 0, len(s.Files))
	all := sha256.New()
	for name := range s.Files {
		// The worker must not keep the page twice, nor pictures of what it has.
		if !download(name) && name != workerName && !strings.HasPrefix(name, PicturePrefix) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	wasm := ""
	for _, name := range names {
		fmt.Fprintf(all, "%s %x\n", name, sha256.Sum256(s.Files[name].Data))
		if path.Ext(name) == ".wasm" {
			wasm = name
		}
	}
	fmt.Fprintf(all, "%x\n", sha256.Sum256(script))
	index := slices.Index(names, indexName)
	if index < 0 || wasm == "" {
		return fmt.Errorf("a page without %s or without its core", indexName)
	}
	names[index] = "./"
	list, err := json.Marshal(names)
	if err != nil {
		return err
	}
	head := fmt.Sprintf("const VERSION=%q,CORE=%q,FILES=%s;\n", core.Version+"-"+hex.EncodeToString(all.Sum(nil))[:12], wasm, list)
	s.Files[workerName] = &File{Data: append([]byte(head), script...)}
	return nil
}

// Copied is a site of the same files, to which more can be added.
func (s *Site) Copied() *Site { return &Site{Files: maps.Clone(s.Files), Remark: s.Remark} }

// Effort is how hard to compress.
type Effort struct{ br, gz int }

// To be served from here, and to be shipped.
var (
	Quick    = Effort{5, 6}
	Thorough = Effort{brotli.BestCompression, gzip.BestCompression}
)

// Compress makes the compressed forms of every file that gets smaller by it and has none yet.
func (s *Site) Compress(e Effort) {
	for name, f := range s.Files {
		if path.Ext(name) == ".png" || download(name) || f.Br != nil || f.Gz != nil {
			continue
		}
		if br := Brotli(f.Data, e); len(br) < len(f.Data) {
			f.Br = br
		}
		if gz := Gzip(f.Data, e); len(gz) < len(f.Data) {
			f.Gz = gz
		}
	}
}

// Smallest is the size of a file as most browsers fetch it.
func (f *File) Smallest() int {
	if f.Br != nil {
		return len(f.Br)
	}
	return len(f.Data)
}

// Folder gives what a folder for any web host has in it, by name: every file, beside it its compressed forms for hosts that
// serve them, and the headers for hosts that read them from a file.
func (s *Site) Folder() map[string][]byte {
	all := map[string][]byte{headersName: s.headers()}
	for name, f := range s.Files {
		for ext, data := range map[string][]byte{"": f.Data, ".br": f.Br, ".gz": f.Gz} {
			if data != nil {
				all[name+ext] = data
			}
		}
	}
	return all
}

// Of is the site that a folder holds.
func Of(folder map[string][]byte) *Site {
	s := &Site{Files: map[string]*File{}}
	for name, data := range folder {
		if ext := path.Ext(name); ext != ".br" && ext != ".gz" && name != headersName {
			s.Files[name] = &File{Data: data, Br: folder[name+".br"], Gz: folder[name+".gz"]}
		}
	}
	return s
}

// Write writes the folder.
func (s *Site) Write(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for name, data := range s.Folder() {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// Report prints the sizes.
func (s *Site) Report(w io.Writer) {
	fmt.Fprintf(w, "%-36s %9s %9s\n", "file", "bytes", "brotli")
	for _, name := range slices.Sorted(maps.Keys(s.Files)) {
		f := s.Files[name]
		fmt.Fprintf(w, "%-36s %9d %9d\n", name, len(f.Data), f.Smallest())
	}
	if s.Remark != "" {
		fmt.Fprintln(w, strings.TrimSpace(s.Remark))
	}
}
