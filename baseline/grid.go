package baseline

import (
	"math"
	"slices"
	"sync"
)

const (
	// gridStep is of log sigma, whose posterior SD at 50 readings is .1: the greatest below .10 of which the grid has a
	// multiple of four, so that coarse looks reach both its ends.
	gridStep  = 2 * gridReach * omega / 76
	gridReach = 5.0 // prior SDs of log sigma; 3 is up to 26 % off for rare horses

	// logNegligible: grid points below 1e-12 of the best are left out; it costs
	// the 95 % limits less than 1e-10 of their width.
	logNegligible = -27.631021115928547
	// roughNegligible is the same, 1e-7 of the best, where an answer only chooses between two ways of working.
	roughNegligible = -16.11809565095832
)

// grid is where log sigma and the drift can be looked at, for Sigma0 = 1: for each
// drift the same values of sigma, evenly spaced in the logarithm. Which of them are
// looked at for one history is for [level.choose].
type grid struct {
	blocks []block
	days   []float64 // the different time constants of the blocks
	size   int       // values of sigma
	step   float64   // from one to the next, in log sigma
	sigma  []float64 // size
	prior  []float64 // size; log weight, at the usual step
	reach  float64   // of sigma on each side, in prior SDs
	usual  int       // values in a usual step
}

