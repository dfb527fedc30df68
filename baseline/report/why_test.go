package report

import (
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

var juniper = vitals.Horse{ID: "h", Name: "Juniper", Type: vitals.TypeHorse, Sex: vitals.Mare, Born: vitals.Date{Year: 2015, Month: 5, Day: 2}}

func look(week int, f ...vitals.Finding) vitals.Exam {
	at := time.Date(2026, 3, 2, 7, 30, 0, 0, time.FixedZone("", 3600)).AddDate(0, 0, 7*week)
	return vitals.Exam{ID: vitals.ID("w" + itoa(week)), Horse: "h", At: at, Depth: vitals.Full, Purpose: vitals.Learning,
		State: vitals.State{Condition: vitals.AtRest}, Wellness: vitals.Well, Status: vitals.Finished, Findings: f}
}

func rate(n int) vitals.Finding {
	return vitals.Finding{Sign: vitals.HeartRate, Count: &vitals.Count{Events: n, Seconds: 60, Start: vitals.Anywhere}}
}

func warmth(v string) vitals.Finding {
	return vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.RequireFromString(v), Unit: vitals.Fahrenheit, Device: vitals.Digital}}
}

func gut(g vitals.GradeID) vitals.Finding {
	return vitals.Finding{Sign: vitals.GutSounds, Site: "gut-upper-left", Chosen: []vitals.GradeID{g}}
}

// Every kind of statement answers "why", in whole sentences of both languages, with its own figures in them.
func TestWhyIsSaid(t *testing.T) {
	t.Parallel()
	b := must(baseline.New(juniper))
	for i, n := range []int{34, 36, 35, 33, 58, 35, 34, 36, 35, 34, 36, 35, 34} {
		must(b.Learn(look(i, rate(n), warmth([]string{"99.8", "100.1"}[i%2]), gut("usual"))))
	}
	night := look(14, rate(52), warmth("101.9"), gut("less"), vitals.Finding{Sign: vitals.Attitude, Chosen: []vitals.GradeID{"dull"}})
	night.ID, night.Wellness, night.Purpose = "night", vitals.Unwell, vitals.Concern
	x, err := b.Explain(night)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, x.Signs, td.Len(4))
	all := map[vitals.SignID]string{}
	for _, lang := range words.Langs() {
		for i, w := range x.Signs {
			said := strings.Join(Why(w, night.Findings[i], juniper, lang), "\n")
			whole(t, said)
			if lang == words.English {
				all[w.Sign] = said
				t.Log(string(w.Sign) + "\n" + said)
			}
		}
		exam := strings.Join(WhyExam(x, juniper, lang), "\n")
		whole(t, exam)
		t.Log(exam)
		for _, k := range b.Known(night.At).Signs {
			said := strings.Join(WhyKnown(k, vitals.Fahrenheit, juniper, lang), "\n")
			whole(t, said)
			t.Log(said)
		}
	}
	td.Cmp(t, all[vitals.HeartRate], td.Contains("Her latest 12 of 13 quiet-day readings: 36 on March 9"))
	td.Cmp(t, all[vitals.HeartRate], td.Contains("58 a minute on March 30: "))
	td.Cmp(t, all[vitals.HeartRate], td.Contains("we say “higher than usual”"))
	td.Cmp(t, all[vitals.RectalTemperature], td.Contains("This one is 101.9 °F"))
	td.Cmp(t, strings.Join(WhyKnown(b.Known(night.At).Signs[4], vitals.Fahrenheit, juniper, words.English), " "), td.Re(`It cannot get narrower than \S+ °F\.`))
	td.Cmp(t, all[vitals.GutSounds], td.Contains("Her own quiet-day exams with an answer: 13. Of these, 0 showed this answer"))
	td.Cmp(t, all[vitals.Attitude], td.Contains("no quiet-day exam with this sign yet"))

	// Before the first exam, and for a horse nothing is known of.
	x, err = must(baseline.New(vitals.Horse{ID: "h", Name: "New", Type: vitals.TypeDonkey})).Explain(look(0, rate(44), gut("usual")))
	td.Require(t).CmpNoError(err)
	for i, w := range x.Signs {
		said := strings.Join(Why(w, night.Findings[i], vitals.Horse{}, words.English), "\n")
		whole(t, said)
		td.Cmp(t, said, td.Contains("There is no quiet-day exam with this sign yet"))
	}
}

// whole holds that a text has no gaps, no keys and no figures that are none.
func whole(t *testing.T, said string) {
	t.Helper()
	for _, bad := range []string{"{", "}", "why.", "NaN", "Inf", "±0.0 ", "-0", "  "} {
		if said == "" || strings.Contains(said, bad) {
			t.Errorf("%q in: %s", bad, said)
		}
	}
}
