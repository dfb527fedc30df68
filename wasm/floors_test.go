package wasm_test

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"whorl.example/wasm"
)

const (
	module = "whorl.example/"
	root   = ".."
)

// floors from the ground up: each imports itself and what is below it.
var floors = []string{"vitals", "baseline", "schema", "wasm", "examples"}

// floor is the number of the floor that a package of the module stands on, -1 for none.
func floor(importPath string) int {
	inside, ours := strings.CutPrefix(importPath, module)
	if !ours {
		return -1
	}
	name, _, _ := strings.Cut(inside, "/")
	return slices.Index(floors, name)
}

// list runs go list with a format, for a target ("" is this machine), and gives the fields
// of each line.
func list(t *testing.T, target, format string, args ...string) [][]string {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list", "-f", format}, args...)...)
	cmd.Dir = root
	cmd.Env = os.Environ()
	if target != "" {
		cmd.Env = append(cmd.Env, "GOOS="+target, "GOARCH=wasm")
	}
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, errs.String())
	}
	var lines [][]string
	for line := range strings.Lines(string(out)) {
		lines = append(lines, strings.Fields(line))
	}
	return lines
}

func TestEachFloorImportsDownwards(t *testing.T) {
	t.Parallel()
	packages := list(t, "", `{{.ImportPath}}{{range .Imports}} {{.}}{{end}}`, "work")
	packages = append(packages, list(t, "js", `{{.ImportPath}}{{range .Imports}} {{.}}{{end}}`, "./wasm/...")...)
	if len(packages) < 6 {
		t.Fatalf("only %d packages seen", len(packages))
	}
	for _, p := range packages {
		at := floor(p[0])
		if at < 0 {
			t.Errorf("%s stands on no floor", p[0])
		}
		for _, below := range p[1:] {
			if floor(below) > at {
				t.Errorf("%s imports %s, which stands above it", p[0], below)
			}
		}
	}
}

// within is which packages of ours those of the floor baseline import, besides vitals: none that is not named here.
var within = map[string][]string{
	"baseline": {"baseline/internal/catalogue", "baseline/internal/fingerprint", "baseline/internal/grade", "baseline/internal/level",
		"baseline/internal/normal", "baseline/internal/stable", "baseline/internal/whole"},
	"baseline/recovery":             {"baseline", "baseline/internal/normal", "baseline/internal/stable"},
	"baseline/watch":                {"baseline", "baseline/internal/fingerprint", "baseline/internal/grade", "baseline/internal/normal", "baseline/internal/stable"},
	"baseline/report":               {"baseline", "baseline/internal/stable", "baseline/recovery", "baseline/watch"},
	"baseline/internal/catalogue":   {},
	"baseline/internal/fingerprint": {"baseline/internal/catalogue"},
	"baseline/internal/grade":       {},
	"baseline/internal/level":       {"baseline/internal/normal"},
	"baseline/internal/normal":      {},
	"baseline/internal/stable":      {},
	"baseline/internal/whole":       {},
}

func TestTheRoomsOfTheBaseline(t *testing.T) {
	t.Parallel()
	packages := list(t, "", `{{.ImportPath}}{{range .Imports}} {{.}}{{end}}`, "./baseline/...")
	if len(packages) != len(within) {
		t.Errorf("%d packages, %d in the table", len(packages), len(within))
	}
	for _, p := range packages {
		name := strings.TrimPrefix(p[0], module)
		may, known := within[name]
		if !known {
			t.Errorf("%s is not in the table", name)
		}
		var does []string
		for _, path := range p[1:] {
			below, ours := strings.CutPrefix(path, module)
			if !ours || below == "vitals" || below == "vitals/words" {
				continue
			}
			if does = append(does, below); !slices.Contains(may, below) {
				t.Errorf("%s imports %s", name, below)
			}
		}
		for _, below := range may {
			if !slices.Contains(does, below) {
				t.Errorf("%s no longer imports %s", name, below)
			}
		}
	}
}

// Outside the standard library, each floor of the core needs these modules and no other.
var allowed = map[string][]string{
	"vitals":   {"github.com/shopspring/decimal"},
	"baseline": {"github.com/shopspring/decimal"},
	"schema":   {"github.com/shopspring/decimal"},
	"wasm/api": {"github.com/shopspring/decimal", "rsc.io/qr"},
}

func TestTheCoreNeedsFewModules(t *testing.T) {
	t.Parallel()
	for name, modules := range allowed {
		deps := list(t, "", `{{if not .Standard}}{{.ImportPath}} {{with .Module}}{{.Path}}{{end}}{{end}}`, "-deps", "./"+name)
		for _, d := range deps {
			if len(d) == 2 && d[1]+"/" != module && !slices.Contains(modules, d[1]) {
				t.Errorf("%s needs %s", name, d[0])
			}
		}
	}
}

