package normal

import (
	"math"
	"os"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (off by %.2g)", what, got, want, got-want)
	}
}

// reps are so many tries, or more where the full simulations were asked for.
func reps(short, full int) int {
	if os.Getenv("WHORL_LONG") != "" {
		return full
	}
	return short
}

// normalDensity is the density of N(m, v).
func normalDensity(x, m, v float64) float64 {
	return math.Exp(-(x-m)*(x-m)/(2*v)) / math.Sqrt(2*math.Pi*v)
}

// bisect finds the quantile the slow way.
func bisect(p *Mixture, q float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range p.Parts {
		lo, hi = min(lo, c.Mean-40*c.SD), max(hi, c.Mean+40*c.SD)
	}
	upper := q > .5
	for range 200 {
		mid := .5 * (lo + hi)
		low := p.CDF(p.center+mid) < q
		if upper { // keeps the digits of the far tail
			low = p.Upper(p.center+mid) > 1-q
		}
		if low {
			lo = mid
		} else {
			hi = mid
		}
	}
	return p.center + .5*(lo+hi)
}
