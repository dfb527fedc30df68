package level

import (
	"math"
	"math/rand/v2"
	"testing"

	"whorl.example/baseline/internal/normal"
)

// Where the search for limits begins: nearer to the 95 % limits of histories than the normal's 1.96 SDs, to less than half.
func TestStartOfLimits(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 72))
	sum, worst, plain, n := 0.0, 0.0, 0.0, 0
	for k := range 120 {
		l := New(with(heartPrior(), Omega, true, false))
		mu, sigma := 38+5*rng.NormFloat64(), 3*math.Exp(Omega*rng.NormFloat64())
		ps := make([]Reading, k%12)
		for i := range ps {
			ps[i] = Reading{Day: float64(i), Y: mu + sigma*rng.NormFloat64(), SD: 2 * rng.Float64()}
		}
		l.Fit(ps)
		p := l.Predict(float64(len(ps)), 0, 3*rng.Float64())
		z := -normal.Quantile(.025)
		low, high := p.Limits(.95)
		plain += math.Abs((high-p.Mean)/p.SD-z) + math.Abs((low-p.Mean)/p.SD+z)
		for _, off := range []float64{(low-p.Mean)/p.SD + p.FirstGuess(z, -1), (high-p.Mean)/p.SD - p.FirstGuess(z, 1)} {
			sum, worst, n = sum+math.Abs(off), max(worst, math.Abs(off)), n+1
		}
	}
	t.Logf("off by %.4f in the mean, %.3f at most; z %.4f", sum/float64(n), worst, plain/float64(n))
	if sum > .4*plain || worst > .3 {
		t.Errorf("off by %.4f in the mean, %.3f at most", sum/float64(n), worst)
	}
}

// Sorted, limits see the parts that are heavy enough, which stand first, and none is lost.
func TestLightPartsLast(t *testing.T) {
	t.Parallel()
	light := 0
	for _, rhythmic := range []bool{false, true} {
		set := with(heartPrior(), Omega, true, false)
		if rhythmic {
			set.Rhythm = &aDay
		}
		l := New(set)
		l.Fit(readings([]float64{36, 40, 36, 44, 38, 37, 41, 39}, []float64{1.6, 1.6, 0, 1.6, 1.6, .4, .4, .4}))
		p := l.Predict(9, 8, .4)
		p.HideNegligible()
		light += p.Hidden
		total, before := 0.0, map[bool]int{}
		for i, c := range p.Parts {
			total += c.Weight
			if heavy := i < len(p.Parts)-p.Hidden; heavy != (c.Weight >= normal.Negligible) {
				t.Errorf("part %d of weight %g", i, c.Weight)
			}
		}
		near(t, "weights", total, 1, 1e-12)
		// Each in the order of the grid, with its own weight.
		for i, j := range l.chosen {
			c := &l.cells[j]
			at := c.block*l.grid.size + c.value
			if last, ok := before[i < l.substantial]; ok && at <= last {
				t.Errorf("cell %d after %d", at, last)
			}
			before[i < l.substantial] = at
			if i > 0 && l.weight[i] > 1e-6 {
				other := &l.cells[l.chosen[0]]
				ratio := c.prior + l.states[j].logLik() - other.prior - l.states[l.chosen[0]].logLik()
				near(t, "ratio of weights", math.Log(l.weight[i]/l.weight[0]), ratio, 1e-9)
			}
		}
	}
	if light == 0 {
		t.Error("no part is light")
	}
}

// Folding changes nothing of the likelihood, however small or great the product is.
func TestFoldKeepsTheLikelihood(t *testing.T) {
	t.Parallel()
	for _, prod := range []float64{1, 1.5, 2, .75, 1e-300, 1e300, 3e-310, 5e-324, 7} {
		s := state{prod: prod, quad: 3.25}
		want := s.logLik()
		if prod < 1e-307 { // math.Log of numbers so small is wrong on some processors
			want = .5 * (math.Log(prod*0x1p60) - 60*math.Ln2 - 3.25)
		}
		s.fold()
		near(t, "log likelihood", s.logLik(), want, 1e-12*math.Max(1, math.Abs(want)))
		if !(s.prod >= .5 && s.prod < 1) {
			t.Errorf("%g was folded to %g", prod, s.prod)
		}
	}
}
