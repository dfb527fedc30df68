package baseline

import (
	"slices"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

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
