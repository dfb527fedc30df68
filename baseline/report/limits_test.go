package report

import (
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// An age as it is said: in days for three weeks, in months for two years, in whole years then; of a year
// alone about so many years.
func TestAge(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 5, 3, 2, 10, 0, 0, time.FixedZone("", -6*3600))
	for _, x := range []struct {
		born vitals.Date
		only bool
		said string
	}{
		{vitals.Date{}, false, "age not known"},
		{vitals.Date{Year: 2026, Month: 5, Day: 4}, false, "age not known"},
		{vitals.Date{Year: 2027, Month: 5, Day: 4}, false, "age not known"},
		{vitals.Date{Year: 1926, Month: 5, Day: 4}, false, "age not known"},
		{vitals.Date{Year: 2026, Month: 5, Day: 3}, false, "born today"},
		{vitals.Date{Year: 2026, Month: 5, Day: 2}, false, "1-day-old"},
		{vitals.Date{Year: 2026, Month: 4, Day: 12}, false, "21-day-old"},
		{vitals.Date{Year: 2026, Month: 4, Day: 11}, false, "1-month-old"},
		{vitals.Date{Year: 2026, Month: 3, Day: 4}, false, "1-month-old"},
		{vitals.Date{Year: 2026, Month: 3, Day: 3}, false, "2-month-old"},
		{vitals.Date{Year: 2025, Month: 11, Day: 3}, false, "6-month-old"},
		{vitals.Date{Year: 2024, Month: 5, Day: 4}, false, "23-month-old"},
		{vitals.Date{Year: 2024, Month: 5, Day: 3}, false, "2-year-old"},
		{vitals.Date{Year: 2017, Month: 5, Day: 4}, false, "8-year-old"},
		{vitals.Date{Year: 2017, Month: 5, Day: 3}, false, "9-year-old"},
		{vitals.Date{Year: 2026, Month: 1, Day: 1}, true, "born in 2026"},
		{vitals.Date{Year: 2025, Month: 1, Day: 1}, true, "about 1 year old"},
		{vitals.Date{Year: 2014, Month: 1, Day: 1}, true, "about 12 years old"},
	} {
		c := caller{telling: telling{lang: words.English}, in: Input{Horse: vitals.Horse{Born: x.born, BornYearOnly: x.only}, Exam: vitals.Exam{At: at}}}
		with, after := c.age()
		td.Cmp(t, with+after, x.said, "%v", x.born)
	}
	c := caller{telling: telling{lang: words.English}, in: Input{Horse: vitals.Horse{Born: vitals.Date{Year: 2014, Month: 1, Day: 1}}}}
	_, after := c.age()
	td.Cmp(t, after, "age not known", "of an exam without a time")
}

// A time is told as near as it is: today by the clock, within the week by its day, within the year without it.
func TestHowFarATimeIs(t *testing.T) {
	t.Parallel()
	tell := telling{lang: words.English}
	exam := time.Date(2026, 5, 13, 2, 10, 0, 0, time.UTC)
	key := func(at time.Time) string {
		for _, k := range []string{"today", "week", "year", "far"} {
			local := at.In(zone(exam))
			clock := local.Format(tell.say("clock"))
			hour, _, _ := strings.Cut(clock, ":")
			if tell.time("date.", at, exam) == tell.say("date."+k, "clock", clock, "h", hour, "weekday", tell.say("weekday."+itoa(int(local.Weekday()))),
				"day", itoa(local.Day()), "month", tell.say("month."+itoa(int(local.Month()))), "year", itoa(local.Year())) {
				return k
			}
		}
		return ""
	}
	for days, want := range map[int]string{0: "today", 1: "week", 6: "week", 7: "year", 132: "year", 133: "far", -1: "year"} {
		td.Cmp(t, key(exam.AddDate(0, 0, -days)), want, "%d days before", days)
	}
	// The day is that of the clock on the wall at the exam.
	short := exam.AddDate(0, 0, -133)
	td.Cmp(t, strings.Contains(tell.short(short, exam), "2025"), true, "of another year")
	td.Cmp(t, strings.Contains(tell.short(exam, exam), "2026"), false, "of the same")
}

