package baseline

import (
	"slices"
	"sync"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/baseline/internal/level"
	"whorl.example/baseline/internal/whole"
	"whorl.example/vitals"
)

// Fit is what a horse's exams taught, without the exams, and what has been worked out from it,
// ready to compare. It learns, merges, forgets and compares as
// the [Baseline] that it came from, to the last digit, and it can be kept as bytes
// ([Fit.Encode], [OpenFit]).
//
// The exams are the truth and a Fit is a cache: keep them, and make the Fit anew
// from them when OpenFit refuses the bytes, because the rules have changed since or what is known
// of the horse has.
//
// A Fit is not safe for use by several goroutines while it learns.
type Fit struct{ b Baseline }

// NewFit gives the fit of a horse of which no exam is known yet; errors as in [New].
func NewFit(horse vitals.Horse, options ...Option) (*Fit, error) {
	b, err := New(horse, options...)
	if err != nil {
		return nil, err
	}
	return &Fit{Baseline{horse: b.horse, at: b.at, herd: b.herd}}, nil
}

// Fit gives what the exams so far taught. The two learn apart from then on.
func (b *Baseline) Fit() *Fit {
	f := &Fit{Baseline{horse: own(b.horse), at: make(map[vitals.ID]time.Time, len(b.at)), herd: b.herd}}
	f.b.summaries = slices.Clone(b.summaries)
	for _, n := range b.summaries {
		n.fingerprint() // lets go of the exam
		f.b.at[n.id] = n.at
	}
	b.views.mu.Lock()
	defer b.views.mu.Unlock()
	f.b.views.all = slices.Clone(b.views.all)
	return f
}

// Horse gives the horse.
func (f *Fit) Horse() vitals.Horse { return f.b.Horse() }

// Learn is [Baseline.Learn].
func (f *Fit) Learn(exam vitals.Exam) (Lesson, error) {
	if err := vitals.CheckExam(exam, f.b.horse).Err(); err != nil {
		return Lesson{Exam: exam.ID}, err
	}
	n := f.b.summarise(&exam)
	n.fingerprint() // lets go of the exam
	f.b.keep(nil, n)
	return n.lesson(), nil
}

// Merge is [Baseline.Merge].
func (f *Fit) Merge(other *Fit) error {
	if other == nil {
		return fault(FaultOtherHorse, "/horse", "id", "")
	}
	if other.b.horse.ID != f.b.horse.ID {
		return fault(FaultOtherHorse, "/horse", "id", string(other.b.horse.ID))
	}
	f.b.views.forget() // which know the horse as it was
	f.b.horse.NewUsual = vitals.MergeNewUsual(f.b.horse.NewUsual, other.b.horse.NewUsual)
	for _, n := range other.b.summaries {
		f.b.keep(nil, n)
	}
	return nil
}

// Remove is [Baseline.Remove].
func (f *Fit) Remove(id vitals.ID) bool { return f.b.Remove(id) }

// Lessons is [Baseline.Lessons].
func (f *Fit) Lessons(at time.Time) []Lesson { return f.b.Lessons(at) }

// Compare is [Baseline.Compare].
func (f *Fit) Compare(exam vitals.Exam) (Comparison, error) { return f.b.Compare(exam) }

// Normal is [Baseline.Normal].
func (f *Fit) Normal(sign vitals.SignID, site vitals.SiteID, at time.Time) (Normal, bool) {
	return f.b.Normal(sign, site, at)
}

// Known is [Baseline.Known].
func (f *Fit) Known(at time.Time) Known { return f.b.Known(at) }

// model is what has been worked out of one sign.
type model struct {
	place
	n        int // readings
	odd      bool
	ways     bool // of measuring
	level    *level.Model
	state    *level.Snapshot // of the level, if it is kept
	trend    level.Slope
	question *Question
}

// stored reports whether the states are kept: those of few readings are sooner worked out
// than read.
func (m model) stored() bool { return !m.ways && (m.odd || m.n > 24) }

// models works out everything that a comparison at a time asks of the signs that the summaries have.
func (b *Baseline) models(at time.Time) []model {
	v, _ := b.trainingAt(at, "")
	var out []model
	for _, sign := range catalogue.Signs() {
		p, ok := priorOf(sign.ID, b.horse.Type)
		if !ok || p.grown && growing(b.horse, at) {
			continue
		}
		for _, site := range sites(sign) {
			s := b.history(sign, site, p, at, v)
			if len(s.points) == s.before {
				continue
			}
			own := s.fit(at)
			m := model{
				place: placeOf(&sign, site), n: len(s.points), odd: own.LooksForBadDays(), ways: own.Setting.Ways > 0, level: own, trend: s.trend(at, own),
				question: s.questions.of(s.setting(at), func() *Question { return s.asked(at, nil, Learned{}) }),
			}
			if m.stored() {
				m.state = own.Snapshot()
			}
			out = append(out, m)
		}
	}
	return out
}

