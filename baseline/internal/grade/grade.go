// Package grade counts the answers of a graded sign: how rare an answer is for a horse, by a Dirichlet-multinomial.
package grade

import (
	"slices"

	"whorl.example/vitals"
)

// A graded sign is compared by its rank, the distance from what a healthy horse shows: a Dirichlet prior over
// the ranks, worth gradeWeight exams, and the horse's own answers counted on top (Dirichlet-multinomial).
const Weight = 4

// PriorTail is P(rank >= k) in well horses before the first exam. Assumed: no study gives
// it; .85, .12, .025 and .005 on the first four ranks.
var PriorTail = [...]float64{1, .15, .03, .005, .001}

// Answer is what one exam showed of a graded sign.
type Answer struct {
	Chosen []vitals.GradeID
	Rank   int
}

// answerOf reads a finding: the answer farthest from usual counts. ok is false where
// nothing is chosen that the catalogue knows.
func AnswerOf(sign *vitals.Sign, f *vitals.Finding) (a Answer, ok bool) {
	a.Chosen = f.Chosen
	for _, c := range f.Chosen {
		if r, known := rankOf(sign, c); known {
			a.Rank = max(a.Rank, r)
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
func Ranked(sign vitals.Sign) bool {
	return slices.ContainsFunc(sign.Grades, func(g vitals.Grade) bool { return g.Rank > 0 })
}

// alike reports whether two answers of one rank share an answer of that rank: less gut
// sound is no precedent for more.
func alike(sign vitals.Sign, a, b Answer) bool {
	for _, c := range a.Chosen {
		if r, _ := rankOf(&sign, c); r == a.Rank && slices.Contains(b.Chosen, c) {
			return true
		}
	}
	return false
}

// Tails gives P(as far from usual or farther), where another answer of the same rank is no
// precedent, P(farther), and how many own exams showed as much.
func Tails(sign vitals.Sign, now Answer, own []Answer) (atLeast, beyond float64, seen int) {
	farther := 0
	for _, a := range own {
		if a.Rank > now.Rank {
			farther++
		}
		if a.Rank > now.Rank || now.Rank == 0 || a.Rank == now.Rank && alike(sign, a, now) {
			seen++
		}
	}
	k := min(now.Rank, len(PriorTail)-1)
	next := 0.
	if k+1 < len(PriorTail) {
		next = PriorTail[k+1]
	}
	n := Weight + float64(len(own))
	return (Weight*PriorTail[k] + float64(seen)) / n, (Weight*next + float64(farther)) / n, seen
}

// Usual is the answer shown most often; none where two tie.
func Usual(own []Answer) (chosen []vitals.GradeID, n int) {
	type kind struct {
		chosen []vitals.GradeID
		n      int
	}
	var kinds []kind
	for _, a := range own {
		i := slices.IndexFunc(kinds, func(k kind) bool { return slices.Equal(k.chosen, a.Chosen) })
		if i < 0 {
			i = len(kinds)
			kinds = append(kinds, kind{chosen: a.Chosen})
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
