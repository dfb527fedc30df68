package vitals

import (
	"slices"
	"strings"
	"time"
	"unicode"

	"github.com/shopspring/decimal"

	"whorl.example/vitals/words"
)

// Condition is the state in which the horse was examined.
type Condition string

const (
	AtRest    Condition = "rest"
	AfterWork Condition = "after-work"
	Excited   Condition = "excited"
	Medicated Condition = "medicated" // sedated or medicated
)

// Conditions lists every condition.
func Conditions() []Condition { return slices.Clone(allConditions) }

var allConditions = []Condition{AtRest, AfterWork, Excited, Medicated}

// Effort is how hard the work was.
type Effort string

const (
	Easy     Effort = "easy"
	Moderate Effort = "moderate"
	Hard     Effort = "hard"
)

// Efforts lists every effort, lightest first.
func Efforts() []Effort { return slices.Clone(allEfforts) }

var allEfforts = []Effort{Easy, Moderate, Hard}

// State is the set of conditions with what belongs to each: a horse may have worked, be
// excited and have been given something, all at once.
type State struct {
	// Condition is the first of the set; AtRest stands alone.
	Condition Condition `json:"condition"`
	// Also are the others of the set, in the order of [Conditions]; never AtRest, none twice.
	Also []Condition `json:"also,omitempty"`
	// SinceMinutes is the time since the work ended, 0 to 1440 (after-work only).
	SinceMinutes int    `json:"sinceMinutes,omitempty"`
	Effort       Effort `json:"effort,omitempty"`
	// Ended is when the work ended, to the second, where somebody pressed a clock at it
	// (after-work only). It goes before SinceMinutes.
	Ended time.Time `json:"ended,omitzero"`
	// With is what was given and when, as told (medicated only).
	With string `json:"with,omitempty"`
}

// In reports whether a condition is one of the state's.
func (s State) In(c Condition) bool { return s.Condition == c || slices.Contains(s.Also, c) }

// Masked reports whether something given may hide pain or fever: the horse is sedated or medicated, with more than water on the legs, or the story
// names something that was given within [maskedHours], or at a time that nobody noted.
func (e *Exam) Masked() bool {
	return e.State.In(Medicated) && !harmless(wordsOf(e.State.With)) || e.Story != nil && slices.ContainsFunc(e.Story.Given, func(g Given) bool {
		return !g.nothing() && (g.At.IsZero() || e.At.Sub(g.At) < maskedHours*time.Hour)
	})
}

// Concerned reports whether somebody thinks that something is wrong: the exam was begun for that, or its story says so.
func (e *Exam) Concerned() bool {
	s := e.Story
	return e.Purpose == Concern || e.Wellness == Unwell ||
		s != nil && (!blank(s.Noticed) || s.Course == Worse || s.Ask == AskCome)
}

// Hot reports whether the day is hot, see [HotDay].
func (e *Exam) Hot() bool {
	v := view{exam: e}
	return v.weather(HotDay)
}

// none reports whether somebody wrote, in a language of the words, that nothing was given.
func (g Given) none() bool {
	what := wordsOf(g.What)
	text := strings.Join(what, " ")
	if text == "n a" { // written as n/a
		text = "na"
	}
	return g.Dose == "" && (len(what) == 0 || slices.ContainsFunc(words.Langs(), func(lang words.Lang) bool {
		return slices.Contains(strings.Split(words.Say(lang, "given.nothing"), "|"), text)
	}))
}

