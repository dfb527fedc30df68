package baseline

import (
	"math"
	"math/bits"
)

// Bad days in the history. Nobody labels every exam, and one unlabelled sick day
// among ten widens the limits by half for good and costs a third of the power.
// So each reading may come, with probability eps, from a day on which the horse
// was moved by about four of its own SDs with twice the usual spread; eps itself
// is unknown on a small grid. Limits are those of the well horse.
//
// At a grid point with n readings there are 2^n ways to have had bad days, each
// of them a normal model. Kept are the most probable ones, up to maxStates (a
// Gaussian-sum filter: Sorenson & Alspach, Automatica 7 (1971) 465-479), so a
// reading that looked odd at first can be taken back when later ones agree with
// it. eps needs no grid points of its own: given the count c of bad days among n
// it is summed out exactly. The number of ways kept is the one approximation;
// its size is measured against the exact sum in mixture_test.go.

// oddDirection is the way in which a bad day moves the readings of a sign.
type oddDirection int

const (
	oddNone oddDirection = iota // no bad days
	oddUp
	oddDown
	oddBoth // either way, each half as likely
)

const (
	oddShift  = 4.0 // own SDs by which a bad day moves a reading
	oddSpread = 2.0 // its spread, in own SDs

	maxStates = 6 // ways kept at a grid point

	// logTooRare: a way less probable than the best by 1e-6 is dropped.
	logTooRare = -13.815510557964274
)

// oddShares is the grid of eps with its prior.
var oddShares = [...]struct{ eps, weight float64 }{
	{.001, .25}, {.03, .25}, {.07, .25}, {.12, .15}, {.2, .10},
}

// oddPrior holds the directions, and for the present number of readings the log
// prior weight of each count of bad days.
type oddPrior struct {
	shifts  []float64
	weights []float64 // by count; what is missing is never needed
}

func newOddPrior(d oddDirection) *oddPrior {
	switch d {
	case oddDown:
		return &oddPrior{shifts: []float64{-oddShift}}
	case oddBoth:
		return &oddPrior{shifts: []float64{oddShift, -oddShift}}
	}
	return &oddPrior{shifts: []float64{oddShift}}
}

// see prepares for n readings of which up to most were bad: log of the prior mean
// of eps^c (1-eps)^(n-c).
func (o *oddPrior) see(n, most int) {
	var part, odds [len(oddShares)]float64
	for i, s := range oddShares {
		part[i] = s.weight * math.Exp(float64(n)*math.Log1p(-s.eps))
		odds[i] = s.eps / (1 - s.eps) / float64(len(o.shifts))
	}
	o.weights = o.weights[:0]
	for range most + 1 {
		sum := 1e-300 // keeps the logarithm finite for a history of bad days only
		for i := range part {
			sum += part[i]
			part[i] *= odds[i]
		}
		o.weights = append(o.weights, math.Log(sum))
	}
}

// way is one continuation of a kept state: the new reading from a well day, or
// moved by one of the shifts.
type way struct {
	parent int
	bad    bool
	e, ve  float64 // surprise and noise variance to be taken
	rank   float64 // log weight with the prior of its count
}

// learnOdd is learn with bad days.
func (l *level) learnOdd(dt, hour, y, v float64) {
	l.settle()
	l.most++
	l.odd.see(l.n, l.most)
	var cos, sin float64
	if l.tides != nil {
		cos, sin = clock(hour)
	}
	most := 0
	for i := range l.blocks {
		b := &l.blocks[i]
		r := math.Exp(-dt / b.days)
		for j := b.from; j < b.to; j++ {
			l.branch(j, r, cos, sin, y, v)
			for _, s := range l.states[j*l.width:][:l.live[j]] {
				most = max(most, int(s.count))
			}
		}
	}
	l.most = most
}

// branch takes a reading at one grid point: every way on, the best ones kept.
func (l *level) branch(j int, r, cos, sin, y, v float64) {
	c := &l.cells[j]
	states := l.states[j*l.width:][:l.width]
	var tides []tide
	if l.tides != nil {
		tides = l.tides[j*l.width:][:l.width]
	}
	own := c.sigma*c.sigma + v // of a well day, drift within the span included
	shift, bad := math.Sqrt(own), oddSpread*oddSpread*own

	ways := l.ways[:0]
	best := math.Inf(-1)
	for i := range states[:l.live[j]] {
		s := &states[i]
		s.wander(r, c.vd)
		mean, base := s.m+s.d, s.a+2*s.b+s.c
		if tides != nil {
			tides[i].wander(r)
			m, add := tides[i].at(cos, sin)
			mean, base = mean+m, base+add
		}
		w := way{parent: i, e: y - mean, ve: c.ve + v}
		w.rank = l.rank(s, w.e, base+w.ve, s.count)
		ways = append(ways, w)
		best = max(best, w.rank)
		for _, k := range l.odd.shifts {
			w := way{parent: i, bad: true, e: y - mean - k*shift, ve: bad}
			w.rank = l.rank(s, w.e, base+bad, s.count+1)
			ways = append(ways, w)
			best = max(best, w.rank)
		}
	}
	ways, lost := keep(ways, best)
	next, nextTides := l.next[:len(ways)], l.nextTides[:]
	for i, w := range ways {
		next[i] = states[w.parent]
		s := &next[i]
		s.odds <<= 1
		if w.bad {
			s.odds |= 1
			s.count++
		}
		if tides == nil {
			s.take(w.e, w.ve)
		} else {
			nextTides[i] = tides[w.parent]
			s.takeTide(&nextTides[i], cos, sin, w.e, w.ve)
		}
		s.fold()
		s.quad -= 2 * lost
	}
	copy(states, next)
	copy(tides, nextTides[:len(ways)])
	l.live[j] = len(ways)
}

// rank is the log weight of a state after a surprise e of variance total.
func (l *level) rank(s *state, e, total float64, count int32) float64 {
	return -.5*(s.quad+math.Log(total)+e*e/total) + l.odd.weights[count]
}

// keep returns the most probable ways, best first, and the log of the mass they
// must be raised by to make up for those beyond maxStates.
func keep(ways []way, best float64) (kept []way, lost float64) {
	kept = ways[:0]
	for _, w := range ways {
		if w.rank < best+logTooRare {
			continue
		}
		i := len(kept)
		kept = append(kept, w)
		for ; i > 0 && kept[i-1].rank < w.rank; i-- {
			kept[i] = kept[i-1]
		}
		kept[i] = w
	}
	if len(kept) > maxStates {
		all, some := 0.0, 0.0
		for i, w := range kept {
			p := math.Exp(w.rank - best)
			all += p
			if i < maxStates {
				some += p
			}
		}
		kept, lost = kept[:maxStates], math.Log(all/some)
	}
	return kept, lost
}

// settle puts down the probability that the reading which now leaves the window
// of 64 came from a bad day.
func (l *level) settle() {
	if l.n <= 64 {
		return
	}
	p := 0.0
	l.weigh()
	l.each(func(at int, w float64) { p += w * float64(l.states[at].odds>>63) })
	l.marks = append(l.marks, p)
}

// oddness returns for each reading, in the order of inOrder, the probability
// that it came from a day on which the horse was not itself. Readings more than
// 64 back keep the probability they had when 64 newer ones were known.
func (l *level) oddness() []float64 {
	p := make([]float64, l.n)
	copy(p, l.marks)
	if l.odd == nil {
		return p
	}
	l.weigh()
	l.each(func(at int, w float64) {
		for o := l.states[at].odds; o != 0; o &= o - 1 {
			p[l.n-1-bits.TrailingZeros64(o)] += w
		}
	})
	return p
}
