package level

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"whorl.example/baseline/internal/normal"
)

// normalDensity is the density of N(m, v).
func normalDensity(x, m, v float64) float64 {
	return math.Exp(-(x-m)*(x-m)/(2*v)) / math.Sqrt(2*math.Pi*v)
}

// What one reading says of the level, against quadrature over the level: the density of the reading, the
// probability of a bad day, mean and variance after it. Where doubt about the reading widens the level, the
// factor keeps the mean alone.
func TestJudgeAgainstQuadrature(t *testing.T) {
	t.Parallel()
	widened := 0
	for _, y := range []float64{-14, -3, 0, 2.5, 7, 9, 13, 40} {
		for _, eps := range []float64{.001, .09, .4} {
			k := (&Model{spread: 1.25}).outlierModel()
			k.y, k.noise, k.own = y, 5, 6.5
			const m, v = 1.5, 3.0
			var x factor
			density := k.matchMoments(&x, m, v, eps)

			var z, bad, first, second float64
			const steps, reach = 1500, 16
			h := 2 * reach * math.Sqrt(v) / steps
			for i := range steps + 1 {
				at := m - reach*math.Sqrt(v) + h*float64(i)
				near := normalDensity(y, at+BadDayShift*math.Sqrt(k.own), 1.25*1.25*k.own)
				far := normalDensity(y, at+farDay.shift*math.Sqrt(k.own), farDay.spread*farDay.spread*k.own)
				slipped := normalDensity(y, at, slip.spread*slip.spread*k.own)
				ill := (1-farDay.share-slip.share)*near + farDay.share*far + slip.share*slipped
				p := normalDensity(at, m, v) * h
				w := p * ((1-eps)*normalDensity(y, at, k.noise) + eps*ill)
				z, bad = z+w, bad+p*eps*ill
				first, second = first+w*at, second+w*at*at
			}
			mean := first / z
			variance := second/z - mean*mean
			what := fmt.Sprint(y, eps, ": ")
			near(t, what+"density", math.Log(density)+x.scale-.5*math.Log(2*math.Pi), math.Log(z), 1e-9)
			near(t, what+"bad day", x.probability, bad/z, 1e-9)
			near(t, what+"of its two parts", (1-eps)*x.well+eps*x.bad, density, 1e-12*density)
			if variance < v {
				near(t, what+"variance", 1/(1/v+x.precision), variance, 1e-8)
				near(t, what+"mean", (m/v+x.rate)*variance, mean, 1e-7)
			} else {
				widened++
				near(t, what+"no precision", x.precision, 0, 0)
				near(t, what+"mean", m+x.rate*v, mean, 1e-7)
			}
			// The factor's own integral.
			mass := 0.0
			for i := range steps + 1 {
				at := m - reach*math.Sqrt(v) + h*float64(i)
				mass += normalDensity(at, m, v) * h * math.Exp(x.rate*at-x.precision*at*at/2)
			}
			if exponent, square := x.mass(m, v); x.rate*math.Sqrt(v) < 5 {
				near(t, what+"mass", exponent-math.Log(square)/2, math.Log(mass), 1e-8)
			}
		}
	}
	if widened == 0 {
		t.Error("no reading widens the level")
	}
}

// The belief about how often days are bad, by Bayes' rule, and with a reading taken out again; products of
// many factors, of which neither the product nor its inverse is a number.
func TestSharesAndProducts(t *testing.T) {
	t.Parallel()
	s := BadDayPrior
	sum := s.times(.3, 2)
	want, mean := 0.0, 0.0
	for i, eps := range BadDayRates {
		want += BadDayPrior[i] * (.3*(1-eps) + 2*eps)
		mean += BadDayPrior[i] * (.3*(1-eps) + 2*eps) * eps
	}
	near(t, "sum", sum, want, 1e-15)
	near(t, "mean", s.mean(), mean/want, 1e-15)
	near(t, "mean without it", s.meanWithout(.3, 2), BadDayPrior.mean(), 1e-15)
	total := 0.0
	for _, w := range s {
		total += w
	}
	near(t, "weights", total, 1, 1e-15)
	for _, x := range []float64{1e-5, 1e5, 1e-60, 1e60, 3} {
		p := logProduct{p: 1}
		for range 1000 {
			p.by(x)
		}
		near(t, "log of a product", p.value(), 1000*math.Log(x), 1e-8)
	}
}

