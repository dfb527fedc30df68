package baseline

import (
	"fmt"
	"slices"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/vitals"
)

func TestLessons(t *testing.T) {
	t.Parallel()
	at := func(days float64, change func(*vitals.Exam)) vitals.Exam {
		e := quiet(days, heart(34))
		change(&e)
		return e
	}
	b := must(New(aHorse()))
	for _, c := range []struct {
		exam vitals.Exam
		want string
	}{
		{at(1, func(e *vitals.Exam) {}), ""},
		{at(2, func(e *vitals.Exam) { e.Status = vitals.Draft }), LessonDraft},
		{at(3, func(e *vitals.Exam) { e.Wellness = vitals.Unwell }), LessonUnwell},
		{at(4, func(e *vitals.Exam) { e.Wellness = vitals.NotSure }), LessonNotLabelled},
		{at(5, func(e *vitals.Exam) { e.Wellness = "" }), LessonNotLabelled},
		{at(6, func(e *vitals.Exam) { e.State.Condition = vitals.AfterWork }), LessonAfterWork},
		{at(7, func(e *vitals.Exam) { e.State.Condition = vitals.Excited }), LessonExcited},
		{at(8, func(e *vitals.Exam) { e.State.Condition = vitals.Medicated }), LessonMedicated},
		{at(10, func(e *vitals.Exam) {
			e.Findings = []vitals.Finding{heart(34)}
			e.Findings[0] = vitals.Finding{Sign: vitals.HeartRate, Absent: vitals.CouldNot}
		}), LessonEmpty},
		{at(11, func(e *vitals.Exam) { e.Findings = []vitals.Finding{heart(72)} }), LessonAlarm},
		{at(40, func(e *vitals.Exam) {}), ""},
	} {
		td.Cmp(t, must(b.Learn(c.exam)), Lesson{Exam: c.exam.ID, Taught: c.want == "", Reason: c.want})
	}
	_, err := b.Learn(at(9, func(e *vitals.Exam) { e.Horse = "h2" }))
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultOtherHorse})
	copied := at(1, func(e *vitals.Exam) { e.ID = "e-2-copy" })
	must(b.Learn(copied))

	c, err := b.Compare(tonight(20, heart(36)))
	td.CmpNoError(t, err)
	got := map[vitals.ID]string{}
	for _, l := range c.Lessons {
		got[l.Exam] = l.Reason
	}
	td.Cmp(t, got, td.SuperMapOf(map[vitals.ID]string{"e-1.000": "", "e-2-copy": LessonDuplicate, "e-40.000": LessonLater, "e-2.000": LessonDraft}, nil))
	td.Cmp(t, got, td.Not(td.ContainsKey(vitals.ID("e-9.000"))))
	td.Cmp(t, one(c, vitals.HeartRate).Basis.Exams, 1)
}

func TestOtherHorse(t *testing.T) {
	t.Parallel()
	e := tonight(0, heart(30))
	e.Horse = "h2"
	_, err := must(New(aHorse())).Compare(e)
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultOtherHorse})
	td.CmpErrorIs(t, must(New(aHorse())).Merge(must(New(vitals.Horse{ID: "h2", Name: "Plum", Type: vitals.TypePony}))), vitals.Fault{Code: FaultOtherHorse})
}

// A growing animal outgrows its exams; a grown one does not.
func TestAnotherStage(t *testing.T) {
	t.Parallel()
	foal := aHorse()
	foal.Born = vitals.DateOf(spring.AddDate(0, 0, -10))
	b := learned(foal, quiet(0, heart(96)), quiet(50, heart(74)))
	c, err := b.Compare(tonight(60, heart(70)))
	td.CmpNoError(t, err)
	td.Cmp(t, c.Lessons, []Lesson{{Exam: "e-0.000", Reason: LessonAnotherStage}, {Exam: "e-50.000", Taught: true}})

	old := aHorse()
	old.Born = vitals.DateOf(spring.AddDate(-20, 0, 5)) // turns senior between the two exams
	c, err = learned(old, quiet(0, heart(36))).Compare(tonight(30, heart(36)))
	td.CmpNoError(t, err)
	td.Cmp(t, c.Lessons, []Lesson{{Exam: "e-0.000", Taught: true}})
}

