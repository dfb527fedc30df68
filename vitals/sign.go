package vitals

import (
	"github.com/shopspring/decimal"
	"slices"
)

// SignID names a sign of the [Catalogue].
type SignID string

// SiteID names a place on the body: where a sign was taken or seen.
type SiteID string

// GradeID names one answer of a graded sign.
type GradeID string

// Kind says what the answer to a sign is, and so how it is compared.
type Kind string

const (
	// KindRate is events a minute: counted, tapped, or read.
	KindRate Kind = "rate"
	// KindTimed is a duration in seconds, compared on the log scale.
	KindTimed Kind = "timed"
	// KindTemperature is a thermometer's reading.
	KindTemperature Kind = "temperature"
	// KindWeight is a body mass, from girth and length or from a scale.
	KindWeight Kind = "weight"
	// KindScore is a number on a published scale (body condition).
	KindScore Kind = "score"
	// KindGrade is one answer from ordered grades.
	KindGrade Kind = "grade"
	// KindChoice is one or more answers from a list.
	KindChoice Kind = "choice"
)

// Measured reports whether the answer is a number.
func (k Kind) Measured() bool { return k != KindGrade && k != KindChoice }

// Depth is how deep an exam goes; each depth contains the ones before it.
type Depth string

const (
	WalkUp  Depth = "walk-up"  // from outside the stall or fence
	HandsOn Depth = "hands-on" // no equipment
	Full    Depth = "full"     // stethoscope, thermometer, watch
)

// Depths lists the depths, shallowest first.
func Depths() []Depth { return slices.Clone(allDepths) }

var allDepths = []Depth{WalkUp, HandsOn, Full}

// Within reports whether a step of depth d belongs to an exam of depth e.
func (d Depth) Within(e Depth) bool { return d.rank() <= e.rank() }

func (d Depth) rank() int {
	for i, x := range allDepths {
		if x == d {
			return i
		}
	}
	return len(allDepths)
}

// Need is something that a step is done with. Without a helper the step is left out (see
// [Steps]); a missing instrument leaves the sign unchecked, or read in another way.
type Need string

const (
	NeedHelper      Need = "helper" // somebody holds the horse
	NeedStethoscope Need = "stethoscope"
	NeedThermometer Need = "thermometer"
	NeedTape        Need = "tape"
)

// Method is a way in which a sign can be entered.
type Method string

const (
	ByCount   Method = "count"   // events in a window
	ByTaps    Method = "taps"    // a tap an event
	ByReading Method = "reading" // a number read or told, with its unit
	ByTimer   Method = "timer"   // start and stop
	ByGirth   Method = "girth"   // girth and length
	ByChoice  Method = "chosen"  // an answer of the list
)

// Site is a place at which a sign is taken.
type Site struct {
	ID SiteID `json:"id"`
	// Depth is the depth of exam that takes the sign here.
	Depth Depth `json:"depth"`
	// Weak marks a site whose readings are known to be unreliable, with the reason.
	Weak *Provenance `json:"weak,omitempty"`
	// Needs is what this site takes beyond the needs of the sign.
	Needs []Need `json:"needs,omitempty"`
}

// Grade is one answer of a graded or chosen sign.
type Grade struct {
	ID GradeID `json:"id"`
	// Rank is the distance from what a healthy horse shows: 0 is the usual answer.
	// Answers on both sides of the usual one may share a rank.
	Rank int `json:"rank"`
	// Alone: choosing it excludes every other answer (the usual one, mostly).
	Alone bool `json:"alone,omitempty"`
	// Closes: the hands-on steps are closed and the exam goes straight to the call.
	Closes bool `json:"closes,omitempty"`
}

// Span is what an entry can be at all, in the sign's unit, ends included; an entry
// beyond it is a slip of the finger, not a finding.
type Span struct {
	Low  decimal.Decimal `json:"low"`
	High decimal.Decimal `json:"high"`
	Provenance
}

// Range is a published normal range. Low or High is zero where the source gives one side only.
// Where sources disagree each keeps its row.
type Range struct {
	Group
	Low  decimal.NullDecimal `json:"low,omitzero"`
	High decimal.NullDecimal `json:"high,omitzero"`
	// Unit is the unit of the source's figures; the sign's own when empty.
	Unit Unit `json:"unit,omitempty"`
	Provenance
}

