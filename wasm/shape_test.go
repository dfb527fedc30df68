package wasm_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// No function of the repository has more than five parameters, and no folder more than 25 files that are not tests: more do not
// fit on the screens that somebody keeps in mind.
func TestFunctionsAndFoldersStaySmall(t *testing.T) {
	t.Parallel()
	const parameters, files = 5, 25
	in, seen := map[string]int{}, 0
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && (entry.Name() == "testdata" || entry.Name() == ".git" || entry.Name() == "node_modules") {
			return filepath.SkipDir
		}
		kind := filepath.Ext(path)
		if kind != ".go" && kind != ".ts" || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		in[filepath.Dir(path)]++
		if kind != ".go" {
			return nil
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok {
				seen++
				if n := f.Type.Params.NumFields(); n > parameters {
					t.Errorf("%s: %s has %d parameters, more than %d: name what belongs together by a type", fset.Position(f.Pos()), f.Name.Name, n, parameters)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 1500 {
		t.Errorf("only %d functions were seen", seen)
	}
	for dir, n := range in {
		if n > files {
			t.Errorf("%s has %d files besides tests, more than %d: a part of it is a package of its own, or files that belong together are one", dir, n, files)
		}
	}
}
