package baseline

import (
	"math"
	"math/rand/v2"
	"testing"
)

// drawMixture is a mixture of a few normals with its density.
func drawMixture(rng *rand.Rand) (*predictive, func(y float64) float64) {
	p := new(predictive)
	p.reset(38)
	k := 1 + rng.IntN(6)
	ws, total := make([]float64, k), 0.0
	for i := range ws {
		ws[i] = math.Exp(rng.NormFloat64())
		total += ws[i]
	}
	ms, vs := make([]float64, k), make([]float64, k)
	for i := range ws {
		ws[i] /= total
		ms[i], vs[i] = 2*rng.NormFloat64(), math.Exp(rng.NormFloat64())
		p.add(ws[i], ms[i], vs[i])
	}
	p.sum()
	return p, func(y float64) (f float64) {
		for i := range ws {
			f += ws[i] * normal(y, 38+ms[i], vs[i])
		}
		return f
	}
}

// Mean, SD and the standardised cumulants of a mixture are those of its density, by quadrature.
func TestMomentsOfAMixture(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1))
	for range 12 {
		p, density := drawMixture(rng)
		moment := func(n float64, about float64) (m float64) {
			const h = .05
			for y := 38 - 60.; y <= 38+60; y += h {
				m += h * density(y) * math.Pow(y-about, n)
			}
			return m
		}
		mean := moment(1, 0)
		v := moment(2, mean)
		near(t, "mean", p.Mean, mean, 1e-8)
		near(t, "SD", p.SD, math.Sqrt(v), 1e-8)
		near(t, "skewness", p.skew, moment(3, mean)/math.Pow(v, 1.5), 1e-7)
		near(t, "excess kurtosis", p.kurt, moment(4, mean)/(v*v)-3, 1e-6)
		sds, least := 0.0, math.Inf(1)
		for _, c := range p.parts {
			sds, least = sds+c.w*c.sd, min(least, c.sd)
		}
		near(t, "the mean SD of the parts", p.even*p.SD, sds, 1e-12)
		near(t, "the least of them", p.sharp*least, 1, 1e-12)
	}
}

// Tails of a mixture against those of math.Erfc, near and far, each exact where it is small.
func TestTailsOfAMixture(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 2))
	for range 20 {
		p, _ := drawMixture(rng)
		for z := -14.; z <= 14; z += .7 {
			y := p.Mean + z*p.SD
			var low, high float64
			for _, c := range p.parts {
				u := (y - p.center - c.m) / c.sd / math.Sqrt2
				low, high = low+c.w*math.Erfc(-u)/2, high+c.w*math.Erfc(u)/2
			}
			if min(low, high) < 1e-290 {
				continue
			}
			below, above := p.tails(y)
			near(t, "below", below, low, 1e-11*low+1e-15*high)
			near(t, "above", above, high, 1e-11*high+1e-15*low)
			near(t, "F", p.CDF(y), low, 1e-11*low)
			near(t, "upper", p.Upper(y), high, 1e-11*high)
			near(t, "two-sided", p.TwoSided(y), min(1, 2*min(low, high)), 1e-11*min(low, high))
			// The normal score has the smaller tail of the two, to as many digits.
			z, tail := p.Z(y), min(low, high)
			near(t, "z", math.Erfc(math.Abs(z)/math.Sqrt2)/2, tail, 1e-10*tail)
			if math.Abs(low-high) > 1e-9 && (z > 0) != (low > high) {
				t.Errorf("score %g at tails %g and %g", z, low, high)
			}
		}
	}
}

// The Taylor polynomial of the tail against the tail itself, on both sides, with parts beyond its reach.
func TestTaylorOfTheTail(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 3))
	for range 20 {
		p, _ := drawMixture(rng)
		p.add(.3, -60, 4)
		p.add(.2, 60, 9)
		p.sum()
		for _, side := range []float64{-1, 1} {
			for x := -4.; x <= 4; x += .5 {
				value, a := taylor(p.parts, x, side)
				near(t, "at the point", value, p.tail(x, side), 1e-9)
				near(t, "first coefficient", a[0], value, 0)
				for _, d := range []float64{-.1, .1} {
					sum := 0.0
					for n := len(a) - 1; n >= 0; n-- {
						sum = sum*d + a[n]
					}
					// The next term: the fifth derivative of a normal density is at most 6 over its SD to the sixth.
					next := 6 / 720. * math.Pow(math.Abs(d)*p.sharp, 6)
					near(t, "beside it", sum, p.tail(x+d, side), 1e-9+next)
				}
				// Each derivative by differences of the tail.
				const h = .02
				at := func(k float64) float64 { return p.tail(x+k*h, side) }
				scale := func(n float64) float64 { return 40 * h * h * math.Pow(p.sharp, n+2) }
				near(t, "slope", a[1], (at(1)-at(-1))/(2*h), scale(1)+1e-7)
				near(t, "curvature", 2*a[2], (at(1)-2*at(0)+at(-1))/(h*h), scale(2)+1e-5)
			}
		}
	}
}

