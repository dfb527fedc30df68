package level

import "slices"

// A visit: hours are not days. Readings within six hours of the first of them share what that day does to the horse,
//
//	y = mu + d(t) + rhythm(hour) + v + e,   v ~ N(0, kappa ve),   e ~ N(0, (1-kappa) ve + SD²),
//
// with one v for each visit. How much of a day's own variation stays within the hour is not known, so that kappa is a
// further dimension of the grid. Taken as days of their own, ten counts within three hours left .67 of nominal .95 of the
// next week's covered. A visit of one reading has the variance of a day, so that histories without repeats know nothing of this.
//
// What a visit's day was is not carried forward, not even an hour: else the second look of a sick evening would find it usual.

// VisitDays is how long after its first reading a visit takes in others: longer than an evening's watch, shorter than
// from morning to evening. Six hours are a rule of thumb. What is counted from the first reading comes to an end, however
// often somebody looks.
const (
	VisitHours = 6.0
	VisitDays  = VisitHours / 24
	visitSlack = 1e-9
)

// Kappas are the shares of the day-to-day variance that the readings of a visit have in common. A fixed share reads the scatter within
// an hour as the horse's: .9 covers .80 where nothing but the count differs, and 1 doubles sigma where the horse does.
var Kappas = [...]float64{.5, .9, 1}

// joins reports whether a reading belongs to the visit that is open.
func (l *Model) joins(p *Reading) bool {
	return l.n > 0 && !p.NewLevel && within(l.visitFrom, p.Day)
}

func within(first, day float64) bool { return day-first < VisitDays-visitSlack }

// SameVisit reports whether a reading so many days after the first of a visit belongs to it.
func SameVisit(days float64) bool { return within(0, days) }

// Visits counts the visits of readings in their order.
func Visits(points []Reading) (n int) {
	first := 0.0
	for i := range points {
		if p := &points[i]; i == 0 || p.NewLevel || !within(first, p.Day) {
			n, first = n+1, p.Day
		}
	}
	return n
}

// VisitMeans gives one reading for each visit of readings in their order: the mean, at the time of the first. They are the readings themselves
// where nothing repeats.
func VisitMeans(points []Reading) []Reading {
	if Visits(points) == len(points) {
		return points
	}
	var out []Reading
	for from := 0; from < len(points); {
		to := from + 1
		for to < len(points) && !points[to].NewLevel && within(points[from].Day, points[to].Day) {
			to++
		}
		mean := points[from]
		mean.Y, mean.SD = 0, 0
		for i := from; i < to; i++ {
			mean.Y += points[i].Y / float64(to-from)
			mean.SD += points[i].SD / float64(to-from) // as the least of them may have been one mistake
		}
		out, from = append(out, mean), to
	}
	return slices.Clip(out)
}

// visit is what a grid point believes of the visit that is open: the mean of v, its covariances with the level, the drift and
// the coefficients of the rhythm, and its variance.
type visit struct{ mean, level, drift, p, q, variance float64 }

// opens reports whether a reading, the first of its visit, has others behind it, or may have.
func (l *Model) opens(i int) bool {
	return l.grid.visits && (i+1 >= l.n || l.observations[i+1].joins)
}

// moment is one reading as the cells of a run take it in.
type moment struct {
	x        *observation
	walk     float64
	keeps    []float64
	cos, sin float64
}

func (l *Model) moment(i int, keeps []float64) moment {
	m := moment{x: &l.observations[i], keeps: keeps}
	if !m.x.newLevel {
		m.walk = l.Setting.Walk * m.x.gap
	}
	for k := range l.grid.days {
		keeps[k] = l.decays[k][i]
	}
	if l.rhythm != nil {
		m.cos, m.sin = l.angles[i][0], l.angles[i][1]
	}
	return m
}

// advance brings a belief to the time of the reading.
func (m *moment) advance(s *state, t *harmonic, k *cell) (kept float64) {
	kept = 1
	if k.vd > 0 {
		kept = m.keeps[k.constant]
	}
	s.varLevel += m.walk * k.own
	s.wander(kept, k.vd)
	t.wander(kept)
	return kept
}

// covariances are those of a reading with what it depends on.
type covariances struct{ level, drift, p, q, visit, own float64 }

func (m *moment) covariances(s *state, t *harmonic, v *visit) (u covariances) {
	cos, sin := m.cos, m.sin
	u.level = s.varLevel + s.cov + t.mp*cos + t.mq*sin + v.level
	u.drift = s.cov + s.varDrift + t.dp*cos + t.dq*sin + v.drift
	u.p = t.mp + t.dp + t.pp*cos + t.pq*sin + v.p
	u.q = t.mq + t.dq + t.pq*cos + t.qq*sin + v.q
	u.visit = v.level + v.drift + v.p*cos + v.q*sin + v.variance
	u.own = u.level + u.drift + u.p*cos + u.q*sin + u.visit
	return u
}

// open begins a visit at a reading, before it is taken in.
func (l *Model) open(run *run, i int, keeps []float64) {
	m := l.moment(i, keeps)
	if l.rhythm == nil {
		l.openPlain(run, &m)
		return
	}
	for j := run.from; j < run.to; j++ {
		s, t, k := l.states[j], l.harmonics[j], &l.cells[j]
		m.advance(&s, &t, k)
		u := m.covariances(&s, &t, &visit{})
		h := l.grid.blocks[k.block].kappa * k.ve
		g := h / (u.own + k.ve + m.x.v)
		e := m.x.y - s.level - s.drift - t.p*m.cos - t.q*m.sin
		l.visits[j] = visit{g * e, -g * u.level, -g * u.drift, -g * u.p, -g * u.q, h - g*h}
	}
}

