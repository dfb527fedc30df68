package vitals

// gls is generalised least squares for the period P of events from the intervals of taps.
//
// Events follow each other at P plus independent normal deviations of standard deviation
// beat; each tap misses its event by an independent deviation of standard deviation
// jitter. An interval that spans k events has mean kP, variance k·beat² + 2·jitter²; two
// neighbours share a tap and have covariance -jitter² (the model of Wing and Kristofferson
// 1973). The covariance is tridiagonal, so that its factors, and with them the sums that
// the estimate needs, grow by one term an interval.
type gls struct {
	beat2, jitter2 float64
	centre         float64 // taken off every period, to keep the sums small
	n              int
	pivot, d, k    float64 // of the last interval, after elimination
	kk, kd, dd     float64 // k'V⁻¹k, k'V⁻¹r, r'V⁻¹r with r = d - k·centre
}

func newGLS(beat, jitter float64) gls {
	return gls{beat2: beat * beat, jitter2: jitter * jitter}
}

func (g *gls) add(d, k float64) {
	// Products are rounded before they are added: processors that fuse the two would answer
	// differently in the last bit.
	r := d - float64(k*g.centre)
	pivot := float64(k*g.beat2) + 2*g.jitter2
	if g.n > 0 {
		l := -g.jitter2 / g.pivot
		pivot -= float64(float64(l*l) * g.pivot)
		r -= float64(l * g.d)
		k -= float64(l * g.k)
	}
	g.n++
	g.pivot, g.d, g.k = pivot, r, k
	g.kk += k * k / pivot
	g.kd += k * r / pivot
	g.dd += r * r / pivot
}

// period is the estimate, in the unit of the intervals.
func (g *gls) period() float64 { return g.centre + g.kd/g.kk }

// misfit is the weighted sum of squares about the estimate; with the right variances it
// has mean n-1.
func (g *gls) misfit() float64 { return max(0, g.dd-g.kd*g.kd/g.kk) }
