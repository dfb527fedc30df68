package baseline

import (
	"slices"

	"whorl.example/vitals"
)

// A graded sign is compared by its rank, the distance from what a healthy horse shows: a Dirichlet prior over
// the ranks, worth gradeWeight exams, and the horse's own answers counted on top (Dirichlet-multinomial).
const gradeWeight = 4

// gradeTail is P(rank >= k) in well horses before the first exam. Assumed: no study gives
// it; .85, .12, .025 and .005 on the first four ranks.
var gradeTail = [...]float64{1, .15, .03, .005, .001}

var gradePrior = assumed("85 of 100 well horses show the usual answer, 12 the next, 2 or 3 the one after, worth four exams; no study was found")

// answer is what one exam showed of a graded sign.
type answer struct {
	chosen []vitals.GradeID
	rank   int
}

// answerOf reads a finding: the answer farthest from usual counts. ok is false where
// nothing is chosen that the catalogue knows.
func answerOf(sign *vitals.Sign, f *vitals.Finding) (a answer, ok bool) {
	a.chosen = f.Chosen
	for _, c := range f.Chosen {
		if r, known := rankOf(sign, c); known {
			a.rank = max(a.rank, r)
			ok = true
		}
	}
	return a, ok
}

func rankOf(sign *vitals.Sign, g vitals.GradeID) (int, bool) {
	for i := range sign.Grades {
		if x := &sign.Grades[i]; x.ID == g {
			return x.Rank, true
		}
	}
	return 0, false
}

// ranked reports whether the answers of a sign have an order; others are only noted.
func ranked(sign vitals.Sign) bool {
	return slices.ContainsFunc(sign.Grades, func(g vitals.Grade) bool { return g.Rank > 0 })
}

// alike reports whether two answers of one rank share an answer of that rank: less gut
// sound is no precedent for more.
func alike(sign vitals.Sign, a, b answer) bool {
	for _, c := range a.chosen {
		if r, _ := rankOf(&sign, c); r == a.rank && slices.Contains(b.chosen, c) {
			return true
		}
	}
	return false
}

// tails gives P(as far from usual or farther), where another answer of the same rank is no
// precedent, P(farther), and how many own exams showed as much.
func tails(sign vitals.Sign, now answer, own []answer) (atLeast, beyond float64, seen int) {
	farther := 0
	for _, a := range own {
		if a.rank > now.rank {
			farther++
		}
		if a.rank > now.rank || now.rank == 0 || a.rank == now.rank && alike(sign, a, now) {
			seen++
		}
	}
	k := min(now.rank, len(gradeTail)-1)
	next := 0.
	if k+1 < len(gradeTail) {
		next = gradeTail[k+1]
	}
	n := gradeWeight + float64(len(own))
	return (gradeWeight*gradeTail[k] + float64(seen)) / n, (gradeWeight*next + float64(farther)) / n, seen
}

// usual is the answer shown most often; none where two tie.
func usual(own []answer) (chosen []vitals.GradeID, n int) {
	type kind struct {
		chosen []vitals.GradeID
		n      int
	}
	var kinds []kind
	for _, a := range own {
		i := slices.IndexFunc(kinds, func(k kind) bool { return slices.Equal(k.chosen, a.chosen) })
		if i < 0 {
			i = len(kinds)
			kinds = append(kinds, kind{chosen: a.chosen})
		}
		kinds[i].n++
	}
	tied := false
	for _, k := range kinds {
		switch {
		case k.n > n:
			chosen, n, tied = k.chosen, k.n, false
		case k.n == n:
			tied = true
		}
	}
	if tied {
		return nil, 0
	}
	return chosen, n
}

// precedents is how many own exams make an answer, not the one of a healthy animal, one of this horse's usual
// ones beside that which it shows most often.
const precedents = 2

// compareGrade fills in c for a graded finding and gives what it adds to the exam as a whole.
func compareGrade(c *Compared, sign *vitals.Sign, f *vitals.Finding, exams *view, room *shelf) piece {
	c.Chosen, c.Where = f.Chosen, f.Where
	now, ok := answerOf(sign, f)
	if !ok || !ranked(*sign) || sign.Context {
		c.Statement = Noted
		return piece{}
	}
	known := exams.grades(*sign, f.Site)
	own := known.own
	atLeast, beyond, seen := tails(*sign, now, own)
	c.Basis = Basis{Exams: len(own), Prior: lay(&room.priors, gradePrior), Weak: len(own) <= gradeWeight}
	c.Usual, c.UsualSeen = lay(&room.usual, known.usual...), known.seen
	c.Seen = seen
	c.Tail, c.P = atLeast, atLeast
	switch {
	case atLeast < alpha-1e-12: // exactly one in twenty is not rare
		c.Statement = Differs
	case now.rank == 0 || slices.Equal(now.chosen, known.usual) || seen >= precedents && len(known.usual) > 0:
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
	e := piece{ok: true, p: atLeast, toward: mid}
	if now.rank == 0 {
		e.p = mid
	}
	return e
}
