package vitals

import (
	"slices"
	"time"
)

// heldHours is for how long a rule to call now holds at a sign that was not looked at again.
const heldHours = 12

// Carrying gives a recheck with what was told at the first look and the rechecks since: what was noticed and when it began,
// the number to call back, the place, what changed, earlier illness, and everything that was given. What the recheck says itself
// goes before. An exam that is no recheck comes back as it is.
func (e Exam) Carrying(earlier []Exam) Exam {
	if e.RecheckOf == "" {
		return e
	}
	var run []Exam
	for _, o := range earlier {
		if o.Story != nil && o.sameCase(e) {
			// Newest first; they are few.
			at := 0
			for at < len(run) && !o.At.After(run[at].At) {
				at++
			}
			run = append(run[:at:at], append([]Exam{o}, run[at:]...)...)
		}
	}
	if len(run) == 0 {
		return e
	}
	var s Story
	if e.Story != nil {
		s = *e.Story
	}
	fill := func(to *string, from string) {
		if blank(*to) {
			*to = from
		}
	}
	given := slices.Clone(s.Given)
	for _, o := range run {
		t := o.Story
		if blank(s.Noticed) && s.Since.IsZero() {
			s.Noticed, s.Since = t.Noticed, t.Since
		}
		fill(&s.Callback, t.Callback)
		fill(&s.Stands, t.Stands)
		fill(&s.Changed, t.Changed)
		fill(&s.History, t.History)
		for i := len(t.Given) - 1; i >= 0; i-- {
			if g := t.Given[i]; !slices.ContainsFunc(given, func(o Given) bool { return o == g || o.At.Equal(g.At) && o.What == g.What && o.Dose == g.Dose }) {
				given = slices.Insert(given, 0, g)
			}
		}
	}
	// "Nothing" goes where something was given at another look.
	if some := slices.DeleteFunc(slices.Clone(given), Given.none); len(some) > 0 {
		given = some
	}
	s.Given = given
	e.Story = &s
	return e
}

// sameCase reports whether o is an earlier look of the case of which e is a recheck.
func (o Exam) sameCase(e Exam) bool {
	return e.RecheckOf != "" && o.Horse == e.Horse && o.ID != e.ID && (o.ID == e.RecheckOf || o.RecheckOf == e.RecheckOf) && o.At.Before(e.At)
}

// HeldAlarms gives the rules to call now that fired at the earlier looks of a recheck's case, up to twelve hours before, at signs or
// places of a sign that nobody looked at since: what was not looked at again is not gone. Of each sign it is the gravest rule, with the last time it was seen.
func HeldAlarms(h Horse, e Exam, earlier []Exam) []Fired {
	if e.RecheckOf == "" {
		return nil
	}
	var run []*Exam
	for i := range earlier {
		if o := &earlier[i]; o.Status != Withdrawn && o.sameCase(e) && e.At.Sub(o.At) <= heldHours*time.Hour {
			run = append(run, o)
		}
	}
	// Newest first, so that a sign is judged by the last look at it.
	slices.SortStableFunc(run, func(a, b *Exam) int { return b.At.Compare(a.At) })
	var seen []Finding // since the look in hand
	looked := func(sign SignID, site SiteID) bool {
		return slices.ContainsFunc(seen, func(f Finding) bool {
			return f.Sign == sign && f.Absent == "" && (site == "" || f.Site == "" || f.Site == site)
		})
	}
	// Of a sign taken at several places, one that nobody looked at again is enough.
	again := func(f Fired) bool {
		return looked(f.Sign, "") && !slices.ContainsFunc(f.Sites, func(site SiteID) bool { return !looked(f.Sign, site) })
	}
	seen = append(seen, e.Findings...)
	var held []Fired
	for _, o := range run {
		for _, f := range WorstFirst(FiredAlarms(h, *o), o.Found) {
			if f.Urgency == RingNow && !again(f) && !slices.ContainsFunc(held, func(h Fired) bool { return h.Sign == f.Sign }) {
				f.Seen = o.At
				held = append(held, f)
			}
		}
		seen = append(seen, o.Findings...)
	}
	return held
}
