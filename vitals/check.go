package vitals

import (
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"whorl.example/vitals/words"
)

// Limits of what can be entered.
const (
	MaxID          = 64   // characters of an ID
	MaxName        = 100  // characters of a name, a number, a label: one line
	MaxNote        = 2000 // characters of a note
	MaxMinutes     = 1440 // minutes after work, or of a finding after the exam began
	MaxTrotMetres  = 500  // of the way out of a trot in hand
	MaxTrotSeconds = 3600 // from the clock's start to the count after a trot
	MinCountWindow = 5    // seconds
	MaxCountWindow = 300  // seconds
	MaxTaps        = 600  // two minutes at a racing 300
	MaxTapMinutes  = 10
	MaxTries       = 20 // of a timed sign
	MaxCallAlarms  = 64 // rules that a remembered call names
)

// CheckHorse gives everything that is wrong with a horse, up to 1000 faults.
func CheckHorse(h Horse) Faults {
	var c check
	c.id("/id", h.ID)
	c.line("/name", h.Name, true)
	oneOf(&c, "/type", h.Type, allTypes, true)
	oneOf(&c, "/sex", h.Sex, allSexes, false)
	switch {
	case !h.Born.IsZero() && !realDay(h.Born):
		c.add(FaultBadDay, "/born")
	case h.BornYearOnly && (h.Born.Month != time.January || h.Born.Day != 1):
		c.add(FaultYearOnly, "/bornYearOnly")
	}
	c.line("/breed", h.Breed, false)
	c.note("/markings", h.Markings)
	c.note("/notes", h.Notes)
	if h.InFoal && (h.Sex == Gelding || h.Sex == Stallion) {
		c.add(FaultInFoal, "/inFoal")
	}
	if !h.Due.IsZero() {
		if !realDay(h.Due) {
			c.add(FaultBadDay, "/due")
		}
		if !h.InFoal {
			c.add(FaultNotInFoal, "/due")
		}
	}
	c.line("/handling", h.Handling, false)
	oneOf(&c, "/insured", h.Insured, allReplies, false)
	oneOf(&c, "/referral", h.Referral, allReplies, false)
	if !h.BornAt.IsZero() && !realYear(h.BornAt) {
		c.add(FaultBadMoment, "/bornAt")
	}
	if !h.FoaledAt.IsZero() {
		if !realYear(h.FoaledAt) {
			c.add(FaultBadMoment, "/foaledAt")
		}
		if h.Sex == Gelding || h.Sex == Stallion {
			c.add(FaultInFoal, "/foaledAt")
		}
	}
	c.note("/stands", h.Stands)
	for i, who := range h.Contacts {
		at := "/contacts/" + strconv.Itoa(i)
		if blank(who.Name) && blank(who.Phone) {
			c.add(FaultNoContact, at)
		}
		c.line(at+"/name", who.Name, false)
		c.line(at+"/phone", who.Phone, false)
		c.line(at+"/role", who.Role, false)
	}
	c.newUsual(h)
	c.unknown("", h.Unknown)
	return c.faults
}

// CheckExam gives everything that is wrong with an exam of a horse: its form, and each finding
// against the catalogue. An exam in which things were not checked is in order, and so is one
// whose date cannot be right (see [Horse.DateDoubt]). At most 1000 faults are given.
func CheckExam(e Exam, horse Horse) Faults {
	var c check
	c.id("/id", e.ID)
	c.id("/horse", e.Horse)
	if e.Horse != horse.ID {
		c.add(FaultOtherHorse, "/horse", "id", string(e.Horse))
	}
	c.moment("/at", e.At)
	oneOf(&c, "/depth", e.Depth, allDepths, true)
	oneOf(&c, "/purpose", e.Purpose, allPurposes, true)
	oneOf(&c, "/wellness", e.Wellness, allWellnesses, false)
	oneOf(&c, "/status", e.Status, allStatuses, true)
	oneOf(&c, "/holder", e.Holder, allHolders, false)
	c.line("/by", e.By, false)
	c.state(e.State, e.At)
	if e.RecheckOf != "" {
		c.id("/recheckOf", e.RecheckOf)
		if e.RecheckOf == e.ID {
			c.add(FaultOfItself, "/recheckOf")
		}
	}
	if e.Trot != nil {
		c.trot(e)
	}
	if e.Air != nil {
		// Limits of the air (assumed): wider than any weather in which a horse is examined.
		c.air("/air/temperature", e.Air.Temperature, Celsius, -60, 60)
		c.air("/air/humidity", e.Air.Humidity, Percent, 0, 100)
	}
	if e.Call != nil {
		c.call(*e.Call)
	}
	if e.Corrected != nil {
		if e.Corrected.At.IsZero() || !realYear(e.Corrected.At) {
			c.add(FaultBadMoment, "/corrected/at")
		}
		c.line("/corrected/by", e.Corrected.By, false)
	}
	c.findings(e.Findings)
	c.unknown("", e.Unknown)
	if e.Story != nil {
		c.story(*e.Story)
	}
	c.asked(e.Asked)
	return c.faults
}

