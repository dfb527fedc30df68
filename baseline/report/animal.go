package report

import (
	"slices"
	"strings"
	"time"

	"whorl.example/vitals"
)

// animal tells when and in which state it was checked, and what the opening left of who it is.
func (c *caller) animal() []Line {
	e := c.in.Exam
	var lines []Line
	if whole := c.signalment(true); c.leaves >= leaveBreed && whole != c.signalment(false) {
		lines = append(lines, Line{Text: upper(whole) + "."})
	}
	if e.At.IsZero() {
		return append(lines, c.handling()...)
	}
	// Of a full exam of which two signs were taken a listener would think that it was whole.
	state := "report.state"
	if is := standingOf(c.in.Comparison); is.unusual+is.first+is.recorded+is.only+is.usual < missing(c.in.Comparison) {
		state = "report.state.part"
	}
	lines = append(lines, Line{
		Text: c.say(state, "when", c.when(e.At, e.At), "state", c.state(),
			"depth", c.inside(string(e.Depth), "depth."+string(e.Depth))),
		Strong: e.State.Condition != vitals.AtRest && e.State.Condition != "",
	})
	if air := c.air(); air != "" && e.Hot() {
		lines = append(lines, Line{Text: air, Strong: true})
	}
	if e.Masked() {
		lines = append(lines, Line{Text: c.say("report.masked"), Strong: true})
	}
	return append(lines, c.handling()...)
}

// handling tells what whoever comes must know of the horse, and, where somebody is called or asked to come, what is decided before
// a drive to a clinic.
func (c *caller) handling() []Line {
	h := c.in.Horse
	var lines []Line
	if text := bare(h.Handling); text != "" {
		lines = append(lines, Line{Text: c.say("report.labelled", "label", c.say("report.handling"), "text", c.below("report.handling", text, 12)), Strong: true})
	}
	called := slices.ContainsFunc(c.in.Comparison.Alarms, func(f vitals.Fired) bool { return f.Urgency == vitals.RingNow })
	if !called && c.story_().Ask != vitals.AskCome {
		return lines
	}
	for _, f := range []struct {
		reply   vitals.Reply
		yes, no string
	}{{h.Insured, "report.insured.yes", "report.insured.no"}, {h.Referral, "report.referral.yes", "report.referral.no"}} {
		switch f.reply {
		case vitals.Yes:
			lines = append(lines, Line{Text: c.say(f.yes)})
		case vitals.No:
			lines = append(lines, Line{Text: c.say(f.no)})
		}
	}
	return lines
}

// signalment is who it is in one phrase: "9-year-old Quarter Horse mare, in foal, about 415 kg".
func (c *caller) signalment(whole bool) string {
	h, at := c.in.Horse, c.in.Exam.At
	stage, _ := h.StageAt(at)
	kind := c.inside(string(h.Sex), "sex."+string(h.Sex))
	switch young := slices.Contains([]vitals.Stage{vitals.Newborn, vitals.Neonate, vitals.Foal, vitals.Weanling}, stage); {
	case young && h.Type == vitals.TypeDonkey:
		kind = c.say("report.young.donkey")
	case young && h.Type == vitals.TypeMule:
		kind = c.say("report.young.mule")
	case young:
		kind = c.say("report.young")
	case h.Type != "":
		kind = c.inside(string(h.Type), "report.type."+string(h.Type), "type."+string(h.Type))
	}
	breed := ""
	if whole {
		breed = c.cut(c.say("report.breed"), bare(h.Breed), 4)
	}
	age, after := c.age()
	facts := []string{strings.Join(strings.Fields(c.say("report.signalment", "age", age, "breed", breed, "kind", kind)), " "), after}
	if h.Sex == "" {
		facts = append(facts, c.say("report.sex.ask"))
	}
	if h.InFoal {
		infoal := c.say("report.infoal")
		// A day that has long passed was for another foal.
		if late := daysBetween(h.Due.In(zone(at)), at); !h.Due.IsZero() && !at.IsZero() && late < 60 && whole {
			infoal = c.say("report.infoal.due", "infoal", infoal, "day", c.dayMonth(h.Due))
		}
		facts = append(facts, infoal)
	}
	if ago := at.Sub(h.FoaledAt); !h.FoaledAt.IsZero() && ago >= 0 && ago < vitals.BroodDays*24*time.Hour {
		facts = append(facts, c.say("report.foaled", "time", c.ago(ago)))
	}
	for _, s := range c.in.Comparison.Signs {
		if s.Sign == vitals.Weight && s.Measure != nil && finite(s.Measure.Value) && whole {
			facts = append(facts, c.say("report.weight", "weight", c.value(s)))
		}
	}
	return joined(facts...)
}

