package herd

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// A horse's share is read again as it was written, whole; of fewer than five horses nothing may leave; what is no herd is refused.
func TestHerdAsJSON(t *testing.T) {
	t.Parallel()
	b, err := baseline.New(vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse})
	td.Require(t).CmpNoError(err)
	at := time.Date(2026, 5, 1, 8, 0, 0, 0, time.UTC)
	for i, n := range []int{34, 36, 33} {
		_, err := b.Learn(vitals.Exam{ID: vitals.ID(rune('a' + i)), Horse: "juniper", At: at.AddDate(0, 0, 7*i), Status: vitals.Finished, Purpose: vitals.Learning,
			Wellness: vitals.Well, State: vitals.State{Condition: vitals.AtRest}, Depth: vitals.Full,
			Findings: []vitals.Finding{{Sign: vitals.HeartRate, Count: &vitals.Count{Events: n, Seconds: 60, Start: vitals.Anywhere}}}})
		td.Require(t).CmpNoError(err)
	}
	share := b.Share(at.AddDate(0, 1, 0))
	text := EncodeAll(share)
	read, err := Decode(text)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, string(EncodeAll(read)), string(text))
	td.Cmp(t, string(text), td.Contains(`"sign":"heart-rate","horses":1`))
	td.Cmp(t, string(Encode(share)), `{"herd":[]}`)
	for _, bad := range []string{"", "null", "[]", "{}", `{"herd":[{}]}`, string(text[:len(text)/2])} {
		_, err := Decode([]byte(bad))
		td.CmpErrorIs(t, err, vitals.Fault{Code: baseline.FaultBadHerd}, bad)
	}
}
