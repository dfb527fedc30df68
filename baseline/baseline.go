package baseline

import (
	"errors"
	"slices"
	"time"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Codes of the faults of this package.
const (
	// FaultOtherHorse: an exam, or a record, of another horse.
	FaultOtherHorse = vitals.FaultOtherHorse
)

func fault(code vitals.FaultCode, path string, args ...string) vitals.Faults {
	return vitals.Faults{{Code: code, Path: path, Args: args, Sentence: words.Say(words.English, "fault."+string(code), args...)}}
}

// Baseline is what is normal for one horse: the horse and every exam it was given, kept
// as they are. What is usual is worked out from them each time, so that the order in
// which exams arrive, from one phone or two, changes nothing, and any of them can be
// taken out again. A Baseline is not safe for use by several goroutines while it learns.
type Baseline struct {
	horse     vitals.Horse
	exams     []*vitals.Exam // by At, then ID; one for each ID; none in a Fit; they do not change
	summaries []*summary     // beside exams
	at        map[vitals.ID]time.Time
	views     trainingSets
	herd      []learnedRow // in the place of what ships

	readings []measured // room for those of the next summaries
	answers  []graded
}

// New gives the baseline of a horse of which no exam is known yet: what is published and
// assumed of animals of its type and age. The error is the [vitals.Faults] of [vitals.CheckHorse]:
// of a type that is none, nothing is assumed.
func New(horse vitals.Horse, options ...Option) (*Baseline, error) {
	if err := vitals.CheckHorse(horse).Err(); err != nil {
		return nil, err
	}
	b := &Baseline{horse: own(horse), at: make(map[vitals.ID]time.Time)}
	for _, o := range options {
		if o != nil {
			o(b)
		}
	}
	return b, nil
}

// Of gives the baseline of a horse and its exams: [New], then [Baseline.Learn] of each. The error is the
// [vitals.Faults] of all of them, under /horse and /exams.
func Of(horse vitals.Horse, exams []vitals.Exam, options ...Option) (*Baseline, error) {
	b, err := New(horse, options...)
	if err != nil {
		faults, _ := errors.AsType[vitals.Faults](err)
		return nil, faults.At("/horse")
	}
	var faults vitals.Faults
	for i, e := range exams {
		if _, err := b.Learn(e); err != nil {
			wrong, _ := errors.AsType[vitals.Faults](err)
			faults = append(faults, wrong.At("/exams/"+itoa(i))...)
		}
	}
	if err := faults.Err(); err != nil {
		return nil, err
	}
	return b, nil
}

// own gives a horse that shares no list with another.
func own(h vitals.Horse) vitals.Horse {
	h.Contacts, h.NewUsual = slices.Clone(h.Contacts), slices.Clone(h.NewUsual)
	return h
}

// Horse gives the horse.
func (b *Baseline) Horse() vitals.Horse { return own(b.horse) }

// Exams gives the exams, oldest first. The slice is a copy; the findings are shared.
func (b *Baseline) Exams() []vitals.Exam {
	out := make([]vitals.Exam, len(b.exams))
	for i, e := range b.exams {
		out[i] = *e
	}
	return out
}

// Learn takes an exam into the record and says whether it teaches what is usual. One that
// does not (the horse was unwell, not at rest, ...) is kept all the same, with its reason. Whether an exam teaches in one comparison
// also depends on the age and the time compared: see [Comparison.Lessons]. What the exam refers to is kept, and
// is not to be changed afterwards.
//
// An exam of an ID already known replaces it if it says more: finished before draft, then
// the one with more findings.
//
// The error is the [vitals.Faults] of [vitals.CheckExam], each with its code, place and sentence; such an
// exam is not kept and teaches nothing.
func (b *Baseline) Learn(exam vitals.Exam) (Lesson, error) {
	if err := vitals.CheckExam(exam, b.horse).Err(); err != nil {
		return Lesson{Exam: exam.ID}, err
	}
	n := b.summarise(&exam)
	b.keep(&exam, n)
	return n.lesson(), nil
}

func (n *summary) lesson() Lesson {
	return Lesson{Exam: n.id, Taught: n.reason == "", Reason: n.reason}
}

// keep puts an exam in its place.
func (b *Baseline) keep(exam *vitals.Exam, n *summary) {
	if i, ok := b.find(n.id); ok {
		if b.summaries[i].preferredTo(n) {
			return
		}
		b.drop(i)
	}
	i, _ := slices.BinarySearchFunc(b.summaries, n, (*summary).compare)
	b.summaries = slices.Insert(b.summaries, i, n)
	if exam != nil {
		b.exams = slices.Insert(b.exams, i, exam)
	}
	b.at[n.id] = n.at
}

// find gives the place of an exam.
func (b *Baseline) find(id vitals.ID) (i int, ok bool) {
	at, ok := b.at[id]
	if !ok {
		return 0, false
	}
	return slices.BinarySearchFunc(b.summaries, &summary{id: id, at: at}, (*summary).compare)
}

func (b *Baseline) drop(i int) {
	delete(b.at, b.summaries[i].id)
	b.summaries = slices.Delete(b.summaries, i, i+1)
	if len(b.exams) > i {
		b.exams = slices.Delete(b.exams, i, i+1)
	}
}

// Merge takes in every exam of another record of the same horse, from another phone, and
// what was said there of its new usual.
// The order of merging changes nothing. The error is [FaultOtherHorse].
func (b *Baseline) Merge(other *Baseline) error {
	if other == nil {
		return fault(FaultOtherHorse, "/horse", "id", "")
	}
	if other.horse.ID != b.horse.ID {
		return fault(FaultOtherHorse, "/horse", "id", string(other.horse.ID))
	}
	b.views.forget() // which know the horse as it was
	b.horse.NewUsual = vitals.MergeNewUsual(b.horse.NewUsual, other.horse.NewUsual)
	for i, e := range other.exams {
		b.keep(e, other.summaries[i])
	}
	return nil
}

// Remove takes an exam out, as if it had never been given; false if there was none.
func (b *Baseline) Remove(id vitals.ID) bool {
	i, ok := b.find(id)
	if ok {
		b.drop(i)
	}
	return ok
}

// Lessons says of every exam before a time whether it teaches what is usual at that time.
func (b *Baseline) Lessons(at time.Time) []Lesson {
	_, lessons := b.trainingAt(at, "")
	return lessons
}
