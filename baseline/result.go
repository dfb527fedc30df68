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
	// Noted: recorded, and not compared, because nothing says what is usual.
	Noted Statement = "noted"
)

// Unusual reports whether the statement is one that belongs at the top of a report.
func (s Statement) Unusual() bool { return s == Higher || s == Lower || s == Differs }

// Basis is what a comparison rests on.
type Basis struct {
	// Exams is how many of the horse's own exams taught this sign.
	Exams int `json:"exams"`
	// Prior says where the assumptions before the first exam come from.
	Prior []vitals.Provenance `json:"prior,omitempty"`
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
	// Advice is a key of the words: "settle.count-60", "settle.tries-3", "settle.thermometer".
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
	// Seen is how many of the horse's own Basis.Exams showed the same answer or one as far from usual.
	Seen int `json:"seen,omitempty"`

	Statement Statement `json:"statement"`
	// Tail is the probability of a reading as far out on the same side, or farther, on a
	// well day; P is the two-sided one. Both 0 for Noted.
	Tail float64 `json:"tail"`
	P    float64 `json:"p"`
	// Strong: it stands out even after allowing for the number of signs looked at.
	Strong bool    `json:"strong,omitempty"`
	Basis  Basis   `json:"basis"`
	Settle *Settle `json:"settle,omitempty"`
	// Warnings are keys of the words with their facts: "warning.device-changed", ...
	Warnings []Warning `json:"warnings,omitempty"`
}

// Warning is an answer's "but": a key of the words and the facts of its sentence.
type Warning struct {
	Key  string   `json:"key"`
	Args []string `json:"args,omitempty"`
}

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
	// P is the combined probability (Cauchy combination) of an exam as far from usual, on a well day.
	P float64 `json:"p"`
	// Unusual: P below Level, so that about 1 in 20 exams of well days is called so.
	Unusual bool    `json:"unusual"`
	Level   float64 `json:"level"`
}

// Lesson says whether an exam of the history taught what is usual, and if not, why.
type Lesson struct {
	Exam   vitals.ID `json:"exam"`
	Taught bool      `json:"taught"`
	// Reason is a key of the words: "lesson.unwell", "lesson.after-work", ...; empty if it taught.
	Reason string `json:"reason,omitempty"`
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
