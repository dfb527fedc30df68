package whole

import (
	"math"
	"math/rand/v2"
	"testing"

	"whorl.example/baseline/internal/grade"
	"whorl.example/vitals"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

func measured(ps ...float64) (out []Finding) {
	for _, p := range ps {
		out = append(out, Finding{P: p})
	}
	return out
}

// graded is an answer of a sign with the ranks 0 to most, of which so many own exams showed each.
func graded(rank, most int, before ...int) Finding {
	var sign vitals.Sign
	for k := range most + 1 {
		sign.Grades = append(sign.Grades, vitals.Grade{Rank: k})
	}
	var own []grade.Answer
	for k, n := range before {
		for range n {
			own = append(own, grade.Answer{Rank: k})
		}
	}
	c := grade.Count(own)
	f := Finding{P: 1}
	tails, n := c.Attainable(&sign)
	copy(f.Tails[:], tails[:])
	if f.Graded = n; rank > 0 {
		f.P = tails[rank-1]
	}
	return f
}

// The rarest of the findings, by enumeration of all combinations of answers.
func TestWhole(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		findings []Finding
		rarest   float64
	}{
		{append(measured(.004, .3, .8), graded(0, 2, 8, 2), graded(1, 3, 10), graded(2, 2, 10)), .0133635611},
		{append(measured(.2, .3, .8), graded(0, 2, 3), graded(2, 3, 3), graded(1, 1, 2, 1)), .0828254589},
		{append(measured(.04, .06, .1), graded(1, 2, 20), graded(1, 2, 17, 3)), .1008305488},
	} {
		near(t, "the rarest", Rarest(c.findings), c.rarest, 1e-10)
	}
	f := graded(0, 2, 8, 2)
	near(t, "a tail", f.Tails[0], .18571429, 1e-8)
	near(t, "a tail", f.Tails[1], .00857143, 1e-8)
	near(t, "nothing", Rarest(nil), 1, 0)
	near(t, "usual answers", Rarest([]Finding{graded(0, 2, 9), graded(0, 3, 4)}), 1, 0)
	near(t, "one reading", Rarest(measured(.03)), .03, 1e-15)
	near(t, "one reading beside what could not be as rare", Rarest(append(measured(.0008), graded(0, 3, 4), graded(0, 1, 2))), .0008, 1e-3)
	near(t, "far out", Rarest(measured(1e-14, .5)), 2e-14, 1e-20)
}

// Of findings that are independent and as rare as they say the level is exact, or below it where the answers are too coarse to reach it.
func TestRarestHoldsItsLevel(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(7, 7))
	answers := []Finding{graded(0, 2, 20), graded(0, 3, 17, 3), graded(0, 1, 9), graded(0, 3, 3)}
	const exams = 40000
	rare := [2]int{}
	for range exams {
		fs := measured(rng.Float64(), rng.Float64(), rng.Float64())
		for _, f := range answers {
			u := rng.Float64()
			for _, tail := range f.Tails[:f.Graded] {
				if u < tail {
					f.P = tail
				}
			}
			fs = append(fs, f)
		}
		p := Rarest(fs)
		for i, level := range []float64{.05, .01} {
			if p < level {
				rare[i]++
			}
		}
	}
	for i, level := range []float64{.05, .01} {
		got, se := float64(rare[i])/exams, math.Sqrt(level/exams)
		t.Logf("%.2f: %.4f (%.4f)", level, got, se)
		if got > level+3*se || got < .6*level {
			t.Errorf("below %.2f in %.4f (%.4f)", level, got, se)
		}
	}
}

func TestCounted(t *testing.T) {
	t.Parallel()
	near(t, ".03, none of 10", Counted(.03, 10, 0), .0311111111, 1e-10)
	near(t, ".03, one of 10", Counted(.03, 10, 1), .0644444444, 1e-10)
	near(t, ".08, none of 20", Counted(.08, 20, 0), .0525, 1e-12)
	near(t, ".02, three of 40", Counted(.02, 40, 3), .0677777778, 1e-10)
	near(t, "nothing to count", Counted(.03, 0, 0), .03, 1e-15)
	for n, want := range map[int]int{0: 0, 2: 0, 3: 1, 5: 1, 6: 2, 11: 2, 12: 3, 23: 3, 24: 4, 500: 4} {
		if got := Band(n); got != want {
			t.Errorf("band of %d: %d, want %d", n, got, want)
		}
	}
}
