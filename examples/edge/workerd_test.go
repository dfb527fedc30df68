package main

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/examples/edge/platform"
	"whorl.example/examples/vectors"
)

// answered is the status, the first fault's code and the whole of an answer.
func answered(t *testing.T, r *http.Response, err error) (status int, code string, text []byte) {
	t.Helper()
	td.Require(t).CmpNoError(err)
	defer r.Body.Close()
	text, err = io.ReadAll(r.Body)
	td.Require(t).CmpNoError(err)
	var said struct{ Faults []struct{ Code string } }
	if json.Unmarshal(text, &said) == nil && len(said.Faults) > 0 {
		code = said.Faults[0].Code
	}
	return r.StatusCode, code, text
}

// TestWorkerd runs both workers as the platform would: the page and the clinic's file, what is malformed, oversized, slow or fails, and many at a time.
func TestWorkerd(t *testing.T) {
	both := platform.Serve(t)
	for name, at := range map[string]string{"in Go": both.InGo, "kept": both.Kept} {
		t.Run(name, func(t *testing.T) {
			t.Run("files", func(t *testing.T) { theFiles(t, at) })
			t.Run("faults", func(t *testing.T) { theFaults(t, at) })
			t.Run("load", func(t *testing.T) { theLoad(t, at) })
		})
	}
	t.Run("a panic", func(t *testing.T) {
		r, err := http.Post(both.InGo+"/panic", "application/json", strings.NewReader("{}"))
		status, _, text := answered(t, r, err)
		td.Cmp(t, status, 500)
		td.Cmp(t, string(text), internal)
		// The next request does not notice.
		r, err = http.Post(both.InGo+"/version", "application/json", strings.NewReader("{}"))
		status, _, _ = answered(t, r, err)
		td.Cmp(t, status, 200)
	})
}

func theFiles(t *testing.T, at string) {
	for path, want := range map[string]struct{ kind, holds string }{
		"/":            {"text/html; charset=utf-8", "<noscript>"},
		"/index.html":  {"text/html; charset=utf-8", "<noscript>"},
		"/clinic.json": {"application/json", `"whorl-pack"`},
	} {
		r, err := http.Get(at + path)
		status, _, text := answered(t, r, err)
		td.Cmp(t, status, 200, path)
		td.Cmp(t, r.Header.Get("Content-Type"), want.kind, path)
		td.Cmp(t, r.Header.Get("Content-Security-Policy"), td.HasPrefix("default-src 'none'"), path)
		td.Cmp(t, string(text), td.Contains(want.holds), path)
	}
	// What the page asks for next, with a hash of its content in the name, may be kept for ever.
	r, err := http.Get(at + "/")
	_, _, page := answered(t, r, err)
	next := regexp.MustCompile(`[a-z][a-z-]*-([0-9a-f]{12}|[0-9A-Z]{8})\.(webmanifest|js|css)`).FindAll(page, -1)
	td.Cmp(t, len(next), td.Gte(3))
	for _, name := range next {
		r, err := http.Get(at + "/" + string(name))
		status, _, _ := answered(t, r, err)
		td.Cmp(t, status, 200, string(name))
		td.Cmp(t, r.Header.Get("Cache-Control"), td.Contains("immutable"), string(name))
	}
	for _, path := range []string{"/nothing.html", "/..%2fconfig.capnp", "/%2e%2e/config.capnp", "/.hidden", "/lib", "/index.exe"} {
		r, err := http.Get(at + path)
		status, code, _ := answered(t, r, err)
		td.Cmp(t, []any{status, code}, []any{404, "not-found"}, path)
	}
}

func theFaults(t *testing.T, at string) {
	large := strings.Repeat(" ", maxBody+1)
	for name, c := range map[string]struct {
		method, op string
		body       io.Reader
		status     int
		code       string
	}{
		"a method":          {"DELETE", "compare", nil, 405, "method"},
		"no operation":      {"POST", "diagnose", strings.NewReader("{}"), 404, "unknown-op"},
		"no JSON":           {"POST", "compare", strings.NewReader("{"), 422, "bad-json"},
		"nothing":           {"POST", "compare", nil, 422, "bad-json"},
		"no UTF-8":          {"POST", "version", strings.NewReader("{\"lang\":\"\xff\"}"), 422, "bad-text"},
		"too large":         {"POST", "compare", strings.NewReader(large), 413, "too-large"},
		"too large, unsaid": {"POST", "compare", io.MultiReader(strings.NewReader(large)), 413, "too-large"},
	} {
		request, err := http.NewRequest(c.method, at+"/"+c.op, c.body)
		td.Require(t).CmpNoError(err)
		r, err := http.DefaultClient.Do(request)
		status, code, _ := answered(t, r, err)
		td.Cmp(t, []any{status, code}, []any{c.status, c.code}, name)
	}
	// A body that comes a byte at a time is given up after ten seconds.
	text, slow := io.Pipe()
	go func() {
		for range 300 {
			if _, err := slow.Write([]byte(" ")); err != nil {
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
		slow.Close()
	}()
	begin := time.Now()
	r, err := http.Post(at+"/compare", "application/json", text)
	status, code, _ := answered(t, r, err)
	slow.CloseWithError(io.ErrClosedPipe)
	td.Cmp(t, []any{status, code}, []any{408, "too-slow"})
	td.Cmp(t, time.Since(begin), td.Between(maxLasted-time.Second, maxLasted+8*time.Second))
}

// theLoad asks 2,000 times at 8 parallel, or 200 times without WHORL_LONG.
func theLoad(t *testing.T, at string) {
	record, err := os.ReadFile("../assess/testdata/record.json")
	td.Require(t).CmpNoError(err)
	requests := int64(200)
	if os.Getenv("WHORL_LONG") == "1" {
		requests = 2000
	}
	var asked atomic.Int64
	var all sync.Mutex
	var took []time.Duration
	var want string
	var group sync.WaitGroup
	begin := time.Now()
	for range 8 {
		group.Go(func() {
			for asked.Add(1) <= requests {
				from := time.Now()
				r, err := http.Post(at+"/compare", "application/json", bytes.NewReader(record))
				if err != nil {
					t.Error(err)
					continue
				}
				text, err := io.ReadAll(r.Body)
				r.Body.Close()
				all.Lock()
				if want == "" {
					want = vectors.Hash(text)
				}
				if err != nil || r.StatusCode != 200 || vectors.Hash(text) != want {
					t.Errorf("%d %v %.200s", r.StatusCode, err, text)
				}
				took = append(took, time.Since(from))
				all.Unlock()
			}
		})
	}
	group.Wait()
	slices.Sort(took)
	td.Cmp(t, len(took), int(requests))
	t.Logf("%d requests at 8 parallel: %.1f a second; median %v, slowest %v", len(took),
		float64(len(took))/time.Since(begin).Seconds(), took[len(took)/2].Round(time.Millisecond), took[len(took)-1].Round(time.Millisecond))
}
