package report

import (
	"regexp"
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

// The same temperatures in either unit are the same drawing, but for the figures: readings, their
// uncertainty and what was usual keep their places.
func TestChartIsTheSameInEitherUnit(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 5, 3, 7, 0, 0, 0, time.UTC)
	chart := func(unit vitals.Unit) string {
		var past []baseline.Past
		for i, v := range []float64{37.5, 38.5, 37} {
			p := baseline.Past{Exam: vitals.Exam{ID: vitals.ID("e" + itoa(i)), Wellness: vitals.Well}, At: at.AddDate(0, 0, i), Usual: &baseline.Interval{Low: 37, High: 38}}
			read := decimal.NewFromFloat(v)
			if unit == vitals.Fahrenheit {
				read = decimal.NewFromFloat(v*1.8 + 32)
			}
			p.Finding = vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: read, Unit: unit}}
			p.Compared = baseline.Compared{Sign: vitals.RectalTemperature, Measure: &vitals.Measure{Value: v, SD: .3, Unit: vitals.Celsius}, Statement: baseline.AsUsual}
			past = append(past, p)
		}
		return Told(past, nil, vitals.Horse{}, words.English).Chart
	}
	celsius, fahrenheit := chart(vitals.Celsius), chart(vitals.Fahrenheit)
	for _, shape := range []string{`<circle cx="` + num + `" cy="` + num + `"`, `<path d="M` + num + ` ` + num + `V` + num + `"`, `H` + num + `L` + num + ` ` + num} {
		a, b := every(t, celsius, shape), every(t, fahrenheit, shape)
		td.Require(t).Cmp(len(a) > 0 && len(a) == len(b), true, shape)
		for i := range a {
			for k := range a[i] {
				td.Cmp(t, b[i][k], near(a[i][k]), shape)
			}
		}
	}
}

// Everything of a chart and of a course of rechecks lies inside the drawing, and the legend below the days,
// a line for each mark.
func TestDrawingsHoldTheirParts(t *testing.T) {
	t.Parallel()
	c := chartOf(nil, nil, nil, nil)
	for i, m := range allMarks {
		c.points[i].mark = m
	}
	svg := c.draw("heart rate", "")
	height := drawn(t, svg, `viewBox="0 0 328 `+num+`"`)[0]
	legend := every(t, svg, `<text x="62" y="`+num+`" font-size="13">`)
	td.Require(t).Cmp(legend, td.Len(len(allMarks)))
	days := every(t, svg, `<text x="40" y="`+num+`" font-size="13">`)
	td.Require(t).Cmp(days, td.Len(1))
	above := days[0][0]
	for _, y := range legend {
		td.Cmp(t, y[0]-above, td.Between(chartSmall, 3*chartSmall), "lines apart")
		above = y[0]
	}
	td.Cmp(t, above, td.Lt(height))
	// The glyph of a mark stands beside its words: within the height of a letter above the line.
	circles := every(t, svg, `<circle cx="48" cy="`+num+`" r="4"/>`)
	td.Cmp(t, circles[len(circles)-1][0], td.Between(legend[0][0]-chartSmall, legend[0][0]))

	highest := course{unit: vitals.PerMinute, points: []coursePoint{{0, 40, 1, 0, "40", ""}, {30, 60, 8, 0, "60", ""}, {60, 44, 9, 0, "44", ""}}}
	for _, bar := range every(t, highest.draw(), `<path d="M`+num+` `+num+`V`+num+`" fill="none" stroke="currentColor" stroke-width="2.5"`) {
		td.Cmp(t, bar[1], td.Between(courseTop-.1, courseFloor), "the upper end of a reading")
		td.Cmp(t, bar[2], td.Between(bar[1], courseFloor), "the lower end")
	}
}

// Nothing is drawn that has no length: neither lines in a band without height, nor a band of no width between two
// readings of one moment, nor a path without a point.
func TestNothingOfNoLength(t *testing.T) {
	t.Parallel()
	c := chartOf(nil, &baseline.Interval{Low: 35, High: 35}, nil)
	svg := c.draw("", "")
	td.Cmp(t, svg, td.Not(td.Contains("stroke-opacity")), "no hatch without height")
	td.Cmp(t, svg, td.Contains(px(c.y(35))+"H"), "but its edge")
	c = chartOf(nil, &baseline.Interval{Low: 30, High: 40}, &baseline.Interval{Low: 20, High: 44})
	c.points[2].at = c.points[1].at
	svg = c.draw("", "")
	for _, edge := range regexp.MustCompile(`[ML]([0-9.]+) [0-9.]+H([0-9.]+)`).FindAllStringSubmatch(svg, -1) {
		td.Cmp(t, edge[1] != edge[2], true, "an edge from %s to %s", edge[1], edge[2])
	}
	td.Cmp(t, chartOf(nil, nil).draw("", ""), td.Not(td.Contains(`d=""`)))
}

