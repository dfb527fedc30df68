package baseline

import (
	"fmt"
	"time"

	"github.com/shopspring/decimal"

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

// tonight is a finished exam because of a concern, not labelled.
func tonight(days float64, findings ...vitals.Finding) vitals.Exam {
	e := quiet(days, findings...)
	e.ID, e.Purpose, e.Wellness = "tonight", vitals.Concern, vitals.Unwell
	return e
}

func counted(sign vitals.SignID, events, seconds int) vitals.Finding {
	return vitals.Finding{Sign: sign, Count: &vitals.Count{Events: events, Seconds: seconds, Start: vitals.Anywhere}}
}

// heart is a heart rate counted over a minute.
func heart(rate int) vitals.Finding { return counted(vitals.HeartRate, rate, 60) }

func degrees(celsius string) vitals.Finding {
	return vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{
		Value: decimal.RequireFromString(celsius), Unit: vitals.Celsius, Device: vitals.Digital,
	}}
}

func timed(sign vitals.SignID, site vitals.SiteID, hundredths ...int) vitals.Finding {
	return vitals.Finding{Sign: sign, Site: site, Timed: &vitals.Timed{CentiSeconds: hundredths}}
}

func shown(sign vitals.SignID, site vitals.SiteID, answers ...vitals.GradeID) vitals.Finding {
	return vitals.Finding{Sign: sign, Site: site, Chosen: answers}
}

// learned is a horse that was examined.
func learned(h vitals.Horse, exams ...vitals.Exam) *Baseline {
	b := must(New(h))
	for _, e := range exams {
		must(b.Learn(e))
	}
	return b
}

// one gives what was said of a sign.
func one(c Comparison, sign vitals.SignID) Compared {
	for _, s := range c.Signs {
		if s.Sign == sign {
			return s
		}
	}
	return Compared{}
}

func hasWarning(ws []Warning, key string) bool {
	for _, w := range ws {
		if w.Key == key {
			return true
		}
	}
	return false
}
func beats(perMinute int) vitals.Finding {
	return vitals.Finding{Sign: vitals.HeartRate, Count: &vitals.Count{Events: perMinute, Seconds: 60, Start: vitals.Anywhere}}
}

// recheck is an exam so many minutes into the night.
func recheck(minutes int, findings ...vitals.Finding) vitals.Exam {
	return vitals.Exam{
		ID: vitals.ID(fmt.Sprint("night-", minutes)), Horse: "juniper", At: watchNight.Add(time.Duration(minutes) * time.Minute), Status: vitals.Finished,
		Purpose: vitals.Recheck, Wellness: vitals.Unwell, State: vitals.State{Condition: vitals.AtRest}, Depth: vitals.Full, Findings: findings,
	}
}

func warm(reading string) vitals.Finding {
	return vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.RequireFromString(reading), Unit: vitals.Celsius, Device: vitals.Digital}}
}

func showing(sign vitals.SignID, g ...vitals.GradeID) vitals.Finding {
	return vitals.Finding{Sign: sign, Chosen: g}
}

var watchNight = time.Date(2025, 6, 2, 1, 40, 0, 0, time.UTC)
