package level

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"whorl.example/baseline/internal/normal"
)

// bisect finds the quantile the slow way.
func bisect(p *normal.Mixture, q float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range p.Parts {
		lo, hi = min(lo, c.Mean-40*c.SD), max(hi, c.Mean+40*c.SD)
	}
	upper := q > .5
	for range 200 {
		mid := .5 * (lo + hi)
		low := p.CDF(p.Mean+mid) < q
		if upper { // keeps the digits of the far tail
			low = p.Upper(p.Mean+mid) > 1-q
		}
		if low {
			lo = mid
		} else {
			hi = mid
		}
	}
	return p.Mean + .5*(lo+hi)
}

// Limits and medians of what histories make, against bisection.
func TestLimitsOfHistories(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 71))
	for _, n := range []int{0, 1, 2, 3, 5, 10, 20, 60} {
		worst, rough := 0.0, 0.0
		for range reps(60, 3000) {
			l := New(with(heartPrior(), Omega, true, false))
			mu, sigma := 38+5*rng.NormFloat64(), 3*math.Exp(Omega*rng.NormFloat64())
			ps := make([]Reading, n)
			for k := range ps {
				ps[k] = Reading{Day: float64(k), Y: mu + sigma*rng.NormFloat64(), SD: 2 * rng.Float64()}
			}
			l.Fit(ps)
			p := l.Predict(float64(n), 0, 3*rng.Float64())
			lo, hi := p.Limits(.95)
			for q, x := range map[float64]float64{.025: lo, .975: hi, .5: p.Quantile(.5)} {
				worst = max(worst, math.Abs(x-bisect(p, q))/p.SD)
			}
			for k := -3.; k <= 3; k += .125 {
				y := p.Mean + k*p.SD
				near(t, "the nearer end", p.Edge(y, .95), min(math.Abs(y-lo), math.Abs(y-hi)), 1e-8*p.SD)
			}
			p.HideNegligible()
			a, b := p.Limits(.95)
			rough = max(rough, math.Abs(a-lo)/p.SD, math.Abs(b-hi)/p.SD)
		}
		t.Logf("n = %d: largest error %.1e SD; of statements %.1e", n, worst, rough)
		if worst > 1e-8 || rough > 1e-5 {
			t.Errorf("n = %d: largest error %.2g SD; of statements %.1e", n, worst, rough)
		}
	}
}

// A prediction moved to another method is the prediction for that method.
func TestMeasuredOtherwise(t *testing.T) {
	t.Parallel()
	l := New(with(heartPrior(), Omega, true, false))
	l.Fit(readings([]float64{36, 40, 36, 44, 38}, []float64{1.633, 1.633, 1.633, 1.633, .408}))
	p, q := l.Predict(7, 0, 1.633), l.Predict(7, 0, .408)
	p.AddVariance(.408*.408 - 1.633*1.633)
	for _, share := range []float64{.5, .95} {
		a, b := p.Limits(share)
		lo, hi := q.Limits(share)
		near(t, "lower", a, lo, 1e-9)
		near(t, "upper", b, hi, 1e-9)
	}
}

// Flat prior on log sigma, no prior on the level, exact readings: the limits are
// Student's t, here of 36 40 36 44 38 (4 degrees of freedom, t(.975) = 2.7764451052).
func TestLimitsAgainstStudentT(t *testing.T) {
	t.Parallel()
	ys := []float64{36, 40, 36, 44, 38}
	// Tau and the SD of log sigma so large that they do not show in nine digits.
	l := newOn(Setting{M0: 38, Tau: 1e6, Sigma0: 3, Omega: 3e4}, .01, 4e-4)
	l.Fit(readings(ys, make([]float64, 5)))
	lo, hi := l.Predict(9, 0, 0).Limits(.95)
	m, sd := meanSD(ys)
	half := 2.7764451052 * sd * math.Sqrt(1.2)
	near(t, "lower", lo, m-half, 2e-8)
	near(t, "upper", hi, m+half, 2e-8)
	near(t, "lower, published", lo, 28.621384114, 2e-8)
	near(t, "upper, published", hi, 48.978615886, 2e-8)
}

// The same of published summaries: readings with the mean and SD that are printed.
// NumAcc1 of the NIST Statistical Reference Datasets (univariate): 10000001 10000003 10000002, certified mean
// 10000002 and SD 1. The small-sample reference interval of the ASVCP guideline's worked example:
// 10 animals of mean 18.72 and SD 2.69, printed 12.34 to 25.10. Quantiles of Student's t are R's.
func TestLimitsOfPublishedSamples(t *testing.T) {
	t.Parallel()
	ten := []float64{-5, -3, -2, -1, -1, 0, 1, 2, 4, 5}
	_, sd := meanSD(ten)
	for i := range ten {
		ten[i] = 18.72 + 2.69/sd*ten[i]
	}
	for _, v := range []struct {
		name             string
		ys               []float64
		mean, sd, t, tol float64
		low, high        float64
	}{
		{"NIST NumAcc1", []float64{10000001, 10000003, 10000002}, 10000002, 1, 4.30265272975, 1e-6, 0, 0},
		{"ASVCP", ten, 18.72, 2.69, 2.2621571628, 1e-6, 12.34, 25.10},
	} {
		l := newOn(Setting{M0: v.mean, Tau: 1e6, Sigma0: v.sd, Omega: 3e4}, .01, 4e-4)
		l.Fit(readings(v.ys, make([]float64, len(v.ys))))
		lo, hi := l.Predict(99, 0, 0).Limits(.95)
		half := v.t * v.sd * math.Sqrt(1+1/float64(len(v.ys)))
		near(t, v.name+" lower", lo, v.mean-half, v.tol)
		near(t, v.name+" upper", hi, v.mean+half, v.tol)
		if v.high > 0 {
			near(t, v.name+" lower, printed", lo, v.low, .005)
			near(t, v.name+" upper, printed", hi, v.high, .005)
		}
		near(t, v.name+" mean", l.Belief().Mu, v.mean, v.tol)
	}
}

