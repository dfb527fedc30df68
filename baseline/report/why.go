package report

import (
	"math"
	"slices"
	"strings"

	"whorl.example/baseline"
	"whorl.example/baseline/internal/stable"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// whyShown is how many own readings are named one by one; of more, the latest.
const whyShown = 12

// Why says in sentences what stands behind the statement on one finding; f is the finding, so that a
// temperature is told in the unit in which it was read.
func Why(w baseline.Why, f vitals.Finding, horse vitals.Horse, lang words.Lang) []string {
	t := about(horse, lang)
	switch {
	case w.Measured != nil:
		return t.whyMeasured(*w.Measured, f, w.Statement)
	case w.Graded != nil:
		return t.whyGraded(w.Sign, *w.Graded)
	}
	return []string{t.say("said.noted")}
}

// inUnit converts an explanation into the unit in which its finding was read.
func inUnit(m baseline.WhyMeasured, unit vitals.Unit) baseline.WhyMeasured {
	to, ok := m.Unit.To(unit)
	if !ok || unit == m.Unit {
		return m
	}
	m.Unit, m.Value, m.Before, m.Own = unit, to.Value(m.Value), m.Before.In(to), m.Own.In(to)
	for _, sd := range []*float64{&m.Between, &m.Within, &m.Doubt, &m.Spread, &m.Method} {
		*sd = to.Size(*sd)
	}
	m.Readings = slices.Clone(m.Readings)
	for i := range m.Readings {
		m.Readings[i].Value = to.Value(m.Readings[i].Value)
	}
	if m.Hour != nil {
		h := to.Size(*m.Hour)
		m.Hour = &h
	}
	if m.Trend != nil {
		trend := *m.Trend
		trend.From, trend.To = to.Value(trend.From), to.Value(trend.To)
		m.Trend = &trend
	}
	return m
}

func (t telling) whyMeasured(m baseline.WhyMeasured, f vitals.Finding, is baseline.Statement) []string {
	m = inUnit(m, f.Unit(m.Unit))
	var out []string
	add := func(key string, args ...string) { out = append(out, t.say(key, args...)) }
	amount := func(v float64) string { return t.amount(v, m.Unit) }
	// A spread is told with one place more where the usual places would say nothing.
	size := func(v float64) string {
		p := places(m.Unit)
		if v < 2*math.Pow10(-p) {
			p++
		}
		return vitals.Decimals(v, p)
	}
	between := func(i baseline.Interval) string { return t.span(&i.Low, &i.High, m.Unit) }

	add("why.before", "range", between(m.Before))
	low := size(m.Within / m.Factor)
	_, decimals, _ := strings.Cut(low, ".")
	add("why.assumed", "between", size(m.Between), "low", low, "high", vitals.Decimals(m.Within*m.Factor, len(decimals)))
	if doubts := t.doubts(m.Prior); doubts != "" {
		out = append(out, doubts)
	}
	n := len(m.Readings)
	if n == 0 {
		add("why.none")
	} else {
		out = append(out, t.whyReadings(m, amount)...)
	}
	if m.Hour != nil && math.Abs(*m.Hour) >= .05 {
		key := "why.hour.above"
		if *m.Hour < 0 {
			key = "why.hour.below"
		}
		add(key, "size", size(math.Abs(*m.Hour)))
	}
	add("why.width", "spread", size(z95*m.Spread), "doubt", size(z95*m.Doubt), "method", size(z95*m.Method))
	if n-m.Earlier >= 3 {
		add("why.wanders", "p", itoa(int(100*m.Wanders+.5)))
	}
	limits := write(m.Value, &m.Own, m.Unit)
	add("why.limits", "range", t.withUnit(t.rangeOf(limits), m.Unit), "value", t.withUnit(limits.value, m.Unit))
	if is.Unusual() {
		add("why.out", "n", itoa(oneIn(m.Tail)), "called", t.say("why.called."+string(is)))
	} else {
		add("why.in")
	}
	if r := m.Trend; r != nil {
		key := "why.trend.none"
		if r.Stated {
			key = "why.trend"
		}
		add(key, "n", itoa(r.Readings), "days", itoa(int(math.Round(r.Days))), "from", written(r.From, m.Unit), "to", amount(r.To), "p", itoa(max(1, int(100*r.P+.5))))
	}
	return out
}

// whyReadings names the own readings and what they weigh.
func (t telling) whyReadings(m baseline.WhyMeasured, amount func(float64) string) []string {
	var out, list []string
	n := len(m.Readings)
	for _, l := range m.Readings[max(0, n-whyShown):] {
		list = append(list, t.say("why.reading", "value", written(l.Value, m.Unit), "day", t.dayMonth(vitals.DateOf(l.At))))
	}
	key := "why.readings"
	if n > whyShown {
		key = "why.readings.latest"
	}
	out = append(out, t.say(key, "n", itoa(n), "shown", itoa(len(list)), "list", strings.Join(list, ", ")))
	if !m.Since.IsZero() {
		out = append(out, t.say("why.since", "day", t.date(vitals.DateOf(m.Since)), "earlier", itoa(m.Earlier)))
	}
	parts := func(share float64) string { return itoa(int(100*max(0, min(1, share)) + .5)) }
	out = append(out, t.say("why.weights", "own", parts(1-m.PriorShare), "newest", parts(m.Readings[n-1].Share), "rest", parts(m.PriorShare)))
	odd := slices.Clone(m.Readings)
	stable.Sort(odd, func(a, b baseline.Weighed) int {
		if a.Odd == b.Odd {
			return 0
		} else if a.Odd > b.Odd {
			return -1
		}
		return 1
	})
	for _, l := range odd[:min(3, n)] {
		if l.Odd >= .05 {
			out = append(out, t.say("why.odd", "value", amount(l.Value), "day", t.dayMonth(vitals.DateOf(l.At)), "p", itoa(min(99, int(100*l.Odd+.5)))))
		}
	}
	return out
}

// dayMonth says a date without its year.
func (t telling) dayMonth(d vitals.Date) string {
	return t.say("date.year", "day", itoa(d.Day), "month", t.say("month."+itoa(int(d.Month))))
}

func (t telling) whyGraded(sign vitals.SignID, g baseline.WhyGraded) []string {
	out := []string{t.say("why.grade.assumed", "p", percent(g.Assumed), "worth", itoa(g.Worth))}
	switch {
	case g.Exams == 0:
		out = append(out, t.say("why.none"))
	default:
		out = append(out, t.say("why.grade.counted", "n", itoa(g.Exams), "seen", itoa(g.Seen)))
		if len(g.Usual) > 0 {
			out = append(out, t.say("said.usual", "answer", t.answers(sign, g.Usual, nil), "seen", itoa(g.UsualSeen), "n", itoa(g.Exams)))
		}
	}
	return append(out, t.say("why.grade.p", "p", percent(g.P)))
}

// percent writes a share as so many in 100, with one place below ten.
func percent(p float64) string {
	if p < .0995 {
		return strings.TrimSuffix(vitals.Decimals(100*p, 1), ".0")
	}
	return vitals.Decimals(100*p, 0)
}

// WhyExam says how the findings of an exam were put together.
func WhyExam(x baseline.Explanation, horse vitals.Horse, lang words.Lang) []string {
	t := about(horse, lang)
	o := x.Overall
	if len(o.Parts) == 0 {
		return []string{t.say("why.exam.none")}
	}
	var list []string
	for _, p := range o.Parts[:min(3, len(o.Parts))] {
		if p.P < .2 || len(list) == 0 {
			list = append(list, t.say("why.exam.part", "sign", t.sign(p.Sign, ""), "n", itoa(oneIn(p.P))))
		}
	}
	out := []string{
		t.say("why.exam.parts", "n", itoa(len(o.Parts)), "list", t.list(list)),
		t.say("why.exam.way"),
		t.say("why.exam.p", "n", itoa(oneIn(o.P))),
	}
	if len(o.Parts) > 1 {
		out = append(out, t.say("why.exam.strong", "n", itoa(int(math.Round(1/o.Strong/10)*10))))
	}
	taught := 0
	for _, l := range x.Lessons {
		if l.Taught {
			taught++
		}
	}
	return append(out, t.say("why.exam.lessons", "taught", itoa(taught), "n", itoa(len(x.Lessons))))
}

// WhyKnown says how well one sign of a horse is known, and what is left to learn, in the unit in which
// it is read, where that is one of its units.
func WhyKnown(k baseline.KnownSign, read vitals.Unit, horse vitals.Horse, lang words.Lang) []string {
	t := about(horse, lang)
	sign, ok := vitals.Lookup(k.Sign)
	if !ok {
		return nil
	}
	unit := sign.Unit
	to, ok := unit.To(read)
	if ok {
		unit = read
	}
	width := func(v float64) string {
		p := sign.Places
		v = to.Size(v)
		if v < 10*math.Pow10(-p) {
			p++
		}
		return vitals.Decimals(v, p)
	}
	return []string{
		t.say("why.known", "sign", upper(t.sign(k.Sign, k.Site)), "n", itoa(k.Exams), "before", width(k.Before), "now", width(k.Now),
			"attainable", t.withUnit(width(k.Attainable), unit)),
		t.say("why.known.doubt", "doubt", width(k.Doubt), "after", t.withUnit(width(k.AfterTwo), unit)),
	}
}
