package baseline

import (
	"math"
	"math/rand/v2"
	"testing"

	"whorl.example/baseline/internal/normal"
)

func pValues(zs []float64) []float64 {
	ps := make([]float64, len(zs))
	for i, z := range zs {
		ps[i] = 2 * normal.Upper(math.Abs(z))
	}
	return ps
}

// A sign exactly as usual (p of 1: a reading at the population's mean, before the
// first exam) must not hide another that is far off.
func TestCombineExactlyUsual(t *testing.T) {
	t.Parallel()
	if p := cauchy([]float64{1, 1, 1, .99999999, 1e-4}); p > .002 {
		t.Errorf("signs exactly as usual hide one far off: %g", p)
	}
}

// False alarms at a nominal 5 %, m signs with correlation rho: equal, of mixed
// sign (one common factor, loadings alternate), or in three blocks. The power
// line is one sign moved by 3 SD.
func TestCombineFalseAlarms(t *testing.T) {
	t.Parallel()
	exams := 4000
	if long() {
		exams = 1000000 // standard error .0002
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
		{"equal", 5, .3, 1, false, 0, .045, .056},
		{"equal", 15, .3, 1, false, 0, .045, .061},
		{"equal", 30, .3, 1, false, 0, .045, .061},
		{"mixed sign", 15, .3, 1, true, 0, .045, .061},
		{"three blocks", 15, .5, 3, false, 0, .045, .061},
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
			if cauchy(pValues(zs)) < .05 {
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