// blame is the mean of the probabilities of a bad day by weights exp(log weight), whatever their order.
func TestBlameIsAWeightedMean(t *testing.T) {
	t.Parallel()
	logs, bad := []float64{-700, -701.5, -699, -730, -699.2}, []float64{.1, .9, .4, .7, .2}
	want, total := 0.0, 0.0
	for i := range logs {
		w := math.Exp(logs[i] + 700)
		want, total = want+w*bad[i], total+w
	}
	for _, order := range [][]int{{0, 1, 2, 3, 4}, {4, 3, 2, 1, 0}, {2, 4, 0, 1, 3}} {
		b := badDayAverage{bad: make([]float64, 1), top: math.Inf(-1)}
		for _, i := range order {
			b.add(logs[i], []factor{{probability: bad[i]}})
		}
		near(t, "mean", b.bad[0]/b.total, want/total, 1e-14)
	}
}

// dense is the joint normal of the level at the readings, at one grid point, without a filter.
type dense struct {
	mean []float64
	cov  [][]float64
}

func denseOf(l *Model, j int, ps []Reading) dense {
	c, n := &l.cells[j], len(ps)
	days := l.grid.blocks[c.block].Days
	d := dense{make([]float64, n), make([][]float64, n)}
	new := 0 // where a new level begins
	for i, p := range ps {
		if p.NewLevel {
			new = i
		}
	}
	for r, p := range ps {
		d.cov[r] = make([]float64, n)
		for k, q := range ps {
			if (r >= new) == (k >= new) {
				v, begin := l.Setting.Tau*l.Setting.Tau, ps[0].Day
				if r >= new && new > 0 {
					v, begin = Renewed*v, ps[new].Day
				}
				d.cov[r][k] = v + l.Setting.Walk*c.own*(min(p.Day, q.Day)-begin) + c.vd*math.Exp(-math.Abs(p.Day-q.Day)/days)
			}
			if w := l.rhythm; w != nil {
				pc, psin := Angle(p.Hour)
				qc, qsin := Angle(q.Hour)
				d.cov[r][k] += pc*qc*w.pp + (pc*qsin+psin*qc)*w.pq + psin*qsin*w.qq
				d.mean[r] = w.p*pc + w.q*psin
			}
		}
	}
	return d
}

// inverse inverts a matrix by Gauss and Jordan's steps and gives the log of its determinant.
func inverse(m [][]float64) (inv [][]float64, logDet float64) {
	n := len(m)
	a := make([][]float64, n)
	for i := range a {
		a[i] = append(append([]float64(nil), m[i]...), make([]float64, n)...)
		a[i][n+i] = 1
	}
	for i := range a {
		pivot := a[i][i]
		logDet += math.Log(pivot)
		for k := range a[i] {
			a[i][k] /= pivot
		}
		for r := range a {
			if f := a[r][i]; r != i {
				for k := range a[r] {
					a[r][k] -= f * a[i][k]
				}
			}
		}
	}
	inv = make([][]float64, n)
	for i := range inv {
		inv[i] = a[i][n:]
	}
	return inv, logDet
}

// with multiplies by the factors exp(rate h - prec h²/2): mean and variance of each h after, and the log of the mass.
func (d dense) with(prec, rate []float64) (mean, variance []float64, mass float64) {
	n := len(d.mean)
	inv, logDet := inverse(d.cov)
	b := make([]float64, n)
	for i := range n {
		b[i] = rate[i]
		for k := range n {
			b[i] += inv[i][k] * d.mean[k]
			mass -= d.mean[i] * inv[i][k] * d.mean[k] / 2
		}
	}
	for i := range n {
		inv[i][i] += prec[i]
	}
	post, logPost := inverse(inv)
	mean, variance = make([]float64, n), make([]float64, n)
	for i := range n {
		for k := range n {
			mean[i] += post[i][k] * b[k]
			mass += b[i] * post[i][k] * b[k] / 2
		}
		variance[i] = post[i][i]
	}
	return mean, variance, mass - (logDet+logPost)/2
}

// pass is one sweep of expectation propagation written out: every factor anew from what all the others say, and the log
// density of the readings by the factors as they stood.
func (d dense) pass(l *Model, j int, visits []factor, eps rateBelief) (next []factor, logZ float64) {
	c, n := &l.cells[j], len(visits)
	prec, rate := make([]float64, n), make([]float64, n)
	for i, x := range visits {
		prec[i], rate[i] = x.precision, x.rate
	}
	mean, variance, mass := d.with(prec, rate)
	logZ = mass
	next = append(next, visits...)
	after := l.ratePrior
	for i := range next {
		x := &next[i]
		rest := 1/variance[i] - x.precision
		m, v := (mean[i]/variance[i]-x.rate)/rest, 1/rest
		exponent, square := x.mass(m, v)
		logZ -= exponent - math.Log(square)/2
		others := eps.meanWithout(x.well, x.bad)
		p := l.observations[i]
		k := l.outlierModel()
		k.y, k.noise, k.own = p.y, c.ve+p.v, c.own+p.v
		k.matchMoments(x, m, v, others)
		logZ += math.Log(after.times(x.well, x.bad)) + x.scale
	}
	return next, logZ
}

