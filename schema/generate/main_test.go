package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// The committed files are what the types, the comments and the catalogue give today.
func TestCommittedFilesAreCurrent(t *testing.T) {
	t.Parallel()
	files, err := generate("..")
	td.CmpNoError(t, err)
	td.Cmp(t, files, td.Len(3))
	for name, text := range files {
		committed, err := os.ReadFile(filepath.Join("..", name))
		td.CmpNoError(t, err)
		if string(committed) != string(text) {
			t.Errorf("%s is out of date: run go generate ./schema", name)
		}
	}
}

// Every list of the schema has as many values as the list of the code, and the comments of
// types and fields have come along.
func TestSchemaSaysWhatTheCodeSays(t *testing.T) {
	t.Parallel()
	s, err := reflectSchema("..")
	td.CmpNoError(t, err)
	list := func(name string) []any { return s.Definitions[name].Enum }
	td.Cmp(t, list("Device"), td.Len(len(vitals.Devices())))
	td.Cmp(t, list("Unit"), td.Len(len(vitals.Units())))
	td.Cmp(t, list("Absence"), td.Len(len(vitals.Absences())))
	td.Cmp(t, list("Purpose"), td.Len(len(vitals.Purposes())))
	td.Cmp(t, list("Condition"), td.Len(len(vitals.Conditions())))
	td.Cmp(t, list("Type"), td.Len(len(vitals.Types())))
	td.Cmp(t, list("SignID"), td.Len(len(vitals.Catalogue())))
	seconds, _ := s.Definitions["Count"].Properties.Get("seconds")
	td.Cmp(t, seconds.Description, td.Contains("5 to 300"))
	text, err := json.Marshal(s)
	td.CmpNoError(t, err)
	td.Cmp(t, string(text), td.Contains("UCUM"))
}

// The generator writes where it is told, and says so when it cannot.
func TestRun(t *testing.T) {
	t.Parallel()
	td.CmpError(t, run(filepath.Join(t.TempDir(), "nowhere")))
}
