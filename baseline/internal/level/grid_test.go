package level

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// The points that are looked at against dense quadrature: a quarter of the step and six prior SDs of reach. Histories with
// and without drift, exact and coarse readings, one in twelve of them far out, the horse's own spread off by e^.5.
// The goal is .3 % of the half-width; the usual step everywhere would leave .27 % at 200 readings and 1.7 % at 400.
func TestGridAgainstDenseQuadrature(t *testing.T) {
	t.Parallel()
	for _, n := range []int{0, 1, 2, 3, 5, 8, 12, 20, 21, 40, 80, 150, 151, 250, 400, 450} {
		worst, sum, parts := 0.0, 0.0, 0
		reps := reps(max(2, 24/(1+n/20)), max(20, 400/(1+n/10)))
		for k := range reps {
			rng := rand.New(rand.NewPCG(uint64(n), uint64(k)))
			set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega, Drift: true}
			mu, sigma, d, day := 38+5*rng.NormFloat64(), 3*math.Exp(.5*rng.NormFloat64()), 0.0, 0.0
			sd, phi := []float64{0, .4, 1.6, 6}[k%4], []float64{0, .5, .9}[k/4%3]
			var ps []Reading
			for i := range n {
				gap := 3 * rng.Float64()
				r := math.Exp(-gap / 14)
				d = r*d + math.Sqrt(phi*(1-r*r))*sigma*rng.NormFloat64()
				day += gap
				y := mu + d + math.Sqrt(1-phi)*sigma*rng.NormFloat64() + sd*rng.NormFloat64()
				if rng.IntN(12) == 0 {
					y += 4 * sigma
				}
				ps = append(ps, Reading{Day: day, Y: y, SD: sd, ID: fmt.Sprint(i)})
			}
			l, dense := New(set), newOn(set, GridStep/4, 6)
			l.Fit(ps)
			dense.Fit(ps)
			p := l.Predict(day+1, 0, sd)
			parts += len(p.Parts)
			lo, hi := p.Limits(.95)
			a, b := dense.Predict(day+1, 0, sd).Limits(.95)
			off := 2 * max(math.Abs(a-lo), math.Abs(b-hi)) / (b - a)
			worst, sum = max(worst, off), sum+off
		}
		t.Logf("n = %d: worst %.1e, mean %.1e of a half-width, %d parts", n, worst, sum/float64(reps), parts/reps)
		if worst > 1e-3 {
			t.Errorf("n = %d: off by %.2g of a half-width", n, worst)
		}
	}
}
