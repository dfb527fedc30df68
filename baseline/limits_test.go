package baseline

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// bisect finds the quantile the slow way.
func bisect(p *predictive, q float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range p.parts {
		lo, hi = min(lo, c.m-40*c.sd), max(hi, c.m+40*c.sd)
	}
	upper := q > .5
	for range 200 {
		mid := .5 * (lo + hi)
		low := p.CDF(p.center+mid) < q
		if upper { // keeps the digits of the far tail
			low = p.Upper(p.center+mid) > 1-q
		}
		if low {
			lo = mid
		} else {
			hi = mid
		}
	}
	return p.center + .5*(lo+hi)
}

// Mixtures that no history makes: SDs over six e-folds, scattered means. A solver
// without the bracket diverges on some of them.
func TestLimitsOfAbsurdMixtures(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 28))
	worst := 0.0
	for range reps(800, 20000) {
		p := new(predictive)
		p.reset(38)
		k := 1 + rng.IntN(40)
		total := 0.0
		ws := make([]float64, k)
		for i := range ws {
			ws[i] = math.Exp(6 * rng.NormFloat64())
			total += ws[i]
		}
		for i := range ws {
			sd := math.Exp(6 * (rng.Float64() - .5))
			p.add(ws[i]/total, 20*rng.NormFloat64()*rng.Float64(), sd*sd)
		}
		p.sum()
		for _, share := range []float64{.5, .95, .999} {
			lo, hi := p.Limits(share)
			for i, x := range []float64{lo, hi} {
				want := bisect(p, (1-share)/2+float64(i)*share)
				// The reference itself is good to a rounding of its bracket.
				worst = max(worst, math.Abs(x-want)/p.SD)
			}
		}
	}
	t.Logf("largest error %.2g SD", worst)
	if worst > 1e-8 {
		t.Errorf("largest error %.2g SD", worst)
	}
}

// Limits and medians of what histories make, against bisection.
func TestLimitsOfHistories(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 71))
	for _, n := range []int{0, 1, 2, 3, 5, 10, 20, 60} {
		worst, rough := 0.0, 0.0
		for range reps(60, 3000) {
			l := newLevel(with(heartPrior(), omega, true, false))
			mu, sigma := 38+5*rng.NormFloat64(), 3*math.Exp(omega*rng.NormFloat64())
			ps := make([]point, n)
			for k := range ps {
				ps[k] = point{Day: float64(k), Y: mu + sigma*rng.NormFloat64(), SD: 2 * rng.Float64()}
			}
			l.fit(ps)
			p := l.predict(float64(n), 0, 3*rng.Float64())
			lo, hi := p.Limits(.95)
			for q, x := range map[float64]float64{.025: lo, .975: hi, .5: p.Quantile(.5)} {
				worst = max(worst, math.Abs(x-bisect(p, q))/p.SD)
			}
			for k := -3.; k <= 3; k += .125 {
				y := p.Mean + k*p.SD
				near(t, "the nearer end", p.edge(y, .95), min(math.Abs(y-lo), math.Abs(y-hi)), 1e-8*p.SD)
			}
			p.sort()
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
	l := newLevel(with(heartPrior(), omega, true, false))
	l.fit(readings([]float64{36, 40, 36, 44, 38}, []float64{1.633, 1.633, 1.633, 1.633, .408}))
	p, q := l.predict(7, 0, 1.633), l.predict(7, 0, .408)
	p.measured(.408*.408 - 1.633*1.633)
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
	ys := []float64{36, 40, 36, 44, 38}
	// Tau and the SD of log sigma so large that they do not show in nine digits.
	l := newLevelOn(setting{M0: 38, Tau: 1e6, Sigma0: 3, Omega: 3e4}, .01, 4e-4)
	l.fit(readings(ys, make([]float64, 5)))
	lo, hi := l.predict(9, 0, 0).Limits(.95)
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
		l := newLevelOn(setting{M0: v.mean, Tau: 1e6, Sigma0: v.sd, Omega: 3e4}, .01, 4e-4)
		l.fit(readings(v.ys, make([]float64, len(v.ys))))
		lo, hi := l.predict(99, 0, 0).Limits(.95)
		half := v.t * v.sd * math.Sqrt(1+1/float64(len(v.ys)))
		near(t, v.name+" lower", lo, v.mean-half, v.tol)
		near(t, v.name+" upper", hi, v.mean+half, v.tol)
		if v.high > 0 {
			near(t, v.name+" lower, printed", lo, v.low, .005)
			near(t, v.name+" upper, printed", hi, v.high, .005)
		}
		near(t, v.name+" mean", l.belief().Mu, v.mean, v.tol)
	}
}

