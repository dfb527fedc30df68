package baseline

import (
	"slices"
	"strings"
	"time"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Codes of the faults of this package.
const (
	// FaultOtherHorse: an exam, or a record, of another horse.
	FaultOtherHorse vitals.FaultCode = "other-horse"
	// FaultNoTime: the exam compared has no time, so that nothing says which exams came before it.
	FaultNoTime vitals.FaultCode = "no-time"
)

func fault(code vitals.FaultCode, path string, args ...string) vitals.Faults {
	return vitals.Faults{{Code: code, Path: path, Args: args, Sentence: words.Say(words.English, "fault."+string(code), args...)}}
}

// Baseline is what is normal for one horse: the horse and every exam it was given, kept
// as they are. What is usual is worked out from them each time, so that the order in
// which exams arrive, from one phone or two, changes nothing, and any of them can be
// taken out again. A Baseline is not safe for use by several goroutines while it learns.
type Baseline struct {
	horse vitals.Horse
	exams []vitals.Exam // by At, then ID; one for each ID
}

// New gives the baseline of a horse of which no exam is known yet: what is published and
// assumed of animals of its type and age.
func New(horse vitals.Horse) *Baseline { return &Baseline{horse: horse} }

// Horse gives the horse.
func (b *Baseline) Horse() vitals.Horse { return b.horse }

// Exams gives the exams, oldest first. The slice is a copy; the findings are shared.
func (b *Baseline) Exams() []vitals.Exam { return slices.Clone(b.exams) }

// Learn takes an exam into the record and says whether it teaches what is usual. One that
// does not (the horse was unwell, not at rest, ...) is kept all the same, with its reason;
// only an exam of another horse is left out. Whether an exam teaches in one comparison
// also depends on the age and the time compared: see [Comparison.Lessons].
//
// An exam of an ID already known replaces it if it says more: finished before draft, then
// the one with more findings.
func (b *Baseline) Learn(exam vitals.Exam) Lesson {
	if exam.Horse != b.horse.ID {
		return Lesson{Exam: exam.ID, Reason: LessonOtherHorse}
	}
	b.keep(exam)
	return b.lesson(exam)
}

// keep puts an exam in its place.
func (b *Baseline) keep(exam vitals.Exam) {
	if i := slices.IndexFunc(b.exams, func(e vitals.Exam) bool { return e.ID == exam.ID }); i >= 0 {
		if prefer(b.exams[i], exam) {
			return
		}
		b.exams = slices.Delete(b.exams, i, i+1)
	}
	i, _ := slices.BinarySearchFunc(b.exams, exam, inTime)
	b.exams = slices.Insert(b.exams, i, exam)
}

func inTime(a, b vitals.Exam) int {
	if c := a.At.Compare(b.At); c != 0 {
		return c
	}
	return strings.Compare(string(a.ID), string(b.ID))
}

// prefer reports whether a is kept when b bears the same ID. It is a total order on what
// matters here, so that two phones end with the same exam.
func prefer(a, b vitals.Exam) bool {
	if a.Status != b.Status {
		return a.Status == vitals.Finished
	}
	if len(a.Findings) != len(b.Findings) {
		return len(a.Findings) > len(b.Findings)
	}
	if c := a.At.Compare(b.At); c != 0 {
		return c > 0
	}
	return fingerprint(a) >= fingerprint(b)
}

// Merge takes in every exam of another record of the same horse, from another phone, and
// what was said there of its new usual.
// The order of merging changes nothing. The error is [FaultOtherHorse].
func (b *Baseline) Merge(other *Baseline) error {
	if other.horse.ID != b.horse.ID {
		return fault(FaultOtherHorse, "/horse", "id", string(other.horse.ID))
	}
	b.horse.NewUsual = vitals.MergeNewUsual(b.horse.NewUsual, other.horse.NewUsual)
	for _, e := range other.exams {
		b.keep(e)
	}
	return nil
}

// Remove takes an exam out, as if it had never been given; false if there was none.
func (b *Baseline) Remove(id vitals.ID) bool {
	n := len(b.exams)
	b.exams = slices.DeleteFunc(b.exams, func(e vitals.Exam) bool { return e.ID == id })
	return len(b.exams) < n
}

// Lessons says of every exam before a time whether it teaches what is usual at that time.
func (b *Baseline) Lessons(at time.Time) []Lesson {
	_, lessons := b.taught(at, "")
	return lessons
}
