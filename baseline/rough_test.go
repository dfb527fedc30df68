package baseline

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Where an answer only chooses between two ways of working, few points are looked at. What they say of a reading beyond
// nearly all others, and of how steep a slope may be by chance, is that of all points within a few percent, as far out as anything is asked.
func TestFewPointsAreEnoughToChoose(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 7))
	worst, sum, count, looked, of := 0.0, 0.0, 0, 0, 0
	for range reps(300, 6000) {
		n := outwardFrom + rng.IntN(500)
		set := heartPrior()
		set.Omega, set.Walk = omega, walk*float64(rng.IntN(2))
		if rng.IntN(2) == 0 {
			set.Rhythm = &dayRhythm
		}
		sigma, method := set.Sigma0*math.Exp(omega*rng.NormFloat64()), set.Sigma0*math.Exp(2*rng.NormFloat64()-1)
		points := make([]point, n)
		for i := range points {
			sd := method * math.Exp(.3*rng.NormFloat64())
			points[i] = point{Day: float64(i) * 3, Hour: 24 * rng.Float64(), SD: sd, Y: set.M0 + math.Hypot(sigma, sd)*rng.NormFloat64()}
		}
		few, all := newLevel(set), newLevel(set)
		few.rough = true
		few.fit(points)
		all.fit(points)
		looked, of = looked+len(few.cells), of+len(all.cells)
		p, q := few.predict(0, 8, method), all.predict(0, 8, method)
		for _, at := range []float64{.05, .005, 1e-4, 1e-6} {
			y := q.Quantile(1 - at)
			off := math.Abs(p.Upper(y)/q.Upper(y) - 1)
			worst, sum, count = max(worst, off), sum+off, count+1
			if off > .1 {
				t.Errorf("n = %d, sigma %.2f, methods %.2f: %.3g, of all points %.3g", n, sigma, method, p.Upper(y), q.Upper(y))
			}
		}
	}
	t.Logf("worst %.1e, mean %.1e; %.2f of the points", worst, sum/float64(count), float64(looked)/float64(of))
	if 3*looked > 2*of {
		t.Errorf("%d points instead of %d", looked, of)
	}
}
