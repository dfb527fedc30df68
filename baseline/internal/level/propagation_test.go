package level

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"whorl.example/baseline/internal/normal"
)

// sick is the exact sum over mu, sigma and eps on a grid of all three, of the
// model without drift and rhythm: what the factors of mixture.go approximate.
type sick struct {
	mu, sigma   []float64
	pmu, psigma []float64
	ways        []badDay
	prior       rateBelief
}

func newSick(set Setting, muStep, muReach, uStep, uReach, dir float64) *sick {
	far := farDay
	far.shift *= dir
	g := &sick{ways: []badDay{{1 - far.share - slip.share, dir * BadDayShift, BadDaySpread}, far, slip}, prior: BadDayPrior}
	for u := -muReach; u <= muReach+1e-9; u += muStep {
		g.mu = append(g.mu, set.M0+set.Tau*u)
		g.pmu = append(g.pmu, -.5*u*u)
	}
	for u := -uReach; u <= uReach+1e-9; u += uStep {
		g.sigma = append(g.sigma, set.Sigma0*math.Exp(set.Omega*u))
		g.psigma = append(g.psigma, -.5*u*u)
	}
	return g
}

// fit returns the weights summed over eps (mu by sigma), E eps, and for each
// reading the probability of a bad day.
func (g *sick) fit(ps []Reading) (w []float64, eps float64, bad []float64) {
	ne := len(BadDayRates)
	lp := make([]float64, len(g.mu)*len(g.sigma)*ne)
	best := math.Inf(-1)
	for i := range g.mu {
		for j := range g.sigma {
			for k, s := range BadDayRates {
				l := g.pmu[i] + g.psigma[j] + math.Log(g.prior[k])
				for _, p := range ps {
					l += math.Log((1-s)*g.well(i, j, p) + s*g.ill(i, j, p))
				}
				lp[(i*len(g.sigma)+j)*ne+k] = l
				best = max(best, l)
			}
		}
	}
	total := 0.0
	for i := range lp {
		lp[i] = math.Exp(lp[i] - best)
		total += lp[i]
	}
	w = make([]float64, len(g.mu)*len(g.sigma))
	bad = make([]float64, len(ps))
	for i := range lp {
		lp[i] /= total
		at, s := i/ne, BadDayRates[i%ne]
		w[at] += lp[i]
		eps += lp[i] * s
		if lp[i] > 1e-15 {
			for k, p := range ps {
				c := s * g.ill(at/len(g.sigma), at%len(g.sigma), p)
				bad[k] += lp[i] * c / (c + (1-s)*g.well(at/len(g.sigma), at%len(g.sigma), p))
			}
		}
	}
	return w, eps, bad
}

func (g *sick) well(i, j int, p Reading) float64 {
	v := g.sigma[j]*g.sigma[j] + p.SD*p.SD
	e := p.Y - g.mu[i]
	return math.Exp(-.5*e*e/v) / math.Sqrt(v)
}

func (g *sick) ill(i, j int, p Reading) float64 {
	sd := math.Sqrt(g.sigma[j]*g.sigma[j] + p.SD*p.SD)
	sum := 0.0
	for _, w := range g.ways {
		e, s := p.Y-g.mu[i]-w.shift*sd, w.spread*sd
		sum += w.share * math.Exp(-.5*e*e/(s*s)) / s
	}
	return sum
}

func (g *sick) predict(w []float64, sd float64) *normal.Mixture {
	p := new(normal.Mixture)
	p.Reset(0)
	for i, x := range w {
		if x > 1e-14 {
			s := g.sigma[i%len(g.sigma)]
			p.Add(x, g.mu[i/len(g.sigma)], s*s+sd*sd)
		}
	}
	p.Moments()
	return p
}

var feverish = []Reading{
	{Day: 0, Y: 36, SD: 1.633}, {Day: 1, Y: 40, SD: 1.633}, {Day: 2, Y: 36, SD: 1.633},
	{Day: 3, Y: 44, SD: 1.633}, {Day: 4, Y: 38, SD: .408}, {Day: 5, Y: 60, SD: .816},
}

