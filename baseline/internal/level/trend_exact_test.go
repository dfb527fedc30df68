package level

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// The test of a direction against dense quadrature over everything that is unknown: the horse's SD; the mean of the readings
// before the window; level and slope of the line, about which nothing is known beforehand.
func TestClimbAgainstQuadrature(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(12, 3))
	for _, n := range []int{4, 7, 10, 13} {
		set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega}
		var ps []Reading
		day := 2.0
		for i := range n {
			ps = append(ps, Reading{Day: day, Y: 37 + .25*float64(i) + 2*rng.NormFloat64(), SD: []float64{0, .8, 2}[i%3]})
			day += 1 + 4*rng.Float64()
		}
		before, window := ps[:max(0, n-TrendOver)], ps[max(0, n-TrendOver):]
		first, last := window[0].Day, window[len(window)-1].Day
		mid := (first + last) / 2

		var total, slope, square, p, from, to float64
		const values = 41
		for k := range values {
			u := 5 * (2*float64(k)/(values-1) - 1)
			sigma := set.Sigma0 * math.Exp(set.Omega*u)
			w := math.Exp(-u * u / 2)
			if len(before) > 0 {
				mass := 0.0
				const steps = 200
				for i := range steps + 1 {
					mu := set.M0 + set.Tau*(16*float64(i)/steps-8)
					f := normalDensity(mu, set.M0, set.Tau*set.Tau)
					for _, q := range before {
						f *= normalDensity(q.Y, mu, sigma*sigma+q.SD*q.SD)
					}
					mass += f
				}
				w *= mass
			}
			// The line at the middle of the window, and how much it rises over half of it.
			lines := lineIntegral(window, sigma, mid, (last-first)/2)
			total += w * lines.mass
			rise := (last - first) / 2
			b, v := lines.rise/rise, lines.riseVar/(rise*rise)
			slope += w * lines.mass * b
			square += w * lines.mass * (b*b + v)
			p += w * lines.mass * math.Erfc(math.Abs(b)/math.Sqrt(2*v))
			from += w * lines.mass * (lines.level - lines.rise)
			to += w * lines.mass * (lines.level + lines.rise)
		}
		slope, square, p, from, to = slope/total, square/total, p/total, from/total, to/total
		got := Trend(set, ps)
		what := fmt.Sprint(n, ": ")
		near(t, what+"slope", got.PerDay, slope, 2e-4)
		near(t, what+"its SD", got.SD, math.Sqrt(square-slope*slope), 2e-4)
		near(t, what+"P", got.P, p, 1e-3)
		near(t, what+"from", got.From, from, 2e-3)
		near(t, what+"to", got.To, to, 2e-3)
		near(t, what+"days", got.Days, last-first, 1e-12)
		near(t, what+"readings", float64(got.N), float64(len(window)), 0)
	}
}

type lineMoments struct{ mass, level, rise, riseVar float64 }

// lineIntegral integrates the density of readings over level and rise of a line, both flat beforehand, by the trapezoid
// rule: two passes to find where the mass lies, one there.
func lineIntegral(ps []Reading, sigma, mid, half float64) (out lineMoments) {
	level, rise, width := 38.0, 0.0, 60.0
	for range 3 {
		const steps = 40
		var m, a, b, aa, bb, best float64
		best = math.Inf(-1)
		logs := make([]float64, 0, (steps+1)*(steps+1))
		for i := range steps + 1 {
			for j := range steps + 1 {
				at := level + width*(2*float64(i)/steps-1)
				up := rise + width*(2*float64(j)/steps-1)
				l := 0.0
				for _, q := range ps {
					v := sigma*sigma + q.SD*q.SD
					e := q.Y - at - up*(q.Day-mid)/half
					l -= (e*e/v + math.Log(2*math.Pi*v)) / 2
				}
				logs = append(logs, l)
				best = max(best, l)
			}
		}
		for i := range steps + 1 {
			for j := range steps + 1 {
				at := level + width*(2*float64(i)/steps-1)
				up := rise + width*(2*float64(j)/steps-1)
				w := math.Exp(logs[i*(steps+1)+j] - best)
				m, a, b, aa, bb = m+w, a+w*at, b+w*up, aa+w*at*at, bb+w*up*up
			}
		}
		a, b = a/m, b/m
		va, vb := aa/m-a*a, bb/m-b*b
		cell := 2 * width / steps
		out = lineMoments{m * cell * cell * math.Exp(best), a, b, vb}
		// On the first passes the mass may lie on a single point.
		level, rise, width = a, b, 9*math.Sqrt(max(va, vb, cell*cell/9))
	}
	return out
}

// Readings and times moved, stretched or turned round: the slope goes with them, and what is said of it stays.
func TestClimbIsEquivariant(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega}
	ys := []float64{36, 39, 38, 41, 40, 43, 41}
	var ps, other []Reading
	for i, y := range ys {
		ps = append(ps, Reading{Day: float64(3*i + i%2), Y: y, SD: .5})
	}
	c := Trend(set, ps)
	for _, q := range ps {
		other = append(other, Reading{Day: 100 + 2*q.Day, Y: 76 - q.Y, SD: q.SD})
	}
	turned := Trend(set, other)
	near(t, "slope", turned.PerDay, -c.PerDay/2, 1e-12)
	near(t, "SD", turned.SD, c.SD/2, 1e-12)
	near(t, "P", turned.P, c.P, 1e-12)
	near(t, "from", turned.From, 76-c.From, 1e-9)
	near(t, "to", turned.To, 76-c.To, 1e-9)
	// Of more than the window holds the first ones tell of the horse's SD alone: the line is that of the last ten.
	var many []Reading
	for i := range 14 {
		many = append(many, Reading{Day: float64(i), Y: 40 + float64(i)})
	}
	long := Trend(set, many)
	near(t, "of ten", float64(long.N), TrendOver, 0)
	near(t, "slope", long.PerDay, 1, 1e-9)
	near(t, "from", long.From, 44, 1e-9)
	near(t, "to", long.To, 53, 1e-9)
	// As many as have a direction, and one fewer.
	near(t, "three", Trend(set, many[:TrendLeast-1]).P, 1, 0)
	if p := Trend(set, many[:TrendLeast]).P; !(p < 1) {
		t.Error("four have none")
	}
}