// heavy are packages that cost the browser build too much, or reach for what the core
// must not have; none may be linked, by whatever way.
var heavy = []string{
	"text/template", "html/template", "net", "net/http", "embed", "log", "log/slog", "encoding/json",
	"encoding/json/v2", "github.com/go-json-experiment/json", "github.com/go-json-experiment/json/jsontext", "encoding/gob", "encoding/xml", "go/ast", "go/parser",
	"crypto/tls", "crypto/rand", "math/rand/v2", "os/exec", "os/signal", "testing",
}

// ofDecimal are linked because shopspring/decimal imports them; our own code does not.
var ofDecimal = []string{"os", "regexp", "math/rand", "database/sql/driver", "io/fs", "path/filepath"}

func TestTheBrowserBuildIsLight(t *testing.T) {
	t.Parallel()
	deps, err := wasm.Linked(root, `{{.ImportPath}}{{range .Imports}} {{.}}{{end}}`)
	if err != nil {
		t.Fatal(err)
	}
	if len(deps) < 50 {
		t.Fatalf("only %d packages seen", len(deps))
	}
	for _, line := range deps {
		d := strings.Fields(line)
		if slices.Contains(heavy, d[0]) {
			t.Errorf("the browser build links %s", d[0])
		}
		if floor(d[0]) < 0 {
			continue
		}
		for _, direct := range d[1:] {
			if slices.Contains(ofDecimal, direct) {
				t.Errorf("%s imports %s", d[0], direct)
			}
		}
	}
}

// walk calls visit with every file of ours, by its path from the root.
func walk(t *testing.T, visit func(path string)) {
	t.Helper()
	for _, top := range floors {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, d fs.DirEntry, err error) error {
			switch {
			case os.IsNotExist(err):
				return nil
			case err != nil:
				return err
			case d.IsDir() && (d.Name() == "node_modules" || d.Name() == "testdata"):
				return filepath.SkipDir
			case !d.IsDir():
				visit(path)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

func parse(t *testing.T, path string, mode parser.Mode) *ast.File {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), path, nil, mode)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// of package time, these read the clock or the zone of the machine.
var clock = []string{"Now", "Since", "Until", "Local", "LoadLocation", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker", "Sleep"}

// The three lower floors know no clock, no zone of the machine, and no chance.
func TestTheCoreKnowsNoClock(t *testing.T) {
	t.Parallel()
	seen := 0
	walk(t, func(path string) {
		core := floor(module+filepath.ToSlash(path)[len(root)+1:]) < slices.Index(floors, "wasm")
		if !core || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return
		}
		f := parse(t, path, parser.SkipObjectResolution)
		if f.Name.Name == "main" {
			return
		}
		seen++
		for _, spec := range f.Imports {
			name, _ := strconv.Unquote(spec.Path.Value)
			if strings.HasPrefix(name, "math/rand") || name == "crypto/rand" || name == "os" || name == "net" {
				t.Errorf("%s imports %s", path, name)
			}
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok {
				if p, ok := s.X.(*ast.Ident); ok && p.Name == "time" && slices.Contains(clock, s.Sel.Name) {
					t.Errorf("%s uses time.%s", path, s.Sel.Name)
				}
			}
			return true
		})
	})
	if seen < 10 {
		t.Fatalf("only %d files seen", seen)
	}
}

func TestFilesFitOnAFewScreens(t *testing.T) {
	t.Parallel()
	const most = 600
	walk(t, func(path string) {
		switch filepath.Ext(path) {
		case ".go", ".ts", ".js", ".mjs", ".css", ".html":
		default:
			return
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if n := bytes.Count(text, []byte{'\n'}); n > most && !bytes.HasPrefix(text, []byte("// Code generated")) {
			t.Errorf("%s has %d lines", path, n)
		}
	})
}

func TestPackagesAreNamedForWhatTheyHold(t *testing.T) {
	t.Parallel()
	walk(t, func(path string) {
		if strings.HasSuffix(path, ".go") {
			switch name := parse(t, path, parser.PackageClauseOnly).Name.Name; name {
			case "util", "utils", "common", "helper", "helpers", "misc", "shared":
				t.Errorf("%s: package %s", path, name)
			}
		}
	})
}

func TestTheTopLevelIsTheHouse(t *testing.T) {
	t.Parallel()
	house := append([]string{"README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "NOTICE", "go.mod", "go.sum", "go.work", "go.work.sum",
		"build", "site"}, floors...) // build and site are what .gitignore leaves out
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(house, e.Name()) {
			t.Errorf("%s is not of the house", e.Name())
		}
	}
}
