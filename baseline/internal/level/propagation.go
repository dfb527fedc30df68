package level

import (
	"math"
	"slices"
)

// Bad days in the history. Nobody labels every exam, and one unlabelled sick day
// among ten widens the limits by half for good and costs a third of the power.
// So each reading may come, with probability eps, from a day on which the horse
// was moved by about four of its own SDs, with a wider spread, or now and then
// much farther; eps itself is unknown on a small grid. Limits are those of the
// well horse.
//
// At a grid point with n readings there are 2^n ways to have had bad days. The
// sum over them is approximated by expectation propagation (T. Minka, UAI 2001):
// what a reading says of the level is replaced by the normal factor that leaves
// the same mean and variance, given what all the other readings say; a few
// sweeps over the history let later readings take back what looked odd at first
// and the other way round. mixture_test.go measures the distance from the exact
// sum where that can be worked out.

const (
	BadDayShift  = 4.0  // own SDs by which a bad day moves a reading
	BadDaySpread = 1.25 // its spread, in own SDs

	// One bad day in ten is far worse. Without such days a single wild reading is told by a larger
	// SD of the horse: one 12 own SDs up among 20 widens the limits by half, with them by a twelfth.
	FarShare  = .1
	FarShift  = 8.0
	FarSpread = 4.0

	// Two bad days in ten are slips of the method, which go either way: a thermometer not in far enough reads 1.2 °C too low, and
	// one such reading among ten, sought upward only, took the limits to 1.8 of their width.
	SlipShare  = .2
	SlipSpread = 6.0

	// Sweeps over the history, after the first: until the log density moves less
	// than LogConverged, or no probability of a bad day more than StillBelow; two or three as a rule.
	// After dampAfter of them factors move half way only, so that two do not chase each other.
	sweeps       = 32
	dampAfter    = 2
	LogConverged = 2e-4
	StillBelow   = .002

	// logDoubtful: grid points below 1e-6 of the best after the first pass keep its
	// answer.
	logDoubtful = -13.815510557964274
)

// BadDayRates is the grid of eps, BadDayPrior what is believed of it beforehand, in a history in
// which a reading stands out: in others bad days are not looked for. Weights that fall from few
// bad days to many (.32 .25 .21 .12 .10) are slower to believe in them: limits of 1.15 widths of the
// oracle in place of 1.12, and .91 of new ones seen in place of .92. With some on .2 the
// factors are farther from the exact sum. A spread of 1.5 and shifts of 3.8 to 4.2 do as well as these.
//
// farDay are the far worse days. The share is of the bad days.
var (
	BadDayRates = [...]float64{.001, .03, .07, .12, .2}
	BadDayPrior = rateBelief{.25, .05, .10, .60, 0}
	farDay      = badDay{FarShare, FarShift, FarSpread}
	slip        = badDay{SlipShare, 0, SlipSpread}
)

// factor is one reading at one grid point. h is the level at its time, rhythm and
// drift included.
type factor struct {
	// The factor exp(rate h - prec h²/2) that stands for the reading, and the
	// densities it comes from, scaled by exp(-scale): (well, ill) go into eps.
	precision, rate float64
	well, bad       float64
	scale           float64
	probability     float64 // probability of a bad day
	// From the forward pass: mean and variance of h before the reading, the
	// covariances of h with the state, and what the reading did.
	mean, variance float64
	cov            [stateMost]float64 // mu, drift, p, q, offsets
	pull, gain     float64
}

// propagate finds the factors of the cells that count, of which the first, one-way pass has
// given the log weights, and what they say of each reading. It returns the best log weight.
func (l *Model) propagate(best float64) float64 {
	l.badDays = append(l.badDays[:0], make([]float64, l.n)...)
	all := &badDayAverage{bad: l.badDays[:l.looks], top: math.Inf(-1)}
	for from := 0; from < len(l.chosen); {
		peak, to := from, from
		for ; to < len(l.chosen) && l.cells[l.chosen[to]].block == l.cells[l.chosen[from]].block; to++ {
			if l.weight[to] > l.weight[peak] {
				peak = to
			}
		}
		if l.weight[peak] >= best+logDoubtful {
			// From the best value of sigma down and up, each beginning with the factors of the one before.
			l.propagateCell(peak, -1, all)
			l.peakFactors = append(l.peakFactors[:0], l.factors...)
			for i, last := peak-1, peak; i >= from; i-- {
				if l.weight[i] >= best+logDoubtful {
					l.propagateCell(i, last, all)
					last = i
				}
			}
			copy(l.factors, l.peakFactors)
			for i, last := peak+1, peak; i < to; i++ {
				if l.weight[i] >= best+logDoubtful {
					l.propagateCell(i, last, all)
					last = i
				}
			}
		}
		from = to
	}
	for i, k := l.n-1, l.looks-1; i >= 0; i-- { // from visits to their readings
		l.badDays[i] = all.bad[k] / all.total
		if !l.observations[i].joins {
			k--
		}
	}
	best = math.Inf(-1)
	for _, w := range l.weight {
		best = max(best, w)
	}
	// The next look is to find what the first pass says, not this.
	for i := range l.runs {
		l.runs[i].n = -1
	}
	return best
}

