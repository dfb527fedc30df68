package wasm_test

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// pageFloors are the folders of the page's sources from the ground up: each imports itself and what is below it. What
// starts the page stands above them all, in no folder.
var pageFloors = []string{
	"core", "text", "store", "ui", "exam", "questions",
	"screens/exam", "screens/report", "screens/horses", "screens/practice", ".",
}

// pageImports gives for each module of the page, by its path from the sources without the ending, what it imports, types too.
func pageImports(t *testing.T) map[string][]string {
	t.Helper()
	src := filepath.Join(root, "wasm", "page", "src")
	imported := regexp.MustCompile(`(?:\bfrom|\bimport)\s*\(?\s*['"](\.[^'"]*)['"]`)
	imports := map[string][]string{}
	walk(t, func(name string) {
		inside, err := filepath.Rel(src, name)
		if err != nil || strings.HasPrefix(inside, "..") || filepath.Ext(name) != ".ts" {
			return
		}
		module := filepath.ToSlash(strings.TrimSuffix(inside, ".ts"))
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		imports[module] = nil
		for _, m := range imported.FindAllSubmatch(text, -1) {
			imports[module] = append(imports[module], path.Join(path.Dir(module), string(m[1])))
		}
	})
	if len(imports) < 60 || len(imports["main"]) == 0 || len(imports["lazyscreens"]) == 0 {
		t.Fatalf("only %d modules read, and of these main imports %v", len(imports), imports["main"])
	}
	return imports
}

func TestPageFoldersImportDownwards(t *testing.T) {
	t.Parallel()
	imports := pageImports(t)
	inFolder := map[string]int{}
	for module, all := range imports {
		inFolder[path.Dir(module)]++
		at := slices.Index(pageFloors, path.Dir(module))
		if at < 0 {
			t.Errorf("%s is in a folder that stands on no floor", module)
		}
		for _, below := range all {
			if _, there := imports[below]; !there {
				t.Errorf("%s imports %s, which was not read", module, below)
			}
			if slices.Index(pageFloors, path.Dir(below)) > at {
				t.Errorf("%s imports %s, which stands above it", module, below)
			}
		}
	}
	for folder, n := range inFolder {
		if n > 20 {
			t.Errorf("%s holds %d files", folder, n)
		}
	}
}

func TestNoPageModuleImportsItselfByAnother(t *testing.T) {
	t.Parallel()
	imports := pageImports(t)
	const onTheWay, done = 1, 2
	state := map[string]int{}
	var visit func(module string, way []string)
	visit = func(module string, way []string) {
		way = append(way, module)
		switch state[module] {
		case onTheWay:
			t.Errorf("a circle: %s", strings.Join(way[slices.Index(way, module):], " imports "))
		case 0:
			state[module] = onTheWay
			for _, next := range imports[module] {
				visit(next, way)
			}
			state[module] = done
		}
	}
	for module := range imports {
		visit(module, nil)
	}
}