func drawSetting(t *rapid.T) Setting {
	s := Setting{
		M0: rapid.Float64Range(-50, 50).Draw(t, "m0"), Tau: rapid.Float64Range(.1, 10).Draw(t, "tau"),
		Sigma0: rapid.Float64Range(.05, 5).Draw(t, "sigma0"), Omega: rapid.SampledFrom([]float64{0, .25, .5}).Draw(t, "omega"),
		Drift: rapid.Bool().Draw(t, "drift"), BadDays: rapid.Bool().Draw(t, "odd"),
	}
	if rapid.Bool().Draw(t, "rhythm") {
		s.Rhythm = &Rhythm{Amplitude: s.Sigma0, AmplitudeSD: s.Sigma0 / 2, From: 16, To: 23}
	}
	return s
}

func drawPoints(t *rapid.T, s Setting) []Reading {
	return rapid.Custom(func(t *rapid.T) []Reading {
		ps := make([]Reading, rapid.IntRange(0, 8).Draw(t, "n"))
		for i := range ps {
			ps[i] = Reading{
				Day: float64(rapid.IntRange(0, 40).Draw(t, "day")), Hour: rapid.Float64Range(0, 24).Draw(t, "hour"),
				// Up to absurd.
				Y:  s.M0 + s.Sigma0*rapid.Float64Range(-300, 300).Draw(t, "y"),
				SD: rapid.Float64Range(0, 2).Draw(t, "sd"), ID: string(rune('a' + i)),
			}
		}
		return ps
	}).Draw(t, "points")
}

// Whatever the readings: finite limits in order, what they promise, and the same
// bits in any order of arrival.
func TestModelProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		set := drawSetting(t)
		ps := drawPoints(t, set)
		l := New(set)
		l.Fit(ps)
		p := l.Predict(41, 8, .3)
		lo, hi := p.Limits(.95)
		if !(lo < p.Quantile(.5) && p.Quantile(.5) < hi) || math.IsInf(hi-lo, 0) {
			t.Fatalf("limits %v %v", lo, hi)
		}
		if math.Abs(p.CDF(lo)-.025) > 1e-7 || math.Abs(p.Upper(hi)-.025) > 1e-7 {
			t.Fatalf("tails %v %v", p.CDF(lo), p.Upper(hi))
		}
		for _, y := range []float64{lo, hi, p.Mean, set.M0} {
			if f, g := p.CDF(y), p.Upper(y); math.Abs(f+g-1) > 1e-12 || p.TwoSided(y) > 1 {
				t.Fatalf("F %v + upper %v", f, g)
			}
		}
		for i, x := range l.BadDayProbabilities() {
			if !(x >= 0 && x <= 1+1e-9) || !set.BadDays && x != 0 {
				t.Fatalf("P(bad day %d) = %v", i, x)
			}
		}
		shuffled := rapid.Permutation(ps).Draw(t, "order")
		l2 := New(set)
		l2.Fit(shuffled)
		a, b := l2.Predict(41, 8, .3).Limits(.95)
		if a != lo || b != hi {
			t.Fatalf("order changes the limits: %v %v, %v %v", lo, hi, a, b)
		}
		// A used model is as good as a new one, and one reading after the other as
		// good as all at once.
		l2.Fit(nil)
		for _, x := range InOrder(ps) {
			if !l2.Learn(x) {
				t.Fatal("a reading in order was refused")
			}
		}
		if a, b := l2.Predict(41, 8, .3).Limits(.95); a != lo || b != hi {
			t.Fatalf("one by one: %v %v, %v %v", lo, hi, a, b)
		}
		if len(ps) > 0 && l2.Learn(Reading{Day: -1}) {
			t.Fatal("an older reading was taken")
		}
	})
}

// No reading moves the limits the wrong way of a mirror; bad days, which have a side, left out.
func TestMirror(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		set := drawSetting(t)
		set.BadDays, set.Rhythm, set.M0 = false, nil, 0
		ps := drawPoints(t, set)
		l := New(set)
		l.Fit(ps)
		lo, hi := l.Predict(41, 8, .3).Limits(.95)
		for i := range ps {
			ps[i].Y = -ps[i].Y
		}
		l.Fit(ps)
		a, b := l.Predict(41, 8, .3).Limits(.95)
		if tol := 1e-9 * (hi - lo); math.Abs(a+hi) > tol || math.Abs(b+lo) > tol {
			t.Fatalf("%v %v mirrored %v %v", lo, hi, a, b)
		}
	})
}
