package level

import "math"

// The daily rhythm: p cos(wt) + q sin(wt), w = 2 pi / 24 h, with p and q
// learned together with the level. Without it, a sign that swings with the day
// is judged wrong at every hour at which it was not learned: of mares' rectal
// temperatures at any hour, learned from mornings only, .60 of nominal .95 were
// covered and .40 called high.

// Rhythm is what is assumed of the daily swing: the amplitude (half of the
// swing), and between which hours of the day the peak lies.
type Rhythm struct {
	Amplitude, AmplitudeSD float64 // working scale
	From, To               float64 // hours, From <= To (From may be negative)
}

// harmonicPrior is the normal prior of (p, q) with the moments of the rhythm: amplitude
// with its mean and SD, peak uniform between the two hours.
type harmonicPrior struct{ p, q, pp, pq, qq float64 }

func (r *Rhythm) prior() *harmonicPrior {
	const w = 2 * math.Pi / 24
	c, h := w*(r.From+r.To)/2, w*(r.To-r.From)/2
	s1, s2 := sinc(h), sinc(2*h)
	e2 := r.Amplitude*r.Amplitude + r.AmplitudeSD*r.AmplitudeSD
	p, q := r.Amplitude*s1*math.Cos(c), r.Amplitude*s1*math.Sin(c)
	return &harmonicPrior{
		p: p, q: q,
		pp: e2*(1+math.Cos(2*c)*s2)/2 - p*p,
		qq: e2*(1-math.Cos(2*c)*s2)/2 - q*q,
		pq: e2*math.Sin(2*c)*s2/2 - p*q,
	}
}

func sinc(x float64) float64 {
	if math.Abs(x) < 1e-4 {
		return 1 - x*x/6
	}
	return math.Sin(x) / x
}

// harmonic is the part of a state that a rhythm adds: means of p and q, their
// covariances with the level (m), the drift (d) and each other.
type harmonic struct {
	p, q, mp, mq, dp, dq, pp, pq, qq float64
}

func (w *harmonicPrior) start() harmonic {
	return harmonic{p: w.p, q: w.q, pp: w.pp, pq: w.pq, qq: w.qq}
}

// Angle is the hour's row of the design.
func Angle(hour float64) (cos, sin float64) {
	sin, cos = math.Sincos(2 * math.Pi / 24 * hour)
	return cos, sin
}

func (t *harmonic) wander(r float64) { t.dp *= r; t.dq *= r }

// at returns the rhythm's mean at an hour and what its uncertainty, with its
// covariances, adds to the variance of a prediction.
func (t *harmonic) at(cos, sin float64) (mean, variance float64) {
	up, uq := t.pp*cos+t.pq*sin, t.pq*cos+t.qq*sin
	return t.p*cos + t.q*sin, up*cos + uq*sin + 2*((t.mp+t.dp)*cos+(t.mq+t.dq)*sin)
}

// cover adds the rhythm to what a visit knows of the state.
func (t *harmonic) cover(x *factor, cos, sin float64) {
	x.cov[0] += t.mp*cos + t.mq*sin
	x.cov[1] += t.dp*cos + t.dq*sin
	x.cov[2] = t.mp + t.dp + t.pp*cos + t.pq*sin
	x.cov[3] = t.mq + t.dq + t.pq*cos + t.qq*sin
	x.mean += t.p*cos + t.q*sin
	x.variance = x.cov[0] + x.cov[1] + x.cov[2]*cos + x.cov[3]*sin
}

// absorb updates a tide by the factor of a visit.
func (t *harmonic) absorb(x *factor) {
	um, ud, up, uq := x.cov[0], x.cov[1], x.cov[2], x.cov[3]
	t.p += up * x.pull
	t.q += uq * x.pull
	t.mp -= x.gain * um * up
	t.mq -= x.gain * um * uq
	t.dp -= x.gain * ud * up
	t.dq -= x.gain * ud * uq
	t.pp -= x.gain * up * up
	t.pq -= x.gain * up * uq
	t.qq -= x.gain * uq * uq
}

// takeRhythm is takeDrift with a rhythm.
func (r *filtered) takeRhythm(cells []cell, states []state, tides []harmonic) {
	states, tides = states[:len(cells)], tides[:len(cells)]
	for i := range r.seen {
		x, walk := r.at(i)
		keeps := r.keepsAt(i)
		cos, sin := r.dials[i][0], r.dials[i][1]
		for j := range cells {
			s, t, k := &states[j], &tides[j], &cells[j]
			r := keeps[k.constant]
			a, d, b := s.varLevel+walk*k.own, s.drift*r, s.cov*r
			c := k.vd + r*r*(s.varDrift-k.vd)
			mp, mq, dp, dq := t.mp, t.mq, t.dp*r, t.dq*r
			um := a + b + mp*cos + mq*sin
			ud := b + c + dp*cos + dq*sin
			up := mp + dp + t.pp*cos + t.pq*sin
			uq := mq + dq + t.pq*cos + t.qq*sin
			inv := 1 / (um + ud + up*cos + uq*sin + (k.ve + x.v))
			e := x.y - s.level - d - t.p*cos - t.q*sin
			gm, gd, gp, gq := um*inv, ud*inv, up*inv, uq*inv
			s.level += gm * e
			s.drift = d + gd*e
			t.p += gp * e
			t.q += gq * e
			s.varLevel = a - gm*um
			s.cov = b - gm*ud
			s.varDrift = c - gd*ud
			t.mp = mp - gm*up
			t.mq = mq - gm*uq
			t.dp = dp - gd*up
			t.dq = dq - gd*uq
			t.pp -= gp * up
			t.pq -= gp * uq
			t.qq -= gq * uq
			s.prod *= inv
			s.quad += e * e * inv
		}
	}
}

// takeSteadyRhythm is takeRhythm without drift, in half the time.
func (r *filtered) takeSteadyRhythm(cells []cell, states []state, tides []harmonic) {
	states, tides = states[:len(cells)], tides[:len(cells)]
	for i := range r.seen {
		x, walk := r.at(i)
		cos, sin := r.dials[i][0], r.dials[i][1]
		for j := range cells {
			s, t, c := &states[j], &tides[j], &cells[j]
			a := s.varLevel + walk*c.own
			um := a + t.mp*cos + t.mq*sin
			up := t.mp + t.pp*cos + t.pq*sin
			uq := t.mq + t.pq*cos + t.qq*sin
			inv := 1 / (um + up*cos + uq*sin + (c.ve + x.v))
			e := x.y - s.level - t.p*cos - t.q*sin
			gm, gp, gq := um*inv, up*inv, uq*inv
			s.level += gm * e
			t.p += gp * e
			t.q += gq * e
			s.varLevel = a - gm*um
			t.mp -= gm * up
			t.mq -= gm * uq
			t.pp -= gp * up
			t.pq -= gp * uq
			t.qq -= gq * uq
			s.prod *= inv
			s.quad += e * e * inv
		}
	}
}

// RhythmLearned is what the readings say of the rhythm: its coefficients, and the SD of both together at the
// grid point that counts most; ok is false without a rhythm.
func (l *Model) RhythmLearned() (cos, sin, sd float64, ok bool) {
	if l.rhythm == nil {
		return 0, 0, 0, false
	}
	b, best := l.Belief(), 0
	for i, w := range l.weight {
		if w > l.weight[best] {
			best = i
		}
	}
	t := &l.harmonics[l.chosen[best]]
	return b.Cos, b.Sin, math.Sqrt(t.pp + t.qq), true
}
