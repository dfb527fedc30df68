package report

import (
	"math"
	"strings"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// The ruler's measures in its own units; it is drawn 328 wide and scales.
const (
	rulerWidth  = 328.0
	rulerEdge   = 10.0 // free on both sides
	rulerLine   = 52.0 // y of the line
	rulerBox    = 15.0 // height of the hatched interval
	rulerRow    = 19.0 // height of a row under the line
	rulerSmall  = 13.0 // size of the figures
	rulerBig    = 17.0 // size of today's figure
	rulerRanges = 4    // rows of published ranges
)

// Ruler draws a measured sign as SVG: a line, the animal's own interval hatched on it (an empty dashed
// box where nothing of its own is known), each
// published range as a bracket below (ranges of the same figures as one; of more than
// four the last is one that spans the rest), and today's reading as a pin whose foot is as wide
// as its uncertainty (95 %). Durations lie on a log scale. Title and description say the
// same in words. It is empty for a sign without a measure, and for figures that cannot be drawn.
func Ruler(c baseline.Compared, lang words.Lang) string {
	if c.Measure == nil || !finite(c.Measure.Value, c.Measure.SD) || c.Measure.SD < 0 {
		return ""
	}
	t := telling{lang: lang}
	rows := t.rows(c)
	a := newAxis(c, rows)
	if a == nil {
		return ""
	}
	var d drawing
	height := rulerLine + 8
	if c.Own != nil {
		height += rulerRow
	}
	for _, row := range rows {
		height += row.height(a)
	}
	d.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 328 ` + px(height) +
		`" role="img" font-family="system-ui, sans-serif" fill="currentColor"><title>` +
		escape(upper(t.say("ruler.title", "sign", t.sign(c.Sign, c.Site), "value", t.measured(c)))) +
		`</title><desc>` + escape(t.described(c)) + `</desc>`)

	d.line("M0 "+px(rulerLine)+"H328", 1.5)
	y := rulerLine
	if c.Own != nil && finite(c.Own.Low, c.Own.High) {
		low, high := a.x(c.Own.Low), a.x(c.Own.High)
		if c.Basis.Exams > 0 {
			d.hatch(low, rulerLine-rulerBox, math.Max(high-low, 1), rulerBox, 6)
		} else { // nothing of its own is known: an empty box
			d.dashed("M" + px(low) + " " + px(rulerLine) + "v" + px(-rulerBox) + "H" + px(high) + "v" + px(rulerBox))
		}
		y += rulerRow
		f := write(c.Measure.Value, c.Own, c.Measure.Unit)
		ends(&d, low, high, y-4, f)
	}
	y += 12
	for _, row := range rows {
		row.draw(&d, a, y)
		y += row.height(a)
	}
	a.pin(&d, *c.Measure, t.measured(c))
	d.WriteString(`</svg>`)
	return d.String()
}

// described says in words what the ruler shows.
func (t telling) described(c baseline.Compared) string {
	said := []string{t.say("ruler.give", "value", t.measured(c), "give", t.give(*c.Measure))}
	if c.Own != nil && finite(c.Own.Low, c.Own.High) {
		key := "ruler.own"
		if c.Basis.Exams == 0 {
			key = "ruler.own.0"
		}
		said = append(said, t.say(key, "range", t.withUnit(t.ownRange(c), c.Measure.Unit)))
	}
	if printed := t.printed(c); printed != "" {
		said = append(said, t.say("ruler.print", "ranges", printed))
	}
	return strings.Join(said, " ")
}

// row is a published range, or several as one.
type row struct {
	low, high *float64
	rest      int // how many ranges it spans, for the last row of too many
	label     string
}

// rows gives the published ranges, those of the same figures as one; more than
// rulerRanges are drawn with the last row spanning the rest.
func (t telling) rows(c baseline.Compared) []row {
	var rows []row
	var count []int
	unit := c.Measure.Unit
next:
	for _, p := range c.Printed {
		if p.Low == nil && p.High == nil || !finite(deref(p.Low), deref(p.High)) {
			continue
		}
		for i, r := range rows {
			if same(r.low, p.Low) && same(r.high, p.High) {
				count[i]++
				continue next
			}
		}
		rows, count = append(rows, row{low: p.Low, high: p.High}), append(count, 1)
	}
	if len(rows) > rulerRanges {
		rest := row{}
		openLow, openHigh := false, false
		for i := rulerRanges - 1; i < len(rows); i++ {
			rest.rest += count[i]
			openLow, openHigh = openLow || rows[i].low == nil, openHigh || rows[i].high == nil
			rest.low, rest.high = lower(rest.low, rows[i].low), higher(rest.high, rows[i].high)
		}
		switch { // one open side stays open; of two the figures say more
		case openLow && openHigh:
		case openLow:
			rest.low = nil
		case openHigh:
			rest.high = nil
		}
		rows = append(rows[:rulerRanges-1:rulerRanges-1], rest)
	}
	for i, r := range rows {
		rows[i].label = t.spanBare(r.low, r.high, unit)
		switch {
		case r.rest > 0:
			rows[i].label = t.say("ruler.others", "n", itoa(r.rest), "range", rows[i].label)
		case count[i] > 1:
			rows[i].label += " (" + t.say("ruler.sources", "n", itoa(count[i])) + ")"
		}
	}
	return rows
}

// spanBare is a range without its unit.
func (t telling) spanBare(low, high *float64, unit vitals.Unit) string {
	switch {
	case low == nil && high == nil:
		return ""
	case low == nil:
		return t.say("amount.upto", "v", written(*high, unit))
	case high == nil:
		return t.say("amount.from", "v", written(*low, unit))
	}
	return written(*low, unit) + t.say("list.to") + written(*high, unit)
}