// oddHistory is a history with a bad day, a new level and hours all over the clock.
func oddHistory(odd, rhythmic, renew bool) (*Model, []Reading) {
	set := Setting{M0: 38, Tau: 5, Sigma0: 3, Drift: true, Walk: .01, BadDays: odd}
	if rhythmic {
		set.Rhythm = &Rhythm{2, .8, 16, 23}
	}
	var ps []Reading
	for i, y := range []float64{36, 41, 35, 52, 37, 43, 46, 31} {
		ps = append(ps, Reading{Day: float64(i*i) / 3, Hour: float64(5 * i % 24), Y: y, SD: .3 * float64(i%3), NewLevel: renew && i == 5})
	}
	l := New(set)
	l.Fit(ps)
	return l, ps
}

// The passes forward and backward against the joint normal of all readings.
func TestPassesAgainstFullNormal(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(31, 4))
	for k := range 4 {
		l, ps := oddHistory(true, k%2 == 1, k/2 == 1)
		for j := range l.cells {
			d := denseOf(l, j, ps)
			for i := range l.factors {
				x := &l.factors[i]
				x.precision, x.rate = .3*rng.Float64(), rng.NormFloat64()
				x.well, x.bad = rng.Float64(), rng.Float64()
			}
			before := append([]factor(nil), l.factors...)
			l.rate = l.ratePrior
			for i := range l.factors {
				l.rate.times(l.factors[i].well, l.factors[i].bad)
			}
			want, logZ := d.pass(l, j, before, l.rate)
			for _, half := range []bool{false, true} {
				copy(l.factors, before)
				eps := l.rate
				l.forward(j, false)
				got, moved := l.backward(j, half)
				l.rate = eps
				what := fmt.Sprint(k, j, half, ": ")
				near(t, what+"log density", got, logZ, 1e-8)
				most := 0.0
				for i, x := range l.factors {
					w := want[i]
					most = max(most, math.Abs(w.probability-before[i].probability))
					if half {
						w.precision, w.rate = (w.precision+before[i].precision)/2, (w.rate+before[i].rate)/2
					}
					near(t, what+"precision", x.precision, w.precision, 1e-8)
					near(t, what+"rate", x.rate, w.rate, 1e-8)
					near(t, what+"bad day", x.probability, w.probability, 1e-8)
				}
				near(t, what+"moved", moved, most, 1e-8)
			}
		}
	}
}

// The factors that a fit settles at are those at which the sweeps, written out over the joint normal and repeated until
// nothing moves, come to rest; and so are the weights of the drifts and the probabilities of a bad day.
func TestFitSettles(t *testing.T) {
	t.Parallel()
	// The sweeps end where a probability moves by .002 a sweep; it may have a few such steps to go.
	const within = .006
	for k := range 4 {
		l, ps := oddHistory(true, k%2 == 1, k/2 == 1)
		bad, logs := make([][]float64, len(l.cells)), make([]float64, len(l.cells))
		top := math.Inf(-1)
		for j := range l.cells {
			d := denseOf(l, j, ps)
			l.forward(j, true)
			visits, eps, logZ := append([]factor(nil), l.factors...), l.rate, 0.0
			for range 60 {
				var next []factor
				next, logZ = d.pass(l, j, visits, eps)
				eps = l.ratePrior
				for i := range next {
					x := &next[i]
					x.precision, x.rate = (x.precision+visits[i].precision)/2, (x.rate+visits[i].rate)/2
					eps.times(x.well, x.bad)
				}
				visits = next
			}
			for _, x := range visits {
				bad[j] = append(bad[j], x.probability)
			}
			logs[j] = math.Log(l.grid.blocks[l.cells[j].block].Weight) + logZ
			top = max(top, logs[j])
		}
		l.fresh = false
		l.Fit(ps)
		total := 0.0
		for _, x := range logs {
			total += math.Exp(x - top)
		}
		for i, j := range l.chosen {
			near(t, fmt.Sprint(k, ": weight of drift ", l.cells[j].block), l.weight[i], math.Exp(logs[j]-top)/total, within)
		}
		near(t, "log evidence", l.Belief().LogEvidence, top+math.Log(total)-.5*normal.Log2Pi*float64(len(ps)), within)
		for i, p := range l.BadDayProbabilities() {
			want := 0.0
			for j := range logs {
				want += math.Exp(logs[j]-top) / total * bad[j][i]
			}
			near(t, fmt.Sprint(k, ": bad day ", i), p, want, within)
		}
	}
}
