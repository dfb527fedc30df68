package report

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// What a clinic set is told with who set it: a threshold, answers of a list, or a range with one end or two.
func TestClinicsOwn(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		w      baseline.Warning
		en, es string
	}{
		{baseline.Warning{Key: "pack.alarm", Args: []string{"sign", "heart-rate", "by", "Dr. Ortiz", "above", "60", "unit", "/min"}},
			"From your clinic: its own rule says to call at this heart rate, above 60 a minute (Dr. Ortiz). It is not a published rule.",
			"De su clínica: su propia regla dice que llame con frecuencia cardíaca, más de 60 por minuto (Dr. Ortiz). No es una regla publicada."},
		{baseline.Warning{Key: "pack.alarm", Args: []string{"sign", "heart-rate", "by", "Dr. Ortiz", "below", "24", "unit", "/min"}},
			"From your clinic: its own rule says to call at this heart rate, below 24 a minute (Dr. Ortiz). It is not a published rule.",
			"De su clínica: su propia regla dice que llame con frecuencia cardíaca, menos de 24 por minuto (Dr. Ortiz). No es una regla publicada."},
		{baseline.Warning{Key: "pack.alarm", Args: []string{"sign", "gum-colour", "by", "Dr. Ortiz", "grades", "pink pale-pink"}},
			"From your clinic: its own rule says to call at this gum color, pink, pale pink (Dr. Ortiz). It is not a published rule.",
			"De su clínica: su propia regla dice que llame con color de las encías, rosa, rosa pálido (Dr. Ortiz). No es una regla publicada."},
		{baseline.Warning{Key: "pack.range", Args: []string{"sign", "heart-rate", "by", "Dr. Ortiz", "low", "28", "high", "44", "unit", "/min"}},
			"From your clinic: its own range for heart rate, 28 to 44 a minute (Dr. Ortiz), is shown next to the published ones.",
			"De su clínica: junto a los rangos publicados de frecuencia cardíaca está el suyo, 28 a 44 por minuto (Dr. Ortiz)."},
		{baseline.Warning{Key: "pack.range", Args: []string{"sign", "heart-rate", "by", "Dr. Ortiz", "low", "28", "unit", "/min"}},
			"From your clinic: its own range for heart rate, 28 a minute or more (Dr. Ortiz), is shown next to the published ones.",
			"De su clínica: junto a los rangos publicados de frecuencia cardíaca está el suyo, 28 por minuto o más (Dr. Ortiz)."},
		{baseline.Warning{Key: "pack.range", Args: []string{"sign", "heart-rate", "by", "Dr. Ortiz", "high", "44", "unit", "/min"}},
			"From your clinic: its own range for heart rate, up to 44 a minute (Dr. Ortiz), is shown next to the published ones.",
			"De su clínica: junto a los rangos publicados de frecuencia cardíaca está el suyo, hasta 44 por minuto (Dr. Ortiz)."},
		// A name without its value is none.
		{baseline.Warning{Key: "pack.range", Args: []string{"sign", "heart-rate", "unit", "/min", "high", "44", "low"}},
			"From your clinic: its own range for heart rate, up to 44 a minute (), is shown next to the published ones.",
			"De su clínica: junto a los rangos publicados de frecuencia cardíaca está el suyo, hasta 44 por minuto ()."},
	} {
		td.Cmp(t, telling{lang: words.English}.warning("", x.w), x.en)
		td.Cmp(t, telling{lang: words.Spanish}.warning("", x.w), x.es)
	}
	// A rule that a warning tells of is not told a second time.
	told := func(w ...baseline.Warning) bool { return byClinic(baseline.Comparison{Warnings: w}, "own-rule") }
	td.Cmp(t, told(baseline.Warning{Key: "pack.alarm", Args: []string{"sign", "heart-rate", "alarm", "own-rule"}}), true)
	td.Cmp(t, told(baseline.Warning{Key: "pack.alarm", Args: []string{"alarm", "own-rule", "by"}}), true)
	td.Cmp(t, told(baseline.Warning{Key: "pack.alarm", Args: []string{"alarm", "another-rule", "sign", "own-rule", "alarm"}}), false)
	td.Cmp(t, told(baseline.Warning{Key: "pack.range", Args: []string{"alarm", "own-rule"}}), false)
	td.Cmp(t, told(), false)
}

