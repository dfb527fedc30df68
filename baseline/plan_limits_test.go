package baseline

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// What no exam has measured yet: of a new horse every sign of which something usual is known, and the graded ones but those of the
// full exam.
func TestDueOfANewHorse(t *testing.T) {
	t.Parallel()
	d := must(New(aHorse())).Due(spring)
	td.Cmp(t, []any{d.Exams, d.Now, d.At.IsZero(), d.LastAt.IsZero(), d.EveryDays, d.Planned}, []any{0, true, true, true, 17, 12})
	measured := []vitals.SignID{vitals.HeartRate, vitals.RespiratoryRate, vitals.CapillaryRefill, vitals.SkinTent, vitals.JugularRefill, vitals.RectalTemperature, vitals.Weight, vitals.BodyCondition}
	for _, sign := range vitals.Catalogue() {
		want := contains(measured, sign.ID) || sign.Kind == vitals.KindGrade && sign.Depth != vitals.Full && sign.Applies == nil
		td.Cmp(t, contains(d.Unknown, sign.ID), want, "%s: a measured sign with an entry in prior.go stands in measured", sign.ID)
	}
	td.Cmp(t, contains(d.Unknown, vitals.GumColour) && !contains(d.Unknown, vitals.HeartRhythm), true)
	foal := vitals.Horse{ID: "h1", Name: "Juniper", Type: vitals.TypeHorse, Born: vitals.DateOf(spring.AddDate(0, -2, 0))}
	d = must(New(foal)).Due(spring)
	td.Cmp(t, []any{d.EveryDays, contains(d.Unknown, vitals.Weight), contains(d.Unknown, vitals.HeartRate)}, []any{7, false, true}, "what a foal weighs is not its usual")
	// The rhythm slackens with the twelfth exam, and the next is due on the day to the second.
	var exams []vitals.Exam
	for i := range 12 {
		exams = append(exams, quiet(float64(i), heart(34+i%3)))
	}
	for n, days := range map[int]int{11: 17, 12: 30} {
		b := learned(aHorse(), exams[:n]...)
		last := exams[n-1].At
		due := last.AddDate(0, 0, days)
		d := b.Due(due)
		td.Cmp(t, []any{d.EveryDays, d.Exams, d.Now, d.At, d.LastAt}, []any{days, n, true, due, last})
		td.CmpFalse(t, b.Due(due.Add(-time.Second)).Now)
		td.CmpFalse(t, contains(d.Unknown, vitals.HeartRate))
		td.CmpTrue(t, contains(d.Unknown, vitals.RespiratoryRate))
	}
}

func contains(ids []vitals.SignID, id vitals.SignID) bool {
	for _, x := range ids {
		if x == id {
			return true
		}
	}
	return false
}

// Nothing stands behind a sign of which nothing is usual: neither a number nor answers.
func TestWhyOfWhatHasNoUsual(t *testing.T) {
	t.Parallel()
	score := vitals.Finding{Sign: vitals.BodyCondition, Reading: degrees("5").Reading}
	r := *score.Reading
	r.Unit, r.Device = vitals.One, ""
	score.Reading = &r
	e := tonight(20, heart(50), score, shown(vitals.GumColour, "", "pink"))
	x, err := learned(aHorse(), quiet(0, heart(34))).Explain(e)
	td.Require(t).CmpNoError(err)
	seen := 0
	for _, w := range x.Signs {
		switch w.Sign {
		case vitals.BodyCondition:
			td.Cmp(t, []any{w.Measured == nil, w.Graded == nil}, []any{true, true}, string(w.Sign))
			seen++
		case vitals.HeartRate:
			td.Cmp(t, []any{w.Measured != nil, w.Graded == nil}, []any{true, true})
			seen++
		case vitals.GumColour:
			td.Cmp(t, []any{w.Measured == nil, w.Graded != nil}, []any{true, true})
			seen++
		}
	}
	td.Cmp(t, seen, 3)
}

// A plan reaches its goal where each lead sign does: a span in which only some do is none.
func TestPlanReachesWithEverySign(t *testing.T) {
	t.Parallel()
	b := juniper(nil)
	for _, span := range []int{21} {
		p := b.PracticePlan(planDay, span)
		reached := 0
		for _, s := range p.Signs {
			if s.Exams > 0 {
				reached++
			}
		}
		td.Cmp(t, p.Reached, reached == len(p.Signs), "%d days", span)
		if reached > 0 && reached < len(p.Signs) {
			td.Cmp(t, p.Exams, span/7+1, "weekly")
		}
	}
}
