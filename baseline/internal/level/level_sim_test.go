package level

import (
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"whorl.example/baseline/internal/normal"
)

// long reports whether the full simulations were asked for.
func long() bool { return os.Getenv("WHORL_LONG") != "" }

// simHerd makes horses and their readings.
type simHerd struct {
	set    Setting // of the truth: M0, Tau, Sigma0, and Omega the SD of log sigma
	phi    float64 // share of a drift in the variance
	days   float64 // its time constant
	step   float64 // days from reading to reading
	sick   float64 // share of bad days
	shift  float64 // of a bad day, own SDs, with spread 1
	sigmaX float64 // factor on sigma, 1 if 0

	methods []float64 // SDs of the methods, one drawn for each reading; none: exact
}

type horse struct {
	mu, sigma float64
	ps        []Reading
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
		o.ps = append(o.ps, Reading{Day: float64(k) * step, Y: y, SD: sd})
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

// tally sums what a simulation shows. Coverage and power are exact given the
// interval: the truth of the next reading is normal with known mean and SD.
type tally struct {
	cover, extreme average
	width, oracle  average    // oracle: the limits if mu and sigma were known
	power          [5]average // flags of +k own SDs, the method included
}

func (t *tally) add(h simHerd, o horse, lo, hi float64) {
	between := func(shift float64) float64 {
		m := o.next + shift*math.Hypot(o.sigma, o.sd)
		return normal.Upper((lo-m)/o.nextSD) - normal.Upper((hi-m)/o.nextSD)
	}
	c := between(0)
	t.cover.add(c)
	t.width.add(hi - lo)
	t.oracle.add(2 * 1.959963984540054 * o.nextSD)
	if math.Abs(o.mu-h.set.M0) > 1.5*h.set.Tau {
		t.extreme.add(c)
	}
	for k := range t.power {
		t.power[k].add(1 - between(float64(k)))
	}
}

// ratio is the width in widths of the oracle.
func (t *tally) ratio() float64 { return t.width.sum / t.oracle.sum }

// heartPrior is a heart rate at rest, as assumed: no measured variance components of
// horses were found.
func heartPrior() Setting { return Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: .35} }

func with(s Setting, omega float64, drift, odd bool) Setting {
	s.Omega, s.Drift, s.BadDays = omega, drift, odd
	if drift {
		s.Walk = Walk
	}
	return s
}

// simulate learns n readings of each horse by the analysis and judges the next.
func simulate(h simHerd, analysis Setting, n, reps int, seed uint64) tally {
	l, p, t := New(analysis), new(normal.Mixture), tally{}
	rng := rand.New(rand.NewPCG(seed, uint64(n)))
	step := h.step
	if step == 0 {
		step = 1
	}
	for range reps {
		o := h.horse(rng, n)
		l.Fit(o.ps)
		l.PredictInto(p, float64(n)*step, 0, o.sd)
		lo, hi := p.Limits(.95)
		t.add(h, o, lo, hi)
	}
	return t
}

// shipped learns as a series does: bad days are looked for where a reading stands out.
type shipped struct{ plain, odd *Model }

func newShipped(set Setting) shipped {
	set.BadDays = false
	plain := New(set)
	set.BadDays = true
	return shipped{plain, New(set)}
}

// fit learns readings of which before are from before a new level.
func (s shipped) fit(ps []Reading, before int, today float64) *Model {
	l := s.plain
	if HighStandsOut(ps[:before], l.Setting) || HighStandsOut(ps[before:], l.Setting) {
		l = s.odd
	}
	l.Fit(ps)
	return l
}

// simulateShipped is simulate as the product does it, with the log-SD Omega.
func simulateShipped(h simHerd, omega float64, n, reps int, seed uint64) (tally, average) {
	return simulateSearched(h, with(heartPrior(), omega, true, false), n, reps, seed)
}

