package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
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
	barn, exam := files(t, same)
	var out strings.Builder
	td.Require(t).CmpNoError(run("juniper", barn, exam, &out))
	for _, want := range []string{"heart-rate is higher; rests on ", " signs were not checked\n", "Juniper"} {
		td.Cmp(t, out.String(), td.Contains(want))
	}
}

func TestFaultsAreToldWithTheirPlace(t *testing.T) {
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

// A program that imports package baseline takes in one library besides: everything else
// in Whorl's go.mod is for its tests, its tools and its other floors.
func TestAnEmbedderTakesInOneLibrary(t *testing.T) {
	if testing.Short() {
		t.Skip("left out by -short: builds a module of its own")
	}
	root, err := filepath.Abs("../..")
	td.Require(t).CmpNoError(err)
	sum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	td.Require(t).CmpNoError(err)
	dir := t.TempDir()
	for name, text := range map[string]string{
		"go.mod": "module embedder.example\n\ngo 1.26.0\n\nrequire whorl.example v0.0.0\n\nreplace whorl.example => " + root + "\n",
		"go.sum": string(sum),
		"main.go": `package main

import (
	"fmt"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

func main() {
	b := baseline.New(vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse})
	fmt.Println(b.Horse().Name)
}
`,
	} {
		td.Require(t).CmpNoError(os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	command := func(args ...string) string {
		cmd := exec.Command("go", args...)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOWORK=off", "GOPROXY=off")
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("go %v: %v\n%s", args, err, out)
		}
		return strings.TrimSpace(string(out))
	}
	command("build", "-o", filepath.Join(dir, "embedder"), ".")
	ran, err := exec.Command(filepath.Join(dir, "embedder")).Output()
	td.Require(t).CmpNoError(err)
	td.Cmp(t, string(ran), "Juniper\n")
	modules := strings.Fields(command("list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", "."))
	slices.Sort(modules)
	td.Cmp(t, slices.Compact(modules), []string{"embedder.example", "github.com/shopspring/decimal", "whorl.example"})
}
