package report

import (
	"strings"

	"whorl.example/vitals"
)

// phoneWords is the longest number that is read aloud: 15 digits (ITU-T E.164) and a word.
const phoneWords = 16

// opening says how much the first three parts may say: words of the place and of what was noticed, how many reasons are
// told with what was found, whether the others are left to one for each problem, and how many of the lesser facts are left
// to later parts.
type opening struct {
	stands, noticed, name, dangers int
	oneEach                        bool
	left                           int
}

// What is left to later parts, in this order: the places of the findings, bouts, the caller, course, since when.
const (
	leaveSites = iota + 1
	leaveBouts
	leaveCaller
	leaveCourse
	leaveSince
)

// openings, roomiest first; each step gives up a little more. What was noticed is told whole or below, the place
// in its first words and whole below.
var openings = []opening{
	{14, 30, 4, 9, false, 0}, {14, 30, 4, 9, false, leaveSites}, {14, 30, 4, 6, false, leaveBouts}, {14, 30, 4, 6, false, leaveCaller},
	{14, 30, 4, 4, false, leaveCaller}, {14, 30, 4, 3, false, leaveCaller}, {7, 30, 4, 4, false, leaveCaller}, {7, 30, 4, 3, false, leaveCaller},
	{5, 30, 4, 4, true, leaveCaller}, {5, 30, 3, 3, true, leaveCaller}, {4, 30, 3, 3, true, leaveCourse}, {4, 30, 2, 2, true, leaveCourse},
	{4, 30, 2, 2, true, leaveSince}, {0, 30, 2, 2, true, leaveSince}, {4, 30, 2, 1, true, leaveSince}, {0, 30, 2, 1, true, leaveSince},
	{4, 16, 2, 2, true, leaveSince}, {4, 12, 2, 3, true, leaveSince}, {4, 12, 2, 1, true, leaveSince}, {4, 8, 1, 2, true, leaveSince},
	{0, 8, 1, 1, true, leaveSince}, {0, 4, 1, 1, true, leaveSince}, {0, 0, 1, 1, true, leaveSince}, {0, 0, 1, 0, true, leaveSince},
}

// first gives who, what and danger: together what can be read aloud in 20 seconds.
func (c *caller) first() []Part {
	var parts []Part
	for _, o := range openings {
		c.full, c.moved, c.words = nil, nil, nil
		parts = []Part{c.part(PartWho, c.who(o)), c.part(PartWhat, c.what(o)), c.part(PartDanger, c.danger(o))}
		if total(parts) <= firstWords {
			break
		}
	}
	return parts
}

func (c *caller) who(o opening) []Line {
	s := c.in.Exam.Story
	if s == nil {
		s = &vitals.Story{}
	}
	var said []string
	var blank []Line
	switch phone := clean(s.Callback); {
	case phone == "":
		blank = append(blank, Line{Text: c.say("report.callback.ask"), Blank: true})
	case aloud(phone) > phoneWords:
		said = append(said, c.say("report.callback.low"))
		c.below("report.phone", phone, 0)
	default:
		said = append(said, c.say("report.callback", "phone", phone))
	}
	name := c.cut(c.say("report.name"), bare(c.in.Horse.Name), o.name)
	if name == "" {
		name = c.say("report.unnamed")
	}
	name = strings.Join(append([]string{name}, c.urgentFacts()...), ", ")
	by := bare(c.in.Exam.By)
	switch {
	case by == "":
		said = append(said, c.say("report.about", "name", name))
	case o.left >= leaveCaller:
		said = append(said, c.say("report.about", "name", name))
		c.move("report.by", by)
	default:
		said = append(said, c.say("report.caller", "by", c.cut(c.say("report.by"), by, o.name), "name", name))
	}
	stands := bare(s.Stands)
	if stands == "" {
		stands = bare(c.in.Horse.Stands)
	}
	switch {
	case stands == "":
		blank = append(blank, Line{Text: c.say("report.stands.ask"), Blank: true})
	case o.stands == 0:
		c.move("report.where", stands)
	default:
		short, cut := clip(stands, o.stands)
		said = append(said, c.say("report.stands", "stands", short))
		if cut { // the whole of it is told later: somebody has to drive there
			c.move("report.where", stands)
		}
	}
	return append([]Line{{Text: strings.ReplaceAll(strings.Join(said, " "), "….", "…"), Strong: true}}, blank...)
}

// move puts a fact that the opening has no room for into the story.
func (c *caller) move(label, text string) {
	c.moved = append(c.moved, fact{label, text})
}

func (c *caller) what(o opening) []Line {
	s := c.in.Exam.Story
	if s == nil || bare(s.Noticed) == "" {
		return []Line{{Text: c.say("report.noticed.ask"), Blank: true}}
	}
	said := []string{upper(c.below("report.what.full", bare(s.Noticed), o.noticed))}
	tell := func(rank int, label, text, alone string) {
		if o.left >= rank {
			c.move(label, alone)
			return
		}
		said = append(said, text)
	}
	var blank []Line
	if s.Since.IsZero() {
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
