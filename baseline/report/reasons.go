package report

import (
	"cmp"
	"slices"
	"strings"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// worstFirst puts the rules of a comparison in the order of what was found.
func worstFirst(c baseline.Comparison) []vitals.Fired {
	return vitals.WorstFirst(c.Alarms, func(id vitals.SignID) vitals.Found { return found(c.Signs, id) })
}

// found gives what was found of a sign at all its sites.
func found(signs []baseline.Compared, id vitals.SignID) (out vitals.Found) {
	for _, s := range signs {
		if s.Sign != id {
			continue
		}
		out.Chosen = append(out.Chosen, s.Chosen...)
		if s.Measure != nil {
			out.Value = max(out.Value, s.Measure.Value)
		}
	}
	return out
}

// of are the rules of a level, the worst first.
func (c *caller) of(u vitals.Urgency) []vitals.Fired {
	var out []vitals.Fired
	for _, f := range worstFirst(c.in.Comparison) {
		if f.Urgency == u {
			out = append(out, f)
		}
	}
	return out
}

// reason is a sign that rules rest on, and the problems that those are about; or a rule in its own words, where it rests
// on what the story says and what was found is a usual answer.
type reason struct {
	sign     vitals.SignID
	said     string
	problems []vitals.Problem
}

// reasons are the signs that rules rest on, each once, the gravest first. A rule to call now of which only usual answers were found, since it
// adds up others or the story, rests on the signs of those.
func (c *caller) reasons(fired []vitals.Fired) []reason {
	var out []reason
	add := func(r reason, p vitals.Problem) {
		i := slices.IndexFunc(out, func(o reason) bool { return o.sign == r.sign && o.said == r.said })
		if i < 0 {
			i = len(out)
			out = append(out, r)
		}
		if !slices.Contains(out[i].problems, p) {
			out[i].problems = append(out[i].problems, p)
		}
	}
	for _, f := range fired {
		ids := c.signsOf(f)
		for _, id := range ids {
			add(reason{sign: id}, f.Problem)
		}
		if len(ids) > 0 {
			continue
		}
		for _, o := range c.in.Comparison.Alarms {
			if f.Urgency == vitals.RingNow {
				ids = append(ids, c.signsOf(o)...)
			}
		}
		for _, id := range ids {
			add(reason{sign: id}, f.Problem)
		}
		if alarm := "alarm." + string(f.Alarm); len(ids) == 0 && words.Has(c.lang, alarm) {
			add(reason{said: lowerFirst(strings.TrimRight(c.say(alarm), "."))}, f.Problem)
		} else if len(ids) == 0 {
			add(reason{sign: f.Sign}, f.Problem)
		}
	}
	place := func(r reason) int { return vitals.Gravity(r.sign, found(c.in.Comparison.Signs, r.sign)) }
	slices.SortStableFunc(out, func(a, b reason) int { return cmp.Compare(place(a), place(b)) })
	return out
}

// signsOf are the signs of a rule of which anything was found but a usual answer.
func (c *caller) signsOf(f vitals.Fired) []vitals.SignID {
	ids := append([]vitals.SignID{f.Sign}, f.With...)
	return slices.DeleteFunc(ids, func(id vitals.SignID) bool {
		seen, off := false, false
		for _, s := range c.in.Comparison.Signs {
			if s.Sign == id {
				seen, off = true, off || s.Measure != nil || offUsual(s)
			}
		}
		return seen && !off
	})
}

// rests reports whether one of some rules rests on a finding.
func rests(fired []vitals.Fired, s baseline.Compared) bool {
	return slices.ContainsFunc(fired, func(f vitals.Fired) bool {
		there := len(f.Sites) == 0 || s.Site == "" || slices.Contains(f.Sites, s.Site)
		return f.Sign == s.Sign && there || slices.Contains(f.With, s.Sign)
	})
}

// named reports whether a rule that fired rests on a finding.
func (c *caller) named(s baseline.Compared) bool { return rests(c.in.Comparison.Alarms, s) }

// urgent reports whether a rule to call now rests on a finding that is told: not on a usual answer at another place.
func (c *caller) urgent(s baseline.Compared) bool {
	now := c.of(vitals.RingNow)
	borrowed := func() bool {
		return c.named(s) && slices.ContainsFunc(c.reasons(now), func(r reason) bool { return r.sign == s.Sign }) &&
			!slices.ContainsFunc(now, func(f vitals.Fired) bool { return f.Sign == s.Sign || slices.Contains(f.With, s.Sign) })
	}
	return !context(s.Sign) && (s.Measure != nil || offUsual(s)) && (rests(now, s) || borrowed())
}

// phrases says what was found of the signs that rules rest on, each once.
func (c *caller) phrases(fired []vitals.Fired, left int) []string {
	var out []string
	for _, r := range c.reasons(fired) {
		out = append(out, cmp.Or(r.said, c.phrase(r.sign, left)))
	}
	return out
}

// phrase says what was found of a sign at the sites where rules fired: the answer that is not usual, with its places.
func (c *caller) phrase(id vitals.SignID, left int) string {
	var sites []vitals.SiteID
	for _, f := range c.in.Comparison.Alarms {
		if f.Sign == id {
			sites = append(sites, f.Sites...)
		}
	}
	var of, off []baseline.Compared
	for _, s := range c.in.Comparison.Signs {
		if s.Sign != id || len(sites) > 0 && s.Site != "" && !slices.Contains(sites, s.Site) {
			continue
		}
		if of = append(of, s); offUsual(s) {
			off = append(off, s)
		}
	}
	if len(off) > 0 {
		of = off
	}
	switch {
	case len(of) == 0:
		return c.sign(id, "")
	case left >= leaveSites || len(of) > 2:
		return c.say(oneKey(of[0]), "sign", c.sign(id, ""), "value", c.value(of[0]))
	}
	return c.item(group{of}, false)
}

// waiting says what is to be checked again, and what follows: one line for each time and level.
func (c *caller) waiting(limit int) []Line {
	type wait struct {
		minutes int
		then    vitals.Urgency
	}
	again := c.of(vitals.CheckAgain)
	var waits []wait
	of := map[wait][]vitals.Fired{}
	for _, f := range again {
		w := wait{f.Minutes, f.Then}
		if of[w] == nil {
			waits = append(waits, w)
		}
		of[w] = append(of[w], f)
	}
	slices.SortStableFunc(waits, func(a, b wait) int {
		switch {
		case a.then.Over(b.then):
			return -1
		case b.then.Over(a.then):
			return 1
		}
		return cmp.Compare(a.minutes, b.minutes)
	})
	// The first of them; the rest is counted, and in the basis.
	shown := min(len(waits), max(1, limit/24))
	var lines []Line
	for _, w := range waits[:shown] {
		lines = append(lines, Line{Strong: true, Text: c.say("report.ring.again", "time", c.minutes(w.minutes),
			"list", c.fit(c.phrases(of[w], 0), "; ", limit/shown), "then", c.say("then."+string(w.then)))})
	}
	if left := len(waits) - shown; left > 0 {
		lines = append(lines, Line{Text: upper(c.say("report.more", "n", itoa(left))) + "."})
	}
	return lines
}

// danger tells the rules that say to call now, the gravest finding first; where there is none, what the others say, or
// that nobody's rule covers what was seen, and how much was not checked.
func (c *caller) danger(o opening) []Line {
	if now := c.of(vitals.RingNow); len(now) > 0 {
		return []Line{{Text: c.say("report.ring.now", "list", c.shorter(c.reasons(now), o)), Strong: true}}
	}
	var said []string
	switch level := vitals.Strongest(c.in.Comparison.Alarms); {
	case level != "":
		said = append(said, c.say("report.ring.level", "level", c.say("urgency."+string(level))))
	case c.in.Exam.Concerned():
		said = append(said, c.say("report.ring.concern"))
	case len(c.in.Comparison.Signs) > 0:
		said = append(said, c.say("report.ring.none"))
	}
	n := missing(c.in.Comparison)
	switch {
	case len(c.in.Comparison.Signs) == 0:
		said = append(said, c.say("report.ring.nothing"))
	case n == 0:
		said = append(said, c.say("report.unchecked.all"))
	default:
		said = append(said, c.say("report.ring.unchecked", "n", itoa(n)))
	}
	return []Line{{Text: strings.Join(said, " "), Strong: len(said) > 1 && c.in.Exam.Concerned()}}
}

// shorter says reasons in the room of the opening: the first with what was found, the others by the names of their signs, at
// the least one for each problem.
func (c *caller) shorter(all []reason, o opening) string {
	var said, names, kept []string
	told := map[vitals.Problem]bool{}
	for i, r := range all {
		fresh := slices.ContainsFunc(r.problems, func(p vitals.Problem) bool { return !told[p] })
		name := cmp.Or(r.said, c.sign(r.sign, ""))
		switch {
		case i < o.dangers:
			said = append(said, cmp.Or(r.said, c.phrase(r.sign, o.left)))
		case fresh:
			kept = append(kept, name)
			fallthrough
		default:
			names = append(names, name)
		}
		for _, p := range r.problems {
			told[p] = true
		}
	}
	if len(names) == 0 {
		return strings.Join(said, "; ")
	}
	named := c.say("report.below.list", "list", c.list(names))
	if left := len(names) - len(kept); o.oneEach && left > 0 {
		// Two names may be shorter than their count.
		if counted := strings.Join(append(kept, c.say("report.more", "n", itoa(left))), "; "); aloud(counted) < aloud(named) {
			named = counted
		}
	}
	said = append(said, named)
	return strings.Join(said, "; ")
}
