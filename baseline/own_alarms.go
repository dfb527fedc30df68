package baseline

import (
	"math"
	"slices"
	"strconv"

	"whorl.example/vitals"
)

// The rules on when to call that rest on what is usual for the horse. Their words are under "alarm." and the name.
const (
	// AlarmOwnFever: a temperature that is no fever by the published figures, and one for this horse.
	AlarmOwnFever vitals.AlarmID = "own-fever"
	// AlarmOwnHeart: a heart rate that no published figure calls fast, and is half as fast again as this horse's usual.
	AlarmOwnHeart vitals.AlarmID = "own-heart"
	// AlarmOwnBreath: a breathing rate unusual for this horse, and half as fast again as its usual.
	AlarmOwnBreath vitals.AlarmID = "own-breath"
	// AlarmOwnRefill: a capillary refill of two seconds and more that is unusual for this horse, and half as long again as its usual.
	AlarmOwnRefill vitals.AlarmID = "own-refill"
	// AlarmOwnWeight: a tenth lighter than it weighed a month or longer ago. The limits of a weight follow a slow loss,
	// step by step, and would call its end usual.
	AlarmOwnWeight vitals.AlarmID = "own-weight"
)

const (
	ownFeverAbove   = 1  // °C over the middle of what is usual at this hour
	ownFeverExams   = 5  // own exams that it takes
	ownFeverMinutes = 30 // until it is measured again

	ownHeartPercent = 50 // over the middle of what is usual at rest
	ownHeartExams   = 5  // own exams that it takes
	ownHeartMinutes = 10 // until it is counted again

	ownBreathPercent = 50 // over the middle of what is usual at rest
	ownBreathMinutes = 15 // until it is counted again

	ownRefillPercent = 50 // over the middle of what is usual
	ownRefillFrom    = 2  // seconds, under which no refill is slow
	ownRefillMinutes = 10 // until it is timed again

	ownWeightPercent = 10  // of its earlier weight that the animal has lost
	ownWeightExams   = 3   // earlier weights that it takes
	ownWeightFrom    = 28  // days ago, from which a weight is an earlier one
	ownWeightTo      = 400 // days ago, to which: a year, and some weeks of patience
)

var (
	ownFeverSays  = vitals.Provenance{Mark: vitals.Assumed, Note: "no source; the horse's own usual plus 1 °C"}
	ownHeartSays  = vitals.Provenance{Mark: vitals.CommonPractice, Note: "that a heart well over the animal's own rate at rest is told; half as fast again is ours"}
	ownBreathSays = vitals.Provenance{Mark: vitals.Assumed, Note: "as for a heart; breathing scatters more, so that it must be unusual for the horse as well"}
	ownRefillSays = vitals.Provenance{Mark: vitals.Assumed, Note: "as for a heart; under two seconds every published row is met, and people differ by half a second"}
	ownWeightSays = vitals.Provenance{Mark: vitals.CommonPractice, Note: "that loss of weight without a plan is told; a tenth, which a tape can tell from chance, is ours"}
)

// OwnAlarms adds the rules that rest on the horse's own usual where they fire: [AlarmOwnFever] at rest, beside five exams of
// its own or more, where no published rule on the temperature has fired; [AlarmOwnHeart] likewise, except for foals, whose heart
// slows as they grow; [AlarmOwnBreath] and [AlarmOwnRefill] where the measure is unusual for the horse too; [AlarmOwnWeight]
// beside [WarnLighter]. [Baseline.Compare]
// has done so; a comparison that was put together from what was sent asks again.
func (c *Comparison) OwnAlarms(exam vitals.Exam) {
	for i := range c.Signs {
		s := &c.Signs[i]
		switch {
		case s.Measure == nil:
		case s.Sign == vitals.RectalTemperature:
			if !exam.State.In(vitals.AfterWork) && s.Own != nil && s.Basis.Exams >= ownFeverExams && tenths(s.Measure.Value)-tenths(s.Own.Mid) >= 10*ownFeverAbove {
				c.ownAlarm(onceMore(exam, vitals.Fired{Alarm: AlarmOwnFever, Minutes: ownFeverMinutes, Sign: s.Sign, Problem: vitals.ProblemFever, Provenance: ownFeverSays}))
			}
		case s.Sign == vitals.HeartRate:
			if !exam.State.In(vitals.AfterWork) && s.Own != nil && s.Basis.Exams >= ownHeartExams && !slices.Contains(slowing, c.Stage) &&
				100*math.Round(s.Measure.Value) >= (100+ownHeartPercent)*math.Round(s.Own.Mid) { // as shown
				c.ownAlarm(onceMore(exam, vitals.Fired{Alarm: AlarmOwnHeart, Minutes: ownHeartMinutes, Sign: s.Sign, Problem: vitals.ProblemHeart, Provenance: ownHeartSays}))
			}
		case s.Sign == vitals.RespiratoryRate:
			if !exam.State.In(vitals.AfterWork) && !exam.State.In(vitals.Excited) && !exam.Hot() && !slices.Contains(slowing, c.Stage) && s.muchOver(ownBreathPercent) {
				c.ownAlarm(onceMore(exam, vitals.Fired{Alarm: AlarmOwnBreath, Minutes: ownBreathMinutes, Sign: s.Sign, Problem: vitals.ProblemBreath, Provenance: ownBreathSays}))
			}
		case s.Sign == vitals.CapillaryRefill:
			if s.Measure.Value >= ownRefillFrom && s.muchOver(ownRefillPercent) {
				c.ownAlarm(onceMore(exam, vitals.Fired{Alarm: AlarmOwnRefill, Minutes: ownRefillMinutes, Sign: s.Sign, Problem: vitals.ProblemCirculation, Provenance: ownRefillSays}))
			}
		case s.Sign == vitals.Weight:
			if s.lighter() {
				c.ownAlarm(vitals.Fired{Alarm: AlarmOwnWeight, Urgency: vitals.RingSoon, Sign: s.Sign, Problem: vitals.ProblemOther, Provenance: ownWeightSays})
			}
		}
	}
}

