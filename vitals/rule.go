package vitals

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/vitals/internal/rules"
)

// AlarmID names a rule of [Alarms]; its words are under "alarm.<id>".
type AlarmID string

// Urgency is how soon the veterinarian should hear of it.
type Urgency string

const (
	RingNow    Urgency = "now"   // call your vet now
	RingSoon   Urgency = "soon"  // tell your vet today
	CheckAgain Urgency = "again" // check again after some minutes, and then call or tell
)

// Urgencies lists the levels, the most urgent first.
var urgencies = []Urgency{RingNow, RingSoon, CheckAgain}

// Over reports whether u is more urgent than o; no urgency is the least.
func (u Urgency) Over(o Urgency) bool { return u.rank() < o.rank() }

func (u Urgency) rank() int {
	if i := slices.Index(urgencies, u); i >= 0 {
		return i
	}
	return len(urgencies)
}

// Problem is what a rule is about, without naming a disease: it gives the order of the call
// and what to do while waiting. Its words are under "problem.<id>".
type Problem string

const (
	ProblemBelly       Problem = "belly"
	ProblemFeet        Problem = "feet"
	ProblemLimb        Problem = "limb"
	ProblemSwallow     Problem = "swallow"
	ProblemEye         Problem = "eye"
	ProblemWound       Problem = "wound"
	ProblemBleeding    Problem = "bleeding"
	ProblemNerves      Problem = "nerves"
	ProblemFoal        Problem = "foal"
	ProblemHeat        Problem = "heat"
	ProblemFoaling     Problem = "foaling"
	ProblemMare        Problem = "mare"
	ProblemBreath      Problem = "breath"
	ProblemNose        Problem = "nose"
	ProblemMuscle      Problem = "muscle"
	ProblemCirculation Problem = "circulation"
	ProblemGut         Problem = "gut"
	ProblemFever       Problem = "fever"
	ProblemFeed        Problem = "feed"
	ProblemHeart       Problem = "heart"
	ProblemSkin        Problem = "skin"
	ProblemOther       Problem = "other"
)

// Problems lists every problem, what takes life within minutes first (assumed: bleeding, birth, breath and circulation
// go before all else, as in first aid).
func Problems() []Problem { return slices.Clone(allProblems) }

var allProblems = []Problem{ProblemBleeding, ProblemFoaling, ProblemBreath, ProblemCirculation, ProblemHeat,
	ProblemNerves, ProblemBelly, ProblemFoal, ProblemMare, ProblemSwallow, ProblemMuscle, ProblemLimb, ProblemWound, ProblemEye,
	ProblemFeet, ProblemNose, ProblemGut, ProblemHeart, ProblemFever, ProblemFeed, ProblemSkin, ProblemOther}

// ActID names what is done before the call, where waiting for an answer costs life; its
// words are under "act.<id>".
type ActID string

const (
	ActCutBag        ActID = "cut-bag"         // a red bag is cut at once
	ActPress         ActID = "press"           // heavy bleeding is pressed
	ActCool          ActID = "cool"            // an overheated horse is cooled
	ActFeedWaterAway ActID = "feed-water-away" // nothing by mouth
)

// Acts lists every act.
func Acts() []ActID { return slices.Clone(allActs) }

var allActs = []ActID{ActCutBag, ActPress, ActCool, ActFeedWaterAway}

// Clock is a moment from which minutes are counted.
type Clock string

const (
	SinceWork    Clock = "since-work"    // the end of work; unknown minutes count as up to ten
	SinceBirth   Clock = "since-birth"   // [Horse.BornAt]
	SinceFoaling Clock = "since-foaling" // [Horse.FoaledAt]
)

