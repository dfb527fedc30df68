package report

import (
	"slices"
	"strings"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// clinical says what a clinic's file added to a comparison: the rule or range itself, and
// who set it. Keys and facts are those of package schema/pack.
func (t telling) clinical(w baseline.Warning) string {
	fact := func(name string) string { return clean(argument(w, name)) }
	sign, unit := vitals.SignID(fact("sign")), vitals.Unit(fact("unit"))
	limit := func(name string) string {
		if v := fact(name); v != "" {
			return t.withUnit(v, unit)
		}
		return ""
	}
	rule := ""
	low, high := fact("low"), fact("high")
	switch {
	case fact("above") != "":
		rule = t.say("pack.above", "v", limit("above"))
	case fact("below") != "":
		rule = t.say("pack.below", "v", limit("below"))
	case fact("grades") != "":
		var names []string
		for g := range strings.FieldsSeq(fact("grades")) {
			names = append(names, t.grade(sign, vitals.GradeID(g)))
		}
		rule = strings.Join(names, ", ")
	case low != "" && high != "":
		rule = t.withUnit(low+t.say("list.to")+high, unit)
	case low != "":
		rule = t.say("amount.from", "v", limit("low"))
	case high != "":
		rule = t.say("amount.upto", "v", limit("high"))
	}
	return t.say(w.Key, "sign", t.sign(sign, ""), "rule", rule, "by", fact("by"))
}

// byClinic reports whether a rule that fired is told by a warning of the clinic's file.
func byClinic(c baseline.Comparison, alarm vitals.AlarmID) bool {
	return slices.ContainsFunc(c.Warnings, func(w baseline.Warning) bool {
		return w.Key == "pack.alarm" && argument(w, "alarm") == string(alarm)
	})
}

// argument gives a fact of a warning by its name; empty where there is none.
func argument(w baseline.Warning, name string) string {
	for i := 0; i+1 < len(w.Args); i += 2 {
		if w.Args[i] == name {
			return w.Args[i+1]
		}
	}
	return ""
}

// asked tells what a clinic asked and the handler answered, as far as there is room; the rest is told whole in [PartWords]. What
// nobody answered is left open, to be asked.
func (c *caller) asked(l level) []Line {
	var lines []Line
	room := l.list
	for _, a := range c.in.Exam.Asked {
		line := Line{Text: Question(c.lang, a), Blank: a.Answer == ""}
		if !line.Blank {
			if room -= aloud(line.Text); room < 0 {
				if !slices.Contains(c.words, line) {
					c.words = append(c.words, line)
				}
				continue
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// Question tells a question of a clinic as its own words, and the answer, or that there is none. Neither leaves its quotation marks.
func Question(lang words.Lang, a vitals.ClinicQuestion) string {
	said := func(key string, args ...string) string { return words.Say(lang, key, args...) }
	quoted := func(text string) string { return words.Inside(clean(text)) }
	asks := said("pack.question", "clinic", bare(a.By), "text", quoted(a.Text))
	switch {
	case a.Answer == "":
		return asks + " " + said("pack.unanswered")
	case a.Kind == vitals.YesNo:
		return asks + " " + said("pack.answer."+a.Answer)
	}
	return asks + " " + said("pack.answer", "answer", quoted(a.Answer))
}
