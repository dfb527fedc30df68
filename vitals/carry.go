package vitals

import "slices"

// Carrying gives a recheck with what was told at the first look and the rechecks since: what was noticed and when it began,
// the number to call back, the place, what changed, earlier illness, and everything that was given. What the recheck says itself
// goes before. An exam that is no recheck comes back as it is.
func (e Exam) Carrying(earlier []Exam) Exam {
	if e.RecheckOf == "" {
		return e
	}
	var run []Exam
	for _, o := range earlier {
		if o.Horse == e.Horse && o.ID != e.ID && o.Story != nil && (o.ID == e.RecheckOf || o.RecheckOf == e.RecheckOf) && o.At.Before(e.At) {
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
