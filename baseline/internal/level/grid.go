package level

import (
	"math"
	"slices"
	"sync"
)

// Omega is the SD of log sigma over horses: it keeps 88 % cover when Sigma0 is wrong twofold (.72 just fails after one reading).
const Omega = .74

const (
	// GridStep is of log sigma, whose posterior SD at 50 readings is .1: the greatest below .10 of which the grid has a
	// multiple of four, so that coarse looks reach both its ends.
	GridStep  = 2 * GridReach * Omega / 76
	GridReach = 5.0 // prior SDs of log sigma; 3 is up to 26 % off for rare horses

	// LogNegligible: grid points below 1e-12 of the best are left out; it costs
	// the 95 % limits less than 1e-10 of their width.
	LogNegligible = -27.631021115928547
	// roughNegligible is the same, 1e-7 of the best, where an answer only chooses between two ways of working.
	roughNegligible = -16.11809565095832
)

// grid is where log sigma and the drift can be looked at, for Sigma0 = 1: for each
// drift the same values of sigma, evenly spaced in the logarithm. Which of them are
// looked at for one history is for [level.choose].
type grid struct {
	blocks  []Drift
	days    []float64 // the different time constants of the blocks
	size    int       // values of sigma
	step    float64   // from one to the next, in log sigma
	sigma   []float64 // size
	prior   []float64 // size; log weight, at the usual step
	reach   float64   // of sigma on each side, in prior SDs
	perStep int       // values in a usual step
	visits  bool      // with shares of a visit
}

// gridKey is what a grid follows from.
type gridKey struct {
	omega, span, step, reach float64 // step is the usual one
	perStep                  int     // values in it
	drift                    bool
	visits                   bool // visits of several readings
}

// grids has those in use, so that a level does not start with a thousand exponentials.
var grids sync.Map

func gridOf(key gridKey) *grid {
	if g, ok := grids.Load(key); ok {
		return g.(*grid)
	}
	g, _ := grids.LoadOrStore(key, newGrid(key))
	return g.(*grid)
}

func newGrid(key gridKey) *grid {
	drifts := Drifts(key.drift)
	if !key.visits {
		return newGridOf(drifts, key)
	}
	var blocks []Drift
	for _, b := range drifts {
		b.Weight /= float64(len(Kappas))
		for _, b.kappa = range Kappas {
			blocks = append(blocks, b)
		}
	}
	return newGridOf(blocks, key)
}

// shares is how many of the blocks there are of each drift.
func (g *grid) shares() int {
	if g.visits {
		return len(Kappas)
	}
	return 1
}

// newGridOf is newGrid with other drifts.
func newGridOf(drifts []Drift, key gridKey) *grid {
	g := &grid{blocks: drifts, size: 1, perStep: key.perStep, reach: key.reach, visits: key.visits}
	if key.omega > 0 {
		// An even number of usual steps, so that a coarser look reaches both ends.
		g.size = 2*int(math.Ceil(key.reach*key.omega/key.step-1e-9))*key.perStep + 1
		g.step = 2 * key.reach * key.omega / float64(g.size-1)
	}
	g.sigma, g.prior = make([]float64, g.size), make([]float64, g.size)
	total := 0.0
	for j := range g.sigma {
		u := 0.0
		if g.size > 1 {
			u = key.reach * float64(2*j-(g.size-1)) / float64(g.size-1)
		}
		g.sigma[j] = math.Exp(key.omega * u)
		g.prior[j] = -.5 * u * u
		if j%g.perStep == 0 {
			total += math.Exp(g.prior[j])
		}
	}
	for j := range g.prior {
		g.prior[j] -= math.Log(total)
	}
	for i := range g.blocks {
		b := &g.blocks[i]
		b.logWeight, b.longRun = math.Log(b.Weight), 1/(1-b.Share*WithinSpan(key.span, b.Days))
		if b.Share == 0 {
			continue
		}
		for b.constant = 0; b.constant < len(g.days) && g.days[b.constant] != b.Days; b.constant++ {
		}
		if b.constant == len(g.days) {
			g.days = append(g.days, b.Days)
		}
	}
	return g
}

// fineFrom is the number of readings from which a finer grid is laid out.
const fineFrom = 400

// perStepFor is how many values of sigma are laid out in a usual step for n readings.
func perStepFor(n int) int {
	if n > fineFrom {
		return 8
	}
	return 2
}

