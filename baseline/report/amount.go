package report

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

func itoa(n int) string { return strconv.Itoa(n) }

// places is how many decimals a figure is told with.
func places(unit vitals.Unit) int {
	switch unit {
	case vitals.Celsius, vitals.Fahrenheit, vitals.Second, vitals.One:
		return 1
	}
	return 0
}

// written writes a figure with the decimals of its unit; a score has none where it is whole.
func written(v float64, unit vitals.Unit) string {
	s := vitals.Decimals(v, places(unit))
	if unit == vitals.One {
		s = strings.TrimSuffix(s, ".0")
	}
	return s
}

func (t telling) amount(v float64, unit vitals.Unit) string {
	return t.withUnit(written(v, unit), unit)
}

// withUnit puts the unit's words to a written figure. An unknown unit is shown as it is.
func (t telling) withUnit(v string, unit vitals.Unit) string {
	key := "amount." + string(unit)
	if said := t.say(key, "v", v); said != key {
		return said
	}
	return v + " " + clean(string(unit))
}

// span says an interval; both ends in the unit, or one where the other is open.
func (t telling) span(low, high *float64, unit vitals.Unit) string {
	switch {
	case low == nil && high == nil:
		return ""
	case low == nil:
		return t.say("amount.upto", "v", t.amount(*high, unit))
	case high == nil:
		return t.say("amount.from", "v", t.amount(*low, unit))
	}
	l, h := written(*low, unit), written(*high, unit)
	if l == h {
		return t.withUnit(l, unit)
	}
	return t.withUnit(l+t.say("list.to")+h, unit)
}

// give is how far the true value may lie from a measured one, 19 times in 20, with one
// more decimal where the usual ones would say nothing.
func (t telling) give(m vitals.Measure) string {
	half := z95 * m.SD
	p := places(m.Unit)
	if half < math.Pow10(-p) {
		p++
	}
	return vitals.Decimals(half, p)
}

// z95 is the two-sided 95 % point of the standard normal distribution.
const z95 = 1.959964