// Each warning says its facts in words, and none of them as an id.
func TestWarningsInWords(t *testing.T) {
	t.Parallel()
	tell := func(sign vitals.SignID, key string, args ...string) string {
		w := baseline.Warning{Key: key, Args: args}
		said := about(vitals.Horse{Sex: vitals.Mare}, words.English).warning(sign, w)
		td.Cmp(t, w.Args, args, "the warning stays as it was")
		return said
	}
	td.Cmp(t, tell(vitals.RectalTemperature, baseline.WarnDeviceChanged, "device", "digital", "label", "", "size", "0.3", "unit", "Cel", "source", "somewhere", "mark", "memory"),
		"Her other exams did not use this device (digital thermometer). On the same horses, brands have differed by 0.3 °C (somewhere; from memory, source not checked yet).")
	td.Cmp(t, tell(vitals.HeartRate, baseline.WarnSiteChanged, "site", "jaw"), "Her other exams did not use this place (under the jaw).")
	td.Cmp(t, tell(vitals.GutSounds, baseline.WarnOtherSide, "site", "gut-upper-left", "grade", "usual"), "The other side is different: upper left, as usual.")
	td.Cmp(t, tell(vitals.HeartRate, baseline.WarnNewUsual, "n", "2", "earlier", "9", "day", "2026-04-03", "by", "Ana\n"),
		"New usual from April 3, 2026, set by “Ana”: 2 readings since then. The 9 before that only show how much she varies.")
	td.Cmp(t, tell(vitals.HeartRate, baseline.WarnNewUsual, "n", "1", "earlier", "9", "day", "someday", "by", " "),
		"New usual from someday, set by someone: 1 reading since then. The 9 before that only show how much she varies.")
	td.Cmp(t, tell("", baseline.WarnMedicated, "with", "a\tpaste", "site"), "Sedated or medicated when checked, but compared with the usual range without it.")
	// What the sentences under a sign have said already is not said again.
	c := heart()
	c.Warnings = []baseline.Warning{{Key: baseline.WarnNoExams}, {Key: baseline.WarnTold}, {Key: baseline.WarnPriorMemory}}
	said := Said(c, nil, vitals.Horse{}, words.English)
	td.Cmp(t, said[len(said)-2:], []string{"Published ranges: 28 to 44 a minute.", "Someone reported this number. How it was measured is not known."})
}

