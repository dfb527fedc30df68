package report

import (
	"slices"
	"strings"
	"time"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Call gives the call report of an exam. Its first three parts can be read aloud in 20
// seconds, unless there are very many problems at once, and everything before [PartWords] in 2 minutes, whatever was
// entered: signs that are too many are counted, and [PartBasis] has all of them in full. What
// somebody told in words is told whole, there or in [PartWords], never in part; only names are
// cut with "…". What was not entered is a blank line to be asked.
func Call(in Input, lang words.Lang) Report {
	c := caller{telling: about(in.Horse, lang), in: in}
	c.index()
	name, _ := clip(bare(in.Horse.Name), nameWords) // whole in the basis
	if name == "" {
		name = c.say("report.unnamed")
	}
	title := c.say("report.title", "name", name)
	if !in.Exam.At.IsZero() {
		title += ", " + c.day(in.Exam.At) + ", " + c.when(in.Exam.At, in.Exam.At)
	}
	var parts []Part
	for _, l := range levels {
		var whole bool
		if parts, whole = c.parts(l); whole {
			break
		}
	}
	parts = append(parts, c.part(PartWords, c.words), c.part(PartBasis, c.basis()))
	out := Report{Lang: lang, Title: title}
	for _, act := range acts(in.Comparison) {
		out.First = append(out.First, c.act(act, in.Comparison))
	}
	for _, p := range parts {
		if len(p.Lines) > 0 {
			out.Parts = append(out.Parts, p)
		}
	}
	return out
}

// caller puts one report together.
type caller struct {
	telling
	in    Input
	found map[place]*vitals.Finding
	full  []Line // text that was cut, for the basis
	words []Line // the teller's own words that are too long for where they belong
	moved []fact // what the first lines had no room for
}

type fact struct{ label, text string }

type place struct {
	sign vitals.SignID
	site vitals.SiteID
}

func (c *caller) index() {
	c.found = map[place]*vitals.Finding{}
	for i := range c.in.Exam.Findings {
		f := &c.in.Exam.Findings[i]
		at := place{f.Sign, f.Site}
		if _, twice := c.found[at]; !twice {
			c.found[at] = f
		}
	}
}

// finding gives the finding that a comparison is of; a sign with one normal for all its
// sites may be compared without its site.
func (c *caller) finding(s baseline.Compared) *vitals.Finding {
	if f := c.found[place{s.Sign, s.Site}]; f != nil || s.Site != "" {
		return f
	}
	for i := range c.in.Exam.Findings {
		if f := &c.in.Exam.Findings[i]; f.Sign == s.Sign && f.Absent == "" {
			return f
		}
	}
	return nil
}

// level says how many words each text and each list may have, and how many are enough
// for what is not as usual, if it cannot be told in full in what the others leave.
type level struct{ text, list, enough int }

// levels, roomiest first: our own lists give way before what somebody told in words.
var levels = []level{{60, 80, allWords}, {60, 50, allWords}, {60, 34, allWords}, {60, 24, 150}, {50, 18, 120}, {40, 12, 80},
	{30, 12, 80}, {20, 12, 80}, {12, 8, 60}, {5, 6, 0}}

// total counts the words of parts as they are spoken. What is still to be asked is not said.
func total(parts []Part) int {
	n := 0
	for _, p := range parts {
		for _, l := range p.Lines {
			if !l.Blank {
				n += aloud(l.Text)
			}
		}
	}
	return n
}

func (c *caller) part(id PartID, lines []Line) Part {
	return Part{ID: id, Heading: c.say("report." + string(id)), Lines: lines}
}

// parts gives every part that is read aloud. What is not as usual gets all that the other
// parts leave of two minutes; whole says that it was enough.
func (c *caller) parts(l level) (parts []Part, whole bool) {
	parts = append(c.first(),
		c.part(PartAnimal, c.animal(l)),
		Part{},
		c.part(PartWatch, c.watched(l)),
		c.part(PartNoted, c.noted(l)),
		c.part(PartUsual, c.usual(l)),
		c.part(PartStory, c.story(l)),
		c.part(PartUnchecked, c.unchecked(l)),
		c.part(PartAsk, c.ask()))
	room := allWords - reserve - total(parts)
	lines, whole := c.differs(l, room)
	parts[4] = c.part(PartDiffers, lines)
	return parts, whole || room >= l.enough
}

// cut gives a text in at most limit words and keeps the whole of it for the basis.
func (c *caller) cut(label, text string, limit int) string {
	short, cut := clip(text, limit)
	if cut {
		line := Line{Text: c.say("report.full", "label", label, "text", text)}
		if !slices.Contains(c.full, line) {
			c.full = append(c.full, line)
		}
	}
	return short
}

// below gives what somebody told in words whole where it fits; else it is told whole in [PartWords], and this says so.
func (c *caller) below(label, text string, limit int) string {
	if aloud(text) <= limit {
		return text
	}
	if line := (Line{Text: c.say("report.labelled", "label", c.say(label), "text", text)}); !slices.Contains(c.words, line) {
		c.words = append(c.words, line)
	}
	return c.say("report.below")
}

// fit joins names with a separator in at most limit words; the rest is counted.
func (c *caller) fit(names []string, separator string, limit int) string {
	if joined := strings.Join(names, separator); aloud(joined) <= limit {
		return joined
	}
	n, used := 0, aloud(c.say("report.more", "n", itoa(len(names))))
	for n < len(names) && used+aloud(names[n]) <= limit {
		used += aloud(names[n])
		n++
	}
	more := c.say("report.more", "n", itoa(len(names)-n))
	if n == 0 {
		return c.say("report.more.only", "n", itoa(len(names)))
	}
	return strings.Join(names[:n], separator) + separator + more
}

func (c *caller) animal(l level) []Line {
	h, e := c.in.Horse, c.in.Exam
	facts := []string{c.first_(string(h.Sex), "report.sex.ask", "sex."+string(h.Sex)), c.age()}
	if h.Type != "" {
		kind := c.inside(string(h.Type), "report.type."+string(h.Type), "type."+string(h.Type))
		if facts = append(facts, kind); h.Sex == vitals.Mare {
			facts = []string{kind, facts[1]}
		}
	}
	if breed := bare(h.Breed); breed != "" {
		facts = append(facts, c.cut(c.say("report.breed"), breed, min(4, l.text)))
	}
	lines := []Line{{Text: upper(strings.Join(facts, ", ")) + "."}}
	if e.At.IsZero() {
		return lines
	}
	lines = append(lines, Line{
		Text: c.say("report.state", "when", c.when(e.At, e.At), "state", c.state(l),
			"depth", c.inside(string(e.Depth), "depth."+string(e.Depth))),
		Strong: e.State.Condition != vitals.AtRest && e.State.Condition != "",
	})
	if air := c.air(); air != "" && e.Hot() {
		lines = append(lines, Line{Text: air, Strong: true})
	}
	given := c.given(l)
	lines = append(lines, given...)
	if e.State.In(vitals.Medicated) || given != nil && (&vitals.Exam{At: e.At, Story: e.Story}).Masked() {
		lines = append(lines, Line{Text: c.say("report.masked"), Strong: true})
	}
	return lines
}

// urgentFacts are those of the animal that change how soon somebody comes: a newborn's hours, in foal, foaled just now.
func (c *caller) urgentFacts() (facts []string) {
	h, at := c.in.Horse, c.in.Exam.At
	if _, young := c.hours(); young {
		facts = append(facts, c.age())
	}
	if h.InFoal {
		facts = append(facts, c.say("report.infoal"))
	}
	if ago := at.Sub(h.FoaledAt); !h.FoaledAt.IsZero() && ago >= 0 && ago < vitals.BroodDays*24*time.Hour {
		facts = append(facts, c.say("report.foaled", "time", c.ago(ago)))
	}
	return facts
}

// hours is an age that is told in hours: in the first two days, where the moment of birth is known.
func (c *caller) hours() (age time.Duration, young bool) {
	age, known := c.in.Horse.Age(c.in.Exam.At)
	return age, known && age < 48*time.Hour
}

// ago says a time that has passed: minutes to two hours, hours to two days, then days.
func (c *caller) ago(d time.Duration) string {
	switch {
	case d < 2*time.Hour:
		return c.say("again.minutes", "n", itoa(int(d.Minutes())))
	case d < 48*time.Hour:
		return c.say("again.hours", "n", itoa(int(d.Hours())))
	}
	return c.say("again.days", "n", itoa(int(d.Hours()/24)))
}

// state says the set of conditions, each with what belongs to it. What was given is told whole.
func (c *caller) state(l level) string {
	e := c.in.Exam
	var all []string
	for _, x := range append([]vitals.Condition{e.State.Condition}, e.State.Also...) {
		state := c.inside(string(x), "condition."+string(x))
		if x == vitals.AfterWork {
			if e.State.Effort != "" {
				state = c.say("report.state.effort", "state", state,
					"effort", c.inside(string(e.State.Effort), "effort."+string(e.State.Effort)))
			}
			state = c.say("report.state.since", "state", state, "n", itoa(e.State.SinceMinutes))
		}
		if with := bare(e.State.With); with != "" && x == vitals.Medicated {
			state = c.say("report.state.with", "state", state, "with", c.below("report.given", with, max(l.text, 6)))
		}
		all = append(all, state)
	}
	return strings.Join(all, "; ")
}

// watched tells where each sign goes that was looked at again, what moves first, of that
// what was counted or timed. The first is told in any case; what there is no room for is counted,
// and in the basis in full.
func (c *caller) watched(l level) []Line {
	var lines []Line
	room, left := l.list, 0
	for _, moves := range []bool{true, false} {
		for _, measured := range []bool{true, false} {
			for _, w := range c.in.Watched {
				moved := w.Moved()
				if !w.To.After(w.From) || (len(w.Points) > 0) != measured || moved != moves || !measured && !moved {
					continue
				}
				said := w.Say(c.lang)
				if len(said) == 0 {
					continue
				}
				if room -= aloud(said[0]); room < 0 && len(lines) > 0 {
					left++
					if line := (Line{Text: said[0]}); !slices.Contains(c.full, line) {
						c.full = append(c.full, line)
					}
					continue
				}
				lines = append(lines, Line{Text: said[0], Strong: moved && w.Course != vitals.Better})
			}
		}
	}
	if left > 0 {
		lines = append(lines, Line{Text: upper(c.say("report.more", "n", itoa(left))) + "."})
	}
	return lines
}

// first_ is first with a key for the empty id.
func (c *caller) first_(id, empty, key string) string {
	if id == "" {
		return c.say(empty)
	}
	return c.inside(id, key)
}

// age in the unit in which an age is told: days to three weeks, months to two years.
func (c *caller) age() string {
	h, at := c.in.Horse, c.in.Exam.At
	if h.Born.IsZero() || at.IsZero() || h.DateDoubt(at) != vitals.DateSound {
		return c.say("report.age.ask")
	}
	days := daysBetween(h.Born.In(zone(at)), at)
	if days < 0 {
		return c.say("report.age.ask")
	}
	if age, young := c.hours(); young {
		return c.say("report.age.old", "time", c.ago(age))
	}
	y, m, d := at.In(zone(at)).Date()
	months := (y-h.Born.Year)*12 + int(m-h.Born.Month)
	if d < h.Born.Day {
		months--
	}
	switch {
	case h.BornYearOnly && y-h.Born.Year >= 1:
		return c.say("report.age.about", "age", c.say("report.age.years", "n", itoa(y-h.Born.Year)))
	case h.BornYearOnly:
		return c.say("report.age.born", "n", itoa(h.Born.Year))
	case days == 0:
		return c.say("report.age.today")
	case days <= 21:
		return c.say("report.age.days", "n", itoa(days))
	case months < 24:
		return c.say("report.age.months", "n", itoa(max(1, months)))
	}
	return c.say("report.age.years", "n", itoa(months/12))
}

func (c *caller) ask() []Line {
	var lines []Line
	s := c.in.Exam.Story
	if s != nil && s.Ask != "" {
		lines = append(lines, Line{Text: c.telling.first(string(s.Ask), "report.ask."+string(s.Ask)), Strong: true})
	} else {
		lines = append(lines, Line{Text: c.say("report.ask.ask"), Blank: true})
	}
	if s != nil {
		if phone := clean(s.Callback); phone != "" && aloud(phone) <= phoneWords {
			lines = append(lines, Line{Text: c.say("report.ask.read", "phone", phone)})
		}
	}
	return append(lines, Line{Text: c.say("report.ask.answer"), Blank: true})
}