// restore puts a model that was read where a comparison finds it. Each place has one: a model takes far longer to
// work out than to read.
func (b *Baseline) restore(at time.Time, r *fitReader, seen map[place]bool) {
	var m model
	m.sign, m.site, m.n, m.odd = vitals.SignID(r.text()), vitals.SiteID(r.text()), r.int(), r.bool()
	sign, ok := catalogue.Lookup(m.sign)
	p, known := priorOf(m.sign, b.horse.Type)
	if !ok || !known || seen[m.place] || !slices.Contains(sites(sign), m.site) {
		r.bad = true
		return
	}
	seen[m.place] = true
	v, _ := b.trainingAt(at, "")
	s := b.history(sign, m.site, p, at, v)
	if len(s.points) != m.n {
		r.bad = true
		return
	}
	set := s.setting(at)
	asked := set
	if !m.odd {
		set.BadDays = false
	}
	l := level.New(set)
	for _, p := range s.points {
		l.Append(p)
	}
	if !r.bool() {
		l.Weigh()
	} else if !l.Restore(r.snapshot(set.Rhythm != nil)) {
		r.bad = true
	}
	m.trend = r.slope()
	m.question = r.question()
	if r.bad {
		return
	}
	s.fits.Put(asked, m.n, l)
	if !m.odd && asked != set {
		s.fits.Put(set, m.n, l)
	}
	s.fits.PutSlope(asked, m.trend)
	s.questions.asked = append(s.questions.asked, question{asked, m.question})
}

// fitRule is to be raised with every change of what the package works out from the same exams that rules
// does not see by itself: a formula rather than a constant. TestFitRule compares.
const fitRule = 7

// rules is the fingerprint of all that a fit depends on besides the exams.
func (b *Baseline) rules() fingerprint.Hash {
	p := rules()
	h := b.horse
	p.Text(string(h.ID))
	p.Text(string(h.Type))
	p.Text(h.Born.String())
	p.Bool(h.BornYearOnly)
	p.Bool(h.InFoal)
	p.Time(h.BornAt)
	p.Time(h.FoaledAt)
	for _, l := range b.herd {
		p.Text(string(l.sign))
		p.Floats(l.middle, l.tau, l.sigma0, l.omega)
	}
	p.Int(len(h.NewUsual))
	for _, u := range h.NewUsual {
		p.Text(string(u.Sign))
		p.Text(string(u.Site))
		p.Word(uint64(u.From.UnixNano()))
		p.Word(uint64(u.Said.UnixNano()))
		p.Text(u.By)
		p.Bool(u.Not)
		p.Bool(u.Back)
	}
	return p
}

// rules is the part of it that is the same for every horse: grid, priors, constants, alarms.
var rules = sync.OnceValue(func() (p fingerprint.Hash) {
	p.Text(fitMagic)
	p.Int(fitRule)
	p.Floats(level.GridStep, level.GridReach, level.LogNegligible, level.Omega, spanDays, ratioUsual, ratioWarmth, inflation, rhythmAmplitude, rhythmAmplitudeSD,
		rhythmFrom, rhythmTo, rhythmDays, grownDays, stale, level.Early, level.EarlyDays, level.Renewed, level.BadDayShift, level.BadDaySpread, level.FarShare, level.FarShift, level.FarSpread, level.SlipShare, level.SlipSpread, level.StillBelow, level.LogConverged,
		askDays, askMost, askBase, askEach, askTogether, level.TrendOver, level.TrendLeast, level.VisitDays, firstSmall, countedFrom, countedMost, whole.Worth, betweenThermometers, betweenCounters, betweenTimers)
	p.Floats(level.Kappas[:]...)
	p.Floats(level.BadDayRates[:]...)
	p.Floats(level.BadDayPrior[:]...)
	for _, b := range level.Drifts(true) {
		p.Floats(b.Share, b.Days, b.Weight)
	}
	for _, x := range priors {
		p.Text(string(x.sign))
		p.Int(len(x.types))
		for _, t := range x.types {
			p.Text(string(t))
		}
		for _, y := range []bool{x.log, x.rhythm, x.drift, x.grown, x.own, x.odd} {
			p.Bool(y)
		}
		p.Floats(x.ratio)
		for _, s := range x.spans {
			p.Floats(s.days, s.low, s.high)
		}
	}
	for _, s := range catalogue.Signs() {
		p.Text(string(s.ID))
		p.Text(string(s.Kind))
		p.Bool(s.PerSite)
		for _, g := range s.Grades {
			p.Text(string(g.ID))
			p.Int(g.Rank)
		}
	}
	for _, a := range vitals.Alarms() {
		p.Alarm(&a)
	}
	return p
})
