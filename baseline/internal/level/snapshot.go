package level

import "math"

// Snapshot is what a model has worked out of its readings, without the readings.
type Snapshot struct {
	Points      []GridPoint // that count
	Rhythm      bool        // the points have harmonics
	LogEvidence float64
	Since       int       // readings since the level began
	Stride      int       // values of sigma from one point to the next
	BadDays     []float64 // probability of a bad day of each reading, where they were looked for
}

// GridPoint is a grid point with its weight and what is believed there: of level and drift the means, variances and
// covariance, and of the likelihood its two parts; of the harmonic means and covariances.
type GridPoint struct {
	Index    int
	Weight   float64
	State    [7]float64
	Harmonic [9]float64
}

func (s *state) figures() [7]float64 {
	return [...]float64{s.level, s.drift, s.varLevel, s.cov, s.varDrift, s.prod, s.quad}
}

func (t *harmonic) figures() [9]float64 {
	return [...]float64{t.p, t.q, t.mp, t.mq, t.dp, t.dq, t.pp, t.pq, t.qq}
}

// Snapshot gives what has been worked out so far; the model must have been weighed.
func (l *Model) Snapshot() *Snapshot {
	s := &Snapshot{Rhythm: l.rhythm != nil, LogEvidence: l.logEvidence, Since: l.since, Stride: l.stride, BadDays: l.badDays}
	for i, j := range l.chosen {
		c := &l.cells[j]
		p := GridPoint{Index: c.block*l.grid.size + c.value, Weight: l.weight[i], State: l.states[j].figures()}
		if s.Rhythm {
			p.Harmonic = l.harmonics[j].figures()
		}
		s.Points = append(s.Points, p)
	}
	return s
}

// Restore puts a snapshot into a model that has the same readings and has worked out nothing yet. It reports whether
// the snapshot can be one of it; if not, the model is of no use.
func (l *Model) Restore(s Snapshot) bool {
	if l.Setting.Ways > 0 {
		return false // of which none is made
	}
	if l.grid.perStep != perStepFor(l.n) || l.grid.visits != l.repeated {
		l.buildGrid(perStepFor(l.n))
	}
	total := 0.0
	for i := range s.Points {
		p := &s.Points[i]
		if p.Index < 0 || p.Index >= len(l.place) || l.place[p.Index] >= 0 || p.Weight < 0 {
			return false
		}
		l.cell(int32(p.Index))
		j := len(l.cells) - 1
		x := &p.State
		l.states[j] = state{x[0], x[1], x[2], x[3], x[4], x[5], x[6]}
		if h := &p.Harmonic; l.rhythm != nil {
			l.harmonics[j] = harmonic{h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], h[8]}
		}
		l.chosen, l.weight = append(l.chosen, int32(j)), append(l.weight, p.Weight)
		total += p.Weight
	}
	for i := range l.runs {
		l.runs[i].full = true
		if l.runs[i].n = l.n; l.Setting.BadDays {
			l.runs[i].n = -1 // the next look begins with the first pass again
		}
	}
	l.logEvidence, l.since, l.stride, l.badDays = s.LogEvidence, s.Since, s.Stride, s.BadDays
	l.partition()
	l.fresh = true
	return math.Abs(total-1) < 1e-6 && l.since <= l.n && l.stride >= 1 && l.stride < l.grid.size && (len(l.badDays) == 0 || len(l.badDays) == l.n)
}
