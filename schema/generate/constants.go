package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
)

// constants gives the values of the string constants of each named type of a package, in
// the order of the source: the closed lists of the format are the constants of the code.
func constants(dir string) (map[string][]any, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	if len(files) == 0 {
		return nil, &fs.PathError{Op: "read", Path: dir, Err: fs.ErrNotExist}
	}
	out := map[string][]any{}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		for _, decl := range f.Decls {
			if group, ok := decl.(*ast.GenDecl); ok && group.Tok == token.CONST {
				collect(group, out)
			}
		}
	}
	// No closed list: most rules are written as text, and a clinic's file names its own.
	delete(out, "AlarmID")
	return out, nil
}

func collect(group *ast.GenDecl, out map[string][]any) {
	for _, spec := range group.Specs {
		s := spec.(*ast.ValueSpec)
		kind, ok := s.Type.(*ast.Ident)
		if !ok {
			continue
		}
		for _, value := range s.Values {
			literal, ok := value.(*ast.BasicLit)
			if !ok || literal.Kind != token.STRING {
				continue
			}
			// The parser has read the literal, so it unquotes.
			text, _ := strconv.Unquote(literal.Value)
			out[kind.Name] = append(out[kind.Name], text)
		}
	}
}
