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
	M0, Tau  float64 // population mean; SD of the horses' own levels, > 0
	Sigma0   float64 // usual SD within one horse over SpanDays, > 0
	Omega    float64 // SD of log sigma over horses, >= 0
	SpanDays float64 // length of the histories Sigma0 comes from; 30 if 0
	Drift    bool    // let the level wander slowly
	Rhythm   *rhythm // daily rhythm; nil: none
	Walk     float64 // variance that the level gains a day, over the horse's own variance
	Odd      bool    // look for unlabelled bad days, which move readings up
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

// foldEvery readings the running product of variances is folded into the
// weight: below 1e±300 for variances between 1e-18 and 1e18.
const foldEvery = 16

const defaultSpan = 30.0 // days

// state is the normal belief at one grid point, centred on M0.
type state struct {
	m, d    float64 // means of mu-M0 and of the drift
	a, b, c float64 // Var mu, Cov(mu, drift), Var drift
	prod    float64 // product of predictive precisions since the last fold
	quad    float64 // sum of squared standardised surprises, minus folded logs
}

// logLik is the log likelihood of the readings so far, without constants.
func (s *state) logLik() float64 { return .5 * (math.Log(s.prod) - s.quad) }

// fold takes the power of two out of the product: a logarithm for each fold would cost a seventh of a fit.
func (s *state) fold() {
	rest, power := math.Frexp(s.prod)
	s.prod = rest
	s.quad -= float64(power) * math.Ln2
}

// level is the model of one sign of one horse: the grid and, after fit, what
// the readings say. Not for concurrent use while learning.
//
// The readings are kept, and a grid point is brought up to them only once it is
// looked at; what a point knows depends on the readings alone.
type level struct {
	set         setting
	grid        *grid
	step, reach float64 // of the grid
	swing       *swing  // prior of the rhythm; nil: none
	rough       bool    // one part in a hundred of a tail does not matter
	// extra is what else is known of sigma: a log likelihood; nil: nothing.
	extra func(sigma float64) float64

	n     int
	since int         // readings since the level began
	last  float64     // day of the latest reading
	seen  []seen      // the readings
	kept  [][]float64 // of the drift since the reading before, for each time constant
	dials [][2]float64
	lent  bool // the readings, and the cells so far, stand in the memory of another

	place  []int32 // of each grid point: its cell, or -1
	runs   []run
	cells  []cell  // looked at so far
	states []state // beside cells
	tides  []tide  // beside cells, with a rhythm only

	stride int       // values of sigma from one cell that counts to the next
	look   []int32   // while choosing: grid points
	logs   []float64 // and of each grid point its log weight, or unseen
	chosen []int32   // the cells that count
	weight []float64 // beside chosen
	heavy  int       // of chosen, the first, whose weight limits must see
	weighs float64   // log evidence
	fresh  bool      // chosen, weight and weighs hold

	// With Odd only, see mixture.go.
	spread float64   // of bad days, in own SDs
	prior  shares    // of eps
	bad    []float64 // probability of a bad day, beside seen
	visits []visit   // room for one grid point's pass over the readings
	spare  []visit
	eps    shares // what visits say of it
}

// seen is a reading as the filter takes it: above M0, with the variance of its method.
type seen struct {
	y, v float64
	gap  float64 // days since the reading before
	day  float64
	new  bool // begins a new level
}

// newLevel begins without readings. It needs Tau and Sigma0 above zero, all numbers finite.
func newLevel(set setting) *level { return newLevelOn(set, gridStep, gridReach) }

// newLevelOn is newLevel on another grid of log sigma.
func newLevelOn(set setting, step, reach float64) *level {
	l := &level{step: step, reach: reach}
	l.use(set)
	return l
}

// use begins anew with a setting.
func (l *level) use(set setting) {
	if !(set.SpanDays > 0) {
		set.SpanDays = defaultSpan
	}
	l.set, l.spread, l.prior = set, oddSpread, oddPrior
	l.layOut(usualOf(0))
	for len(l.kept) < len(l.grid.days) {
		l.kept = append(l.kept, nil)
	}
	if l.swing = nil; set.Rhythm != nil {
		l.swing = set.Rhythm.prior()
	}
	l.reset()
}

// reset forgets all readings.
func (l *level) reset() {
	l.n, l.since, l.last, l.fresh = 0, 0, 0, false
	if l.lent {
		l.seen, l.dials, l.kept, l.cells, l.lent = nil, nil, make([][]float64, len(l.kept)), nil, false
	}
	l.seen, l.bad, l.dials = l.seen[:0], l.bad[:0], l.dials[:0]
	for i := range l.kept {
		l.kept[i] = l.kept[i][:0]
	}
	l.forget()
}

