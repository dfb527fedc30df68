package baseline

import (
	"time"

	"whorl.example/vitals"
)

// Interval is a range of readings in the sign's unit: 95 of 100 readings of a well day,
// taken in the way of the reading compared, are expected inside Low..High.
type Interval struct {
	Low  float64 `json:"low"`
	Mid  float64 `json:"mid"`
	High float64 `json:"high"`
}

// In converts the interval.
func (i Interval) In(to vitals.Conversion) Interval {
	return Interval{to.Value(i.Low), to.Value(i.Mid), to.Value(i.High)}
}

// Statement is what the comparison says of one sign. It never says that a horse is well.
type Statement string

const (
	// AsUsual: inside this horse's own interval, or one of its usual answers.
	AsUsual Statement = "as-usual"
	// Higher and Lower: outside the interval.
	Higher Statement = "higher"
	Lower  Statement = "lower"
	// Differs: a graded answer that is rare for this horse.
	Differs Statement = "differs"
	// FirstSeen: a graded answer, not the one of a healthy animal, that none of this horse's own exams
	// showed, while they are too few to call it rare.
	FirstSeen Statement = "new"
	// Noted: recorded, and neither usual nor unusual: nothing says what is usual, or a graded
	// answer, not the one of a healthy animal, that this horse has shown too seldom to call it usual.
	Noted Statement = "noted"
)

// Unusual reports whether the statement is one that belongs at the top of a report.
func (s Statement) Unusual() bool { return s == Higher || s == Lower || s == Differs }

// Basis is what a comparison rests on.
type Basis struct {
	// Exams is how many of the horse's own exams taught this sign; those within six hours of the first of them count as one.
	Exams int `json:"exams"`
	// Prior says where the assumptions before the first exam come from.
	Prior []vitals.Provenance `json:"prior,omitempty"`
	// Since is from when on they count, where a person said that this is a new usual. The Earlier
	// ones before it say nothing of the level any more; they still say how far this horse
	// varies, and how its day goes.
	Since   time.Time `json:"since,omitzero"`
	Earlier int       `json:"earlier,omitempty"`
	// Weak: the prior still weighs as much as the horse's own exams or more.
	Weak bool `json:"weak,omitempty"`
}

// Printed is a published range in the sign's unit, for the animal's type and stage.
type Printed struct {
	Low  *float64 `json:"low,omitempty"`
	High *float64 `json:"high,omitempty"`
	vitals.Provenance
}

// Settle asks for a better measurement that may change the answer.
type Settle struct {
	// Advice is a key of the words: [SettleCount], [SettleTries] or [SettleThermometer].
	Advice string `json:"advice"`
	// Chance that the better measurement changes the statement, 0 to 1.
	Chance float64 `json:"chance"`
}

// Compared is one finding beside what is usual for this horse.
type Compared struct {
	Sign vitals.SignID `json:"sign"`
	Site vitals.SiteID `json:"site,omitempty"`

	// Of a measured sign: the measure, and the interval of the horse's own readings taken so.
	Measure *vitals.Measure `json:"measure,omitempty"`
	Own     *Interval       `json:"own,omitempty"`
	Printed []Printed       `json:"printed,omitempty"`

	// Of a graded sign: the answers, and how often this horse showed them on well days.
	Chosen []vitals.GradeID `json:"chosen,omitempty"`
	Where  []vitals.SiteID  `json:"where,omitempty"`
	// Seen is how many of the horse's own Basis.Exams showed the same answer or one farther from usual.
	Seen int `json:"seen,omitempty"`
	// Usual is what the horse showed most often on well days, in UsualSeen of Basis.Exams; nothing
	// where two were shown as often.
	Usual     []vitals.GradeID `json:"usual,omitempty"`
	UsualSeen int              `json:"usualSeen,omitempty"`

	Statement Statement `json:"statement"`
	// Tail is the probability of a reading as far out on the same side, or farther, on a
	// well day; P is the two-sided one. A graded sign has one side only. Both are 0 where
	// nothing says what is usual.
	Tail float64 `json:"tail"`
	P    float64 `json:"p"`
	// Strong: it stands out even after allowing for the number of signs looked at.
	Strong bool    `json:"strong,omitempty"`
	Basis  Basis   `json:"basis"`
	Settle *Settle `json:"settle,omitempty"`
	// Question asks a person whether this is the new usual.
	Question *Question `json:"question,omitempty"`
	// Warnings are keys of the words with their facts: "warning.device-changed", ...
	Warnings []Warning `json:"warnings,omitempty"`
}