// On a ruler the figures of the own interval stand in a row of their own, the head of the pin between the figure
// of today and the line, and that figure inside the drawing.
func TestRulerPlaces(t *testing.T) {
	t.Parallel()
	c := heart()
	for _, value := range []float64{1, 52, 300} {
		c.Measure = &vitals.Measure{Value: value, SD: 1.1, Unit: vitals.PerMinute}
		svg := Ruler(c, words.English)
		for _, own := range []string{"29", "39"} {
			y := drawn(t, svg, `<text x="[0-9.]+" y="`+num+`" font-size="13" text-anchor="middle" font-weight="bold">`+own)[0]
			td.Cmp(t, y, td.Between(rulerLine+rulerSmall*.8, rulerLine+rulerRow-2), "under the line, in its row")
		}
		head := drawn(t, svg, `<path d="M`+num+` `+num+`l-7 -10h14z"/>`)
		stem := drawn(t, svg, `<path d="M`+num+` `+num+`V52" fill="none" stroke="currentColor" stroke-width="3"`)
		td.Cmp(t, head[1]-10 > rulerBig && head[1] < rulerLine, true, "the head is between figure and line: %v", head)
		td.Cmp(t, stem[0], head[0])
		td.Cmp(t, stem[1], td.Between(head[1]-10, head[1]), "the stem begins in the head")
		said := telling{lang: words.English}.amount(value, vitals.PerMinute)
		x := drawn(t, svg, `<text x="`+num+`" y="17" font-size="17" text-anchor="middle" font-weight="bold">`+regexp.QuoteMeta(said))[0]
		half := 1.15 * width(said, rulerBig) / 2
		td.Cmp(t, x-half >= -.1 && x+half <= rulerWidth+.1, true, "%s at %v", said, x)
	}
	// Near the right edge both figures are pushed in, and still stand apart.
	w := width("29", rulerSmall)
	var d drawing
	ends(&d, 310, 328, 67, shown{low: "29", high: "39"})
	got := every(t, d.String(), `<text x="`+num+`"`)
	td.Cmp(t, got[0][0], near(rulerWidth-w/2-w-6))
	td.Cmp(t, got[1][0], near(rulerWidth-w/2))
}

// Four published ranges are drawn one by one; of more the last spans the rest, and stays open on the side on which
// any of them is.
func TestRowsOfRanges(t *testing.T) {
	t.Parallel()
	rows := func(ranges ...baseline.Printed) []row {
		c := heart()
		c.Printed = ranges
		return telling{lang: words.English}.rows(c)
	}
	both := func(low float64) baseline.Printed { return baseline.Printed{Low: p(low), High: p(low + 20)} }
	four := rows(both(20), both(21), both(22), both(23))
	td.Cmp(t, four, td.Len(4))
	for i, r := range four {
		td.Cmp(t, []any{r.rest, r.label}, []any{0, itoa(20+i) + " to " + itoa(40+i)})
	}
	upTo, from := baseline.Printed{High: p(50)}, baseline.Printed{Low: p(10)}
	for name, x := range map[string]struct {
		rest []baseline.Printed
		low  *float64
		high *float64
	}{
		"closed":               {[]baseline.Printed{both(23), both(25), both(24)}, p(23), p(45)},
		"open below, first":    {[]baseline.Printed{upTo, both(23)}, nil, p(50)},
		"open below, last":     {[]baseline.Printed{both(23), upTo}, nil, p(50)},
		"open above, first":    {[]baseline.Printed{from, both(23)}, p(10), nil},
		"open above, last":     {[]baseline.Printed{both(23), from}, p(10), nil},
		"open on either side":  {[]baseline.Printed{upTo, from, both(23)}, p(10), p(50)},
		"either side, reverse": {[]baseline.Printed{both(23), from, upTo}, p(10), p(50)},
	} {
		got := rows(append([]baseline.Printed{both(20), both(21), both(22)}, x.rest...)...)
		td.Require(t).Cmp(got, td.Len(4), name)
		td.Cmp(t, []any{got[3].rest, got[3].low, got[3].high}, []any{len(x.rest), x.low, x.high}, name)
	}
}

