package api

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// What the record of the demo barn holds of a sign; and what is wrong with the request.
func TestHistory(t *testing.T) {
	text, err := os.ReadFile("../page/demo/barn.json")
	if err != nil {
		t.Fatal(err)
	}
	var barn struct {
		Horses, Exams []map[string]any
	}
	if err := json.Unmarshal(text, &barn); err != nil {
		t.Fatal(err)
	}
	horse := barn.Horses[0]
	var exams []map[string]any
	for _, e := range barn.Exams {
		if e["horse"] == horse["id"] {
			exams = append(exams, e)
		}
	}
	call := func(sign string) string {
		request, _ := json.Marshal(map[string]any{"horse": horse, "exams": exams, "sign": sign, "at": "2030-01-01T10:00:00Z"})
		return string(Call("history", request))
	}
	var got struct {
		OK    bool
		Value struct {
			Chart, Now string
			Rows       []struct{ Exam, Day, Value, Usual, Mark, Said string }
		}
	}
	if err := json.Unmarshal([]byte(call("heart-rate")), &got); err != nil || !got.OK {
		t.Fatal(call("heart-rate"))
	}
	td.Cmp(t, strings.HasPrefix(got.Value.Chart, "<svg"), true)
	td.Cmp(t, len(got.Value.Rows) > 2, true)
	td.Cmp(t, got.Value.Rows[0].Value, td.HasSuffix(" a minute"))
	td.Cmp(t, call("no-such-sign"), td.Contains(`"/sign"`))
}
