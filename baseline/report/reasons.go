package report

import (
	"cmp"
	"slices"
	"strings"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// urgentFirst is the order in which problems are told where several rules of one level fired: what takes life
// within minutes first (assumed: bleeding, birth, breath and circulation go before all else, as in first aid).
var urgentFirst = []vitals.Problem{
	vitals.ProblemBleeding, vitals.ProblemFoaling, vitals.ProblemBreath, vitals.ProblemCirculation, vitals.ProblemHeat,
	vitals.ProblemNerves, vitals.ProblemBelly, vitals.ProblemFoal, vitals.ProblemMare, vitals.ProblemSwallow, vitals.ProblemMuscle,
	vitals.ProblemLimb, vitals.ProblemWound, vitals.ProblemEye, vitals.ProblemFeet, vitals.ProblemNose, vitals.ProblemGut,
	vitals.ProblemHeart, vitals.ProblemFever, vitals.ProblemFeed, vitals.ProblemSkin, vitals.ProblemOther,
}

// worstFirst puts rules in the order of their problems; those of a clinic, which name none, come last.
func worstFirst(fired []vitals.Fired) []vitals.Fired {
	place := func(f vitals.Fired) int {
		if i := slices.Index(urgentFirst, f.Problem); i >= 0 {
			return i
		}
		return len(urgentFirst)
	}
	out := slices.Clone(fired)
	slices.SortStableFunc(out, func(a, b vitals.Fired) int { return cmp.Compare(place(a), place(b)) })
	return out
}

// reasons are the rules of a level, worst problem first.
func (c *caller) reasons(u vitals.Urgency) []vitals.Fired {
	var out []vitals.Fired
	for _, f := range worstFirst(c.in.Comparison.Alarms) {
		if f.Urgency == u {
			out = append(out, f)
		}
	}
	return out
}

// named reports whether a rule that fired rests on a finding.
func (c *caller) named(s baseline.Compared) bool {
	return slices.ContainsFunc(c.in.Comparison.Alarms, func(f vitals.Fired) bool {
		there := len(f.Sites) == 0 || s.Site == "" || slices.Contains(f.Sites, s.Site)
		return f.Sign == s.Sign && there || slices.Contains(f.With, s.Sign)
	})
}

// phrases says what was found of the signs that rules rest on, each once: one phrase for a combination, or where the
// lesser facts are left to later parts, the signs at which the rules fired and after them the others.
func (c *caller) phrases(fired []vitals.Fired, left int) []string {
	var out []string
	told := map[vitals.SignID]bool{}
	tell := func(ids ...vitals.SignID) {
		var items []string
		for _, id := range ids {
			if !told[id] {
				told[id] = true
				items = append(items, c.phrase(id, left))
			}
		}
		switch len(items) {
		case 0:
		case 1:
			out = append(out, items[0])
		default:
			out = append(out, c.say("report.with", "a", items[0], "b", c.list(items[1:])))
		}
	}
	for _, f := range fired {
		if left < leaveBouts {
			tell(append([]vitals.SignID{f.Sign}, f.With...)...)
		} else {
			tell(f.Sign)
		}
	}
	for _, f := range fired {
		for _, id := range f.With {
			tell(id)
		}
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
	case left >= leaveValues || len(of) == 0:
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
	again := c.reasons(vitals.CheckAgain)
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

// danger tells the rules that say to call now, each with what was found; where there is none, that, and how much was
// not checked.
func (c *caller) danger(o opening) []Line {
	now := c.reasons(vitals.RingNow)
	if len(now) == 0 {
		if len(c.in.Comparison.Signs) == 0 {
			return []Line{{Text: c.say("report.ring.nothing")}}
		}
		unchecked := c.say("report.unchecked.all")
		if n := missing(c.in.Comparison); n > 0 {
			unchecked = c.say("report.ring.unchecked", "n", itoa(n))
		}
		return []Line{{Text: c.say("report.ring.none") + " " + unchecked}}
	}
	items := c.phrases(now, o.left)
	list := strings.Join(items, "; ")
	switch {
	case o.dangers == 0:
		list = c.say("report.more.only", "n", itoa(len(items)))
	case len(items) > o.dangers:
		list = strings.Join(items[:o.dangers], "; ") + "; " +
			c.say("report.more", "n", itoa(len(items)-o.dangers))
	}
	return []Line{{Text: c.say("report.ring.now", "n", itoa(len(items)), "list", list), Strong: true}}
}
