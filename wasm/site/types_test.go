package main

import (
	"os/exec"
	"path/filepath"
	"testing"

	"whorl.example/wasm/checks"
)

// The page's TypeScript is right by the strict rules of its two projects, page and service worker.
func TestTypes(t *testing.T) {
	t.Parallel()
	tsc := filepath.Join(checks.NPM(t, "typescript@5.9.3"), "typescript", "bin", "tsc")
	for _, project := range []string{"../page/tsconfig.json", "../page/tsconfig.worker.json"} {
		out, err := exec.Command("node", tsc, "--noEmit", "--pretty", "false", "-p", project).CombinedOutput()
		if err != nil {
			t.Errorf("%s: %v\n%s", project, err, out)
		}
	}
}