// Direction is the side on which a sign is bad news.
type Direction string

const (
	Either Direction = "either"
	Upward Direction = "up"
)

// Sign is one entry of the catalogue: everything that form, schema, report, comparison
// and documentation need to know of a sign. Its words are in whorl.example/vitals/words
// under its ID.
type Sign struct {
	ID    SignID `json:"id"`
	Kind  Kind   `json:"kind"`
	Depth Depth  `json:"depth"` // the shallowest depth that takes it
	// Unit is the unit in which the sign is compared and its Span is given.
	Unit Unit `json:"unit,omitempty"`
	// Places is how many decimals are shown.
	Places int `json:"places,omitempty"`
	// Sites are where it can be taken. With PerSite each site has a normal of its own
	// (four feet); without, a site only says where one normal was measured.
	Sites   []Site `json:"sites,omitempty"`
	PerSite bool   `json:"perSite,omitempty"`
	// AnySite: one site of a PerSite sign is enough; otherwise all of a depth are asked.
	AnySite bool `json:"anySite,omitempty"`
	// Places on the body that a finding may name besides ("where"), for graded signs.
	Where []SiteID `json:"where,omitempty"`
	// Again: asked anew at a deeper depth (breathing from afar, then at the flank);
	// otherwise a deeper exam takes the deepest site only.
	Again    bool        `json:"again,omitempty"`
	Methods  []Method    `json:"methods"`
	Grades   []Grade     `json:"grades,omitempty"`
	Span     *Span       `json:"span,omitempty"`
	Ranges   []Range     `json:"ranges,omitempty"`
	Bad      Direction   `json:"bad,omitempty"`
	Needs    []Need      `json:"needs,omitempty"`
	Cautions []CautionID `json:"cautions,omitempty"`
	// Remarks are published facts that stand beside the sign (its weakness, mostly).
	Remarks []Remark `json:"remarks,omitempty"`
	LOINC   string   `json:"loinc,omitempty"`
	// Telling: repeated while waiting for the veterinarian.
	Telling bool `json:"telling,omitempty"`
	// Section groups signs of one look (see SectionID).
	Section SectionID `json:"section"`
	// Applies says for which animals and states the sign is asked; nil: for every one.
	Applies *Applies `json:"applies,omitempty"`
	// Context: what is told of the days before, beside the animal itself. It is never compared.
	Context bool `json:"context,omitempty"`
}

// Applies is when a sign is asked. Every condition that is set must hold.
type Applies struct {
	// Stages of life; none: every one.
	Stages []Stage `json:"stages,omitempty"`
	// Broodmare: a mare in foal, or that foaled within the last [BroodDays] days.
	Broodmare bool `json:"broodmare,omitempty"`
	// AfterWork: only after work.
	AfterWork bool `json:"afterWork,omitempty"`
}

// BroodDays is for how long after foaling the signs of a mare that foaled are asked (assumed:
// a retained afterbirth and what follows it show within ten days; a month leaves room).
const BroodDays = 30

// For reports whether the sign is asked of a horse in an exam.
func (s Sign) For(h Horse, e Exam) bool { return s.Applies == nil || s.Applies.hold(h, e) }

func (a *Applies) hold(h Horse, e Exam) bool {
	stage, _ := h.StageAt(e.At)
	return in(a.Stages, stage) && (!a.Broodmare || h.broodmare(e.At)) && (!a.AfterWork || e.State.In(AfterWork))
}

// SectionID groups signs of one look, in the form and in "all else as usual".
type SectionID string

// CautionID names a caution; its words are under "caution.<id>".
type CautionID string

// Caution is a warning that stands at the step, with its source.
type Caution struct {
	ID    CautionID `json:"id"`
	Group           // for which animals; empty: all
	Provenance
}

// RemarkID names a remark; its words are under "remark.<id>".
type RemarkID string

// Remark is a published fact that stands beside a sign.
type Remark struct {
	ID    RemarkID `json:"id"`
	Group          // for which animals; empty: all
	Provenance
}
