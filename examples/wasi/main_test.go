package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm"
)

func TestCommand(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("left out by -short: builds the reactor")
	}
	code, err := wasm.BuildWASI("../..")
	td.Require(t).CmpNoError(err)
	file := filepath.Join(t.TempDir(), "whorl.wasm")
	td.Require(t).CmpNoError(os.WriteFile(file, code, 0o600))
	ran := func(in string, args ...string) (int, string) {
		var out strings.Builder
		exit, err := run(t.Context(), args, strings.NewReader(in), &out)
		if err != nil {
			return exit, err.Error()
		}
		return exit, out.String()
	}
	exit, out := ran("{}", file, "version")
	td.Cmp(t, exit, 0)
	td.Cmp(t, out, td.HasPrefix(`{"ok":true`))
	exit, _ = ran("{", file, "version")
	td.Cmp(t, exit, 2)
	exit, out = ran("{}", file)
	td.Cmp(t, exit, 2)
	td.Cmp(t, out, td.Contains("whorl.wasm"))
	exit, _ = ran("{}", file+".not", "version")
	td.Cmp(t, exit, 2)
}