// The first letter of a text: small inside a sentence unless the word is all capitals, a capital at its beginning,
// and bytes that are no letter as they are.
func TestFirstLetters(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][2]string{
		"": {"", ""}, "Pink": {"pink", "Pink"}, "a": {"a", "A"}, "Él": {"él", "Él"}, "ñandú": {"ñandú", "Ñandú"},
		"CRT is long": {"CRT is long", "CRT is long"}, "\xffa": {"\xffa", "\xffa"}, "5 a": {"5 a", "5 a"},
	} {
		td.Cmp(t, []string{lowerFirst(text), upper(text)}, want[:], "%q", text)
	}
}

// A breath may be as long as a chunk, and one before it as short as a quarter of a chunk.
func TestBreathsAtTheLimits(t *testing.T) {
	t.Parallel()
	word := func(n int) string { return strings.Repeat("m", n) }
	whole := word(80) + " " + word(chunkLetters-81)
	td.Cmp(t, breaths(whole, words.English), []string{whole})
	const quarter = chunkLetters / 4
	for letters, want := range map[int]int{quarter - 1: 2, quarter: 1, quarter + 1: 1} {
		// A sentence of so many letters, its point one of them; then a comma where a breath is as well.
		got := breaths(word(letters-1)+". "+word(60)+", "+word(100), words.English)
		td.Cmp(t, strings.Count(got[0], " "), want-1, "%d letters: %q", letters, got)
	}
	for _, part := range breaths(strings.Repeat("mmm ", 200), words.English) {
		td.Cmp(t, utf8.RuneCountInString(part), td.Between(quarter, chunkLetters))
	}
}

// Long numbers, and telephone numbers with a point in them.
func TestSpellLongNumbers(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"100000000.5 kg":      "one hundred million point five kilos",
		"999000000.5 kg":      "nine hundred ninety-nine million point five kilos",
		"1000000000.5 kg":     "one zero zero zero zero zero zero zero zero zero, five kilos",
		"+5550100.14":         "plus five five five zero one zero zero, one four",
		"5550100.142":         "five five five zero one zero zero, one four two",
		"5550100.14 kg":       "five million five hundred fifty thousand one hundred point one four kilos",
		"5550100.14":          "five million five hundred fifty thousand one hundred point one four",
		"5550100.-4":          "five five five zero one zero zero, four",
		"Dec. 1999, May 1999": "Dec. one nine nine nine, May nineteen ninety-nine",
	} {
		td.Cmp(t, spelt(text, words.English), want, text)
	}
	for m := 1; m <= 12; m++ {
		for _, lang := range words.Langs() {
			name := words.Say(lang, "month."+itoa(m))
			td.Cmp(t, spelt(name+" 1999", lang), td.Not(td.HasSuffix(spelt("1999", lang))), "after %s it is a year", name)
		}
	}
	s := speller{lang: words.English}
	td.Cmp(t, []string{s.small(29), s.small(30), s.small(-1)}, []string{"twenty-nine", "30", "-1"}, "what is not in the list stays a figure")
}

// Findings of one sign at several sites are told as one only where all that is told of them is the same.
func TestGroupsAreAlike(t *testing.T) {
	t.Parallel()
	base := baseline.Compared{Sign: vitals.GutSounds, Site: "gut-upper-left", Chosen: []vitals.GradeID{"none"}, Statement: baseline.Differs, Seen: 1, Basis: baseline.Basis{Exams: 4}}
	count := func(change func(*baseline.Compared)) int {
		other := base
		other.Site = "gut-upper-right"
		change(&other)
		for _, order := range [][]baseline.Compared{{base, other}, {other, base}} {
			c := caller{telling: telling{lang: words.English}, in: Input{Comparison: baseline.Comparison{Signs: order}}}
			gs := c.groups(func(baseline.Compared) bool { return true })
			n := 0
			for _, g := range gs {
				n += len(g.of)
			}
			td.Cmp(t, n, 2)
			if len(gs) == 2 {
				return 2
			}
		}
		return 1
	}
	td.Cmp(t, count(func(*baseline.Compared) {}), 1)
	for name, change := range map[string]func(*baseline.Compared){
		"sign":      func(o *baseline.Compared) { o.Sign = vitals.LungSounds },
		"statement": func(o *baseline.Compared) { o.Statement = baseline.AsUsual },
		"answer":    func(o *baseline.Compared) { o.Chosen = []vitals.GradeID{"usual"} },
		"place":     func(o *baseline.Compared) { o.Where = []vitals.SiteID{"gut-upper-right"} },
		"seen":      func(o *baseline.Compared) { o.Seen = 2 },
		"exams":     func(o *baseline.Compared) { o.Basis.Exams = 5 },
		"a measure": func(o *baseline.Compared) { o.Measure = &vitals.Measure{Value: 3} },
	} {
		td.Cmp(t, count(change), 2, name)
	}
}