// A temperature read in Fahrenheit is told in it, with everything that stands beside it: 37 degrees are
// 98.6, 38 are 100.4, 38.5 are 101.3.
func TestToldAsRead(t *testing.T) {
	t.Parallel()
	f := vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.RequireFromString("101.3"), Unit: vitals.Fahrenheit, Device: vitals.Digital}}
	c := baseline.Compared{Sign: vitals.RectalTemperature, Measure: &vitals.Measure{Value: 38.5, SD: .1, Unit: vitals.Celsius}, Statement: baseline.Higher, Tail: .003,
		Own: &baseline.Interval{Low: 37, Mid: 37.5, High: 38}, Basis: baseline.Basis{Exams: 4}, Printed: []baseline.Printed{{Low: p(37), High: p(38)}, {High: p(38.5)}, {Low: p(37)}},
		Warnings: []baseline.Warning{
			{Key: baseline.WarnTrend, Args: []string{"n", "5", "days", "20", "from", "37.0", "to", "38.0", "to"}},
			{Key: baseline.WarnAskHigher, Args: []string{"n", "3", "low", "38.0", "high", "38.5", "from", "37.0", "to", "37.5"}},
			{Key: baseline.WarnOddDays, Args: []string{"n", "1", "of", "9", "value", "38.5", "day", "2026-04-03"}},
			{Key: baseline.WarnTrend, Args: []string{"n", "37.0", "days", "20", "from", "x", "to", "38.0"}},
			{Key: baseline.WarnDraft, Args: []string{"from", "37.0"}},
		}}
	got := AsRead(c, f)
	td.Cmp(t, *got.Measure, td.Struct(vitals.Measure{Unit: vitals.Fahrenheit}, td.StructFields{"Value": td.Between(101.299, 101.301), "SD": td.Between(.1799, .1801)}))
	td.Cmp(t, *got.Own, td.Struct(baseline.Interval{}, td.StructFields{"Low": td.Between(98.599, 98.601), "Mid": td.Between(99.499, 99.501), "High": td.Between(100.399, 100.401)}))
	td.Cmp(t, got.Warnings, []baseline.Warning{
		{Key: baseline.WarnTrend, Args: []string{"n", "5", "days", "20", "from", "98.6", "to", "100.4", "to"}},
		{Key: baseline.WarnAskHigher, Args: []string{"n", "3", "low", "100.4", "high", "101.3", "from", "98.6", "to", "99.5"}},
		{Key: baseline.WarnOddDays, Args: []string{"n", "1", "of", "9", "value", "101.3", "day", "2026-04-03"}},
		{Key: baseline.WarnTrend, Args: []string{"n", "37.0", "days", "20", "from", "x", "to", "100.4"}},
		{Key: baseline.WarnDraft, Args: []string{"from", "37.0"}},
	})
	td.Cmp(t, telling{lang: words.English}.printed(got), "98.6 to 100.4 °F; up to 101.3 °F; 98.6 °F or more")
	td.Cmp(t, c.Measure.Value, 38.5, "what was compared stays as it was")
	td.Cmp(t, c.Warnings[0].Args[5], "37.0")
	c.Own = nil
	td.Cmp(t, AsRead(c, f).Own, (*baseline.Interval)(nil))
	f.Reading = &vitals.Reading{Unit: vitals.Celsius}
	td.Cmp(t, AsRead(c, f), c)
	td.Cmp(t, AsRead(c, vitals.Finding{}), c)
	rate := heart()
	td.Cmp(t, AsRead(rate, vitals.Finding{Reading: &vitals.Reading{Unit: vitals.Fahrenheit}}), rate, "a rate has no temperature")
	td.Cmp(t, AsRead(baseline.Compared{Sign: vitals.GumColour}, vitals.Finding{Reading: &vitals.Reading{Unit: vitals.Fahrenheit}}), baseline.Compared{Sign: vitals.GumColour})

	// In a list of findings likewise; give or take is 1.96 times the standard deviation.
	for _, x := range []struct {
		f          vitals.Finding
		m          vitals.Measure
		shown, how string
	}{
		{vitals.Finding{Reading: &vitals.Reading{Unit: vitals.Fahrenheit, Device: vitals.Digital}}, vitals.Measure{Value: 38.5, SD: .1, Unit: vitals.Celsius}, "101.3 °F", "digital thermometer, give or take 0.4"},
		{vitals.Finding{Reading: &vitals.Reading{Unit: vitals.Celsius, Device: vitals.Digital, Label: "Oak "}}, vitals.Measure{Value: 38.5, SD: .1, Unit: vitals.Celsius}, "38.5 °C", "digital thermometer, “Oak”, give or take 0.2"},
		{vitals.Finding{Reading: &vitals.Reading{Unit: vitals.Fahrenheit}}, vitals.Measure{Value: 40, SD: 1, Unit: vitals.PerMinute}, "40 a minute", "give or take 2"},
		{vitals.Finding{Count: &vitals.Count{Events: 20, Seconds: 30}}, vitals.Measure{Value: 40, SD: .5, Unit: vitals.PerMinute}, "40 a minute", "counted over 30 s, give or take 1.0"},
		{vitals.Finding{}, vitals.Measure{Value: 40, SD: .52, Unit: vitals.PerMinute}, "40 a minute", "give or take 1"},
		{vitals.Finding{}, vitals.Measure{Value: 2.4, SD: .05, Unit: vitals.Second}, "2.4 s", "give or take 0.10"},
		{vitals.Finding{Timed: &vitals.Timed{CentiSeconds: []int{240, 250}}}, vitals.Measure{Value: 2.4, SD: .0511, Unit: vitals.Second}, "2.4 s", "timed 2 times, give or take 0.1"},
		{vitals.Finding{Timed: &vitals.Timed{CentiSeconds: []int{240}}}, vitals.Measure{Value: inf(), SD: 1, Unit: vitals.Second}, "no value", "timed once"},
	} {
		shown, how := Taken(x.f, x.m, words.English)
		td.Cmp(t, []string{shown, how}, []string{x.shown, x.how})
	}
	shown, how := Taken(vitals.Finding{Count: &vitals.Count{Events: 20, Seconds: 30}}, vitals.Measure{Value: 40, SD: 1, Unit: vitals.PerMinute}, words.Spanish)
	td.Cmp(t, []string{shown, how}, []string{"40 por minuto", words.Say(words.Spanish, "how.count", "s", "30") + ", más o menos 2"})
}

// How many of the horse's own exams showed as much, and that none is known of before the first.
func TestSeen(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		is          baseline.Statement
		exams, seen int
		said        string
	}{
		{baseline.Differs, 0, 0, "On a quiet day, animals like him seldom show this."}, {baseline.Noted, 0, 0, ""}, {baseline.AsUsual, 4, 2, ""},
		{baseline.Differs, 1, 0, "His only quiet-day exam did not show this."}, {baseline.Differs, 1, 1, "His only quiet-day exam showed this, or something as unusual."},
		{baseline.Differs, 2, 0, "None of his 2 quiet-day exams showed this."}, {baseline.Noted, 2, 1, "1 of his 2 quiet-day exams showed this, or something as unusual."},
	} {
		td.Cmp(t, about(vitals.Horse{Sex: vitals.Gelding}, words.English).odds(baseline.Compared{Sign: vitals.GutSounds, Statement: x.is, Seen: x.seen, Basis: baseline.Basis{Exams: x.exams}}), x.said, "%+v", x)
	}
	noted := heart()
	noted.Statement = baseline.Noted
	td.Cmp(t, telling{lang: words.English}.odds(noted), "", "a measure is not counted in exams")
}

