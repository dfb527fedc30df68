package vitals

import (
	"slices"

	"github.com/shopspring/decimal"
)

// The rules, by problem, in files of their own. Where two sources speak of one threshold the one
// that was read stands. A row of common practice has no published number behind it.
var alarms = prepared(slices.Concat(
	attitudeRules(), nerveRules(), bellyRules(), intakeRules(), gumRules(), heartRules(), breathRules(), noseRules(),
	temperatureRules(), heatRules(), footRules(), muscleRules(), woundRules(), swallowRules(), mareRules(), foalRules(),
	latelyRules(),
))

func prepared(rules []*Alarm) []Alarm {
	list := make([]Alarm, len(rules))
	for i := range list {
		list[i] = *rules[i]
		a := &list[i]
		a.Test = a.Test.ready()
		for _, tests := range [][]Test{a.With, a.Unless, a.Any} {
			for j := range tests {
				tests[j] = tests[j].ready()
			}
		}
	}
	return list
}

var (
	horsesMules  = []Type{TypeHorse, TypePony, TypeDraft, TypeMule}
	notDonkeys   = []Type{TypeHorse, TypePony, TypeDraft}
	foalStages   = []Stage{Newborn, Neonate, Foal}
	pastFoal     = []Stage{Weanling, Yearling, TwoYearOld, Adult, Senior}
	pastWeek     = []Stage{Foal, Weanling, Yearling, TwoYearOld, Adult, Senior}
	grown        = []Stage{TwoYearOld, Adult, Senior}
	firstDays    = []Stage{Newborn, Neonate}
	olderAnimals = Group{Stages: pastFoal}
	foals        = Group{Stages: foalStages}
	grownHorses  = Group{horsesMules, grown}
	grownDonkeys = Group{[]Type{TypeDonkey}, grown}
)

func number(s string) decimal.NullDecimal {
	return decimal.NewNullDecimal(decimal.RequireFromString(s))
}

// What follows keeps the rules short.

// What a rule is made of goes by reference while the list is built: copies of it would be most of the code.

// is tests that one of the answers was chosen.
func is(sign SignID, grades ...GradeID) *Test { return &Test{Sign: sign, Grades: grades} }

// above tests that a number is over a limit, from that it reaches it, below that it is under.
func above(sign SignID, limit string, unit Unit) *Test {
	return &Test{Sign: sign, Above: number(limit), Unit: unit}
}

func from(sign SignID, limit string, unit Unit) *Test {
	return &Test{Sign: sign, Above: number(limit), Unit: unit, AndEqual: true}
}

func below(sign SignID, limit string, unit Unit) *Test {
	return &Test{Sign: sign, Below: number(limit), Unit: unit}
}

// warm is a fever beside another sign: 101.5 °F as a thermometer in tenths of a degree Celsius shows it.
func warm() *Test { return from(RectalTemperature, "38.6", Celsius) }

// sites narrows a test to places, at so many of which it must hold.
func (t *Test) sites(atLeast int, sites ...SiteID) *Test {
	t.Sites, t.AtLeast = sites, atLeast
	return t
}

func fact(f Fact) *Test { return &Test{Fact: f} }

// minutes tests a clock: from so many minutes on, and before to; 0 leaves a side open.
func minutes(c Clock, from, to int) *Test { return &Test{Clock: c, From: from, To: to} }

// now and soon are rules of one test.
func now(id AlarmID, p Problem, t *Test, why *Provenance) *Alarm {
	return &Alarm{ID: id, Test: *t, Urgency: RingNow, Problem: p, Provenance: *why}
}

func soon(id AlarmID, p Problem, t *Test, why *Provenance) *Alarm {
	a := now(id, p, t, why)
	a.Urgency = RingSoon
	return a
}

// again is a rule to check again after some minutes, and what it is if still so.
func again(id AlarmID, p Problem, t *Test, minutes int, then Urgency, why *Provenance) *Alarm {
	a := now(id, p, t, why)
	a.Urgency, a.Minutes, a.Then = CheckAgain, minutes, then
	return a
}

// severalOf is a rule of several signs of equal weight, of which so many must hold.
func severalOf(id AlarmID, p Problem, need int, why *Provenance, tests ...*Test) *Alarm {
	return now(id, p, &Test{}, why).beside(tests...).needing(need)
}

// of narrows a rule to a group of animals.
func (a *Alarm) of(g *Group) *Alarm { a.Group = *g; return a }

// with adds what must hold beside the test.
func (a *Alarm) with(tests ...*Test) *Alarm { a.With = appended(a.With, tests); return a }

// unless adds what must not hold.
func (a *Alarm) unless(tests ...*Test) *Alarm { a.Unless = appended(a.Unless, tests); return a }

// beside asks for one of several.
func (a *Alarm) beside(tests ...*Test) *Alarm { a.Any, a.Need = appended(nil, tests), 1; return a }

func (a *Alarm) needing(n int) *Alarm { a.Need = n; return a }

// calm: in an excited horse with nothing else amiss it is counted again first.
func (a *Alarm) calm() *Alarm { a.Calm = true; return a }

// first is done before the call.
func (a *Alarm) first(act ActID) *Alarm { a.First = act; return a }

func appended(to []Test, tests []*Test) []Test {
	for _, t := range tests {
		to = append(to, *t)
	}
	return to
}

func readIn(s SourceID, note string) *Provenance { return &Provenance{s, Read, note} }

// derived: the limit or the combination is ours, from what the source prints.
func derived(s SourceID, note string) *Provenance { return &Provenance{s, Derived, note} }

func practice(note string) *Provenance { return &Provenance{Mark: CommonPractice, Note: note} }

func ours(note string) *Provenance { return &Provenance{Mark: Assumed, Note: note} }