// The exact sum, worked out by two other programs on the same grid.
func TestExactMixtureVector(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: .5}
	g := newSick(set, .05, 4.5, .2, 4, 1)
	g.ways, g.prior = []badDay{{1, 4, 2}}, rateBelief{.25, .25, .25, .15, .10} // of the reference
	w, eps, bad := g.fit(feverish)
	p := g.predict(w, .408)
	var mu, mu2, sigma float64
	for i, x := range w {
		m := g.mu[i/len(g.sigma)]
		mu, mu2, sigma = mu+x*m, mu2+x*m*m, sigma+x*g.sigma[i%len(g.sigma)]
	}
	lo, hi := p.Limits(.95)
	for i, v := range []struct{ got, want float64 }{
		{mu, 38.899591739}, {math.Sqrt(mu2 - mu*mu), 1.792609428}, {sigma, 3.787158806}, {eps, .102910032},
		{lo, 30.198469476}, {hi, 47.520806002}, {p.CDF(48), .9795463638},
		{bad[0], .005307752}, {bad[1], .013935728}, {bad[3], .081034864}, {bad[4], .007784001}, {bad[5], .976696679},
	} {
		near(t, []string{"E mu", "SD mu", "E sigma", "E eps", "2.5%", "97.5%", "F(48)", "P(bad 1)", "P(bad 2)", "P(bad 4)", "P(bad 5)", "P(bad 6)"}[i], v.got, v.want, 1e-8)
	}
	w, eps, _ = g.fit(feverish[:5])
	p = g.predict(w, .408)
	lo, hi = p.Limits(.95)
	near(t, "E eps, five", eps, .057012322, 1e-8)
	near(t, "2.5%, five", lo, 31.477679246, 1e-8)
	near(t, "97.5%, five", hi, 45.645412882, 1e-8)
	near(t, "F(48), five", p.CDF(48), .9916779578, 1e-8)

	// The same readings by the factors that ship, whose grid of sigma is finer and
	// wider.
	set.BadDays = true
	l := New(set)
	l.spread, l.ratePrior = 2, g.prior
	defer func(far, slipped badDay) { farDay, slip = far, slipped }(farDay, slip)
	farDay, slip = badDay{}, badDay{}
	l.Fit(feverish)
	lo, hi = l.Predict(6, 0, .408).Limits(.95)
	const within = .005 * (47.520806002 - 30.198469476) / 2
	near(t, "2.5%, shipped", lo, 30.198469476, within)
	near(t, "97.5%, shipped", hi, 47.520806002, within)
	for i, p := range l.BadDayProbabilities() {
		near(t, "P(bad), shipped", p, bad[i], 1e-3)
	}
}

// How far the factors are from the exact sum, over histories with and
// without bad days, in half-widths of the 95 % limits.
func TestLongerHistoriesAgainstExactMixture(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: .5}
	g := newSick(set, .05, 6, .2, 5, 1)
	set.BadDays = true
	l := New(set)
	rng := rand.New(rand.NewPCG(1, 2))
	worst, worstOdd, sum := 0.0, 0.0, 0.0
	sets := 8
	if os.Getenv("WHORL_LONG") != "" {
		sets = 60
	}
	for range sets {
		mu, sigma := 38+5*rng.NormFloat64(), 3*math.Exp(.35*rng.NormFloat64())
		var ps []Reading
		for k := range 3 + rng.IntN(18) {
			y := mu + sigma*rng.NormFloat64()
			if rng.Float64() < .15 {
				y += 4 * sigma
			}
			ps = append(ps, Reading{Day: float64(k), Y: y, SD: .816})
		}
		w, _, bad := g.fit(ps)
		lo, hi := g.predict(w, .816).Limits(.95)
		l.Fit(ps)
		a, b := l.Predict(99, 0, .816).Limits(.95)
		off := max(math.Abs(a-lo), math.Abs(b-hi)) / (hi - lo) * 2
		worst, sum = max(worst, off), sum+off
		for i, p := range l.BadDayProbabilities() {
			worstOdd = max(worstOdd, math.Abs(p-bad[i]))
		}
	}
	if sum/float64(sets) > .012 || worst > .06 || worstOdd > .025 {
		t.Error("further from the exact answer than stated")
	}
	t.Logf("limits: mean %.5f worst %.5f half-widths; oddness worst %.4f", sum/float64(sets), worst, worstOdd)
}
