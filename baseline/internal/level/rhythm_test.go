package level

import (
	"math"
	"testing"
)

var lateAfternoon = &Rhythm{Amplitude: .25, AmplitudeSD: .1, From: 17, To: 21}

func TestRhythmPrior(t *testing.T) {
	t.Parallel()
	w := lateAfternoon.prior()
	for i, v := range []struct{ got, want float64 }{
		{w.p, .061788495592}, {w.q, -.230597804871}, {w.pp, .006470031721}, {w.pq, -.000740962895}, {w.qq, .009036802481},
	} {
		near(t, []string{"E p", "E q", "Var p", "Cov", "Var q"}[i], v.got, v.want, 1e-11)
	}
}

// Worked out by two programs, one of them by the full multivariate normal.
func TestRhythmVectors(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 37.7, Tau: .3, Sigma0: .2, Omega: .5, Rhythm: lateAfternoon}
	ps := []Reading{{0, 7.5, 37.4, .1, "", false, 0}, {0, 18, 37.9, .1, "", false, 0}, {1, 8, 37.5, .1, "", false, 0}, {1, 20.5, 38, .1, "", false, 0}, {2, 12.25, 37.6, .05, "", false, 0}}
	ps[1].ID, ps[3].ID = "b", "b"
	l := newOn(set, .1, 5)
	for _, v := range []struct {
		n                               int
		hour, mu, p, q, mean, lo, hi, f float64
	}{
		{0, 8, 37.7, .061788496, -.230597805, 37.469402195, 36.646759716, 38.292044674, .9608693065},
		{0, 19, 37.7, .061788496, -.230597805, 37.938732415, 37.115628244, 38.761836585, .7423585579},
		{3, 8, 37.680792409, .060321053, -.228501559, 37.452743728, 36.968131676, 37.938850203, .9957410566},
		{3, 19, 37.680792409, .060321053, -.228501559, 37.917120203, 37.408847992, 38.429695267, .8815894237},
		{5, 8, 37.695176596, .081144541, -.237157453, 37.449219946, 37.048536567, 37.854212783, .9987211964},
		{5, 19, 37.695176596, .081144541, -.237157453, 37.945254857, 37.534576982, 38.352648550, .9034718382},
	} {
		fitDays(l, ps[:v.n])
		b, p := l.Belief(), l.Predict(3, v.hour, .1)
		lo, hi := p.Limits(.95)
		for i, x := range []float64{b.Mu - v.mu, b.Cos - v.p, b.Sin - v.q, p.Mean - v.mean, lo - v.lo, hi - v.hi, p.CDF(38.2) - v.f} {
			near(t, []string{"E mu", "E p", "E q", "mean", "2.5%", "97.5%", "F(38.2)"}[i], x, 0, 1e-8)
		}
	}
	set.Omega = 0
	l = newOn(set, .1, 5)
	fitDays(l, ps)
	b, p := l.Belief(), l.Predict(3, 19, .1)
	near(t, "mu", b.Mu, 37.694582126979, 1e-11)
	near(t, "p", b.Cos, .072953442281, 1e-11)
	near(t, "q", b.Sin, -.236782278807, 1e-11)
	near(t, "mean", p.Mean, 37.942177985554, 1e-11)
	near(t, "sd", p.SD, .254834358778, 1e-11)
}

func TestRhythmWithDriftVector(t *testing.T) {
	t.Parallel()
	l := levelOf(Setting{M0: 37.7, Tau: .3, Sigma0: .2, Omega: .5, Drift: true, Rhythm: lateAfternoon}, halfSteady(), .1, 5)
	var ps []Reading
	for i, h := range []float64{7.5, 18, 32, 92.5} {
		ps = append(ps, Reading{Day: h / 24, Hour: h, Y: []float64{37.4, 37.9, 37.5, 38}[i], SD: []float64{.1, .1, .05, .1}[i]})
	}
	l.Fit(ps)
	for _, v := range []struct{ hour, mean, lo, hi, f float64 }{
		{104, 37.4834311905, 37.0711703882, 37.8902871467, .998149268731},
		{115, 37.9658762202, 37.5500396462, 38.3752951895, .885717042174},
	} {
		p := l.Predict(v.hour/24, v.hour, .1)
		lo, hi := p.Limits(.95)
		for i, x := range []float64{p.Mean - v.mean, lo - v.lo, hi - v.hi, p.CDF(38.2) - v.f} {
			near(t, []string{"mean", "2.5%", "97.5%", "F(38.2)"}[i], x, 0, 1e-8)
		}
	}
}

// sin(x)/x near nought, by its series, and elsewhere.
func TestSinc(t *testing.T) {
	t.Parallel()
	for _, x := range []float64{0, 1e-9, 9.9e-5, 1.01e-4, -9.9e-5, .5, -2} {
		want := 1 - x*x/6 + x*x*x*x/120
		if math.Abs(x) > .01 {
			want = math.Sin(x) / x
		}
		near(t, "sinc", sinc(x), want, 1e-15)
	}
}