// How it was taken: of taps of the heart the rhythm is told, of breaths none is, and none of taps too few to tell it.
func TestHowTapsAreTold(t *testing.T) {
	t.Parallel()
	taps := func(sign vitals.SignID, n int) vitals.Finding {
		f := vitals.Finding{Sign: sign, Taps: &vitals.Taps{}}
		for i := range n {
			f.Taps.AtMS = append(f.Taps.AtMS, 1500*i)
		}
		return f
	}
	tell := telling{lang: words.English}
	how := func(f vitals.Finding) string { return tell.how(&f) }
	tapped := func(s int) string { return tell.say("how.taps", "s", itoa(s)) }
	td.Cmp(t, how(taps(vitals.RespiratoryRate, 21)), tapped(30))
	td.Cmp(t, how(taps(vitals.HeartRate, 3)), tapped(3), "three beats have no rhythm")
	td.Cmp(t, how(taps(vitals.HeartRate, 41)), tapped(60)+", "+tell.say("how.rhythm.regular"))
	td.Cmp(t, how(taps(vitals.HeartRate, 1)), tell.say("how.taps.1"))
	gaps := taps(vitals.HeartRate, 41)
	gaps.Taps.AtMS = append(gaps.Taps.AtMS[:10:10], append(append([]int(nil), gaps.Taps.AtMS[11:30]...), gaps.Taps.AtMS[31:]...)...)
	td.Cmp(t, how(gaps), tapped(60)+", "+tell.say("how.rhythm.gaps", "n", "2", "beats", "39"), "missed taps or pauses")
	// Half a second is rounded up.
	f := taps(vitals.RespiratoryRate, 2)
	for ms, s := range map[int]int{1499: 1, 1500: 2, 2499: 2} {
		f.Taps.AtMS[1] = ms
		td.Cmp(t, how(f), tapped(s))
	}
}

// A chart runs to the present where it is known what is usual then, and says so by how many of its own exams; its figures keep
// inside the field, and one reading has no line.
func TestChartToThePresent(t *testing.T) {
	t.Parallel()
	last := func(now *baseline.Interval) float64 {
		c := chartOf(nil, nil)
		c.now, c.nowAt = now, c.points[1].at.AddDate(0, 0, 10)
		return every(t, c.draw("", ""), `<circle cx="`+num+`"`)[1][0]
	}
	td.Cmp(t, last(&baseline.Interval{Low: 30, High: 40}), near(48+262./2), "half way")
	td.Cmp(t, last(nil), near(310), "to the last reading")

	c := chartOf(nil, nil)
	c.points[0].m.Value, c.points[0].unusual = 100, true
	at := every(t, c.draw("", ""), `<text x="`+num+`" y="[0-9.]+" font-size="13" text-anchor="middle" font-weight="bold">100<`)
	td.Cmp(t, at[0][0], near(chartLeft+width("100", chartSmall)/2))

	one := course{unit: vitals.PerMinute, points: []coursePoint{{0, 40, 1, 0, "40", ""}}}
	td.Cmp(t, one.draw(), td.Not(td.Contains(`stroke-width="1.2"`)))
	one.points = append(one.points, coursePoint{10, 42, 1, 0, "42", ""})
	td.Cmp(t, one.draw(), td.Contains(`stroke-width="1.2"`))

	var past []baseline.Past
	at0 := time.Date(2026, 5, 3, 7, 0, 0, 0, time.UTC)
	for i := range 2 {
		past = append(past, baseline.Past{Exam: vitals.Exam{ID: vitals.ID("e" + itoa(i)), Wellness: vitals.Well}, At: at0.AddDate(0, 0, i),
			Finding: vitals.Finding{Sign: vitals.HeartRate}, Compared: baseline.Compared{Sign: vitals.HeartRate, Measure: &vitals.Measure{Value: 40, Unit: vitals.PerMinute}}})
	}
	for exams, key := range map[int]string{0: "history.now.0", 1: "history.now", 7: "history.now"} {
		now := baseline.Normal{Own: baseline.Interval{Low: 30, High: 44}, At: at0.AddDate(0, 0, 5)}
		now.Basis.Exams = exams
		td.Cmp(t, Told(past, &now, vitals.Horse{}, words.English).Now, words.Say(words.English, key, "range", "30 to 44 a minute", "n", itoa(exams), "sex", ""))
	}
}

