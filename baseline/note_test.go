package baseline

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/vitals"
)

// A finding of a sign that the catalogue does not have teaches nothing, and no other sign either; nor does one without a value.
func TestNoNoteOfWhatNobodyKnows(t *testing.T) {
	t.Parallel()
	e := quiet(0, heart(34), shown("no-such-sign", "", "bright"), vitals.Finding{Sign: vitals.Attitude, Absent: vitals.Unsure, Chosen: []vitals.GradeID{"bright"}},
		vitals.Finding{Sign: "another", Count: &vitals.Count{Events: 12, Seconds: 60, Start: vitals.Anywhere}})
	n := must(New(aHorse())).summarise(&e)
	td.Require(t).Cmp(n.reason, "")
	td.Cmp(t, n.readings, td.Len(1))
	td.Cmp(t, n.answers, td.Empty())
}

// An exam keeps to what it says: whatever differs in it makes another fingerprint, and how its numbers are written does not.
func TestFingerprintsDiffer(t *testing.T) {
	t.Parallel()
	seen := map[fingerprint.Hash]string{}
	at := func(name string, change func(e *vitals.Exam)) {
		e := quiet(0, heart(34), degrees("37.6"), shown(vitals.GumColour, "", "pink"), timed(vitals.SkinTent, "eyelid", 90, 100))
		change(&e)
		p := fingerprint.Exam(&e)
		if before, ok := seen[p]; ok {
			t.Errorf("%s and %s have one fingerprint", name, before)
		}
		seen[p] = name
	}
	at("as it is", func(*vitals.Exam) {})
	at("later", func(e *vitals.Exam) { e.At = e.At.Add(1) })
	at("draft", func(e *vitals.Exam) { e.Status = vitals.Draft })
	at("unlabelled", func(e *vitals.Exam) { e.Wellness = "" })
	at("excited", func(e *vitals.Exam) { e.State.Condition = vitals.Excited })
	at("one less", func(e *vitals.Exam) { e.Findings = e.Findings[:3] })
	at("turned round", func(e *vitals.Exam) { e.Findings[0], e.Findings[1] = e.Findings[1], e.Findings[0] })
	at("another value", func(e *vitals.Exam) { e.Findings[1] = degrees("37.7") })
	at("another exponent", func(e *vitals.Exam) { e.Findings[1] = degrees("376") })
	at("below zero", func(e *vitals.Exam) { e.Findings[1] = degrees("-37.6") })
	for _, label := range []string{"b", "bl", "blu", "blue", "bluf", "blse", "bnue", "clue", "bluer", "bluee", "blueblue", "blueblue1", "blueblue12", "blueblue13"} {
		at("labelled "+label, func(e *vitals.Exam) { e.Findings[1].Reading.Label = label })
	}
	at("another count", func(e *vitals.Exam) { e.Findings[0].Count.Events++ })
	at("another start", func(e *vitals.Exam) { e.Findings[0].Count.Start = vitals.OnBeat })
	at("another window", func(e *vitals.Exam) { e.Findings[0].Count.Seconds++ })
	at("another colour", func(e *vitals.Exam) { e.Findings[2].Chosen = []vitals.GradeID{"pale"} })
	at("a colour more", func(e *vitals.Exam) { e.Findings[2].Chosen = append(e.Findings[2].Chosen, "pale") })
	at("where", func(e *vitals.Exam) { e.Findings[2].Where = []vitals.SiteID{"pink"} })
	at("a note", func(e *vitals.Exam) { e.Findings[2].Note = "n" })
	at("minutes", func(e *vitals.Exam) { e.Findings[2].Minutes = 1 })
	at("absent", func(e *vitals.Exam) { e.Findings[2].Absent = vitals.Unsure })
	at("another site", func(e *vitals.Exam) { e.Findings[3].Site = "neck" })
	at("another try", func(e *vitals.Exam) { e.Findings[3].Timed.CentiSeconds[1]++ })
	at("aloud", func(e *vitals.Exam) { e.Findings[3].Timed.Aloud = true })
	at("an unknown sign", func(e *vitals.Exam) { e.Findings[3].Sign = "no-such-sign" })
	at("taps", func(e *vitals.Exam) { e.Findings[0].Count, e.Findings[0].Taps = nil, &vitals.Taps{AtMS: []int{0, 900}} })
	at("girth", func(e *vitals.Exam) {
		e.Findings[0].Count, e.Findings[0].Girth = nil, &vitals.Girth{Girth: decimal.New(180, 0), Length: decimal.New(160, 0), Unit: vitals.Centimetre}
	})
	one, two := quiet(0, degrees("37.6")), quiet(0, degrees("37.600"))
	td.Cmp(t, fingerprint.Exam(&one), fingerprint.Exam(&two))
}
