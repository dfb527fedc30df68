package api

import (
	"bytes"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"whorl.example/schema"
)

var update = flag.Bool("update", false, "write OPERATIONS.md anew")

// OPERATIONS.md is what the code says: each operation with the members of its request and the comment beside it.
func TestOperationsPage(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	set := token.NewFileSet()
	types, funcs := map[string]*ast.StructType{}, map[string]*ast.FuncDecl{}
	var finder *ast.File
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(set, name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Recv == nil {
					funcs[d.Name.Name] = d
				}
				if d.Name.Name == "find" {
					finder = file
				}
			case *ast.GenDecl:
				for _, s := range d.Specs {
					if s, ok := s.(*ast.TypeSpec); ok {
						if st, ok := s.Type.(*ast.StructType); ok {
							types[s.Name.Name] = st
						}
					}
				}
			}
		}
	}
	var out bytes.Buffer
	out.WriteString("# The operations\n\nOne function, `Call(op, request)`, JSON in and out; it never panics. The answer is `{\"ok\":true,\"value\":…}` or\n" +
		"`{\"ok\":false,\"faults\":[{\"code\",\"path\",\"sentence\"}…]}`. Every request may carry `\"lang\"` (default `en`).\n" +
		"Written from the code: `go test ./wasm/api -run OperationsPage -update`.\n\n| operation | request | value |\n|---|---|---|\n")
	n := 0
	for _, stmt := range funcs["find"].Body.List[0].(*ast.SwitchStmt).Body.List {
		clause := stmt.(*ast.CaseClause)
		name := strings.Trim(clause.List[0].(*ast.BasicLit).Value, `"`)
		var said []string
		for _, group := range finder.Comments {
			if group.Pos() > clause.Colon && group.End() < clause.End() {
				said = append(said, strings.Fields(group.Text())...)
			}
		}
		if len(said) == 0 {
			t.Errorf("%s: nothing says what it answers", name)
		}
		fmt.Fprintf(&out, "| `%s` | `{%s}` | %s |\n", name, strings.Join(requestOf(clause, types, funcs), ","), strings.Join(said, " "))
		n++
	}
	if n < 20 {
		t.Errorf("%d operations", n)
	}
	if *update {
		if err := os.WriteFile("OPERATIONS.md", out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile("OPERATIONS.md")
	if err != nil || !bytes.Equal(kept, out.Bytes()) {
		t.Errorf("OPERATIONS.md is not what the code says: go test ./wasm/api -run OperationsPage -update (%v)", err)
	}
}

// requestOf gives the members of an operation's request but the language.
func requestOf(clause *ast.CaseClause, types map[string]*ast.StructType, funcs map[string]*ast.FuncDecl) []string {
	switch x := clause.Body[0].(*ast.ReturnStmt).Results[0].(type) {
	case *ast.CallExpr: // serve(do)
		do := funcs[x.Args[0].(*ast.Ident).Name]
		switch p := do.Type.Params.List[0].Type.(type) {
		case *ast.Ident:
			return members(types[p.Name], types)
		case *ast.StructType:
			return members(p, types)
		}
	case *ast.Ident: // an operation by itself: the request is what it decodes
		var out []string
		ast.Inspect(funcs[x.Name].Body, func(n ast.Node) bool {
			if st, ok := n.(*ast.StructType); ok && out == nil {
				out = members(st, types)
			}
			if id, ok := n.(*ast.Ident); ok && out == nil && strings.HasSuffix(id.Name, "Request") {
				out = members(types[id.Name], types)
			}
			return true
		})
		return out
	}
	return nil
}

func members(st *ast.StructType, types map[string]*ast.StructType) (out []string) {
	if st == nil {
		return nil
	}
	for _, f := range st.Fields.List {
		if len(f.Names) == 0 {
			switch embedded := f.Type.(type) {
			case *ast.Ident:
				out = append(out, members(types[embedded.Name], types)...)
			case *ast.SelectorExpr: // schema.Record
				record := reflect.TypeFor[schema.Record]()
				if embedded.Sel.Name != record.Name() {
					panic(embedded.Sel.Name)
				}
				for i := range record.NumField() {
					name, _, _ := strings.Cut(record.Field(i).Tag.Get("json"), ",")
					out = append(out, `"`+name+`"`)
				}
			}
			continue
		}
		if f.Tag == nil {
			continue
		}
		name, _, _ := strings.Cut(reflect.StructTag(strings.Trim(f.Tag.Value, "`")).Get("json"), ",")
		if name != "" && name != "lang" {
			out = append(out, `"`+name+`"`)
		}
	}
	return out
}
