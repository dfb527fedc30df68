package api_test

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm/api"
)

// A telephone that was not updated takes in a file of format 1.9, compares its exams and writes it again: it does not lock out the yard.
func TestAFileOfANewerMinorFormat(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../schema/testdata/newer/barn-1.9.json")
	td.Require(t).CmpNoError(err)
	call := func(op string, request any) (value map[string]any) {
		t.Helper()
		asked, err := json.Marshal(request)
		td.Require(t).CmpNoError(err)
		var answer struct {
			OK     bool           `json:"ok"`
			Value  map[string]any `json:"value"`
			Faults []any          `json:"faults"`
		}
		td.Require(t).CmpNoError(json.Unmarshal(api.Call(op, asked), &answer))
		td.Require(t).Cmp(answer.Faults, td.Empty())
		return answer.Value
	}
	file := call("read", map[string]any{"file": string(text)})
	horses, exams := file["horses"].([]any), file["exams"].([]any)
	td.Cmp(t, exams, td.Len(2))

	compared := call("compare", map[string]any{"horse": horses[0], "exams": []any{}, "exam": exams[0]})
	td.Cmp(t, compared["remarks"], td.Contains("5 entries of this exam from a newer version were not understood."))
	td.Cmp(t, compared["heading"], td.Not(td.Contains("hoof-angle")))
	td.Cmp(t, call("report", map[string]any{"horse": horses[0], "exam": exams[0]})["text"], td.Not(td.Contains("hoof-angle")))

	// As the page does: it stores horses and exams one by one, and writes a file of them.
	written := call("write", map[string]any{"file": map[string]any{"kind": file["kind"], "format": file["format"], "horses": horses, "exams": exams}})
	for _, piece := range []string{
		`{"sign":"hoof-angle","site":"fore-left","angle":{"degrees":"52.50"}}`, `"steady":true`, `"footing":"sand"`, `"microchip":"985000000000000"`,
		`"depth":"laboratory","purpose":"routine","state":{"condition":"rest"},"status":"finished","samples":["blood"]}`, `"minor":9`,
	} {
		td.Cmp(t, written["text"], td.Contains(piece))
	}
}