// What is said in one breath: a text is parted after a sentence, else after a semicolon, a comma or a
// word, and no part is longer than a chunk or a word or two long.
func TestBreaths(t *testing.T) {
	t.Parallel()
	word := func(n int) string { return strings.Repeat("m", n) }
	for name, x := range map[string]struct {
		text string
		want []string
	}{
		"as long as may be":       {word(chunkLetters), []string{word(chunkLetters)}},
		"a sentence":              {word(100) + ". " + word(100), []string{word(100) + ".", word(100)}},
		"the last that fits":      {word(50) + ". " + word(50) + ". " + word(100), []string{word(50) + ". " + word(50) + ".", word(100)}},
		"a semicolon":             {word(100) + "; " + word(100), []string{word(100) + ";", word(100)}},
		"a comma":                 {word(100) + ", " + word(100), []string{word(100) + ",", word(100)}},
		"a word":                  {word(100) + " " + word(100), []string{word(100), word(100)}},
		"a sentence of two words": {"mm. " + word(90) + ", " + word(100), []string{"mm. " + word(90) + ",", word(100)}},
	} {
		var got []string
		for _, part := range breaths(x.text, words.English) {
			got = append(got, strings.TrimSpace(part))
			td.Cmp(t, utf8.RuneCountInString(strings.TrimSpace(part)) <= chunkLetters, true, name)
		}
		td.Cmp(t, got, x.want, name)
	}
	line := func(n int, strong bool) Line { return Line{Text: word(n), Strong: strong} }
	sizes := func(lines ...Line) (out []int) {
		r := Report{Lang: words.English, Parts: []Part{{ID: PartStory, Lines: lines}}}
		for _, c := range r.Aloud() {
			out = append(out, utf8.RuneCountInString(c.Text()))
		}
		return out
	}
	td.Cmp(t, sizes(line(74, false), line(75, false)), []int{150}, "two short lines share a breath")
	td.Cmp(t, sizes(line(75, false), line(75, false)), []int{75, 75}, "and two that are longer do not")
	td.Cmp(t, sizes(line(20, true), line(20, false)), []int{20, 20}, "nor one that is said strongly and one that is not")
	td.Cmp(t, sizes(line(20, true), line(20, true)), []int{41})
}

// Free text on one line: white space of any kind is one blank, and what turns the direction of writing or
// is no character at all is left out.
func TestClean(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{
		" a\n\tb  c\u2028d ": "a b c d", "a\x00b\x7fc\u0085d": "abc d", "\ufeffa\ufffdb": "ab", "a\u202ab\u202bc\u202cd\u202de\u202ef": "abcdef",
		"a\u2066b\u2067c\u2068d\u2069e": "abcde", "a\u200eb\u200fc": "abc", "a\u2029b": "a b", "\u2030\u2065\u206a\u2010": "\u2030\u2065\u206a\u2010", "ñandú 🐴": "ñandú 🐴",
	} {
		td.Cmp(t, clean(in), want, "%q", in)
	}
	td.Cmp(t, bare(" kicks; paws.,; "), "kicks; paws")
	for p, want := range map[float64]string{0: "0", 0.004: "0.4", 0.05: "5", 0.0994: "9.9", 0.0995: "10", 0.5: "50", 0.996: "100"} {
		td.Cmp(t, percent(p), want, "%v", p)
	}
}

