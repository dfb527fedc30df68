package report

import (
	"cmp"
	"slices"

	"whorl.example/baseline"
	"whorl.example/baseline/internal/stable"
	"whorl.example/vitals"
)

// group is findings of one sign at several sites, told as one.
type group struct{ of []baseline.Compared }

// groups puts findings of one sign with the same answer and statement together, in the
// order of their first.
func (c *caller) groups(keep func(baseline.Compared) bool) []group {
	var out []group
	for _, s := range c.in.Comparison.Signs {
		if !keep(s) {
			continue
		}
		i := slices.IndexFunc(out, func(g group) bool {
			o := g.of[0]
			return s.Measure == nil && o.Measure == nil && o.Sign == s.Sign && o.Statement == s.Statement &&
				slices.Equal(o.Chosen, s.Chosen) && slices.Equal(o.Where, s.Where) &&
				o.Seen == s.Seen && o.Basis.Exams == s.Basis.Exams
		})
		if i < 0 {
			out = append(out, group{[]baseline.Compared{s}})
			continue
		}
		out[i].of = append(out[i].of, s)
	}
	return out
}

// value says what was found.
func (c *caller) value(s baseline.Compared) string {
	s = told(s, c.finding(s))
	switch {
	case s.Measure != nil && finite(s.Measure.Value):
		return c.measured(s)
	case len(s.Chosen) > 0:
		return c.answers(s.Sign, s.Chosen, s.Where)
	}
	return c.say("report.value.none")
}

// item says a sign with what was found: "heart rate 52 a minute, tapped for 30 s".
func (c *caller) item(g group, how bool) string {
	s := g.of[0]
	value := c.value(s)
	if said := c.how(c.finding(s)); how && said != "" {
		return c.say("report.one.how", "sign", c.signs(g), "value", value, "how", said)
	}
	return c.say(oneKey(s), "sign", c.signs(g), "value", value)
}

// oneKey is the key of a sign with its value: "heart rate 52 a minute", "gums: white".
func oneKey(s baseline.Compared) string {
	if s.Measure == nil {
		return "report.graded"
	}
	return "report.one"
}

// signs names a group's sign and its sites, or how many they are.
func (c *caller) signs(g group) string {
	if len(g.of) == 1 {
		return c.sign(g.of[0].Sign, g.of[0].Site)
	}
	name := c.sign(g.of[0].Sign, "")
	var sites []vitals.SiteID
	for _, s := range g.of {
		if s.Site != "" {
			sites = append(sites, s.Site)
		}
	}
	if len(sites) == 0 || len(sites) > 2 {
		return c.say("report.places", "text", name, "n", itoa(len(g.of)))
	}
	return c.say("report.at", "sign", name, "site", c.sites(sites))
}

// differs tells what is not as usual, what says to call now first and what stands out most, as far as room goes;
// the rest is counted. Long forms say how seldom such a reading is; whole says that all
// of it was told so. An answer of which the opening has told all is not told again.
func (c *caller) differs(l level, room int) (lines []Line, whole bool) {
	if w := sent(c.in.Comparison); w.Key != "" {
		lines = append(lines, Line{Text: c.warning("", w)})
	}
	gs := c.groups(c.urgent)
	stable.Sort(gs, func(a, b group) int { return cmp.Compare(c.place(a.of[0].Sign), c.place(b.of[0].Sign)) })
	gs = slices.DeleteFunc(gs, c.toldWhole)
	rest := func(s baseline.Compared) bool { return s.Statement.Unusual() && !c.urgent(s) }
	gs = slices.Concat(gs, c.groups(func(s baseline.Compared) bool { return rest(s) && s.Strong }),
		c.groups(func(s baseline.Compared) bool { return rest(s) && !s.Strong }),
		c.groups(func(s baseline.Compared) bool { return s.Statement == baseline.FirstSeen && !c.urgent(s) }))
	if len(gs) == 0 {
		lines = append(lines, c.nothing()...)
		return lines, total([]Part{{Lines: lines}}) <= room
	}
	rests := c.restsOn()
	room -= total([]Part{{Lines: append(lines, rests)}})
	var long, short []string
	need := 0
	for _, g := range gs {
		long, short = append(long, c.differing(g, true)), append(short, c.differing(g, false))
		need += aloud(long[len(long)-1])
	}
	whole = need <= room
	// From the end: short forms first, then a count, which takes words itself.
	for i := len(gs) - 1; i >= 0 && need > room; i-- {
		need += aloud(short[i]) - aloud(long[i])
		long[i] = short[i]
	}
	shown := len(gs)
	if need > room {
		room -= aloud(c.say("report.more.differs", "n", itoa(len(gs))))
	}
	for need > room && shown > 0 {
		shown--
		need -= aloud(long[shown])
	}
	for i, text := range long[:shown] {
		lines = append(lines, Line{Text: text, Strong: gs[i].of[0].Strong || c.urgent(gs[i].of[0])})
	}
	if left := len(gs) - shown; left > 0 {
		lines = append(lines, Line{Text: c.say("report.more.differs", "n", itoa(left))})
	}
	return append(lines, rests), whole
}

