package watch

import (
	"math"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// Exact Kendall without ties, P(S >= s), by inversion counts of permutations (Mahonian
// numbers over n!); 1/5040 is also Sen's (1968) own figure for his example.
func TestKendallExact(t *testing.T) {
	t.Parallel()
	series := func(n int) []float64 {
		y := make([]float64, n)
		for i := range y {
			y[i] = float64(i)
		}
		return y
	}
	for _, c := range []struct {
		n, s int
		p    float64
	}{
		{4, 6, .04167}, {4, 4, .1667}, {5, 10, .008333}, {5, 8, .04167}, {5, 6, .1167}, {6, 15, .001389}, {6, 13, .008333}, {6, 11, .02778}, {6, 9, .06806},
		{7, 21, 1. / 5040}, {7, 15, .01508}, {7, 13, .03452}, {8, 28, 2.48e-5}, {8, 16, .03051}, {10, 27, .008333}, {10, 21, .03628}, {10, 19, .05416},
	} {
		got := kendallP(c.s, series(c.n)) / 2
		td.Cmp(t, got, td.Between(c.p*(1-2e-3), c.p*(1+2e-3)), "n=%d S=%d", c.n, c.s)
	}
	td.Cmp(t, kendallP(0, series(5)), 1.0)
}

// Ties, against every order counted one by one.
func TestKendallTiesByEnumeration(t *testing.T) {
	t.Parallel()
	for _, y := range [][]float64{{1, 1, 2, 3, 3, 3}, {4, 4, 4, 4}, {1, 2, 2, 5, 6, 6, 7}, {0, 0, 1, 1, 2, 2}} {
		for s := -3; s <= 15; s++ {
			far, all := 0, 0
			everyOrder(append([]float64(nil), y...), 0, func(p []float64) {
				x := 0
				for i := range p {
					for j := i + 1; j < len(p); j++ {
						if p[j] > p[i] {
							x++
						} else if p[j] < p[i] {
							x--
						}
					}
				}
				all++
				if math.Abs(float64(x)) >= math.Abs(float64(s)) {
					far++
				}
			})
			nearTo(t, kendallP(s, y), float64(far)/float64(all), 1e-12)
		}
	}
}

func everyOrder(y []float64, k int, f func([]float64)) {
	if k == len(y) {
		f(y)
		return
	}
	for i := k; i < len(y); i++ {
		y[k], y[i] = y[i], y[k]
		everyOrder(y, k+1, f)
		y[k], y[i] = y[i], y[k]
	}
}

func TestTheilSenPublished(t *testing.T) {
	t.Parallel()
	// Sen 1968: slope 4, S 21, one-sided 1/5040 without ties.
	r := describe([]float64{1, 2, 3, 4, 10, 12, 18}, []float64{9, 15, 19, 20, 45, 55, 78})
	nearTo(t, r.PerHour, 4, 1e-12)
	td.Cmp(t, r.S, 21)
	nearTo(t, r.P, 2./5040, 1e-12)
	// Hollander, Wolfe and Chicken, example 9.1: C = -6, slope -.05625, two-sided .2333.
	r = describe([]float64{1, 2, 3, 4, 5}, []float64{1.26, 1.27, 1.12, 1.16, 1.03})
	td.Cmp(t, r.S, -6)
	nearTo(t, r.PerHour, -.05625, 1e-12)
	nearTo(t, r.P, 28./120, 1e-12)
	// Beyond the exact range the approximation joins on, and a flat series says nothing.
	long, flat := make([]float64, 31), make([]float64, 40)
	at := make([]float64, 40)
	for i := range at {
		at[i] = float64(i)
		if i < len(long) {
			long[i] = float64(i*7%31) + float64(i)/2
		}
	}
	a, b := kendallP(120, long), kendallP(120, long[:30])
	td.CmpTrue(t, a > b/2 && a < b*2)
	td.Cmp(t, describe(at, flat).P, 1.0)
}
