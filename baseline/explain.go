package baseline

import (
	"time"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// Normal is what is usual for the horse of one measured sign, and all that it was worked out
// from, so that a reader can follow it.
type Normal struct {
	Sign  vitals.SignID `json:"sign"`
	Site  vitals.SiteID `json:"site,omitempty"`
	At    time.Time     `json:"at"`
	Own   Interval      `json:"own"`
	Basis Basis         `json:"basis"`
	// Before is the interval before the first exam, from what is published and assumed.
	Before  Interval  `json:"before"`
	Printed []Printed `json:"printed,omitempty"`
	// Readings are the horse's own that taught it, oldest first.
	Readings []Learned `json:"readings,omitempty"`
}

// Normal gives what is usual of a measured sign at a time, taken in the most precise common way; site matters
// only for a sign with a normal for each site. ok is false for a sign of which nothing
// says what is usual.
func (b *Baseline) Normal(id vitals.SignID, site vitals.SiteID, at time.Time) (n Normal, ok bool) {
	sign, ok := vitals.Lookup(id)
	if !ok {
		return Normal{}, false
	}
	p, ok := priorOf(id, b.horse.Type)
	if !ok || p.grown && growing(b.horse, at) {
		return Normal{}, false
	}
	exams, _ := b.trainingAt(at, "")
	s := b.history(sign, site, p, at, exams)
	if p.own && len(s.points) == s.before {
		return Normal{}, false
	}
	sd := s.preciseSD()
	stage, _ := b.horse.StageAt(at)
	own := s.fit(at)
	return Normal{
		Sign: id, Site: s.site, At: at,
		Own:      *s.interval(own.Predict(day(at), hour(at), sd)),
		Before:   *s.interval(level.Fit(s.setting(at), nil).Predict(day(at), hour(at), sd)),
		Basis:    s.basis(s.prior.provenance()),
		Printed:  printed(sign, b.horse.Type, stage),
		Readings: s.odds(own),
	}, true
}