// toldWhole reports whether the opening has told all of an urgent answer.
func (c *caller) toldWhole(g group) bool {
	s := g.of[0]
	return s.Measure == nil && (s.Site == "" || c.leaves < leaveSites || !c.bySite(s.Sign)) && !c.odd(s) &&
		slices.ContainsFunc(c.foundBy(s.Sign), func(o baseline.Compared) bool { return o.Site == s.Site })
}

// differing says one finding that is not as usual.
func (c *caller) differing(g group, long bool) string {
	s := told(g.of[0], c.finding(g.of[0]))
	said := c.item(g, true)
	switch {
	case s.Measure != nil && s.Own != nil && finite(s.Own.Low, s.Own.High):
		key := "report.usually"
		if s.Basis.Exams == 0 {
			key = "report.usually.0"
		}
		said += "; " + c.say(key, "range", c.ownRange(s))
	case s.Measure == nil && s.Basis.Exams > 0 && len(s.Usual) > 0 && c.odd(s):
		said += "; " + c.say("report.usually", "range", c.answers(s.Sign, s.Usual, nil))
	}
	if c.urgent(g.of[0]) {
		return c.say("report.ring.now", "list", said)
	}
	said = upper(said) + "."
	// How seldom a reading is, beside a rule that fired, would be beside the point.
	if odds := c.odds(s); long && odds != "" && !c.named(s) {
		said += " " + odds
	}
	return said
}

// odd reports whether what this animal usually shows is not what most animals do.
func (c *caller) odd(s baseline.Compared) bool {
	sign, ok := vitals.Lookup(s.Sign)
	return ok && !slices.Equal(s.Usual, s.Chosen) && slices.ContainsFunc(s.Usual, func(id vitals.GradeID) bool {
		g, known := sign.Grade(id)
		return known && g.Rank > 0
	})
}

// nothing says that nothing differs, and never more than that: not beside a rule that fired, nor beside an answer that is not
// that of a healthy animal, nor where somebody thinks that something is wrong.
func (c *caller) nothing() []Line {
	is := standingOf(c.in.Comparison)
	var lines []Line
	together := "report.together"
	if !is.own {
		together += ".0"
	}
	quiet := len(c.in.Comparison.Alarms) == 0 && is.recorded == 0 && !c.in.Exam.Concerned()
	switch {
	case is.usual == 0 && is.unusual+is.first+is.recorded == 0:
		return []Line{{Text: c.say("report.differs.nothing")}}
	case c.in.Comparison.Overall.Unusual:
		lines = append(lines, Line{Strong: true,
			Text: c.say(together, "n", itoa(oneIn(c.in.Comparison.Overall.P)))})
	case c.in.Comparison.Overall.ManyLittle():
		lines = append(lines, Line{Strong: true, Text: c.say("report.many")})
	case quiet && sent(c.in.Comparison).Key != "":
		lines = append(lines, Line{Text: c.say("heading.sent") + "."})
	case quiet && is.own:
		lines = append(lines, Line{Text: c.say("report.differs.none")})
	case quiet:
		lines = append(lines, Line{Text: c.say("report.differs.none.0")})
	}
	return append(lines, c.restsOn())
}

// restsOn says on how many exams the comparison rests.
func (c *caller) restsOn() Line {
	low, high, weak, printed := -1, 0, false, false
	for _, s := range c.in.Comparison.Signs {
		if s.Statement == baseline.Noted {
			continue
		}
		if low < 0 || s.Basis.Exams < low {
			low = s.Basis.Exams
		}
		high = max(high, s.Basis.Exams)
		weak = weak || s.Basis.Weak
		printed = printed || published(s.Basis.Prior)
	}
	if low == high || high == 0 {
		return Line{Text: c.say(basisOfAll.key(high, weak, printed), "n", itoa(high))}
	}
	key := "report.rests.span"
	if !printed {
		key = "report.rests.span.own"
	}
	return Line{Text: c.say(key, "low", itoa(low), "high", itoa(high))}
}

// noted tells what was only recorded, and beside a call for now what softer rules rest on.
func (c *caller) noted(l level) []Line {
	now := len(c.of(vitals.RingNow)) > 0
	gs := c.groups(func(s baseline.Compared) bool {
		softer := c.named(s) && now
		return (s.Statement == baseline.Noted && (softer || !c.named(s)) || s.Statement == baseline.AsUsual && softer) &&
			!context(s.Sign) && !c.urgent(s) && s.Sign != vitals.Weight // told with who it is
	})
	return c.listed("report.list", c.byRank(gs), l.list)
}

