package wasm

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// A gotool is one version of Go: where it is, and where it keeps the modules that it has fetched.
type gotool struct{ root, version, modules string }

// goOf gives the Go that a module is built by. By its go.mod and GOTOOLCHAIN the go command may choose another than itself.
func goOf(module string) (g gotool, err error) {
	cmd := exec.Command("go", "env", "-json", "GOROOT", "GOVERSION", "GOMODCACHE")
	cmd.Dir = module
	out, err := cmd.Output()
	if err != nil {
		return g, fmt.Errorf("go env: %w", err)
	}
	var env struct{ GOROOT, GOVERSION, GOMODCACHE string }
	if err := json.Unmarshal(out, &env); err != nil {
		return g, fmt.Errorf("go env: %w", err)
	}
	return gotool{env.GOROOT, env.GOVERSION, env.GOMODCACHE}, nil
}

// A target is what Go compiles for.
type target struct{ system, experiment string }

// command is that Go's own, which chooses no other.
func (g gotool) command(dir string, to target, args ...string) *exec.Cmd {
	cmd := exec.Command(filepath.Join(g.root, "bin", "go"), args...)
	cmd.Dir = dir
	// An experiment of the environment's would change the size: jsonv2 adds some 230 kB.
	cmd.Env = append(os.Environ(), "GOROOT="+g.root, "GOTOOLCHAIN=local",
		"GOOS="+to.system, "GOARCH=wasm", "GOEXPERIMENT="+to.experiment, "GOFLAGS=-mod=readonly")
	return cmd
}

// replaceable gives the same Go where the compiler can be given other files of the standard library. A Go that was fetched,
// because go.mod or GOTOOLCHAIN asked for it, is among the modules, where the go command refuses that; it goes by the
// path alone, so that a link to it in dir does. Where no link can be made it is a copy, of some 240 MB.
func (g gotool) replaceable(dir string, link func(from, to string) error) (gotool, error) {
	if at, err := filepath.Rel(g.modules, g.root); err != nil || !filepath.IsLocal(at) {
		return g, nil
	}
	to := filepath.Join(dir, "goroot")
	if link(g.root, to) != nil {
		if err := os.CopyFS(to, os.DirFS(g.root)); err != nil {
			return g, fmt.Errorf("a copy of %s: %w", g.version, err)
		}
	}
	g.root = to
	return g, nil
}

// Root gives the folder of Whorl's own module, from any folder of the repository: also of a module of it that is another, as the page's is.
func Root() (string, error) {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "whorl.example").Output()
	if err != nil {
		return "", fmt.Errorf("run this from a folder of the repository: go list -m whorl.example: %w", err)
	}
	return strings.TrimSpace(string(out)), nil
}

// Glue gives the path of the JavaScript that loads what the Go of a module has built; that of another version will not do.
func Glue(module string) (string, error) {
	g, err := goOf(module)
	return filepath.Join(g.root, "lib", "wasm", "wasm_exec.js"), err
}
