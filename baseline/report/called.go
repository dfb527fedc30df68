package report

import (
	"strings"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Called says what is remembered of a call: that a reason to call now was shown, whom of it was told, and what became
// of it. It is empty for an exam without one.
func Called(exam vitals.Exam, horse vitals.Horse, lang words.Lang) string {
	return strings.Join(about(horse, lang).called(exam), " ")
}

func (t telling) called(exam vitals.Exam) []string {
	k := exam.Call
	if k == nil {
		return nil
	}
	said := []string{t.say("report.call.said", "when", t.time("report.given.", k.SaidAt, exam.At))}
	switch who := bare(k.Told); {
	case k.ToldAt.IsZero():
		said = append(said, t.say("report.call.untold"))
	case who == "":
		said = append(said, t.say("report.call.told", "when", t.time("report.given.", k.ToldAt, exam.At)))
	default:
		said = append(said, t.say("report.call.told.who", "when", t.time("report.given.", k.ToldAt, exam.At), "who", who))
	}
	if !k.ClosedAt.IsZero() {
		outcome := bare(k.Outcome)
		if outcome == "" {
			outcome = t.say("report.value.none")
		}
		said = append(said, t.say("report.call.closed", "when", t.time("report.given.", k.ClosedAt, exam.At), "outcome", outcome))
	}
	return said
}
