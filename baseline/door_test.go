package baseline_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/answer"
	"whorl.example/vitals/site"
)

var morning = time.Date(2026, 3, 1, 7, 30, 0, 0, time.UTC)

// wholeExam is in order: one finding of each way in which a sign is entered.
func wholeExam(i int) vitals.Exam {
	e := exam(vitals.ID(fmt.Sprint("e", i)), morning.AddDate(0, 0, 3*i), 33+i%3)
	e.Findings = append(e.Findings,
		vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.New(377+int64(i%3), -1), Unit: vitals.Celsius, Device: vitals.Digital}},
		vitals.Finding{Sign: vitals.GumColour, Chosen: []vitals.GradeID{answer.GumColourPink}},
		vitals.Finding{Sign: vitals.SkinTent, Site: site.SkinTentNeck, Timed: &vitals.Timed{CentiSeconds: []int{90 + i%5}}},
	)
	return e
}

func temperature(digits int64, places int32) func(*vitals.Exam) {
	return func(e *vitals.Exam) { e.Findings[1].Reading.Value = decimal.New(digits, -places) }
}

// slips are exams that are wrong, and the place of what is wrong with each.
var slips = []struct {
	path string
	make func(*vitals.Exam)
}{
	{"/findings/1/reading/value", temperature(381, 0)}, {"/findings/1/reading/value", temperature(986, 1)}, {"/findings/1/reading/value", temperature(375, 2)},
	{"/findings/1/reading/value", func(e *vitals.Exam) { e.Findings[1].Reading.Value = decimal.New(1, 1<<30) }},
	{"/findings/1/reading/unit", func(e *vitals.Exam) { e.Findings[1].Reading.Unit = vitals.Kilogram }},
	{"/findings/1/reading/device", func(e *vitals.Exam) { e.Findings[1].Reading.Device = "thumb" }},
	{"/findings/2/chosen/0", func(e *vitals.Exam) { e.Findings[2].Chosen[0] = "sparkly" }},
	{"/findings/2/chosen", func(e *vitals.Exam) {
		e.Findings[2].Chosen = []vitals.GradeID{answer.GumColourPink, answer.GumColourBlue}
	}},
	{"/findings/0/count/seconds", func(e *vitals.Exam) { e.Findings[0].Count.Seconds = 0 }},
	{"/findings/0/count/events", func(e *vitals.Exam) { e.Findings[0].Count.Events = -1 << 62 }},
	{"/findings/0/count/start", func(e *vitals.Exam) { e.Findings[0].Count.Start = "" }},
	{"/findings/0/site", func(e *vitals.Exam) { e.Findings[0].Site = "jaws" }},
	{"/findings/0/sign", func(e *vitals.Exam) { e.Findings[0].Sign = "hart-rate" }},
	{"/findings/0/taps", func(e *vitals.Exam) {
		e.Findings[0] = vitals.Finding{Sign: vitals.RectalTemperature, Minutes: 3, Taps: &vitals.Taps{}}
	}},
	{"/findings/0/taps/atMs", func(e *vitals.Exam) {
		e.Findings[0] = vitals.Finding{Sign: vitals.HeartRate, Taps: &vitals.Taps{AtMS: []int{0}}}
	}},
	{"/findings/3/timed/centiSeconds", func(e *vitals.Exam) { e.Findings[3].Timed.CentiSeconds = nil }},
	{"/findings/3/site", func(e *vitals.Exam) { e.Findings[3].Site = "" }},
	{"/findings/1", func(e *vitals.Exam) { e.Findings[1] = vitals.Finding{Sign: vitals.RectalTemperature} }},
	{"/findings/1", func(e *vitals.Exam) { e.Findings[1] = e.Findings[0] }},
	{"/id", func(e *vitals.Exam) { e.ID = "" }}, {"/id", func(e *vitals.Exam) { e.ID = "a/b" }},
	{"/horse", func(e *vitals.Exam) { e.Horse = "plum" }},
	{"/at", func(e *vitals.Exam) { e.At = time.Time{} }}, {"/at", func(e *vitals.Exam) { e.At = time.Date(9e6, 1, 1, 0, 0, 0, 0, time.UTC) }},
	{"/depth", func(e *vitals.Exam) { e.Depth = "deep" }}, {"/purpose", func(e *vitals.Exam) { e.Purpose = "" }},
	{"/status", func(e *vitals.Exam) { e.Status = "" }}, {"/wellness", func(e *vitals.Exam) { e.Wellness = "sparkly" }},
	{"/state/condition", func(e *vitals.Exam) { e.State.Condition = "" }},
	{"/state/also/0", func(e *vitals.Exam) { e.State.Also = []vitals.Condition{vitals.Medicated} }},
}