// The chart and the table are in the unit in which the latest reading was read: 38.0 degrees Celsius are
// 100.4 Fahrenheit, and what was usual goes with it.
func TestHistoryInOneUnit(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 5, 3, 7, 0, 0, 0, time.UTC)
	past := func(units ...vitals.Unit) (list []baseline.Past) {
		for i, u := range units {
			value := decimal.New(380, -1)
			if u == vitals.Fahrenheit {
				value = decimal.New(1004, -1)
			}
			p := baseline.Past{Exam: vitals.Exam{ID: vitals.ID("e" + itoa(i)), At: at, Wellness: vitals.Well}, At: at.AddDate(0, 0, i), Usual: &baseline.Interval{Low: 37, Mid: 37.5, High: 38}}
			p.Finding = vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: value, Unit: u}}
			p.Compared = baseline.Compared{Sign: vitals.RectalTemperature, Measure: &vitals.Measure{Value: 38, SD: 0.1, Unit: vitals.Celsius}, Statement: baseline.AsUsual}
			if i > 0 {
				p.Compared.Own = &baseline.Interval{Low: 37, Mid: 37.5, High: 38}
			}
			list = append(list, p)
		}
		return list
	}
	now := &baseline.Normal{Own: baseline.Interval{Low: 37, Mid: 37.5, High: 38}, At: at.AddDate(0, 0, 9)}
	now.Basis.Exams = 2
	for _, x := range []struct {
		units      []vitals.Unit
		now, title string
		rows       []string // the latest first
	}{
		{[]vitals.Unit{vitals.Celsius, vitals.Fahrenheit}, "98.6 to 100.4", "°F", []string{"100.4", "38.0"}},
		{[]vitals.Unit{vitals.Fahrenheit, vitals.Celsius}, "37.0 to 38.0", "°C", []string{"38.0", "100.4"}},
		{[]vitals.Unit{vitals.Fahrenheit, vitals.Fahrenheit}, "98.6 to 100.4", "°F", []string{"100.4", "100.4"}},
	} {
		h := Told(past(x.units...), now, vitals.Horse{}, words.English)
		td.Cmp(t, h.Now, td.Contains(x.now+" "+x.title), "%v", x.units)
		td.Cmp(t, h.Chart, td.Contains(">"+x.rows[0]+"<"), "the latest has its figure beside it")
		for i, value := range x.rows {
			td.Cmp(t, h.Rows[i].Value, td.Contains(value), "%v", x.units)
		}
		td.Cmp(t, h.Rows[0].Usual, td.NotEmpty())
		td.Cmp(t, h.Rows[1].Usual, td.Empty(), "nothing was known before the first")
		// Both readings are the same temperature: at one height, above the ends of what was usual or at them.
		circles := every(t, h.Chart, `<circle cx="`+num+`" cy="`+num+`" r="4"`)
		td.Cmp(t, circles[0][1], near(circles[1][1]), "%v", x.units)
	}
	// By all other readings one of a bad day: told from one half on, as a percentage.
	now.Readings = []baseline.Learned{{Exam: "e0", Odd: 0.5}, {Exam: "e1", Odd: 0.75}}
	h := Told(past(vitals.Celsius, vitals.Celsius), now, vitals.Horse{}, words.English)
	td.Cmp(t, h.Rows[0].Said, td.Contains("75"))
	td.Cmp(t, h.Rows[1].Said, words.Say(words.English, "history.mark.quiet"))
	now.Basis.Exams, now.Readings = 0, nil
	h0 := Told(past(vitals.Celsius, vitals.Celsius), now, vitals.Horse{}, words.English)
	td.Cmp(t, h0.Now, td.Not(h.Now), "of its kind, before its own first exam")
	td.Cmp(t, Told(past(vitals.Celsius, vitals.Celsius), nil, vitals.Horse{}, words.English).Now, "")
	td.Cmp(t, Told(nil, now, vitals.Horse{}, words.English), History{})
	// What was not known before a reading, and figures that are none, are left out of the chart.
	bare := past(vitals.Celsius, vitals.Celsius)
	bare[0].Usual, bare[1].Usual = nil, nil
	unknown := past(vitals.Celsius, vitals.Celsius)
	unknown[0].Usual, unknown[1].Usual = nil, &baseline.Interval{Low: 37, High: inf()}
	td.Cmp(t, Told(unknown, nil, vitals.Horse{}, words.English).Chart, td.All(td.NotEmpty(), Told(bare, nil, vitals.Horse{}, words.English).Chart))
}
