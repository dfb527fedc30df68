package recovery

import (
	"math"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// The grid against a quadrature twice as dense and by the formula of the model alone: values and bounds, each with
// its own uncertainty, mu and log sigma normal.
func TestRecoveryGridAgainstDenseQuadrature(t *testing.T) {
	t.Parallel()
	upper := func(z float64) float64 { return math.Erfc(z/math.Sqrt2) / 2 }
	p := assumption{4, .3, .15, .5}
	for name, past := range map[string][]term{
		"nothing":     nil,
		"two values":  {{y: 4.2, sd: .02}, {y: 4.45, sd: .1}},
		"not yet":     {{y: 4.2, sd: .05}, {y: 4.4, side: 1}},
		"already":     {{y: 4.1, sd: .02}, {y: 3.8, sd: .02, side: -1}},
		"far too low": {{y: 3.1, sd: .02}},
	} {
		g := newPosterior(p, past)
		for _, next := range []struct{ y, sd float64 }{{3.7, 0}, {4.3, .04}, {4.7, .2}} {
			sum, total := 0.0, 0.0
			for i := range 241 {
				u := -4.5 + 9*float64(i)/240
				mu := p.m0 + p.tau*u
				for j := range 61 {
					v := -4 + 8*float64(j)/60
					sigma := p.sigma0 * math.Exp(p.omega*v)
					w := math.Exp(-u*u/2 - v*v/2)
					for _, x := range past {
						s := math.Sqrt(sigma*sigma + x.sd*x.sd)
						switch x.side {
						case 0:
							w *= math.Exp(-(x.y-mu)*(x.y-mu)/2/s/s) / s
						case 1: // the truth is above
							w *= upper((x.y - mu) / s)
						case -1:
							w *= upper((mu - x.y) / s)
						}
					}
					total += w
					sum += w * upper((mu-next.y)/math.Sqrt(sigma*sigma+next.sd*next.sd))
				}
			}
			near(t, name, g.below(next.y, next.sd), sum/total, 2e-5)
		}
		for _, q := range []float64{.025, .5, .999} {
			near(t, name+", its quantile", g.below(g.quantile(q, .03), .03), q, 1e-9)
		}
	}
}

// The log of the minutes to 64, and how well two counts tell it: half of the middle 68 % of the crossing, where the line
// between independent logarithms passes the limit with a chance of .16 and of .84.
func TestRecoveryTerms(t *testing.T) {
	t.Parallel()
	read := func(q RecoveryQuantity, points ...RecoveryPoint) (term, bool) {
		return q.termOf(newCurve(points))
	}
	// At ten minutes, half-way between 5 and 15: the mean of the logarithms, and half the root of the sum of squares.
	x, ok := read(RateAtTen, RecoveryPoint{5, 80, 1.6}, RecoveryPoint{15, 60, .9})
	td.CmpTrue(t, ok)
	near(t, "rate", x.y, math.Log(80*60)/2, 1e-12)
	near(t, "its SD", x.sd, math.Sqrt(.02*.02+.015*.015)/2, 1e-12)
	td.Cmp(t, x.side, 0)

	a, b, sa, sb := math.Log(80.), math.Log(56.), .05, .01
	x, ok = read(MinutesTo64, RecoveryPoint{4, 80, 80 * sa}, RecoveryPoint{12, 56, 56 * sb})
	td.CmpTrue(t, ok)
	f := (a - math.Log(64)) / (a - b)
	near(t, "minutes", x.y, math.Log(4+8*f), 1e-8)
	// .16 of a normal lies below -.994458.
	crossing := func(z float64) float64 {
		lo, hi := 0.0, 1.0
		for range 60 {
			f := (lo + hi) / 2
			if (math.Log(64)-a-f*(b-a))/math.Hypot((1-f)*sa, f*sb) < z {
				lo = f
			} else {
				hi = f
			}
		}
		return math.Log(4 + 8*lo)
	}
	early, late := crossing(-.994457883), crossing(.994457883)
	near(t, "its SD", x.sd, max(x.y-early, late-x.y), 1e-7)
	td.CmpTrue(t, x.y-early > late-x.y, "the earlier side is the wider one")

	// A first count at the end of the work that may be below already has no logarithm: the later side alone tells.
	x, ok = read(MinutesTo64, RecoveryPoint{0, 65, 2}, RecoveryPoint{10, 50, .1})
	td.CmpTrue(t, ok)
	td.Cmp(t, x.side, 0)
	a, b, sa, sb = math.Log(65), math.Log(50.), 2./65, .1/50
	lo, hi := 0.0, 1.0
	for range 60 {
		f := (lo + hi) / 2
		if (math.Log(64)-a-f*(b-a))/math.Hypot((1-f)*sa, f*sb) < .994457883 {
			lo = f
		} else {
			hi = f
		}
	}
	near(t, "minutes", x.y, math.Log(10*(a-math.Log(64))/(a-b)), 1e-7)
	near(t, "its SD", x.sd, math.Log(10*lo)-x.y, 1e-6)

	x, ok = read(MinutesTo64, RecoveryPoint{3, 60, 1}, RecoveryPoint{12, 50, 1})
	td.Cmp(t, []any{x, ok}, []any{term{y: math.Log(3), side: -1}, true}, "below at the first count")
	x, ok = read(MinutesTo64, RecoveryPoint{3, 120, 1}, RecoveryPoint{12, 90, 1})
	td.Cmp(t, []any{x, ok}, []any{term{y: math.Log(12), side: 1}, true}, "not yet")
	_, ok = read(MinutesTo64, RecoveryPoint{0, 60, 1}, RecoveryPoint{12, 50, 1})
	td.CmpFalse(t, ok, "below as the work ended")
	_, ok = read(MinutesTo64)
	td.CmpFalse(t, ok, "not counted")
	_, ok = read(RateAtTen, RecoveryPoint{3, 90, 1}, RecoveryPoint{9, 80, 1})
	td.CmpFalse(t, ok, "not counted to ten minutes")
}

// What is said of a recovery: the tail on its side of the own earlier ones, on one side only where just a bound is known,
// and nothing unusual before the first.
func TestRecoveryIsCompared(t *testing.T) {
	t.Parallel()
	course := func(ten float64) curve { return newCurve(heartAfter(2, 1.6*ten, 10, ten, 20, .8*ten)) }
	past := []curve{course(56), course(58), course(54), course(57), newCurve(nil)}
	compare := func(q RecoveryQuantity, now curve, past []curve) (RecoveryCompared, term) {
		t.Helper()
		r, ok := compareWithOwn(q, now, past)
		td.Require(t).True(ok)
		x, _ := q.termOf(now)
		near(t, "value", r.Value, math.Exp(x.y), 1e-9)
		td.Cmp(t, r.Bound, x.side)
		return r, x
	}
	grid := func(q RecoveryQuantity) posterior {
		var terms []term
		for _, c := range past[:4] {
			x, ok := q.termOf(c)
			td.Require(t).True(ok)
			terms = append(terms, x)
		}
		return newPosterior(q.assumed(), terms)
	}
	first, _ := compare(RateAtTen, course(90), nil)
	td.Cmp(t, first.Statement, baseline.Noted)
	td.Cmp(t, first.Own, (*baseline.Interval)(nil))
	td.CmpTrue(t, first.Basis.Weak)

	g := grid(RateAtTen)
	for ten, want := range map[float64]baseline.Statement{84: baseline.Higher, 60: baseline.AsUsual, 52: baseline.AsUsual, 36: baseline.Lower} {
		r, x := compare(RateAtTen, course(ten), past)
		below := g.below(x.y, x.sd)
		near(t, "tail", r.Tail, min(below, 1-below), 1e-12)
		td.Cmp(t, r.Statement, want)
		td.Cmp(t, []any{r.Basis.Exams, r.Basis.Weak}, []any{4, false}, "the course without counts is not among them")
		for got, q := range map[float64]float64{r.Own.Low: .025, r.Own.Mid: .5, r.Own.High: .975} {
			near(t, "own", g.below(math.Log(got), x.sd), q, 1e-9)
		}
	}
	three, _ := compare(RateAtTen, course(56), past[:3])
	td.CmpTrue(t, three.Basis.Weak)

	g = grid(MinutesTo64)
	late, x := compare(MinutesTo64, newCurve(heartAfter(2, 120, 60, 72)), past)
	td.Cmp(t, []any{late.Statement, late.Bound}, []any{baseline.Higher, 1})
	near(t, "tail", late.Tail, 1-g.below(x.y, x.sd), 1e-12)
	soon, x := compare(MinutesTo64, newCurve(heartAfter(.5, 60, 10, 50)), past)
	td.Cmp(t, []any{soon.Statement, soon.Bound}, []any{baseline.Lower, -1})
	near(t, "tail", soon.Tail, g.below(x.y, x.sd), 1e-12)
	// Below 64 only by an hour, or above it still at half a minute, says nothing of a horse that takes seven.
	for side, now := range map[int]curve{-1: newCurve(heartAfter(60, 50, 70, 48)), 1: newCurve(heartAfter(.2, 120, .5, 110))} {
		r, x := compare(MinutesTo64, now, past)
		td.Cmp(t, []any{r.Statement, r.Bound, x.side}, []any{baseline.Noted, side, side})
		near(t, "tail", r.Tail, .5, 0)
	}
	td.Cmp(t, noVariation().Mark, vitals.Assumed)
}
