package vitals

import (
	"bufio"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"
)

// ruleCase is one line of testdata/rules.txt: a rule, whether it must fire, and an animal with an exam. The lines
// were drafted from the rules once and read against the printed limits; they are data now, so that a rule that is
// taken away, or a limit that moves by one unit, fails the line that names it.
//
//	heart-high | loud | horse adult | heart-rate=60 /min
//	heat-41 | quiet | horse adult after-work:5 | rectal-temperature=40.9 Cel
type ruleCase struct {
	rule AlarmID
	loud bool
	h    Horse
	e    Exam
	line string
}

func ruleCases(t *testing.T) []ruleCase {
	f, err := os.Open("testdata/rules.txt")
	td.Require(t).CmpNoError(err)
	defer f.Close()
	var out []ruleCase
	for lines := bufio.NewScanner(f); lines.Scan(); {
		line := lines.Text()
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		part := strings.Split(line, " | ")
		if len(part) != 4 {
			t.Fatalf("%q: four parts", line)
		}
		c := ruleCase{rule: AlarmID(part[0]), loud: part[1] == "loud", e: examOf(), line: line}
		c.e.Purpose = Concern
		c.animal(t, strings.Fields(part[2]))
		for _, text := range strings.Split(part[3], ", ") {
			if text != "-" {
				c.e.Findings = append(c.e.Findings, findingOf(t, text))
			}
		}
		out = append(out, c)
	}
	return out
}

// animal reads the animal and what is said of the exam: type, stage, then marks.
func (c *ruleCase) animal(t *testing.T, words []string) {
	c.h = animal(Type(words[0]), Stage(words[1]))
	c.e.State = State{}
	for _, w := range words[2:] {
		name, number, _ := strings.Cut(w, ":")
		n, _ := strconv.Atoi(number)
		ago := testMoment.Add(-time.Duration(n) * time.Minute)
		switch name {
		case "after-work", "excited", "medicated":
			if c.e.State.Condition == "" {
				c.e.State.Condition = Condition(name)
			} else {
				c.e.State.Also = append(c.e.State.Also, Condition(name))
			}
			if name == "after-work" {
				c.e.State.SinceMinutes = n
			}
		case "routine":
			c.e.Purpose = Routine
		case "after-easy-work":
			c.e.State = State{Condition: AfterWork, SinceMinutes: n, Effort: Easy}
		case "worse":
			c.e.Story = &Story{Course: Worse}
		case "come":
			c.e.Story = &Story{Ask: AskCome}
		case "recheck":
			c.e.RecheckOf = "before"
		case "air":
			c.e.Air = &Air{Temperature: &Reading{Value: decimal.NewFromInt(int64(n)), Unit: Celsius}}
		case "male":
			c.h.Sex = Gelding
		case "in-foal":
			c.h.Sex, c.h.InFoal = Mare, true
		case "foaled":
			c.h.Sex, c.h.FoaledAt = Mare, ago
		case "born":
			c.h.BornAt, c.h.Born = ago, DateOf(ago)
		default:
			t.Fatalf("%q of %q", w, c.line)
		}
	}
	if c.e.State.Condition == "" {
		c.e.State.Condition = AtRest
	}
}

// findingOf reads sign=answer+answer@site+site or sign=number unit.
func findingOf(t *testing.T, text string) Finding {
	id, value, ok := strings.Cut(text, "=")
	s, known := Lookup(SignID(id))
	if !ok || !known {
		t.Fatalf("%q is no finding", text)
	}
	if s.Kind.Measured() {
		number, unit, _ := strings.Cut(value, " ")
		return valued(s, decimal.RequireFromString(number), Unit(unit))
	}
	value, sites, _ := strings.Cut(value, "@")
	f := Finding{Sign: s.ID}
	for _, g := range strings.Split(value, "+") {
		f.Chosen = append(f.Chosen, GradeID(g))
	}
	if sites != "" && s.PerSite {
		f.Site = SiteID(sites)
	} else if sites != "" {
		for _, x := range strings.Split(sites, "+") {
			f.Where = append(f.Where, SiteID(x))
		}
	}
	return f
}

