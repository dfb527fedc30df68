// Package checks gives tests the outer tools that they check with: programs from npm,
// of an exact version, in the user's cache and outside the repository.
package checks

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Node gives the path of node; the test is skipped without it.
func Node(t testing.TB) string {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not here; install nodejs to run this")
	}
	return node
}

// NPM gives the folder node_modules that holds a package ("typescript@5.9.3"). It is
// installed if WHORL_NPM=1; else, and if it is not there yet, the test is skipped.
func NPM(t testing.TB, pkg string) string {
	t.Helper()
	Node(t)
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = os.TempDir()
	}
	home := filepath.Join(cache, "whorl-checks", strings.NewReplacer("/", "-", "@", "-").Replace(pkg))
	done := filepath.Join(home, "installed")
	modules := filepath.Join(home, "node_modules")
	if _, err := os.Stat(done); err == nil {
		return modules
	}
	if os.Getenv("WHORL_NPM") != "1" {
		t.Skipf("%s is not here; WHORL_NPM=1 installs it into the cache and runs this", pkg)
	}
	if err := os.MkdirAll(home, 0o755); err != nil {
		t.Fatal(err)
	}
	npm := exec.Command("npm", "install", "--no-audit", "--no-fund", "--ignore-scripts", "--prefix", home, pkg)
	if out, err := npm.CombinedOutput(); err != nil {
		t.Fatalf("npm install %s: %v\n%s", pkg, err, out)
	}
	if err := os.WriteFile(done, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	return modules
}
