package answer_test

import (
	"flag"
	"go/format"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/answer"
	"whorl.example/vitals/site"
)

var update = flag.Bool("update", false, "write the constants anew")

// camel makes the name of a constant of ids: "gum-colour", "pale" is GumColourPale.
func camel(ids ...string) string {
	var out strings.Builder
	for _, id := range ids {
		for part := range strings.SplitSeq(id, "-") {
			out.WriteString(strings.ToUpper(part[:1]) + part[1:])
		}
	}
	return out.String()
}

// constants writes the file of one package: a block for each sign that has any of them.
func constants(t *testing.T, name, kind string, of func(vitals.Sign) []string) string {
	var out strings.Builder
	out.WriteString("// Made from the catalogue by go test ./vitals/answer -update. Do not edit.\n\npackage " + name + "\n\nimport \"whorl.example/vitals\"\n")
	for _, s := range vitals.Catalogue() {
		ids := of(s)
		if len(ids) == 0 {
			continue
		}
		out.WriteString("\n// Of [vitals." + camel(string(s.ID)) + "].\nconst (\n")
		for _, id := range ids {
			out.WriteString(camel(string(s.ID), id) + " vitals." + kind + " = \"" + id + "\"\n")
		}
		out.WriteString(")\n")
	}
	text, err := format.Source([]byte(out.String()))
	td.Require(t).CmpNoError(err)
	return string(text)
}

func grades(s vitals.Sign) (ids []string) {
	for _, g := range s.Grades {
		ids = append(ids, string(g.ID))
	}
	return ids
}

func sites(s vitals.Sign) (ids []string) {
	for _, x := range s.Sites {
		ids = append(ids, string(x.ID))
	}
	for _, x := range s.Where {
		if !slices.Contains(ids, string(x)) {
			ids = append(ids, string(x))
		}
	}
	return ids
}

// The constants are those of the catalogue, all of them and no others.
func TestTheConstantsAreTheCatalogue(t *testing.T) {
	t.Parallel()
	for path, want := range map[string]string{
		"names.go":         constants(t, "answer", "GradeID", grades),
		"../site/names.go": constants(t, "site", "SiteID", sites),
	} {
		if *update {
			td.Require(t).CmpNoError(os.WriteFile(path, []byte(want), 0o644))
		}
		got, err := os.ReadFile(path)
		td.CmpNoError(t, err)
		if string(got) != want {
			t.Errorf("%s is not the catalogue: go test ./vitals/answer -update", path)
		}
	}
}

// A finding that is written with them is in order.
func TestAFindingWithoutText(t *testing.T) {
	t.Parallel()
	horse := vitals.Horse{ID: "h", Name: "Juniper", Type: vitals.TypeHorse}
	exam := vitals.Exam{ID: "e", Horse: "h", At: vitals.Date{Year: 2026, Month: 5, Day: 3}.In(time.UTC), Depth: vitals.Full, Purpose: vitals.Routine,
		State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Finished, Findings: []vitals.Finding{
			{Sign: vitals.GumColour, Chosen: []vitals.GradeID{answer.GumColourWhite}},
			{Sign: vitals.HeartRate, Site: site.HeartRateJaw, Count: &vitals.Count{Events: 36, Seconds: 60, Start: vitals.OnBeat}},
		}}
	td.CmpNoError(t, vitals.CheckExam(exam, horse).Err())
}