// How many of the exams taught is counted in what stands behind an exam as a whole.
func TestWhyExamCountsItsLessons(t *testing.T) {
	t.Parallel()
	x := baseline.Explanation{Overall: baseline.WhyExam{Parts: []baseline.WhyPart{{Sign: vitals.HeartRate, P: .2}}, P: .2, Level: .05, Strong: .05}}
	for i, taught := range []bool{true, false, true, true} {
		x.Lessons = append(x.Lessons, baseline.Lesson{Exam: vitals.ID("e" + itoa(i)), Taught: taught})
	}
	said := WhyExam(x, vitals.Horse{}, words.English)
	td.Cmp(t, said[len(said)-1], telling{lang: words.English}.say("why.exam.lessons", "taught", "3", "n", "4"))
}

// The legend names the marks that occur and no other.
func TestLegendNamesWhatOccurs(t *testing.T) {
	t.Parallel()
	for _, marks := range [][]Mark{{MarkQuiet, MarkSick}, {MarkSick, MarkQuiet}, {MarkWork, MarkOther}, {MarkQuiet, MarkQuiet}} {
		c := chartOf(nil, nil)
		c.points[0].mark, c.points[1].mark = marks[0], marks[1]
		svg := c.draw("", "")
		for _, m := range allMarks {
			occurs := m == marks[0] || m == marks[1]
			td.Cmp(t, strings.Contains(svg, ">"+words.Say(words.English, "history.mark."+string(m))+"<"), occurs, "%s of %v", m, marks)
		}
	}
	// A wide figure beside the last reading keeps inside the field, as does one beside the first.
	c := chartOf(nil, nil)
	c.points[1].m.Value = 100
	at := every(t, c.draw("", ""), `<text x="`+num+`" y="[0-9.]+" font-size="13" text-anchor="middle" font-weight="bold">100<`)
	td.Cmp(t, at[0][0], near(chartRight-width("100", chartSmall)/2))
	// Figures of an interval that cannot be drawn are not told either.
	own := heart()
	own.Own = &baseline.Interval{Low: 29, High: inf()}
	td.Cmp(t, Ruler(own, words.English), td.All(td.NotEmpty(), td.Not(td.Contains("Inf"))))
	td.Cmp(t, telling{lang: words.English}.described(own), td.Not(td.Contains("29")))
	// Seventeen digits are still one telephone number, with a breath where it is parted, eighteen are none; "de" at the beginning stands after no month.
	td.Cmp(t, spelt("1234567890 1234567", words.English), td.Contains("nine zero, one two"))
	td.Cmp(t, spelt("12345678901 1234567", words.English), td.Contains("zero one one two"))
	td.Cmp(t, spelt("de 2026", words.Spanish), "de dos cero dos seis")
}

// The weather is told as far as it was noted.
func TestAirAsNoted(t *testing.T) {
	t.Parallel()
	warm, damp := &vitals.Reading{Value: decimal.New(215, -1), Unit: vitals.Celsius}, &vitals.Reading{Value: decimal.New(60, 0), Unit: vitals.Percent}
	for _, c := range []struct {
		air  *vitals.Air
		list []string
	}{{nil, nil}, {&vitals.Air{}, nil}, {&vitals.Air{Temperature: warm}, []string{"21.5 °C"}}, {&vitals.Air{Humidity: damp}, []string{"60 %"}}, {&vitals.Air{Temperature: warm, Humidity: damp}, []string{"21.5 °C", "60 %"}}} {
		told := caller{telling: telling{lang: words.English}, in: Input{Exam: vitals.Exam{Air: c.air}}}
		want := ""
		if c.list != nil {
			want = told.say("report.basis.air", "list", told.list(c.list))
		}
		td.Cmp(t, told.air(), want)
	}
}
