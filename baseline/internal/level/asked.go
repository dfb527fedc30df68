package level

import (
	"math"
	"slices"

	"whorl.example/baseline/internal/normal"
)

// asItWas is below which share of the likeliest a grid point is left out, where a reading is judged by those before it.
const asItWas = 1e-5

// Before says of the readings from one on, each beside the ones before it, how rare it was: what was said of it then, but for the choice of grid points, which
// is that of all the readings, and for bad days. It costs as much as two passes of the filter.
func (l *Model) Before(from int, rarity func(i int, told float64)) {
	l.Weigh()
	c := l.alone()
	mix := normal.Mixtures.Get().(*normal.Mixture)
	defer normal.Mixtures.Put(mix)
	logs := make([]float64, len(c.cells))
	for i := range c.observations {
		if i < from {
			continue
		}
		c.upTo(i)
		best := math.Inf(-1)
		for j := range c.cells {
			logs[j] = c.cells[j].prior + c.states[j].logLik()
			best = max(best, logs[j])
		}
		mix.Reset(c.Setting.M0)
		parts, k, total := mix.Room(len(c.cells)), 0, 0.0
		x := &c.observations[i]
		for j, w := range logs {
			if w = math.Exp(w - best); w < asItWas {
				continue
			}
			total += w
			parts[k] = c.next(j, i, w)
			k++
		}
		for j := range parts[:k] {
			parts[j].Weight /= total
		}
		mix.Parts = parts[:k]
		_, told, _ := mix.Rarity(c.Setting.M0 + x.y)
		rarity(i, told)
	}
}

// alone is a model of the chosen cells, before the first reading.
func (l *Model) alone() *Model {
	c := *l
	c.shared, c.runs, c.extra = true, nil, nil
	c.cells = make([]cell, 0, len(l.chosen))
	for _, steady := range []bool{true, false} {
		from := len(c.cells)
		for _, j := range l.chosen {
			if k := l.cells[j]; (l.grid.blocks[k.block].Share == 0) == steady {
				c.cells = append(c.cells, k)
			}
		}
		if len(c.cells) > from {
			c.runs = append(c.runs, run{from: from, to: len(c.cells), steady: steady, full: true})
		}
	}
	c.states, c.harmonics, c.visits = make([]state, len(c.cells)), nil, nil
	if l.rhythm != nil {
		c.harmonics = make([]harmonic, len(c.cells))
	}
	if l.grid.visits {
		c.visits = make([]visit, len(c.cells))
	}
	if l.Setting.Ways > 0 {
		c.offsets = make([]offsets, len(c.cells))
	}
	c.observations = slices.Clip(l.observations[:l.n])
	for j := range c.cells {
		c.start(j)
	}
	c.n = 0
	return &c
}

// upTo takes in the first n readings.
func (l *Model) upTo(n int) {
	l.n = n
	for i := range l.runs {
		r := &l.runs[i]
		if r.n < n {
			l.take(r)
			r.n = n
		}
	}
}

// next is what a cell expects of a reading that comes next, times a weight.
func (l *Model) next(j, i int, w float64) normal.Component {
	x, s, k := &l.observations[i], l.states[j], &l.cells[j]
	r := 1.0
	if kept := l.decaysOf(k.block); kept != nil {
		r = kept[i]
	}
	s.varLevel += l.Setting.Walk * x.gap * k.own
	s.wander(r, k.vd)
	mean, total := s.level+s.drift, s.varLevel+2*s.cov+s.varDrift+k.ve+x.v
	if l.rhythm != nil {
		t := l.harmonics[j]
		t.wander(r)
		m, add := t.at(l.angles[i][0], l.angles[i][1])
		mean, total = mean+m, total+add
	}
	if l.Setting.Ways > 0 {
		o := l.offsets[j]
		o.wander(r)
		cos, sin := 0.0, 0.0
		if l.rhythm != nil {
			cos, sin = l.angles[i][0], l.angles[i][1]
		}
		m, add := o.at(cos, sin, rowOf(x.way))
		mean, total = mean+m, total+add
	}
	return normal.NewComponent(w, mean, total)
}
