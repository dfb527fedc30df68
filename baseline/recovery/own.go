package recovery

import (
	"math"
	"slices"

	"whorl.example/baseline"
	"whorl.example/baseline/internal/normal"
	"whorl.example/vitals"
)

// RecoveryQuantity is what of a recovery is compared with the horse's own earlier ones.
type RecoveryQuantity string

const (
	// RateAtTen is the heart rate ten minutes after the work ended, per minute.
	RateAtTen RecoveryQuantity = "rate-at-10"
	// MinutesTo64 is the time to a heart rate of 64 or less, in minutes.
	MinutesTo64 RecoveryQuantity = "minutes-to-64"
)

// Quantities lists what is compared.
func Quantities() []RecoveryQuantity { return slices.Clone(allQuantities) }

var allQuantities = []RecoveryQuantity{RateAtTen, MinutesTo64}

// term is one observation on the log scale: a value, or a bound on it.
type term struct {
	y, sd float64
	// side is 0 for a value, +1 if the truth is above y, -1 if it is below.
	side int
}

// assumption is what is assumed of recoveries before the first one of a horse, on the
// log scale: level m0 with SD tau between horses, SD sigma from one day's work to the
// next with log sigma normal about log sigma0 with SD Omega.
type assumption struct{ m0, tau, sigma0, omega float64 }

// No measured variance components of recoveries were found; every number is assumed. They
// are wide: 95 % of horses between 39 and 92 a minute at ten minutes, 64 reached between
// 2 and 49 minutes.
func (q RecoveryQuantity) assumed() assumption {
	if q == RateAtTen {
		return assumption{math.Log(60), .22, .10, .5}
	}
	return assumption{math.Log(10), .8, .3, .5}
}

func noVariation() vitals.Provenance {
	return vitals.Provenance{Mark: vitals.Assumed, Note: "no measured variation of recovery between and within horses was found"}
}

// termOf reads the quantity off a course; ok is false where the counts do not say it.
func (q RecoveryQuantity) termOf(c curve) (x term, ok bool) {
	if q == RateAtTen {
		y, sd, ok := c.at(10)
		return term{y: y, sd: sd}, ok
	}
	r := c.timeTo(64)
	if r.State == NoCount || r.Minutes <= 0 {
		return x, false // reached at the very end of the work: no logarithm, and no information on the time
	}
	x.y = math.Log(r.Minutes)
	switch r.State {
	case ReachedBefore:
		x.side = -1
	case NotReached:
		x.side = 1
	default:
		// The spread of the crossing: the half-width of the middle 68 % where the counts
		// bound it, otherwise the distance from the estimate to the one bound there is.
		lo, okLo := c.first(math.Log(64), .16)
		hi, okHi := c.first(math.Log(64), .84)
		if okLo && lo > 0 {
			x.sd = x.y - math.Log(lo)
		}
		if okHi {
			x.sd = max(x.sd, math.Log(hi)-x.y)
		}
	}
	return x, true
}

// posterior is the posterior of (mu, sigma) on a grid. Bounds ("not yet at 12 minutes")
// enter by their probability, so that slow recoveries that nobody counted to the end do
// not make the horse look quick.
type posterior struct {
	mu, sigma, w []float64 // w over mu x sigma, sigma fastest; sums to 1
}

const (
	levels = 121 // m0 ± 4.5 tau: a step of .075 tau
	sigmas = 31  // ± 4 Omega
)

func newPosterior(p assumption, past []term) posterior {
	g := posterior{make([]float64, levels), make([]float64, sigmas), make([]float64, levels*sigmas)}
	for j := range g.sigma {
		g.sigma[j] = p.sigma0 * math.Exp(p.omega*gridStep(j, sigmas, 4))
	}
	top := math.Inf(-1)
	for i := range g.mu {
		u := gridStep(i, levels, 4.5)
		g.mu[i] = p.m0 + p.tau*u
		for j := range g.sigma {
			v := gridStep(j, sigmas, 4)
			l := -(u*u + v*v) / 2
			for _, x := range past {
				l += x.logLikelihood(g.mu[i], g.sigma[j])
			}
			g.w[i*sigmas+j] = l
			top = max(top, l)
		}
	}
	sum := 0.0
	for k, l := range g.w {
		g.w[k] = math.Exp(l - top)
		sum += g.w[k]
	}
	for k := range g.w {
		g.w[k] /= sum
	}
	return g
}

