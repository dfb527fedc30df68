package baseline

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/vitals"
)

func by(who string, e vitals.Exam) vitals.Exam {
	e.By = who
	return e
}

// Ten quiet heart rates near 33 by one person: 45 by another is called, and it is said that somebody else counted; not of the first, not of
// what is as usual, not where who counted the others is not told, and not of a number that a monitor showed.
func TestSomeoneElseCounted(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 1))
	history := func(who string) []vitals.Exam {
		var out []vitals.Exam
		for i := range 10 {
			out = append(out, by(who, quiet(7*float64(i), counted(vitals.HeartRate, 32+rng.IntN(3), 60))))
		}
		return out
	}
	for _, v := range []struct {
		before, now string
		beats       int
		said        bool
	}{{"Wren", "Alder", 45, true}, {"Wren", "Wren", 45, false}, {"Wren", " Wren ", 45, false}, {"Wren", "Alder", 33, false}, {"", "Alder", 45, false}, {"Wren", "", 45, false}} {
		c, err := learned(aHorse(), history(v.before)...).Compare(by(v.now, tonight(71, counted(vitals.HeartRate, v.beats, 60))))
		td.Require(t).CmpNoError(err)
		td.Cmp(t, hasWarning(c.Signs[0].Warnings, WarnSomeoneElse), v.said, "%+v", v)
		td.Cmp(t, c.Signs[0].Statement.Unusual(), v.beats > 40, "%+v", v)
	}
	monitor := vitals.Finding{Sign: vitals.HeartRate, Reading: &vitals.Reading{Value: decimal.New(45, 0), Unit: vitals.PerMinute, Device: vitals.Monitor}}
	c, err := learned(aHorse(), history("Wren")...).Compare(by("Alder", tonight(71, monitor)))
	td.Require(t).CmpNoError(err)
	td.CmpFalse(t, hasWarning(c.Signs[0].Warnings, WarnSomeoneElse))
}

// A graded answer that is called, by somebody who did none of the others.
func TestSomeoneElseLooked(t *testing.T) {
	t.Parallel()
	var exams []vitals.Exam
	for i := range 20 {
		exams = append(exams, by("Wren", quiet(7*float64(i), shown(vitals.GumColour, "", "pink"))))
	}
	for _, who := range []string{"Wren", "Alder"} {
		c, err := learned(aHorse(), exams...).Compare(by(who, tonight(141, shown(vitals.GumColour, "", "purple"))))
		td.Require(t).CmpNoError(err)
		td.CmpTrue(t, c.Signs[0].Statement.Unusual(), "%+v", c.Signs[0])
		td.Cmp(t, hasWarning(c.Signs[0].Warnings, WarnSomeoneElse), who == "Alder")
	}
}

// Of a thermometer not met before what is usual is wider, of the same one it is as if nobody had named it; breaths by another person likewise. A heart rate
// is taken to be counted alike by all.
func TestAnotherWayIsWider(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 2))
	named := func(label, value string) vitals.Finding {
		f := degrees(value)
		f.Reading.Label = label
		return f
	}
	exam := func(day float64, who, label string, with func(float64, ...vitals.Finding) vitals.Exam, temperature string, breaths, beats int) vitals.Exam {
		return by(who, with(day, named(label, temperature), counted(vitals.RespiratoryRate, breaths, 60), counted(vitals.HeartRate, beats, 60)))
	}
	var told, untold []vitals.Exam
	for i := range 10 {
		temperature, breaths, beats := fmt.Sprintf("37.%d", 4+rng.IntN(4)), 11+rng.IntN(3), 32+rng.IntN(4)
		told = append(told, exam(7*float64(i), "Wren", "blue", quiet, temperature, breaths, beats))
		untold = append(untold, exam(7*float64(i), "", "", quiet, temperature, breaths, beats))
	}
	width := func(exams []vitals.Exam, who, label string) (w [3]float64) {
		c, err := learned(aHorse(), exams...).Compare(exam(71, who, label, tonight, "37.6", 12, 33))
		td.Require(t).CmpNoError(err)
		for i := range w {
			w[i] = c.Signs[i].Own.High - c.Signs[i].Own.Low
		}
		return w
	}
	none, same, other := width(untold, "", ""), width(told, "Wren", "blue"), width(told, "Alder", "red")
	td.Cmp(t, same, none, "one thermometer and one person are as none told")
	t.Logf("%.2f by the same, %.2f by others", same, other)
	for i, least := range []float64{1.15, 1.02, 1} {
		if r := other[i] / same[i]; r < least || r > 1.6 || i == 2 && r != 1 {
			t.Errorf("sign %d: %.3f times as wide", i, r)
		}
	}
	// Both met before: narrower again.
	more := append([]vitals.Exam(nil), told...)
	for i := range 4 {
		more = append(more, exam(70.1+float64(i), "Alder", "red", quiet, fmt.Sprintf("37.%d", 5+rng.IntN(4)), 12+rng.IntN(2), 33))
	}
	c, err := learned(aHorse(), more...).Compare(exam(75, "Alder", "red", tonight, "37.6", 12, 33))
	td.Require(t).CmpNoError(err)
	if w := c.Signs[0].Own.High - c.Signs[0].Own.Low; w > other[0]*.97 {
		t.Errorf("met four times: %.2f wide, new %.2f", w, other[0])
	}
	// A fit keeps who and which, and so do its bytes.
	b := learned(aHorse(), more...)
	data := b.Fit().Encode(more[0].At.AddDate(0, 0, 75))
	f, err := OpenFit(b.Horse(), data)
	td.Require(t).CmpNoError(err)
	got, err := f.Compare(exam(75, "Alder", "red", tonight, "37.6", 12, 33))
	td.Require(t).CmpNoError(err)
	td.Cmp(t, got, c)
}