// badDayAverage gathers the probabilities of a bad day over the grid points, each by its weight
// exp(log weight - top).
type badDayAverage struct {
	bad        []float64
	total, top float64
}

func (b *badDayAverage) add(logWeight float64, visits []factor) {
	// Of absurd histories the first pass may have been off by any factor.
	if logWeight > b.top {
		scale := math.Exp(b.top - logWeight)
		for i := range b.bad {
			b.bad[i] *= scale
		}
		b.total *= scale
		b.top = logWeight
	}
	w := math.Exp(logWeight - b.top)
	b.total += w
	for i := range visits {
		b.bad[i] += w * visits[i].probability
	}
}

// propagateCell settles one of the chosen; last is the one whose factors stand in visits, or -1.
func (l *Model) propagateCell(i, last int, all *badDayAverage) {
	j := int(l.chosen[i])
	var logZ float64
	if last < 0 {
		logZ = l.converge(j, l.forward(j, true))
	} else {
		// What a reading says is scaled to the noise of the new grid point.
		now, before := &l.cells[j], &l.cells[l.chosen[last]]
		for k, i := 0, 0; i < l.n; k++ {
			x, to := &l.factors[k], l.visitEnd(i)
			scale := l.together(before, i, to).noise / l.together(now, i, to).noise
			x.precision, x.rate = x.precision*scale, x.rate*scale
			i = to
		}
		l.forward(j, false)
		logZ = l.converge(j, math.Inf(-1))
	}
	l.states[j].prod, l.states[j].quad = 1, -2*logZ
	l.weight[i] = l.cells[j].prior + logZ
	all.add(l.weight[i], l.factors)
}

// converge finds the factors of one grid point, after a pass forward that said before, and leaves
// its state there. It returns the log density of all readings.
func (l *Model) converge(j int, before float64) float64 {
	for sweep := range sweeps {
		now, moved := l.backward(j, sweep >= dampAfter)
		l.forward(j, false)
		if math.Abs(now-before) < LogConverged || moved < StillBelow {
			return now
		}
		before = now
	}
	// Two factors chase each other. The one-way answer is coarser, and sound.
	return l.forward(j, true)
}

// forward runs the filter over the readings at one grid point. On the first
// pass it judges each reading by the ones before it and returns the log density
// of all; later it takes the factors as they stand.
func (l *Model) forward(j int, first bool) (logZ float64) {
	c := &l.cells[j]
	s := &l.states[j]
	l.start(j)
	var t *harmonic
	if l.rhythm != nil {
		t = &l.harmonics[j]
	}
	var o *offsets
	if l.Setting.Ways > 0 {
		o = &l.offsets[j]
	}
	k := l.outlierModel()
	densities := logProduct{p: 1}
	if first {
		l.rate = l.ratePrior
	}
	keeps := l.decaysOf(c.block)
	if cap(l.factors) < l.looks {
		l.factors = make([]factor, l.looks)
	}
	l.factors = l.factors[:l.looks]
	for i, to, f := 0, 0, 0; i < l.n; i, f = to, f+1 {
		p, x := l.observations[i], &l.factors[f]
		to = l.visitEnd(i)
		s.varLevel += l.Setting.Walk * p.gap * c.sigma * c.sigma
		if p.newLevel {
			l.renewAt(j)
		} else if keeps != nil {
			s.wander(keeps[i], c.vd)
		}
		x.cov[0], x.cov[1] = s.varLevel+s.cov, s.cov+s.varDrift
		x.mean, x.variance = s.level+s.drift, x.cov[0]+x.cov[1]
		if t != nil {
			if keeps != nil && !p.newLevel {
				t.wander(keeps[i])
			}
			cos, sin := l.angleOf(i, to)
			t.cover(x, cos, sin)
		}
		if o != nil {
			if keeps != nil && !p.newLevel {
				o.wander(keeps[i])
			}
			if t == nil {
				x.cov[2], x.cov[3] = 0, 0
			}
			cos, sin := 0.0, 0.0
			if t != nil {
				cos, sin = l.angleOf(i, to)
			}
			o.cover(x, cos, sin, l.rowOf(i, to))
		}
		if first {
			all := l.together(c, i, to)
			k.y, k.noise, k.own = all.y, all.noise, all.own
			densities.by(k.matchMoments(x, x.mean, x.variance, l.rate.mean()))
			logZ += x.scale + all.log
			l.rate.times(x.well, x.bad)
		}
		scale := 1 / (1 + x.precision*x.variance)
		x.gain, x.pull = x.precision*scale, (x.rate-x.precision*x.mean)*scale
		s.absorb(x)
		if t != nil {
			t.absorb(x)
		}
		if o != nil {
			o.absorb(x)
		}
		for i++; i < to; i++ {
			s.varLevel += l.Setting.Walk * l.observations[i].gap * c.sigma * c.sigma
			if keeps != nil {
				s.wander(keeps[i], c.vd)
			}
			if keeps != nil && t != nil {
				t.wander(keeps[i])
			}
			if keeps != nil && o != nil {
				o.wander(keeps[i])
			}
		}
	}
	return logZ + densities.value()
}

