package baseline

import (
	"math"
	"sync"
)

// predictive is what a reading would be if the horse is as usual: a mixture of
// normals over the grid.
type predictive struct {
	center float64 // the means are relative to it
	parts  []part
	Mean   float64
	SD     float64
	skew   float64 // third and fourth standardised cumulants
	kurt   float64
}

type part struct{ w, m, sd, inv, slope float64 } // slope is w/sd

// predictives are room for predictions.
var predictives = sync.Pool{New: func() any { return new(predictive) }}

func (p *predictive) reset(center float64) { p.center, p.parts = center, p.parts[:0] }

func (p *predictive) add(w, mean, variance float64) {
	sd := math.Sqrt(variance)
	inv := 1 / sd
	p.parts = append(p.parts, part{w, mean, sd, inv, w * inv})
}

// sum works out the moments.
func (p *predictive) sum() {
	mean, w := 0.0, 0.0
	for i := range p.parts {
		mean += p.parts[i].w * p.parts[i].m
		w += p.parts[i].w
	}
	var m2, m3, m4 float64
	for i := range p.parts {
		c := &p.parts[i]
		d, v := c.m-mean, c.sd*c.sd
		d2 := d * d
		m2 += c.w * (d2 + v)
		m3 += c.w * d * (d2 + 3*v)
		m4 += c.w * (d2*d2 + 6*d2*v + 3*v*v)
	}
	p.SD = math.Sqrt(m2)
	p.skew = m3 / (m2 * p.SD)
	p.kurt = m4/(m2*m2) - 3
	p.Mean = p.center + mean
}

// tails are the probabilities of a reading below and above y, each exact where it is small.
func (p *predictive) tails(y float64) (below, above float64) {
	x := y - p.center
	for i := range p.parts {
		c := &p.parts[i]
		z := (x - c.m) * c.inv
		t := c.w * upperTail(math.Abs(z))
		if z < 0 {
			below, above = below+t, above+(c.w-t)
		} else {
			below, above = below+(c.w-t), above+t
		}
	}
	return below, above
}

// CDF is the probability of a reading below y.
func (p *predictive) CDF(y float64) float64 { return p.tail(p.center-y, -1) }

// Upper is the probability of a reading above y, exact in the far tail.
func (p *predictive) Upper(y float64) float64 { return p.tail(y-p.center, 1) }

// tail is the probability of side*(Y - center) above x.
func (p *predictive) tail(x, side float64) float64 {
	t := 0.0
	for i := range p.parts {
		c := &p.parts[i]
		t += c.w * upperTail((x-side*c.m)*c.inv)
	}
	return t
}

// TwoSided is the probability of a reading at least as far out as y on either
// side: twice the smaller tail, at most 1.
func (p *predictive) TwoSided(y float64) float64 {
	return min(1, 2*min(p.CDF(y), p.Upper(y)))
}

// Z is the reading on the scale of SDs from usual: the normal score of its
// place among usual readings, above zero for high ones. It is what a chart or an
// alarm over several signs can count on at any number of exams.
func (p *predictive) Z(y float64) float64 {
	if lo, hi := p.CDF(y), p.Upper(y); hi < lo {
		return -normQuantile(hi)
	} else {
		return normQuantile(lo)
	}
}

// Limits returns the ends of the central interval that holds a share of usual
// readings, 0 < share < 1: .95 leaves .025 on each side.
func (p *predictive) Limits(share float64) (low, high float64) {
	q := (1 - share) / 2
	z := -normQuantile(q)
	return p.center - p.quantile(q, z, -1), p.center + p.quantile(q, z, 1)
}

// Quantile returns y with P(Y <= y) = q, 0 < q < 1.
func (p *predictive) Quantile(q float64) float64 {
	if q < .5 {
		return p.center - p.quantile(q, -normQuantile(q), -1)
	}
	return p.center + p.quantile(1-q, normQuantile(q), 1)
}

// quantile returns x with tail(x, side) = q; z is the normal quantile of 1-q.
//
// A quantile of a mixture lies between the least and the greatest of the parts'
// own quantiles. Within that bracket: Halley's method on log(tail/q), started
// from the Cornish-Fisher expansion, bisection when a step leaves the bracket.
// Without the bracket it diverges on mixtures whose SDs differ by a hundred.
// Steps are cubic, and the last one is taken, so 1e-4 leaves less than 1e-7 SD.
func (p *predictive) quantile(q, z, side float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range p.parts {
		c := &p.parts[i]
		x := side*c.m + z*c.sd
		lo, hi = min(lo, x), max(hi, x)
	}
	g := side * p.skew
	x := side*(p.Mean-p.center) + p.SD*(z+(z*z-1)*g/6+min(.12, (z*z*z-3*z)*p.kurt/24)-(2*z*z*z-5*z)*g*g/36)
	if !(x > lo && x < hi) {
		x = .5 * (lo + hi)
	}
	for range 200 {
		var t, f, df float64
		for i := range p.parts {
			c := &p.parts[i]
			u := (x - side*c.m) * c.inv
			e, tail := densityTail(u)
			t += c.w * tail
			e *= c.slope
			f += e
			df += e * u * c.inv
		}
		df = -df
		if t > q {
			lo = x
		} else {
			hi = x
		}
		// g(x) = log(t/q): g' = -f/t, g'' = -f'/t - g'^2.
		slope := -f / t
		newton := math.Log(t/q) / slope
		// Far from the root the correction may be anything, and a step shrunk to
		// nothing by it must not look like the end.
		step := newton / min(2, max(.5, 1-.5*newton*(-df/t-slope*slope)/slope))
		next := x - step
		if next > lo && next < hi {
			x = next
			if math.Abs(step) <= 1e-4*min(p.SD, 2*t/f) {
				break
			}
			continue
		}
		x = .5 * (lo + hi)
		if hi-lo <= 1e-12*p.SD {
			break
		}
	}
	return x
}
