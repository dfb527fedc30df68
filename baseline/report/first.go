package report

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"whorl.example/baseline"
	"whorl.example/baseline/internal/stable"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// phoneWords is the longest number that is read back: 15 digits (ITU-T E.164) and a word.
const phoneWords = 16

// leaving is how much the opening leaves to later parts; each step leaves what is named and all above it. The number to call
// back, the place, what makes it urgent and what was given are never among it, at any length.
type leaving int

const (
	leaveCaller  leaving = iota + 1 // who calls
	leaveBreed                      // breed and weight
	leaveGiver                      // who gave what was given
	leaveSites                      // the places of the findings
	leaveGums                       // refill and rim in one phrase with the gums
	leaveBouts                      // whether it comes and goes
	leaveCourse                     // better, worse
	leaveSince                      // since when
	leaveNoticed                    // what was noticed, where it is long
)

// worst is how many reasons come before what was given, however many there are; the others follow it, before anything else.
const worst = 3

// What was noticed is told whole in so many words, else below: one sentence on why somebody calls stays in any case.
const (
	noticedWords = 30
	noticedLeast = 20
)

// first gives who, what and danger: together what can be read aloud in 20 seconds, unless what is never left out is longer.
func (c *caller) first() []Part {
	reasons := len(c.reasons(c.of(vitals.RingNow)))
	for c.leaves, c.before = 0, max(worst, reasons); ; {
		c.full, c.moved, c.words = nil, nil, nil
		parts := []Part{c.part(PartWho, c.who()), c.part(PartWhat, c.what()), c.part(PartDanger, c.danger())}
		switch n := c.opening(parts); {
		case n <= firstWords(c.lang) || c.leaves == leaveNoticed:
			return parts
		case c.before > worst:
			c.before--
		default:
			c.leaves++
		}
	}
}

// saysWhen reports whether a text says since when something is so, in one of the languages.
func saysWhen(text string) bool {
	spaced := " " + strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }), " ") + " "
	return slices.ContainsFunc(words.Langs(), func(l words.Lang) bool {
		return slices.ContainsFunc(strings.Split(words.Say(l, "report.since.words"), "|"), func(w string) bool { return strings.Contains(spaced, " "+w+" ") })
	})
}

// opening counts the words to the end of what was given.
func (c *caller) opening(parts []Part) int {
	lines := parts[2].Lines
	also, _, _ := strings.Cut(c.say("report.ring.also"), "{")
	if last := len(lines) - 1; last > 0 && strings.HasPrefix(lines[last].Text, also) {
		lines = lines[:last]
	}
	return total(parts[:2]) + total([]Part{{Lines: lines}})
}

func (c *caller) story_() vitals.Story {
	if s := c.in.Exam.Story; s != nil {
		return *s
	}
	return vitals.Story{}
}

func (c *caller) who() []Line {
	s := c.story_()
	var said []string
	var blank []Line
	if phone := clean(s.Callback); phone != "" {
		said = append(said, c.say("report.callback", "phone", phone))
	} else {
		blank = append(blank, Line{Text: c.say("report.callback.ask"), Blank: true})
	}
	name := cmp.Or(c.cut(c.say("report.name"), bare(c.in.Horse.Name), 4), c.say("report.unnamed"))
	if is := c.signalment(c.leaves < leaveBreed); is != "" {
		name += ", " + is
	}
	switch by := bare(c.in.Exam.By); {
	case by == "":
		said = append(said, c.say("report.about", "name", name))
	case c.leaves >= leaveCaller:
		said = append(said, c.say("report.about", "name", name))
		c.move("report.by", by)
	default:
		said = append(said, c.say("report.caller", "by", c.cut(c.say("report.by"), by, 4), "name", name))
	}
	if stands := cmp.Or(bare(s.Stands), bare(c.in.Horse.Stands)); stands != "" {
		said = append(said, c.say("report.stands", "stands", stands))
	} else {
		blank = append(blank, Line{Text: c.say("report.stands.ask"), Blank: true})
	}
	return append([]Line{{Text: strings.ReplaceAll(strings.Join(said, " "), "….", "…"), Strong: true}}, blank...)
}

// move puts a fact that the opening has no room for into the story.
func (c *caller) move(label, text string) {
	c.moved = append(c.moved, fact{label, text})
}

