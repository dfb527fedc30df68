package baseline

import (
	"slices"

	"whorl.example/baseline/internal/grade"
	"whorl.example/vitals"
)

var gradePrior = assumed("85 of 100 well horses show the usual answer, 12 the next, 2 or 3 the one after, worth four exams; no study was found")

// precedents is how many own exams make an answer, not the one of a healthy animal, one of this horse's usual
// ones beside that which it shows most often.
const precedents = 2

// compareGrade fills in c for a graded finding and gives what it adds to the exam as a whole.
func compareGrade(c *Compared, sign *vitals.Sign, f *vitals.Finding, exams *trainingSet, room *buffers) contribution {
	c.Chosen, c.Where = f.Chosen, f.Where
	now, ok := grade.AnswerOf(sign, f)
	if !ok || !grade.Ranked(*sign) || sign.Context {
		c.Statement = Noted
		return contribution{}
	}
	known := exams.grades(*sign, f.Site)
	own := known.own
	atLeast, beyond, seen := grade.Tails(*sign, now, own)
	c.Basis = Basis{Exams: len(own), Prior: put(&room.priors, gradePrior), Weak: len(own) <= grade.Weight}
	c.Usual, c.UsualSeen = put(&room.usual, known.usual...), known.seen
	c.Seen = seen
	c.Tail, c.P = atLeast, atLeast
	switch {
	case atLeast < alpha-1e-12: // exactly one in twenty is not rare
		c.Statement = Differs
	case now.Rank == 0 || slices.Equal(now.Chosen, known.usual) || seen >= precedents && len(known.usual) > 0:
		c.Statement = AsUsual
	case seen > 0 || len(own) == 0:
		c.Statement = Noted
	default:
		c.Statement = FirstSeen
		c.warn(WarnNotSeen, "n", itoa(len(own)))
	}
	// The p of an answer is 1 for every usual one, which would silence the other signs:
	// there the mid-p stands for it.
	mid := (atLeast + beyond) / 2
	e := contribution{ok: true, p: atLeast, toward: mid}
	if now.Rank == 0 {
		e.p = mid
	}
	return e
}
