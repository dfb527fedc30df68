package vitals

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"
)

// Call remembers that a reason to call now was shown, until a person says what became of it.
type Call struct {
	// SaidAt is when it was first shown.
	SaidAt time.Time `json:"saidAt"`
	// Alarms are the rules that gave it, as far as they have been shown.
	Alarms []AlarmID `json:"alarms,omitempty"`
	// ToldAt is when a person said that the veterinarian was told, and Told is who it was.
	ToldAt time.Time `json:"toldAt,omitzero"`
	Told   string    `json:"told,omitempty"`
	// ClosedAt is when a person said what became of it, and Outcome says that.
	ClosedAt time.Time `json:"closedAt,omitzero"`
	Outcome  string    `json:"outcome,omitempty"`
}

// MergeCall puts together what two devices remember of one call: the earliest moment at which it was
// said, every rule that gave it, in order and each once, and the earliest telling and the earliest end with
// what belongs to each. nil is no call. The order of merging changes nothing; neither a nor b is changed.
func MergeCall(a, b *Call) *Call {
	switch {
	case a == nil && b == nil:
		return nil
	case a == nil:
		a = b
	case b == nil:
		b = a
	}
	out := *a
	if earlier(b.SaidAt, "", a.SaidAt, "") {
		out.SaidAt = b.SaidAt
	}
	if earlier(b.ToldAt, b.Told, a.ToldAt, a.Told) {
		out.ToldAt, out.Told = b.ToldAt, b.Told
	}
	if earlier(b.ClosedAt, b.Outcome, a.ClosedAt, a.Outcome) {
		out.ClosedAt, out.Outcome = b.ClosedAt, b.Outcome
	}
	out.Alarms = nil
	for _, list := range [][]AlarmID{a.Alarms, b.Alarms} {
		for _, id := range list {
			if i, known := slices.BinarySearch(out.Alarms, id); !known {
				out.Alarms = slices.Insert(out.Alarms, i, id)
			}
		}
	}
	// The first of the list are the same whatever was merged first.
	out.Alarms = out.Alarms[:min(len(out.Alarms), MaxCallAlarms)]
	return &out
}

// earlier reports whether the first of two moments counts: the earlier one, and one that is told
// before one that is not. Of the same moment the text decides, then the offset of the clock.
func earlier(a time.Time, textA string, b time.Time, textB string) bool {
	if a.IsZero() || b.IsZero() {
		return !a.IsZero() || b.IsZero() && textA < textB
	}
	_, offsetA := a.Zone()
	_, offsetB := b.Zone()
	return cmp.Or(a.Compare(b), strings.Compare(textA, textB), cmp.Compare(offsetA, offsetB)) < 0
}

// heldHours is for how long a rule to call now holds at a sign that was not looked at again.
const heldHours = 12

// Carrying gives a recheck with what was told at the first look and the rechecks since: what was noticed and when it began,
// the number to call back, the place, what changed, earlier illness, and everything that was given. What the recheck says itself
// goes before. An exam that is no recheck comes back as it is.
func (e Exam) Carrying(earlier []Exam) Exam {
	if e.RecheckOf == "" {
		return e
	}
	var run []Exam
	for _, o := range earlier {
		if o.Story != nil && o.sameCase(e) {
			// Newest first; they are few.
			at := 0
			for at < len(run) && !o.At.After(run[at].At) {
				at++
			}
			run = append(run[:at:at], append([]Exam{o}, run[at:]...)...)
		}
	}
	if len(run) == 0 {
		return e
	}
	var s Story
	if e.Story != nil {
		s = *e.Story
	}
	fill := func(to *string, from string) {
		if blank(*to) {
			*to = from
		}
	}
	given := slices.Clone(s.Given)
	for _, o := range run {
		t := o.Story
		if blank(s.Noticed) && s.Since.IsZero() {
			s.Noticed, s.Since = t.Noticed, t.Since
		}
		fill(&s.Callback, t.Callback)
		fill(&s.Stands, t.Stands)
		fill(&s.Changed, t.Changed)
		fill(&s.History, t.History)
		for i := len(t.Given) - 1; i >= 0; i-- {
			if g := t.Given[i]; !slices.ContainsFunc(given, func(o Given) bool { return o == g || o.At.Equal(g.At) && o.What == g.What && o.Dose == g.Dose }) {
				given = slices.Insert(given, 0, g)
			}
		}
	}
	// "Nothing" goes where something was given at another look.
	if some := slices.DeleteFunc(slices.Clone(given), Given.none); len(some) > 0 {
		given = some
	}
	s.Given = given
	e.Story = &s
	return e
}

