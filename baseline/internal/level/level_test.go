package level

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (off by %.2g)", what, got, want, got-want)
	}
}

// fitDays is Fit of the model without visits, of which these figures are: each reading is a day of its own.
func fitDays(l *Model, ps []Reading) {
	l.clear()
	for _, p := range ps {
		l.Append(p)
		l.observations[l.n-1].joins = false
	}
	l.looks, l.since, l.repeated = l.n, l.n, false
	l.Weigh()
}

// readings puts values and method SDs on consecutive days.
func readings(ys, sds []float64) []Reading {
	ps := make([]Reading, len(ys))
	for i := range ys {
		ps[i] = Reading{Day: float64(i), Y: ys[i], SD: sds[i]}
	}
	return ps
}

// The posterior against a quadrature with 20001 points of log sigma over 9 prior
// SDs: to ten digits on a dense grid; on the grid that ships, whose reach of 5
// prior SDs shows before the first reading (7e-6), and within 1e-6 after it.
func TestPlainModelVectors(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: .5}
	l := newOn(set, .1, 5) // 51 values, as the reference
	if l.grid.size != 101 {
		t.Fatalf("%d grid points", l.grid.size)
	}
	plainVectors(t, l, 1e-5, 1e-6)
	plainVectors(t, newOn(set, .01, 9), 2e-9, 2e-9)
}

func plainVectors(t *testing.T, l *Model, population, personal float64) {
	t.Helper()
	ps := readings([]float64{36, 40, 36, 44, 38}, []float64{1.633, 1.633, 1.633, 1.633, .408})
	for n, v := range [][]float64{
		{38, 5, 3.3994453592, 25.562538915, 38, 50.437461085, .945782875055, 1.605270675},
		{36.6624476008, 2.8928350321, 3.1742706279, 27.589536566, 36.569615088, 46.269023056, .985816801630, 2.192181597},
		{38, 2.2334216064, 3.0521324015, 29.727938697, 38, 46.272061303, .987042414314, 2.227480594},
		{37.4191289368, 1.7943819558, 2.7664773566, 30.247108398, 37.404343706, 44.677789449, .993878076666, 2.505037340},
		{38.8688152350, 1.8122880162, 3.4146791047, 30.527747974, 38.888249089, 47.099899832, .982789716247, 2.115110066},
		{38.6782625378, 1.4923642682, 3.0653832640, 31.348751773, 38.677459591, 45.992209808, .990168049638, 2.332699914},
	} {
		l.Fit(ps[:n])
		b, p := l.Belief(), l.Predict(9, 0, .408)
		lo, hi := p.Limits(.95)
		tol := personal
		if n == 0 {
			tol = population
		}
		for i, x := range []float64{b.Mu, b.MuSD, b.Sigma, lo, p.Quantile(.5), hi, p.CDF(48), p.Z(48)} {
			near(t, []string{"E mu", "SD mu", "E sigma", "2.5%", "median", "97.5%", "F(48)", "z"}[i], x, v[i], tol)
		}
	}
}

// One value of sigma: the closed form, log density of the readings included.
func TestPlainModelAtOneSigma(t *testing.T) {
	t.Parallel()
	l := New(Setting{M0: 38, Tau: 5, Sigma0: 3})
	l.Fit(readings([]float64{36, 40, 36, 44, 38}, []float64{1.633, 1.633, 1.633, 1.633, .408}))
	b := l.Belief()
	near(t, "mean", b.Mu, 38.69693387669, 1e-10)
	near(t, "sd", b.MuSD, 1.42573759798, 1e-10)
	near(t, "log density", b.LogEvidence, -13.80835723263, 1e-10)
}

// Davies 1947, Dyestuff: posterior means with known variances are the BLUPs
// that lme4 prints.
func TestShrinkageOfDyestuff(t *testing.T) {
	t.Parallel()
	l := New(Setting{M0: 1527.5, Tau: math.Sqrt(1764.05), Sigma0: math.Sqrt(2451.25)})
	for _, batch := range []struct{ ys, want []float64 }{
		{[]float64{1545, 1440, 1440, 1520, 1580}, []float64{-17.60685137}},
		{[]float64{1540, 1555, 1490, 1560, 1495}, []float64{.39126336}},
		{[]float64{1595, 1550, 1605, 1510, 1560}, []float64{28.56222555}},
		{[]float64{1445, 1440, 1595, 1465, 1545}, []float64{-23.08453846}},
		{[]float64{1595, 1630, 1515, 1635, 1625}, []float64{56.73318774}},
		{[]float64{1520, 1455, 1450, 1480, 1445}, []float64{-44.99528683}},
	} {
		l.Fit(readings(batch.ys, make([]float64, 5)))
		near(t, "posterior mean", l.Belief().Mu-1527.5, batch.want[0], 1e-7)
		near(t, "posterior SD", l.Belief().MuSD, 19.58657, 1e-5)
	}
}
