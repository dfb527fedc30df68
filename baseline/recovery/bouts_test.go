package recovery

import (
	"math"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// Which exams are bouts of work: the horse's own, finished, after work, with a time; each of the four is needed.
func TestWhatIsABoutOfWork(t *testing.T) {
	t.Parallel()
	bout := quiet(0, heart(80))
	bout.State = vitals.State{Condition: vitals.AfterWork, SinceMinutes: 5}
	td.Cmp(t, Find("h1", []vitals.Exam{bout}), td.Len(1))
	for name, change := range map[string]func(*vitals.Exam){
		"another horse": func(e *vitals.Exam) { e.Horse = "h2" }, "draft": func(e *vitals.Exam) { e.Status = vitals.Draft },
		"at rest": func(e *vitals.Exam) { e.State = vitals.State{Condition: vitals.AtRest} }, "no time": func(e *vitals.Exam) { e.At = time.Time{} },
	} {
		e := bout
		change(&e)
		td.Cmp(t, Find("h1", []vitals.Exam{e}), td.Empty(), name)
	}
	// Counts of one moment are pooled by their weights, in any order: two with SDs of 3 and 4 in 100 as one with 2.4.
	for _, points := range [][]RecoveryPoint{{{2, 100, 3}, {2, 100, 4}}, {{2, 100, 4}, {2, 100, 3}}} {
		c := newCurve(points)
		td.Require(t).Cmp(c, td.Len(1))
		near(t, "SD", c[0].sd, .024, 1e-6)
		near(t, "rate", c[0].y, math.Log(100), 1e-9)
	}
	// A later count of exactly the limit has not risen above it, one more has.
	td.CmpFalse(t, TimeTo(64, heartAfter(2, 96, 10, 60, 14, 64)).RoseAgain)
	td.CmpTrue(t, TimeTo(64, heartAfter(2, 96, 10, 60, 14, 65)).RoseAgain)
	a, b := newCurve([]RecoveryPoint{{2, 90, 3}, {2, 100, 4}}), newCurve([]RecoveryPoint{{2, 100, 4}, {2, 90, 3}})
	td.Cmp(t, a, b)
}
