package baseline

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/vitals"
)

// someExams are exams of a horse, some of them unwell, twice, of one moment, or with a bad day.
func someExams(t *rapid.T) []vitals.Exam {
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
	n := rapid.IntRange(0, 14).Draw(t, "n")
	var exams []vitals.Exam
	for i := range n {
		e := quiet(2*float64(i)+rng.Float64(), wholeExam(rng)...)
		e.ID = vitals.ID(fmt.Sprint("e", i))
		e.Findings = e.Findings[rng.IntN(8) : 12+rng.IntN(14)]
		switch rng.IntN(8) {
		case 0:
			e.Wellness = vitals.Unwell
		case 1:
			e.Status = vitals.Draft
		case 2:
			again := counted(vitals.HeartRate, 44+rng.IntN(8), 60)
			again.Minutes = 5
			e.Findings = append(e.Findings, again)
		}
		exams = append(exams, e)
		if rng.IntN(6) == 0 {
			e.ID += "-again"
			exams = append(exams, e)
		}
		if rng.IntN(6) == 0 { // the same exam, less of it
			e = exams[rng.IntN(len(exams))]
			e.Findings = e.Findings[:len(e.Findings)/2]
			exams = append(exams, e)
		}
	}
	return exams
}

func asText(t interface{ Fatal(...any) }, x any) string {
	text, err := json.Marshal(x)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// answers is all that can be asked of a fit or a baseline.
func answers(t interface{ Fatal(...any) }, b interface {
	Compare(vitals.Exam) (Comparison, error)
	Known(time.Time) Known
	Normal(vitals.SignID, vitals.SiteID, time.Time) (Normal, bool)
}, night vitals.Exam) string {
	c, err := b.Compare(night)
	if err != nil {
		t.Fatal(err)
	}
	n, _ := b.Normal(vitals.HeartRate, "", night.At)
	return asText(t, c) + asText(t, b.Known(night.At)) + asText(t, n)
}

// A fit says what the baseline says: however the exams came, from one telephone or two, asked in
// between or not, through bytes or not, and after some were taken out.
func TestFitSaysWhatTheBaselineSays(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		exams := someExams(t)
		night := tonight(40, wholeExam(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "night"), 2)))...)
		out := map[vitals.ID]bool{}
		for _, e := range exams {
			if rapid.IntRange(0, 5).Draw(t, "out") == 0 {
				out[e.ID] = true
			}
		}
		left := slices.DeleteFunc(slices.Clone(exams), func(e vitals.Exam) bool { return out[e.ID] })
		want := answers(t, learned(aHorse(), left...), night)

		one, two := must(NewFit(aHorse())), learned(aHorse()).Fit()
		for _, e := range rapid.Permutation(exams).Draw(t, "order") {
			if rapid.Bool().Draw(t, "telephone") {
				must(one.Learn(e))
			} else {
				must(two.Learn(e))
			}
			if rapid.IntRange(0, 4).Draw(t, "ask") == 0 {
				answers(t, one, night)
			}
		}
		if err := one.Merge(two); err != nil {
			t.Fatal(err)
		}
		if rapid.Bool().Draw(t, "bytes") {
			opened, err := OpenFit(aHorse(), one.Encode(night.At))
			if err != nil {
				t.Fatal(err)
			}
			one = opened
		}
		for id := range out {
			one.Remove(id)
		}
		if got := answers(t, one, night); got != want {
			t.Fatalf("fit:\n%s\nbaseline:\n%s", got, want)
		}
		data := one.Encode(night.At)
		opened, err := OpenFit(aHorse(), data)
		if err != nil {
			t.Fatal(err)
		}
		if got := answers(t, opened, night); got != want {
			t.Fatalf("through bytes:\n%s\nbaseline:\n%s", got, want)
		}
		if string(opened.Encode(night.At)) != string(data) || string(learned(aHorse(), left...).Fit().Encode(night.At)) != string(data) {
			t.Fatal("other bytes for the same exams")
		}
		// One exam more, after the bytes.
		more := quiet(41, heart(41), degrees("38.1"))
		must(opened.Learn(more))
		b := learned(aHorse(), append(left, more)...)
		later := tonight(44, heart(39), degrees("37.9"))
		if got, want := answers(t, opened, later), answers(t, b, later); got != want {
			t.Fatalf("learned after the bytes:\n%s\nbaseline:\n%s", got, want)
		}
	})
}

func TestFitIsRefused(t *testing.T) {
	t.Parallel()
	f := learned(aHorse(), wholeHistory(9)...).Fit()
	data := f.Encode(spring.AddDate(0, 2, 0))
	other := aHorse()
	other.Type = vitals.TypeDonkey
	_, err := OpenFit(other, data)
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultStaleFit})
	older := slices.Clone(data)
	older[len(fitMagic)]++ // of other rules
	_, err = OpenFit(aHorse(), older)
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultStaleFit})
	marked := aHorse()
	marked.NewUsual = []vitals.NewUsual{{Sign: vitals.HeartRate, From: spring, Said: spring}}
	_, err = OpenFit(marked, data)
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultStaleFit})
	for i := len(fitMagic) + 16; i < len(data); i += 1 + i/40 {
		for _, bad := range [][]byte{data[:i], append(slices.Clone(data[:i]), append([]byte{data[i] ^ 64}, data[i+1:]...)...)} {
			_, err = OpenFit(aHorse(), bad)
			td.CmpErrorIs(t, err, vitals.Fault{Code: FaultBadFit}, "byte %d", i)
		}
	}
	td.CmpErrorIs(t, f.Merge(must(NewFit(vitals.Horse{ID: "h2", Name: "Plum", Type: vitals.TypePony}))), vitals.Fault{Code: FaultOtherHorse})
	_, err = f.Learn(vitals.Exam{Horse: "h2"})
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultOtherHorse})
	t.Logf("nine full exams are %d bytes", len(data))
}

// What is worked out of the same exams. If this fails, kept fits would say something else than new ones:
// raise fitRule, and write the new figures here.
func TestFitRule(t *testing.T) {
	t.Parallel()
	c, err := learned(aHorse(), wholeHistory(30)...).Compare(tonight(100, wholeExam(rand.New(rand.NewPCG(5, 5)))...))
	td.Require(t).CmpNoError(err)
	var got []string
	for _, s := range c.Signs {
		if s.Own != nil {
			got = append(got, fmt.Sprintf("%s %.5f %.5f %.5f", s.Sign, s.Own.Low, s.Own.High, s.P))
		}
	}
	td.Cmp(t, got, []string{
		"respiratory-rate 9.70662 15.73891 0.80684", "capillary-refill 1.32327 1.71377 0.39128", "skin-tent 0.82141 1.20813 0.86290",
		"heart-rate 27.40029 37.07869 0.92912", "jugular-refill 2.00379 2.39563 0.90255", "rectal-temperature 37.20071 37.92483 0.45332",
		"weight 501.28341 515.87796 0.34812",
	})
	td.Cmp(t, fitRule, 7)
}