func wordsOf(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// nothing reports whether somebody wrote, in a language of the words, that nothing was given, or only what hides
// nothing: water to drink or on the legs, hay, a mash.
func (g Given) nothing() bool {
	what := wordsOf(g.What)
	if g.none() || len(what) == 0 {
		return g.none()
	}
	return harmless(append(what, wordsOf(g.Dose)...))
}

// harmless reports whether words name only what hides nothing, in one of the languages.
func harmless(all []string) bool {
	for _, lang := range words.Langs() {
		what, beside, _ := strings.Cut(words.Say(lang, "given.harmless"), ";")
		feeds, others := strings.Split(what, "|"), strings.Split(beside, "|")
		unknown := slices.ContainsFunc(all, func(w string) bool {
			return !slices.Contains(feeds, w) && !slices.Contains(others, w) && strings.Trim(w, "0123456789") != ""
		})
		if !unknown && slices.ContainsFunc(all, func(w string) bool { return slices.Contains(feeds, w) }) {
			return true
		}
	}
	return false
}

// Purpose is why the exam was done.
type Purpose string

const (
	Learning Purpose = "learning" // learning the normal, on a quiet day
	Routine  Purpose = "routine"
	Concern  Purpose = "concern" // something is wrong
	Recheck  Purpose = "recheck"
	Recovery Purpose = "recovery" // after work
)

// Purposes lists every purpose.
func Purposes() []Purpose { return slices.Clone(allPurposes) }

var allPurposes = []Purpose{Learning, Routine, Concern, Recheck, Recovery}

// Wellness is the handler's own label: was the horse well that day?
type Wellness string

const (
	Well    Wellness = "well"
	Unwell  Wellness = "unwell"
	NotSure Wellness = "not-sure"
)

// Wellnesses lists every label.
func Wellnesses() []Wellness { return slices.Clone(allWellnesses) }

var allWellnesses = []Wellness{Well, Unwell, NotSure}

// Status tells a draft from a finished exam.
type Status string

const (
	Draft    Status = "draft"
	Finished Status = "finished"
	// Withdrawn is an exam that a person took back: it was never of this horse, or should not have been kept. It teaches nothing.
	Withdrawn Status = "withdrawn"
)

// Statuses lists every status.
func Statuses() []Status { return slices.Clone(allStatuses) }

var allStatuses = []Status{Draft, Finished, Withdrawn}

// Holder says whether somebody holds the horse.
type Holder string

const (
	Held    Holder = "held"
	NotHeld Holder = "not-held"
)

// Holders lists both.
func Holders() []Holder { return slices.Clone(allHolders) }

var allHolders = []Holder{Held, NotHeld}

// Air is the weather at the exam.
type Air struct {
	Temperature *Reading `json:"temperature,omitempty"`
	Humidity    *Reading `json:"humidity,omitempty"` // relative, %
}

// Exam is one examination of one horse at one time.
type Exam struct {
	ID    ID `json:"id"`
	Horse ID `json:"horse"`
	// At is when the exam began, with the local zone's offset: the hour of the day matters.
	At       time.Time `json:"at"`
	Depth    Depth     `json:"depth"`
	Purpose  Purpose   `json:"purpose"`
	State    State     `json:"state"`
	Wellness Wellness  `json:"wellness,omitempty"`
	Status   Status    `json:"status"`
	By       string    `json:"by,omitempty"`
	Holder   Holder    `json:"holder,omitempty"`
	Air      *Air      `json:"air,omitempty"`
	Findings []Finding `json:"findings,omitempty"`
	Story    *Story    `json:"story,omitempty"`
	// Asked are questions that a clinic asks besides, in its own words.
	Asked []ClinicQuestion `json:"asked,omitempty"`
	// RecheckOf is the exam whose telling signs this one looks at again. It need not be at hand.
	RecheckOf ID `json:"recheckOf,omitempty"`
	// Trot says that the heart was counted after a trot in hand (after-work only).
	Trot *Trot `json:"trot,omitempty"`
	// Call is that "call your vet now" was said of this exam, and what became of it.
	Call *Call `json:"call,omitempty"`
	// Unknown is what a newer version wrote that this one does not understand.
	Unknown []Unknown `json:"unknown,omitempty"`
	// Corrected says that this is not the first version of the exam. What it was before goes beside it in a barn file, set aside.
	Corrected *Correction `json:"corrected,omitempty"`
}

// Correction is when a finished exam was last corrected or withdrawn, and by whom, as told.
type Correction struct {
	At time.Time `json:"at"`
	By string    `json:"by,omitempty"`
}

// TrotClock is the moment from which the count after a trot-out is timed.
type TrotClock string

const (
	FromTrotStart  TrotClock = "trot-start"
	FromFirstCount TrotClock = "first-count" // the moment of the count before the trot
	FromTrotEnd    TrotClock = "trot-end"
	FromUnknown    TrotClock = "unknown"
)

// TrotClocks lists every clock start.
func TrotClocks() []TrotClock { return slices.Clone(allTrotClocks) }

var allTrotClocks = []TrotClock{FromTrotStart, FromFirstCount, FromTrotEnd, FromUnknown}

// Trot is a trot in hand between two counts of the heart: the one of the exam Before, and
// the one of the exam that holds it. The way and the clock are kept, since published
// differences after a trot-out differ in both.
type Trot struct {
	// Before is the exam with the count before the trot.
	Before ID `json:"before"`
	// OutMetres is the way out, 1 to 500; the way back is as long.
	OutMetres decimal.Decimal `json:"outMetres"`
	Clock     TrotClock       `json:"clock"`
	// Seconds from the clock's start to the second count, 0 to 3600; 0 where nobody timed it.
	Seconds int `json:"seconds,omitempty"`
}

// Absence is why a finding has no value. "Not checked" is data, never normal.
type Absence string

const (
	NotTried  Absence = "not-tried"
	CouldNot  Absence = "could-not"
	Unsure    Absence = "unsure"
	ClosedOff Absence = "closed-off" // the horse was down or thrashing, or nobody held it
)

// Absences lists every reason.
func Absences() []Absence { return slices.Clone(allAbsences) }

var allAbsences = []Absence{NotTried, CouldNot, Unsure, ClosedOff}

// Finding is what was found of one sign at one site: exactly one of a value, in the form
// in which it was taken, and a reason for its absence.
type Finding struct {
	Sign SignID `json:"sign"`
	Site SiteID `json:"site,omitempty"`
	// Minutes after the exam's At, for a finding taken later; 0 to 1440.
	Minutes int `json:"minutes,omitempty"`

	Count   *Count    `json:"count,omitempty"`
	Taps    *Taps     `json:"taps,omitempty"`
	Reading *Reading  `json:"reading,omitempty"`
	Timed   *Timed    `json:"timed,omitempty"`
	Girth   *Girth    `json:"girth,omitempty"`
	Chosen  []GradeID `json:"chosen,omitempty"`
	Absent  Absence   `json:"absent,omitempty"`

	// Where on the body, for a chosen finding.
	Where []SiteID `json:"where,omitempty"`
	Note  string   `json:"note,omitempty"`
	// Unknown is what a newer version wrote that this one does not understand.
	Unknown []Unknown `json:"unknown,omitempty"`
}

// Start says where a count began.
type Start string

const (
	// OnBeat: the clock was started on an event that was not counted; the next is one.
	OnBeat Start = "on-beat"
	// Anywhere: the clock was started at any moment.
	Anywhere Start = "anywhere"
)

// Starts lists both.
func Starts() []Start { return slices.Clone(allStarts) }

var allStarts = []Start{OnBeat, Anywhere}

// Count is a number of events counted in a window.
type Count struct {
	Events int `json:"events"`
	// Seconds is the window's length, 5 to 300.
	Seconds int   `json:"seconds"`
	Start   Start `json:"start"`
}

// Taps are the moments at which events were tapped, in milliseconds from the first, rising.
type Taps struct {
	AtMS []int `json:"atMs"`
}

// Device is what a reading was made with.
type Device string

const (
	Digital    Device = "digital"    // drugstore digital thermometer
	Predictive Device = "predictive" // digital, shows a forecast after seconds
	Glass      Device = "glass"
	Infrared   Device = "infrared" // not accepted as a rectal temperature
	Scale      Device = "scale"    // a platform scale
	WeighTape  Device = "weigh-tape"
	Monitor    Device = "monitor" // a heart-rate monitor or other instrument
	Told       Device = "told"    // a number somebody gave; method unknown
)

// Devices lists every device.
func Devices() []Device { return slices.Clone(allDevices) }

var allDevices = []Device{Digital, Predictive, Glass, Infrared, Scale, WeighTape, Monitor, Told}

// Reading is a number as it was read, with its places and unit.
type Reading struct {
	Value  decimal.Decimal `json:"value"`
	Unit   Unit            `json:"unit"`
	Device Device          `json:"device,omitempty"`
	// Label tells one thermometer from another ("blue one, tack room").
	Label string `json:"label,omitempty"`
}

// Timed are tries of a timed sign, in hundredths of a second.
type Timed struct {
	CentiSeconds []int `json:"centiSeconds"`
	// Aloud: counted in the head or aloud ("one thousand one") instead of by press and release.
	Aloud bool `json:"aloud,omitempty"`
}

// Girth is a heart girth and a body length (point of shoulder to point of buttock), in one unit.
type Girth struct {
	Girth  decimal.Decimal `json:"girth"`
	Length decimal.Decimal `json:"length"`
	Unit   Unit            `json:"unit"` // cm or [in_i]
}

// Measure is a measured value, ready for comparison.
type Measure struct {
	// Value in Unit.
	Value float64 `json:"value"`
	// SD is the standard uncertainty of the method, in Unit.
	SD   float64 `json:"sd"`
	Unit Unit    `json:"unit"`
}

// Story is what the veterinarian will ask, in the handler's words.
type Story struct {
	// Noticed is what was first noticed, Since when.
	Noticed string    `json:"noticed,omitempty"`
	Since   time.Time `json:"since,omitzero"`
	Course  Course    `json:"course,omitempty"`
	// Bouts: true comes and goes, false continuous, nil not said.
	Bouts *bool `json:"bouts,omitempty"`
	// Passed is droppings and urine; Intake is feed and water.
	Passed  string  `json:"passed,omitempty"`
	Intake  string  `json:"intake,omitempty"`
	Given   []Given `json:"given,omitempty"`
	Changed string  `json:"changed,omitempty"` // feed, water, work, travel, company, worming, vaccination, shoeing
	History string  `json:"history,omitempty"` // earlier colic, surgery, laminitis, illness
	// Ask is what the handler asks for, Callback the number to ring.
	Ask      Ask    `json:"ask,omitempty"`
	Callback string `json:"callback,omitempty"`
	Stands   string `json:"stands,omitempty"`
}

// Course is how it has gone since it was noticed.
type Course string

const (
	Better Course = "better"
	Same   Course = "same"
	Worse  Course = "worse"
)

// Courses lists every course.
func Courses() []Course { return slices.Clone(allCourses) }

var allCourses = []Course{Better, Same, Worse}

// Given is something given before the call, as told. Whorl never recommends one.
type Given struct {
	What string    `json:"what"`
	Dose string    `json:"dose,omitempty"`
	At   time.Time `json:"at,omitzero"`
	By   string    `json:"by,omitempty"`
}

// Ask is what the handler asks of the veterinarian.
type Ask string

const (
	AskCome   Ask = "come"
	AskAdvise Ask = "advise"
	AskRing   Ask = "ring-back"
)

// Asks lists everything that can be asked.
func Asks() []Ask { return slices.Clone(allAsks) }

var allAsks = []Ask{AskCome, AskAdvise, AskRing}
