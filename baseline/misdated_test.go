package baseline

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// An exam dated before the birth, or far off, is compared by what is published for an animal of unknown age, with a
// warning, and its rules fire. It teaches nothing, and says nothing of another.
func TestAWrongDateSilencesNothing(t *testing.T) {
	t.Parallel()
	horse := vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse, Born: vitals.Date{Year: 2015, Month: 4, Day: 9}}
	ill := func(at time.Time) vitals.Exam {
		e := recheck(0, beats(64))
		e.ID, e.At, e.Purpose = "ill", at, vitals.Concern
		return e
	}
	unknown := horse
	unknown.Born = vitals.Date{}
	for _, x := range []struct {
		at   time.Time
		want Warning
	}{
		{time.Date(2013, 5, 1, 8, 0, 0, 0, time.UTC), Warning{WarnBeforeBirth, []string{"born", "2015-04-09"}}},
		{time.Date(2162, 5, 1, 8, 0, 0, 0, time.UTC), Warning{WarnFarDate, []string{"born", "2015-04-09"}}},
	} {
		td.Cmp(t, vitals.CheckExam(ill(x.at), horse), td.Empty())
		b := must(New(horse))
		for _, e := range quietHeart(6, 34) {
			must(b.Learn(e))
		}
		c, err := b.Compare(ill(x.at))
		td.Require(t).CmpNoError(err)
		td.Cmp(t, c.Stage, vitals.Adult)
		td.Cmp(t, vitals.Strongest(c.Alarms), vitals.RingNow)
		td.Cmp(t, c.Warnings, td.Contains(x.want))
		td.Cmp(t, c.Warnings, td.Not(td.Contains(Warning{Key: WarnAgeUnknown})))
		td.Cmp(t, c.Signs[0].Basis.Exams, 0)
		alone, err := must(New(unknown)).Compare(ill(time.Date(2024, 5, 1, 8, 0, 0, 0, time.UTC)))
		td.Require(t).CmpNoError(err)
		td.Cmp(t, c.Signs[0].Own, alone.Signs[0].Own)
		td.Cmp(t, c.Signs[0].Statement, alone.Signs[0].Statement)

		// On a quiet day it would have taught, had its date been right.
		quiet := quietHeart(1, 34)[0]
		quiet.ID, quiet.At = "misdated", x.at
		td.Cmp(t, must(b.Learn(quiet)), Lesson{Exam: quiet.ID, Reason: LessonMisdated})
	}
}
