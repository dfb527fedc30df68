package baseline

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/normal"
)

// Fifteen and five normal deviates worked out in R with the published formula.
func TestExamCombined(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		z    []float64
		want float64
	}{
		{[]float64{.3, -1.2, 2.9, .4, -.5, 1.1, -.2, .8, 1.9, -1.4, .1, .6, -.9, 1.3, 2.2}, .0473633851914},
		{[]float64{.3, -1.2, .9, .4, -.5}, .53684251871},
	} {
		ps := make([]float64, len(c.z))
		for i, z := range c.z {
			ps[i] = 2 * normal.Upper(max(z, -z))
		}
		td.Cmp(t, cauchy(ps), td.Between(c.want-1e-12, c.want+1e-12))
	}
	td.Cmp(t, cauchy(nil), 1.)
	td.Cmp(t, cauchy([]float64{.03}), td.Between(.03-1e-15, .03+1e-15))
	td.Cmp(t, cauchy([]float64{1e-12}), td.Between(.999e-12, 1.001e-12))
	td.Cmp(t, cauchy([]float64{0, 1, .5}), td.Between(0., 1e-14), "0 and 1 are bounded")
}

// 1-.95^(1/15) = .003413714 .
func TestExamStrong(t *testing.T) {
	t.Parallel()
	td.Cmp(t, sidak(15), td.Between(.0034137, .0034138))
	td.Cmp(t, sidak(1), td.Between(.05-1e-15, .05+1e-15))
}
