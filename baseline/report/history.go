package report

import (
	"math"
	"slices"
	"strings"
	"time"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Mark is how a reading of the record is drawn: what kind of day it was.
type Mark string

const (
	MarkQuiet Mark = "quiet" // it taught what is usual
	MarkWork  Mark = "work"  // after work
	MarkSick  Mark = "sick"  // the handler said: not well
	MarkOther Mark = "other" // excited, medicated, or not said whether well
)

// Marks lists every mark.
func Marks() []Mark { return slices.Clone(allMarks) }

var allMarks = []Mark{MarkQuiet, MarkWork, MarkSick, MarkOther}

// Kept is one finding of the record as it is read in a table.
type Kept struct {
	Exam vitals.ID `json:"exam"`
	At   time.Time `json:"at"`
	// Day, Value and Usual are said in the language; Usual is what was usual before it, or empty.
	Day   string `json:"day"`
	Value string `json:"value"`
	Usual string `json:"usual,omitempty"`
	// Statement is the comparison's, Mark what kind of day it was, and Said its words.
	Statement baseline.Statement `json:"statement"`
	Mark      Mark               `json:"mark"`
	Said      string             `json:"said"`
}

// History is one sign of the record: a chart, where the sign is measured, and the same as a table.
type History struct {
	// Chart is SVG; empty for a sign that is chosen from a list, and for fewer than two readings.
	Chart string `json:"chart"`
	// Rows are the findings, the latest first.
	Rows []Kept `json:"rows"`
	// Now says what is usual at the end of the chart; empty where nothing says so.
	Now string `json:"now"`
}

// markOf is the kind of day of an exam.
func markOf(p baseline.Past) Mark {
	switch {
	case p.Exam.Wellness == vitals.Unwell:
		return MarkSick
	case p.Exam.State.In(vitals.AfterWork):
		return MarkWork
	case p.Reason == "":
		return MarkQuiet
	}
	return MarkOther
}

// Told of the record of a sign: past as [baseline.Baseline.Past] gives it, and what is usual at a time
// after it, nil where nothing says so.
func Told(past []baseline.Past, now *baseline.Normal, horse vitals.Horse, lang words.Lang) History {
	t := about(horse, lang)
	var out History
	// One unit for the whole chart: the one in which the latest reading was read.
	var unit vitals.Unit
	to, _ := unit.To(unit)
	for _, p := range past {
		if m := p.Compared.Measure; m != nil && (p.Finding.Reading != nil || p.Finding.Girth != nil || unit == "") {
			unit = p.Finding.Unit(m.Unit)
			to, _ = m.Unit.To(unit)
		}
	}
	c := chart{t: t}
	shown := func(i *baseline.Interval) *baseline.Interval {
		if i == nil || !finite(i.Low, i.High) {
			return nil
		}
		out := i.In(to)
		return &out
	}
	for _, p := range past {
		said := AsRead(p.Compared, p.Finding)
		row := Kept{Exam: p.Exam.ID, At: p.At, Day: t.day(p.At), Statement: said.Statement, Mark: markOf(p)}
		row.Said = t.say("history.mark." + string(row.Mark))
		if odd := oddness(now, p.Exam.ID); odd > .5 {
			row.Said = t.say("history.odd", "mark", row.Said, "p", itoa(int(100*odd)))
		}
		if m := said.Measure; m != nil && finite(m.Value, m.SD) {
			row.Value = t.measured(said)
			if said.Own != nil {
				row.Usual = t.withUnit(t.ownRange(said), m.Unit)
			}
			at := p.Compared.Measure.In(unit) // whatever this one was read in
			c.add(reading{p.At, at, shown(p.Usual), row.Mark, said.Statement.Unusual()})
		} else {
			row.Value = t.answers(said.Sign, said.Chosen, said.Where)
		}
		out.Rows = append(out.Rows, row)
	}
	slices.Reverse(out.Rows)
	if now != nil && len(c.points) > 0 {
		c.now, c.nowAt = shown(&now.Own), now.At
		if c.now != nil {
			key := "history.now"
			if now.Basis.Exams == 0 {
				key = "history.now.0"
			}
			out.Now = t.say(key, "range", t.span(&c.now.Low, &c.now.High, c.points[0].m.Unit), "n", itoa(now.Basis.Exams))
		}
	}
	if len(past) > 0 {
		out.Chart = c.draw(t.sign(past[0].Compared.Sign, past[0].Compared.Site), out.Now)
	}
	return out
}

// oddness is how probable it is, by all the other readings, that one was of a bad day.
func oddness(now *baseline.Normal, exam vitals.ID) float64 {
	if now != nil {
		for _, l := range now.Readings {
			if l.Exam == exam {
				return l.Odd
			}
		}
	}
	return 0
}

// The chart's measures, in its own units; it is drawn 328 wide and scales.
const (
	chartTop    = 24.0
	chartHeight = 170.0 // of the field
	chartLeft   = 40.0  // the figures of the scale
	chartRight  = 318.0
	chartSmall  = 13.0
)

type reading struct {
	at      time.Time
	m       vitals.Measure
	usual   *baseline.Interval
	mark    Mark
	unusual bool
}

type chart struct {
	t      telling
	points []reading
	now    *baseline.Interval
	nowAt  time.Time

	from, to  time.Time
	low, high float64
	drawing
}

func (c *chart) add(p reading) { c.points = append(c.points, p) }

func (c *chart) x(at time.Time) float64 {
	span := c.to.Sub(c.from).Hours()
	if span <= 0 {
		return (chartLeft + chartRight) / 2
	}
	return chartLeft + 8 + clamp(at.Sub(c.from).Hours()/span, 0, 1)*(chartRight-chartLeft-16)
}

func (c *chart) y(v float64) float64 {
	return chartTop + (1-clamp((v-c.low)/(c.high-c.low), 0, 1))*chartHeight
}

// draw gives the chart: the readings in time, each with its uncertainty, and behind them what
// was usual before each, hatched, up to the present.
func (c *chart) draw(sign, now string) string {
	if len(c.points) < 2 {
		return ""
	}
	unit := c.points[0].m.Unit
	c.from, c.to = c.points[0].at, c.points[len(c.points)-1].at
	if c.now != nil && c.nowAt.After(c.to) {
		c.to = c.nowAt
	}
	c.low, c.high = math.Inf(1), math.Inf(-1)
	span := func(low, high float64) { c.low, c.high = math.Min(c.low, low), math.Max(c.high, high) }
	for _, p := range c.points {
		span(p.m.Value-z95*p.m.SD, p.m.Value+z95*p.m.SD)
		if p.usual != nil {
			span(p.usual.Low, p.usual.High)
		}
	}
	if c.now != nil {
		span(c.now.Low, c.now.High)
	}
	if !finite(c.low, c.high) {
		return ""
	}
	pad := math.Max(0.06*(c.high-c.low), 0.1)
	c.low, c.high = c.low-pad, c.high+pad

	legend := c.legend()
	height := chartTop + chartHeight + 30 + 20*float64(len(legend))
	c.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 328 ` + px(height) +
		`" role="img" font-family="system-ui, sans-serif" fill="currentColor"><title>` +
		escape(upper(c.t.say("history.title", "sign", sign, "n", itoa(len(c.points)), "from", c.t.short(c.from, c.to), "to", c.t.short(c.points[len(c.points)-1].at, c.to)))) +
		`</title><desc>` + escape(now) + `</desc>`)
	c.scale(unit)
	c.band()
	for i, p := range c.points {
		c.point(p, i == len(c.points)-1, unit)
	}
	c.days()
	for i, m := range legend {
		y := chartTop + chartHeight + 44 + 20*float64(i)
		c.glyph(m, chartLeft+8, y-4)
		c.text(chartLeft+22, y, lettering{chartSmall, "start", false}, c.t.say("history.mark."+string(m)))
	}
	c.WriteString(`</svg>`)
	return c.String()
}

