package release

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/flate"
	"compress/gzip"
	"io"
	"maps"
	"slices"
	"strings"
	"time"
)

// files are what is in an archive, by name. They are written in the order of their names, with the one time of the release,
// so that the same files make the same bytes.
type files map[string][]byte

// executable reports whether a file is to be started.
func executable(name string) bool { return name == "whorl" || strings.HasSuffix(name, "/whorl") }

func (f files) zip(at time.Time) ([]byte, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.BestCompression) })
	for _, name := range slices.Sorted(maps.Keys(f)) {
		head := &zip.FileHeader{Name: name, Method: zip.Deflate, Modified: at.UTC()}
		head.SetMode(0o644)
		w, err := z.CreateHeader(head)
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f[name]); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return out.Bytes(), err
}

func (f files) tar(at time.Time) ([]byte, error) {
	var out bytes.Buffer
	t := tar.NewWriter(&out)
	for _, name := range slices.Sorted(maps.Keys(f)) {
		head := &tar.Header{Name: name, Mode: 0o644, Size: int64(len(f[name])), ModTime: at.UTC(), Format: tar.FormatUSTAR}
		if executable(name) {
			head.Mode = 0o755
		}
		if err := t.WriteHeader(head); err != nil {
			return nil, err
		}
		if _, err := t.Write(f[name]); err != nil {
			return nil, err
		}
	}
	err := t.Close()
	return out.Bytes(), err
}

func (f files) tarGzip(at time.Time) ([]byte, error) {
	plain, err := f.tar(at)
	if err != nil {
		return nil, err
	}
	return gzipped(plain)
}

// gzipped has neither a name nor a time in its head.
func gzipped(plain []byte) ([]byte, error) {
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(plain); err != nil {
		return nil, err
	}
	err = z.Close()
	return out.Bytes(), err
}