// finestStride is how many values lie from one that counts to the next, with n readings. What
// the readings say of log sigma has an SD of at least 1/sqrt(2n), and a sum over
// points an SD apart is good to 1e-8 already: so few readings need few points, and
// beyond 150 the usual step is too coarse. Of random histories the limits are off by less
// than 1e-3 of their half-width, by a grid of a quarter of the step; by the usual step alone it was 3e-3 at 200, 2e-2 at 400.
// With bad days, where the factors of mixture.go leave 1e-2, half as many points are enough; the usual step
// up to 200 where one part in a hundred of a tail does not matter.
func (l *Model) finestStride() int {
	g, n := l.grid, l.n
	if l.Setting.BadDays {
		n = (n + 1) / 2
	}
	if g.size == 1 {
		return 1
	}
	stride := g.perStep
	switch {
	case n == 0:
		stride *= 4
	case n <= 20:
		stride *= 2
	case n <= 150 || l.Coarse && n <= 200:
	case n <= fineFrom:
		stride /= 2
	case n <= 4*fineFrom:
		stride /= 4
	default:
		stride /= 8
	}
	for (g.size-1)%stride != 0 {
		stride /= 2
	}
	return stride
}

// end is the weight of the first and of the last value where only every stride-th counts: so
// that the sum over them is the one at the usual step, which at five prior SDs still
// shows in the eighth digit (Euler and Maclaurin, with first and third derivative of the prior).
func (g *grid) end(stride int) float64 {
	m, h, u := float64(stride)/float64(g.perStep), 2*g.reach*float64(g.perStep)/float64(g.size-1), g.reach
	return .5 + .5/m + h/12*(m-1/m)*u - h*h*h/720*(m*m*m-1/m)*(u*u*u-3*u)
}

// buildGrid takes a grid with so many values of sigma in a usual step, and forgets every cell.
func (l *Model) buildGrid(usual int) {
	l.grid = gridOf(gridKey{l.Setting.Omega, l.Setting.SpanDays, l.step, l.reach, usual, l.Setting.Drift, l.repeated})
	n := len(l.grid.blocks) * l.grid.size
	l.place = slices.Grow(l.place[:0], n)[:n]
	l.forget()
}

// cell is one grid point: what is assumed known there.
type cell struct {
	block    int
	constant int     // of the block: which of the time constants
	value    int     // of the grid of sigma
	sigma    float64 // SD seen within SpanDays
	own      float64 // its square
	vd, ve   float64 // variance of the drift, of the day-to-day noise
	prior    float64 // log prior weight
}

func (g *grid) cell(k int, sigma0 float64) cell {
	b, j := k/g.size, k%g.size
	block := &g.blocks[b]
	sigma := sigma0 * g.sigma[j]
	whole := sigma * sigma * block.longRun
	return cell{block: b, constant: block.constant, value: j, sigma: sigma, own: sigma * sigma, vd: block.Share * whole, ve: (1 - block.Share) * whole, prior: block.logWeight + g.prior[j]}
}

// evaluate makes cells of the grid points to look at, brings all cells up to the readings
// and works out the log weights of those looked at. It returns the best, at least the one given.
func (l *Model) evaluate(best float64) float64 {
	for _, k := range l.candidates {
		if l.place[k] >= 0 {
			continue
		}
		l.cell(k)
	}
	for i := range l.runs {
		l.runs[i].full = true
	}
	l.catchUp()
	for _, k := range l.candidates {
		at := l.place[k]
		w := l.cells[at].prior + l.states[at].logLik()
		if l.extra != nil {
			w += l.extra(l.cells[at].sigma)
		}
		l.logWeights[k] = w
		best = max(best, w)
	}
	return best
}

// cell makes the cell of a grid point.
func (l *Model) cell(k int32) {
	c := l.grid.cell(int(k), l.Setting.Sigma0)
	at, steady := len(l.cells), l.grid.blocks[c.block].Share == 0
	if r := len(l.runs) - 1; r < 0 || l.runs[r].steady != steady || l.runs[r].full {
		l.runs = append(l.runs, run{steady: steady, from: at, to: at})
	}
	l.place[k] = int32(at)
	l.cells = append(l.cells, c)
	l.states = append(l.states, state{})
	if l.rhythm != nil {
		l.harmonics = append(l.harmonics, harmonic{})
	}
	if l.grid.visits {
		l.visits = append(l.visits, visit{})
	}
	if l.Setting.Ways > 0 {
		l.offsets = append(l.offsets, offsets{})
	}
	l.start(at)
	l.runs[len(l.runs)-1].to++
}

// run is cells one after the other that have taken in the first n readings.
type run struct {
	from, to, n int
	steady      bool // without drift, or all with
	full        bool // takes no more cells
}

// catchUp takes into every cell the readings that it has not seen.
func (l *Model) catchUp() {
	for i := range l.runs {
		r := &l.runs[i]
		if r.n == l.n {
			continue
		}
		if l.Setting.BadDays {
			for j := r.from; j < r.to; j++ {
				logZ := l.forward(j, true)
				l.states[j].prod, l.states[j].quad = 1, -2*logZ
			}
		} else {
			l.take(r)
		}
		r.n = l.n
	}
}
