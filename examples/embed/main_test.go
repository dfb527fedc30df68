package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// files writes a barn and an exam made of the record of example assess.
func files(t *testing.T, change func(exam string) string) (barn, exam string) {
	t.Helper()
	text, err := os.ReadFile("../assess/testdata/record.json")
	td.Require(t).CmpNoError(err)
	record, err := schema.DecodeRecord(text)
	td.Require(t).CmpNoError(err)
	file, err := schema.Encode(schema.File{Horses: []vitals.Horse{record.Horse}, Exams: record.Exams})
	td.Require(t).CmpNoError(err)
	one, err := schema.Marshal(record.Exam)
	td.Require(t).CmpNoError(err)
	dir := t.TempDir()
	barn, exam = filepath.Join(dir, "barn.json"), filepath.Join(dir, "exam.json")
	td.Require(t).CmpNoError(os.WriteFile(barn, file, 0o600))
	td.Require(t).CmpNoError(os.WriteFile(exam, []byte(change(string(one))), 0o600))
	return barn, exam
}

func same(s string) string { return s }

func TestLearnCompareTell(t *testing.T) {
	t.Parallel()
	barn, exam := files(t, same)
	var out strings.Builder
	td.Require(t).CmpNoError(run("juniper", barn, exam, &out))
	for _, want := range []string{"heart-rate is higher; rests on ", " signs were not checked\n", "Juniper"} {
		td.Cmp(t, out.String(), td.Contains(want))
	}
}

func TestFaultsAreToldWithTheirPlace(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change func(string) string
		horse  string
		want   string
	}{
		"another horse": {same, "clover", `no horse "clover"`},
		"unknown sign":  {func(s string) string { return strings.Replace(s, `"heart-rate"`, `"aura"`, 1) }, "juniper", "/findings/"},
		"cut off":       {func(s string) string { return s[:len(s)/2] }, "juniper", "exam.json:"},
		"other's exam":  {func(s string) string { return strings.Replace(s, `"horse":"juniper"`, `"horse":"clover"`, 1) }, "juniper", "/horse"},
	} {
		t.Run(name, func(t *testing.T) {
			barn, exam := files(t, c.change)
			var out strings.Builder
			err := run(vitals.ID(c.horse), barn, exam, &out)
			td.Require(t).CmpError(err)
			td.Cmp(t, err.Error(), td.Contains(c.want))
			td.Cmp(t, out.String(), "")
		})
	}
}