// simulateSearched is simulate that looks for bad days where a reading stands out.
func simulateSearched(h simHerd, analysis Setting, n, reps int, seed uint64) (t tally, volatile average) {
	s, p := newShipped(analysis), new(normal.Mixture)
	rng := rand.New(rand.NewPCG(seed, uint64(n)))
	step := h.step
	if step == 0 {
		step = 1
	}
	for range reps {
		o := h.horse(rng, n)
		s.fit(o.ps, 0, float64(n)*step).PredictInto(p, float64(n)*step, 0, o.sd)
		lo, hi := p.Limits(.95)
		t.add(h, o, lo, hi)
		if o.sigma > h.set.Sigma0*math.Exp(1.2815515655446004*h.set.Omega) { // the top tenth
			volatile.add(normal.Upper((lo-o.next)/o.nextSD) - normal.Upper((hi-o.next)/o.nextSD))
		}
	}
	return t, volatile
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

// widthSE is about the standard error of a width ratio.
func widthSE(y tally) float64 { return y.width.se() / y.oracle.mean() }

func (t *tally) String() string {
	f := func(x float64) string { return strconv.FormatFloat(x, 'f', 4, 64) }
	return "cover " + f(t.cover.mean()) + " (" + f(t.cover.se()) + ") width " + f(t.ratio()) + " extreme " + f(t.extreme.mean()) +
		" power +2 +3 +4: " + f(t.power[2].mean()) + " " + f(t.power[3].mean()) + " " + f(t.power[4].mean())
}

// The model where its prior is right, and the usual ways beside it, on the same
// horses: who covers, how wide, what is seen of a change.
func TestCalibrationAndCompetitors(t *testing.T) {
	t.Parallel()
	set := heartPrior()
	rivals := []string{"population", "mean +- 2 SD", "Student t", "fixed SD", "against the last"}
	studentT := map[int]float64{3: 4.30265272975, 5: 2.7764451052, 10: 2.2621571628, 20: 2.09302405441}
	widest := map[int]float64{3: 1.21, 5: 1.15, 10: 1.09, 20: 1.06}
	power := map[int]float64{3: .63, 5: .69, 10: .75, 20: .79}
	const z = 1.959963984540054
	within := math.Sqrt(9*math.Exp(2*.35*.35) + (1.633*1.633+.816*.816+.408*.408)/3) // pooled, methods included
	for _, n := range []int{0, 1, 2, 3, 5, 10, 20, 50} {
		l, p := New(set), new(normal.Mixture)
		// Counts over 15, 30 and 60 seconds, begun anywhere.
		h := simHerd{set: set, methods: []float64{1.633, .816, .408}}
		rng := rand.New(rand.NewPCG(4, uint64(n)))
		var own tally
		others := make([]tally, len(rivals))
		for range reps(600, 20000) {
			o := h.horse(rng, n)
			l.Fit(o.ps)
			l.PredictInto(p, float64(n), 0, o.sd)
			lo, hi := p.Limits(.95)
			own.add(h, o, lo, hi)
			if n < 3 || n > 20 {
				continue
			}
			ys := make([]float64, n)
			for i, p := range o.ps {
				ys[i] = p.Y
			}
			m, sd := meanSD(ys)
			grow := math.Sqrt(1 + 1/float64(n))
			for i, v := range [][2]float64{
				{38, z * math.Hypot(5, within)}, {m, 2 * sd}, {m, studentT[n] * sd * grow}, {m, z * within * grow}, {ys[n-1], z * within * math.Sqrt2},
			} {
				others[i].add(h, o, v[0]-v[1], v[0]+v[1])
			}
		}
		t.Logf("n=%d model: %v", n, &own)
		atLeast(t, "coverage", n, own.cover, .945)
		atMost(t, "coverage", n, own.cover.mean(), own.cover.se(), .955)
		if w, ok := widest[n]; ok {
			atMost(t, "width", n, own.ratio(), widthSE(own), w)
			atLeast(t, "coverage of horses far from the mean", n, own.extreme, .94)
			atLeast(t, "power +3", n, own.power[3], power[n])
			for i, r := range others {
				t.Logf("n=%d %s: %v", n, rivals[i], &r)
			}
			if others[2].ratio() < own.ratio() || others[4].ratio() < own.ratio() {
				t.Errorf("n=%d: wider than Student's t or than the last reading", n)
			}
			if n <= 5 && others[1].cover.mean() > .9 {
				t.Errorf("n=%d: mean +- 2 SD covers %.3f", n, others[1].cover.mean())
			}
			if others[0].extreme.mean() > .85 {
				t.Errorf("n=%d: the population covers far horses in %.3f", n, others[0].extreme.mean())
			}
		}
	}
}

// Sigma0 half of the truth. A prior as wide as .74 keeps .88 in the plain model. A drift takes a calm
// first day for a calm horse, so that with fewer than three readings tomorrow is
// judged as a week from now: without that rule, and with half of the prior on drift,
// daily readings covered .850 .864 .891 at n = 1, 2, 3.
func TestSigmaAssumedTooSmall(t *testing.T) {
	t.Parallel()
	h := simHerd{set: heartPrior(), sigmaX: 2}
	for _, step := range []float64{1, 7} {
		h.step = step
		for _, n := range []int{0, 1, 2, 3, 5, 10, 20} {
			y, _ := simulateShipped(h, Omega, n, reps(150, 20000), 2021)
			t.Logf("every %g days, n=%d: cover %.4f (%.4f)", step, n, y.cover.mean(), y.cover.se())
			atLeast(t, "sigma0 too small by 2", n, y.cover, .88)
		}
	}
	for _, n := range []int{1, 2} {
		plain := simulate(h, with(heartPrior(), Omega, false, false), n, reps(150, 20000), 2021)
		t.Logf("plain, n=%d: cover %.4f (%.4f)", n, plain.cover.mean(), plain.cover.se())
	}
}

// What ships, where its prior of the spread is wider than the truth (log-SD .35), and where it is the
// truth: coverage on average, and of the tenth of horses that vary most.
func TestVolatileHorses(t *testing.T) {
	t.Parallel()
	least := map[int]float64{3: .88, 5: .90, 10: .91, 20: .92}
	for _, truth := range []float64{.35, Omega} {
		set := heartPrior()
		set.Omega = truth
		for _, n := range []int{3, 5, 10, 20} {
			y, volatile := simulateShipped(simHerd{set: set}, Omega, n, reps(600, 20000), 2041)
			t.Logf("log-SD %.2f, n=%d: %v; the tenth that varies most %.4f (%.4f)", truth, n, &y, volatile.mean(), volatile.se())
			atLeast(t, "coverage", n, y.cover, .94)
			if truth < Omega {
				atLeast(t, "coverage of the tenth that varies most", n, volatile, least[n])
			}
		}
	}
}

// What it costs to allow for a drift that is not there, and what it brings where
// one is.
func TestDriftWhereThereIsNone(t *testing.T) {
	t.Parallel()
	for _, n := range []int{1, 2, 3, 5, 10, 20} {
		for _, v := range []struct{ step, omega float64 }{{1, .5}, {7, .5}, {1, Omega}, {7, Omega}} {
			h := simHerd{set: heartPrior(), step: v.step}
			plain := simulate(h, with(heartPrior(), v.omega, false, false), n, reps(300, 8000), 2051)
			drift := simulate(h, with(heartPrior(), v.omega, true, false), n, reps(300, 8000), 2051)
			t.Logf("omega %.2f, every %g days, n=%d: plain %.4f, drift %.4f (%.4f), width x %.3f", v.omega, v.step, n, plain.cover.mean(), drift.cover.mean(), drift.cover.se(), drift.width.sum/plain.width.sum)
			atLeast(t, "coverage", n, drift.cover, .945)
			atMost(t, "width", n, drift.width.sum/plain.width.sum, widthSE(drift)/4, 1.05)
		}
		h := simHerd{set: heartPrior(), phi: .7, days: 20}
		y := simulate(h, with(heartPrior(), .5, true, false), n, reps(300, 4000), 42)
		t.Logf("true drift, n=%d: %v", n, &y)
		atLeast(t, "coverage with a drift", n, y.cover, .945)
	}
}
