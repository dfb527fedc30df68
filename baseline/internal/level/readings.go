package level

import (
	"cmp"
	"math"
	"slices"
)

// Reading is one reading.
type Reading struct {
	Day      float64 // days from any origin, increasing with time
	Hour     float64 // local hour of day, 0..24; used with a rhythm only
	Y        float64 // the reading
	SD       float64 // standard uncertainty of the method, >= 0
	ID       string  // decides the order of readings at the same time
	NewLevel bool    // the first reading of a new level, see renew
	Way      uint8   // of measuring, from 1 to Setting.Ways; 0: another; used with ways only
}

// observation is a reading as the filter takes it: above M0, with the variance of its method.
type observation struct {
	y, v     float64
	gap      float64 // days since the reading before
	day      float64
	newLevel bool // begins a new level
	joins    bool // of the same visit as the one before
	way      uint8
}

// InOrder returns the readings sorted by time, ties by ID: the order in which
// fit takes them, and in which oddness answers.
func InOrder(points []Reading) []Reading {
	sorted := true
	for i := 1; i < len(points) && sorted; i++ {
		sorted = points[i-1].Day < points[i].Day || Compare(points[i-1], points[i]) <= 0
	}
	if sorted {
		return points
	}
	s := slices.Clone(points)
	slices.SortFunc(s, Compare)
	return s
}

func Compare(p, q Reading) int {
	if p.Day != q.Day { // as nearly all are
		return cmp.Compare(p.Day, q.Day)
	}
	return cmp.Or(cmp.Compare(p.ID, q.ID), cmp.Compare(p.Y, q.Y), cmp.Compare(p.SD, q.SD), cmp.Compare(p.Hour, q.Hour))
}

// Grow makes room for n readings and the cells that they call for as a rule.
func (l *Model) Grow(n int) {
	l.observations = slices.Grow(l.observations, n)
	for i := range l.decays {
		l.decays[i] = slices.Grow(l.decays[i], n)
	}
	cells := 25 * len(l.grid.blocks)
	l.cells, l.states = slices.Grow(l.cells, cells), slices.Grow(l.states, cells)
	if l.rhythm != nil {
		l.angles, l.harmonics = slices.Grow(l.angles, n), slices.Grow(l.harmonics, cells)
	}
}

// Learn takes one more reading. It reports false, and learns nothing, if the
// reading is older than the latest one: then only a fit of all of them helps.
// With Odd each reading changes what the others mean, so that learn is a fit.
func (l *Model) Learn(p Reading) bool {
	if l.n > 0 && p.Day < l.last {
		return false
	}
	l.Append(p)
	if !l.Setting.BadDays && l.grid.visits == l.repeated {
		l.catchUp()
	}
	return true
}

// Clone gives a copy that learns apart.
func (l *Model) Clone() *Model { return l.cloneUpTo(l.n) }

// cloneUpTo is clone that has taken in the first n of the readings that stand in memory, see lay.
func (l *Model) cloneUpTo(n int) *Model {
	c := *l
	c.shared = true
	c.observations, c.decays = l.observations[:n:n], slices.Clone(l.decays)
	for i, kept := range l.decays {
		if kept != nil {
			c.decays[i] = kept[:n:n]
		}
	}
	if l.rhythm != nil {
		c.angles = l.angles[:n:n]
	}
	c.place, c.runs, c.cells = slices.Clone(l.place), slices.Clone(l.runs), slices.Clip(l.cells)
	c.states, c.harmonics, c.visits = slices.Clone(l.states), slices.Clone(l.harmonics), slices.Clone(l.visits)
	c.offsets = slices.Clone(l.offsets)
	c.chosen, c.weight = slices.Clone(l.chosen), slices.Clone(l.weight)
	c.candidates, c.logWeights, c.badDays, c.factors, c.peakFactors = nil, nil, slices.Clone(l.badDays), nil, nil
	for ; c.n < n; c.n++ {
		c.count(&c.observations[c.n])
	}
	return &c
}

// preload puts readings into memory behind those taken in, for upTo. They must come after them, in their order.
func (l *Model) preload(points []Reading) {
	n, counted, fresh := l.n, l.counted, l.fresh
	for _, p := range points {
		l.Append(p)
	}
	l.n, l.counted, l.fresh = n, counted, fresh
	l.observations = l.observations[:n]
	for i := range l.decays {
		l.decays[i] = l.decays[i][:n]
	}
	if l.rhythm != nil {
		l.angles = l.angles[:n]
	}
}

// Append puts a reading at the end.
func (l *Model) Append(p Reading) {
	dt := 0.0
	if l.n > 0 {
		dt = p.Day - l.last
	}
	for i, days := range l.grid.days {
		l.decays[i] = append(l.decays[i], math.Exp(-dt/days))
	}
	if l.rhythm != nil {
		cos, sin := Angle(p.Hour)
		l.angles = append(l.angles, [2]float64{cos, sin})
	}
	x := observation{p.Y - l.Setting.M0, p.SD * p.SD, dt, p.Day, p.NewLevel, l.joins(&p), 0}
	if ways := l.Setting.Ways; ways > 0 {
		if x.way = p.Way; int(x.way) > ways || x.way == 0 {
			x.way, x.v = 0, x.v+l.Setting.Offset*l.Setting.Offset
		}
	}
	l.observations = append(l.observations, x)
	l.count(&l.observations[l.n])
	l.n++
}

// counted is what is counted of the readings.
type counted struct {
	looks     int     // visits
	since     int     // visits since the level began
	last      float64 // day of the latest reading
	visitFrom float64 // day of the first reading of the latest visit
	repeated  bool    // a visit has more than one reading
}

// count counts one more reading.
func (l *Model) count(x *observation) {
	l.last, l.fresh = x.day, false
	if x.joins {
		l.repeated = true
		return
	}
	if x.newLevel {
		l.since = 0
	}
	l.looks, l.since, l.visitFrom = l.looks+1, l.since+1, x.day
}

// decaysOf is what of the drift of a block is kept from each reading to the next; nil without one.
func (l *Model) decaysOf(block int) []float64 {
	b := &l.grid.blocks[block]
	if b.Share == 0 {
		return nil
	}
	return l.decays[b.constant]
}
