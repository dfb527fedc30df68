// Package level is the model of one sign of one horse: its own level, a slow drift, a daily rhythm and the spread from day to
// day, learned from readings, and what the next reading would be. It knows numbers only.
package level

import (
	"math"

	"whorl.example/baseline/internal/normal"
)

// The one-horse model. A reading is
//
//	y = mu + d(t) + rhythm(hour) + e
//
// mu ~ N(M0, Tau²) is the horse's own level; d is a slow drift (an
// Ornstein-Uhlenbeck process, see drift.go); the rhythm is a daily cosine whose
// two coefficients are learned with mu (rhythm.go); e holds the day-to-day
// spread of the horse and the known uncertainty of the method. The horse's
// spread is unknown: log sigma ~ N(log Sigma0, Omega²) on a grid, crossed with
// the grid of drifts. At each grid point everything else is normal, so a
// Kalman filter is exact there, and what is usual next time is a mixture of
// normals over the grid. With Odd set, each past reading may come from a day on
// which the horse was not itself (mixture.go).
//
// The nearest published precedent is the adaptive model of Sottas et al.,
// Biostatistics 8 (2007) 285-296: a prior over the within-individual spread,
// updated by each reading, limits that move from the population's to the
// individual's.

// Setting is everything assumed before the first reading, on the working scale
// of the sign (the logarithm, for timed signs).
type Setting struct {
	M0, Tau  float64 // population mean; SD of the horses' own levels, > 0
	Sigma0   float64 // usual SD within one horse over SpanDays, > 0
	Omega    float64 // SD of log sigma over horses, >= 0
	SpanDays float64 // length of the histories Sigma0 comes from; 30 if 0
	Drift    bool    // let the level wander slowly
	Rhythm   *Rhythm // daily rhythm; nil: none
	Walk     float64 // variance that the level gains a day, over the horse's own variance
	BadDays  bool    // look for unlabelled bad days, which move readings up
	Ways     int     // ways of measuring that have an offset each, see ways.go; at most WaysMost
	Offset   float64 // SD of the offsets
}

// foldEvery readings the running product of variances is folded into the
// weight: below 1e±300 for variances between 1e-18 and 1e18.
const foldEvery = 16

const defaultSpan = 30.0 // days

// state is the normal belief at one grid point, centred on M0.
type state struct {
	level, drift            float64 // means of mu-M0 and of the drift
	varLevel, cov, varDrift float64 // Var mu, Cov(mu, drift), Var drift
	prod                    float64 // product of predictive precisions since the last fold
	quad                    float64 // sum of squared standardised surprises, minus folded logs
}

// logLik is the log likelihood of the readings so far, without constants.
func (s *state) logLik() float64 { return .5 * (math.Log(s.prod) - s.quad) }

// fold takes the power of two out of the product: a logarithm for each fold would cost a seventh of a fit.
func (s *state) fold() {
	rest, power := math.Frexp(s.prod)
	s.prod = rest
	s.quad -= float64(power) * math.Ln2
}

// Model is the model of one sign of one horse: the grid and, after fit, what
// the readings say. Not for concurrent use while learning.
//
// The readings are kept, and a grid point is brought up to them only once it is
// looked at; what a point knows depends on the readings alone.
type Model struct {
	Setting     Setting
	grid        *grid
	step, reach float64        // of the grid
	rhythm      *harmonicPrior // prior of the rhythm; nil: none
	Coarse      bool           // one part in a hundred of a tail does not matter
	// extra is what else is known of sigma: a log likelihood; nil: nothing.
	extra func(sigma float64) float64

	n int
	counted
	observations []observation // the readings
	decays       [][]float64   // of the drift since the reading before, for each time constant
	angles       [][2]float64
	shared       bool // the readings, and the cells so far, stand in the memory of another

	place     []int32 // of each grid point: its cell, or -1
	runs      []run
	cells     []cell     // looked at so far
	states    []state    // beside cells
	harmonics []harmonic // beside cells, with a rhythm only
	visits    []visit    // beside cells, where a visit has more than one reading
	offsets   []offsets  // beside cells, with ways only

	stride      int       // values of sigma from one cell that counts to the next
	candidates  []int32   // while choosing: grid points
	logWeights  []float64 // and of each grid point its log weight, or unseen
	chosen      []int32   // the cells that count
	weight      []float64 // beside chosen
	substantial int       // of chosen, the first, whose weight limits must see
	logEvidence float64   // log evidence
	fresh       bool      // chosen, weight and weighs hold

	// With Odd only, see mixture.go.
	spread      float64    // of bad days, in own SDs
	ratePrior   rateBelief // of eps
	badDays     []float64  // probability of a bad day, beside seen
	factors     []factor   // room for one grid point's pass over the readings
	peakFactors []factor
	rate        rateBelief // what visits say of it
}

// newLevel begins without readings. It needs Tau and Sigma0 above zero, all numbers finite.
func New(set Setting) *Model { return newOn(set, GridStep, GridReach) }

