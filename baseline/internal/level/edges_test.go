package level

import (
	"math"
	"testing"
)

// How far a reading is from the nearer limit, everywhere along the scale.
func TestEdgeIsTheNearerLimit(t *testing.T) {
	t.Parallel()
	for _, sd := range []float64{.3, 3} {
		l := New(Setting{M0: 38, Tau: sd, Sigma0: sd, Omega: Omega, Drift: true})
		var ps []Reading
		for i, y := range []float64{36, 40, 36, 44, 38} {
			ps = append(ps, Reading{Day: float64(i), Y: 38 + (y-38)*sd/3})
		}
		l.Fit(ps)
		p := l.Predict(7, 0, .4*sd)
		lo, hi := p.Limits(.95)
		for k := -4.; k <= 4; k += .11 {
			y := p.Mean + k*p.SD
			near(t, "the nearer end", p.Edge(y, .95), math.Min(math.Abs(y-lo), math.Abs(y-hi)), 1e-8*p.SD)
		}
	}
}

// Readings of one moment, each taken for a visit of its own, have no direction, late in a calendar and of different weight as well, where their mean day is off by a rounding.
func TestNoDirectionOfOneMoment(t *testing.T) {
	t.Parallel()
	for k := range 50 {
		var ps []Reading
		for i := range 5 {
			ps = append(ps, Reading{Day: 20000 + float64(k)/7, Y: 40 + float64(i), SD: .37 * float64(1+i), NewLevel: true})
		}
		if c := Trend(heartPrior(), ps); c.P != 1 || c.N != 5 || !math.IsInf(c.SD, 1) || c.PerDay != 0 {
			t.Fatalf("%+v", c)
		}
	}
}
