package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// The fifteen lines of the README, in a program of its own that takes the module in by the README's command.
func TestTheLinesOfTheReadme(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds a module of its own")
	}
	readme, err := os.ReadFile("../../README.md")
	td.Require(t).CmpNoError(err)
	_, lines, found := strings.Cut(string(readme), "```go\n")
	lines, _, _ = strings.Cut(lines, "```")
	td.Require(t).True(found)
	td.Cmp(t, strings.Count(lines, "\n"), td.Lte(16))
	_, install, found := strings.Cut(string(readme), "    go mod edit ")
	install, _, _ = strings.Cut(install, " && go mod tidy\n")
	td.Require(t).True(found)
	root, err := filepath.Abs("../..")
	td.Require(t).CmpNoError(err)
	sum, err := os.ReadFile("../../go.sum")
	td.Require(t).CmpNoError(err)
	dir := t.TempDir()
	for name, text := range map[string]string{
		"go.mod": "module mine.example\n\ngo 1.26.0\n",
		"go.sum": string(sum),
		"main.go": "package main\n\nimport (\n\"fmt\"\n\"os\"\n\n\"whorl.example/baseline\"\n\"whorl.example/schema\"\n)\n\n" +
			"func main() {\ntext, err := os.ReadFile(os.Args[1])\nif err == nil {\nerr = run(text)\n}\nif err != nil {\nfmt.Println(err)\nos.Exit(1)\n}\n}\n\n" +
			"func run(text []byte) error {\n" + lines + "return nil\n}\n",
	} {
		td.Require(t).CmpNoError(os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	command := func(args ...string) string {
		t.Helper()
		cmd := exec.Command("go", args...)
		cmd.Dir, cmd.Env = dir, append(os.Environ(), "GOWORK=off", "GOFLAGS=-mod=mod", "GOPROXY=off")
		out, err := cmd.CombinedOutput()
		td.Require(t).CmpNoError(err, "%s", out)
		return string(out)
	}
	command(append([]string{"mod", "edit"}, strings.Fields(strings.ReplaceAll(install, "FOLDER", root))...)...)
	out := command("run", ".", filepath.Join(root, "examples", "assess", "testdata", "record.json"))
	td.Cmp(t, out, td.All(td.Contains("heart-rate higher rests on "), td.Contains(" signs were not checked\n")))
}