// gridKey is what a grid follows from.
type gridKey struct {
	omega, span, step, reach float64 // step is the usual one
	usual                    int     // values in it
	drift                    bool
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

func newGrid(key gridKey) *grid { return newGridOf(driftGrid(key.drift), key) }

// newGridOf is newGrid with other drifts.
func newGridOf(drifts []block, key gridKey) *grid {
	g := &grid{blocks: drifts, size: 1, usual: key.usual, reach: key.reach}
	if key.omega > 0 {
		// An even number of usual steps, so that a coarser look reaches both ends.
		g.size = 2*int(math.Ceil(key.reach*key.omega/key.step-1e-9))*key.usual + 1
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
		if j%g.usual == 0 {
			total += math.Exp(g.prior[j])
		}
	}
	for j := range g.prior {
		g.prior[j] -= math.Log(total)
	}
	for i := range g.blocks {
		b := &g.blocks[i]
		b.log, b.whole = math.Log(b.weight), 1/(1-b.phi*withinSpan(key.span, b.days))
		if b.phi == 0 {
			continue
		}
		for b.constant = 0; b.constant < len(g.days) && g.days[b.constant] != b.days; b.constant++ {
		}
		if b.constant == len(g.days) {
			g.days = append(g.days, b.days)
		}
	}
	return g
}

// fineFrom is the number of readings from which a finer grid is laid out.
const fineFrom = 400

// usualOf is how many values of sigma are laid out in a usual step for n readings.
func usualOf(n int) int {
	if n > fineFrom {
		return 8
	}
	return 2
}

// finest is how many values lie from one that counts to the next, with n readings. What
// the readings say of log sigma has an SD of at least 1/sqrt(2n), and a sum over
// points an SD apart is good to 1e-8 already: so few readings need few points, and
// beyond 150 the usual step is too coarse. Of random histories the limits are off by less
// than 1e-3 of their half-width, by a grid of a quarter of the step; by the usual step alone it was 3e-3 at 200, 2e-2 at 400.
// With bad days, where the factors of mixture.go leave 1e-2, half as many points are enough.
func (l *level) finest() int {
	g, n := l.grid, l.n
	if l.shifts != nil {
		n = (n + 1) / 2
	}
	if g.size == 1 {
		return 1
	}
	stride := g.usual
	switch {
	case n == 0:
		stride *= 4
	case n <= 20:
		stride *= 2
	case n <= 150 || l.rough && n <= 200:
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
	m, h, u := float64(stride)/float64(g.usual), 2*g.reach*float64(g.usual)/float64(g.size-1), g.reach
	return .5 + .5/m + h/12*(m-1/m)*u - h*h*h/720*(m*m*m-1/m)*(u*u*u-3*u)
}

// layOut takes a grid with so many values of sigma in a usual step, and forgets every cell.
func (l *level) layOut(usual int) {
	l.grid = gridOf(gridKey{l.set.Omega, l.set.SpanDays, l.step, l.reach, usual, l.set.Drift})
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
	whole := sigma * sigma * block.whole
	return cell{block: b, constant: block.constant, value: j, sigma: sigma, own: sigma * sigma, vd: block.phi * whole, ve: (1 - block.phi) * whole, prior: block.log + g.prior[j]}
}

// unseen is the log weight of a grid point that was not looked at.
const unseen = -math.MaxFloat64

// choose finds the grid points that count, their log weights, and the best of these.
// It begins with a coarse look at all and goes on between neighbours where a point
// could still count. The same readings choose the same points, whatever the
// order in which they arrived.
func (l *level) choose() (best float64) {
	if l.grid.usual != usualOf(l.n) {
		l.layOut(usualOf(l.n))
	}
	g := l.grid
	final := l.finest()
	room := rooms.Get().(*room)
	defer func() {
		room.logs, room.look = l.logs, l.look
		l.logs, l.look = nil, nil
		rooms.Put(room)
	}()
	l.logs, l.look = slices.Grow(room.logs[:0], len(l.place))[:len(l.place)], room.look
	for k := range l.logs {
		l.logs[k] = unseen
	}
	stride := 8 * g.usual
	if around, most, ok := l.around(stride); ok {
		stride, final, best = around, around, most
	} else {
		best = l.coarse(stride, 0, len(g.blocks))
	}
	for ; stride > final; stride /= 2 {
		if stride <= 4*g.usual && (g.size-1)%stride == 0 && l.smooth(stride, best) {
			final = stride
			break
		}
		least := best + l.between(stride)
		l.look = l.look[:0]
		for b := range g.blocks {
			logs := l.logs[b*g.size : (b+1)*g.size]
			for j := 0; j+stride/2 < g.size-1; j += stride {
				a, z := logs[j], logs[min(j+stride, g.size-1)]
				if a != unseen && z != unseen && max(a, z) > least {
					l.look = append(l.look, int32(b*g.size+j+stride/2))
				}
			}
		}
		best = l.evaluate(best)
	}
	l.stride = final
	l.chosen, l.weight = l.chosen[:0], l.weight[:0]
	for b := range g.blocks {
		for j := 0; j < g.size; j += final {
			if k := b*g.size + j; l.logs[k] >= best+l.negligible() {
				w := l.logs[k]
				if final > g.usual && (j == 0 || j == g.size-1) {
					w += math.Log(g.end(final))
				}
				l.chosen = append(l.chosen, l.place[k])
				l.weight = append(l.weight, w)
			}
		}
	}
	return best
}

// room is what is needed while grid points are chosen.
type room struct {
	logs []float64
	look []int32
}

var rooms = sync.Pool{New: func() any { return new(room) }}

// between is how far below the best both of two points so far apart may lie where one between them could still
// count: a peak of the log likelihood, whose second derivative is about -2n there, may rise that far above both.
func (l *level) between(stride int) float64 {
	d := float64(stride) * l.grid.step
	return l.negligible() - 1 - 1.5*float64(l.n)*d*d/4
}

// negligible is how far below the best the log weight of a point lies that does not count.
func (l *level) negligible() float64 {
	if l.rough {
		return roughNegligible
	}
	return logNegligible
}

// outwardFrom is the number of readings from which points are looked at outward from a peak: fewer say so little of
// sigma that nearly every point counts.
const outwardFrom = 20

// reachOut is how far below the best, were the density normal, the first look ends; with a drift, where all weighs less, at a quarter.
const reachOut = 12.0

// coarse looks at points so far apart, of some of the blocks.
func (l *level) coarse(stride, from, to int) (best float64) {
	l.look = l.look[:0]
	for b := from; b < to; b++ {
		for j := 0; j < l.grid.size-1+stride; j += stride {
			l.look = append(l.look, int32(b*l.grid.size+min(j, l.grid.size-1)))
		}
	}
	return l.evaluate(math.Inf(-1))
}

// around looks at the points about the SD that the readings have beside that of their methods, outward until they do not
// count, and says how far apart they are. With a drift the readings say nearly the same of sigma as without. It is for a posterior
// with one peak, which a coarse look at all of sigma without drift tells; ok is false where there is none.
func (l *level) around(coarse int) (stride int, best float64, ok bool) {
	g := l.grid
	if l.shifts != nil || l.n < outwardFrom || g.size == 1 {
		return 0, 0, false
	}
	middle, known := l.guess()
	best = math.Inf(-1)
	if !l.rough {
		best = l.coarse(coarse, 0, 1)
		peak, last := 0, l.logs[0]
		for j := 0; j < g.size-1; {
			from := j
			j = min(j+coarse, g.size-1)
			if now := l.logs[j]; now > last {
				if peak != from {
					return 0, 0, false
				}
				peak, last = j, now
			} else {
				last = now
			}
		}
		middle = max(peak-coarse, min(peak+coarse, middle))
	}
	for stride = l.finest(); stride < 4*g.usual && 2*float64(stride)*g.step < 1.4/math.Sqrt(2*known); stride *= 2 {
	}
	reach := int(math.Ceil(math.Sqrt(reachOut/known) / (float64(stride) * g.step)))
	more, last := (reach+1)/2, (g.size-1)/stride
	middle = (middle + stride/2) / stride
	l.look = l.look[:0]
	// From where to where the points of each block were looked at.
	ends := append(make([]struct{ low, high int }, 0, 8), make([]struct{ low, high int }, len(g.blocks))...)
	for b := range ends {
		e, reach := &ends[b], reach
		if b > 0 {
			reach = (reach + 1) / 2
		}
		e.low, e.high = max(0, middle-reach), min(last, middle+reach)
		for i := e.low; i <= e.high; i++ {
			l.look = append(l.look, int32(b*g.size+i*stride))
		}
	}
	for len(l.look) > 0 {
		best = l.evaluate(best)
		l.look = l.look[:0]
		least := best + l.negligible()
		for b := range ends {
			e, logs := &ends[b], l.logs[b*g.size:(b+1)*g.size]
			top := e.low
			for i := e.low; i <= e.high; i++ {
				if logs[i*stride] > logs[top*stride] {
					top = i
				}
			}
			if from := e.low; top == from || logs[from*stride] > least {
				for e.low = max(0, from-more); from > e.low; from-- {
					l.look = append(l.look, int32(b*g.size+(from-1)*stride))
				}
			}
			if to := e.high; top == to || logs[to*stride] > least {
				for e.high = min(last, to+more); to < e.high; to++ {
					l.look = append(l.look, int32(b*g.size+(to+1)*stride))
				}
			}
		}
		if len(l.look) > 0 || stride == l.finest() || l.smooth(stride, best) {
			continue
		}
		for b := range ends {
			e, logs := &ends[b], l.logs[b*g.size:(b+1)*g.size]
			for i := e.low; i < e.high; i++ {
				if max(logs[i*stride], logs[(i+1)*stride]) > least-1 {
					l.look = append(l.look, int32(b*g.size+i*stride+stride/2))
				}
			}
			e.low, e.high = 2*e.low, 2*e.high
		}
		stride, last = stride/2, 2*last
	}
	return stride, best, true
}

// guess is the value of the grid nearest to the SD that the readings have beside that of their methods, and of how many readings
// without a method's error they say as much of it.
func (l *level) guess() (value int, known float64) {
	mean, square, methods, n := 0.0, 0.0, 0.0, float64(l.n)
	for i := range l.seen {
		mean += l.seen[i].y / n
	}
	for i := range l.seen {
		d := l.seen[i].y - mean
		square += d * d / n
		methods += l.seen[i].v / n
	}
	if !(square > 0) {
		return 0, n
	}
	// Where the methods make nearly all of it, the readings say little of the rest.
	share := max(.1, 1-methods/square)
	at := math.Log(math.Sqrt(square*share)/l.set.Sigma0)/l.grid.step + float64(l.grid.size-1)/2
	return int(max(0, min(float64(l.grid.size-1), at))), n * share * share
}

// smooth reports whether points so far apart are near enough.
func (l *level) smooth(stride int, best float64) bool {
	if l.n < outwardFrom {
		return l.even(stride, best)
	}
	// Of a normal density with the SD s, points D apart sum to the integral but for 2 exp(-2 pi² s²/D²), and D²/s² is
	// what its logarithm bends by from one point to the next.
	g := l.grid
	judged := false
	for b := range g.blocks {
		logs := l.logs[b*g.size : (b+1)*g.size]
		for j := stride; j+stride < g.size; j += stride {
			before, now, after := logs[j-stride], logs[j], logs[j+stride]
			if now < best-smoothWithin || before == unseen || after == unseen {
				continue
			}
			if 2*now-before-after > smoothEnough {
				return false
			}
			judged = true
		}
	}
	return judged
}

// even is smooth for few readings, of which the density is far from normal. The sum over every second of the points tells:
// the error of a sum falls with more than the square when its points are put twice as near.
func (l *level) even(stride int, best float64) bool {
	g := l.grid
	var sums [2]float64
	off, total := 0.0, 0.0
	for b := range g.blocks {
		sums = [2]float64{}
		for j := 0; j < g.size; j += stride {
			if w := l.logs[b*g.size+j] - best; w > logNegligible {
				sums[j/stride%2] += math.Exp(w)
			}
		}
		off += math.Abs(sums[0] - sums[1])
		total += sums[0] + sums[1]
	}
	return off < evenEnough*total
}

const (
	// evenEnough leaves 1e-4 of the half-width in the limits of random histories.
	evenEnough = .01
	// smoothEnough leaves 7e-5 of it.
	smoothEnough = 2.0
	// smoothWithin is how far below the best log weights are looked at so: two percent of it.
	smoothWithin = 4.0
)

// evaluate makes cells of the grid points to look at, brings all cells up to the readings
// and works out the log weights of those looked at. It returns the best, at least the one given.
func (l *level) evaluate(best float64) float64 {
	for _, k := range l.look {
		if l.place[k] >= 0 {
			continue
		}
		l.cell(k)
	}
	for i := range l.runs {
		l.runs[i].full = true
	}
	l.catchUp()
	for _, k := range l.look {
		at := l.place[k]
		w := l.cells[at].prior + l.states[at].logLik()
		if l.extra != nil {
			w += l.extra(l.cells[at].sigma)
		}
		l.logs[k] = w
		best = max(best, w)
	}
	return best
}

// cell makes the cell of a grid point.
func (l *level) cell(k int32) {
	c := l.grid.cell(int(k), l.set.Sigma0)
	at, steady := len(l.cells), l.grid.blocks[c.block].phi == 0
	if r := len(l.runs) - 1; r < 0 || l.runs[r].steady != steady || l.runs[r].full {
		l.runs = append(l.runs, run{steady: steady, from: at, to: at})
	}
	l.place[k] = int32(at)
	l.cells = append(l.cells, c)
	l.states = append(l.states, state{})
	if l.swing != nil {
		l.tides = append(l.tides, tide{})
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
func (l *level) catchUp() {
	for i := range l.runs {
		r := &l.runs[i]
		if r.n == l.n {
			continue
		}
		if l.shifts != nil {
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
