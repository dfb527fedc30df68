package normal

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// Halley's step finds the root of a function with the second derivative half of that of its own kind: of a hyperbola
// (x-r)/(x+k) it is the root itself. Where the correction is out of all bounds the step is half of Newton's or twice it.
func TestHalleysStep(t *testing.T) {
	t.Parallel()
	for _, r := range []float64{.3, -.2, .05} {
		for _, k := range []float64{2, -3} {
			g := polynomial{-r / k, (k + r) / (k * k), -(k + r) / (k * k * k)}
			near(t, "the root", g.halley(), r, 1e-12)
		}
	}
	near(t, "no curve", (&polynomial{.6, -2}).halley(), .3, 1e-15)
	near(t, "at most twice", (&polynomial{1, -1, 5}).halley(), 2, 1e-15)
	near(t, "at least half", (&polynomial{1, -1, -5}).halley(), .5, 1e-15)
}

// The last step ends at the root of the series, where the last two terms say that the next moves it by less than limits may be off; else, or where it is
// longer than the series reaches, another must follow.
func TestLastStep(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(9, 6))
	last := 0
	for range 400 {
		p := &Mixture{SD: .5 + rng.Float64(), sharpest: .5 + 2*rng.Float64()}
		g := polynomial{.2 * rng.NormFloat64(), -1 - rng.Float64(), .4 * rng.NormFloat64(), .1 * rng.NormFloat64(), .01 * rng.NormFloat64(), math.Pow(10, -9*rng.Float64()) * rng.NormFloat64()}
		step := g.halley()
		d, ok := p.lastStep(&g, step)
		value := func(d float64) (v float64) {
			for n := len(g) - 1; n >= 0; n-- {
				v = v*d + g[n]
			}
			return v
		}
		if math.Abs(step)*p.sharpest >= limitReach {
			if ok {
				t.Errorf("a step of %g at a sharpness of %g", step, p.sharpest)
			}
			continue
		}
		near(t, "at the root", value(d), 0, 1e-12)
		slope := (value(d+1e-5) - value(d-1e-5)) / 2e-5
		steps := math.Abs(d) * p.sharpest
		moves := max(math.Abs(g[4]*math.Pow(d, 4)/slope)*steps, math.Abs(g[5]*math.Pow(d, 5)/slope)) * steps
		if want := moves < limitError*p.SD && math.Abs(d)*p.sharpest < limitReach; ok != want && math.Abs(moves/(limitError*p.SD)-1) > 1e-6 {
			t.Errorf("last %v: the last term moves %g", ok, moves)
		}
		if ok {
			last++
		}
	}
	if last < 50 || last > 350 {
		t.Errorf("%d of 400 steps were the last", last)
	}
}

// Mean, SD and the standardised cumulants of a mixture are those of its density, by quadrature.
func TestMomentsOfAMixture(t *testing.T) {
	t.Parallel()
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
		near(t, "skewness", p.skewness, moment(3, mean)/math.Pow(v, 1.5), 1e-7)
		near(t, "excess kurtosis", p.kurtosis, moment(4, mean)/(v*v)-3, 1e-6)
		sds, least := 0.0, math.Inf(1)
		for _, c := range p.Parts {
			sds, least = sds+c.Weight*c.SD, min(least, c.SD)
		}
		near(t, "the mean SD of the parts", p.evenness*p.SD, sds, 1e-12)
		near(t, "the least of them", p.sharpest*least, 1, 1e-12)
	}
}