func gridStep(i, n int, reach float64) float64 {
	return reach * (2*float64(i)/float64(n-1) - 1)
}

func (x term) logLikelihood(mu, sigma float64) float64 {
	s := math.Hypot(sigma, x.sd)
	z := (x.y - mu) / s
	if x.side == 0 {
		return -z*z/2 - math.Log(s)
	}
	// The floor keeps the sum finite for a bound that no grid point can explain.
	return math.Log(max(normal.Upper(float64(x.side)*z), 1e-300))
}

// below is the probability that the next one, read with SD sd, is below y.
func (g posterior) below(y, sd float64) float64 {
	p := 0.0
	for i, mu := range g.mu {
		for j, sigma := range g.sigma {
			if w := g.w[i*sigmas+j]; w > 1e-12 {
				p += w * normal.Upper((mu-y)/math.Hypot(sigma, sd))
			}
		}
	}
	return p
}

func (g posterior) quantile(q, sd float64) float64 {
	lo, hi := g.mu[0]-8*g.sigma[len(g.sigma)-1], g.mu[len(g.mu)-1]+8*g.sigma[len(g.sigma)-1]
	for range 45 { // to 1e-12 of the scale
		if mid := (lo + hi) / 2; g.below(mid, sd) < q {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// RecoveryCompared is one quantity of a recovery beside the horse's own earlier ones
// after work of the same effort. The weather is not allowed for.
type RecoveryCompared struct {
	Quantity RecoveryQuantity `json:"quantity"`
	// Value in the quantity's unit. With Bound +1 the truth is above it ("not yet"), with
	// -1 below it ("already at the first count").
	Value float64            `json:"value"`
	Bound int                `json:"bound,omitempty"`
	Own   *baseline.Interval `json:"own,omitempty"`
	// Statement: Higher is a higher rate or a longer time than this horse's own.
	Statement baseline.Statement `json:"statement"`
	// Tail is the probability of a value as far out on the same side, or farther.
	Tail  float64        `json:"tail"`
	Basis baseline.Basis `json:"basis"`
}

// compareWithOwn compares one quantity with earlier courses; ok is false where the
// counts of now do not say it. With no earlier course the answer is Noted: what is
// assumed of horses in general is too wide to call anything unusual.
func compareWithOwn(q RecoveryQuantity, now curve, past []curve) (r RecoveryCompared, ok bool) {
	x, ok := q.termOf(now)
	if !ok {
		return r, false
	}
	var terms []term
	for _, c := range past {
		if t, ok := q.termOf(c); ok {
			terms = append(terms, t)
		}
	}
	// An Omega of .5 weighs as two differences between recoveries (1/(2 Omega²)), so that the
	// prior has the greater share up to three.
	r = RecoveryCompared{
		Quantity: q, Value: math.Exp(x.y), Bound: x.side, Statement: baseline.Noted,
		Basis: baseline.Basis{Exams: len(terms), Prior: []vitals.Provenance{noVariation()}, Weak: len(terms) <= 3},
	}
	if len(terms) == 0 {
		return r, true
	}
	g := newPosterior(q.assumed(), terms)
	r.Own = &baseline.Interval{Low: math.Exp(g.quantile(.025, x.sd)), Mid: math.Exp(g.quantile(.5, x.sd)), High: math.Exp(g.quantile(.975, x.sd))}
	below := g.below(x.y, x.sd)
	up, down := 1-below, below
	switch {
	case x.side > 0:
		down = 1 // the truth may be anywhere above: only "longer" can be said
	case x.side < 0:
		up = 1
	}
	r.Statement, r.Tail = baseline.AsUsual, min(up, down, .5)
	switch {
	case up < .025:
		r.Statement = baseline.Higher
	case down < .025:
		r.Statement = baseline.Lower
	case x.side != 0:
		// "Not yet at 12 minutes" of a horse that usually needs 15 says nothing either way.
		r.Statement = baseline.Noted
	}
	return r, true
}
