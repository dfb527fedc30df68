package vitals

import (
	"slices"
	"strconv"
	"strings"

	"whorl.example/vitals/words"
)

// FaultCode names one kind of fault. A code is never given another meaning.
type FaultCode string

// Fault is one thing wrong with what was entered or sent: a stable code, the place
// as a JSON Pointer (RFC 6901), and the facts that the sentence of each language
// needs. [Fault.Error] is the English sentence.
type Fault struct {
	Code FaultCode `json:"code"`
	Path string    `json:"path"`
	// Args are the facts of the sentence, in the order name, value, name, value.
	Args []string `json:"args,omitempty"`
	// Sentence is what a handler reads, in the language asked for.
	Sentence string `json:"sentence"`
}

// Error gives the place and the sentence.
func (f Fault) Error() string {
	if f.Path == "" {
		return f.Sentence
	}
	return f.Path + ": " + f.Sentence
}

// Is reports whether target is a Fault of the same code, so that
// errors.Is(err, vitals.Fault{Code: vitals.FaultTwoValues}) works.
func (f Fault) Is(target error) bool {
	t, ok := target.(Fault)
	return ok && t.Code == f.Code && (t.Path == "" || t.Path == f.Path)
}

// Faults are all the faults of one input at once. As an error it unwraps to each.
type Faults []Fault

// Error lists the faults, one a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives each fault to errors.Is and errors.As.
func (fs Faults) Unwrap() []error {
	errs := make([]error, len(fs))
	for i, f := range fs {
		errs[i] = f
	}
	return errs
}

// Err is nil when there is no fault, so that a caller never returns a non-nil empty list.
func (fs Faults) Err() error {
	if len(fs) == 0 {
		return nil
	}
	return fs
}

// At gives the faults with prefix put before every path.
func (fs Faults) At(prefix string) Faults {
	out := slices.Clone(fs)
	for i := range out {
		out[i].Path = prefix + out[i].Path
	}
	return out
}

// Codes of the faults of [CheckHorse] and [CheckExam]. Their sentences are in
// whorl.example/vitals/words under "fault.<code>"; the facts of a sentence are named here.
const (
	// Any part.
	FaultBadID         FaultCode = "bad-id"            // not 1 to 64 letters, digits, '-', '_' or '.'
	FaultMissingText   FaultCode = "missing-text"      // a text that must be there is blank
	FaultTooLong       FaultCode = "too-long"          // over most characters (most)
	FaultControl       FaultCode = "control-character" // a control character; newline and tab are fine in notes only
	FaultBadText       FaultCode = "bad-text"          // not UTF-8
	FaultMissingAnswer FaultCode = "missing-answer"    // a choice that must be made
	FaultUnknownAnswer FaultCode = "unknown-answer"    // not in the list of answers (name)

	// A horse.
	FaultBadDay     FaultCode = "impossible-day"   // no such day, or outside 1900 to 2199
	FaultYearOnly   FaultCode = "year-only"        // a year alone is not written as its first of January
	FaultInFoal     FaultCode = "in-foal-not-mare" // in foal, and not a mare
	FaultNotInFoal  FaultCode = "due-not-in-foal"  // a day of foaling, and not in foal
	FaultNoContact  FaultCode = "empty-contact"    // a contact without name and number
	FaultSaidBefore FaultCode = "said-before"      // a new usual said before it began

	// An exam.
	FaultOtherHorse FaultCode = "other-horse"     // the exam is of another horse (id)
	FaultBadMoment  FaultCode = "impossible-time" // no time, or outside 1900 to 2199
	FaultNotOfState FaultCode = "not-of-state"    // belongs to another condition (condition)
	FaultOutOfRange FaultCode = "out-of-range"    // not within low to high (low, high, unit)
	FaultOfItself   FaultCode = "of-itself"       // an exam that names itself as the earlier one
	FaultEndedLater FaultCode = "ended-later"     // work that ended after the exam

	// A finding.
	FaultUnknownSign  FaultCode = "unknown-sign"       // not in the catalogue (sign)
	FaultUnknownSite  FaultCode = "unknown-site"       // the sign is not taken there (site)
	FaultSiteMissing  FaultCode = "site-missing"       // each site has a usual of its own, and none is named
	FaultNoValue      FaultCode = "no-value"           // neither a value nor a reason for its absence
	FaultTwoValues    FaultCode = "two-values"         // more than one value, or a value and an absence
	FaultWrongKind    FaultCode = "wrong-kind"         // a way in which the sign cannot be entered
	FaultUnknownGrade FaultCode = "unknown-grade"      // not an answer of the sign (grade)
	FaultOneGrade     FaultCode = "one-grade"          // the sign has one answer at a time
	FaultExclusive    FaultCode = "exclusive-grade"    // an answer that excludes the others (grade)
	FaultGradeTwice   FaultCode = "grade-twice"        // the same answer twice (grade)
	FaultUnknownWhere FaultCode = "unknown-where"      // not a place of the sign, or named twice (site)
	FaultWhereAlone   FaultCode = "where-alone"        // a place without an answer
	FaultDuplicate    FaultCode = "duplicate-finding"  // the same sign, site and minute twice (first)
	FaultWrongUnit    FaultCode = "wrong-unit"         // not a unit of the sign (unit)
	FaultWrongDevice  FaultCode = "wrong-device"       // the sign is not read with it
	FaultBadNumber    FaultCode = "implausible-number" // more digits or places than any instrument shows
	FaultBeyondSpan   FaultCode = "beyond-span"        // beyond what the sign can be at all (low, high, unit)
	FaultFewTaps      FaultCode = "few-taps"           // under two taps
	FaultManyTaps     FaultCode = "many-taps"          // over most taps, or longer than minutes (most, minutes)
	FaultTapOrder     FaultCode = "tap-order"          // the first is not 0, or one does not come after the one before
	FaultNoTry        FaultCode = "no-try"             // a timed sign without a try
	FaultManyTries    FaultCode = "many-tries"         // over most tries (most)
)