// What a comparison rests on, and what of that nobody read in a source.
func TestRests(t *testing.T) {
	t.Parallel()
	read, memory, assumed := vitals.Provenance{Source: "somewhere", Mark: vitals.Read}, vitals.Provenance{Source: "elsewhere", Mark: vitals.Memory}, vitals.Provenance{Mark: vitals.Assumed}
	for _, x := range []struct {
		b    baseline.Basis
		said string
	}{
		{baseline.Basis{}, "Its own usual is not known yet."},
		{baseline.Basis{Prior: []vitals.Provenance{assumed}}, "Its own usual is not known yet. Part of this is our estimate; no published source was found."},
		{baseline.Basis{Prior: []vitals.Provenance{read}}, "Compared with published ranges. Its own usual is not known yet."},
		{baseline.Basis{Prior: []vitals.Provenance{memory, assumed}}, "Compared with published ranges. Its own usual is not known yet. Part of this is from memory; the source is not checked yet. Part of this is our estimate; no published source was found."},
		{baseline.Basis{Exams: 1, Weak: true, Prior: []vitals.Provenance{memory}}, "Based on 1 of its quiet-day exams and on published ranges. Part of this is from memory; the source is not checked yet."},
		{baseline.Basis{Exams: 1, Weak: true, Prior: []vitals.Provenance{assumed}}, "Based on 1 of its quiet-day exams. Part of this is our estimate; no published source was found."},
		{baseline.Basis{Exams: 9, Prior: []vitals.Provenance{memory}}, "Based on 9 of its quiet-day exams."},
		{baseline.Basis{Exams: 9, Prior: []vitals.Provenance{assumed}}, "Based on 9 of its quiet-day exams."},
	} {
		td.Cmp(t, telling{lang: words.English}.rests(x.b), x.said, "%+v", x.b)
	}
}

// What is usual is said of a measure with an interval, and of an answer where it is another than usual.
func TestOwnUsual(t *testing.T) {
	t.Parallel()
	tell := func(change func(*baseline.Compared)) string {
		c := baseline.Compared{Sign: vitals.GutSounds, Statement: baseline.Differs, Chosen: []vitals.GradeID{"none"}, Usual: []vitals.GradeID{"usual"}, UsualSeen: 3, Basis: baseline.Basis{Exams: 4}}
		change(&c)
		return telling{lang: words.English}.own(c)
	}
	td.Cmp(t, tell(func(*baseline.Compared) {}), "Usually “as usual” (3 of 4 quiet-day exams).")
	td.Cmp(t, tell(func(c *baseline.Compared) { c.Statement = baseline.AsUsual }), "")
	td.Cmp(t, tell(func(c *baseline.Compared) { c.Basis.Exams = 0 }), "")
	td.Cmp(t, tell(func(c *baseline.Compared) { c.Usual = nil }), "")
	measured := func(own *baseline.Interval) func(*baseline.Compared) {
		return func(c *baseline.Compared) {
			c.Sign, c.Measure, c.Own = vitals.HeartRate, &vitals.Measure{Value: 52, Unit: vitals.PerMinute}, own
		}
	}
	td.Cmp(t, tell(measured(nil)), "", "a measure beside answers")
	td.Cmp(t, tell(measured(&baseline.Interval{Low: 30, High: inf()})), "")
	td.Cmp(t, tell(measured(&baseline.Interval{Low: 30, High: 40})), "Usual for it: 30 to 40 a minute.")
	td.Cmp(t, tell(measured(&baseline.Interval{Low: 34.4, High: 33.6})), "Usual for it: 34 a minute.", "both ends the same figure")
	// What was only recorded has nothing that it rests on; what one exam settles is told as so many in ten.
	noted := baseline.Compared{Sign: vitals.BodyCondition, Statement: baseline.Noted, Measure: &vitals.Measure{Value: 5, Unit: vitals.One}, P: .3}
	td.Cmp(t, Said(noted, nil, vitals.Horse{}, words.English), []string{"Recorded only. There is no usual range to compare with."})
	noted.Measure, noted.P = nil, 0
	td.Cmp(t, Said(noted, nil, vitals.Horse{}, words.English), []string{"Recorded only. There is no usual range to compare with."})
	noted.P, noted.Basis.Exams, noted.Seen = .3, 4, 2
	td.Cmp(t, Said(noted, nil, vitals.Horse{}, words.English), []string{"2 of its 4 quiet-day exams showed this, or something as unusual.", "Based on 4 of its quiet-day exams."})
	noted = heart()
	noted.Statement, noted.P = baseline.Noted, .3
	td.Cmp(t, Said(noted, nil, vitals.Horse{}, words.English), td.Contains("Based on 11 of its quiet-day exams."))
	usual := heart()
	usual.Statement, usual.Own, usual.Strong = baseline.AsUsual, nil, true
	td.Cmp(t, Said(usual, nil, vitals.Horse{}, words.English), []string{"Based on 11 of its quiet-day exams.", "Published ranges: 28 to 44 a minute."}, "what is as usual does not stand out")
	for chance, n := range map[float64]string{.01: "1", .149: "1", .151: "2", .94: "9", .999: "9"} {
		td.Cmp(t, telling{lang: words.English}.settle(baseline.Settle{Advice: baseline.SettleCount, Chance: chance}), "Count a full minute to be sure. There is a "+n+" in 10 chance that this changes the answer.")
	}
}

