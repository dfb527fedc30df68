package vitals

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"whorl.example/vitals/internal/rules"
)

// alarms are the rules, by problem, in the order of their files. Where two sources speak of one threshold the one that was
// read stands. A row of common practice has no published number behind it.
var alarms = readRules(rules.Groups, rules.Behaviour, rules.Circulation, rules.Breath, rules.Heat, rules.Limbs, rules.Foal)

// ruleReader reads rules as they are written; how is said in package rules. What cannot be read is a
// mistake of ours, so that it panics, as a regular expression does.
type ruleReader struct {
	groups map[string]Group
	rules  []Alarm
	line   string
}

func readRules(texts ...string) []Alarm {
	r := ruleReader{groups: map[string]Group{}}
	for _, text := range texts {
		for r.line = range strings.Lines(text) {
			words := strings.Fields(r.line)
			switch {
			case len(words) == 0 || words[0] == "#":
			case words[0] == "group":
				r.group(words)
			case r.line[0] == '\t':
				r.more(words)
			default:
				r.begin(words)
			}
		}
	}
	return r.rules
}

func (r *ruleReader) must(ok bool) {
	if !ok {
		panic("vitals: a rule cannot be read: " + r.line)
	}
}

// group reads "group NAME: types / stages".
func (r *ruleReader) group(words []string) {
	slash := slices.Index(words, "/")
	r.must(slash >= 2)
	var g Group
	for _, t := range words[2:slash] {
		g.Types = append(g.Types, Type(t))
	}
	for _, s := range words[slash+1:] {
		g.Stages = append(g.Stages, Stage(s))
	}
	r.groups[strings.TrimSuffix(words[1], ":")] = g
}

// begin reads "now NAME PROBLEM: test" and "again MINUTES THEN NAME PROBLEM: test".
func (r *ruleReader) begin(words []string) {
	var a Alarm
	a.Urgency = Urgency(words[0])
	if a.Urgency == CheckAgain {
		r.must(len(words) > 4)
		a.Minutes, a.Then = r.whole(words[1]), Urgency(words[2])
		words = words[2:]
	}
	r.must(len(words) > 2)
	problem, asks := strings.CutSuffix(words[2], ":")
	a.ID, a.Problem = AlarmID(words[1]), Problem(problem)
	if asks {
		a.Test = r.test(words[3:])
	}
	r.rules = append(r.rules, a)
}

// more reads what else belongs to the rule.
func (r *ruleReader) more(words []string) {
	r.must(len(r.rules) > 0)
	a := &r.rules[len(r.rules)-1]
	switch words[0] {
	case "of":
		g, ok := r.groups[words[1]]
		r.must(ok)
		a.Group = Group{slices.Clone(g.Types), slices.Clone(g.Stages)}
	case "with":
		a.With = r.tests(words[1:])
	case "unless":
		a.Unless = r.tests(words[1:])
	case "beside":
		a.Need, words = 1, words[1:]
		if len(words) > 2 && words[1] == "of" {
			a.Need, words = r.whole(words[0]), words[2:]
		}
		a.Any = r.tests(words)
	case "calm":
		a.Calm = true
	case "first":
		a.First = ActID(words[1])
	default:
		mark, note, _ := strings.Cut(strings.TrimSpace(r.line), ": ")
		whose := strings.Fields(mark)
		a.Provenance = Provenance{Mark: Mark(whose[0]), Note: note}
		if len(whose) > 1 {
			a.Source = SourceID(whose[1])
		}
	}
}

// tests reads tests with commas between.
func (r *ruleReader) tests(words []string) (out []Test) {
	from := 0
	for i, w := range words {
		if cut, more := strings.CutSuffix(w, ","); more || i == len(words)-1 {
			words[i] = cut
			out = append(out, r.test(words[from:i+1]))
			from = i + 1
		}
	}
	return out
}

// test reads one test.
func (r *ruleReader) test(words []string) (t Test) {
	r.must(len(words) > 0)
	if len(words) == 1 {
		t.Fact = Fact(words[0])
		return t
	}
	if from, to, clock := strings.Cut(words[1], ".."); clock {
		t.Clock, t.From, t.To = Clock(words[0]), r.whole(from), r.whole(to)
		return t
	}
	t.Sign = SignID(words[0])
	if len(words) == 4 && strings.ContainsAny(words[1], "<>") {
		d, err := decimal.NewFromString(words[2])
		r.must(err == nil)
		limit := decimal.NewNullDecimal(d)
		if words[1][0] == '>' {
			t.Above = limit
		} else {
			t.Below = limit
		}
		t.AndEqual, t.Unit = len(words[1]) > 1, Unit(words[3])
		return t.ready()
	}
	for i, w := range words[1:] {
		switch w {
		case "everywhere":
			t.AllSites = true
			continue
		case "at":
			r.must(len(words) > i+4)
			t.AtLeast = r.whole(words[i+2])
			for _, s := range words[i+4:] {
				t.Sites = append(t.Sites, SiteID(s))
			}
			return t.ready()
		}
		t.Grades = append(t.Grades, GradeID(w))
	}
	return t.ready()
}

// whole reads a number of minutes, or nothing.
func (r *ruleReader) whole(s string) int {
	if s == "" {
		return 0
	}
	n, err := strconv.Atoi(s)
	r.must(err == nil)
	return n
}

// of reads one test as it is written in a rule.
func testOf(text string) *Test {
	r := ruleReader{line: text}
	t := r.test(strings.Fields(text))
	return &t
}
