package baseline

import (
	"time"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// Variation is what the exams before a time say of how a measured sign varies by itself, on the scale on which the sign is
// compared: for a course within hours, package whorl.example/baseline/watch.
type Variation struct {
	Basis Basis
	// Own is the horse's own interval at the time, for a reading taken in the most precise way.
	Own *Interval
	// SDs is the distribution of the SD with which readings of the horse scatter.
	SDs []WeightedSD
	// Log: the scale is the logarithm.
	Log bool

	prior  prior
	course func(at time.Time) float64
}

// WeightedSD is one SD of a distribution, with its weight.
type WeightedSD struct{ SD, Weight float64 }

// Scale brings a measure onto the scale; ok is false where it has no place there.
func (v Variation) Scale(m vitals.Measure) (y, sd float64, ok bool) { return v.prior.scale(m) }

// Unscale takes a value of the scale back to the sign's unit.
func (v Variation) Unscale(y float64) float64 { return v.prior.unscale(y) }

// Course is how far the hour of the day moves the sign, from the time asked for to another.
func (v Variation) Course(at time.Time) float64 { return v.course(at) }

// Variation gathers it from the exams before a time; ok is false for a sign of which nothing is assumed.
func (b *Baseline) Variation(sign vitals.Sign, site vitals.SiteID, from time.Time) (v Variation, ok bool) {
	p, ok := priorOf(sign.ID, b.horse.Type)
	if !ok || p.grown && growing(b.horse, from) {
		return v, false
	}
	exams, _ := b.trainingAt(from, "")
	s := b.history(sign, site, p, from, exams)
	known := s.fit(from)
	v = Variation{Basis: s.basis(s.from), Log: p.log, prior: p, course: func(time.Time) float64 { return 0 }}
	if p.rhythm {
		middle := func(at time.Time) float64 { return known.Predict(day(from), hour(at), 0).Mean }
		first := middle(from)
		v.course = func(at time.Time) float64 { return middle(at) - first }
	}
	v.SDs = weighted(known.SpreadPosterior())
	v.Own = s.interval(known.Predict(day(from), hour(from), s.preciseSD()))
	return v, true
}

func weighted(sds []level.WeightedSD) []WeightedSD {
	out := make([]WeightedSD, len(sds))
	for i, c := range sds {
		out[i] = WeightedSD(c)
	}
	return out
}