// newLevelOn is newLevel on another grid of log sigma.
func newOn(set Setting, step, reach float64) *Model {
	l := &Model{step: step, reach: reach}
	l.Reset(set)
	return l
}

// Reset begins anew with a setting.
func (l *Model) Reset(set Setting) {
	if !(set.SpanDays > 0) {
		set.SpanDays = defaultSpan
	}
	l.Setting, l.spread, l.ratePrior = set, BadDaySpread, BadDayPrior
	l.repeated = false
	l.buildGrid(perStepFor(0))
	for len(l.decays) < len(l.grid.days) {
		l.decays = append(l.decays, nil)
	}
	if l.rhythm = nil; set.Rhythm != nil {
		l.rhythm = set.Rhythm.prior()
	}
	l.clear()
}

// clear forgets all readings.
func (l *Model) clear() {
	l.n, l.counted, l.fresh = 0, counted{}, false
	if l.shared {
		l.observations, l.angles, l.decays, l.cells, l.shared = nil, nil, make([][]float64, len(l.decays)), nil, false
	}
	l.observations, l.badDays, l.angles = l.observations[:0], l.badDays[:0], l.angles[:0]
	for i := range l.decays {
		l.decays[i] = l.decays[i][:0]
	}
	l.forget()
}

// forget gives up every cell.
func (l *Model) forget() {
	if l.shared {
		l.cells = nil
	}
	l.runs, l.cells, l.states, l.harmonics, l.visits = l.runs[:0], l.cells[:0], l.states[:0], l.harmonics[:0], l.visits[:0]
	l.offsets = l.offsets[:0]
	for k := range l.place {
		l.place[k] = -1
	}
}

// start puts a cell back before the first reading.
func (l *Model) start(j int) {
	l.states[j] = state{varLevel: l.Setting.Tau * l.Setting.Tau, varDrift: l.cells[j].vd, prod: 1}
	if l.rhythm != nil {
		l.harmonics[j] = l.rhythm.start()
	}
	if l.Setting.Ways > 0 {
		l.offsets[j].start(l.Setting.Offset * l.Setting.Offset)
	}
}

// Renewed is the variance of a new level over that of horses' levels: a horse that has
// changed is likelier far from the others than one taken at random.
const Renewed = 4

// Renew forgets the level and where the drift stands, as before the first reading. What
// the readings said of the horse's spread, of its drift and of its daily rhythm stays.
func (l *Model) Renew() {
	l.Weigh()
	l.since = 0
	for j := range l.states {
		l.renewAt(j)
	}
}

func (l *Model) renewAt(j int) {
	s := &l.states[j]
	s.level, s.drift, s.varLevel, s.cov, s.varDrift = 0, 0, Renewed*l.Setting.Tau*l.Setting.Tau, 0, l.cells[j].vd
	if l.rhythm != nil {
		t := &l.harmonics[j]
		t.mp, t.mq, t.dp, t.dq = 0, 0, 0, 0
	}
	if l.Setting.Ways > 0 {
		l.offsets[j].renew()
	}
}

// Fit learns these readings and no others; their order in the slice does not
// matter. The raw readings are the truth, the states are worked out from them:
// merging two records is a union of readings and another fit.
func (l *Model) Fit(points []Reading) {
	l.clear()
	l.Grow(len(points))
	for _, p := range InOrder(points) {
		l.Append(p)
	}
	l.Weigh() // so that predictions only read
}

// Weigh chooses the grid points that count, works out their weights, and returns the log
// evidence: log of the density of all readings.
func (l *Model) Weigh() (logEvidence float64) {
	if l.fresh {
		return l.logEvidence
	}
	best := l.choose()
	if l.Setting.BadDays && l.n > 0 {
		best = l.propagate(best)
	}
	total := 0.0
	for i, w := range l.weight {
		if w -= best; w < LogNegligible {
			l.weight[i] = 0
			continue
		}
		l.weight[i] = math.Exp(w)
		total += l.weight[i]
	}
	inv := 1 / total
	for i := range l.weight {
		l.weight[i] *= inv
	}
	l.logEvidence = best + math.Log(total) - .5*normal.Log2Pi*float64(l.n)
	if g := l.grid; g.size > 1 { // whose prior weights are for the usual step
		l.logEvidence += math.Log(float64(l.stride) / float64(g.perStep))
	}
	l.partition()
	l.fresh = true
	return l.logEvidence
}

// partition puts the chosen that limits must see before the others, each in the order of the grid.
func (l *Model) partition() {
	l.substantial = 0
	light, weights := make([]int32, 0, 128), make([]float64, 0, 128)
	for i, w := range l.weight {
		if w < normal.Negligible {
			light, weights = append(light, l.chosen[i]), append(weights, w)
			continue
		}
		l.chosen[l.substantial], l.weight[l.substantial] = l.chosen[i], w
		l.substantial++
	}
	copy(l.chosen[l.substantial:], light)
	copy(l.weight[l.substantial:], weights)
}

// LooksForBadDays reports whether bad days were looked for.
func (l *Model) LooksForBadDays() bool { return l.Setting.BadDays }
