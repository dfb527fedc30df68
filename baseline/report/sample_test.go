package report

import (
	"math"
	"time"

	"github.com/shopspring/decimal"
	"whorl.example/baseline"
	"whorl.example/vitals"
)

// p makes a pointer of a figure.
func inf() float64 { return math.Inf(1) }

func p(v float64) *float64 { return &v }

// badNight is an invented bad night of an invented mare: findings as the comparison gives them.
func badNight() Input {
	at := time.Date(2026, 8, 11, 2, 10, 0, 0, time.FixedZone("", -6*3600))
	yes := true
	prior := []vitals.Provenance{{Source: "merck", Mark: vitals.Memory}}
	return Input{
		Horse: vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse, Sex: vitals.Mare, Born: vitals.Date{Year: 2017, Month: 4, Day: 12}},
		Exam: vitals.Exam{ID: "e1", Horse: "juniper", At: at, Depth: vitals.Full, Purpose: vitals.Concern, State: vitals.State{Condition: vitals.AtRest}, By: "Ana",
			Story: &vitals.Story{Noticed: "off her feed, looking at her flank", Since: at.Add(-4 * time.Hour), Course: vitals.Worse, Bouts: &yes, Callback: "555 010 0142", Stands: "Aspen Row, third stall on the left",
				Given: []vitals.Given{{What: "nothing"}}, Passed: "dry droppings at noon, none since", Ask: vitals.AskCome},
			Findings: []vitals.Finding{
				{Sign: vitals.HeartRate, Site: "jaw", Taps: &vitals.Taps{AtMS: []int{0, 30000}}},
				{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.RequireFromString("100.2"), Unit: vitals.Fahrenheit, Device: vitals.Digital}},
				{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{240}}},
			}},
		Comparison: baseline.Comparison{Horse: "juniper", Exam: "e1", At: at, Stage: vitals.Adult,
			Alarms: []vitals.Fired{{Alarm: "heart-pain", Urgency: vitals.RingNow, Sign: vitals.HeartRate, Provenance: vitals.Provenance{Source: "malone-2012", Mark: vitals.Read}},
				{Alarm: "gut-silent", Urgency: vitals.RingNow, Sign: vitals.GutSounds, Sites: []vitals.SiteID{"gut-upper-right"}}},
			Signs: []baseline.Compared{
				{Sign: vitals.PainSigns, Chosen: []vitals.GradeID{"watches-flank", "paws"}, Statement: baseline.Differs, Strong: true, Tail: 0.001, Basis: baseline.Basis{Exams: 11}, Usual: []vitals.GradeID{"none"}, UsualSeen: 11},
				{Sign: vitals.HeartRate, Measure: &vitals.Measure{Value: 52, SD: 1.1, Unit: vitals.PerMinute}, Own: &baseline.Interval{Low: 29, Mid: 34, High: 39},
					Printed:   []baseline.Printed{{Low: p(28), High: p(44), Provenance: vitals.Provenance{Source: "merck", Mark: vitals.Read}}, {Low: p(22), High: p(44), Provenance: vitals.Provenance{Source: "penn-vet", Mark: vitals.Memory}}},
					Statement: baseline.Higher, Strong: true, Tail: 0.0002, Basis: baseline.Basis{Exams: 11, Prior: prior}},
				{Sign: vitals.GutSounds, Site: "gut-upper-right", Chosen: []vitals.GradeID{"none"}, Statement: baseline.Differs, Tail: 0.004, Basis: baseline.Basis{Exams: 11}, Usual: []vitals.GradeID{"usual"}, UsualSeen: 11},
				{Sign: vitals.GutSounds, Site: "gut-upper-left", Chosen: []vitals.GradeID{"usual"}, Statement: baseline.AsUsual, Basis: baseline.Basis{Exams: 11}},
				{Sign: vitals.GutSounds, Site: "gut-lower-left", Chosen: []vitals.GradeID{"usual"}, Statement: baseline.AsUsual, Basis: baseline.Basis{Exams: 11}},
				{Sign: vitals.CapillaryRefill, Measure: &vitals.Measure{Value: 2.4, SD: 0.4, Unit: vitals.Second}, Own: &baseline.Interval{Low: 0.8, Mid: 1.3, High: 2.1},
					Statement: baseline.Higher, Tail: 0.012, Basis: baseline.Basis{Exams: 2, Weak: true, Prior: prior}, Settle: &baseline.Settle{Advice: "settle.tries", Chance: 0.4},
					Printed: []baseline.Printed{{High: p(2), Provenance: vitals.Provenance{Source: "curtis-2015", Mark: vitals.Read}}, {Low: p(1), High: p(2), Provenance: vitals.Provenance{Source: "merck", Mark: vitals.Read}}}},
				{Sign: vitals.RectalTemperature, Measure: &vitals.Measure{Value: 37.889, SD: 0.1, Unit: vitals.Celsius}, Own: &baseline.Interval{Low: 37.2, Mid: 37.7, High: 38.2}, Statement: baseline.AsUsual, Basis: baseline.Basis{Exams: 0, Prior: prior},
					Printed: []baseline.Printed{{Low: p(37.2), High: p(38.3), Provenance: vitals.Provenance{Source: "devereux", Mark: vitals.Read}}, {Low: p(37.5), High: p(38.5), Provenance: vitals.Provenance{Source: "aaep-emergencies", Mark: vitals.Read}}, {Low: p(37), High: p(38), Provenance: vitals.Provenance{Source: "texas-agrilife-2009", Mark: vitals.Read}}, {Low: p(37.1), High: p(38), Provenance: vitals.Provenance{Source: "florida-hospital", Mark: vitals.Read}}, {High: p(38.6), Provenance: vitals.Provenance{Source: "all-about-equine", Mark: vitals.Read}}}},
				{Sign: vitals.BodyCondition, Measure: &vitals.Measure{Value: 5, Unit: vitals.One}, Statement: baseline.Noted},
			},
			Unchecked: []baseline.Unchecked{{Sign: vitals.LungSounds, Site: "lung-left", Reason: vitals.NotTried}, {Sign: vitals.LungSounds, Site: "lung-right", Reason: vitals.NotTried}, {Sign: vitals.JugularRefill, Reason: vitals.CouldNot}},
			Lessons:   []baseline.Lesson{{Exam: "a", Taught: true}, {Exam: "b", Reason: "lesson.unwell"}},
			Overall:   baseline.Overall{Signs: 7, P: 0.0001, Unusual: true, Level: 0.05},
		},
	}
}