// Each is refused with its place, teaches nothing and is not compared. Before, six of the first of them taught a temperature of
// -3.5 to 20.5 °C.
func TestNothingWrongTeaches(t *testing.T) {
	t.Parallel()
	for i, slip := range slips {
		b, err := baseline.New(juniper)
		td.Require(t).CmpNoError(err)
		wrong := wholeExam(i)
		slip.make(&wrong)
		lesson, err := b.Learn(wrong)
		td.CmpErrorIs(t, err, vitals.Fault{Code: codeAt(t, err, slip.path)}, slip.path)
		td.CmpFalse(t, lesson.Taught)
		td.Cmp(t, b.Exams(), td.Empty())
		_, err = b.Compare(wrong)
		codeAt(t, err, slip.path)
		fit, err := baseline.NewFit(juniper)
		td.Require(t).CmpNoError(err)
		_, err = fit.Learn(wrong)
		codeAt(t, err, slip.path)
		td.Cmp(t, fit.Lessons(morning.AddDate(1, 0, 0)), td.Empty())
		_, err = baseline.Of(juniper, []vitals.Exam{wholeExam(100), wrong})
		codeAt(t, err, "/exams/1"+slip.path)
	}
}

// codeAt gives the code of the fault at a place; every fault has a code and a sentence.
func codeAt(t *testing.T, err error, path string) (code vitals.FaultCode) {
	t.Helper()
	faults, ok := err.(vitals.Faults)
	td.CmpTrue(t, ok, "%s: %v", path, err)
	for _, f := range faults {
		td.Cmp(t, f, td.Struct(vitals.Fault{}, td.StructFields{"Code": td.NotEmpty(), "Path": td.Ignore(), "Args": td.Ignore(), "Sentence": td.NotEmpty()}))
		if f.Path == path {
			code = f.Code
		}
	}
	td.Cmp(t, code, td.NotEmpty(), "%s: %v", path, faults)
	return code
}

// Two exams without an ID do not replace each other: neither is taken in.
func TestExamsWithoutAnID(t *testing.T) {
	t.Parallel()
	b, err := baseline.New(juniper)
	td.Require(t).CmpNoError(err)
	for i := range 2 {
		e := wholeExam(i)
		e.ID = ""
		_, err := b.Learn(e)
		td.CmpErrorIs(t, err, vitals.Fault{Code: vitals.FaultBadID, Path: "/id"})
	}
	td.Cmp(t, b.Exams(), td.Empty())
}

func TestMergeOfNothing(t *testing.T) {
	t.Parallel()
	b, err := baseline.New(juniper)
	td.Require(t).CmpNoError(err)
	td.CmpErrorIs(t, b.Merge(nil), vitals.Fault{Code: baseline.FaultOtherHorse})
	td.CmpErrorIs(t, b.Fit().Merge(nil), vitals.Fault{Code: baseline.FaultOtherHorse})
}

// What was learned does not change with what the caller does to it afterwards.
func TestWhatWasLearnedStays(t *testing.T) {
	t.Parallel()
	horse := juniper
	horse.NewUsual = []vitals.NewUsual{{Sign: vitals.HeartRate, From: morning, Said: morning}}
	b, err := baseline.New(horse)
	td.Require(t).CmpNoError(err)
	given := wholeExam(1)
	_, err = b.Learn(given)
	td.Require(t).CmpNoError(err)
	before, err := b.Compare(wholeExam(9))
	td.Require(t).CmpNoError(err)

	given.Findings[1].Reading.Value = decimal.New(381, 0)
	given.Findings[1].Reading.Device = "thumb"
	given.Findings[2].Chosen[0] = "sparkly"
	horse.NewUsual[0].Sign = "sparkly"
	b.Horse().NewUsual[0].Sign = "sparkly"
	tonight := wholeExam(9)
	tonight.ID = "another" // nothing that was remembered helps
	after, err := b.Compare(tonight)
	td.Require(t).CmpNoError(err)
	after.Exam = before.Exam
	td.Cmp(t, after, before)
}