// legend lists the marks that occur.
func (c *chart) legend() []Mark {
	var out []Mark
	for _, m := range allMarks {
		for _, p := range c.points {
			if p.mark == m {
				out = append(out, m)
				break
			}
		}
	}
	return out
}

// scale draws the edges of the field and round figures beside it.
func (c *chart) scale(unit vitals.Unit) {
	c.line("M"+px(chartLeft)+" "+px(chartTop)+"V"+px(chartTop+chartHeight)+"H"+px(chartRight), 1.5)
	step := round((c.high - c.low) / 4)
	for v := math.Ceil(c.low/step) * step; v <= c.high; v += step {
		c.line("M"+px(chartLeft-4)+" "+px(c.y(v))+"h4", 1.5)
		c.text(chartLeft-7, c.y(v)+4, lettering{chartSmall, "end", false}, written(v, unit))
	}
}

// round gives the step of 1, 2 or 5 times a power of ten next above v.
func round(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, f := range []float64{1, 2, 5} {
		if v <= f*p*1.0001 {
			return f * p
		}
	}
	return 10 * p
}

// band hatches what was usual, from each reading to the next: the interval that was known
// before the next one. The last runs to the present.
func (c *chart) band() {
	type part struct {
		from, to float64
		i        *baseline.Interval
	}
	var parts []part
	left := chartLeft
	for _, p := range c.points {
		right := c.x(p.at)
		if p.usual != nil && right > left {
			parts = append(parts, part{left, right, p.usual})
		}
		left = right
	}
	if c.now != nil && chartRight > left {
		parts = append(parts, part{left, chartRight, c.now})
	}
	const step = 8.0
	var hatch, edge strings.Builder
	for i, p := range parts {
		top, bottom := c.y(p.i.High), c.y(p.i.Low)
		// Lines of one slope and one grid through all parts: x + y is a multiple of the step.
		for k := math.Ceil((p.from + top) / step); k*step < p.to+bottom; k++ {
			x1, x2 := math.Max(p.from, k*step-bottom), math.Min(p.to, k*step-top)
			if x2 > x1 {
				hatch.WriteString("M" + px(x1) + " " + px(k*step-x1) + "L" + px(x2) + " " + px(k*step-x2))
			}
		}
		join := "M"
		if i > 0 && parts[i-1].to == p.from {
			join = "L"
		}
		edge.WriteString(join + px(p.from) + " " + px(top) + "H" + px(p.to))
	}
	for i, p := range parts {
		join := "M"
		if i > 0 && parts[i-1].to == p.from {
			join = "L"
		}
		edge.WriteString(join + px(p.from) + " " + px(c.y(p.i.Low)) + "H" + px(p.to))
	}
	if hatch.Len() > 0 {
		c.WriteString(`<path d="` + hatch.String() + `" fill="none" stroke="currentColor" stroke-opacity="0.55" stroke-width="0.8"/>`)
	}
	if edge.Len() > 0 {
		c.line(edge.String(), 1.5)
	}
}

