package baseline

import (
	"math"
	"slices"

	"whorl.example/vitals"
)

// AlarmOwnFever is the one rule on when to call that rests on what is usual for the horse: a temperature that is
// no fever by the published figures, and one for this horse. Its words are under "alarm.own-fever".
const AlarmOwnFever vitals.AlarmID = "own-fever"

const (
	ownFeverAbove   = 1  // °C over the middle of what is usual at this hour
	ownFeverExams   = 5  // own exams that it takes
	ownFeverMinutes = 30 // until it is measured again
)

var ownFeverFrom = vitals.Provenance{Mark: vitals.Assumed, Note: "no source; the horse's own usual plus 1 °C"}

// OwnFever adds [AlarmOwnFever] to the alarms where it fires and no published rule on the temperature does: at rest,
// beside five exams of the horse's own or more. [Baseline.Compare] has done so; a comparison that was put
// together from what was sent asks again.
func (c *Comparison) OwnFever(exam vitals.Exam) {
	if exam.State.In(vitals.AfterWork) {
		return
	}
	warm := func(s Compared) bool {
		return s.Sign == vitals.RectalTemperature && s.Measure != nil && s.Own != nil && s.Basis.Exams >= ownFeverExams &&
			tenths(s.Measure.Value)-tenths(s.Own.Mid) >= 10*ownFeverAbove
	}
	already := func(f vitals.Fired) bool { return f.Sign == vitals.RectalTemperature }
	if !slices.ContainsFunc(c.Signs, warm) || slices.ContainsFunc(c.Alarms, already) {
		return
	}
	fired := vitals.Fired{Alarm: AlarmOwnFever, Urgency: vitals.CheckAgain, Minutes: ownFeverMinutes, Then: vitals.RingSoon,
		Sign: vitals.RectalTemperature, Problem: vitals.ProblemFever, Provenance: ownFeverFrom}
	if exam.RecheckOf != "" || exam.Purpose == vitals.Recheck { // it has been measured again
		fired.Urgency, fired.Minutes, fired.Then = vitals.RingSoon, 0, ""
	}
	c.Alarms = append(slices.Clip(c.Alarms), fired)
}

// tenths is a figure as it is shown, so that a person can check the rule: 38.4 is one degree over 37.4.
func tenths(x float64) float64 { return math.Floor(math.Round(x*1e7)/1e6 + .5) }