// learner is what a baseline and a fit have in common.
type learner interface {
	Learn(vitals.Exam) (baseline.Lesson, error)
	Compare(vitals.Exam) (baseline.Comparison, error)
	Lessons(time.Time) []baseline.Lesson
	Known(time.Time) baseline.Known
	Normal(vitals.SignID, vitals.SiteID, time.Time) (baseline.Normal, bool)
	Remove(vitals.ID) bool
}

// 10,000 programs of calls, many with values that are wrong: none panics, and what is wrong changes nothing.
func TestRandomPrograms(t *testing.T) {
	t.Parallel()
	programs := 10_000
	if testing.Short() {
		programs = 300
	}
	refused := 0
	for seed := range programs {
		rng := rand.New(rand.NewPCG(uint64(seed), 20))
		if !program(t, rng, &refused) {
			t.Fatalf("program %d", seed)
		}
	}
	td.Cmp(t, refused, td.Gt(programs), "the programs are wrong often")
}

var moments = []time.Time{{}, morning, morning.AddDate(0, 2, 0), time.Date(1e6, 1, 1, 0, 0, 0, 0, time.UTC), time.Unix(-1<<40, 0), time.Unix(1<<50, 0)}

func pick[T any](rng *rand.Rand, list []T) T { return list[rng.IntN(len(list))] }

// program makes one horse and calls what there is, and reports whether nothing wrong was let in.
func program(t *testing.T, rng *rand.Rand, refused *int) bool {
	horse := juniper
	spoilt := rng.IntN(6) == 0
	if spoilt {
		pick(rng, []func(){
			func() { horse.Type = "camel" }, func() { horse.Type = "" }, func() { horse.ID = "" }, func() { horse.Name = " " },
			func() { horse.Born = vitals.Date{Year: 2020, Month: 13, Day: 45} }, func() { horse.NewUsual = []vitals.NewUsual{{Sign: "sparkly"}} },
		})()
	}
	var who learner
	if b, err := baseline.New(horse); err == nil {
		who = b
		if rng.IntN(2) == 0 {
			who = b.Fit()
		}
	} else {
		*refused++
	}
	if (who == nil) != spoilt {
		return td.CmpTrue(t, spoilt, "a horse that is wrong, or one that is not refused")
	}
	if who == nil {
		who = pick(rng, []learner{new(baseline.Baseline), new(baseline.Fit)}) // made without a constructor
	}
	known := map[vitals.ID]bool{}
	for range 2 + rng.IntN(6) {
		e, wrong := wholeExam(rng.IntN(6)), spoilt
		if rng.IntN(2) == 0 {
			pick(rng, slips).make(&e)
			wrong = true
		}
		at := pick(rng, moments)
		switch rng.IntN(6) {
		case 0, 1, 2:
			before := who.Lessons(morning.AddDate(1, 0, 0))
			_, err := who.Learn(e)
			if (err != nil) != wrong {
				return td.CmpTrue(t, wrong, "learned: %v %+v", err, e)
			}
			if wrong {
				*refused++
				if !td.Cmp(t, who.Lessons(morning.AddDate(1, 0, 0)), before) {
					return false
				}
			} else {
				known[e.ID] = true
			}
		case 3:
			c, err := who.Compare(e)
			if (err != nil) != wrong || err != nil && !reflect.DeepEqual(c, baseline.Comparison{}) {
				return td.CmpTrue(t, wrong, "compared: %v %+v", err, e)
			}
		case 4:
			who.Known(at)
			who.Normal(pick(rng, []vitals.SignID{vitals.HeartRate, "sparkly", "", vitals.SkinTent}), pick(rng, []vitals.SiteID{"", site.SkinTentNeck, "jaws"}), at)
			who.Lessons(at)
			if b, ok := who.(*baseline.Baseline); ok {
				b.Explain(e)
				b.Due(at)
				b.Past(e.Findings[0].Sign, "jaws", rng.IntN(5)-2)
			}
		case 5:
			who.Remove(e.ID)
			delete(known, e.ID)
		}
	}
	lessons := who.Lessons(morning.AddDate(1, 0, 0))
	return td.Cmp(t, len(lessons), len(known)) && !slices.ContainsFunc(lessons, func(l baseline.Lesson) bool { return !known[l.Exam] })
}
