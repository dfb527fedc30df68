package baseline

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"whorl.example/baseline/internal/level"
)

// long reports whether the full simulations were asked for.
func long() bool { return os.Getenv("WHORL_LONG") != "" }

// simHerd makes horses and their readings.
type simHerd struct {
	set    level.Setting // of the truth: M0, Tau, Sigma0, and Omega the SD of log sigma
	phi    float64       // share of a drift in the variance
	days   float64       // its time constant
	step   float64       // days from reading to reading
	sick   float64       // share of bad days
	shift  float64       // of a bad day, own SDs, with spread 1
	sigmaX float64       // factor on sigma, 1 if 0

	methods []float64 // SDs of the methods, one drawn for each reading; none: exact
}

type horse struct {
	mu, sigma float64
	ps        []level.Reading
	next      float64 // mean of the next well reading given all that the truth knows
	nextSD    float64
	sd        float64 // of its method
}

func (h simHerd) horse(rng *rand.Rand, n int) horse {
	o := horse{mu: h.set.M0 + h.set.Tau*rng.NormFloat64(), sigma: h.set.Sigma0 * math.Exp(h.set.Omega*rng.NormFloat64())}
	if h.sigmaX > 0 {
		o.sigma *= h.sigmaX
	}
	step := h.step
	if step == 0 {
		step = 1
	}
	drift, r := 0.0, 0.0
	noise := o.sigma
	if h.phi > 0 {
		sd := o.sigma * math.Sqrt(h.phi)
		noise = o.sigma * math.Sqrt(1-h.phi)
		drift = sd * rng.NormFloat64()
		r = math.Exp(-step / h.days)
	}
	for k := range n {
		y := o.mu + drift + noise*rng.NormFloat64()
		if rng.Float64() < h.sick {
			y += h.shift * o.sigma
		}
		sd := h.method(rng)
		if sd > 0 {
			y += sd * rng.NormFloat64()
		}
		o.ps = append(o.ps, level.Reading{Day: float64(k) * step, Y: y, SD: sd})
		if h.phi > 0 {
			drift = r*drift + o.sigma*math.Sqrt(h.phi*(1-r*r))*rng.NormFloat64()
		}
	}
	o.sd = h.method(rng)
	o.next, o.nextSD = o.mu+drift, math.Hypot(noise, o.sd)
	return o
}

func (h simHerd) method(rng *rand.Rand) float64 {
	if h.methods == nil {
		return 0
	}
	return h.methods[rng.IntN(len(h.methods))]
}

// average is a mean with its Monte-Carlo standard error.
type average struct{ n, sum, square float64 }

func (a *average) add(x float64) { a.n++; a.sum += x; a.square += x * x }

func (a average) mean() float64 { return a.sum / a.n }

func (a average) se() float64 {
	m := a.mean()
	return math.Sqrt(max(0, a.square/a.n-m*m) / a.n)
}

func reps(short, full int) int {
	if long() {
		return full
	}
	return short
}

// atLeast and atMost allow three Monte-Carlo standard errors.
func atLeast(t *testing.T, what string, n int, a average, goal float64) {
	t.Helper()
	if a.mean() < goal-3*a.se() {
		t.Errorf("%s at n=%d: %.4f (%.4f), at least %.4f wanted", what, n, a.mean(), a.se(), goal)
	}
}

func atMost(t *testing.T, what string, n int, got, se, goal float64) {
	t.Helper()
	if got > goal+3*se {
		t.Errorf("%s at n=%d: %.4f (%.4f), at most %.4f wanted", what, n, got, se, goal)
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (off by %.2g)", what, got, want, got-want)
	}
}

// oddHistory is a history with a bad day, a new level and hours all over the clock.
func oddHistory(odd, rhythmic, renew bool) (*level.Model, []level.Reading) {
	set := level.Setting{M0: 38, Tau: 5, Sigma0: 3, Drift: true, Walk: .01, BadDays: odd}
	if rhythmic {
		set.Rhythm = &level.Rhythm{Amplitude: 2, AmplitudeSD: .8, From: 16, To: 23}
	}
	var ps []level.Reading
	for i, y := range []float64{36, 41, 35, 52, 37, 43, 46, 31} {
		ps = append(ps, level.Reading{Day: float64(i*i) / 3, Hour: float64(5 * i % 24), Y: y, SD: .3 * float64(i%3), NewLevel: renew && i == 5})
	}
	l := level.New(set)
	l.Fit(ps)
	return l, ps
}

func nearTo(t *testing.T, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("got %v, want %v", got, want)
	}
}
