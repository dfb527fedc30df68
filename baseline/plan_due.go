package baseline

import (
	"slices"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/vitals"
)

// The rhythm of [PracticePlan] for half a year, which comes out alike for every type and age
// (12 exams, 16 or 17 days apart). It takes the plan half a second
// to work out, which a barn's list cannot wait for; a test holds these to it.
const (
	practiceExams = 12
	practiceEvery = 17 * 24 * time.Hour
	// practiceFoal is the rhythm under six months, where what is usual moves by the week (assumed).
	practiceFoal = 7 * 24 * time.Hour
	// practiceKept is the rhythm once the plan is done: the level drifts over weeks (assumed).
	practiceKept = 30 * 24 * time.Hour
)

// Due is when a horse should next be examined on a quiet day, and what no such exam has
// measured yet.
type Due struct {
	// Exams is how many exams teach, Planned how many the plan has; LastAt the newest of them.
	Exams   int       `json:"exams"`
	Planned int       `json:"planned"`
	LastAt  time.Time `json:"lastAt,omitzero"`
	// At is when the next one is due; zero: no exam teaches yet, and the first is due now.
	At time.Time `json:"at,omitzero"`
	// Now: it is due at the time asked for.
	Now       bool `json:"now"`
	EveryDays int  `json:"everyDays"`
	// Unknown are the signs of which no exam that teaches has a value, in the catalogue's
	// order: every sign that has an interval, and the graded ones of the walk-up and of the hands.
	Unknown []vitals.SignID `json:"unknown,omitempty"`
}

// Due says when the next practice exam of the horse is due, seen from a time. The error of
// PracticePlan's rhythm is that of its assumptions.
func (b *Baseline) Due(at time.Time) Due {
	exams, _ := b.trainingAt(at, "")
	every := practiceEvery
	stage, _ := b.horse.StageAt(at)
	switch {
	case stage == vitals.Newborn || stage == vitals.Neonate || stage == vitals.Foal:
		every = practiceFoal
	case len(exams.summaries) >= practiceExams:
		every = practiceKept
	}
	d := Due{Exams: len(exams.summaries), Planned: practiceExams, Now: true, EveryDays: int(every / (24 * time.Hour))}
	if n := len(exams.summaries); n > 0 {
		d.LastAt = exams.summaries[n-1].at
		d.At = d.LastAt.Add(every)
		d.Now = !at.Before(d.At)
	}
	for _, sign := range catalogue.Signs() {
		if b.practised(sign, at) && !slices.ContainsFunc(exams.summaries, func(n *summary) bool { return n.shows(sign.ID) }) {
			d.Unknown = append(d.Unknown, sign.ID)
		}
	}
	return d
}

// practised reports whether a sign is one of which a usual value is worth knowing.
func (b *Baseline) practised(sign vitals.Sign, at time.Time) bool {
	if sign.Kind.Measured() {
		p, ok := priorOf(sign.ID, b.horse.Type)
		return ok && !(p.grown && growing(b.horse, at))
	}
	// What is asked of a foal, of foaling or of work alone is no matter of a quiet day.
	return sign.Kind == vitals.KindGrade && sign.Depth != vitals.Full && sign.Applies == nil
}