// The derivatives of the tail of one normal: the density times Hermite's polynomials, as the Handbook of Mathematical
// Functions (Abramowitz and Stegun, 26.2.31) gives them.
func TestTaylorOfOneNormal(t *testing.T) {
	for _, sd := range []float64{.5, 1, 3} {
		p := new(predictive)
		p.add(1, 2, sd*sd)
		for _, side := range []float64{-1, 1} {
			for u := -6.; u <= 6; u += .37 {
				_, a := taylor(p.parts, side*2+u*sd, side)
				f := normal(u, 0, 1)
				for n, he := range []float64{1, u, u*u - 1, u*u*u - 3*u, u*u*u*u - 6*u*u + 3} {
					// The n-th derivative of the density is (-1)^n He_n times it; the tail's is one sign and one power more.
					want := -f * he / math.Pow(sd, float64(n+1)) / math.Gamma(float64(n+2))
					if n%2 == 1 {
						want = -want
					}
					near(t, "derivative "+itoa(n+1), a[n+1]*math.Pow(sd, float64(n+1)), want*math.Pow(sd, float64(n+1)), 1e-9)
				}
			}
		}
	}
}

// Where the search for limits begins: nearer to the 95 % limits of histories than the normal's 1.96 SDs, to less than half.
func TestStartOfLimits(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 72))
	sum, worst, plain, n := 0.0, 0.0, 0.0, 0
	for k := range 120 {
		l := newLevel(with(heartPrior(), omega, true, oddNone))
		mu, sigma := 38+5*rng.NormFloat64(), 3*math.Exp(omega*rng.NormFloat64())
		ps := make([]point, k%12)
		for i := range ps {
			ps[i] = point{Day: float64(i), Y: mu + sigma*rng.NormFloat64(), SD: 2 * rng.Float64()}
		}
		l.fit(ps)
		p := l.predict(float64(len(ps)), 0, 3*rng.Float64())
		z := -normQuantile(.025)
		low, high := p.Limits(.95)
		plain += math.Abs((high-p.Mean)/p.SD-z) + math.Abs((low-p.Mean)/p.SD+z)
		for _, off := range []float64{(low-p.Mean)/p.SD + p.start(z, -1), (high-p.Mean)/p.SD - p.start(z, 1)} {
			sum, worst, n = sum+math.Abs(off), max(worst, math.Abs(off)), n+1
		}
	}
	t.Logf("off by %.4f in the mean, %.3f at most; z %.4f", sum/float64(n), worst, plain/float64(n))
	if sum > .4*plain || worst > .3 {
		t.Errorf("off by %.4f in the mean, %.3f at most", sum/float64(n), worst)
	}
}

// Sorted, the parts that limits need not see stand last, and none is lost.
func TestLightPartsLast(t *testing.T) {
	p := new(predictive)
	p.reset(0)
	ws := []float64{1e-12, .3, 1e-9, .2, lightest, .5, 9e-9}
	for i, w := range ws {
		p.add(w, float64(i), 1)
	}
	p.sort()
	if p.light != 3 {
		t.Errorf("%d light parts", p.light)
	}
	seen := map[float64]bool{}
	for i, c := range p.parts {
		if (c.w < lightest) != (i >= len(ws)-3) || ws[int(c.m)] != c.w {
			t.Errorf("part %d of weight %g", i, c.w)
		}
		seen[c.m] = true
	}
	if len(seen) != len(ws) {
		t.Errorf("%d parts of %d", len(seen), len(ws))
	}
	p.reset(0)
	p.add(1, 0, 1)
	if p.sort(); p.light != 0 {
		t.Error("of one part one is light")
	}
}