// sameCase reports whether o is an earlier look of the case of which e is a recheck.
func (o Exam) sameCase(e Exam) bool {
	return e.RecheckOf != "" && o.Horse == e.Horse && o.ID != e.ID && (o.ID == e.RecheckOf || o.RecheckOf == e.RecheckOf) && o.At.Before(e.At)
}

// HeldAlarms gives the rules to call now that fired at the earlier looks of a recheck's case, up to twelve hours before, at signs or
// places of a sign that nobody looked at since: what was not looked at again is not gone. Of each sign it is the gravest rule, with the last time it was seen.
func HeldAlarms(h Horse, e Exam, earlier []Exam) []Fired {
	if e.RecheckOf == "" {
		return nil
	}
	var run []*Exam
	for i := range earlier {
		if o := &earlier[i]; o.Status != Withdrawn && o.sameCase(e) && e.At.Sub(o.At) <= heldHours*time.Hour {
			run = append(run, o)
		}
	}
	// Newest first, so that a sign is judged by the last look at it.
	slices.SortStableFunc(run, func(a, b *Exam) int { return b.At.Compare(a.At) })
	var seen []Finding // since the look in hand
	looked := func(sign SignID, site SiteID) bool {
		return slices.ContainsFunc(seen, func(f Finding) bool {
			return f.Sign == sign && f.Absent == "" && (site == "" || f.Site == "" || f.Site == site)
		})
	}
	// Of a sign taken at several places, one that nobody looked at again is enough.
	again := func(f Fired) bool {
		return looked(f.Sign, "") && !slices.ContainsFunc(f.Sites, func(site SiteID) bool { return !looked(f.Sign, site) })
	}
	seen = append(seen, e.Findings...)
	var held []Fired
	for _, o := range run {
		for _, f := range WorstFirst(FiredAlarms(h, *o), o.Found) {
			if f.Urgency == RingNow && !again(f) && !slices.ContainsFunc(held, func(h Fired) bool { return h.Sign == f.Sign }) {
				f.Seen = o.At
				held = append(held, f)
			}
		}
		seen = append(seen, o.Findings...)
	}
	return held
}

// AnswerKind is how a question is answered.
type AnswerKind string

const (
	YesNo  AnswerKind = "yes-no" // "yes" or "no"
	Number AnswerKind = "number" // as it was written: "12", "0.5"
)

// AnswerKinds lists every kind; a question without one is answered in words.
func AnswerKinds() []AnswerKind { return slices.Clone(allAnswerKinds) }

var allAnswerKinds = []AnswerKind{YesNo, Number}

// Reply is the answer to a question of [YesNo]; none is not known.
type Reply string

const (
	Yes Reply = "yes"
	No  Reply = "no"
)

var allReplies = []Reply{Yes, No}

// ClinicQuestion is a question that a clinic asks in its own words, and what the handler answered. No rule goes by it.
type ClinicQuestion struct {
	// By is the clinic that asks.
	By   string `json:"by"`
	Text string `json:"text"`
	// ID is that of the question in the clinic's file, the same in every language.
	ID   ID         `json:"id,omitempty"`
	Kind AnswerKind `json:"kind,omitempty"`
	// Answer is empty where nobody answered.
	Answer string `json:"answer,omitempty"`
}

