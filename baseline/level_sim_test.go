package baseline

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"
)

// long reports whether the full simulations were asked for.
func long() bool { return os.Getenv("WHORL_LONG") != "" }

// herd makes horses and their readings.
type herd struct {
	set    setting // of the truth: M0, Tau, Sigma0, and Omega the SD of log sigma
	phi    float64 // share of a drift in the variance
	days   float64 // its time constant
	step   float64 // days from reading to reading
	sick   float64 // share of bad days
	shift  float64 // of a bad day, own SDs, with spread 1
	sigmaX float64 // factor on sigma, 1 if 0
}

type horse struct {
	mu, sigma float64
	ps        []point
	next      float64 // mean of the next well reading given all that the truth knows
	nextSD    float64
}

func (h herd) horse(rng *rand.Rand, n int) horse {
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
		o.ps = append(o.ps, point{Day: float64(k) * step, Y: y})
		if h.phi > 0 {
			drift = r*drift + o.sigma*math.Sqrt(h.phi*(1-r*r))*rng.NormFloat64()
		}
	}
	o.next, o.nextSD = o.mu+drift, noise
	return o
}

// tally sums what a simulation shows. Coverage and power are exact given the
// interval: the truth of the next reading is normal with known mean and SD.
type tally struct {
	n                     int
	cover, cover2, width  float64
	extreme, extremeCover float64
	power                 [5]float64 // flags of +k own SDs
}

func (t *tally) add(h herd, o horse, lo, hi float64) {
	between := func(shift float64) float64 {
		m := o.next + shift*o.sigma
		return normUpper((lo-m)/o.nextSD) - normUpper((hi-m)/o.nextSD)
	}
	c := between(0)
	t.n++
	t.cover += c
	t.cover2 += c * c
	t.width += hi - lo
	if math.Abs(o.mu-h.set.M0) > 1.5*h.set.Tau {
		t.extreme++
		t.extremeCover += c
	}
	for k := range t.power {
		t.power[k] += 1 - between(float64(k))
	}
}

func (t *tally) coverage() (c, se float64) {
	n := float64(t.n)
	c = t.cover / n
	return c, math.Sqrt((t.cover2/n - c*c) / n)
}

func heart() setting { return setting{M0: 38, Tau: 5, Sigma0: 3, Omega: .35} }

func simulate(h herd, analysis setting, n, reps int, seed uint64) tally {
	l, p, t := newLevel(analysis), new(predictive), tally{}
	rng := rand.New(rand.NewPCG(seed, uint64(n)))
	step := h.step
	if step == 0 {
		step = 1
	}
	for range reps {
		o := h.horse(rng, n)
		l.fit(o.ps)
		l.predictInto(p, float64(n)*step, 0, 0)
		lo, hi := p.Limits(.95)
		t.add(h, o, lo, hi)
	}
	return t
}

func TestScratchGoals(t *testing.T) {
	reps := 2000
	plain := heart()
	show := func(name string, h herd, a setting, ns ...int) {
		for _, n := range ns {
			y := simulate(h, a, n, reps, 11)
			c, se := y.coverage()
			f := float64(y.n)
			t.Logf("%-28s n=%-3d cover %.4f (%.4f) width %.2f x oracle %.3f extreme %.3f power+2..4 %.3f %.3f %.3f", name, n, c, se, y.width/f, y.width/f/13.25*1.0, y.extremeCover/y.extreme, y.power[2]/f, y.power[3]/f, y.power[4]/f)
		}
	}
	show("plain .35", herd{set: plain}, plain, 0, 1, 2, 3, 5, 10, 20, 50)
	p5 := plain
	p5.Omega = .5
	d5 := p5
	d5.Drift = true
	o5 := p5
	o5.Odd = oddUp
	do5 := d5
	do5.Odd = oddUp
	show("plain .5", herd{set: plain}, p5, 1, 2, 3, 5, 10, 20)
	show("drift .5", herd{set: plain}, d5, 1, 2, 3, 5, 10, 20)
	show("odd .5", herd{set: plain}, o5, 1, 2, 3, 5, 10, 20)
	show("drift odd .5", herd{set: plain}, do5, 1, 2, 3, 5, 10, 20, 50)
	sick := herd{set: plain, sick: .1, shift: 4}
	show("sick: plain .5", sick, p5, 20)
	show("sick: odd .5", sick, o5, 5, 10, 20)
	show("sick: drift odd .5", sick, do5, 5, 10, 20)
}
