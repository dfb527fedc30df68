package watch

import (
	"math"
	"testing"
)

// Norris of the NIST Statistical Reference Datasets (linear regression), certified slope, intercept and residual SD.
func TestNorrisOfRechecks(t *testing.T) {
	t.Parallel()
	xs := []float64{
		.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, .4, .6, 775.5, 666.9, 338, 447.5, 11.6,
		556, 228.1, 995.8, 887.6, 120.2, .3, .3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2, 669.1, 448.9, .5,
	}
	ys := []float64{
		.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, .3, .1, 778.1, 668.8, 339.3, 448.9, 10.8,
		557.7, 228.3, 998, 888.8, 119.6, .3, .6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, .2,
	}
	w := make([]reading, len(xs))
	for i := range xs {
		w[i] = reading{t: xs[i], y: ys[i]}
	}
	g := fitLine(w, 1)
	near(t, "slope of rechecks", g.slope, 1.00211681802045, 1e-12)
	near(t, "residual SD of rechecks", math.Sqrt(g.q/34), .884796396144373, 1e-9)
}
