package report

import (
	"cmp"
	"slices"
	"strings"

	"whorl.example/baseline"
	"whorl.example/baseline/internal/stable"
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

// reason is a sign that rules rest on; or a rule in its own words, where it rests on what the story says and what was
// found is a usual answer.
type reason struct {
	sign vitals.SignID
	said string
}

// reasons are the signs that rules rest on, each once, the gravest first. A rule to call now of which only usual answers were found, since it
// adds up others or the story, rests on the signs of those.
func (c *caller) reasons(fired []vitals.Fired) []reason {
	var out []reason
	add := func(r reason) {
		if !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	for _, f := range fired {
		if !f.Seen.IsZero() {
			add(reason{said: c.held(f)})
			continue
		}
		ids := c.signsOf(f)
		if len(ids) == 0 && f.Urgency == vitals.RingNow {
			for _, o := range c.in.Comparison.Alarms {
				ids = append(ids, c.signsOf(o)...)
			}
		}
		for _, id := range ids {
			add(reason{sign: id})
		}
		if alarm := "alarm." + string(f.Alarm); len(ids) == 0 && words.Has(c.lang, alarm) {
			add(reason{said: lowerFirst(strings.TrimRight(c.say(alarm), "."))})
		} else if len(ids) == 0 {
			add(reason{sign: f.Sign})
		}
	}
	stable.Sort(out, func(a, b reason) int { return cmp.Compare(c.place(a.sign), c.place(b.sign)) })
	return out
}

// held says what an earlier look saw, and when.
func (t telling) held(f vitals.Fired) string {
	what := lowerFirst(strings.TrimRight(t.first(string(f.Alarm), "alarm."+string(f.Alarm)), "."))
	return t.say("report.held", "at", t.when(f.Seen, f.Seen), "what", what)
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

// waiting says what is to be checked again, and what follows: one line for each time and level.
func (c *caller) waiting() []Line {
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
	stable.Sort(waits, func(a, b wait) int {
		switch {
		case a.then.Over(b.then):
			return -1
		case b.then.Over(a.then):
			return 1
		}
		return cmp.Compare(a.minutes, b.minutes)
	})
	var lines []Line
	for _, w := range waits {
		lines = append(lines, Line{Strong: true, Text: c.say("report.ring.again", "time", c.minutes(w.minutes),
			"list", strings.Join(c.phrases(of[w]), "; "), "then", c.say("then."+string(w.then)))})
	}
	return lines
}
