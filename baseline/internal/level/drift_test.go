package level

import (
	"math"
	"testing"
)

// Filter against the full multivariate normal density, worked out by another
// program without a filter (10 digits).
func TestDriftVectors(t *testing.T) {
	t.Parallel()
	type ahead struct{ day, mean, lo, mid, hi, cdf float64 }
	for _, v := range []struct {
		name                      string
		days, ys, sds             []float64
		sd                        float64
		ahead                     []ahead
		mu, sigma, phi, steady, l float64
	}{
		{"few", []float64{0, 2.5, 9}, []float64{36, 40, 35}, []float64{0, 0, 0}, 0, []ahead{
			{10, 36.7533557807, 29.5501114022, 36.6737168684, 44.3419069662, .994502072370},
			{40, 37.0460063671, 28.2157141583, 37.0378883443, 45.9233980627, .987778820670},
		}, 37.1033118916, 3.5815843033, .2511216590, .5837509206, -8.4398513409},
		{"same day, mixed methods", []float64{0, 0, 1, 7, 30.25}, []float64{36, 38, 37, 44, 39}, []float64{1.633, .816, .408, 1.633, .408}, .408, []ahead{
			{31, 38.8250887199, 32.6059110245, 38.8489023841, 44.9446419731, .994671728381},
			{75, 38.7729492424, 30.3571882287, 38.7467500619, 47.2486064316, .981076109130},
		}, 38.7514015058, 3.3991666231, .4108295297, .4348541528, -13.5570462013},
		{"climb", []float64{0, 1, 2, 3, 4, 5, 6, 7.5}, []float64{34, 34.5, 35.5, 36, 37, 37.5, 38.5, 39}, []float64{.408, .408, .408, .408, .408, .408, .408, .408}, .408, []ahead{
			{8.5, 38.4194684730, 34.9456618869, 38.4566273583, 41.6173725274, .999963750764},
			{22, 37.3574553616, 31.2921074354, 37.2996734092, 43.7241826068, .997832187356},
		}, 36.8277750440, 2.8556176698, .8936810880, .0352031382, -16.1076521474},
	} {
		l := levelOf(Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: .5, Drift: true}, halfSteady(), .1, 5)
		var ps []Reading
		for i := range v.ys {
			ps = append(ps, Reading{Day: v.days[i], Y: v.ys[i], SD: v.sds[i]})
		}
		fitDays(l, ps)
		for _, a := range v.ahead {
			p := l.Predict(a.day, 0, v.sd)
			lo, hi := p.Limits(.95)
			for i, x := range []float64{p.Mean - a.mean, lo - a.lo, p.Quantile(.5) - a.mid, hi - a.hi, p.CDF(48) - a.cdf} {
				near(t, v.name+" "+[]string{"mean", "2.5%", "median", "97.5%", "F(48)"}[i], x, 0, 1e-8)
			}
		}
		b := l.Belief()
		near(t, v.name+" E mu", b.Mu, v.mu, 1e-8)
		near(t, v.name+" E sigma", b.Sigma, v.sigma, 1e-8)
		near(t, v.name+" E phi", b.Phi, v.phi, 1e-8)
		near(t, v.name+" P(steady)", b.Steady, v.steady, 1e-8)
		near(t, v.name+" log evidence", b.LogEvidence, v.l, 1e-8)
	}
}

// levelOf is newLevelOn with other drifts.
func levelOf(set Setting, drifts []Drift, step, reach float64) *Model {
	l := newOn(set, step, reach)
	l.grid = newGridOf(drifts, gridKey{set.Omega, l.Setting.SpanDays, step, reach, perStepFor(0), true, false})
	l.place = make([]int32, len(drifts)*l.grid.size)
	l.decays = make([][]float64, len(l.grid.days))
	l.clear()
	return l
}