func (c *caller) what() []Line {
	s := c.story_()
	noticed := bare(s.Noticed)
	if noticed == "" {
		return []Line{{Text: c.say("report.noticed.ask"), Blank: true}}
	}
	limit := noticedWords
	if c.leaves >= leaveNoticed {
		limit = noticedLeast
	}
	said := []string{upper(c.below("report.what.full", noticed, limit))}
	tell := func(rank leaving, label, text, alone string) {
		if c.leaves >= rank {
			c.move(label, alone)
			return
		}
		said = append(said, text)
	}
	var blank []Line
	if s.Since.IsZero() && saysWhen(noticed) {
		// The handler's own words have it.
	} else if s.Since.IsZero() {
		blank = append(blank, Line{Text: c.say("report.since.ask"), Blank: true})
	} else {
		when := c.when(s.Since, c.in.Exam.At)
		tell(leaveSince, "report.since.label", c.time("report.since.", s.Since, c.in.Exam.At), when)
	}
	if s.Course != "" {
		course := c.telling.first(string(s.Course), "report.course."+string(s.Course))
		tell(leaveCourse, "report.course", course, course)
	}
	if s.Bouts != nil {
		key := "report.bouts.false"
		if *s.Bouts {
			key = "report.bouts.true"
		}
		tell(leaveBouts, "report.course", c.say(key), c.say(key))
	}
	if s.Course == "" && s.Bouts == nil {
		blank = append(blank, Line{Text: c.say("report.course.ask"), Blank: true})
	}
	return append([]Line{{Text: strings.Join(said, ", ") + ".", Strong: true}}, blank...)
}

// danger tells every rule of the strongest level, the gravest finding first, with what was given after the first; where
// there is none, that nobody's rule covers what was seen, and how much was not checked.
func (c *caller) danger() []Line {
	level := vitals.Strongest(c.in.Comparison.Alarms)
	var lines []Line
	say := func(key string, list []string) {
		lines = append(lines, Line{Text: c.say(key, "list", strings.Join(list, "; ")), Strong: true})
	}
	if level == vitals.RingNow {
		list := c.phrases(c.of(level))
		n := min(len(list), c.before)
		say("report.ring.now", list[:n])
		lines = append(lines, c.given(c.leaves < leaveGiver)...)
		if n < len(list) {
			say("report.ring.also", list[n:])
		}
		return lines
	}
	if soon := c.of(vitals.RingSoon); len(soon) > 0 {
		say("report.ring.soon", c.phrases(soon))
	}
	if list := c.phrases(c.uncovered()); len(list) > 0 {
		say("report.ring.unusual", list)
	}
	lines = append(lines, c.waiting()...)
	said := ""
	switch {
	case level != "":
	case c.in.Exam.Concerned():
		said = c.say("report.ring.concern") + " "
	case len(c.in.Comparison.Signs) > 0:
		said = c.say("report.ring.none") + " "
	}
	switch n := missing(c.in.Comparison); {
	case len(c.in.Comparison.Signs) == 0:
		said += c.say("report.ring.nothing")
	case n == 0:
		said += c.say("report.unchecked.all")
	default:
		said += c.say("report.ring.unchecked", "n", itoa(n))
	}
	lines = append(lines, Line{Text: said, Strong: level == "" && c.in.Exam.Concerned()})
	return append(lines, c.given(c.leaves < leaveGiver)...)
}

// uncovered are the signs not as usual on which no rule rests, the rarest first, at most [worst]: as if a rule had fired at each.
func (c *caller) uncovered() []vitals.Fired {
	var rare []baseline.Compared
	for _, s := range c.in.Comparison.Signs {
		if s.Statement.Unusual() && !context(s.Sign) && !c.named(s) && !slices.ContainsFunc(rare, func(o baseline.Compared) bool { return o.Sign == s.Sign }) {
			rare = append(rare, s)
		}
	}
	stable.Sort(rare, func(a, b baseline.Compared) int { return cmp.Compare(a.P, b.P) })
	var out []vitals.Fired
	for _, s := range rare[:min(worst, len(rare))] {
		out = append(out, vitals.Fired{Sign: s.Sign})
	}
	return out
}

// given says whole what was given before the call, as told: what, how much, when and, where there is room, by whom.
func (c *caller) given(by bool) []Line {
	var all []string
	for _, g := range c.story_().Given {
		said := []string{bare(g.What), bare(g.Dose)}
		if !g.At.IsZero() {
			said = append(said, c.time("report.given.", g.At, c.in.Exam.At))
		}
		if who := bare(g.By); who != "" && (by || joined(said...) == "") {
			said = append(said, c.say("report.given.by", "by", who))
		}
		all = append(all, joined(said...))
	}
	if s := c.in.Exam.State; s.In(vitals.Medicated) {
		all = append(all, bare(s.With))
	}
	text := strings.Join(filled(all), "; ")
	if text == "" {
		return nil
	}
	return []Line{{Text: c.say("report.labelled", "label", c.say("report.given"), "text", text)}}
}
