package report

import (
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
		add(c.say("report.basis.unchecked", "sign", upper(c.sign(u.Sign, u.Site)),
			"reason", c.telling.first(string(u.Reason), "absence."+string(u.Reason))))
	}
	for _, f := range c.in.Comparison.Alarms {
		alarm := c.telling.first(string(f.Alarm), "alarm."+string(f.Alarm))
		add(c.say("report.basis.alarm", "alarm", strings.TrimRight(alarm, "."), "source", c.source(f.Provenance, true)))
	}
	lines = append(lines, c.full...)
	for _, w := range c.in.Comparison.Warnings {
		add(c.warning(w))
	}
	lines = append(lines, c.lessons()...)
	add(c.priors())
	for _, id := range c.sources() {
		if cite := cite(id); cite != "" {
			add(c.say("report.basis.source.id", "id", sourceName(id), "cite", cite))
		}
	}
	add(c.say("report.basis.end"))
	return lines
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
	add(c.odds(s))
	if s.Statement != baseline.Noted {
		add(c.rests(s.Basis))
	}
	if printed := c.printed(s, true); printed != "" {
		add(c.say("said.printed", "ranges", printed))
	}
	if s.Settle != nil {
		add(c.settle(*s.Settle))
	}
	for _, w := range s.Warnings {
		if !repeated(w.Key) {
			add(c.warning(w))
		}
	}
	if f != nil {
		if note := bare(f.Note); note != "" {
			add(c.say("report.basis.note", "note", note))
		}
	}
	return strings.Join(said, " ")
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
			if said := c.source(p, true); !slices.Contains(list, said) {
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