// anExam draws an exam of invented readings; few IDs and days, so that clashes are common.
func anExam(t *rapid.T) vitals.Exam {
	e := quiet(float64(rapid.IntRange(0, 12).Draw(t, "day")),
		heart(rapid.IntRange(26, 46).Draw(t, "heart")),
		shown(vitals.GumColour, "", rapid.SampledFrom([]vitals.GradeID{"pink", "pale-pink"}).Draw(t, "gums")))
	e.ID = vitals.ID(fmt.Sprint(rapid.IntRange(1, 12).Draw(t, "id")))
	e.Wellness = rapid.SampledFrom([]vitals.Wellness{vitals.Well, vitals.Well, vitals.Well, vitals.Unwell}).Draw(t, "wellness")
	e.Status = rapid.SampledFrom([]vitals.Status{vitals.Finished, vitals.Finished, vitals.Draft}).Draw(t, "status")
	if rapid.Bool().Draw(t, "warm") {
		e.Findings = append(e.Findings, degrees(rapid.SampledFrom([]string{"37.4", "37.9", "38.1"}).Draw(t, "degrees")))
	}
	return e
}

func said(t *rapid.T, b *Baseline) Comparison {
	c, err := b.Compare(tonight(11.5, heart(44), degrees("38.2"), shown(vitals.GumColour, "", "pale-pink")))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func same(t *rapid.T, what string, a, b Comparison) {
	if !td.EqDeeply(a, b) {
		t.Fatalf("%s:\n%+v\n%+v", what, a, b)
	}
}

func TestOrderChangesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		exams := rapid.SliceOfN(rapid.Custom(anExam), 0, 12).Draw(t, "exams")
		shuffled := rapid.Permutation(exams).Draw(t, "order")
		same(t, "order", said(t, learned(aHorse(), exams...)), said(t, learned(aHorse(), shuffled...)))
	})
}

// Merging is a union: commutative, associative, idempotent.
func TestMergeLaws(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var parts [3][]vitals.Exam
		for i := range parts {
			parts[i] = rapid.SliceOfN(rapid.Custom(anExam), 0, 5).Draw(t, fmt.Sprint("part ", i))
		}
		merged := func(order ...int) *Baseline {
			b := must(New(aHorse()))
			for _, i := range order {
				if err := b.Merge(learned(aHorse(), parts[i]...)); err != nil {
					t.Fatal(err)
				}
			}
			return b
		}
		whole := said(t, learned(aHorse(), slices.Concat(parts[0], parts[1], parts[2])...))
		same(t, "commutes", whole, said(t, merged(2, 0, 1)))
		same(t, "idempotent", whole, said(t, merged(0, 1, 2, 1, 0)))
		right := merged(1, 2)
		left := merged(0)
		if err := left.Merge(right); err != nil {
			t.Fatal(err)
		}
		same(t, "associates", whole, said(t, left))
	})
}

func TestRemovedAsNeverGiven(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		exams := rapid.SliceOfNDistinct(rapid.Custom(anExam), 1, 10, func(e vitals.Exam) vitals.ID { return e.ID }).Draw(t, "exams")
		out := exams[rapid.IntRange(0, len(exams)-1).Draw(t, "out")]
		b := learned(aHorse(), exams...)
		if !b.Remove(out.ID) || b.Remove(out.ID) {
			t.Fatal("removed not once")
		}
		rest := slices.DeleteFunc(slices.Clone(exams), func(e vitals.Exam) bool { return e.ID == out.ID })
		same(t, "removed", said(t, b), said(t, learned(aHorse(), rest...)))
	})
}

// The exam compared never teaches itself, and no later exam changes what was said.
func TestOnlyThePastTeaches(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		exams := rapid.SliceOfN(rapid.Custom(anExam), 0, 8).Draw(t, "exams")
		b := learned(aHorse(), exams...)
		e := quiet(11.5, heart(44), degrees("38.2"), shown(vitals.GumColour, "", "pale-pink"))
		e.ID = "tonight"
		first, err := b.Compare(e)
		if err != nil {
			t.Fatal(err)
		}
		must(b.Learn(e))
		again, _ := b.Compare(e)
		same(t, "itself", first, again)
		must(b.Learn(quiet(11.6, heart(70))))
		must(b.Learn(quiet(300, heart(28))))
		last, _ := b.Compare(e)
		first.Lessons, last.Lessons = nil, nil
		same(t, "later", first, last)
	})
}
