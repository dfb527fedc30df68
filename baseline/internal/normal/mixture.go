package normal

import (
	"math"
	"slices"
	"sync"
)

// Mixture is what a reading would be if the horse is as usual: a mixture of
// normals over the grid.
type Mixture struct {
	center     float64 // the means are relative to it
	Parts      []Component
	negligible int // of the parts, the last, that are lighter than lightest
	Hidden     int // of these, those that limits do not see
	Mean       float64
	SD         float64
	skewness   float64 // third and fourth standardised cumulants
	kurtosis   float64
	// even is the mean SD of the parts in SDs of the whole, sharp the greatest inverse of an SD.
	evenness, sharpest float64
}

type Component struct{ Weight, Mean, SD, inverse, scaled float64 } // slope is w/sd

// Mixtures are room for predictions.
var Mixtures = sync.Pool{New: func() any { return new(Mixture) }}

func (p *Mixture) Reset(center float64) {
	p.center, p.Parts, p.negligible, p.Hidden = center, p.Parts[:0], 0, 0
}

// Room is for so many parts, to be given back by set.
func (p *Mixture) Room(n int) []Component { return slices.Grow(p.Parts, n)[:n] }

// Set takes the parts, of which the last few are lighter than lightest.
func (p *Mixture) Set(parts []Component, few int) {
	p.Parts, p.negligible = parts, few
	p.Moments()
}

// Negligible is the least weight of a part that limits must see: they are moved by less than 1e-5 SD by all
// the others, which matter to readings far out alone.
const Negligible = 1e-8

// HideNegligible lets limits see the heavier parts alone.
func (p *Mixture) HideNegligible() { p.Hidden = p.negligible }

func NewComponent(w, mean, variance float64) Component {
	sd := math.Sqrt(variance)
	inv := 1 / sd
	return Component{w, mean, sd, inv, w * inv}
}

func (p *Mixture) Add(w, mean, variance float64) {
	p.Parts = append(p.Parts, NewComponent(w, mean, variance))
}

// Moments works out the moments.
func (p *Mixture) Moments() {
	mean, w, sd, sharp := 0.0, 0.0, 0.0, 0.0
	for i := range p.Parts {
		c := &p.Parts[i]
		mean += c.Weight * c.Mean
		w += c.Weight
		sd += c.Weight * c.SD
		if c.inverse > sharp {
			sharp = c.inverse
		}
	}
	mean /= w
	var m2, m3, m4 float64
	for i := range p.Parts {
		c := &p.Parts[i]
		d, v := c.Mean-mean, c.SD*c.SD
		d2 := d * d
		m2 += c.Weight * (d2 + v)
		m3 += c.Weight * d * (d2 + 3*v)
		m4 += c.Weight * (d2*(d2+6*v) + 3*v*v)
	}
	p.SD = math.Sqrt(m2)
	p.skewness = m3 / (m2 * p.SD)
	p.kurtosis = m4/(m2*m2) - 3
	p.evenness, p.sharpest = sd/p.SD, sharp
	p.Mean = p.center + mean
}

// Tails are the probabilities of a reading below and above y, each exact where it is small.
func (p *Mixture) Tails(y float64) (below, above float64) {
	x := y - p.center
	for i := range p.Parts {
		c := &p.Parts[i]
		z := (x - c.Mean) * c.inverse
		var t float64
		if size := math.Abs(z); size < tailReach {
			n, d := nodeNear(size)
			t = c.Weight * n.tail(d)
		} else {
			t = c.Weight * Upper(size)
		}
		if z < 0 {
			below, above = below+t, above+(c.Weight-t)
		} else {
			below, above = below+(c.Weight-t), above+t
		}
	}
	return below, above
}

// CDF is the probability of a reading below y.
func (p *Mixture) CDF(y float64) float64 { return p.tail(p.center-y, -1) }

// Upper is the probability of a reading above y, exact in the far tail.
func (p *Mixture) Upper(y float64) float64 { return p.tail(y-p.center, 1) }

// tail is the probability of side*(Y - center) above x.
func (p *Mixture) tail(x, side float64) float64 {
	t := 0.0
	for i := range p.Parts {
		c := &p.Parts[i]
		t += c.Weight * seriesUpper((x-side*c.Mean)*c.inverse)
	}
	return t
}

// TwoSided is the probability of a reading at least as far out as y on either
// side: twice the smaller tail, at most 1.
func (p *Mixture) TwoSided(y float64) float64 {
	return min(1, 2*min(p.CDF(y), p.Upper(y)))
}

// Z is the reading on the scale of SDs from usual: the normal score of its
// place among usual readings, above zero for high ones. It is what a chart or an
// alarm over several signs can count on at any number of exams.
func (p *Mixture) Z(y float64) float64 {
	if lo, hi := p.CDF(y), p.Upper(y); hi < lo {
		return -Quantile(hi)
	} else {
		return Quantile(lo)
	}
}

// AddVariance adds to the variance of each part, for a reading by another method.
func (p *Mixture) AddVariance(more float64) {
	for i := range p.Parts {
		c := &p.Parts[i]
		c.SD = math.Sqrt(c.SD*c.SD + more)
		c.inverse = 1 / c.SD
		c.scaled = c.Weight * c.inverse
	}
	p.Moments()
}
