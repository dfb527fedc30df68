package baseline

import (
	"time"

	"whorl.example/vitals"
)

// watchKnown is what the horse's exams before the series say of a sign.
type watchKnown struct {
	prior  prior
	spread watchSpread
	basis  Basis
	own    *Interval
	// course is how far the level moves by the hour of the day, from the first reading on.
	course func(at time.Time) float64
}

// watchKnown gathers it from the exams before from; ok is false for a sign of which
// nothing is assumed.
func (b *Baseline) watchKnown(sign vitals.Sign, site vitals.SiteID, from time.Time) (k watchKnown, ok bool) {
	p, ok := priorOf(sign.ID, b.horse.Type)
	if !ok || p.grown && growing(b.horse, from) {
		return k, false
	}
	exams, _ := b.taught(from, "")
	s := b.history(sign, site, p, from, exams)
	k = watchKnown{prior: p, basis: s.basis(s.prior.provenance())}
	k.course = func(time.Time) float64 { return 0 }
	known := s.fit(from)
	if p.rhythm {
		middle := func(at time.Time) float64 { return known.Predict(day(from), hour(at), 0).Mean }
		first := middle(from)
		k.course = func(at time.Time) float64 { return middle(at) - first }
	}
	k.spread = spreadOf(known)
	k.own = s.interval(known.Predict(day(from), hour(from), s.preciseSD()))
	return k, true
}