func drawSetting(t *rapid.T) setting {
	s := setting{
		M0: rapid.Float64Range(-50, 50).Draw(t, "m0"), Tau: rapid.Float64Range(.1, 10).Draw(t, "tau"),
		Sigma0: rapid.Float64Range(.05, 5).Draw(t, "sigma0"), Omega: rapid.SampledFrom([]float64{0, .25, .5}).Draw(t, "omega"),
		Drift: rapid.Bool().Draw(t, "drift"), Odd: rapid.Bool().Draw(t, "odd"),
	}
	if rapid.Bool().Draw(t, "rhythm") {
		s.Rhythm = &rhythm{Amplitude: s.Sigma0, AmplitudeSD: s.Sigma0 / 2, From: 16, To: 23}
	}
	return s
}

func drawPoints(t *rapid.T, s setting) []point {
	return rapid.Custom(func(t *rapid.T) []point {
		ps := make([]point, rapid.IntRange(0, 8).Draw(t, "n"))
		for i := range ps {
			ps[i] = point{
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
	rapid.Check(t, func(t *rapid.T) {
		set := drawSetting(t)
		ps := drawPoints(t, set)
		l := newLevel(set)
		l.fit(ps)
		p := l.predict(41, 8, .3)
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
		for i, x := range l.oddness() {
			if !(x >= 0 && x <= 1+1e-9) || !set.Odd && x != 0 {
				t.Fatalf("P(bad day %d) = %v", i, x)
			}
		}
		shuffled := rapid.Permutation(ps).Draw(t, "order")
		l2 := newLevel(set)
		l2.fit(shuffled)
		a, b := l2.predict(41, 8, .3).Limits(.95)
		if a != lo || b != hi {
			t.Fatalf("order changes the limits: %v %v, %v %v", lo, hi, a, b)
		}
		// A used model is as good as a new one, and one reading after the other as
		// good as all at once.
		l2.fit(nil)
		for _, x := range inOrder(ps) {
			if !l2.learn(x) {
				t.Fatal("a reading in order was refused")
			}
		}
		if a, b := l2.predict(41, 8, .3).Limits(.95); a != lo || b != hi {
			t.Fatalf("one by one: %v %v, %v %v", lo, hi, a, b)
		}
		if len(ps) > 0 && l2.learn(point{Day: -1}) {
			t.Fatal("an older reading was taken")
		}
	})
}

// No reading moves the limits the wrong way of a mirror; bad days, which have a side, left out.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawSetting(t)
		set.Odd, set.Rhythm, set.M0 = false, nil, 0
		ps := drawPoints(t, set)
		l := newLevel(set)
		l.fit(ps)
		lo, hi := l.predict(41, 8, .3).Limits(.95)
		for i := range ps {
			ps[i].Y = -ps[i].Y
		}
		l.fit(ps)
		a, b := l.predict(41, 8, .3).Limits(.95)
		if tol := 1e-9 * (hi - lo); math.Abs(a+hi) > tol || math.Abs(b+lo) > tol {
			t.Fatalf("%v %v mirrored %v %v", lo, hi, a, b)
		}
	})
}
