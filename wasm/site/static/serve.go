package static

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"net"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"
)

// types are the media types of what the page is made of. They are ours, since what the
// system's table says differs from machine to machine.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8",
	".json": "application/json", ".wasm": "application/wasm", ".webmanifest": "application/manifest+json",
	".svg": "image/svg+xml", ".png": "image/png", ".txt": "text/plain; charset=utf-8",
}

// headersName is the file from which several static hosts read what headers to send.
const headersName = "_headers"

// always are the headers of every file. Who may frame the page, a policy within the page cannot say.
var always = []struct{ name, value string }{
	{"Content-Security-Policy", Policy + "; frame-ancestors 'none'"},
	{"X-Content-Type-Options", "nosniff"},
	{"Referrer-Policy", "no-referrer"},
}

const (
	keptForEver = "public, max-age=31536000, immutable"
	askedAgain  = "no-cache"
)

func cacheControl(name string) string {
	if hashed.MatchString(name) {
		return keptForEver
	}
	return askedAgain
}

// headers writes the same for a host that reads them from a file.
func (s *Site) headers() []byte {
	var out bytes.Buffer
	out.WriteString("/*\n")
	for _, h := range always {
		fmt.Fprintf(&out, "  %s: %s\n", h.name, h.value)
	}
	for _, name := range slices.Sorted(maps.Keys(s.Files)) {
		fmt.Fprintf(&out, "/%s\n  Content-Type: %s\n  Cache-Control: %s\n", name, types[path.Ext(name)], cacheControl(name))
		if download(name) {
			fmt.Fprintf(&out, "  Content-Disposition: %s\n", attachment(name))
		}
	}
	fmt.Fprintf(&out, "/\n  Cache-Control: %s\n", askedAgain)
	return out.Bytes()
}

func attachment(name string) string { return `attachment; filename="` + name + `"` }

// ServeHTTP serves the files with their types, compressed where the browser takes it.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "only GET and HEAD", http.StatusMethodNotAllowed)
		return
	}
	name := strings.TrimPrefix(r.URL.Path, "/")
	if name == "" {
		name = indexName
	}
	f := s.Files[name]
	if f == nil {
		http.NotFound(w, r)
		return
	}
	head := w.Header()
	head.Set("Content-Type", types[path.Ext(name)])
	for _, h := range always {
		head.Set(h.name, h.value)
	}
	head.Set("Vary", "Accept-Encoding")
	if download(name) {
		head.Set("Content-Disposition", attachment(name))
	}
	head.Set("Cache-Control", cacheControl(name))
	body := f.Data
	switch takes := r.Header.Get("Accept-Encoding"); {
	case f.Br != nil && accepts(takes, "br"):
		head.Set("Content-Encoding", "br")
		body = f.Br
	case f.Gz != nil && accepts(takes, "gzip"):
		head.Set("Content-Encoding", "gzip")
		body = f.Gz
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

// Listen takes an address to serve on. It is taken before the page is built, so that a port in use is said at once.
func Listen(addr string) (net.Listener, error) {
	listener, err := net.Listen("tcp", addr)
	if err != nil {
		return nil, fmt.Errorf("%w (another -addr may be free)", err)
	}
	return listener, nil
}

// Serve prints the address and serves until the process ends.
func (s *Site) Serve(listener net.Listener) error {
	fmt.Printf("Whorl is at http://%s/\n", listener.Addr())
	server := &http.Server{Handler: s, ReadHeaderTimeout: 5 * time.Second}
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}
