// Package platform runs the worker of examples/edge in workerd, as the platform would, for tests.
package platform

import (
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm"
	"whorl.example/wasm/checks"
	"whorl.example/wasm/lib"
)

// workerd is the platform's own runtime; its binary is inside the package.
const workerd = "workerd@1.20261117.1"

// config has the worker in Go and the one that keeps its instance, with the same files.
const config = `using Workerd = import "/workerd/workerd.capnp";
const config :Workerd.Config = (
  services = [
    (name = "files", disk = (path = "%s")),
    (name = "go", worker = (
      modules = [
        (name = "go.mjs", esModule = embed "go.mjs"),
        (name = "front.mjs", esModule = embed "front.mjs"),
        (name = "worker.mjs", esModule = embed "worker.mjs"),
        (name = "runtime.mjs", esModule = embed "runtime.mjs"),
        (name = "wasm_exec.js", esModule = embed "wasm_exec.js"),
        (name = "app.wasm", wasm = embed "app.wasm")],
      bindings = [(name = "ASSETS", service = "files")],
      compatibilityDate = "2026-01-01")),
    (name = "kept", worker = (
      modules = [
        (name = "kept.mjs", esModule = embed "kept.mjs"),
        (name = "front.mjs", esModule = embed "front.mjs"),
        (name = "whorl.js", esModule = embed "lib/whorl.js"),
        (name = "wasm_exec.js", esModule = embed "lib/wasm_exec.js"),
        (name = "core.wasm", wasm = embed "lib/whorl.wasm")],
      bindings = [(name = "ASSETS", service = "files")],
      compatibilityDate = "2026-01-01"))],
  sockets = [
    (name = "go", address = "127.0.0.1:%d", http = (), service = "go"),
    (name = "kept", address = "127.0.0.1:%d", http = (), service = "kept")]
);
`

// Running are the addresses of the worker in Go and of the kept one.
type Running struct{ InGo, Kept string }

// Serve builds the workers and runs them in workerd with no way out to a network.
func Serve(t testing.TB) Running {
	t.Helper()
	if testing.Short() {
		t.Skip("left out by -short: builds the worker")
	}
	arch := map[string]string{"amd64": "linux-64", "arm64": "linux-arm64"}[runtime.GOARCH]
	if runtime.GOOS != "linux" || arch == "" {
		t.Skip("this test knows where workerd lies on linux only")
	}
	binary := filepath.Join(checks.NPM(t, workerd), "@cloudflare", "workerd-"+arch, "bin", "workerd")
	root, err := wasm.Root()
	td.Require(t).CmpNoError(err)
	edge := filepath.Join(root, "examples", "edge")
	dir := filepath.Join(t.TempDir(), "build")
	run := func(env []string, args ...string) {
		cmd := exec.Command("go", args...)
		cmd.Dir = edge
		cmd.Env = append(os.Environ(), env...)
		out, err := cmd.CombinedOutput()
		td.Require(t).CmpNoError(err, string(out))
	}
	run(nil, "tool", "workers-assets-gen", "-mode=go", "-o", dir)
	run([]string{"GOOS=js", "GOARCH=wasm"}, "build", "-trimpath", "-tags=panics", "-ldflags=-s -w", "-o", filepath.Join(dir, "app.wasm"), ".")
	_, err = lib.Write(root, filepath.Join(dir, "lib"))
	td.Require(t).CmpNoError(err)
	files := filepath.Join(dir, "files")
	run(nil, "run", "-C", filepath.Join(root, "wasm", "site"), ".", "-out", files)
	pack, err := os.ReadFile(filepath.Join(root, "examples", "clinic", "pack.json"))
	td.Require(t).CmpNoError(err)
	td.Require(t).CmpNoError(os.WriteFile(filepath.Join(files, "clinic.json"), pack, 0o600))
	for _, name := range []string{"go.mjs", "kept.mjs", "front.mjs"} {
		text, err := os.ReadFile(filepath.Join(edge, name))
		td.Require(t).CmpNoError(err)
		td.Require(t).CmpNoError(os.WriteFile(filepath.Join(dir, name), text, 0o600))
	}
	// Ports that were free a moment ago.
	var ports [2]int
	for i := range ports {
		free, err := net.Listen("tcp", "127.0.0.1:0")
		td.Require(t).CmpNoError(err)
		ports[i] = free.Addr().(*net.TCPAddr).Port
		free.Close()
	}
	file := filepath.Join(dir, "config.capnp")
	td.Require(t).CmpNoError(os.WriteFile(file, fmt.Appendf(nil, config, files, ports[0], ports[1]), 0o600))
	return Running{start(t, binary, file, ports[0]), fmt.Sprintf("http://127.0.0.1:%d", ports[1])}
}

// start runs workerd until the test is over, and waits for its first answer.
func start(t testing.TB, binary, file string, port int) string {
	t.Helper()
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