// Limits of the questions of a clinic.
const (
	MaxAsked    = 40  // questions of an exam
	MaxQuestion = 200 // characters of one
)

func (c *check) asked(list []ClinicQuestion) {
	if len(list) > MaxAsked {
		c.add(FaultOutOfRange, "/asked", "low", "0", "high", strconv.Itoa(MaxAsked), "unit", "")
		return
	}
	for i, a := range list {
		at := "/asked/" + strconv.Itoa(i)
		c.line(at+"/by", a.By, true)
		if blank(a.Text) {
			c.add(FaultMissingText, at+"/text")
		}
		c.text(at+"/text", a.Text, MaxQuestion, "")
		oneOf(c, at+"/kind", a.Kind, allAnswerKinds, false)
		if a.ID != "" {
			c.id(at+"/id", a.ID)
		}
		switch {
		case a.Answer == "":
		case a.Kind == YesNo:
			oneOf(c, at+"/answer", Reply(a.Answer), allReplies, true)
		case a.Kind == Number:
			if x, err := decimal.NewFromString(a.Answer); err != nil || !plausible(x) {
				c.add(FaultBadNumber, at+"/answer")
			}
		default:
			c.note(at+"/answer", a.Answer)
		}
	}
}

// AlarmRising: over the looks of one case a heart, a breath or a temperature went up at every look, each inside its limits. Its
// words are under "alarm." and the name.
const AlarmRising AlarmID = "rising"

const (
	risingLooks  = 3  // looks, this one among them
	risingHeart  = 20 // per cent up since the first
	risingBreath = 40
	risingWarmth = .6 // °C up since the first
)

var risingSays = Provenance{Mark: CommonPractice, Note: "that what creeps up is told; how much of it is ours"}

// RisingAlarms gives [AlarmRising] for a recheck and the earlier looks of its case up to twelve hours before, at rest all of them.
func RisingAlarms(e Exam, earlier []Exam) []Fired {
	if e.RecheckOf == "" || !calmly(&e) {
		return nil
	}
	run := []*Exam{&e}
	for i := range earlier {
		if o := &earlier[i]; o.Status != Withdrawn && o.sameCase(e) && calmly(o) && e.At.Sub(o.At) <= heldHours*time.Hour {
			run = append(run, o)
		}
	}
	slices.SortStableFunc(run, func(a, b *Exam) int { return a.At.Compare(b.At) })
	var out []Fired
	for _, r := range []struct {
		sign    SignID
		problem Problem
	}{{HeartRate, ProblemHeart}, {RespiratoryRate, ProblemBreath}, {RectalTemperature, ProblemFever}} {
		if rises(run, r.sign) {
			out = append(out, Fired{Alarm: AlarmRising, Urgency: RingSoon, Sign: r.sign, Problem: r.problem, Provenance: risingSays})
		}
	}
	return out
}

func calmly(e *Exam) bool { return !e.State.In(AfterWork) && !e.State.In(Excited) }

// rises reports whether a sign went up at each of the looks that took it, this one among them, and far enough in all.
func rises(run []*Exam, sign SignID) bool {
	var values []float64
	for _, e := range run {
		if v := e.Found(sign).Value; v > 0 {
			values = append(values, v)
		} else if e == run[len(run)-1] {
			return false
		}
	}
	n := len(values)
	if n < risingLooks {
		return false
	}
	for i := 1; i < n; i++ {
		if values[i] <= values[i-1] {
			return false
		}
	}
	const within = 1e-9
	first, last := values[0], values[n-1]
	switch sign {
	case HeartRate:
		return 100*last >= (100+risingHeart)*first-within
	case RespiratoryRate:
		return 100*last >= (100+risingBreath)*first-within
	}
	return last-first >= risingWarmth-within
}
