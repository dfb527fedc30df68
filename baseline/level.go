package baseline

import (
	"cmp"
	"math"
	"slices"
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

// setting is everything assumed before the first reading, on the working scale
// of the sign (the logarithm, for timed signs).
type setting struct {
	M0, Tau  float64      // population mean; SD of the horses' own levels, > 0
	Sigma0   float64      // usual SD within one horse over SpanDays, > 0
	Omega    float64      // SD of log sigma over horses, >= 0
	SpanDays float64      // length of the histories Sigma0 comes from; 30 if 0
	Drift    bool         // let the level wander slowly
	Rhythm   *rhythm      // daily rhythm; nil: none
	Odd      oddDirection // which way an unlabelled bad day moves the reading
}

// point is one reading.
type point struct {
	Day  float64 // days from any origin, increasing with time
	Hour float64 // local hour of day, 0..24; used with a rhythm only
	Y    float64 // the reading
	SD   float64 // standard uncertainty of the method, >= 0
	ID   string  // decides the order of readings at the same time
	New  bool    // the first reading of a new level, see renew
}

const (
	gridStep  = .10 // of log sigma: its posterior SD at 200 readings is .05
	gridReach = 5.0 // prior SDs of log sigma; 3 is up to 26 % off for rare horses

	defaultSpan = 30.0 // days

	// foldEvery readings the running product of variances is folded into the
	// weight: below 1e±300 for variances between 1e-18 and 1e18.
	foldEvery = 16

	// logNegligible: grid points below 1e-12 of the best are left out; it costs
	// the 95 % limits less than 1e-10 of their width.
	logNegligible = -27.631021115928547
)

// cell is one grid point: what is assumed known there.
type cell struct {
	sigma  float64 // SD seen within SpanDays
	vd, ve float64 // variance of the drift, of the day-to-day noise
	prior  float64 // log prior weight
}

// state is the normal belief at one grid point, centred on M0.
type state struct {
	m, d    float64 // means of mu-M0 and of the drift
	a, b, c float64 // Var mu, Cov(mu, drift), Var drift
	prod    float64 // product of predictive precisions since the last fold
	quad    float64 // sum of squared standardised surprises, minus folded logs
}

// logLik is the log likelihood of the readings so far, without constants.
func (s *state) logLik() float64 { return .5 * (math.Log(s.prod) - s.quad) }

func (s *state) fold() {
	s.quad -= math.Log(s.prod)
	s.prod = 1
}

// level is the model of one sign of one horse: the grid and, after fit, what
// the readings say. Not for concurrent use while learning.
type level struct {
	set    setting
	blocks []block // drifts of the grid, all values of sigma within each
	cells  []cell  // block after block
	states []state // beside cells
	tides  []tide  // beside cells, with a rhythm only
	swing  *swing  // prior of the rhythm; nil: none
	n      int
	last   float64   // day of the latest reading
	weight []float64 // of the cells, see weigh
	weighs float64   // log evidence
	fresh  bool      // weight and weighs hold

	// With Odd only, see mixture.go.
	shifts []float64 // of bad days, in own SDs; nil: none
	spread float64   // of bad days, in own SDs
	prior  shares    // of eps
	points []point   // in order
	bad    []float64 // probability of a bad day, beside points
	visits []visit   // room for one grid point's pass over the points
	keep   []float64
	dials  [][2]float64
}

// newLevel builds the grid. It needs Tau and Sigma0 above zero, all numbers finite.
func newLevel(set setting) *level { return newLevelOn(set, gridStep, gridReach) }

// newLevelOn is newLevel on another grid of log sigma.
func newLevelOn(set setting, step, reach float64) *level {
	if !(set.SpanDays > 0) {
		set.SpanDays = defaultSpan
	}
	l := &level{set: set, blocks: driftGrid(set.Drift), shifts: set.Odd.shifts()}
	k := int(math.Ceil(2*reach*set.Omega/step-1e-9)) + 1
	if k%2 == 0 {
		k++
	}
	us, ws, total := make([]float64, k), make([]float64, k), 0.0
	for j := range us {
		if k > 1 {
			us[j] = reach * float64(2*j-(k-1)) / float64(k-1)
		}
		ws[j] = math.Exp(-.5 * us[j] * us[j])
		total += ws[j]
	}
	for i := range l.blocks {
		b := &l.blocks[i]
		b.from = len(l.cells)
		for j, u := range us {
			sigma := set.Sigma0 * math.Exp(set.Omega*u)
			whole := sigma * sigma / (1 - b.phi*withinSpan(set.SpanDays, b.days))
			l.cells = append(l.cells, cell{
				sigma: sigma, vd: b.phi * whole, ve: (1 - b.phi) * whole,
				prior: math.Log(b.weight * ws[j] / total),
			})
		}
		b.to = len(l.cells)
	}
	l.spread, l.prior = oddSpread, oddPrior
	l.states = make([]state, len(l.cells))
	l.weight = make([]float64, len(l.cells))
	if set.Rhythm != nil {
		l.swing = set.Rhythm.prior()
		l.tides = make([]tide, len(l.states))
	}
	l.reset()
	return l
}

// reset forgets all readings.
func (l *level) reset() {
	l.n, l.last, l.fresh = 0, 0, false
	l.points, l.bad = l.points[:0], l.bad[:0]
	for j := range l.cells {
		l.start(j)
	}
}

// start puts a grid point back before the first reading.
func (l *level) start(j int) {
	l.states[j] = state{a: l.set.Tau * l.set.Tau, c: l.cells[j].vd, prod: 1}
	if l.tides != nil {
		l.tides[j] = l.swing.start()
	}
}

// renew forgets the level and where the drift stands, as before the first reading. What
// the readings said of the horse's spread, of its drift and of its daily rhythm stays.
func (l *level) renew() {
	for j := range l.states {
		l.renewAt(j)
	}
}

func (l *level) renewAt(j int) {
	s := &l.states[j]
	s.m, s.d, s.a, s.b, s.c = 0, 0, l.set.Tau*l.set.Tau, 0, l.cells[j].vd
	if l.tides != nil {
		t := &l.tides[j]
		t.mp, t.mq, t.dp, t.dq = 0, 0, 0, 0
	}
}

// inOrder returns the readings sorted by time, ties by ID: the order in which
// fit takes them, and in which oddness answers.
func inOrder(points []point) []point {
	s := slices.Clone(points)
	slices.SortFunc(s, func(p, q point) int {
		return cmp.Or(cmp.Compare(p.Day, q.Day), cmp.Compare(p.ID, q.ID),
			cmp.Compare(p.Y, q.Y), cmp.Compare(p.SD, q.SD), cmp.Compare(p.Hour, q.Hour))
	})
	return s
}

// fit learns these readings and no others; their order in the slice does not
// matter. The raw readings are the truth, the states are worked out from them:
// merging two records is a union of readings and another fit.
func (l *level) fit(points []point) {
	l.reset()
	sorted := inOrder(points)
	if l.shifts != nil && len(sorted) > 0 {
		l.points = sorted
		l.n, l.last = len(sorted), sorted[len(sorted)-1].Day
		l.fitOdd()
		l.weigh()
		return
	}
	for _, p := range sorted {
		l.learn(p)
	}
	l.weigh() // so that predictions only read
}

// learn takes one more reading. It reports false, and learns nothing, if the
// reading is older than the latest one: then only a fit of all of them helps.
// With Odd each reading changes what the others mean, so that learn is a fit.
func (l *level) learn(p point) bool {
	dt := 0.0
	if l.n > 0 {
		if dt = p.Day - l.last; dt < 0 {
			return false
		}
	}
	l.n, l.last, l.fresh = l.n+1, p.Day, false
	if p.New && l.shifts == nil {
		l.renew()
	}
	y, v := p.Y-l.set.M0, p.SD*p.SD
	switch {
	case l.shifts != nil:
		l.points = append(l.points, p)
		l.fitOdd()
	case l.tides != nil:
		l.learnRhythm(dt, p.Hour, y, v)
	default:
		l.learnPlain(dt, y, v)
	}
	return true
}

// learnPlain is learn without bad days and rhythm: two numbers a grid point.
func (l *level) learnPlain(dt, y, v float64) {
	fold := l.n%foldEvery == 0
	for i := range l.blocks {
		b := &l.blocks[i]
		cells, states := l.cells[b.from:b.to], l.states[b.from:b.to]
		states = states[:len(cells)]
		if b.phi == 0 {
			for j := range cells {
				s := &states[j]
				noise := cells[j].ve + v
				inv := 1 / (s.a + noise)
				e := y - s.m
				g := s.a * inv
				s.m += g * e
				s.a = g * noise
				s.prod *= inv
				s.quad += e * e * inv
			}
		} else {
			r := math.Exp(-dt / b.days)
			r2 := r * r
			for j := range cells {
				s, vd := &states[j], cells[j].vd
				d, bb := s.d*r, s.b*r
				c := vd + r2*(s.c-vd)
				ua, uc := s.a+bb, bb+c
				inv := 1 / (ua + uc + cells[j].ve + v)
				e := y - s.m - d
				ga, gc := ua*inv, uc*inv
				s.m += ga * e
				s.d = d + gc*e
				s.a -= ga * ua
				s.b = bb - ga*uc
				s.c = c - gc*uc
				s.prod *= inv
				s.quad += e * e * inv
			}
		}
		if fold {
			for j := range states {
				states[j].fold()
			}
		}
	}
}

// weigh works out the posterior weights of the grid points and returns the log
// evidence: log of the density of all readings.
func (l *level) weigh() (logEvidence float64) {
	if l.fresh {
		return l.weighs
	}
	best := math.Inf(-1)
	for j := range l.cells {
		w := l.cells[j].prior + l.states[j].logLik()
		l.weight[j] = w
		best = max(best, w)
	}
	total := 0.0
	for j, w := range l.weight {
		if w -= best; w < logNegligible {
			l.weight[j] = 0
			continue
		}
		l.weight[j] = math.Exp(w)
		total += l.weight[j]
	}
	inv := 1 / total
	for j := range l.weight {
		l.weight[j] *= inv
	}
	l.fresh, l.weighs = true, best+math.Log(total)-.5*log2Pi*float64(l.n)
	return l.weighs
}

// belief is what the readings say of the horse, averaged over the grid.
type belief struct {
	Mu, MuSD    float64 // the horse's own level
	Sigma       float64 // its SD in the long run
	SpanSigma   float64 // its SD within SpanDays
	Phi         float64 // share of the drift in its long-run variance
	Steady      float64 // probability that there is no drift
	LogEvidence float64
	Cos, Sin    float64 // coefficients of the daily rhythm
}

func (l *level) belief() belief {
	b := belief{LogEvidence: l.weigh()}
	square := 0.0
	for k := range l.blocks {
		block := &l.blocks[k]
		for j := block.from; j < block.to; j++ {
			w, s := l.weight[j], &l.states[j]
			b.Mu += w * s.m
			square += w * (s.a + s.m*s.m)
			b.Sigma += w * math.Sqrt(l.cells[j].vd+l.cells[j].ve)
			b.SpanSigma += w * l.cells[j].sigma
			b.Phi += w * block.phi
			if block.phi == 0 {
				b.Steady += w
			}
			if l.tides != nil {
				b.Cos += w * l.tides[j].p
				b.Sin += w * l.tides[j].q
			}
		}
	}
	b.MuSD = math.Sqrt(max(0, square-b.Mu*b.Mu))
	b.Mu += l.set.M0
	return b
}

// predict says what a reading of the well horse would be on a day, at an hour,
// taken by a method with the standard uncertainty sd. A day before the latest
// reading is taken as the day of that reading. Before the first reading it is
// the population.
func (l *level) predict(day, hour, sd float64) *predictive {
	p := new(predictive)
	l.predictInto(p, day, hour, sd)
	return p
}

// predictInto is predict that uses the room of an earlier answer.
func (l *level) predictInto(p *predictive, day, hour, sd float64) {
	l.weigh()
	p.reset(l.set.M0)
	dt := 0.0
	if l.n > 0 {
		dt = max(0, day-l.last)
	}
	var cos, sin float64
	if l.tides != nil {
		cos, sin = clock(hour)
	}
	v := sd * sd
	for k := range l.blocks {
		b := &l.blocks[k]
		r := math.Exp(-dt / b.days)
		for j := b.from; j < b.to; j++ {
			w := l.weight[j]
			if w == 0 {
				continue
			}
			c, s := &l.cells[j], &l.states[j]
			mean := s.m + r*s.d
			total := s.a + 2*r*s.b + c.vd + r*r*(s.c-c.vd) + c.ve + v
			if l.tides != nil {
				t := l.tides[j]
				t.wander(r)
				m, add := t.at(cos, sin)
				mean, total = mean+m, total+add
			}
			p.add(w, mean, total)
		}
	}
	p.sum()
}
