package api_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals/words"
)

// A birth year typed wrongly, years after every exam was made, blocks nothing: the rules, the report, the link, the
// chart, the table and FHIR answer as before, and the result says what cannot be right.
func TestAWrongBirthBlocksNothing(t *testing.T) {
	t.Parallel()
	wrong := strings.Replace(horse, "2014-04-21", "2062-05-01", 1)
	record := `"horse":` + wrong + `,"exams":` + history(12) + `,"exam":` + strings.Replace(exam, `"findings":[`,
		`"findings":[{"sign":"attitude","chosen":["down-not-rising"]},`, 1)
	var c struct {
		Heading    string
		Remarks    []string
		Comparison struct{ Alarms []struct{ Urgency string } }
	}
	td.Require(t).CmpNoError(json.Unmarshal(value(t, "compare", `{`+record+`}`), &c))
	td.Cmp(t, c.Heading, td.HasPrefix(words.Say(words.English, "heading.ring")))
	td.Cmp(t, c.Comparison.Alarms, td.NotEmpty())
	const says = "before the birth (2062-05-01)"
	td.Cmp(t, strings.Join(c.Remarks, " "), td.Contains(says))
	report := string(value(t, "report", `{`+record+`}`))
	td.Cmp(t, report, td.Contains(says))
	var sent struct{ Fragment string }
	td.Require(t).CmpNoError(json.Unmarshal(value(t, "link", `{`+record+`,"page":"https://yard.example/"}`), &sent))
	td.Cmp(t, string(value(t, "open", `{"fragment":`+quoted(sent.Fragment)+`}`)), td.Contains(says))
	past := `{"horse":` + wrong + `,"exams":` + history(12)
	for op, request := range map[string]string{
		"fhir": `{` + record + `}`, "sheet": past + `}`, "known": past + `,"at":"2026-05-02T10:00:00+02:00"}`,
		"explain": `{` + record + `}`,
		"write":   `{"file":{"kind":"whorl-barn","format":1,"horses":[` + wrong + `],"exams":` + history(12) + `}}`,
	} {
		td.Cmp(t, value(t, op, request), td.NotEmpty(), op)
	}
}
