package baseline

import (
	"slices"
	"time"

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
