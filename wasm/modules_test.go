package wasm_test

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"whorl.example/wasm"
)

// offered are the modules that whoever has Whorl in go.mod sees there, by what the root's module has them for. One that only the page, a host or a
// browser's test needs belongs in the module there.
var offered = map[string]string{
	"github.com/shopspring/decimal":            "numbers as they were written",
	"rsc.io/qr":                                "the code of a link",
	"github.com/invopop/jsonschema":            "writes the JSON Schema",
	"github.com/bahlo/generic-list-go":         "that one's",
	"github.com/buger/jsonparser":              "that one's",
	"github.com/pb33f/ordered-map/v2":          "that one's",
	"go.yaml.in/yaml/v4":                       "that one's",
	"github.com/syumai/workers":                "the example at the edge",
	"github.com/maxatome/go-testdeep":          "tests",
	"pgregory.net/rapid":                       "tests",
	"github.com/go-json-experiment/json":       "the test of the reader, as another opinion",
	"github.com/santhosh-tekuri/jsonschema/v6": "the test of the decoder, as another opinion",
	"golang.org/x/text":                        "that one's",
	"github.com/emersion/go-ical":              "the test of the calendar, as another opinion",
	"github.com/teambition/rrule-go":           "that one's",
	"github.com/makiuchi-d/gozxing":            "the test of the code, as another opinion",
	"golang.org/x/xerrors":                     "that one's",
}

// A program that imports package baseline links one library besides, and finds no more modules in its list than are offered.
func TestWhatAnEmbedderTakesIn(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("left out by -short: builds a module of its own")
	}
	whorl, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	sum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for name, text := range map[string]string{
		"go.mod": "module embedder.example\n\ngo 1.26.0\n\nrequire whorl.example v0.0.0\n\nreplace whorl.example => " + whorl + "\n",
		"go.sum": string(sum),
		"main.go": `package main

import (
	"fmt"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

func main() {
	b, err := baseline.New(vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse})
	fmt.Println(b.Horse().Name, err)
}
`,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	command := func(args ...string) []string {
		cmd := exec.Command("go", args...)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOWORK=off", "GOPROXY=off")
		fields := strings.Fields(run(t, cmd))
		slices.Sort(fields)
		return slices.Compact(fields)
	}
	if ran := command("run", "."); !slices.Equal(ran, []string{"<nil>", "Juniper"}) {
		t.Errorf("it says %q", ran)
	}
	linked := command("list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", ".")
	if !slices.Equal(linked, []string{"embedder.example", "github.com/shopspring/decimal", "whorl.example"}) {
		t.Errorf("it links %q", linked)
	}
	want := []string{"embedder.example", "whorl.example"}
	for path := range offered {
		want = append(want, path)
	}
	slices.Sort(want)
	if all := command("list", "-m", "-f", "{{.Path}}", "all"); !slices.Equal(all, want) {
		t.Errorf("its list of modules is %q, and not %q", all, want)
	}
}

// apart are the modules that are not in go.work: what they need is heavy, and whoever builds the page would fetch it too.
var apart = []string{"schema/fhir/outside", "examples/herd/beam"}

// A mod is what is read of a go.mod or a go.work.
type mod struct {
	Go      string
	Use     []struct{ DiskPath string }
	Require []struct{ Path, Version string }
}

// All modules of the workspace build with the same Go and the same version of each library: with the workspace and without, and with
// what an embedder has, it is the same program.
func TestTheModulesAgree(t *testing.T) {
	t.Parallel()
	read := func(kind, file string) (m mod) {
		t.Helper()
		if err := json.Unmarshal([]byte(run(t, exec.Command("go", kind, "edit", "-json", file))), &m); err != nil {
			t.Fatal(err)
		}
		return m
	}
	work := read("work", filepath.Join(root, "go.work"))
	var used, found []string
	for _, u := range work.Use {
		used = append(used, filepath.ToSlash(filepath.Clean(u.DiskPath)))
	}
	versions := map[string]string{"go": work.Go, strings.TrimSuffix(module, "/"): "v0.0.0"}
	add := func(dir string) {
		found = append(found, dir)
		if slices.Contains(apart, dir) {
			return
		}
		m := read("mod", filepath.Join(root, dir, "go.mod"))
		m.Require = append(m.Require, struct{ Path, Version string }{"go", m.Go})
		for _, r := range m.Require {
			if known, ok := versions[r.Path]; ok && known != r.Version {
				t.Errorf("%s/go.mod has %s %s, another %s", dir, r.Path, r.Version, known)
			}
			versions[r.Path] = r.Version
		}
	}
	if err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "node_modules" || d.Name() == ".git"):
			return filepath.SkipDir
		case d.Name() == "go.mod":
			dir, err := filepath.Rel(root, filepath.Dir(path))
			if err != nil {
				return err
			}
			add(filepath.ToSlash(dir))
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	all := append(used, apart...)
	slices.Sort(all)
	slices.Sort(found)
	if !slices.Equal(found, all) {
		t.Errorf("in go.work or apart are %q, there are %q", all, found)
	}
}

// Without the workspace, as whoever embeds has it, the core is the same to the byte.
func TestTheCoreNeedsNoWorkspace(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds the core")
	}
	want, err := core()
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("GOWORK", "off")
	got, err := wasm.BuildPageCore(root)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Module, want) {
		t.Errorf("the core has other bytes: %d of them, and not %d", len(got.Module), len(want))
	}
}