// Test is one thing that a rule asks. Exactly one of Fact, Clock, and Sign with Above, Below or
// Grades is set. A sign without a value passes no test.
type Test struct {
	Sign SignID `json:"sign,omitempty"`
	// Above holds at values greater than the threshold, or at it too with AndEqual; Below likewise.
	Above    decimal.NullDecimal `json:"above,omitzero"`
	Below    decimal.NullDecimal `json:"below,omitzero"`
	AndEqual bool                `json:"andEqual,omitempty"`
	Unit     Unit                `json:"unit,omitempty"` // of the threshold; the sign's own when empty
	Grades   []GradeID           `json:"grades,omitempty"`
	// Sites are the sites, or the places named beside an answer, that count; none: every one.
	Sites []SiteID `json:"sites,omitempty"`
	// AtLeast is at how many of them it must hold; 0 is one, or none where no site is named.
	AtLeast int `json:"atLeast,omitempty"`
	// AllSites: all the sites of one depth must have been taken and show one of Grades (no gut
	// sound anywhere), and no other site may show anything else.
	AllSites bool `json:"allSites,omitempty"`

	Fact Fact `json:"fact,omitempty"`

	Clock Clock `json:"clock,omitempty"`
	// From and To are minutes of the clock: From and later, before To; 0 leaves a side open.
	From int `json:"from,omitempty"`
	To   int `json:"to,omitempty"`

	// What is worked out once: Above or Below in the sign's unit, and the sign's place in the
	// catalogue, counted from one.
	limit float64
	shown float64 // a limit in Fahrenheit in tenths of a degree Celsius
	at    int8
}

// Alarm is a rule on when to call: it fires whatever is usual for the horse, whatever the
// date, and with no other exam at hand.
type Alarm struct {
	ID AlarmID `json:"id"`
	// Test is what the rule is about: its sign is the one that it fires at. A rule of several
	// signs of equal weight has none and asks for Need of Any.
	Test
	Group           // for which animals; empty: all
	Urgency Urgency `json:"urgency"`
	// Minutes and Then belong to [CheckAgain]: check again after so many minutes; still so, it is Then.
	Minutes int     `json:"minutes,omitempty"`
	Then    Urgency `json:"then,omitempty"`
	// With must all hold beside the test, none of Unless may, and Need of Any must.
	With   []Test `json:"with,omitempty"`
	Unless []Test `json:"unless,omitempty"`
	Any    []Test `json:"any,omitempty"`
	Need   int    `json:"need,omitempty"`
	// Calm: in an excited horse with nothing else amiss it is counted again first.
	Calm    bool    `json:"calm,omitempty"`
	Problem Problem `json:"problem"`
	// First is what is done before the call.
	First ActID `json:"first,omitempty"`
	Provenance
}

// Fired is a rule that fired in an exam.
type Fired struct {
	Alarm   AlarmID `json:"alarm"`
	Urgency Urgency `json:"urgency"`
	// Minutes and Then: check again after so many minutes; still so, it is Then.
	Minutes int     `json:"minutes,omitempty"`
	Then    Urgency `json:"then,omitempty"`
	Sign    SignID  `json:"sign"`
	// With are the other signs that the rule rests on, in the order of the rule.
	With []SignID `json:"with,omitempty"`
	// Sites where it fired, for a sign taken at several.
	Sites   []SiteID `json:"sites,omitempty"`
	Problem Problem  `json:"problem,omitempty"`
	First   ActID    `json:"first,omitempty"`
	// Seen is when an earlier look of the same case saw it; zero where this exam did. See [HeldAlarms].
	Seen time.Time `json:"seen,omitzero"`
	Provenance
}

// Strongest gives the most urgent level among rules that fired; none of them gives "".
func Strongest(fired []Fired) Urgency {
	var most Urgency
	for i := range fired {
		if u := fired[i].Urgency; u.Over(most) {
			most = u
		}
	}
	return most
}

// Alarms lists every rule. The entries are the caller's own copies.
func Alarms() []Alarm {
	out := slices.Clone(alarms)
	for i := range out {
		a := &out[i]
		a.Group = a.Group.clone()
		a.Test = a.Test.clone()
		a.With, a.Unless, a.Any = cloneTests(a.With), cloneTests(a.Unless), cloneTests(a.Any)
	}
	return out
}

func (t Test) clone() Test {
	t.Grades, t.Sites = slices.Clone(t.Grades), slices.Clone(t.Sites)
	return t
}

func cloneTests(list []Test) []Test {
	out := slices.Clone(list)
	for i := range out {
		out[i] = out[i].clone()
	}
	return out
}

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