// forget gives up every cell.
func (l *level) forget() {
	if l.lent {
		l.cells = nil
	}
	l.runs, l.cells, l.states, l.tides = l.runs[:0], l.cells[:0], l.states[:0], l.tides[:0]
	for k := range l.place {
		l.place[k] = -1
	}
}

// start puts a cell back before the first reading.
func (l *level) start(j int) {
	l.states[j] = state{a: l.set.Tau * l.set.Tau, c: l.cells[j].vd, prod: 1}
	if l.swing != nil {
		l.tides[j] = l.swing.start()
	}
}

// renewed is the variance of a new level over that of horses' levels: a horse that has
// changed is likelier far from the others than one taken at random.
const renewed = 4

// renew forgets the level and where the drift stands, as before the first reading. What
// the readings said of the horse's spread, of its drift and of its daily rhythm stays.
func (l *level) renew() {
	l.weigh()
	l.since = 0
	for j := range l.states {
		l.renewAt(j)
	}
}

func (l *level) renewAt(j int) {
	s := &l.states[j]
	s.m, s.d, s.a, s.b, s.c = 0, 0, renewed*l.set.Tau*l.set.Tau, 0, l.cells[j].vd
	if l.swing != nil {
		t := &l.tides[j]
		t.mp, t.mq, t.dp, t.dq = 0, 0, 0, 0
	}
}

// inOrder returns the readings sorted by time, ties by ID: the order in which
// fit takes them, and in which oddness answers.
func inOrder(points []point) []point {
	sorted := true
	for i := 1; i < len(points) && sorted; i++ {
		sorted = points[i-1].Day < points[i].Day || orderOf(points[i-1], points[i]) <= 0
	}
	if sorted {
		return points
	}
	s := slices.Clone(points)
	slices.SortFunc(s, orderOf)
	return s
}

func orderOf(p, q point) int {
	if p.Day != q.Day { // as nearly all are
		return cmp.Compare(p.Day, q.Day)
	}
	return cmp.Or(cmp.Compare(p.ID, q.ID), cmp.Compare(p.Y, q.Y), cmp.Compare(p.SD, q.SD), cmp.Compare(p.Hour, q.Hour))
}

// fit learns these readings and no others; their order in the slice does not
// matter. The raw readings are the truth, the states are worked out from them:
// merging two records is a union of readings and another fit.
func (l *level) fit(points []point) {
	l.reset()
	l.room(len(points))
	for _, p := range inOrder(points) {
		l.append(p)
	}
	l.weigh() // so that predictions only read
}

// room makes room for n readings and the cells that they call for as a rule.
func (l *level) room(n int) {
	l.seen = slices.Grow(l.seen, n)
	for i := range l.kept {
		l.kept[i] = slices.Grow(l.kept[i], n)
	}
	cells := 25 * len(l.grid.blocks)
	l.cells, l.states = slices.Grow(l.cells, cells), slices.Grow(l.states, cells)
	if l.swing != nil {
		l.dials, l.tides = slices.Grow(l.dials, n), slices.Grow(l.tides, cells)
	}
}

// learn takes one more reading. It reports false, and learns nothing, if the
// reading is older than the latest one: then only a fit of all of them helps.
// With Odd each reading changes what the others mean, so that learn is a fit.
func (l *level) learn(p point) bool {
	if l.n > 0 && p.Day < l.last {
		return false
	}
	l.append(p)
	if !l.set.Odd {
		l.catchUp()
	}
	return true
}

// clone gives a copy that learns apart.
func (l *level) clone() *level { return l.upTo(l.n) }

// upTo is clone that has taken in the first n of the readings that stand in memory, see lay.
func (l *level) upTo(n int) *level {
	c := *l
	c.lent = true
	c.seen, c.kept = l.seen[:n:n], slices.Clone(l.kept)
	for i, kept := range l.kept {
		if kept != nil {
			c.kept[i] = kept[:n:n]
		}
	}
	if l.swing != nil {
		c.dials = l.dials[:n:n]
	}
	c.place, c.runs, c.cells = slices.Clone(l.place), slices.Clone(l.runs), slices.Clip(l.cells)
	c.states, c.tides = slices.Clone(l.states), slices.Clone(l.tides)
	c.chosen, c.weight = slices.Clone(l.chosen), slices.Clone(l.weight)
	c.look, c.logs, c.bad, c.visits, c.spare = nil, nil, slices.Clone(l.bad), nil, nil
	for ; c.n < n; c.n++ {
		x := &c.seen[c.n]
		if x.new {
			c.since = 0
		}
		c.since, c.last, c.fresh = c.since+1, x.day, false
	}
	return &c
}