// point draws a reading; the latest and what is not as usual have their figure beside them.
func (c *chart) point(p reading, last bool, unit vitals.Unit) {
	x, y := c.x(p.at), c.y(p.m.Value)
	c.line("M"+px(x)+" "+px(c.y(p.m.Value-z95*p.m.SD))+"V"+px(c.y(p.m.Value+z95*p.m.SD)), 1.5)
	c.glyph(p.mark, x, y)
	if last || p.unusual {
		figure := written(p.m.Value, unit)
		w := width(figure, chartSmall) / 2
		c.text(clamp(x, chartLeft+w, chartRight-w), math.Max(12, c.y(p.m.Value+z95*p.m.SD)-6), lettering{chartSmall, "middle", true}, figure)
	}
}

// glyph draws a mark: by its shape, since no colour carries meaning here.
func (c *chart) glyph(m Mark, x, y float64) {
	at := px(x) + ` ` + px(y)
	switch m {
	case MarkWork:
		c.line("M"+at+"m0 -6l6 10h-12z", 2)
	case MarkSick:
		c.line("M"+at+"m-5 -5l10 10m0 -10l-10 10", 3)
	case MarkQuiet:
		c.WriteString(`<circle cx="` + px(x) + `" cy="` + px(y) + `" r="4"/>`)
	default:
		c.WriteString(`<circle cx="` + px(x) + `" cy="` + px(y) + `" r="4.5" fill="none" stroke="currentColor" stroke-width="1.5"/>`)
	}
}

// days writes the first day and the last under the field.
func (c *chart) days() {
	y := chartTop + chartHeight + 18
	c.text(chartLeft, y, lettering{chartSmall, "start", false}, c.t.short(c.from, c.to))
	c.text(chartRight, y, lettering{chartSmall, "end", false}, c.t.short(c.to, c.to))
}

// short is a day in few letters, with the year where it is another than that of the other.
func (t telling) short(at, other time.Time) string {
	key := "date.far"
	if at = at.In(zone(at)); at.Year() == other.In(zone(other)).Year() {
		key = "date.year"
	}
	return t.say(key, "day", itoa(at.Day()), "month", t.say("month."+itoa(int(at.Month()))), "year", itoa(at.Year()))
}