// usual tells what is as usual, apart for what rests on published ranges only. A sign by which a rule fired is not among it.
func (c *caller) usual(l level) []Line {
	own := c.groups(func(s baseline.Compared) bool {
		return s.Statement == baseline.AsUsual && s.Basis.Exams > 0 && !c.named(s)
	})
	none := c.groups(func(s baseline.Compared) bool {
		return s.Statement == baseline.AsUsual && s.Basis.Exams == 0 && !c.named(s)
	})
	limit := l.list
	if len(own) > 0 && len(none) > 0 {
		limit /= 2
	}
	return append(c.listed("report.own", c.byRank(own), limit), c.listed("report.own.0", c.byRank(none), limit)...)
}

func (c *caller) listed(key string, gs []group, limit int) []Line {
	if len(gs) == 0 {
		return nil
	}
	items := make([]string, len(gs))
	for i, g := range gs {
		items[i] = c.item(g, false)
	}
	return []Line{{Text: upper(c.say(key, "list", c.fit(items, "; ", limit)))}}
}

// unchecked tells what was not checked, by reason.
func (c *caller) unchecked(l level) []Line {
	un := c.in.Comparison.Unchecked
	if len(un) == 0 && len(c.in.Comparison.Signs) == 0 {
		return []Line{{Text: c.say("report.ring.nothing")}}
	}
	if len(un) == 0 {
		return []Line{{Text: c.say("report.unchecked.all")}}
	}
	var lines []Line
	reasons := vitals.Absences()
	for _, u := range un {
		if !slices.Contains(reasons, u.Reason) {
			reasons = append(reasons, u.Reason)
		}
	}
	var kinds [][]string
	var keys []string
	for _, reason := range reasons {
		if names := c.left(reason); len(names) > 0 {
			kinds, keys = append(kinds, names), append(keys, "report.absent."+string(reason))
		}
	}
	for i, names := range kinds {
		list := c.fit(names, ", ", l.list/len(kinds))
		if said := c.say(keys[i], "list", list); said != keys[i] {
			lines = append(lines, Line{Text: said})
		} else {
			lines = append(lines, Line{Text: c.say("report.absent", "list", list)})
		}
	}
	return lines
}

// left names the signs that have no value for a reason, with the number of places.
func (c *caller) left(reason vitals.Absence) []string {
	var ids []vitals.SignID
	n := map[vitals.SignID]int{}
	site := map[vitals.SignID]vitals.SiteID{}
	for _, u := range c.in.Comparison.Unchecked {
		if u.Reason != reason {
			continue
		}
		if n[u.Sign]++; n[u.Sign] == 1 {
			ids = append(ids, u.Sign)
			site[u.Sign] = u.Site
		}
	}
	names := make([]string, len(ids))
	stable.Sort(ids, func(a, b vitals.SignID) int { return cmp.Compare(c.rank(a), c.rank(b)) })
	for i, id := range ids {
		names[i] = c.sign(id, site[id])
		if n[id] > 1 {
			names[i] = c.say("report.places", "text", c.sign(id, ""), "n", itoa(n[id]))
		}
	}
	return names
}

// story tells what the veterinarian asks, as far as it was entered, and asks the rest.
func (c *caller) story(l level) []Line {
	s := c.story_()
	var lines []Line
	for _, m := range c.moved {
		lines = append(lines, Line{Text: c.say("report.labelled", "label", c.say(m.label),
			"text", c.below(m.label, m.text, max(l.text, 6)))})
	}
	tell := func(label, blank, text string) { lines = append(lines, c.labelled(label, blank, text, l.text)) }
	tell("report.passed", "report.passed", bare(s.Passed))
	tell("report.intake", "report.intake", bare(s.Intake))
	switch whole := c.given(true); {
	case len(whole) == 0:
		lines = append(lines, c.labelled("report.given", "report.given.ask", "", 0))
	case c.leaves >= leaveGiver && whole[0].Text != c.given(false)[0].Text:
		lines = append(lines, whole...)
	}
	if f := c.found[place{vitals.Lately, ""}]; f != nil && f.Absent == "" {
		lines = append(lines, Line{Text: upper(c.say("report.graded", "sign", c.sign(vitals.Lately, ""), "value", c.answers(vitals.Lately, f.Chosen, nil))) + "."})
	}
	tell("report.changed", "report.changed", bare(s.Changed))
	tell("report.history", "report.history", bare(s.History))
	lines = append(lines, c.asked(l)...)
	for _, said := range c.called(c.in.Exam) {
		lines = append(lines, Line{Text: c.below("report.call", said, max(l.text, 12))})
	}
	return lines
}

// labelled says one fact of the story, or leaves a line to ask it.
func (c *caller) labelled(label, blank, text string, limit int) Line {
	if text == "" {
		return Line{Text: c.say("report.blank", "label", c.say(blank)), Blank: true}
	}
	return Line{Text: c.say("report.labelled", "label", c.say(label), "text", c.below(label, text, limit))}
}
