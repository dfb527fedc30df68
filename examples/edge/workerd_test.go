package main

import (
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/examples/vectors"
	"whorl.example/wasm/checks"
)

// workerd is the platform's own runtime; its binary is inside the package.
const workerd = "workerd@1.20261117.1"

const config = `using Workerd = import "/workerd/workerd.capnp";
const config :Workerd.Config = (
  services = [(name = "main", worker = (
    modules = [
      (name = "worker.mjs", esModule = embed "worker.mjs"),
      (name = "runtime.mjs", esModule = embed "runtime.mjs"),
      (name = "wasm_exec.js", esModule = embed "wasm_exec.js"),
      (name = "app.wasm", wasm = embed "app.wasm")],
    compatibilityDate = "2026-01-01"))],
  sockets = [(name = "http", address = "127.0.0.1:%d", http = (), service = "main")]
);
`

// serve builds the worker and runs it in workerd with no way out to a network.
func serve(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("builds the worker")
	}
	arch := map[string]string{"amd64": "linux-64", "arm64": "linux-arm64"}[runtime.GOARCH]
	if runtime.GOOS != "linux" || arch == "" {
		t.Skip("this test knows where workerd lies on linux only")
	}
	binary := filepath.Join(checks.NPM(t, workerd), "@cloudflare", "workerd-"+arch, "bin", "workerd")
	dir := filepath.Join(t.TempDir(), "build")
	run := func(env []string, args ...string) {
		cmd := exec.Command("go", args...)
		cmd.Env = append(os.Environ(), env...)
		out, err := cmd.CombinedOutput()
		td.Require(t).CmpNoError(err, string(out))
	}
	run(nil, "tool", "workers-assets-gen", "-mode=go", "-o", dir)
	run([]string{"GOOS=js", "GOARCH=wasm"}, "build", "-trimpath", "-ldflags=-s -w", "-o", filepath.Join(dir, "app.wasm"), ".")
	// A port that was free a moment ago.
	free, err := net.Listen("tcp", "127.0.0.1:0")
	td.Require(t).CmpNoError(err)
	port := free.Addr().(*net.TCPAddr).Port
	free.Close()
	file := filepath.Join(dir, "config.capnp")
	td.Require(t).CmpNoError(os.WriteFile(file, fmt.Appendf(nil, config, port), 0o600))
	cmd := exec.Command(binary, "serve", file)
	cmd.Stderr = os.Stderr
	td.Require(t).CmpNoError(cmd.Start())
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	at := fmt.Sprintf("http://127.0.0.1:%d", port)
	for range 200 {
		if r, err := http.Get(at + "/schema"); err == nil {
			r.Body.Close()
			return at
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Fatal("workerd does not answer")
	return ""
}

// Every vector, by its bytes, through the worker in workerd.
func TestTheWorkerAnswersTheVectors(t *testing.T) {
	at := serve(t)
	f, err := os.Open("../vectors/vectors.jsonl")
	td.Require(t).CmpNoError(err)
	defer f.Close()
	n := 0
	begin := time.Now()
	for d := json.NewDecoder(f); d.More(); n++ {
		var v struct{ Op, Request, SHA256 string }
		td.Require(t).CmpNoError(d.Decode(&v))
		r, err := http.Post(at+"/"+v.Op, "application/json", strings.NewReader(v.Request))
		td.Require(t).CmpNoError(err)
		text, err := io.ReadAll(r.Body)
		r.Body.Close()
		td.Require(t).CmpNoError(err)
		td.Cmp(t, vectors.Hash(text), v.SHA256, "vector %d: %s", n+1, v.Op)
	}
	td.Cmp(t, n, td.Gte(200))
	t.Logf("%d requests, %.1f ms each, one after the other", n, float64(time.Since(begin).Milliseconds())/float64(n))
}
