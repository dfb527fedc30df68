package vitals

import (
	"slices"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"
)

// The order of the reasons as it was asked for by a veterinarian who read the reports: of each pair, what stands first takes
// life sooner.
func TestGravestInItsOrder(t *testing.T) {
	t.Parallel()
	steps := "down, bleeding, cannot breathe, collapse, birth, circulation, belly, swallowing, very high temperature, heart, temperature"
	var got []string
	for _, g := range Gravest() {
		sign, known := Lookup(g.Sign)
		td.CmpTrue(t, known, "%s", g.Sign)
		td.Cmp(t, g.Mark, Assumed, "the order is ours")
		for _, id := range g.Grades {
			grade, ok := sign.Grade(id)
			td.Cmp(t, ok && grade.Rank > 0, true, "%s.%s", g.Sign, id)
		}
		if !slices.Contains(got, g.Note) {
			got = append(got, g.Note)
		}
		td.Cmp(t, got[len(got)-1], g.Note, "a step stands together")
	}
	td.Cmp(t, strings.Join(got, ", "), steps)
	td.Cmp(t, Gravity(Coat, Found{Chosen: []GradeID{"sweating"}}), len(Gravest()))
	td.Cmp(t, Gravity(Attitude, Found{Chosen: []GradeID{"dull"}}), len(Gravest()))
	hot := func(v float64) int { return Gravity(RectalTemperature, Found{Value: v}) }
	heart := Gravity(HeartRate, Found{Value: 68})
	td.Cmp(t, []bool{hot(41) < heart, hot(40) < heart, hot(39.9) > heart}, []bool{true, true, true})
	Gravest()[1].Grades[0] = "none"
	td.Cmp(t, Gravity(Wounds, Found{Chosen: []GradeID{"heavy"}}), 1, "the copies are the caller's own")
}

// Over every presentation that needs a call now: the rules stand in the order of what was found, none is lost, and
// whatever the first step of the order names there is at the first rule.
func TestWorstFirstOfThePresentations(t *testing.T) {
	t.Parallel()
	looked := 0
	for _, p := range readPresentations(t, "presentations.jsonl") {
		if p.Expect != RingNow {
			continue
		}
		e := p.exam()
		fired := FiredAlarms(p.horse(), e)
		out := WorstFirst(fired, e.Found)
		td.Cmp(t, out, td.Bag(td.Flatten(fired)), p.ID)
		of := func(f Fired) int {
			least := Gravity(f.Sign, e.Found(f.Sign))
			for _, s := range f.With {
				least = min(least, Gravity(s, e.Found(s)))
			}
			return least
		}
		for i := 1; i < len(out); i++ {
			if of(out[i-1]) > of(out[i]) {
				t.Errorf("%s: %s before %s", p.ID, out[i-1].Alarm, out[i].Alarm)
			}
		}
		for _, f := range e.Findings {
			// Who is down and does not rise, or bleeds heavily, is named at the first rule.
			if place := Gravity(f.Sign, Found{Chosen: f.Chosen}); place <= 1 && f.Absent == "" && slices.ContainsFunc(fired, func(x Fired) bool { return x.Sign == f.Sign }) {
				td.Cmp(t, of(out[0]) <= place, true, "%s: %s first", p.ID, out[0].Alarm)
				looked++
			}
		}
	}
	td.Cmp(t, looked > 5, true, "%d looked at", looked)
}

// Concerned, a hot day, and an age by the moment of birth.
func TestConcernedHotAndAge(t *testing.T) {
	t.Parallel()
	for want, list := range map[bool][]Exam{
		true: {{Purpose: Concern}, {Purpose: Routine, Wellness: Unwell}, {Story: &Story{Noticed: "ate about 10 kg of grain"}},
			{Story: &Story{Course: Worse}}, {Story: &Story{Ask: AskCome}}},
		false: {{}, {Purpose: Learning, Wellness: Well}, {Story: &Story{Noticed: " ", Course: Better, Ask: AskAdvise, Passed: "two piles"}}},
	} {
		for _, e := range list {
			td.Cmp(t, e.Concerned(), want, "%+v", e)
		}
	}
	air := func(value string, unit Unit) *Exam {
		return &Exam{Air: &Air{Temperature: &Reading{Value: decimal.RequireFromString(value), Unit: unit}}}
	}
	td.Cmp(t, []bool{air("30", Celsius).Hot(), air("86", Fahrenheit).Hot(), air("29.9", Celsius).Hot(), (&Exam{}).Hot()}, []bool{true, true, false, false})
	h := Horse{BornAt: hoursBefore(6)}
	_, known := h.Age(testMoment)
	td.CmpFalse(t, known, "without a day")
	h.Born = DateOf(h.BornAt)
	age, known := h.Age(testMoment)
	td.Cmp(t, age.Hours(), 6.0)
	td.CmpTrue(t, known)
	_, known = h.Age(hoursBefore(7))
	td.CmpFalse(t, known, "before the birth")
	h.BornAt = hoursBefore(24 * 9)
	_, known = h.Age(testMoment)
	td.CmpFalse(t, known, "a moment that is not of its day")
}
