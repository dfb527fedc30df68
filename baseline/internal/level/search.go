package level

import (
	"math"
	"slices"
	"sync"
)

// unseen is the log weight of a grid point that was not looked at.
const unseen = -math.MaxFloat64

// choose finds the grid points that count, their log weights, and the best of these. From
// some readings on it looks outward from where they put sigma; with fewer, and where that
// is in doubt, it begins with a coarse look at all and goes on between neighbours where a point
// could still count. The same readings choose the same points, whatever the
// order in which they arrived.
func (l *Model) choose() (best float64) {
	if l.grid.perStep != perStepFor(l.n) || l.grid.visits != l.repeated {
		l.buildGrid(perStepFor(l.n))
	}
	g := l.grid
	final := l.finestStride()
	room := rooms.Get().(*room)
	defer func() {
		room.logs, room.look = l.logWeights, l.candidates
		l.logWeights, l.candidates = nil, nil
		rooms.Put(room)
	}()
	l.logWeights, l.candidates = slices.Grow(room.logs[:0], len(l.place))[:len(l.place)], room.look
	for k := range l.logWeights {
		l.logWeights[k] = unseen
	}
	stride := 8 * g.perStep
	if around, most, ok := l.outward(stride); ok {
		stride, final, best = around, around, most
	} else {
		best = l.coarse(stride, 0, len(g.blocks))
	}
	for ; stride > final; stride /= 2 {
		if stride <= 4*g.perStep && (g.size-1)%stride == 0 && l.fineEnough(stride, best) {
			final = stride
			break
		}
		least := best + l.between(stride)
		l.candidates = l.candidates[:0]
		for b := range g.blocks {
			logs := l.logWeights[b*g.size : (b+1)*g.size]
			for j := 0; j+stride/2 < g.size-1; j += stride {
				a, z := logs[j], logs[min(j+stride, g.size-1)]
				if a != unseen && z != unseen && max(a, z) > least {
					l.candidates = append(l.candidates, int32(b*g.size+j+stride/2))
				}
			}
		}
		best = l.evaluate(best)
	}
	l.stride = final
	l.chosen, l.weight = l.chosen[:0], l.weight[:0]
	for b := range g.blocks {
		for j := 0; j < g.size; j += final {
			if k := b*g.size + j; l.logWeights[k] >= best+l.negligible() {
				w := l.logWeights[k]
				if final > g.perStep && (j == 0 || j == g.size-1) {
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
func (l *Model) between(stride int) float64 {
	d := float64(stride) * l.grid.step
	return l.negligible() - 1 - 1.5*float64(l.n)*d*d/4
}

// negligible is how far below the best the log weight of a point lies that does not count.
func (l *Model) negligible() float64 {
	if l.Coarse {
		return roughNegligible
	}
	return LogNegligible
}

// OutwardFrom is the number of readings from which points are looked at outward from a peak: fewer say so little of
// sigma that nearly every point counts.
const OutwardFrom = 20

// reachOut is how far below the best, were the density normal, the first look ends; with a drift, where all weighs less, at a quarter.
const reachOut = 12.0

// coarse looks at points so far apart, of some of the blocks.
func (l *Model) coarse(stride, from, to int) (best float64) {
	l.candidates = l.candidates[:0]
	for b := from; b < to; b++ {
		for j := 0; j < l.grid.size-1+stride; j += stride {
			l.candidates = append(l.candidates, int32(b*l.grid.size+min(j, l.grid.size-1)))
		}
	}
	return l.evaluate(math.Inf(-1))
}

// outward looks at the points about the SD that the readings have beside that of their methods, outward until they do not
// count, and says how far apart they are. With a drift the readings say nearly the same of sigma as without. It is for a posterior
// with one peak, which a coarse look at all of sigma without drift tells; ok is false where there is none.
func (l *Model) outward(coarse int) (stride int, best float64, ok bool) {
	g := l.grid
	if l.Setting.BadDays || l.looks < OutwardFrom || g.size == 1 {
		return 0, 0, false
	}
	middle, known := l.guess()
	best = math.Inf(-1)
	if !l.Coarse {
		best = l.coarse(coarse, 0, g.shares())
		peak, single := l.peak(coarse)
		if !single {
			return 0, 0, false
		}
		middle = max(peak-coarse, min(peak+coarse, middle))
	}
	// The readings say log sigma to an SD of 1/sqrt(2 known).
	for stride = l.finestStride(); stride < 4*g.perStep && 2*float64(stride)*g.step < math.Sqrt(maxSecondDifference/(2*known)); stride *= 2 {
	}
	reach := int(math.Ceil(math.Sqrt(reachOut/known) / (float64(stride) * g.step)))
	more, last := (reach+1)/2, (g.size-1)/stride
	middle = (middle + stride/2) / stride
	l.candidates = l.candidates[:0]
	// From where to where the points of each block were looked at.
	ends := append(make([]struct{ low, high int }, 0, 8), make([]struct{ low, high int }, len(g.blocks))...)
	for b := range ends {
		e, reach := &ends[b], reach
		if b >= g.shares() {
			reach = (reach + 1) / 2
		}
		e.low, e.high = max(0, middle-reach), min(last, middle+reach)
		for i := e.low; i <= e.high; i++ {
			l.candidates = append(l.candidates, int32(b*g.size+i*stride))
		}
	}
	for len(l.candidates) > 0 {
		best = l.evaluate(best)
		l.candidates = l.candidates[:0]
		least := best + l.negligible()
		for b := range ends {
			e, logs := &ends[b], l.logWeights[b*g.size:(b+1)*g.size]
			top := e.low
			for i := e.low; i <= e.high; i++ {
				if logs[i*stride] > logs[top*stride] {
					top = i
				}
			}
			if from := e.low; top == from || logs[from*stride] > least {
				for e.low = max(0, from-more); from > e.low; from-- {
					l.candidates = append(l.candidates, int32(b*g.size+(from-1)*stride))
				}
			}
			if to := e.high; top == to || logs[to*stride] > least {
				for e.high = min(last, to+more); to < e.high; to++ {
					l.candidates = append(l.candidates, int32(b*g.size+(to+1)*stride))
				}
			}
		}
		if len(l.candidates) > 0 || stride == l.finestStride() || l.fineEnough(stride, best) {
			continue
		}
		for b := range ends {
			e, logs := &ends[b], l.logWeights[b*g.size:(b+1)*g.size]
			for i := e.low; i < e.high; i++ {
				if max(logs[i*stride], logs[(i+1)*stride]) > least-1 {
					l.candidates = append(l.candidates, int32(b*g.size+i*stride+stride/2))
				}
			}
			e.low, e.high = 2*e.low, 2*e.high
		}
		stride, last = stride/2, 2*last
	}
	return stride, best, true
}

// peak is the best of the values so far apart without drift; single, whether the log weights rise up to it and do not rise again,
// for each share of a visit.
func (l *Model) peak(coarse int) (value int, single bool) {
	end, single := l.grid.size-1, true
	best := unseen
	for b := range l.grid.shares() {
		top, logs := 0, l.logWeights[b*l.grid.size:]
		for j, next := 0, 0; j < end; j = next {
			if next = min(j+coarse, end); logs[next] > logs[j] {
				single = single && top == j
				top = next
			}
		}
		if logs[top] > best {
			value, best = top, logs[top]
		}
	}
	return value, single
}

// guess is the value of the grid nearest to the SD that the readings have beside that of their methods, and of how many readings
// without a method's error they say as much of it.
func (l *Model) guess() (value int, known float64) {
	mean, square, methods, n, looks := 0.0, 0.0, 0.0, float64(l.n), float64(l.looks)
	for i := range l.observations {
		mean += l.observations[i].y / n
	}
	for i := range l.observations {
		d := l.observations[i].y - mean
		square += d * d / n
		methods += l.observations[i].v / n
	}
	if !(square > 0) {
		return 0, looks
	}
	// Where the methods make nearly all of it, the readings say little of the rest.
	share := max(.1, 1-methods/square)
	at := math.Log(math.Sqrt(square*share)/l.Setting.Sigma0)/l.grid.step + float64(l.grid.size-1)/2
	return int(max(0, min(float64(l.grid.size-1), at))), looks * share * share
}

// fineEnough reports whether points so far apart are near enough.
func (l *Model) fineEnough(stride int, best float64) bool {
	if l.looks < OutwardFrom {
		return l.halvesAgree(stride, best)
	}
	// Of a normal density with the SD s, points D apart sum to the integral but for 2 exp(-2 pi² s²/D²), and D²/s² is
	// what its logarithm bends by from one point to the next.
	g := l.grid
	judged := false
	for b := range g.blocks {
		logs := l.logWeights[b*g.size : (b+1)*g.size]
		for j := stride; j+stride < g.size; j += stride {
			before, now, after := logs[j-stride], logs[j], logs[j+stride]
			if now < best-secondDifferenceWithin || before == unseen || after == unseen {
				continue
			}
			if 2*now-before-after > maxSecondDifference {
				return false
			}
			judged = true
		}
	}
	return judged
}

// halvesAgree is smooth for few readings, of which the density is far from normal. The sum over every second of the points tells:
// the error of a sum falls with more than the square when its points are put twice as near.
func (l *Model) halvesAgree(stride int, best float64) bool {
	g := l.grid
	var sums [2]float64
	off, total := 0.0, 0.0
	for b := range g.blocks {
		sums = [2]float64{}
		for j := 0; j < g.size; j += stride {
			if w := l.logWeights[b*g.size+j] - best; w > LogNegligible {
				sums[j/stride%2] += math.Exp(w)
			}
		}
		off += math.Abs(sums[0] - sums[1])
		total += sums[0] + sums[1]
	}
	return off < maxHalfDifference*total
}

const (
	// maxHalfDifference leaves 1e-4 of the half-width in the limits of random histories.
	maxHalfDifference = .01
	// maxSecondDifference leaves 7e-5 of it.
	maxSecondDifference = 2.0
	// secondDifferenceWithin is how far below the best log weights are looked at so: down to exp(-4), two percent of the best.
	secondDifferenceWithin = 4.0
)