// leastNoise keeps two exact readings of one moment from being told as one, in shares of the day-to-day variance.
const leastNoise = 1e-6

// join takes a further reading of the open visit in.
func (l *Model) join(run *run, i int, keeps []float64) {
	m := l.moment(i, keeps)
	if l.rhythm == nil {
		l.joinPlain(run, &m)
		return
	}
	for j := run.from; j < run.to; j++ {
		s, t, k, v := &l.states[j], &l.harmonics[j], &l.cells[j], &l.visits[j]
		v.drift *= m.advance(s, t, k)
		u := m.covariances(s, t, v)
		inv := 1 / (u.own + l.noise(k, m.x.v))
		e := m.x.y - s.level - s.drift - t.p*m.cos - t.q*m.sin - v.mean
		x := factor{cov: [stateMost]float64{u.level, u.drift, u.p, u.q}, pull: e * inv, gain: inv}
		s.absorb(&x)
		t.absorb(&x)
		s.prod *= inv
		s.quad += e * e * inv
		v.mean += u.visit * x.pull
		v.level -= u.level * u.visit * inv
		v.drift -= u.drift * u.visit * inv
		v.p -= u.p * u.visit * inv
		v.q -= u.q * u.visit * inv
		v.variance -= u.visit * u.visit * inv
	}
}

// openPlain is open without a rhythm, in half the time.
func (l *Model) openPlain(run *run, m *moment) {
	cells, states := l.cells[run.from:run.to], l.states[run.from:run.to]
	visits := l.visits[run.from:run.to]
	for j := range cells {
		s, k := &states[j], &cells[j]
		r := 1.0
		if k.vd > 0 {
			r = m.keeps[k.constant]
		}
		b := s.cov * r
		ua, uc := s.varLevel+m.walk*k.own+b, b+k.vd+r*r*(s.varDrift-k.vd)
		h := l.grid.blocks[k.block].kappa * k.ve
		g := h / (ua + uc + k.ve + m.x.v)
		visits[j] = visit{mean: g * (m.x.y - s.level - s.drift*r), level: -g * ua, drift: -g * uc, variance: h - g*h}
	}
}

// joinPlain is join without a rhythm.
func (l *Model) joinPlain(run *run, m *moment) {
	cells, states := l.cells[run.from:run.to], l.states[run.from:run.to]
	visits := l.visits[run.from:run.to]
	for j := range cells {
		s, k, v := &states[j], &cells[j], &visits[j]
		r := 1.0
		if k.vd > 0 {
			r = m.keeps[k.constant]
		}
		a, d, b := s.varLevel+m.walk*k.own, s.drift*r, s.cov*r
		c, g := k.vd+r*r*(s.varDrift-k.vd), v.drift*r
		ua, uc, uv := a+b+v.level, b+c+g, v.level+g+v.variance
		inv := 1 / (ua + uc + uv + l.noise(k, m.x.v))
		e := m.x.y - s.level - d - v.mean
		ga, gc, gv := ua*inv, uc*inv, uv*inv
		s.level += ga * e
		s.drift = d + gc*e
		s.varLevel = a - ga*ua
		s.cov = b - ga*uc
		s.varDrift = c - gc*uc
		s.prod *= inv
		s.quad += e * e * inv
		v.mean += gv * e
		v.level -= ga * uv
		v.drift = g - gc*uv
		v.variance -= gv * uv
	}
}

// noise is the variance of a reading within its visit, of which v is the method's.
func (l *Model) noise(k *cell, v float64) float64 {
	return max((1-l.grid.blocks[k.block].kappa)*k.ve+v, leastNoise*k.ve)
}

// visitEnd is the end of the visit that begins with a reading.
func (l *Model) visitEnd(from int) (to int) {
	for to = from + 1; to < l.n && l.observations[to].joins; to++ {
	}
	return to
}

// seen is a visit as the search for bad days takes it: one reading that says what all of it say of the day, the
// variance of the horse and the method together, and what its scatter adds to the log density.
type seen struct{ y, noise, own, log float64 }

// together gives that of the readings of a visit. The drift within it is left out.
func (l *Model) together(c *cell, from, to int) (s seen) {
	own := c.sigma * c.sigma
	if to == from+1 {
		p := &l.observations[from]
		return seen{p.y, c.ve + p.v, own + p.v, 0}
	}
	w := 0.0
	logs := logProduct{p: 1}
	for i := from; i < to; i++ {
		noise := l.noise(c, l.observations[i].v)
		w += 1 / noise
		s.y += l.observations[i].y / noise
		logs.by(noise)
	}
	s.y /= w
	logs.by(w)
	for i := from; i < to; i++ {
		d := l.observations[i].y - s.y
		s.log -= d * d / l.noise(c, l.observations[i].v)
	}
	s.log = (s.log - logs.value()) / 2
	kappa := l.grid.blocks[c.block].kappa
	s.noise = 1/w + kappa*c.ve
	s.own = own + 1/w - (1-kappa)*c.ve/float64(to-from)
	return s
}

// angleOf is the row of the design of a visit.
func (l *Model) angleOf(from, to int) (cos, sin float64) {
	if to == from+1 {
		return l.angles[from][0], l.angles[from][1]
	}
	for _, a := range l.angles[from:to] {
		cos, sin = cos+a[0]/float64(to-from), sin+a[1]/float64(to-from)
	}
	return cos, sin
}