// finite reports whether a measure can be told and drawn.
func finite(v ...float64) bool {
	for _, x := range v {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// told converts what is told of a measured sign into the unit in which it was read, so that
// the handler and the veterinarian hear the figure on the display or the tape.
func told(c baseline.Compared, f *vitals.Finding) baseline.Compared {
	if f == nil || c.Measure == nil {
		return c
	}
	if n, whole := f.WholeMinute(); whole && c.Measure.Unit == vitals.PerMinute {
		m := *c.Measure
		m.Value = n
		c.Measure = &m
	}
	unit := f.Unit(c.Measure.Unit)
	to, ok := c.Measure.Unit.To(unit)
	if !ok || unit == c.Measure.Unit {
		return c
	}
	m := c.Measure.In(unit)
	c.Measure = &m
	if c.Own != nil {
		own := c.Own.In(to)
		c.Own = &own
	}
	limit := func(v *float64) *float64 {
		if v == nil {
			return nil
		}
		x := to.Value(*v)
		return &x
	}
	c.Printed = slices.Clone(c.Printed)
	for i, p := range c.Printed {
		c.Printed[i].Low, c.Printed[i].High = limit(p.Low), limit(p.High)
	}
	c.Warnings = slices.Clone(c.Warnings)
	for i, w := range c.Warnings {
		switch w.Key {
		case baseline.WarnTrend, baseline.WarnLighter, baseline.WarnAskHigher, baseline.WarnAskLower, baseline.WarnOddDays:
			args := slices.Clone(w.Args)
			for k := 0; k+1 < len(args); k += 2 {
				switch args[k] {
				case "from", "to", "low", "high", "value":
					if v, err := strconv.ParseFloat(args[k+1], 64); err == nil {
						args[k+1] = vitals.Decimals(to.Value(v), places(unit))
					}
				}
			}
			c.Warnings[i].Args = args
		}
	}
	return c
}

// how says in a few words how a finding was taken; empty where there is nothing to say.
func (t telling) how(f *vitals.Finding) string {
	if f == nil {
		return ""
	}
	said := ""
	switch {
	case f.Count != nil:
		said = t.say("how.count", "s", itoa(f.Count.Seconds))
	case f.Taps != nil && len(f.Taps.AtMS) > 1:
		ms := f.Taps.AtMS[len(f.Taps.AtMS)-1] - f.Taps.AtMS[0]
		said = t.say("how.taps", "s", itoa((ms+500)/1000))
		// Taps too few to tell the rhythm say nothing of it, which is not "regular".
		if series := f.Taps.Series(f.Sign); series.Rhythm != vitals.RhythmUnknown || series.Unclear() {
			if key, args := series.Say(); key != "" {
				said += ", " + t.say(key, args...)
			}
		}
	case f.Taps != nil:
		said = t.say("how.taps.1")
	case f.Timed != nil && f.Timed.Aloud:
		said = t.say("how.timed.aloud")
	case f.Timed != nil && len(f.Timed.CentiSeconds) == 1:
		said = t.say("how.timed.1")
	case f.Timed != nil:
		said = t.say("how.timed", "n", itoa(len(f.Timed.CentiSeconds)))
	case f.Girth != nil:
		said = t.say("how.girth")
	case f.Reading != nil && f.Reading.Device != "":
		said = t.first(string(f.Reading.Device), "how.device."+string(f.Reading.Device))
		if label := clean(f.Reading.Label); label != "" {
			said = t.say("how.label", "how", said, "label", label)
		}
	}
	return said
}

// when says a time beside the exam's: the clock alone on the same day, with the weekday
// within a week, else the date. Both are told on the clock of the exam's place.
func (t telling) when(at, exam time.Time) string { return t.time("date.", at, exam) }

// time is when with a preposition, by keys that begin with prefix.
func (t telling) time(prefix string, at, exam time.Time) string {
	at = at.In(zone(exam))
	clock := at.Format(t.say("clock"))
	hour, _, _ := strings.Cut(clock, ":")
	key := "far"
	switch days := daysBetween(at, exam); {
	case days == 0:
		key = "today"
	case days > 0 && days < 7:
		key = "week"
	case at.Year() == exam.In(zone(exam)).Year():
		key = "year"
	}
	return t.say(prefix+key, "clock", clock, "h", hour, "weekday", t.say("weekday."+itoa(int(at.Weekday()))),
		"day", itoa(at.Day()), "month", t.say("month."+itoa(int(at.Month()))), "year", itoa(at.Year()))
}

// date says a date without its weekday.
func (t telling) date(d vitals.Date) string {
	return t.say("date.far", "day", itoa(d.Day), "month", t.say("month."+itoa(int(d.Month))), "year", itoa(d.Year))
}

// day says a date in full.
func (t telling) day(at time.Time) string {
	at = at.In(zone(at))
	return t.say("date.long", "weekday", t.say("weekday."+itoa(int(at.Weekday()))), "day", itoa(at.Day()),
		"month", t.say("month."+itoa(int(at.Month()))), "year", itoa(at.Year()))
}

// zone is the offset of a time as a zone of its own: a time read on a machine whose own
// zone has the same offset would otherwise follow that zone's summer time.
func zone(at time.Time) *time.Location {
	_, offset := at.Zone()
	return time.FixedZone("", offset)
}

// daysBetween counts the midnights from one time to another, on the clock of the second.
func daysBetween(from, to time.Time) int {
	noon := func(x time.Time) time.Time {
		y, m, d := x.In(zone(to)).Date()
		return time.Date(y, m, d, 12, 0, 0, 0, time.UTC)
	}
	return int(math.Round(noon(to).Sub(noon(from)).Hours() / 24))
}

// Taken says a measured finding as it stands in a list: shown is the value with its unit,
// in the unit in which it was read; how is the way in which it was taken,
// and how far the true value may lie from it, 19 times in 20.
func Taken(f vitals.Finding, m vitals.Measure, lang words.Lang) (shown, how string) {
	t := telling{lang: lang}
	m = m.In(f.Unit(m.Unit))
	if n, whole := f.WholeMinute(); whole {
		m.Value = n
	}
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
