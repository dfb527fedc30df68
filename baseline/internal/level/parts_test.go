package level

import (
	"math"
	"testing"
)

// With one value of sigma and no drift the doubt of the level is 1/sqrt(1/tau²+n/(sigma²+s²)), and the rest sigma.
func TestPartsOfAWidthByHand(t *testing.T) {
	t.Parallel()
	l := New(Setting{M0: 38, Tau: 5, Sigma0: 3})
	l.Fit(readings([]float64{36, 40, 36, 44}, []float64{1, 1, 1, 1}))
	doubt, spread := l.VarianceParts(Reading{Day: 9})
	near(t, "doubt", doubt, 1/math.Sqrt(1/25.+4/10.), 1e-10)
	near(t, "spread", spread, 3, 1e-10)
}
