package api

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/wasm/internal/barn"
)

// What the record of the demo barn holds of a sign; and what is wrong with the request.
func TestHistory(t *testing.T) {
	t.Parallel()
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

// A record of two thousand exams over 180 years is told without working through all of it.
func TestHistoryIsBounded(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 1))
	rows := func(n int) int {
		q := struct {
			Horse vitals.Horse  `json:"horse"`
			Exams []vitals.Exam `json:"exams"`
			Sign  vitals.SignID `json:"sign"`
			At    time.Time     `json:"at"`
		}{Horse: vitals.Horse{ID: "h1", Name: "Juniper", Type: vitals.TypeHorse}, Sign: vitals.HeartRate, At: time.Date(2199, 1, 1, 0, 0, 0, 0, time.UTC)}
		for i := range n {
			e := barn.Exam(rng, "h1", i, 1)
			e.At = time.Date(2010, 1, 1, 8, 0, 0, 0, time.UTC).AddDate(0, 0, i*33)
			q.Exams = append(q.Exams, e)
		}
		text, err := schema.Marshal(q)
		td.Require(t).CmpNoError(err)
		var got struct {
			Value struct{ Rows []struct{ Day string } }
		}
		td.Require(t).CmpNoError(json.Unmarshal(Call("history", text), &got))
		return len(got.Value.Rows)
	}
	for _, n := range []int{200, 600, 2000} {
		r := rows(n)
		td.Cmp(t, r >= 6 && r*n <= 60*200, true, "%d exams: %d readings", n, r)
	}
}