// findings checks each finding, and that no two are of the same sign, site and time.
func (c *check) findings(list []Finding) {
	// The few findings of an exam are looked through; a map is for lists that nobody enters.
	const few = 64
	var first map[findingKey]int
	if len(list) > few {
		first = make(map[findingKey]int, len(list))
	}
	for i := range list {
		f := &list[i]
		c.in = i + 1
		c.finding(f)
		j, seen := 0, false
		if first == nil {
			for j < i && !list[j].same(f) {
				j++
			}
			seen = j < i
		} else if j, seen = first[findingKey{f.Sign, f.Site, f.Minutes}]; !seen {
			first[findingKey{f.Sign, f.Site, f.Minutes}] = i
		}
		if seen {
			c.add(FaultDuplicate, "", "first", "/findings/"+strconv.Itoa(j))
		}
	}
	c.in = 0
}

func (f *Finding) same(o *Finding) bool {
	return f.Sign == o.Sign && f.Site == o.Site && f.Minutes == o.Minutes
}

type findingKey struct {
	sign    SignID
	site    SiteID
	minutes int
}

// check gathers faults, up to maxFaults.
type check struct {
	faults Faults
	sign   int // in the catalogue, of the finding before
	in     int // paths are within the finding of this number, counted from one; 0: of the whole
}

// maxFaults bounds what a list of nonsense can make of few bytes: nobody reads so many.
const maxFaults = 1000

func (c *check) add(code FaultCode, path string, args ...string) {
	if len(c.faults) == maxFaults {
		return
	}
	if c.in > 0 {
		path = "/findings/" + strconv.Itoa(c.in-1) + path
	}
	c.faults = append(c.faults, newFault(code, path, args...))
}