// faultCodes lists every code of this file, for the tests of the words.
var faultCodes = []FaultCode{
	FaultBadID, FaultMissingText, FaultTooLong, FaultControl, FaultBadText, FaultMissingAnswer, FaultUnknownAnswer,
	FaultBadDay, FaultYearOnly, FaultInFoal, FaultNotInFoal, FaultNoContact, FaultSaidBefore,
	FaultOtherHorse, FaultBadMoment, FaultNotOfState, FaultOutOfRange, FaultOfItself, FaultEndedLater,
	FaultUnknownSign, FaultUnknownSite, FaultSiteMissing, FaultNoValue, FaultTwoValues, FaultWrongKind, FaultUnknownGrade,
	FaultOneGrade, FaultExclusive, FaultGradeTwice, FaultUnknownWhere, FaultWhereAlone, FaultDuplicate,
	FaultWrongUnit, FaultWrongDevice, FaultBadNumber, FaultBeyondSpan, FaultFewTaps, FaultManyTaps, FaultTapOrder,
	FaultNoTry, FaultManyTries,
}

func newFault(code FaultCode, path string, args ...string) Fault {
	return Fault{Code: code, Path: path, Args: args, Sentence: words.Say(words.English, "fault."+string(code), args...)}
}

// Bounds of what is kept without being understood, in one exam, one horse or one file.
const (
	MaxUnknown      = 1000    // entries
	MaxUnknownBytes = 1 << 20 // of all of them
)

// Raw is JSON as somebody else wrote it.
type Raw string

// Unknown is an entry of a newer minor format that this version does not understand. It is kept to the byte and written again,
// and nothing is concluded from it: it is the sender's.
type Unknown struct {
	// At is where it belongs, as a JSON Pointer from the object that keeps it; one that ends in "/-" is an item of that
	// list. A horse keeps exams of its own at "exams/-".
	At   string `json:"at"`
	JSON Raw    `json:"json"`
	// Minor is the minor format that it was read from.
	Minor int `json:"minor"`
}

// NotUnderstood is how many entries of the exam this version does not understand. It stands beside whatever is
// said of the exam.
func (e Exam) NotUnderstood() int {
	n := len(e.Unknown)
	for i := range e.Findings {
		n += len(e.Findings[i].Unknown)
	}
	return n
}

// CheckUnknown gives what is wrong with a list of entries that are not understood: only its bounds and its places.
func CheckUnknown(list []Unknown) Faults {
	var c check
	c.unknown("", list)
	return c.faults
}

func (c *check) unknown(path string, list []Unknown) {
	size := 0
	for i := range list {
		size += len(list[i].JSON)
		if at := list[i].At; len(at) < 2 || at[0] != '/' && at != "exams/-" {
			c.add(FaultBadText, path+"/unknown/"+strconv.Itoa(i)+"/at")
		}
	}
	if len(list) > MaxUnknown || size > MaxUnknownBytes {
		c.add(FaultTooLong, path+"/unknown", "most", strconv.Itoa(MaxUnknownBytes))
	}
}

// contrary are answers that hardly go together in one animal at one time; of a sign with both in hand, both are looked at again.
// Each pair is common practice, no source.
var contrary = [][2]*Test{
	{testOf("gut-sounds none everywhere"), testOf("droppings usual")},
	{testOf("attitude down-not-rising"), testOf("gait free")},
	{testOf("attitude down-not-rising"), testOf("limb-load even")},
	{testOf("attitude down-not-rising"), testOf("doing standing moving")},
	{testOf("attitude down-thrashing"), testOf("doing standing moving eating")},
	{testOf("gum-colour pink"), testOf("capillary-refill > 3 s")},
	{testOf("limb-load no-weight"), testOf("gait free")},
	{testOf("limb-load no-weight"), testOf("turn easy")},
	{testOf("gait will-not-walk"), testOf("doing moving")},
	{testOf("feed none"), testOf("doing eating")},
	{testOf("swallowing cannot"), testOf("feed usual")},
	{testOf("respiratory-effort struggling"), testOf("respiratory-rate < 12 /min")},
}

// Contrary gives pairs of signs whose answers hardly go together: one of them was seen or entered wrong, or the animal is worse
// than the milder says. Nothing is lowered for it.
func Contrary(h Horse, e Exam) [][2]SignID {
	var room [64]int8
	var v view
	v.look(h, &e, room[:0])
	var out [][2]SignID
	for _, p := range contrary {
		if v.passes(p[0], "") && v.passes(p[1], "") {
			out = append(out, [2]SignID{p[0].Sign, p[1].Sign})
		}
	}
	return out
}
