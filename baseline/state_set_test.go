package baseline

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/vitals"
)

// A horse may have worked, be excited and have been given something at once: each of the set counts as if it stood
// alone.
func TestTheStateIsASet(t *testing.T) {
	t.Parallel()
	b := juniper(nil)
	quiet := quietHeart(1, 34)[0]
	with := func(s vitals.State) vitals.Exam {
		e := quiet
		e.State = s
		return e
	}
	worked := func(also ...vitals.Condition) vitals.State {
		return vitals.State{Condition: vitals.AfterWork, Also: also, SinceMinutes: 10}
	}
	for _, x := range []struct {
		state vitals.State
		want  string
	}{
		{vitals.State{Condition: vitals.AtRest}, ""},
		{worked(vitals.Excited), LessonAfterWork},
		{vitals.State{Condition: vitals.Excited, Also: []vitals.Condition{vitals.Medicated}}, LessonExcited},
		{vitals.State{Condition: vitals.Medicated}, LessonMedicated},
		{vitals.State{}, LessonNotLabelled},
		// Not in the order of the list: refused by the check, and still heeded.
		{vitals.State{Condition: vitals.AtRest, Also: []vitals.Condition{vitals.Medicated}}, LessonMedicated},
		{vitals.State{Condition: vitals.Excited, Also: []vitals.Condition{vitals.AfterWork}}, LessonAfterWork},
	} {
		e := with(x.state)
		td.Cmp(t, b.summarise(&e).reason, x.want, "%+v", x.state)
	}
	given := quiet
	for at, want := range map[time.Time]string{
		{}: LessonMedicated, quiet.At.Add(-11 * time.Hour): LessonMedicated, quiet.At.Add(-12 * time.Hour): "",
	} {
		given.Story = &vitals.Story{Given: []vitals.Given{{What: "paste", At: at}}}
		td.Cmp(t, must(b.Learn(given)).Reason, want, "given %v", at)
		c, err := b.Compare(given)
		td.Require(t).CmpNoError(err)
		td.Cmp(t, c.Warnings, td.Contains(Warning{Key: WarnAgeUnknown}))
		if want != "" {
			td.Cmp(t, c.Warnings, td.Contains(Warning{Key: WarnMasked}))
		}
	}

	a, z := with(worked(vitals.Excited)), with(worked(vitals.Medicated))
	td.Cmp(t, fingerprint.Exam(&a) == fingerprint.Exam(&z), false)
	// Two versions of an exam that differ in what a rule asks for are not one.
	for name, change := range map[string]func(*vitals.Exam){
		"given": func(e *vitals.Exam) { e.Story = given.Story; e.Story.Given[0].At = time.Time{} }, "purpose": func(e *vitals.Exam) { e.Purpose = vitals.Concern },
		"recheck": func(e *vitals.Exam) { e.RecheckOf = "first" }, "minutes": func(e *vitals.Exam) { e.State.SinceMinutes = 11 },
		"ended": func(e *vitals.Exam) { e.State.Ended = e.At }, "air": func(e *vitals.Exam) {
			e.Air = &vitals.Air{Temperature: &vitals.Reading{Value: decimal.New(31, 0), Unit: vitals.Celsius}}
		},
	} {
		other := a
		change(&other)
		td.Cmp(t, fingerprint.Exam(&a) == fingerprint.Exam(&other), false, name)
	}
}

// What is told of the days before is kept, and neither compared nor learned.
func TestContextIsNotCompared(t *testing.T) {
	t.Parallel()
	exams := quietHeart(8, 34)
	for i := range exams {
		exams[i].Findings = append(exams[i].Findings, showing(vitals.Lately, "none"))
	}
	b := juniper(exams)
	now := recheck(0, showing(vitals.Lately, "contact", "journey"))
	now.At = planDay
	c, err := b.Compare(now)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, c.Signs, td.Len(1))
	td.Cmp(t, c.Signs[0], Compared{Sign: vitals.Lately, Chosen: []vitals.GradeID{"contact", "journey"}, Statement: Noted})
	td.Cmp(t, c.Overall.Signs, 0)
}

// A kept fit is refused where anything has changed that decides whether an exam teaches.
func TestFitsKnowTheHorseOfTheRules(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 4, 1, 3, 0, 0, 0, time.UTC)
	mare := vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse, Sex: vitals.Mare}
	plain := must(New(mare)).rules()
	for _, change := range []func(*vitals.Horse){
		func(h *vitals.Horse) { h.InFoal = true }, func(h *vitals.Horse) { h.FoaledAt = at }, func(h *vitals.Horse) { h.BornAt = at },
	} {
		h := mare
		change(&h)
		td.Cmp(t, must(New(h)).rules() == plain, false, "%+v", h)
	}
	of := func(a vitals.Alarm) (p fingerprint.Hash) { p.Alarm(&a); return p }
	for _, a := range vitals.Alarms() {
		rule := of(a)
		for name, change := range map[string]func(*vitals.Alarm){
			"group": func(a *vitals.Alarm) { a.Types = append(a.Types, "x") }, "stage": func(a *vitals.Alarm) { a.Stages = append(a.Stages, "x") },
			"with":   func(a *vitals.Alarm) { a.With = append(a.With, vitals.Test{Fact: vitals.InPain}) },
			"unless": func(a *vitals.Alarm) { a.Unless = append(a.Unless, vitals.Test{Fact: vitals.InPain}) },
			"any":    func(a *vitals.Alarm) { a.Any = append(a.Any, vitals.Test{Clock: vitals.SinceWork, From: 10}) },
			"need":   func(a *vitals.Alarm) { a.Need++ }, "then": func(a *vitals.Alarm) { a.Then = "x" }, "calm": func(a *vitals.Alarm) { a.Calm = !a.Calm },
			"equal": func(a *vitals.Alarm) { a.AndEqual = !a.AndEqual }, "sites": func(a *vitals.Alarm) { a.Sites = append(a.Sites, "x") },
		} {
			b := a
			change(&b)
			td.Cmp(t, of(b) == rule, false, "%s: %s", a.ID, name)
		}
	}
}
