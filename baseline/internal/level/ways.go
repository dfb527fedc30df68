package level

// Who measured, and with what. Two thermometers differ by a tenth or two, two people count differently: a reading taken in the way w is
//
//	y = mu + d(t) + rhythm(hour) + o_w + e,   o_w ~ N(0, Offset²),
//
// with one o for each way, learned together with the level. A way not met before has an o of its own, of which nothing is known: what it reads is usual
// over wider limits. With one way alone, o and mu are one; a history of one way knows nothing of this until another one is asked about.

// WaysMost is how many ways have an offset each; the readings of others have Offset² in the variance of their method.
const WaysMost = 4

// stateMost is how many coefficients a state has: level, drift, two of the rhythm, the offsets.
const stateMost = 4 + WaysMost

// offsets is the part of a state that the ways add: means, and the covariances with level, drift, rhythm, visit and each other.
type offsets struct {
	mean                      [WaysMost]float64
	level, drift, p, q, visit [WaysMost]float64
	cov                       [WaysMost][WaysMost]float64
}

// row is the part of a reading's row of the design that is of the ways.
type row [WaysMost]float64

func rowOf(way uint8) (r row) {
	if way > 0 {
		r[way-1] = 1
	}
	return r
}

// rowOf is that of the readings of a visit, as the search for bad days takes it.
func (l *Model) rowOf(from, to int) (r row) {
	for i := from; i < to; i++ {
		if way := l.observations[i].way; way > 0 {
			r[way-1] += 1 / float64(to-from)
		}
	}
	return r
}

func (o *offsets) start(variance float64) {
	*o = offsets{}
	for k := range o.cov {
		o.cov[k][k] = variance
	}
}

// wander goes on by the time for which the drift keeps the share r.
func (o *offsets) wander(r float64) {
	for k := range o.drift {
		o.drift[k] *= r
	}
}

// renew parts the offsets, which stay, from a level that begins anew.
func (o *offsets) renew() { o.level, o.drift = [WaysMost]float64{}, [WaysMost]float64{} }

// cover adds the offsets to what a reading knows of the state, after level, drift and rhythm.
func (o *offsets) cover(x *factor, cos, sin float64, at row) {
	for k, a := range at {
		x.cov[0] += o.level[k] * a
		x.cov[1] += o.drift[k] * a
		x.cov[2] += o.p[k] * a
		x.cov[3] += o.q[k] * a
		x.mean += o.mean[k] * a
	}
	x.variance = x.cov[0] + x.cov[1] + x.cov[2]*cos + x.cov[3]*sin
	for k, a := range at {
		u := o.level[k] + o.drift[k] + o.p[k]*cos + o.q[k]*sin
		for i, b := range at {
			u += o.cov[k][i] * b
		}
		x.cov[4+k] = u
		x.variance += u * a
	}
}

// absorb updates the offsets by the factor of a reading.
func (o *offsets) absorb(x *factor) {
	for k := range o.mean {
		u := x.cov[4+k]
		o.mean[k] += u * x.pull
		g := x.gain * u
		o.level[k] -= g * x.cov[0]
		o.drift[k] -= g * x.cov[1]
		o.p[k] -= g * x.cov[2]
		o.q[k] -= g * x.cov[3]
		for i := range o.cov[k] {
			o.cov[k][i] -= g * x.cov[4+i]
		}
	}
}

// at gives the mean of the offsets in a row, and what they add to the variance of a prediction.
func (o *offsets) at(cos, sin float64, at row) (mean, variance float64) {
	for k, a := range at {
		mean += o.mean[k] * a
		u := 2 * (o.level[k] + o.drift[k] + o.p[k]*cos + o.q[k]*sin)
		for i, b := range at {
			u += o.cov[k][i] * b
		}
		variance += u * a
	}
	return mean, variance
}

// takeWays is take for readings of several ways, one at a time; visits take part.
func (l *Model) takeWays(run *run) {
	keeps := make([]float64, len(l.decays))
	for i := run.n; i < l.n; i++ {
		m := l.moment(i, keeps)
		at := rowOf(m.x.way)
		opens := !m.x.joins && l.opens(i)
		for j := run.from; j < run.to; j++ {
			if m.x.newLevel {
				l.renewAt(j)
			}
			s, o, k := &l.states[j], &l.offsets[j], &l.cells[j]
			t, v := new(harmonic), new(visit)
			if l.rhythm != nil {
				t = &l.harmonics[j]
			}
			kept := m.advance(s, t, k)
			o.wander(kept)
			noise := k.ve + m.x.v
			if m.x.joins {
				v = &l.visits[j]
				v.drift *= kept
				noise = l.noise(k, m.x.v)
			}
			u := m.covariances(s, t, v)
			x := factor{cov: [stateMost]float64{u.level, u.drift, u.p, u.q}}
			o.cover(&x, m.cos, m.sin, at)
			u.own = x.variance + u.visit
			if m.x.joins {
				for n, a := range at {
					x.cov[4+n] += o.visit[n]
					u.visit += o.visit[n] * a
					u.own += 2 * o.visit[n] * a
				}
			}
			x.gain = 1 / (u.own + noise)
			e := m.x.y - s.level - s.drift - t.p*m.cos - t.q*m.sin - v.mean - x.mean
			x.pull = e * x.gain
			s.absorb(&x)
			t.absorb(&x)
			s.prod *= x.gain
			s.quad += e * e * x.gain
			if opens {
				v = &l.visits[j]
				u.visit = l.grid.blocks[k.block].kappa * k.ve
				*v, o.visit = visit{variance: u.visit}, [WaysMost]float64{}
			}
			if opens || m.x.joins {
				v.absorb(&x, u.visit)
				for n := range o.visit {
					o.visit[n] -= x.gain * u.visit * x.cov[4+n]
				}
			}
			o.absorb(&x)
		}
		l.foldAt(l.states[run.from:run.to], i+1)
	}
}

// absorb updates a visit, of which the covariance with the reading is u.
func (v *visit) absorb(x *factor, u float64) {
	v.mean += u * x.pull
	v.level -= x.cov[0] * u * x.gain
	v.drift -= x.cov[1] * u * x.gain
	v.p -= x.cov[2] * u * x.gain
	v.q -= x.cov[3] * u * x.gain
	v.variance -= u * u * x.gain
}
