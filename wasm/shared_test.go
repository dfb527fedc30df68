package wasm_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/baseline/recovery"
	"whorl.example/baseline/report"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// of makes a call without arguments of one that gives a value.
func of[T any](f func() T) func() any { return func() any { return f() } }

// told are the functions without arguments that tell what the library knows, and some that take one.
var told = map[string]func() any{
	"vitals.Absences": of(vitals.Absences), "vitals.Acts": of(vitals.Acts), "vitals.Alarms": of(vitals.Alarms), "vitals.AnswerKinds": of(vitals.AnswerKinds), "vitals.Asks": of(vitals.Asks),
	"vitals.Catalogue": of(vitals.Catalogue), "vitals.Cautions": of(vitals.Cautions), "vitals.Conditions": of(vitals.Conditions),
	"vitals.Courses": of(vitals.Courses), "vitals.Depths": of(vitals.Depths), "vitals.Devices": of(vitals.Devices), "vitals.Efforts": of(vitals.Efforts),
	"vitals.Facts": of(vitals.Facts), "vitals.Figures": of(vitals.Figures), "vitals.Gravest": of(vitals.Gravest), "vitals.Holders": of(vitals.Holders),
	"vitals.Problems": of(vitals.Problems), "vitals.Purposes": of(vitals.Purposes), "vitals.RedFlags": of(vitals.RedFlags), "vitals.Rhythms": of(vitals.Rhythms),
	"vitals.Sections": of(vitals.Sections), "vitals.Severities": of(vitals.Severities), "vitals.Sexes": of(vitals.Sexes), "vitals.Sources": of(vitals.Sources),
	"vitals.Stages": of(vitals.Stages), "vitals.Starts": of(vitals.Starts), "vitals.Statuses": of(vitals.Statuses), "vitals.Tolerances": of(vitals.Tolerances),
	"vitals.TrotClocks": of(vitals.TrotClocks), "vitals.Types": of(vitals.Types), "vitals.Units": of(vitals.Units), "vitals.Wellnesses": of(vitals.Wellnesses),
	"words.Langs": of(words.Langs), "report.Marks": of(report.Marks), "report.Parts": of(report.Parts),
	"baseline.AssumedFigures": of(baseline.AssumedFigures), "baseline.AssumedSpans": of(baseline.AssumedSpans),
	"watch.AssumedFigures": of(watch.AssumedFigures), "recovery.Quantities": of(recovery.Quantities), "recovery.Criteria": of(recovery.Criteria),
	"recovery.Sources": of(recovery.Sources), "recovery.TrotDefinitions": of(recovery.TrotDefinitions),

	"vitals.Lookup":  func() any { s, _ := vitals.Lookup(vitals.GumColour); return s },
	"vitals.UnitsOf": func() any { return vitals.UnitsOf(vitals.Celsius) },
	"vitals.Steps":   func() any { return vitals.Steps(vitals.Full, vitals.Held, false) },
	"vitals.FiredAlarms": func() any {
		return vitals.FiredAlarms(vitals.Horse{Type: vitals.TypeHorse}, vitals.Exam{At: time.Unix(1.7e9, 0), State: vitals.State{Condition: vitals.AtRest},
			Findings: []vitals.Finding{{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.New(41, 0), Unit: vitals.Celsius}}}})
	},
	"words.Keys": func() any { return words.Keys(words.English) },
}

// Whoever embeds the library can change what it was told as it likes: the library does not learn from that.
func TestNothingIsShared(t *testing.T) {
	t.Parallel()
	for name, ask := range told {
		first := ask()
		spoil(reflect.ValueOf(&first).Elem().Elem())
		second := ask()
		td.CmpFalse(t, spoiled(reflect.ValueOf(second)), name)
	}
}

const rot = "rot"

// spoil overwrites every text of what a value refers to: of its lists, maps and pointers.
func spoil(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		if v.CanSet() {
			v.SetString(rot)
		}
	case reflect.Slice:
		for i := range v.Len() {
			spoil(v.Index(i))
		}
	case reflect.Map:
		if v.Type().Elem().Kind() == reflect.String {
			for _, k := range v.MapKeys() {
				v.SetMapIndex(k, reflect.ValueOf(rot).Convert(v.Type().Elem()))
			}
		}
	case reflect.Pointer:
		if !v.IsNil() {
			spoil(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				spoil(v.Field(i))
			}
		}
	}
}

// spoiled reports whether a text anywhere in a value was overwritten.
func spoiled(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.String:
		return v.String() == rot
	case reflect.Slice:
		for i := range v.Len() {
			if spoiled(v.Index(i)) {
				return true
			}
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			if spoiled(v.MapIndex(k)) {
				return true
			}
		}
	case reflect.Pointer:
		return !v.IsNil() && spoiled(v.Elem())
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() && spoiled(v.Field(i)) {
				return true
			}
		}
	}
	return false
}

// What a package exports is a function, a constant or a type, but for errors to compare with: a variable could be changed by anybody, for
// everybody. And the functions above are all that tell lists without being asked for one thing.
func TestNoExportedVariables(t *testing.T) {
	t.Parallel()
	for _, floor := range []string{"vitals", "baseline", "schema"} {
		err := filepath.WalkDir(filepath.Join(root, floor), func(path string, entry fs.DirEntry, err error) error {
			if err != nil || strings.HasSuffix(path, "_test.go") || !strings.HasSuffix(path, ".go") || strings.Contains(path, "internal") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			for _, d := range file.Decls {
				switch d := d.(type) {
				case *ast.GenDecl:
					for _, spec := range d.Specs {
						if v, ok := spec.(*ast.ValueSpec); ok && d.Tok == token.VAR {
							for _, n := range v.Names {
								td.CmpFalse(t, n.IsExported() && !strings.HasPrefix(n.Name, "Err"), "%s: %s is a variable", path, n.Name)
							}
						}
					}
				case *ast.FuncDecl:
					if !d.Name.IsExported() || d.Recv != nil || d.Type.Params.NumFields() > 0 || d.Type.Results.NumFields() != 1 {
						continue
					}
					if _, list := d.Type.Results.List[0].Type.(*ast.ArrayType); list {
						name := file.Name.Name + "." + d.Name.Name
						td.Cmp(t, told, td.ContainsKey(name))
					}
				}
			}
			return nil
		})
		td.CmpNoError(t, err)
	}
}
