package baseline

import (
	"slices"
	"time"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// exclusion is why an exam teaches nothing, by itself, or "". Only finished exams teach, labelled as well
// and at rest by the handler: nothing is guessed from the purpose or the numbers, with
// one exception. Where a published "ring now" rule fired, the label and the rule
// contradict each other, and what is usual is not widened by it.
func (b *Baseline) exclusion(e vitals.Exam) string {
	reason := excludedByEntry(e)
	if reason == "" && b.horse.DateDoubt(e.At) != vitals.DateSound {
		return LessonMisdated
	}
	if reason == "" && ringing(vitals.FiredAlarms(b.horse, e)) {
		return LessonAlarm
	}
	return reason
}

// ringing reports whether a "ring now" rule is among those that fired.
func ringing(fired []vitals.Fired) bool {
	return slices.ContainsFunc(fired, func(f vitals.Fired) bool { return f.Urgency == vitals.RingNow })
}

// excludedByEntry is refusal without the rules.
func excludedByEntry(e vitals.Exam) string {
	switch {
	case e.Status == vitals.Withdrawn:
		return LessonWithdrawn
	case e.Status != vitals.Finished:
		return LessonDraft
	case e.Wellness == vitals.Unwell:
		return LessonUnwell
	case e.Wellness != vitals.Well:
		return LessonNotLabelled
	}
	switch {
	case e.State.In(vitals.AfterWork):
		return LessonAfterWork
	case e.State.In(vitals.Excited):
		return LessonExcited
	case e.Masked():
		return LessonMedicated
	case e.State.Condition != vitals.AtRest:
		return LessonNotLabelled
	}
	if !slices.ContainsFunc(e.Findings, func(f vitals.Finding) bool { return f.Absent == "" }) {
		return LessonEmpty
	}
	return ""
}

// quiet reports whether an exam in which these alarms fired teaches, once it is finished.
func (b *Baseline) quiet(e vitals.Exam, fired []vitals.Fired) bool {
	e.Status = vitals.Finished
	return excludedByEntry(e) == "" && b.horse.DateDoubt(e.At) == vitals.DateSound && !ringing(fired)
}

// series is the horse's own history of one sign (at one site, where each has its own normal).
type series struct {
	horse vitals.Horse
	sign  vitals.Sign
	site  vitals.SiteID // only of a sign with PerSite
	prior prior
	from  []vitals.Provenance // where the prior comes from
	row   row                 // of the age at the time compared
	exams []Learned
	ways  []way // the different ways in which they were taken
	by    byWhom
	// points are the readings on the prior's scale, brought to the present age.
	points []level.Reading
	// mark is the answer that this is a new usual, if one holds; before is how many of the
	// points are from before it.
	mark   *vitals.NewUsual
	before int

	fits      *level.Cache
	questions *questions
}

// order puts the readings in their order in time; the exams' order is that, but for readings
// minutes after an exam began.
func (s *series) order() {
	for i := range s.points {
		for j := i; j > 0 && level.Compare(s.points[j], s.points[j-1]) < 0; j-- {
			s.points[j], s.points[j-1] = s.points[j-1], s.points[j]
			s.exams[j], s.exams[j-1] = s.exams[j-1], s.exams[j]
		}
	}
}

// visits is how many visits the readings of the present level are: three within an hour say of one day what it was.
func (s *series) visits() int { return level.Visits(s.points[s.before:]) }

// day is the time in days.
func day(t time.Time) float64 { return float64(t.Unix()) / 86400 }

// hour is the hour of the day, 0 to 24, where the horse stands.
func hour(t time.Time) float64 {
	h, m, s := t.Clock()
	return float64(h) + float64(m)/60 + float64(s)/3600
}
