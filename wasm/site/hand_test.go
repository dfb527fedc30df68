package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// sorrel is an invented mare, seen on quiet days and through one night.
var sorrel = vitals.Horse{ID: "sorrel", Name: "Sorrel", Type: vitals.TypeHorse, Sex: vitals.Mare, Born: vitals.Date{Year: 2015, Month: 5, Day: 2},
	Markings: "chestnut, star", Stands: "Harrow Lane, second yard"}

// nightAt is the moment of the night's last look.
var nightAt = time.Date(2026, 11, 14, 2, 10, 0, 0, time.FixedZone("", -6*3600))

func sorrelExam(id string, at time.Time, purpose vitals.Purpose, heart int, gums vitals.GradeID) vitals.Exam {
	taps := &vitals.Taps{}
	for i := range 16 {
		taps.AtMS = append(taps.AtMS, i*60_000/heart+(i*37)%50)
	}
	e := vitals.Exam{ID: vitals.ID(id), Horse: sorrel.ID, At: at, Depth: vitals.HandsOn, Purpose: purpose, Status: vitals.Finished,
		State: vitals.State{Condition: vitals.AtRest}, Holder: vitals.Held, By: "Rowan", Findings: []vitals.Finding{
			{Sign: vitals.Attitude, Chosen: []vitals.GradeID{"bright"}},
			{Sign: vitals.RespiratoryRate, Site: "flank", Count: &vitals.Count{Events: 4, Seconds: 20, Start: vitals.Anywhere}},
			{Sign: "gum-colour", Chosen: []vitals.GradeID{gums}},
			{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{150, 140, 160}}},
			{Sign: vitals.HeartRate, Site: "jaw", Taps: taps},
			{Sign: vitals.GutSounds, Site: "gut-upper-right", Absent: vitals.CouldNot},
		}}
	if purpose == vitals.Learning {
		e.Wellness = vitals.Well
		e.Depth = vitals.Full
		e.Findings = append(e.Findings, vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{
			Value: decimal.RequireFromString("37.7"), Unit: vitals.Celsius, Device: vitals.Digital}})
	}
	return e
}

// sorrelBarn is a barn file of twelve quiet days and a night of four looks, the last with a story.
func sorrelBarn(t *testing.T) schema.File {
	t.Helper()
	f := schema.File{Horses: []vitals.Horse{sorrel}}
	for i := range 12 {
		f.Exams = append(f.Exams, sorrelExam("quiet-"+string(rune('a'+i)), nightAt.AddDate(0, 0, -7*(12-i)).Add(6*time.Hour), vitals.Learning, 33+i%3, "pink"))
	}
	for i, heart := range []int{46, 53, 60, 68} {
		e := sorrelExam("night-"+string(rune('1'+i)), nightAt.Add(time.Duration(i-3)*20*time.Minute), vitals.Concern, heart, "pale-pink")
		e.Wellness = vitals.Unwell
		if i > 0 {
			e.Purpose, e.RecheckOf = vitals.Recheck, "night-1"
		}
		if i == 3 {
			e.Findings = append(e.Findings, vitals.Finding{Sign: vitals.PainSigns, Chosen: []vitals.GradeID{"paws"}})
			yes := true
			e.Story = &vitals.Story{Noticed: "left half the evening hay", Since: nightAt.Add(-5 * time.Hour), Course: vitals.Worse, Bouts: &yes,
				Passed: "two small droppings at noon", Given: []vitals.Given{{What: "nothing by mouth", At: nightAt.Add(-time.Hour), By: "Rowan"}},
				Ask: vitals.AskCome, Callback: "+1 202 555 0142", Stands: "Harrow Lane, second yard, gate code 4411"}
		}
		f.Exams = append(f.Exams, e)
	}
	if _, err := schema.Encode(f); err != nil {
		t.Fatal(err)
	}
	return f
}

// laid writes a text as a file and gives its path.
func laid(t *testing.T, name string, text []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}