// ends gives where the bracket begins and ends; an open side runs to the edge.
func (r row) ends(a *axis) (left, right float64) {
	right = rulerWidth
	if r.low != nil {
		left = a.x(*r.low)
	}
	if r.high != nil {
		right = a.x(*r.high)
	}
	return left, right
}

// beside reports whether the label has room after or before the bracket.
func (r row) beside(a *axis) (after, before bool) {
	left, right := r.ends(a)
	w := width(r.label, rulerSmall) + 6
	return right+w <= rulerWidth, w <= left
}

func (r row) height(a *axis) float64 {
	if after, before := r.beside(a); after || before {
		return rulerRow
	}
	return rulerRow + 12
}

// draw puts the bracket at height y and its label after it, before it or below it,
// wherever there is room first.
func (r row) draw(d *drawing, a *axis, y float64) {
	left, right := r.ends(a)
	path := ""
	if r.low != nil {
		path = "M" + px(left) + " " + px(y-5) + "V" + px(y)
	} else {
		path = "M0 " + px(y)
	}
	if r.high != nil {
		path += "H" + px(right) + "V" + px(y-5)
	} else {
		path += "H" + px(right)
	}
	if r.rest > 0 {
		d.dashed(path)
	} else {
		d.line(path, 1.5)
	}
	w := width(r.label, rulerSmall)
	switch after, before := r.beside(a); {
	case after:
		d.text(right+6, y+3, lettering{rulerSmall, "start", false}, r.label)
	case before:
		d.text(left-6, y+3, lettering{rulerSmall, "end", false}, r.label)
	default:
		d.text(clamp((left+right)/2, w/2, rulerWidth-w/2), y+14, lettering{rulerSmall, "middle", false}, r.label)
	}
}

// ends sets the two figures under the ends of the own interval, apart from each other and
// inside the drawing.
func ends(d *drawing, low, high, y float64, f shown) {
	lowText, highText := f.low, f.high
	if lowText == highText {
		d.text(clamp((low+high)/2, 12, rulerWidth-12), y, lettering{rulerSmall, "middle", true}, lowText)
		return
	}
	wl, wh := width(lowText, rulerSmall), width(highText, rulerSmall)
	l, h := math.Max(low, wl/2), math.Min(high, rulerWidth-wh/2)
	if gap := (wl+wh)/2 + 6; h-l < gap {
		mid := clamp((l+h)/2, gap/2+wl/2, rulerWidth-gap/2-wh/2)
		l, h = mid-gap/2, mid+gap/2
	}
	d.text(l, y, lettering{rulerSmall, "middle", true}, lowText)
	d.text(h, y, lettering{rulerSmall, "middle", true}, highText)
}

// axis maps values of the sign's unit to the ruler's width.
type axis struct {
	low, high float64 // of the scale: values, or their logarithms
	log       bool
}

// newAxis spans everything that is drawn with room at both ends; nil if it cannot.
func newAxis(c baseline.Compared, rows []row) *axis {
	m := *c.Measure
	a := &axis{log: m.Unit == vitals.Second}
	all := []float64{m.Value, m.Value - z95*m.SD, m.Value + z95*m.SD}
	if c.Own != nil && finite(c.Own.Low, c.Own.High) {
		all = append(all, c.Own.Low, c.Own.High)
	}
	for _, r := range rows {
		if r.low != nil {
			all = append(all, *r.low)
		}
		if r.high != nil {
			all = append(all, *r.high)
		}
	}
	a.low, a.high = math.Inf(1), math.Inf(-1)
	for _, v := range all {
		if a.log {
			if v <= 0 { // an uncertainty that reaches zero has no place on a log scale
				continue
			}
			v = math.Log(v)
		}
		a.low, a.high = math.Min(a.low, v), math.Max(a.high, v)
	}
	if !finite(a.low, a.high) || !finite(a.high-a.low) {
		return nil
	}
	pad := 0.06 * (a.high - a.low)
	if pad == 0 {
		pad = math.Max(math.Abs(a.low)*0.1, 0.1)
	}
	a.low, a.high = a.low-pad, a.high+pad
	return a
}

// x gives the place of a value.
func (a *axis) x(v float64) float64 {
	if a.log {
		v = math.Log(math.Max(v, math.SmallestNonzeroFloat64))
	}
	at := (v - a.low) / (a.high - a.low)
	return rulerEdge + clamp(at, 0, 1)*(rulerWidth-2*rulerEdge)
}

// pin draws today's reading: a head, a stem to the line, and the foot on it.
func (a *axis) pin(d *drawing, m vitals.Measure, said string) {
	x := a.x(m.Value)
	left, right := a.x(m.Value-z95*m.SD), a.x(m.Value+z95*m.SD)
	top := rulerBig + 5
	d.WriteString(`<path d="M` + px(x) + ` ` + px(top+10) + `l-7 -10h14z"/>`)
	d.line("M"+px(x)+" "+px(top+8)+"V"+px(rulerLine), 3)
	d.line("M"+px(left)+" "+px(rulerLine)+"H"+px(math.Max(right, left+3)), 7)
	w := 1.15 * width(said, rulerBig) / 2 // bold
	d.text(clamp(x, w, rulerWidth-w), rulerBig, lettering{rulerBig, "middle", true}, said)
}

func clamp(v, low, high float64) float64 { return math.Max(low, math.Min(high, v)) }

func deref(p *float64) float64 {
	if p == nil {
		return 0
	}
	return *p
}

func same(a, b *float64) bool { return a == b || a != nil && b != nil && *a == *b }

func lower(a, b *float64) *float64 {
	if a == nil || b != nil && *b < *a {
		return b
	}
	return a
}

func higher(a, b *float64) *float64 {
	if a == nil || b != nil && *b > *a {
		return b
	}
	return a
}