// lay puts readings into memory behind those taken in, for upTo. They must come after them, in their order.
func (l *level) lay(points []point) {
	n, since, last, fresh := l.n, l.since, l.last, l.fresh
	for _, p := range points {
		l.append(p)
	}
	l.n, l.since, l.last, l.fresh = n, since, last, fresh
	l.seen = l.seen[:n]
	for i := range l.kept {
		l.kept[i] = l.kept[i][:n]
	}
	if l.swing != nil {
		l.dials = l.dials[:n]
	}
}

// append puts a reading at the end.
func (l *level) append(p point) {
	dt := 0.0
	if l.n > 0 {
		dt = p.Day - l.last
	}
	for i, days := range l.grid.days {
		l.kept[i] = append(l.kept[i], math.Exp(-dt/days))
	}
	if l.swing != nil {
		cos, sin := clock(p.Hour)
		l.dials = append(l.dials, [2]float64{cos, sin})
	}
	l.seen = append(l.seen, seen{p.Y - l.set.M0, p.SD * p.SD, dt, p.Day, p.New})
	if p.New {
		l.since = 0
	}
	l.n, l.since, l.last, l.fresh = l.n+1, l.since+1, p.Day, false
}

// keeps is what of the drift of a block is kept from each reading to the next; nil without one.
func (l *level) keeps(block int) []float64 {
	b := &l.grid.blocks[block]
	if b.phi == 0 {
		return nil
	}
	return l.kept[b.constant]
}

// weigh chooses the grid points that count, works out their weights, and returns the log
// evidence: log of the density of all readings.
func (l *level) weigh() (logEvidence float64) {
	if l.fresh {
		return l.weighs
	}
	best := l.choose()
	if l.set.Odd && l.n > 0 {
		best = l.settleAll(best)
	}
	total := 0.0
	for i, w := range l.weight {
		if w -= best; w < logNegligible {
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
	l.weighs = best + math.Log(total) - .5*log2Pi*float64(l.n)
	if g := l.grid; g.size > 1 { // whose prior weights are for the usual step
		l.weighs += math.Log(float64(l.stride) / float64(g.usual))
	}
	l.heaviest()
	l.fresh = true
	return l.weighs
}

// heaviest puts the chosen that limits must see before the others, each in the order of the grid.
func (l *level) heaviest() {
	l.heavy = 0
	light, weights := make([]int32, 0, 128), make([]float64, 0, 128)
	for i, w := range l.weight {
		if w < lightest {
			light, weights = append(light, l.chosen[i]), append(weights, w)
			continue
		}
		l.chosen[l.heavy], l.weight[l.heavy] = l.chosen[i], w
		l.heavy++
	}
	copy(l.chosen[l.heavy:], light)
	copy(l.weight[l.heavy:], weights)
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
	for i, j := range l.chosen {
		w, s, c := l.weight[i], &l.states[j], &l.cells[j]
		block := &l.grid.blocks[c.block]
		b.Mu += w * s.m
		square += w * (s.a + s.m*s.m)
		b.Sigma += w * math.Sqrt(c.vd+c.ve)
		b.SpanSigma += w * c.sigma
		b.Phi += w * block.phi
		if block.phi == 0 {
			b.Steady += w
		}
		if l.swing != nil {
			b.Cos += w * l.tides[j].p
			b.Sin += w * l.tides[j].q
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
	var cos, sin float64
	if l.swing != nil {
		cos, sin = clock(hour)
	}
	l.predictMean(p, 1, day, cos, sin, sd*sd)
}

// predictMean says what the mean of n readings of the well horse would be, from the means of their
// days, of their places on the clock and of the variances of the method. The drift is taken as it is in
// their middle, which is a little too wide: over their days some of it averages out.
func (l *level) predictMean(p *predictive, n, day, cos, sin, v float64) {
	l.weigh()
	p.reset(l.set.M0)
	dt := 0.0
	if l.n > 0 {
		dt = l.ahead(max(0, day-l.last))
	}
	v /= n
	walk := l.walked(day)
	block, r, noise := -1, 1.0, 1/n
	parts, weight := slices.Grow(p.parts, len(l.chosen))[:len(l.chosen)], l.weight[:len(l.chosen)]
	k := 0
	for i, j := range l.chosen {
		w, c, s := weight[i], &l.cells[j], &l.states[j]
		if w == 0 {
			continue
		}
		if c.block != block {
			block = c.block
			r = math.Exp(-dt / l.grid.blocks[block].days)
		}
		mean := s.m + r*s.d
		total := s.a + walk*c.own + 2*r*s.b + c.vd + r*r*(s.c-c.vd) + c.ve*noise + v
		if l.swing != nil {
			t := l.tides[j]
			t.wander(r)
			m, add := t.at(cos, sin)
			mean, total = mean+m, total+add
		}
		parts[k] = newPart(w, mean, total)
		k++
	}
	p.parts, p.few = parts[:k], k-l.heavy
	p.sum()
}
