package baseline

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func pValues(zs []float64) []float64 {
	ps := make([]float64, len(zs))
	for i, z := range zs {
		ps[i] = 2 * normUpper(math.Abs(z))
	}
	return ps
}

// Worked out in R.
func TestCombineVectors(t *testing.T) {
	ps := pValues([]float64{.3, -1.2, 2.9, .4, -.5, 1.1, -.2, .8, 1.9, -1.4, .1, .6, -.9, 1.3, 2.2})
	near(t, "least p", slices.Min(ps), .00373162660077, 1e-13)
	near(t, "Sidak p", sidakP(slices.Min(ps), 15), .0545356507769, 1e-12)
	near(t, "combined p", combineP(ps), .0473633851914, 1e-12)
	ps = pValues([]float64{.3, -1.2, .9, .4, -.5})
	near(t, "combined p of 5", combineP(ps), .53684251871, 1e-11)
	near(t, "Sidak p of 5", sidakP(slices.Min(ps), 5), .729566407693, 1e-11)
	near(t, "Sidak level", sidakLevel(.05, 15), .003414, 5e-7)
	near(t, "its z", -normQuantile(sidakLevel(.05, 15)/2), 2.928, 5e-4)
}

func TestCombineEdges(t *testing.T) {
	if !math.IsNaN(combineP(nil)) || !math.IsNaN(combineP([]float64{math.NaN()})) {
		t.Error("no sign gives a number")
	}
	for _, p := range []float64{0, 1e-320, 1e-15, 1e-9, .05, .5, .999} {
		near(t, "one sign keeps its p", combineP([]float64{p}), max(p, leastP), 1e-14*max(p, leastP)+1e-16*p)
	}
	if p := combineP([]float64{1, 1, 1, .99999999, 1e-4}); p > .002 {
		t.Errorf("signs exactly as usual hide one far off: %g", p)
	}
	if p := combineP([]float64{1, 1}); !(p <= 1 && p >= .98) {
		t.Errorf("all as usual: %g", p)
	}
}

// False alarms at a nominal 5 %, m signs with correlation rho: equal, of mixed
// sign (one common factor, loadings alternate), or in three blocks. The power
// line is one sign moved by 3 SD.
func TestCombineFalseAlarms(t *testing.T) {
	exams := 4000
	if long() {
		exams = 60000
	}
	rng := rand.New(rand.NewPCG(3, 14))
	for _, v := range []struct {
		name   string
		m      int
		rho    float64
		blocks int
		mixed  bool
		shift  float64
		lo, hi float64
	}{
		{"independent", 5, 0, 1, false, 0, .045, .056},
		{"independent", 15, 0, 1, false, 0, .045, .056},
		{"equal", 5, .3, 1, false, 0, .045, .062},
		{"equal", 15, .3, 1, false, 0, .045, .065},
		{"equal", 30, .3, 1, false, 0, .045, .068},
		{"mixed sign", 15, .3, 1, true, 0, .045, .065},
		{"three blocks", 15, .5, 3, false, 0, .045, .065},
		{"one at +3", 15, 0, 1, false, 3, .52, .57},
	} {
		alarms := 0
		zs := make([]float64, v.m)
		for range exams {
			var common float64
			for i := range zs {
				if i%((v.m+v.blocks-1)/v.blocks) == 0 {
					common = rng.NormFloat64()
				}
				z := math.Sqrt(v.rho)*common + math.Sqrt(1-v.rho)*rng.NormFloat64()
				if v.mixed && i%2 == 1 {
					z = -math.Sqrt(v.rho)*common + math.Sqrt(1-v.rho)*rng.NormFloat64()
				}
				zs[i] = z
			}
			zs[0] += v.shift
			if combineP(pValues(zs)) < .05 {
				alarms++
			}
		}
		rate := float64(alarms) / float64(exams)
		se := math.Sqrt(rate * (1 - rate) / float64(exams))
		t.Logf("%s m=%d rho=%.1f: %.4f (%.4f)", v.name, v.m, v.rho, rate, se)
		if rate < v.lo-3*se || rate > v.hi+3*se {
			t.Errorf("%s m=%d rho=%.1f: %.4f outside %.3f..%.3f", v.name, v.m, v.rho, rate, v.lo, v.hi)
		}
	}
}