// fires reports whether the rule fires by itself, whatever a more urgent rule of its sign says.
func (c *ruleCase) fires() bool {
	var v view
	v.look(c.h, &c.e, nil)
	v.other = v.fire(nil, false)
	return slices.ContainsFunc(v.fire(slices.Clip(v.other), true), func(f Fired) bool { return f.Alarm == c.rule })
}

func TestEveryRuleHasItsCases(t *testing.T) {
	t.Parallel()
	cases := ruleCases(t)
	for i := range cases {
		c := &cases[i]
		if e := CheckExam(c.e, c.h); len(e) > 0 {
			t.Errorf("%s: %v", c.line, e)
		}
		if c.fires() != c.loud {
			t.Errorf("rule %s: fires is %v of: %s", c.rule, !c.loud, c.line)
		}
	}
	for _, a := range alarms {
		for _, loud := range []bool{true, false} {
			if !slices.ContainsFunc(cases, func(c ruleCase) bool { return c.rule == a.ID && c.loud == loud }) {
				t.Errorf("rule %s has no case that is %s", a.ID, map[bool]string{true: "loud", false: "quiet"}[loud])
			}
		}
	}
}

// A rule taken away, or one of its limits moved by one unit of its last place, or met or not met exactly, fails a case
// that names it.
//
// It changes the rules in place, so that it runs before the tests that run side by side.
func TestMutatedRulesAreNoticed(t *testing.T) {
	cases := map[AlarmID][]ruleCase{}
	for _, c := range ruleCases(t) {
		cases[c.rule] = append(cases[c.rule], c)
	}
	noticed := func(id AlarmID) bool {
		return slices.ContainsFunc(cases[id], func(c ruleCase) bool { return c.fires() != c.loud })
	}
	mutants, survivors := 0, 0
	try := func(id AlarmID, what string) {
		mutants++
		if !noticed(id) {
			survivors++
			t.Errorf("rule %s: %s is noticed by no case", id, what)
		}
	}
	for i := range alarms {
		kept := alarms[i]
		facts := alarmFacts()
		types := facts[i].types
		facts[i].types = 0
		try(kept.ID, "that it is gone")
		facts[i].types = types
		alarms[i] = kept
		for name, tests := range map[string][]Test{"its own": {kept.Test}, "with": kept.With, "unless": kept.Unless, "any": kept.Any} {
			for j := range tests {
				for what, moved := range movedTests(tests[j]) {
					if name == "its own" {
						alarms[i].Test = moved
					} else {
						changed := slices.Clone(tests)
						changed[j] = moved
						switch name {
						case "with":
							alarms[i].With = changed
						case "unless":
							alarms[i].Unless = changed
						case "any":
							alarms[i].Any = changed
						}
					}
					try(kept.ID, fmt.Sprintf("%s test %d (%s%s%s): %s", name, j+1, tests[j].Sign, tests[j].Fact, tests[j].Clock, what))
					alarms[i] = kept
				}
			}
		}
	}
	t.Logf("%d mutants of %d rules, %d survived", mutants, len(alarms), survivors)
}

// movedTests are a test with its limit a unit up and down, and met exactly or not; a clock a minute on and back.
func movedTests(x Test) map[string]Test {
	out := map[string]Test{}
	limit := x.Above
	if x.Below.Valid {
		limit = x.Below
	}
	if limit.Valid {
		unit := decimal.New(1, min(0, limit.Decimal.Exponent()))
		set := func(d decimal.Decimal) Test {
			y := x
			if x.Below.Valid {
				y.Below = decimal.NewNullDecimal(d)
			} else {
				y.Above = decimal.NewNullDecimal(d)
			}
			return y.ready()
		}
		out["the limit a unit up"], out["the limit a unit down"] = set(limit.Decimal.Add(unit)), set(limit.Decimal.Sub(unit))
		y := x
		y.AndEqual = !x.AndEqual
		out["met exactly or not"] = y
	}
	if x.Clock != "" {
		for what, by := range map[string]int{"a minute later": 1, "a minute earlier": -1} {
			if x.From > 0 {
				y := x
				y.From += by
				out["from "+what] = y
			}
			if x.To > 0 {
				y := x
				y.To += by
				out["to "+what] = y
			}
		}
	}
	return out
}