// halfSteady are the drifts of the reference: those that ship, half of the weight on no drift.
func halfSteady() []Drift {
	out := Drifts(true)
	for i := range out {
		if out[i].Weight = .125; out[i].Share == 0 {
			out[i].Weight = .5
		}
	}
	return out
}

// Another grid of sixteen drifts, a fifth of the weight on none, sigma the SD in the long run: filter and
// full multivariate normal density agree to ten digits (worked out by two other programs).
func TestManyDriftsVector(t *testing.T) {
	t.Parallel()
	drifts := []Drift{{Days: 1, Weight: .2}}
	for _, phi := range []float64{.3, .6, .85, .95} {
		for _, days := range []float64{3, 10, 30, 90} {
			drifts = append(drifts, Drift{Share: phi, Days: days, Weight: .8 / 16})
		}
	}
	l := levelOf(Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: .5, SpanDays: 1e14}, drifts, .1, 4)
	if n := l.grid.size / l.grid.perStep * len(l.grid.blocks); n != 40*17 {
		t.Fatalf("%d grid points", n)
	}
	var ps []Reading
	for i, day := range []float64{0, 1, 3, 10, 11.5} {
		ps = append(ps, Reading{Day: day, Y: []float64{36, 40, 36, 44, 38}[i], SD: []float64{1.633, 1.633, 1.633, .408, .816}[i]})
	}
	for _, v := range []struct {
		n                          int
		mean, lo, mid, hi, at, phi float64
	}{
		{0, 38, 25.563215093, 38, 50.436784907, .9457882570, .54},
		{1, 36.573028032, 28.082912292, 36.488078101, 45.563030568, .9890651048, .54},
		{3, 37.371159897, 30.086860562, 37.362166332, 44.713939936, .9935882752, .540039971},
		{5, 38.993909736, 30.325019977, 39.039773074, 47.425922709, .9803970378, .376638375},
	} {
		l.Fit(ps[:v.n])
		l.weighAll(2)
		p := l.Predict(25, 0, .408)
		lo, hi := p.Limits(.95)
		for i, x := range []float64{p.Mean - v.mean, lo - v.lo, p.Quantile(.5) - v.mid, hi - v.hi, p.CDF(48) - v.at, l.Belief().Phi - v.phi} {
			near(t, []string{"mean", "2.5%", "median", "97.5%", "F(48)", "E phi"}[i], x, 0, 1e-8)
		}
	}
}

// weighAll gives every so many values of the grid their weight, as the references do, where [level.choose] leaves some out and
// corrects for it at the ends.
func (l *Model) weighAll(stride int) {
	l.candidates, l.logWeights = nil, make([]float64, len(l.place))
	for k := range l.place {
		if k%l.grid.size%stride == 0 {
			l.candidates = append(l.candidates, int32(k))
		}
	}
	best, total := l.evaluate(math.Inf(-1)), 0.0
	l.chosen, l.weight = l.chosen[:0], l.weight[:0]
	for _, k := range l.candidates {
		l.chosen, l.weight = append(l.chosen, l.place[k]), append(l.weight, math.Exp(l.logWeights[k]-best))
		total += math.Exp(l.logWeights[k] - best)
	}
	for i := range l.weight {
		l.weight[i] /= total
	}
	l.partition()
}

// The factor between the SD of a span and the long-run SD.
func TestWithinSpan(t *testing.T) {
	t.Parallel()
	for _, v := range []struct{ span, phi, days, want float64 }{
		{30, .4, 7, 1.080662}, {30, .4, 30, 1.190395}, {30, .95, 7, 1.232141}, {30, .95, 30, 1.822619},
		{60, .4, 7, 1.043961}, {60, .4, 30, 1.137442}, {60, .95, 7, 1.115118}, {60, .95, 30, 1.473274},
	} {
		near(t, "factor", 1/math.Sqrt(1-v.phi*WithinSpan(v.span, v.days)), v.want, 1e-6)
	}
	near(t, "short span", WithinSpan(1e-5, 1), 1, 1e-5)
}