func (c *check) id(path string, id ID) {
	ok := len(id) >= 1 && len(id) <= MaxID
	for _, b := range []byte(id) {
		ok = ok && (b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' || b >= '0' && b <= '9' || b == '-' || b == '_' || b == '.')
	}
	if !ok {
		c.add(FaultBadID, path)
	}
}

// line checks a text of one line.
func (c *check) line(path, text string, needed bool) {
	if needed && blank(text) {
		c.add(FaultMissingText, path)
	}
	c.text(path, text, MaxName, "")
}

// note checks a text of any number of lines.
func (c *check) note(path, text string) { c.text(path, text, MaxNote, "\n\t") }

func (c *check) text(path, text string, most int, allowed string) {
	if text == "" {
		return
	}
	if !utf8.ValidString(text) {
		c.add(FaultBadText, path)
		return
	}
	if utf8.RuneCountInString(text) > most {
		c.add(FaultTooLong, path, "most", strconv.Itoa(most))
	}
	control := func(r rune) bool {
		// The control characters of Unicode: C0, DEL and C1.
		return (r < 0x20 || r >= 0x7f && r <= 0x9f) && !strings.ContainsRune(allowed, r)
	}
	if strings.ContainsFunc(text, control) {
		c.add(FaultControl, path)
	}
}

func blank(text string) bool { return strings.TrimSpace(text) == "" }

// oneOf checks an answer against its list.
func oneOf[T ~string](c *check, path string, x T, list []T, needed bool) {
	switch {
	case x == "" && needed:
		c.add(FaultMissingAnswer, path)
	case x != "" && !slices.Contains(list, x):
		c.add(FaultUnknownAnswer, path, "name", string(x))
	}
}

func realDay(d Date) bool {
	again, ok := ParseDate(d.String())
	return ok && again == d
}

func realYear(t time.Time) bool { return t.Year() >= 1900 && t.Year() <= 2199 }

// moment checks a moment that must be there.
func (c *check) moment(path string, t time.Time) {
	if t.IsZero() || !realYear(t) {
		c.add(FaultBadMoment, path)
	}
}

func (c *check) trot(e Exam) {
	c.id("/trot/before", e.Trot.Before)
	if e.Trot.Before == e.ID {
		c.add(FaultOfItself, "/trot/before")
	}
	if c.number("/trot/outMetres", e.Trot.OutMetres) {
		if x := nearest(e.Trot.OutMetres); x < 1 || x > MaxTrotMetres {
			c.add(FaultOutOfRange, "/trot/outMetres", "low", "1", "high", strconv.Itoa(MaxTrotMetres), "unit", "m")
		}
	}
	oneOf(c, "/trot/clock", e.Trot.Clock, allTrotClocks, true)
	c.within("/trot/seconds", e.Trot.Seconds, 0, MaxTrotSeconds, "s")
	if !e.State.In(AfterWork) {
		c.add(FaultNotOfState, "/trot", "condition", string(AfterWork))
	}
}

func (c *check) state(s State, at time.Time) {
	oneOf(c, "/state/condition", s.Condition, allConditions, true)
	for i, x := range s.Also {
		// In the order of the list, none twice, and rest is never one of several.
		before := s.Condition
		if i > 0 {
			before = s.Also[i-1]
		}
		oneOf(c, "/state/also/"+strconv.Itoa(i), x, allConditions, true)
		if slices.Index(allConditions, x) <= slices.Index(allConditions, before) || s.Condition == AtRest {
			c.add(FaultNotOfState, "/state/also/"+strconv.Itoa(i), "condition", string(x))
		}
	}
	oneOf(c, "/state/effort", s.Effort, allEfforts, false)
	c.within("/state/sinceMinutes", s.SinceMinutes, 0, MaxMinutes, "min")
	c.note("/state/with", s.With)
	if !s.In(AfterWork) {
		if s.SinceMinutes != 0 {
			c.add(FaultNotOfState, "/state/sinceMinutes", "condition", string(AfterWork))
		}
		if s.Effort != "" {
			c.add(FaultNotOfState, "/state/effort", "condition", string(AfterWork))
		}
		if !s.Ended.IsZero() {
			c.add(FaultNotOfState, "/state/ended", "condition", string(AfterWork))
		}
	}
	switch {
	case s.Ended.IsZero():
	case !realYear(s.Ended):
		c.add(FaultBadMoment, "/state/ended")
	case s.Ended.After(at):
		c.add(FaultEndedLater, "/state/ended")
	}
	if !s.In(Medicated) && s.With != "" {
		c.add(FaultNotOfState, "/state/with", "condition", string(Medicated))
	}
}

func (c *check) within(path string, n, low, high int, unit string) {
	if n < low || n > high {
		c.add(FaultOutOfRange, path, "low", strconv.Itoa(low), "high", strconv.Itoa(high), "unit", unit)
	}
}

func (c *check) air(path string, r *Reading, unit Unit, low, high int64) {
	if r == nil || !c.number(path+"/value", r.Value) || !c.unit(path+"/unit", r.Unit, unit) {
		return
	}
	l, h := inUnit(decimal.New(low, 0), unit, r.Unit), inUnit(decimal.New(high, 0), unit, r.Unit)
	if x := nearest(r.Value); x < l || x > h {
		c.add(FaultOutOfRange, path+"/value", "low", short(l), "high", short(h), "unit", symbol(r.Unit))
	}
	c.line(path+"/label", r.Label, false)
	oneOf(c, path+"/device", r.Device, allDevices, false)
}

func (c *check) call(k Call) {
	moment := func(path string, t time.Time, needed bool) {
		if t.IsZero() && needed || !t.IsZero() && !realYear(t) {
			c.add(FaultBadMoment, path)
		}
	}
	moment("/call/saidAt", k.SaidAt, true)
	moment("/call/toldAt", k.ToldAt, false)
	moment("/call/closedAt", k.ClosedAt, false)
	if len(k.Alarms) > MaxCallAlarms {
		c.add(FaultOutOfRange, "/call/alarms", "low", "0", "high", strconv.Itoa(MaxCallAlarms), "unit", "")
	}
	for i, id := range k.Alarms {
		// A clinic's rule, or one of a later version, is not in the list here: only its form is checked.
		c.id("/call/alarms/"+strconv.Itoa(i), ID(id))
	}
	c.line("/call/told", k.Told, false)
	c.note("/call/outcome", k.Outcome)
}

func (c *check) story(s Story) {
	oneOf(c, "/story/course", s.Course, allCourses, false)
	oneOf(c, "/story/ask", s.Ask, allAsks, false)
	if !s.Since.IsZero() && !realYear(s.Since) {
		c.add(FaultBadMoment, "/story/since")
	}
	for _, t := range []struct{ path, text string }{
		{"/story/noticed", s.Noticed}, {"/story/passed", s.Passed}, {"/story/intake", s.Intake},
		{"/story/changed", s.Changed}, {"/story/history", s.History}, {"/story/stands", s.Stands},
	} {
		c.note(t.path, t.text)
	}
	c.line("/story/callback", s.Callback, false)
	for i, g := range s.Given {
		at := "/story/given/" + strconv.Itoa(i)
		c.line(at+"/what", g.What, true)
		c.line(at+"/dose", g.Dose, false)
		c.line(at+"/by", g.By, false)
		if !g.At.IsZero() && !realYear(g.At) {
			c.add(FaultBadMoment, at+"/at")
		}
	}
}

// short writes a limit with one decimal at most.
func short(x float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(x, 'f', 1, 64), ".0")
}

// symbol is how a unit is written beside a number.
func symbol(u Unit) string { return words.Say(words.English, "unit."+string(u)) }