// backward works out from the later readings what all the others say at each
// reading, and judges it by that; with half, factors move half way. It returns
// the log density of all readings by the factors as they stood, and how far the
// probability of a bad day moved at most.
func (l *Model) backward(j int, half bool) (logZ, moved float64) {
	c := &l.cells[j]
	k := l.outlierModel()
	densities, squares := logProduct{p: 1}, logProduct{p: 1}
	for i := range l.factors {
		x := &l.factors[i]
		exponent, square := x.mass(x.mean, x.variance)
		squares.by(square)
		logZ += exponent
	}
	back := adjoint{size: 2}
	if l.rhythm != nil {
		back.size = 4
	}
	if l.Setting.Ways > 0 {
		back.size = 4 + l.Setting.Ways
	}
	keeps := l.decaysOf(c.block)
	for f, i, to := len(l.factors)-1, l.n-1, l.n; f >= 0; f, i, to = f-1, i-1, i {
		for ; l.observations[i].joins; i-- {
			if keeps != nil {
				back.elapse(keeps[i])
			}
		}
		x, p, all := &l.factors[f], l.observations[i], l.together(c, i, to)
		logZ += all.log
		row := [stateMost]float64{1, 1}
		if l.rhythm != nil {
			row[2], row[3] = l.angleOf(i, to)
		}
		if l.Setting.Ways > 0 {
			ways := l.rowOf(i, to)
			copy(row[4:], ways[:])
		}
		m, v := back.through(x, row)
		if p.newLevel {
			back.renew()
		} else if keeps != nil {
			back.elapse(keeps[i])
		}
		prec := 1/v - x.precision // of all the other readings
		if !(prec > 0) {
			continue
		}
		m, v = (m/v-x.rate)/prec, 1/prec
		exponent, square := x.mass(m, v)
		logZ -= exponent
		squares.by(1 / square)
		others := l.rate.meanWithout(x.well, x.bad)
		k.y, k.noise, k.own = all.y, all.noise, all.own
		oldPrec, oldRate, oldBad := x.precision, x.rate, x.probability
		k.matchMoments(x, m, v, others)
		moved = max(moved, math.Abs(x.probability-oldBad))
		if half {
			x.precision, x.rate = (x.precision+oldPrec)/2, (x.rate+oldRate)/2
		}
	}
	// The densities of the readings by what all the others say, as just judged: then a factor
	// that has yet to move changes the log density in the second order only.
	l.rate = l.ratePrior
	for i := range l.factors {
		x := &l.factors[i]
		densities.by(l.rate.times(x.well, x.bad))
		logZ += x.scale
	}
	return logZ + densities.value() - .5*squares.value(), moved
}

// adjoint carries back what later readings say: gradient and information of
// their log density by the state (mu, drift, p, q) (modified Bryson-Frazier
// smoother).
type adjoint struct {
	size int
	r    [stateMost]float64
	n    [stateMost][stateMost]float64
}

// through passes a reading with the row h of the design and returns mean and
// variance of the level there by all readings.
func (a *adjoint) through(x *factor, h [stateMost]float64) (mean, variance float64) {
	var w [stateMost]float64
	rho, s := 0.0, 0.0
	for i := range a.size {
		sum := 0.0
		for j := range a.size {
			sum += a.n[i][j] * x.cov[j]
		}
		w[i] = sum
		s += sum * x.cov[i]
		rho += a.r[i] * x.cov[i]
	}
	b := x.variance
	mean = x.mean + rho + b*(x.pull-x.gain*rho)
	inner := x.gain + x.gain*x.gain*s
	variance = b - (s - 2*x.gain*b*s + inner*b*b)
	for i := range a.size {
		a.r[i] += h[i] * (x.pull - x.gain*rho)
		for j := range a.size {
			a.n[i][j] += inner*h[i]*h[j] - x.gain*(h[i]*w[j]+w[i]*h[j])
		}
	}
	return mean, variance
}

// elapse goes back over the time for which the drift keeps the share r.
func (a *adjoint) elapse(r float64) {
	a.r[1] *= r
	for i := range a.size {
		a.n[1][i] *= r
		a.n[i][1] *= r
	}
}

// renew goes back past the beginning of a new level: what comes after it says nothing of
// the level and the drift before it.
func (a *adjoint) renew() {
	for i := range 2 {
		a.r[i] = 0
		for j := range a.n {
			a.n[i][j], a.n[j][i] = 0, 0
		}
	}
}

// absorb updates a state by the factor of a visit.
func (s *state) absorb(x *factor) {
	um, ud := x.cov[0], x.cov[1]
	s.level += um * x.pull
	s.drift += ud * x.pull
	s.varLevel -= x.gain * um * um
	s.cov -= x.gain * um * ud
	s.varDrift -= x.gain * ud * ud
}

// BadDayProbabilities returns for each reading, in the order of inOrder, the probability
// that it came from a day on which the horse was not itself; all zero without Odd.
func (l *Model) BadDayProbabilities() []float64 {
	if !l.Setting.BadDays {
		return make([]float64, l.n)
	}
	return slices.Clone(l.badDays)
}
