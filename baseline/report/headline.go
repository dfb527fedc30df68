package report

import (
	"slices"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Heading gives the first words of a result, the strongest first: what is done before the call; a rule that says to
// call now, to tell today, or to check again; then an exam unusual as a whole, signs not as usual, signs
// new for this animal, many a little off. That all is as usual is said only where there is none of
// these and nobody thinks that something is wrong, and never of more than was compared; what was only recorded and what was not checked is
// counted. It never says that nothing is wrong.
func Heading(in Input, lang words.Lang) string {
	t, c := about(in.Horse, lang), in.Comparison
	said := ""
	for _, act := range acts(c) {
		said += t.act(act, c) + " "
	}
	level := t.level(c.Alarms)
	if level == "" && in.Exam.Concerned() {
		level = t.say("report.ring.concern")
	}
	if level != "" {
		said += level + " "
	}
	clause := t.clause(c, level != "")
	unchecked := missing(c)
	switch {
	case clause != "" && unchecked > 0:
		clause = upper(clause) + t.say("heading.unchecked", "n", itoa(unchecked)) + "."
	case clause != "":
		clause = upper(clause) + "."
	case unchecked > 0:
		clause = t.say("report.ring.unchecked", "n", itoa(unchecked))
	}
	if clause == "" {
		return said[:max(0, len(said)-1)]
	}
	return said + clause
}

// acts are what is done before the call, for the gravest finding first.
func acts(c baseline.Comparison) []vitals.ActID {
	var out []vitals.ActID
	for _, f := range worstFirst(c) {
		if f.First != "" && !slices.Contains(out, f.First) {
			out = append(out, f.First)
		}
	}
	return out
}

// act says it with the call behind it where the rules say to call now.
func (t telling) act(act vitals.ActID, c baseline.Comparison) string {
	return words.Act(t.lang, string(act), vitals.Strongest(c.Alarms) == vitals.RingNow)
}

// level says what the strongest rule says to do.
func (t telling) level(fired []vitals.Fired) string {
	switch vitals.Strongest(fired) {
	case vitals.RingNow:
		return t.say("heading.ring")
	case vitals.RingSoon:
		return t.say("heading.soon")
	case vitals.CheckAgain:
		f := soonest(fired)
		return t.say("heading.again", "time", t.minutes(f.Minutes), "then", t.say("then."+string(f.Then)))
	}
	return ""
}

// soonest is the rule to check again that leads to the most urgent level, and of those the one of the fewest minutes.
func soonest(fired []vitals.Fired) (first vitals.Fired) {
	for _, f := range fired {
		if f.Urgency == vitals.CheckAgain &&
			(first.Alarm == "" || f.Then.Over(first.Then) || f.Then == first.Then && f.Minutes < first.Minutes) {
			first = f
		}
	}
	return first
}

// minutes says a time of minutes, in hours where it is whole ones and more than two.
func (t telling) minutes(n int) string {
	if n > 120 && n%60 == 0 {
		return t.say("again.hours", "n", itoa(n/60))
	}
	return t.say("again.minutes", "n", itoa(n))
}

// clause says how the exam lies beside what is usual; empty where only a soothing sentence would be left beside
// a rule that fired or what somebody saw.
func (t telling) clause(c baseline.Comparison, called bool) string {
	is := standingOf(c)
	zero := func(key string) string {
		if !is.own {
			return key + ".0"
		}
		return key
	}
	say := func(key string, n int) string { return t.say(key, "N", t.number(n), "n", itoa(n)) }
	said := ""
	switch {
	case is.unusual > 0 && c.Overall.Unusual && c.Overall.Signs > 1:
		said = say(zero("heading.differ.whole"), is.unusual)
	case is.unusual > 0:
		said = say(zero("heading.differ"), is.unusual)
	case is.first > 0:
		return say("heading.new", is.first)
	case c.Overall.Unusual && !called && is.recorded == 0:
		// Beside a rule that fired, or an answer that is new, "each alone is usual" would be untrue.
		return t.say("heading.together")
	case c.Overall.ManyLittle():
		return t.say(zero("heading.many"))
	case called:
		return ""
	case is.recorded > 0:
		return say("heading.recorded", is.recorded)
	case is.usual == 0:
		return t.say("heading.none")
	case sent(c).Key != "":
		return t.say("heading.sent")
	case is.usual+is.only < missing(c):
		// "Everything you checked" of three signs, with twenty left out, would sound like a whole exam.
		return t.say(zero("heading.few"), "n", itoa(is.usual+is.only))
	case is.only > 0:
		return t.say(zero("heading.compared")) + t.say("heading.only", "n", itoa(is.only))
	default:
		return t.say(zero("heading.nothing"))
	}
	if is.first > 0 {
		said += t.say("heading.new.more", "n", itoa(is.first))
	}
	return said
}

// standing counts signs by the strongest that is said of any of their sites; own says that some of what was compared
// rests on the animal's own exams.
type standing struct {
	unusual int // not as usual
	first   int // seen for the first time
	// recorded: not the answer of a healthy animal, and too little is known to compare it; only: nothing
	// says what is usual.
	recorded, only int
	usual          int
	own            bool
}

func standingOf(c baseline.Comparison) (is standing) {
	const (
		usual = iota
		only
		recorded
		first
		unusual
	)
	strongest := map[vitals.SignID]int{}
	for _, s := range c.Signs {
		kind := usual
		switch {
		case s.Statement.Unusual():
			kind = unusual
		case s.Statement == baseline.FirstSeen:
			kind = first
		case context(s.Sign):
			continue
		case s.Statement == baseline.Noted && offUsual(s):
			kind = recorded
		case s.Statement == baseline.Noted:
			kind = only
		}
		is.own = is.own || s.Statement != baseline.Noted && s.Basis.Exams > 0
		strongest[s.Sign] = max(strongest[s.Sign], kind)
	}
	for _, kind := range strongest {
		switch kind {
		case unusual:
			is.unusual++
		case first:
			is.first++
		case recorded:
			is.recorded++
		case only:
			is.only++
		default:
			is.usual++
		}
	}
	return is
}

// context reports whether a sign is told of the days before, beside the animal itself.
func context(id vitals.SignID) bool {
	sign, ok := vitals.Lookup(id)
	return ok && sign.Context
}

// offUsual reports whether an answer is not that of a healthy animal.
func offUsual(s baseline.Compared) bool { return badness(s) > 0 }

// missing counts the signs that have no value at one site or more.
func missing(c baseline.Comparison) int {
	seen := map[vitals.SignID]bool{}
	for _, u := range c.Unchecked {
		seen[u.Sign] = true
	}
	return len(seen)
}
