package report

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"whorl.example/baseline"
	"whorl.example/baseline/internal/stable"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Call gives the call report of an exam. Its first three parts can be read aloud in 20
// seconds, unless there are very many problems at once, and everything before [PartWords] in 2 minutes, whatever was
// entered: signs that are too many are counted, and [PartBasis] has all of them in full. What
// somebody told in words is told whole, there or in [PartWords], never in part; only names are
// cut with "…". What was not entered is a blank line to be asked.
func Call(in Input, lang words.Lang) Report {
	in.Exam = in.Exam.Carrying(in.Earlier)
	in.Comparison.Held(in.Horse, in.Exam, in.Earlier)
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
	out := Report{Lang: lang, Title: title, Message: c.message()}
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
	in     Input
	found  map[place]*vitals.Finding
	full   []Line   // text that was cut, for the basis
	order  []string // signs in the order of the problem
	leaves leaving  // what the opening leaves to later parts
	before int      // how many reasons come before what was given
	words  []Line   // the teller's own words that are too long for where they belong
	moved  []fact   // what the first lines had no room for
}

type fact struct{ label, text string }

type place struct {
	sign vitals.SignID
	site vitals.SiteID
}

func (c *caller) index() {
	c.order = orderOf(c.in.Comparison.Alarms)
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
		c.part(PartAnimal, c.animal()),
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

// watched tells where each sign goes that was looked at again: what moves first, the rest as far as there is room, in the order of
// the problem. Readings of one look are no course. What there is no room for is in the basis.
func (c *caller) watched(l level) []Line {
	list := slices.DeleteFunc(slices.Clone(c.in.Watched), func(w watch.Watched) bool {
		return w.To.Sub(w.From) < oneLook || len(w.Points) == 0 && !w.Moved()
	})
	stable.Sort(list, func(a, b watch.Watched) int {
		return cmp.Or(cmp.Compare(still(a), still(b)), cmp.Compare(min(1, len(a.Answers)), min(1, len(b.Answers))), cmp.Compare(c.rank(a.Sign), c.rank(b.Sign)))
	})
	var lines []Line
	room := max(l.list, watchWords)
	for _, w := range list {
		said := w.Say(c.lang)
		if len(said) == 0 {
			continue
		}
		line := Line{Text: said[0], Strong: still(w) == 0 && w.Course != vitals.Better}
		if room -= aloud(line.Text); room < 0 && len(lines) > 0 {
			c.full = append(c.full, Line{Text: said[0]})
			continue
		}
		lines = append(lines, line)
	}
	return lines
}

// watchWords is room for two or three signs in any case: where it goes is why somebody calls again.
const watchWords = 60

// oneLook is how long one look lasts at most (assumed).
const oneLook = 5 * time.Minute

func still(w watch.Watched) int {
	if w.Moved() || w.Way() != 0 {
		return 0
	}
	return 1
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

// Called says what is remembered of a call: that a reason to call now was shown, whom of it was told, and what became
// of it. It is empty for an exam without one.
func Called(exam vitals.Exam, horse vitals.Horse, lang words.Lang) string {
	return strings.Join(about(horse, lang).called(exam), " ")
}

func (t telling) called(exam vitals.Exam) []string {
	k := exam.Call
	if k == nil {
		return nil
	}
	said := []string{t.say("report.call.said", "when", t.time("report.given.", k.SaidAt, exam.At))}
	switch who := bare(k.Told); {
	case k.ToldAt.IsZero():
		said = append(said, t.say("report.call.untold"))
	case who == "":
		said = append(said, t.say("report.call.told", "when", t.time("report.given.", k.ToldAt, exam.At)))
	default:
		said = append(said, t.say("report.call.told.who", "when", t.time("report.given.", k.ToldAt, exam.At), "who", who))
	}
	if !k.ClosedAt.IsZero() {
		outcome := bare(k.Outcome)
		if outcome == "" {
			outcome = t.say("report.value.none")
		}
		said = append(said, t.say("report.call.closed", "when", t.time("report.given.", k.ClosedAt, exam.At), "outcome", outcome))
	}
	return said
}
