package level

// take brings a run up to the readings, without bad days.
func (l *Model) take(run *run) {
	if l.Setting.Ways > 0 {
		l.takeWays(run)
		return
	}
	cells, states := l.cells[run.from:run.to], l.states[run.from:run.to]
	var tides []harmonic
	if l.rhythm != nil {
		tides = l.harmonics[run.from:run.to]
	}
	keeps := append(make([]float64, 0, 8), make([]float64, len(l.decays))...)
	for from := run.n; from < l.n; {
		if l.observations[from].newLevel {
			for j := run.from; j < run.to; j++ {
				l.renewAt(j)
			}
		}
		// Up to the next new level, or to where the products are to be folded.
		to := from + 1
		if l.opens(from) && !l.observations[from].joins {
			l.open(run, from, keeps)
		} else if l.observations[from].joins {
			l.join(run, from, keeps)
			from = l.foldAt(states, to)
			continue
		} else {
			for to < l.n && to%foldEvery != 0 && l.plain(to) {
				to++
			}
		}
		readings := filtered{l.observations[from:to], l.Setting.Walk, l.decays, from, keeps, nil}
		if l.rhythm != nil {
			readings.dials = l.angles[from:to]
		}
		switch {
		case tides != nil && run.steady:
			readings.takeSteadyRhythm(cells, states, tides)
		case tides != nil:
			readings.takeRhythm(cells, states, tides)
		case run.steady:
			readings.takeSteady(cells, states)
		default:
			readings.takeDrift(cells, states)
		}
		from = l.foldAt(states, to)
	}
}

// plain reports whether a reading is taken in like the one before it.
func (l *Model) plain(i int) bool {
	x := &l.observations[i]
	return !x.newLevel && !x.joins && !l.opens(i)
}

// foldAt folds the products of some states where so many readings call for it.
func (l *Model) foldAt(states []state, n int) int {
	if n%foldEvery == 0 {
		for j := range states {
			states[j].fold()
		}
	}
	return n
}

// filtered are readings one after the other, as cells take them in.
type filtered struct {
	seen  []observation
	walk  float64      // variance of the level a day, over the horse's own
	kept  [][]float64  // of the drift, for each time constant, of all readings
	from  int          // the first of these among all
	keeps []float64    // room: kept at one reading
	dials [][2]float64 // with a rhythm only
}

// at is one of them: the reading, and the variance that the level has gained since the one before.
func (r *filtered) at(i int) (x *observation, walk float64) {
	x = &r.seen[i]
	if x.newLevel {
		return x, 0
	}
	return x, r.walk * x.gap
}

// keepsAt is what is kept of each drift at one of them.
func (r *filtered) keepsAt(i int) []float64 {
	for k, kept := range r.kept {
		if len(kept) > 0 {
			r.keeps[k] = kept[r.from+i]
		}
	}
	return r.keeps
}

// takeSteady takes readings into cells without drift, rhythm and bad days.
func (r *filtered) takeSteady(cells []cell, states []state) {
	states = states[:len(cells)]
	for i := range r.seen {
		x, walk := r.at(i)
		for j := range cells {
			s, c := &states[j], &cells[j]
			a, noise := s.varLevel+walk*c.own, c.ve+x.v
			inv := 1 / (a + noise)
			e := x.y - s.level
			g := a * inv
			s.level += g * e
			s.varLevel = g * noise
			s.prod *= inv
			s.quad += e * e * inv
		}
	}
}

// takeDrift is takeSteady with drifts.
func (r *filtered) takeDrift(cells []cell, states []state) {
	states = states[:len(cells)]
	for i := range r.seen {
		x, walk := r.at(i)
		keeps := r.keepsAt(i)
		for j := range cells {
			s, k := &states[j], &cells[j]
			r := keeps[k.constant]
			a, d, b := s.varLevel+walk*k.own, s.drift*r, s.cov*r
			c := k.vd + r*r*(s.varDrift-k.vd)
			ua, uc := a+b, b+c
			inv := 1 / (ua + uc + k.ve + x.v)
			e := x.y - s.level - d
			ga, gc := ua*inv, uc*inv
			s.level += ga * e
			s.drift = d + gc*e
			s.varLevel = a - ga*ua
			s.cov = b - ga*uc
			s.varDrift = c - gc*uc
			s.prod *= inv
			s.quad += e * e * inv
		}
	}
}