// joined puts those texts that are not empty in a row.
func joined(texts ...string) string { return strings.Join(filled(texts), ", ") }

func filled(texts []string) []string {
	return slices.DeleteFunc(texts, func(s string) bool { return s == "" })
}

// age in the unit in which an age is told: hours to two days, days to three weeks, months to two years. What goes with the kind
// of animal comes first, the others are told after it.
func (c *caller) age() (with, after string) {
	h, at := c.in.Horse, c.in.Exam.At
	if h.Born.IsZero() || at.IsZero() || h.DateDoubt(at) != vitals.DateSound {
		return "", c.say("report.age.ask")
	}
	days := daysBetween(h.Born.In(zone(at)), at)
	if days < 0 {
		return "", c.say("report.age.ask")
	}
	of := func(key string, n int) (string, string) { return c.say(key, "n", itoa(n)), "" }
	switch age, known := h.Age(at); {
	case known && age < 2*time.Hour:
		return of("report.age.minutes", int(age.Minutes()))
	case known && age < 48*time.Hour:
		return of("report.age.hours", int(age.Hours()))
	}
	y, m, d := at.In(zone(at)).Date()
	months := (y-h.Born.Year)*12 + int(m-h.Born.Month)
	if d < h.Born.Day {
		months--
	}
	switch {
	case h.BornYearOnly && y-h.Born.Year >= 1:
		return "", c.say("report.age.about", "n", itoa(y-h.Born.Year))
	case h.BornYearOnly:
		return "", c.say("report.age.born", "n", itoa(h.Born.Year))
	case days == 0:
		return "", c.say("report.age.today")
	case days <= 21:
		return of("report.age.days", days)
	case months < 24:
		return of("report.age.months", max(1, months))
	}
	return of("report.age.years", months/12)
}

// ago says a time that has passed: minutes to two hours, hours to two days, then days.
func (c *caller) ago(d time.Duration) string {
	switch {
	case d < 2*time.Hour:
		return c.say("again.minutes", "n", itoa(int(d.Minutes())))
	case d < 48*time.Hour:
		return c.say("again.hours", "n", itoa(int(d.Hours())))
	}
	return c.say("again.days", "n", itoa(int(d.Hours()/24)))
}

// state says the set of conditions, each with what belongs to it.
func (c *caller) state() string {
	e := c.in.Exam
	var all []string
	for _, x := range append([]vitals.Condition{e.State.Condition}, e.State.Also...) {
		state := c.inside(string(x), "condition."+string(x))
		if x == vitals.AfterWork {
			if e.State.Effort != "" {
				state = c.say("report.state.effort", "state", state,
					"effort", c.inside(string(e.State.Effort), "effort."+string(e.State.Effort)))
			}
			state = c.say("report.state.since", "state", state, "n", itoa(e.State.SinceMinutes))
		}
		all = append(all, state)
	}
	if e.Masked() && !e.State.In(vitals.Medicated) && sedated(c.story_().Given) {
		all = append(all, c.inside(string(vitals.Medicated), "condition."+string(vitals.Medicated)))
	}
	return strings.Join(all, "; ")
}

// sedated reports whether the story alone tells of a sedative: in both languages its words begin alike (sedative, sedated; sedante, sedación).
func sedated(given []vitals.Given) bool {
	return slices.ContainsFunc(given, func(g vitals.Given) bool { return strings.Contains(strings.ToLower(g.What), "seda") })
}