// Warning is an answer's "but": a key of the words and the facts of its sentence.
type Warning struct {
	Key string `json:"key"`
	// Args are the facts, in the order name, value, name, value. Values that are ids of the
	// catalogue (site, device, grade) are to be said by their own words.
	Args []string `json:"args,omitempty"`
}

// Keys of the words of advice, warnings and lessons, with the names of their facts.
const (
	SettleCount       = "settle.count-60"    // count again over 60 seconds
	SettleTries       = "settle.tries"       // time it three times
	SettleThermometer = "settle.thermometer" // read a digital thermometer

	// Of a finding.
	WarnNoExams       = "warning.no-exams"       // rests on no exam of this horse's own
	WarnFewExams      = "warning.few-exams"      // n: rests on so few that the assumptions weigh as much
	WarnPriorAssumed  = "warning.prior-assumed"  // what is usual before the first exam is assumed
	WarnPriorMemory   = "warning.prior-memory"   // the printed ranges are from memory
	WarnDeviceChanged = "warning.device-changed" // device, label, size, unit, source, mark: not used in any of the horse's own exams; makes have differed by size
	WarnSomeoneElse   = "warning.someone-else"   // by: did none of the horse's own exams that show this sign
	WarnSiteChanged   = "warning.site-changed"   // site: not where the horse's own exams took it
	WarnSiteWeak      = "warning.site-weak"      // site: known to be unreliable
	WarnTold          = "warning.told"           // a number told; how it was measured is not known
	WarnAloud         = "warning.aloud"          // counted aloud, without a timer
	WarnNotSeen       = "warning.not-seen"       // n: never shown in n own exams
	WarnOtherSide     = "warning.other-side"     // site, grade: the other side is not so
	WarnNewUsual      = "warning.new-usual"      // n, earlier, day, by: counted from that day on, as somebody said
	WarnAskHigher     = "warning.ask-higher"     // n, low, high, from, to: the question in words: low to high lie above from to
	WarnAskLower      = "warning.ask-lower"      // the same, below
	WarnOddDays       = "warning.odd-days"       // n, of, value, day: so many own readings are probably from bad days
	WarnLighter       = "warning.lighter"        // n, from: a weight, a tenth or more under the middle of n earlier ones
	WarnTrend         = "warning.trend"          // n, days, from, to: the own readings have been climbing or falling

	// Of the whole comparison. Beside these, "fault." and a code of a finding that was entered in
	// order and gives no number.
	WarnAfterWork  = "warning.after-work" // minutes: beside what is usual at rest
	WarnExcited    = "warning.excited"
	WarnMedicated  = "warning.medicated" // with
	WarnMasked     = "warning.masked"    // something given may hide pain and fever
	WarnContrary   = "warning.contrary"  // sign, other: two answers that hardly go together; nothing is lowered for it
	WarnDraft      = "warning.draft"     // the exam is not finished
	WarnAgeUnknown = "warning.age-unknown"
	WarnNewer      = "warning.newer" // n: so many entries are of a newer version and were not understood; they count for nothing
	// "warning." and a [vitals.DateDoubt], with born: the date cannot be right. Compared as an animal of
	// unknown age, by the published ranges alone.
	WarnBeforeBirth = "warning.before-birth"
	WarnFarDate     = "warning.far-date"
	WarnSent        = "warning.sent"      // by: what is usual for the horse was sent, and was not worked out here
	WarnSentMore    = "warning.sent-more" // key: a name that was sent, and that this version does not know
	WarnAmong       = "warning.among"     // n, of: n signs were looked at, and of 100 quiet days so many have one as rare as the rarest of these
	// "advice." and the ID of a [vitals.Advice] on the exam as a whole, with its facts, source and
	// mark: [vitals.HeatOf] after work or where it is high, [vitals.Inversion].
	prefixAdvice  = "advice."
	prefixWarning = "warning."

	// Of an exam of the history.
	LessonUnwell       = "lesson.unwell"
	LessonNotLabelled  = "lesson.not-labelled" // not said whether the horse was well
	LessonAfterWork    = "lesson.after-work"
	LessonExcited      = "lesson.excited"
	LessonMedicated    = "lesson.medicated"
	LessonDraft        = "lesson.draft"
	LessonWithdrawn    = "lesson.withdrawn"
	LessonAlarm        = "lesson.alarm"         // labelled well, yet a "ring now" rule fired
	LessonAnotherStage = "lesson.another-stage" // the animal was much younger
	LessonMisdated     = "lesson.misdated"      // the date of the exam, or of the birth, cannot be right
	LessonDuplicate    = "lesson.duplicate"     // the same findings at the same time as another exam
	LessonLater        = "lesson.later-than-compared"
	LessonEmpty        = "lesson.empty" // no finding with a value
)

