package report

import (
	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Taken says a measured finding as it stands in a list: shown is the value with its unit,
// in the unit in which it was read; how is the way in which it was taken,
// and how far the true value may lie from it, 19 times in 20.
func Taken(f vitals.Finding, m vitals.Measure, lang words.Lang) (shown, how string) {
	t := telling{lang: lang}
	m = m.In(f.Unit(m.Unit))
	if !finite(m.Value, m.SD) {
		return t.say("report.value.none"), t.how(&f)
	}
	how = t.say("taken.give", "give", t.give(m))
	if way := t.how(&f); way != "" {
		how = t.say("taken.how", "how", way, "give", t.give(m))
	}
	return t.amount(m.Value, m.Unit), how
}

// AsRead gives a comparison in the unit in which its finding was read: a temperature in
// Fahrenheit is said and drawn in Fahrenheit, a weight in pounds in pounds.
func AsRead(c baseline.Compared, f vitals.Finding) baseline.Compared { return told(c, &f) }
