package watch

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// spring is when the invented exams of these tests begin.
var spring = time.Date(2026, time.March, 2, 7, 30, 0, 0, time.FixedZone("", 2*3600))

// aHorse is an invented animal of unknown age, which counts as adult.
func aHorse() vitals.Horse {
	return vitals.Horse{ID: "h1", Name: "Juniper", Type: vitals.TypeHorse, Sex: vitals.Mare}
}

// quiet is a finished exam, labelled well and at rest, some days after spring.
func quiet(days float64, findings ...vitals.Finding) vitals.Exam {
	at := spring.Add(time.Duration(days * 24 * float64(time.Hour)))
	return vitals.Exam{
		ID: vitals.ID(fmt.Sprintf("e-%.3f", days)), Horse: "h1", At: at, Depth: vitals.Full,
		Purpose: vitals.Learning, State: vitals.State{Condition: vitals.AtRest},
		Wellness: vitals.Well, Status: vitals.Finished, Holder: vitals.Held, Findings: findings,
	}
}

func degrees(celsius string) vitals.Finding {
	return vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{
		Value: decimal.RequireFromString(celsius), Unit: vitals.Celsius, Device: vitals.Digital,
	}}
}

// learned is a horse that was examined.
func learned(h vitals.Horse, exams ...vitals.Exam) *baseline.Baseline {
	b := must(baseline.New(h))
	for _, e := range exams {
		must(b.Learn(e))
	}
	return b
}

var planDay = time.Date(2025, 6, 1, 8, 0, 0, 0, time.UTC)

// quietHeart is a weekly history of heart rates.
func quietHeart(n int, heart ...int) []vitals.Exam {
	var out []vitals.Exam
	for i := range n {
		out = append(out, vitals.Exam{
			ID: vitals.ID(fmt.Sprint("quiet-", i)), Horse: "juniper", At: planDay.AddDate(0, 0, 7*(i-n)), Status: vitals.Finished, Purpose: vitals.Learning,
			Wellness: vitals.Well, State: vitals.State{Condition: vitals.AtRest}, Depth: vitals.Full,
			Findings: []vitals.Finding{{Sign: vitals.HeartRate, Count: &vitals.Count{Events: heart[i%len(heart)], Seconds: 60, Start: vitals.Anywhere}}},
		})
	}
	return out
}

func juniper(exams []vitals.Exam) *baseline.Baseline {
	b := must(baseline.New(vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse}))
	for _, e := range exams {
		must(b.Learn(e))
	}
	return b
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (off by %.2g)", what, got, want, got-want)
	}
}

func nearTo(t *testing.T, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("got %v, want %v", got, want)
	}
}