// Unchecked is a sign of the exam's depth without a value, and why.
type Unchecked struct {
	Sign   vitals.SignID  `json:"sign"`
	Site   vitals.SiteID  `json:"site,omitempty"`
	Reason vitals.Absence `json:"reason"`
}

// Overall is the statement on the exam as a whole.
type Overall struct {
	// Signs is how many signs were compared.
	Signs int `json:"signs"`
	// P is the probability, on a well day, that the rarest of the findings is as rare: Tippett's minimum, exact about graded answers, counted beside
	// the horse's own well exams.
	P float64 `json:"p"`
	// Unusual: P below Level, so that about 1 in 20 exams of well days is called so.
	Unusual bool    `json:"unusual"`
	Level   float64 `json:"level"`
	// Far is one number for how far the exam is from usual altogether, in standard
	// deviations of exams of well days: about 0 on such a day, and above 1.6 on at most one
	// in 20 if the signs move together no more than is assumed. It adds up what P, which
	// looks for the one finding that stands out, leaves apart; it is for putting exams in
	// order, not for a verdict.
	Far float64 `json:"far"`
}

// Lesson says whether an exam of the history taught what is usual, and if not, why.
type Lesson struct {
	Exam   vitals.ID `json:"exam"`
	Taught bool      `json:"taught"`
	// Reason is a key of the words: "lesson.unwell", "lesson.after-work", ...; empty if it taught.
	Reason string `json:"reason,omitempty"`
}

// Learned is one own reading that taught a measured sign.
type Learned struct {
	Exam vitals.ID `json:"exam"`
	At   time.Time `json:"at"`
	// Value in the sign's unit, as read, and SD its method's standard uncertainty.
	Value float64 `json:"value"`
	SD    float64 `json:"sd"`
	// Odd is how probable it is, by all the other readings, that the horse was not itself that
	// day, 0 to 1. Such a reading counts for that much less. 0 where no reading stands out.
	Odd float64 `json:"odd,omitempty"`
}

// Comparison is an exam beside the horse's own normal and the published thresholds.
type Comparison struct {
	Horse vitals.ID    `json:"horse"`
	Exam  vitals.ID    `json:"exam"`
	At    time.Time    `json:"at"`
	Stage vitals.Stage `json:"stage"`
	// Alarms are the published "ring your veterinarian" rules that fired.
	Alarms    []vitals.Fired `json:"alarms,omitempty"`
	Signs     []Compared     `json:"signs,omitempty"` // in the exam's order
	Unchecked []Unchecked    `json:"unchecked,omitempty"`
	Overall   Overall        `json:"overall"`
	Lessons   []Lesson       `json:"lessons,omitempty"`
	Warnings  []Warning      `json:"warnings,omitempty"`
}
