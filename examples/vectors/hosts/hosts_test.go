// Package hosts_test answers the vectors in every host, and times the hosts. It is a module of its own, since it needs a browser's driver and
// a host of WASI.
package hosts_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"
	"github.com/tetratelabs/wazero"

	"whorl.example/examples/edge/platform"
	"whorl.example/examples/vectors"
	"whorl.example/examples/wasi/reactor"
	"whorl.example/wasm"
	"whorl.example/wasm/api"
	"whorl.example/wasm/checks"
	"whorl.example/wasm/lib"
)

func read(t *testing.T) []vectors.Vector {
	t.Helper()
	all, err := vectors.Read("../vectors.jsonl")
	td.Require(t).CmpNoError(err)
	td.Require(t).Cmp(len(all), td.Gte(200))
	return all
}

// same compares the hashes of a host's answers with the vectors'.
func same(t *testing.T, all []vectors.Vector, hashes []string) {
	t.Helper()
	td.Require(t).Cmp(len(hashes), len(all))
	for i, v := range all {
		if hashes[i] != v.SHA256 {
			t.Errorf("vector %d: %s of %.200s answers otherwise here", i+1, v.Op, v.Request)
		}
	}
}

// TestEveryTarget: every vector through every target that the core is shipped to, each
// answer by its hash.
func TestEveryTarget(t *testing.T) {
	t.Run("Go", natively)
	t.Run("JavaScript under node", underNode)
	t.Run("JavaScript in Chromium", inChromium)
	t.Run("WASI in wazero", inWazero)
	t.Run("the edge worker in workerd", inWorkerd)
}

func natively(t *testing.T) {
	all := read(t)
	hashes := make([]string, len(all))
	for i, v := range all {
		hashes[i] = vectors.Hash(api.Call(v.Op, []byte(v.Request)))
	}
	same(t, all, hashes)
}

var library = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "whorl-vectors-")
	if err != nil {
		return "", err
	}
	_, err = lib.Write("../../..", dir)
	return dir, err
})

func TestMain(m *testing.M) {
	flag.Parse()
	code := m.Run()
	if !testing.Short() {
		if dir, _ := library(); dir != "" {
			os.RemoveAll(dir)
		}
	}
	os.Exit(code)
}

// inJS answers all vectors with the package for JavaScript and gives the hashes.
const inJS = `
async function answers(load, all) {
  const whorl = await load();
  const hashes = [];
  for (const v of all) {
    const bytes = new TextEncoder().encode(await whorl.callText(v.op, v.request));
    const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
    hashes.push([...sum].map(b => b.toString(16).padStart(2, '0')).join(''));
  }
  return hashes;
}
`

func underNode(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds the core")
	}
	node := checks.Node(t)
	all := read(t)
	dir, err := library()
	td.Require(t).CmpNoError(err)
	script := `import { load } from './whorl.js';
import { readFileSync } from 'node:fs';
import { webcrypto } from 'node:crypto';
globalThis.crypto ??= webcrypto;
` + inJS + `
const hashes = await answers(load, JSON.parse(readFileSync(0, 'utf8')));
process.stdout.write(JSON.stringify(hashes), () => process.exit(0));
`
	td.Require(t).CmpNoError(os.WriteFile(filepath.Join(dir, "run.mjs"), []byte(script), 0o600))
	input, err := json.Marshal(all)
	td.Require(t).CmpNoError(err)
	cmd := exec.Command(node, "run.mjs")
	cmd.Dir, cmd.Stdin, cmd.Stderr = dir, bytes.NewReader(input), os.Stderr
	out, err := cmd.Output()
	td.Require(t).CmpNoError(err)
	var hashes []string
	td.Require(t).CmpNoError(json.Unmarshal(out, &hashes))
	same(t, all, hashes)
}

func inChromium(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds the core and starts a browser")
	}
	browser := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			browser = path
			break
		}
	}
	if browser == "" {
		t.Skip("no Chromium here; install chromium to run this")
	}
	all := read(t)
	dir, err := library()
	td.Require(t).CmpNoError(err)
	input, err := json.Marshal(all)
	td.Require(t).CmpNoError(err)
	hashed := make(chan []byte, 1)
	mux := http.NewServeMux()
	mux.Handle("GET /", http.FileServer(http.Dir(dir)))
	mux.HandleFunc("GET /all.json", func(w http.ResponseWriter, _ *http.Request) { w.Write(input) })
	mux.HandleFunc("GET /run.html", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		w.Write([]byte(`<!doctype html><script type="module">import { load } from './whorl.js';` + inJS + `
let body;
try { body = JSON.stringify(await answers(load, await (await fetch('all.json')).json())); } catch (e) { body = JSON.stringify([String(e)]); }
await fetch('done', { method: 'POST', body });</script>`))
	})
	mux.HandleFunc("POST /done", func(_ http.ResponseWriter, q *http.Request) {
		var text bytes.Buffer
		text.ReadFrom(q.Body)
		hashed <- text.Bytes()
	})
	server := httptest.NewServer(mux)
	defer server.Close()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(browser), chromedp.NoSandbox, chromedp.DisableGPU)
	allocated, cancel := chromedp.NewExecAllocator(t.Context(), options...)
	defer cancel()
	ctx, stop := chromedp.NewContext(allocated)
	defer stop()
	if err := chromedp.Do(ctx, chromedp.Navigate(server.URL+"/run.html")); err != nil {
		t.Fatal(err)
	}
	select {
	case text := <-hashed:
		var hashes []string
		td.Require(t).CmpNoError(json.Unmarshal(text, &hashes))
		same(t, all, hashes)
	case <-time.After(5 * time.Minute):
		t.Fatal("Chromium has not answered in five minutes")
	}
}

func inWazero(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds the reactor")
	}
	all := read(t)
	code, err := wasm.BuildWASI("../../..")
	td.Require(t).CmpNoError(err)
	dir, err := os.UserCacheDir()
	td.Require(t).CmpNoError(err)
	cache, err := wazero.NewCompilationCacheWithDir(filepath.Join(dir, "whorl-wazero"))
	td.Require(t).CmpNoError(err)
	host, err := reactor.Open(t.Context(), code, cache)
	td.Require(t).CmpNoError(err)
	defer host.Close(t.Context())
	hashes := make([]string, len(all))
	for i, v := range all {
		answer, err := host.Call(t.Context(), v.Op, []byte(v.Request))
		td.Require(t).CmpNoError(err)
		hashes[i] = vectors.Hash(answer)
	}
	same(t, all, hashes)
}

// inWorkerd asks the worker in Go, with an instance for each request, and the one that keeps its instance.
func inWorkerd(t *testing.T) {
	all := read(t)
	running := platform.Serve(t)
	for _, at := range []string{running.InGo, running.Kept} {
		hashes := make([]string, len(all))
		begin := time.Now()
		for i, v := range all {
			r, err := http.Post(at+"/"+v.Op, "application/json", strings.NewReader(v.Request))
			td.Require(t).CmpNoError(err)
			text, err := io.ReadAll(r.Body)
			r.Body.Close()
			td.Require(t).CmpNoError(err)
			hashes[i] = vectors.Hash(text)
		}
		t.Logf("%d requests, %.1f ms each, one after the other", len(all), float64(time.Since(begin).Milliseconds())/float64(len(all)))
		same(t, all, hashes)
	}
}
