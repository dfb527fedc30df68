package recovery

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
)

// One earlier value, no measuring error, the horse's SD all but known: mu given y is normal
// with mean m0+(y-m0)*k, k = tau²/(tau²+sigma²), and the next is wider by sigma². By hand
// with m0 4, tau .4, sigma .3: k = .64, mean 4.32 for y = 4.5, SD sqrt(.09*.64+.09) = .384187.
func TestRecoveryGridAgainstConjugate(t *testing.T) {
	t.Parallel()
	g := newPosterior(assumption{4, .4, .3, 1e-9}, []term{{y: 4.5}})
	nearTo(t, g.quantile(.5, 0), 4.32, 2e-4)
	nearTo(t, g.quantile(.975, 0), 4.32+1.959964*math.Sqrt(.09*.64+.09), 5e-4)
	// "Not yet" pulls up, "already" pulls down.
	m := func(side int) float64 {
		return newPosterior(assumption{4, .4, .3, .5}, []term{{y: 4.5, side: side}}).quantile(.5, 0)
	}
	td.CmpTrue(t, m(1) > 4.1 && m(-1) < 4)
}

// Coverage of the interval of the next recovery, horses drawn from the prior, some earlier
// recoveries only bounded ("not yet at 15 minutes"). Seed 20250611; Monte-Carlo standard
// error .015 a cell at 200 horses, .003 in the long form (5000).
func TestRecoveryOwnCoverage(t *testing.T) {
	t.Parallel()
	horses := 200
	if os.Getenv("WHORL_LONG") != "" {
		horses = 5000
	}
	rng := rand.New(rand.NewPCG(20250611, 1))
	for _, q := range allQuantities {
		p := q.assumed()
		for _, n := range []int{1, 3, 8} {
			hit, width := 0, 0.0
			for h := range horses {
				mu, sd := p.m0+p.tau*rng.NormFloat64(), p.sigma0*math.Exp(p.omega*rng.NormFloat64())
				var past []term
				for range n {
					x := term{y: mu + sd*rng.NormFloat64() + .02*rng.NormFloat64(), sd: .02}
					if limit := math.Log(15); q == MinutesTo64 && x.y > limit {
						x = term{y: limit, side: 1}
					}
					past = append(past, x)
				}
				g := newPosterior(p, past)
				next := mu + sd*rng.NormFloat64() + .02*rng.NormFloat64()
				if f := g.below(next, .02); f > .025 && f < .975 {
					hit++
				}
				if h < 5 { // the limits cost far more than the coverage
					width += (g.quantile(.975, .02) - g.quantile(.025, .02)) / 5
				}
			}
			share := float64(hit) / float64(horses)
			se := math.Sqrt(.95 * .05 / float64(horses))
			t.Logf("%s after %d: coverage %.3f (MC se %.3f), mean log width of 5 %.2f", q, n, share, se, width)
			td.Cmp(t, share, td.Between(.95-3*se, .95+3*se))
		}
	}
}

func TestCompareRecovery(t *testing.T) {
	t.Parallel()
	course := func(ten float64) curve {
		return newCurve(heartAfter(2, 1.6*ten, 10, ten, 20, .8*ten))
	}
	past := []curve{course(56), course(58), course(54), course(57)}
	get := func(q RecoveryQuantity, now curve, past []curve) RecoveryCompared {
		r, ok := compareWithOwn(q, now, past)
		td.CmpTrue(t, ok)
		return r
	}
	td.Cmp(t, get(RateAtTen, course(56), past).Statement, baseline.AsUsual)
	td.Cmp(t, get(RateAtTen, course(84), past).Statement, baseline.Higher)
	td.Cmp(t, get(RateAtTen, course(38), past).Statement, baseline.Lower)
	td.Cmp(t, get(RateAtTen, course(84), nil).Statement, baseline.Noted)
	td.Cmp(t, get(MinutesTo64, course(56), past).Statement, baseline.AsUsual)
	// Still above 64 at 60 minutes, where it took under ten: longer, though nobody saw the end.
	late := get(MinutesTo64, newCurve(heartAfter(2, 120, 60, 72)), past)
	td.Cmp(t, late.Statement, baseline.Higher)
	td.Cmp(t, late.Bound, 1)
	// Still above at 5 minutes says nothing.
	td.Cmp(t, get(MinutesTo64, newCurve(heartAfter(2, 90, 5, 70)), past).Statement, baseline.Noted)
	// No count around ten minutes: no answer, and no extrapolation.
	_, ok := compareWithOwn(RateAtTen, newCurve(heartAfter(2, 90, 9, 60)), past)
	td.CmpFalse(t, ok)
}