// Held adds what [vitals.RisingAlarms] says of a recheck's case, where no rule on the same sign has fired, and what
// [vitals.HeldAlarms] says of its earlier looks, where the exam itself does not say to call now. [Baseline.Compare] has done so for a finished exam and the exams that it knows.
func (c *Comparison) Held(horse vitals.Horse, exam vitals.Exam, earlier []vitals.Exam) {
	for _, f := range vitals.RisingAlarms(exam, earlier) {
		c.ownAlarm(f)
	}
	if vitals.Strongest(c.Alarms) != vitals.RingNow {
		c.Alarms = append(slices.Clip(c.Alarms), vitals.HeldAlarms(horse, exam, earlier)...)
	}
}

// slowing are the stages at which a heart slows from month to month.
var slowing = []vitals.Stage{vitals.Newborn, vitals.Neonate, vitals.Foal}

// onceMore is a rule that has the sign checked again and then told of; in a recheck, which has done so, it is told of.
func onceMore(exam vitals.Exam, f vitals.Fired) vitals.Fired {
	if exam.RecheckOf != "" || exam.Purpose == vitals.Recheck {
		f.Urgency, f.Minutes = vitals.RingSoon, 0
		return f
	}
	f.Urgency, f.Then = vitals.CheckAgain, vitals.RingSoon
	return f
}

// ownAlarm adds a rule, unless one on the same sign has fired.
func (c *Comparison) ownAlarm(fired vitals.Fired) {
	if !slices.ContainsFunc(c.Alarms, func(f vitals.Fired) bool { return f.Sign == fired.Sign }) {
		c.Alarms = append(slices.Clip(c.Alarms), fired)
	}
}

// muchOver reports whether a measure is unusual for the horse, and by so many per cent over the middle of its own exams.
func (c *Compared) muchOver(percent float64) bool {
	return c.Own != nil && c.Basis.Exams >= ownHeartExams && c.Statement.Unusual() && 100*c.Measure.Value >= (100+percent)*c.Own.Mid
}

// lighter reports whether the weight lies by [ownWeightPercent] per cent under what [WarnLighter] says of earlier ones.
func (c *Compared) lighter() bool {
	for _, w := range c.Warnings {
		if w.Key == WarnLighter && len(w.Args) == 4 {
			from, err := strconv.ParseFloat(w.Args[3], 64)
			return err == nil && muchLess(c.Measure.Value, from)
		}
	}
	return false
}

func muchLess(weight, from float64) bool { return 100*weight <= (100-ownWeightPercent)*from }

// lighterWarning warns where an animal weighs much less than the middle of its weights of a month to a year ago; a mare, than of
// those since she foaled, which is no loss.
func (s *series) lighterWarning(c *Compared, at float64) {
	if s.sign.ID != vitals.Weight {
		return
	}
	var earlier []float64
	for _, p := range s.points[s.before:] {
		before := !s.horse.FoaledAt.IsZero() && p.Day < day(s.horse.FoaledAt)
		if ago := at - p.Day; ago >= ownWeightFrom && ago <= ownWeightTo && !before {
			earlier = append(earlier, s.prior.unscale(p.Y))
		}
	}
	if len(earlier) < ownWeightExams {
		return
	}
	slices.Sort(earlier)
	n := len(earlier)
	// To the kilogram, as it is shown, so that a person can check the rule.
	if from := math.Round((earlier[(n-1)/2] + earlier[n/2]) / 2); muchLess(c.Measure.Value, from) {
		c.warn(WarnLighter, "n", itoa(n), "from", s.shown(from))
	}
}

// tenths is a figure as it is shown, so that a person can check the rule: 38.4 is one degree over 37.4.
func tenths(x float64) float64 { return math.Floor(math.Round(x*1e7)/1e6 + .5) }
