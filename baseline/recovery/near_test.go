package recovery

import (
	"fmt"
	"math"
	"testing"
	"time"

	"whorl.example/vitals"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (off by %.2g)", what, got, want, got-want)
	}
}

func beats(perMinute int) vitals.Finding {
	return vitals.Finding{Sign: vitals.HeartRate, Count: &vitals.Count{Events: perMinute, Seconds: 60, Start: vitals.Anywhere}}
}

// spring is when the invented exams of these tests begin.
var spring = time.Date(2026, time.March, 2, 7, 30, 0, 0, time.FixedZone("", 2*3600))

// quiet is a finished exam, labelled well and at rest, some days after spring.
func quiet(days float64, findings ...vitals.Finding) vitals.Exam {
	at := spring.Add(time.Duration(days * 24 * float64(time.Hour)))
	return vitals.Exam{
		ID: vitals.ID(fmt.Sprintf("e-%.3f", days)), Horse: "h1", At: at, Depth: vitals.Full,
		Purpose: vitals.Learning, State: vitals.State{Condition: vitals.AtRest},
		Wellness: vitals.Well, Status: vitals.Finished, Holder: vitals.Held, Findings: findings,
	}
}

func counted(sign vitals.SignID, events, seconds int) vitals.Finding {
	return vitals.Finding{Sign: sign, Count: &vitals.Count{Events: events, Seconds: seconds, Start: vitals.Anywhere}}
}

// heart is a heart rate counted over a minute.
func heart(rate int) vitals.Finding { return counted(vitals.HeartRate, rate, 60) }