// The heading: what fired first, what is not as usual counted by signs, and what was not checked.
func TestHeadingAtTheLimits(t *testing.T) {
	t.Parallel()
	tell := func(c baseline.Comparison) string {
		return Heading(Input{Horse: vitals.Horse{Sex: vitals.Mare}, Comparison: c}, words.English)
	}
	own := baseline.Basis{Exams: 3}
	td.Cmp(t, tell(baseline.Comparison{Alarms: []vitals.Fired{{Urgency: vitals.RingSoon}}, Signs: []baseline.Compared{{Sign: vitals.GutSounds, Statement: baseline.AsUsual}}}),
		"Tell your vet today.", "nothing soothes beside a rule")
	td.Cmp(t, tell(baseline.Comparison{Alarms: []vitals.Fired{{Urgency: vitals.RingSoon}, {Urgency: vitals.RingNow}}}), "Call your vet now.")
	td.Cmp(t, tell(baseline.Comparison{Signs: []baseline.Compared{{Sign: vitals.GutSounds, Site: "a", Statement: baseline.Differs, Basis: own}, {Sign: vitals.GutSounds, Site: "b", Statement: baseline.Differs}},
		Unchecked: []baseline.Unchecked{{Sign: vitals.LungSounds, Site: "lung-left"}, {Sign: vitals.LungSounds, Site: "lung-right"}}}),
		"One thing is not usual for this animal; 1 sign was not checked.", "a sign at two places is one")
	td.Cmp(t, tell(baseline.Comparison{Signs: []baseline.Compared{{Sign: vitals.BodyCondition, Statement: baseline.Noted, Basis: own}}}), "Nothing was compared.")
	td.Cmp(t, tell(baseline.Comparison{Overall: baseline.Overall{Unusual: true}, Signs: []baseline.Compared{{Sign: vitals.GutSounds, Statement: baseline.AsUsual}}}),
		"Each finding alone is usual for this animal, but together they are not.")
	// Before any sign is read: that all together is unusual, where more than one was put together.
	remarks := func(signs int, unusual bool) []string {
		return Remarks(baseline.Comparison{Overall: baseline.Overall{Signs: signs, P: .004, Unusual: unusual}}, vitals.Horse{Sex: vitals.Mare}, words.English)
	}
	td.Cmp(t, remarks(2, true), []string{"Together, fewer than 1 in 200 of her quiet-day exams would be this unusual."})
	td.Cmp(t, remarks(1, true), td.Empty())
	td.Cmp(t, remarks(2, false), td.Empty())
	// Where a figure is from: a name, a mark that is not "read", or both.
	source := func(id vitals.SourceID, mark vitals.Mark) string {
		return telling{lang: words.English}.source(vitals.Provenance{Source: id, Mark: mark})
	}
	td.Cmp(t, []string{source("somewhere", vitals.Read), source("somewhere", ""), source("", vitals.Assumed), source("somewhere", vitals.Memory)},
		[]string{"somewhere", "somewhere", "our estimate, no published source found", "somewhere; from memory, source not checked yet"})
	bare := baseline.Compared{Measure: &vitals.Measure{Unit: vitals.PerMinute}, Printed: []baseline.Printed{{}, {Low: p(28), Provenance: vitals.Provenance{Source: "somewhere"}}}}
	td.Cmp(t, telling{lang: words.English}.printed(bare), "28 a minute or more (somewhere)", "a range without an end says nothing")
}