// Tails of a mixture against those of math.Erfc, near and far, each exact where it is small.
func TestTailsOfAMixture(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(9, 2))
	for range 20 {
		p, _ := drawMixture(rng)
		for z := -14.; z <= 14; z += .7 {
			y := p.Mean + z*p.SD
			var low, high float64
			for _, c := range p.Parts {
				u := (y - p.center - c.Mean) / c.SD / math.Sqrt2
				low, high = low+c.Weight*math.Erfc(-u)/2, high+c.Weight*math.Erfc(u)/2
			}
			if min(low, high) < 1e-290 {
				continue
			}
			below, above := p.Tails(y)
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
	t.Parallel()
	rng := rand.New(rand.NewPCG(9, 3))
	for range 20 {
		p, _ := drawMixture(rng)
		p.Add(.3, -60, 4)
		p.Add(.2, 60, 9)
		p.Moments()
		for _, side := range []float64{-1, 1} {
			for x := -4.; x <= 4; x += .5 {
				a := taylor(p.Parts, x, side)
				near(t, "at the point", a[0], p.tail(x, side), 1e-9)
				for _, d := range []float64{-.1, .1} {
					sum := 0.0
					for n := len(a) - 1; n >= 0; n-- {
						sum = sum*d + a[n]
					}
					// The next term: the fifth derivative of a normal density is at most 6 over its SD to the sixth.
					next := 6 / 720. * math.Pow(math.Abs(d)*p.sharpest, 6)
					near(t, "beside it", sum, p.tail(x+d, side), 1e-9+next)
				}
				// Each derivative by differences of the tail.
				const h = .02
				at := func(k float64) float64 { return p.tail(x+k*h, side) }
				scale := func(n float64) float64 { return 40 * h * h * math.Pow(p.sharpest, n+2) }
				near(t, "slope", a[1], (at(1)-at(-1))/(2*h), scale(1)+1e-7)
				near(t, "curvature", 2*a[2], (at(1)-2*at(0)+at(-1))/(h*h), scale(2)+1e-5)
			}
		}
	}
}

// drawMixture is a mixture of a few normals with its density.
func drawMixture(rng *rand.Rand) (*Mixture, func(y float64) float64) {
	p := new(Mixture)
	p.Reset(38)
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
		p.Add(ws[i], ms[i], vs[i])
	}
	p.Moments()
	return p, func(y float64) (f float64) {
		for i := range ws {
			f += ws[i] * normalDensity(y, 38+ms[i], vs[i])
		}
		return f
	}
}

// The series of the logarithm of a polynomial: exp of it is the polynomial, term by term to the fifth.
func TestLogOfAPolynomial(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(9, 5))
	for range 20 {
		var a polynomial
		for n := range a {
			a[n] = rng.NormFloat64()
		}
		a[0] = .2 + rng.Float64()
		q := .025 + rng.Float64()
		g := a.log(q)
		// exp by its own series: n e_n = sum k g_k e_(n-k).
		var e polynomial
		e[0] = math.Exp(g[0])
		for n := 1; n < len(e); n++ {
			for k := 1; k <= n; k++ {
				e[n] += float64(k) * g[k] * e[n-k] / float64(n)
			}
			near(t, "coefficient "+strconv.Itoa(n), q*e[n], a[n], 1e-9)
		}
		near(t, "at the point", q*e[0], a[0], 1e-12)
	}
}

// The derivatives of the tail of one normal: the density times Hermite's polynomials, as the Handbook of Mathematical
// Functions (Abramowitz and Stegun, 26.2.31) gives them.
func TestTaylorOfOneNormal(t *testing.T) {
	t.Parallel()
	for _, sd := range []float64{.5, 1, 3} {
		p := new(Mixture)
		p.Add(1, 2, sd*sd)
		for _, side := range []float64{-1, 1} {
			for u := -6.; u <= 6; u += .37 {
				a := taylor(p.Parts, side*2+u*sd, side)
				f := normalDensity(u, 0, 1)
				for n, he := range []float64{1, u, u*u - 1, u*u*u - 3*u, u*u*u*u - 6*u*u + 3} {
					// The n-th derivative of the density is (-1)^n He_n times it; the tail's is one sign and one power more.
					want := -f * he / math.Pow(sd, float64(n+1)) / math.Gamma(float64(n+2))
					if n%2 == 1 {
						want = -want
					}
					near(t, "derivative "+strconv.Itoa(n+1), a[n+1]*math.Pow(sd, float64(n+1)), want*math.Pow(sd, float64(n+1)), 1e-9)
				}
			}
		}
	}
}

// Mixtures that no history makes: SDs over six e-folds, scattered means. A solver
// without the bracket diverges on some of them.
func TestLimitsOfAbsurdMixtures(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(6, 28))
	worst := 0.0
	for range reps(800, 20000) {
		p := new(Mixture)
		p.Reset(38)
		k := 1 + rng.IntN(40)
		total := 0.0
		ws := make([]float64, k)
		for i := range ws {
			ws[i] = math.Exp(6 * rng.NormFloat64())
			total += ws[i]
		}
		for i := range ws {
			sd := math.Exp(6 * (rng.Float64() - .5))
			p.Add(ws[i]/total, 20*rng.NormFloat64()*rng.Float64(), sd*sd)
		}
		p.Moments()
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
