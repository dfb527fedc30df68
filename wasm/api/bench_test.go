package api

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/wasm/internal/barn"
)

// longRequest is a request with n full exams of 25 findings, three days apart, and one more to be compared.
func longRequest(n int) []byte {
	rng := rand.New(rand.NewPCG(200, 1))
	type request struct {
		Horse vitals.Horse  `json:"horse"`
		Exams []vitals.Exam `json:"exams"`
		Exam  vitals.Exam   `json:"exam"`
		At    *time.Time    `json:"at,omitempty"`
	}
	q := request{Horse: vitals.Horse{ID: "h1", Name: "Juniper", Type: vitals.TypeHorse}}
	for i := range n + 1 {
		q.Exams = append(q.Exams, barn.Exam(rng, "h1", i, 3))
	}
	q.Exam, q.Exams = q.Exams[n], q.Exams[:n]
	q.Exam.Purpose, q.Exam.Wellness = vitals.Concern, vitals.Unwell
	text, err := schema.Marshal(q)
	if err != nil {
		panic(err)
	}
	return text
}

// The comparison from the text of so many exams: nothing remembered, and the history remembered. Limit for 200: 4 ms
// native from the exams themselves (baseline's benchmark), 50 ms in Chromium at a quarter of the speed.
func BenchmarkCompare(b *testing.B) {
	for _, n := range []int{20, 200} {
		request := longRequest(n)
		for _, on := range []string{"false", "true"} {
			Call("remember", []byte(`{"on":`+on+`}`))
			if answer := Call("compare", request); string(answer[:10]) != `{"ok":true` {
				b.Fatal(string(answer))
			}
			b.Run(fmt.Sprintf("remembered=%s/%d", on, n), func(b *testing.B) {
				b.ReportAllocs()
				b.SetBytes(int64(len(request)))
				for b.Loop() {
					Call("compare", request)
				}
			})
		}
		Call("remember", []byte(`{"on":false}`))
	}
}

// Remembered or not, the answer is the same, and so are the faults.
func TestRememberedAnswersAreTheSame(t *testing.T) {
	t.Parallel()
	defer Call("remember", []byte(`{"on":false}`))
	request := string(longRequest(12))
	at := `,"at":"2024-06-01T08:00:00Z"}`
	known := request[:strings.LastIndex(request, `,"exam":`)] + at
	one := strings.Replace(request, `"exams":[`, `"exams" : [ `, 1)
	for _, q := range []struct{ op, request string }{
		{"compare", request}, {"report", request}, {"known", known}, {"compare", one},
		{"plan", known}, {"history", known[:len(known)-1] + `,"sign":"heart-rate"}`},
		{"compare", strings.Replace(request, `"horse":{`, `"horse":{"born":"2001-01-01",`, 1)},
		{"compare", strings.Replace(request, `"exam":{"id":"`, `"exam":{"id":"?`, 1)},                  // a fault of the exam
		{"compare", strings.Replace(request, `"id":"e3"`, `"id":"e4"`, 1)},                             // of the history
		{"compare", request[:len(request)-1] + `,"exams":[]}`},                                         // a member twice
		{"compare", request[:len(request)-1] + `,"lang":"xx"}`}, {"compare", request[:len(request)-9]}, // unknown, and cut off
		{"compare", `{"exams":[],"horse":{}}`}, {"compare", `[`}, {"compare", `{"exams":"\\"`}, {"compare", ``},
		{"compare", "{\"exams\" \n:\t[ ] , \"horse\":null}"},
	} {
		Call("remember", []byte(`{"on":false}`))
		want := string(Call(q.op, []byte(q.request)))
		Call("remember", []byte(`{"on":true}`))
		for range 3 {
			if got := string(Call(q.op, []byte(q.request))); got != want {
				t.Errorf("%s of %.60s…\n%.300s\nwithout memory:\n%.300s", q.op, q.request, got, want)
			}
		}
		Call("compare", []byte(request))
		if got := string(Call(q.op, []byte(q.request))); got != want {
			t.Errorf("%s of %.60s… after another:\n%.300s\nwithout memory:\n%.300s", q.op, q.request, got, want)
		}
	}
}

// Where the history of a request stands is found, or nothing is.
func FuzzHistoryIn(f *testing.F) {
	f.Add(longRequest(1))
	f.Add([]byte(`{"a":"\\\"","exams":[1,{"exams":2}],"horse":{"}":"]"}, "b":1e5}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		text, at, ok := historyIn(data)
		if !ok || !json.Valid(data) || bytes.Contains(data, []byte(`\u`)) { // an escaped name is the decoder's
			return
		}
		var members map[string]json.RawMessage
		if err := json.Unmarshal(data, &members); err != nil {
			t.Fatal(err)
		}
		if string(members["horse"]) != string(text[0]) || string(members["exams"]) != string(text[1]) || string(data[at:at+len(text[1])]) != string(text[1]) {
			t.Fatalf("%q of %q", text, data)
		}
	})
}
