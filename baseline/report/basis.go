package report

import (
	"cmp"
	"slices"
	"strings"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// basis gives every finding in full, what was cut above, and what it all rests on.
func (c *caller) basis() []Line {
	var lines []Line
	add := func(text string) {
		if text != "" {
			lines = append(lines, Line{Text: text})
		}
	}
	for _, s := range c.in.Comparison.Signs {
		add(c.record(s))
	}
	for _, u := range c.in.Comparison.Unchecked {
		key := "report.basis.unchecked"
		if u.Reason == vitals.NotTried {
			key = "report.basis.untried"
		}
		add(c.say(key, "sign", upper(c.sign(u.Sign, u.Site)),
			"reason", c.telling.first(string(u.Reason), "absence."+string(u.Reason))))
	}
	for _, f := range slices.Concat(c.of(vitals.RingNow), c.of(vitals.RingSoon), c.of(vitals.CheckAgain)) {
		if byClinic(c.in.Comparison, f.Alarm) {
			continue
		}
		alarm := c.telling.first(string(f.Alarm), "alarm."+string(f.Alarm))
		if !f.Seen.IsZero() {
			alarm = c.held(f)
		}
		alarm = c.say("report.basis.level", "level", c.say("urgency."+string(f.Urgency)), "alarm", lowerFirst(strings.TrimRight(alarm, ".")))
		if source := c.source(f.Provenance); source != "" {
			add(upper(c.say("report.basis.alarm", "alarm", alarm, "source", source)))
		} else {
			add(upper(c.say("report.basis.alarm.bare", "alarm", alarm)))
		}
	}
	lines = append(lines, c.full...)
	add(c.air())
	if notes := bare(c.in.Horse.Notes); notes != "" {
		add(c.say("report.basis.horse", "notes", notes))
	}
	for _, w := range c.in.Comparison.Warnings {
		if w.Key == baseline.WarnSent { // said before what it is about
			continue
		}
		add(c.warning("", w))
	}
	lines = append(lines, c.lessons()...)
	add(c.priors())
	if len(c.sources()) > 0 {
		add(c.say("report.basis.read"))
	}
	for _, id := range c.sources() {
		if cite := cite(id); cite != "" {
			add(c.say("report.basis.cite", "cite", cite))
		}
	}
	add(c.say("report.basis.end"))
	add(c.say("report.translation"))
	return lines
}

// air says the weather at the exam.
func (c *caller) air() string {
	if c.in.Exam.Air == nil {
		return ""
	}
	var list []string
	for _, r := range []*vitals.Reading{c.in.Exam.Air.Temperature, c.in.Exam.Air.Humidity} {
		if r != nil {
			list = append(list, c.withUnit(r.Value.String(), r.Unit))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return c.say("report.basis.air", "list", c.list(list))
}

// record is the line of one finding in full.
func (c *caller) record(s baseline.Compared) string {
	f := c.finding(s)
	s = told(s, f)
	value := c.value(s)
	if s.Measure != nil && finite(s.Measure.Value, s.Measure.SD) && s.Measure.SD > 0 {
		value = c.say("report.basis.give", "value", value, "give", c.give(*s.Measure))
	}
	if how := c.how(f); how != "" {
		value += ", " + how
	}
	if site := cmp.Or(s.Site, siteOf(f)); site != "" && !c.bySite(s.Sign) {
		value += ", " + c.site(site)
	}
	if f != nil && f.Minutes > 0 {
		value += ", " + c.say("how.minutes", "n", itoa(f.Minutes))
	}
	said := []string{c.say("report.basis.sign", "sign", upper(c.sign(s.Sign, s.Site)), "value", value)}
	add := func(text string) {
		if text != "" {
			said = append(said, text)
		}
	}
	add(c.own(s))
	if !c.named(s) && !allUsual(s) {
		add(c.odds(s))
	}
	if s.Statement != baseline.Noted && (s.Measure != nil || s.Basis.Exams > 0 || s.Statement.Unusual()) {
		add(c.rests(s.Basis))
	}
	if printed := c.printed(s); printed != "" {
		add(c.say("said.printed", "ranges", printed))
	}
	if s.Settle != nil {
		add(c.settle(*s.Settle))
	}
	for _, w := range s.Warnings {
		if !repeated(w.Key) {
			add(c.warning(s.Sign, w))
		}
	}
	if f != nil {
		if note := bare(f.Note); note != "" {
			add(c.say("report.basis.note", "note", note))
		}
	}
	return strings.Join(said, " ")
}

func siteOf(f *vitals.Finding) vitals.SiteID {
	if f == nil {
		return ""
	}
	return f.Site
}

// lessons counts the exams that taught, and those that did not by reason.
func (c *caller) lessons() []Line {
	list := c.in.Comparison.Lessons
	if len(list) == 0 {
		return nil
	}
	taught := 0
	var reasons []string
	n := map[string]int{}
	for _, l := range list {
		if l.Taught {
			taught++
			continue
		}
		if n[l.Reason]++; n[l.Reason] == 1 {
			reasons = append(reasons, l.Reason)
		}
	}
	lines := []Line{{Text: c.say("report.basis.taught", "n", itoa(taught))}}
	for _, r := range reasons {
		lines = append(lines, Line{Text: c.say("report.basis.not", "n", itoa(n[r]), "reason", c.say(r))})
	}
	return lines
}

// priors says where the assumptions before the first exam come from.
func (c *caller) priors() string {
	var list []string
	for _, s := range c.in.Comparison.Signs {
		for _, p := range s.Basis.Prior {
			if said := c.source(p); said != "" && !slices.Contains(list, said) {
				list = append(list, said)
			}
		}
	}
	if len(list) == 0 {
		return ""
	}
	return c.say("report.basis.prior", "list", strings.Join(list, "; "))
}

// sources lists the sources named in the report, in the order of their first mention.
func (c *caller) sources() []vitals.SourceID {
	var ids []vitals.SourceID
	add := func(p vitals.Provenance) {
		if p.Source != "" && !slices.Contains(ids, p.Source) {
			ids = append(ids, p.Source)
		}
	}
	for _, s := range c.in.Comparison.Signs {
		for _, p := range s.Printed {
			add(p.Provenance)
		}
	}
	for _, f := range c.in.Comparison.Alarms {
		add(f.Provenance)
	}
	for _, s := range c.in.Comparison.Signs {
		for _, p := range s.Basis.Prior {
			add(p)
		}
	}
	return ids
}

// sourceName names a source briefly: its citation up to the first comma (who published it).
func sourceName(id vitals.SourceID) string {
	if s, ok := vitals.LookupSource(id); ok {
		name, _, _ := strings.Cut(s.Cite, ",")
		return name
	}
	return clean(string(id))
}

// cite gives the citation of a source in full; empty if the catalogue does not have it.
func cite(id vitals.SourceID) string {
	s, ok := vitals.LookupSource(id)
	if !ok {
		return ""
	}
	if s.Where == "" {
		return s.Cite
	}
	return s.Cite + " (" + s.Where + ")"
}
