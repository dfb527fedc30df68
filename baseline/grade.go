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

// firstSmall is the probability below which an answer next to that of a healthy animal is called rare. At [alpha] such an answer is rare from the
// ninth exam without it on, and four of ten well exams have one then; at this, from the 57th on, and one well exam in fourteen has one.
const firstSmall = .01

// rare reports whether an answer of such a probability is called rare; exactly one in twenty is not.
func rare(rank int, p float64) bool {
	if rank == 1 {
		return p < firstSmall-1e-12
	}
	return p < alpha-1e-12
}

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
	case rare(now.Rank, atLeast):
		c.Statement = Differs
	case now.Rank == 0 || slices.Equal(now.Chosen, known.usual) || seen >= precedents && len(known.usual) > 0:
		c.Statement = AsUsual
	case seen > 0 || len(own) == 0:
		c.Statement = Noted
	default:
		c.Statement = FirstSeen
		c.warn(WarnNotSeen, "n", itoa(len(own)))
	}
	// Towards the far side the p of every usual answer would be 1: there the mid-p stands for it.
	e := contribution{ok: true, toward: (atLeast + beyond) / 2, found: gradedFinding(sign, now, own)}
	e.p = e.found.P
	return e
}
