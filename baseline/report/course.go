package report

import (
	"math"
	"slices"

	"whorl.example/baseline"
	"whorl.example/baseline/recovery"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// A course is drawn 328 wide: values above, times below, so many units high.
const (
	courseHeight = 210.0
	courseTop    = 34.0  // room for the highest figure
	courseFloor  = 178.0 // y of the time axis
	courseLeft   = 24.0
	courseRight  = 304.0
)

// course is a series of readings over time, to be drawn.
type course struct {
	points []coursePoint
	// own is hatched; levels are dashed across with their figure.
	own    *baseline.Interval
	usual  string // the words at the hatched interval
	levels []float64
	unit   vitals.Unit
	title  string
	said   string
}

type coursePoint struct {
	at          float64 // minutes
	value, sd   float64
	line        float64 // the fitted course; 0 without one
	figure, low string  // at the point, and under the axis
}

// Course draws the series of a measured sign as SVG: each reading as a point with its
// uncertainty (95 %), the fitted course as a line where a direction was worked out, and the animal's own
// interval hatched. Title and description say the same in words. It is empty for a graded
// sign and for figures that cannot be drawn.
func Course(w watch.Watched, lang words.Lang) string {
	if len(w.Points) == 0 {
		return ""
	}
	t := telling{lang: lang}
	c := course{own: w.Own, unit: w.Unit, title: upper(t.say("course.title", "sign", t.sign(w.Sign, w.Site)))}
	if w.Own != nil {
		key := "course.own"
		if w.Basis != nil && w.Basis.Exams == 0 {
			key = "course.own.0"
		}
		c.usual = t.say(key, "range", t.spanBare(&w.Own.Low, &w.Own.High, w.Unit))
	}
	var said []string
	for _, p := range w.Points {
		at := p.At.In(zone(p.At)).Format(t.say("clock"))
		c.points = append(c.points, coursePoint{p.Minutes, p.Value, p.SD, p.Line, written(p.Value, w.Unit), at})
		said = append(said, t.say("course.point", "at", at, "value", t.amount(p.Value, w.Unit)))
	}
	c.said = t.list(said) + "."
	return c.draw()
}

// Curve draws the heart rate of a recovery over the minutes since the work ended, with
// the published limits as dashed lines. It is empty where nothing was counted.
func Curve(r recovery.Recovery, lang words.Lang) string {
	if len(r.Heart) == 0 {
		return ""
	}
	t := telling{lang: lang}
	c := course{unit: vitals.PerMinute, title: t.say("course.recovery")}
	for _, k := range recovery.Criteria() {
		if !slices.Contains(c.levels, k.AtMost) {
			c.levels = append(c.levels, k.AtMost)
		}
	}
	var said []string
	for _, p := range r.Heart {
		at := t.say("course.minutes", "n", vitals.Decimals(p.Minutes, 0))
		c.points = append(c.points, coursePoint{p.Minutes, p.Rate, p.SD, 0, written(p.Rate, vitals.PerMinute), at})
		said = append(said, t.say("course.point", "at", at, "value", t.amount(p.Rate, vitals.PerMinute)))
	}
	c.said = t.list(said) + "."
	return c.draw()
}

func (c course) draw() string {
	low, high := math.Inf(1), math.Inf(-1)
	span := func(v ...float64) {
		for _, x := range v {
			low, high = math.Min(low, x), math.Max(high, x)
		}
	}
	last := 0.0
	for _, p := range c.points {
		if !finite(p.at, p.value, p.sd, p.line) || p.sd < 0 {
			return ""
		}
		span(p.value-z95*p.sd, p.value+z95*p.sd)
		last = math.Max(last, p.at)
	}
	if c.own != nil && finite(c.own.Low, c.own.High) {
		span(c.own.Low, c.own.High)
	}
	span(c.levels...)
	if !finite(low, high, high-low) {
		return ""
	}
	if high == low {
		low, high = low-1, high+1
	}
	x := func(at float64) float64 {
		if last == 0 {
			return (courseLeft + courseRight) / 2
		}
		return courseLeft + at/last*(courseRight-courseLeft)
	}
	y := func(v float64) float64 {
		return courseFloor - 12 - (v-low)/(high-low)*(courseFloor-12-courseTop)
	}
	var d drawing
	d.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 328 ` + px(courseHeight) +
		`" role="img" font-family="system-ui, sans-serif" fill="currentColor"><title>` + escape(c.title) + `</title><desc>` + escape(c.said) + `</desc>`)
	d.line("M0 "+px(courseFloor)+"H328", 1.5)
	if c.own != nil && finite(c.own.Low, c.own.High) {
		top, bottom := y(c.own.High), y(c.own.Low)
		if c.usual != "" {
			d.text(2, math.Max(top-5, rulerSmall), lettering{rulerSmall, "start", false}, c.usual)
		}
		// Fainter than on a ruler: here it is the ground, and the readings are the figure.
		d.WriteString(`<g opacity="0.5">`)
		d.hatch(0, top, rulerWidth, math.Max(bottom-top, 1), 9)
		d.WriteString(`</g>`)
	}
	for _, v := range c.levels {
		d.dashed("M0 " + px(y(v)) + "H328")
		d.text(2, y(v)-4, lettering{rulerSmall, "start", false}, written(v, c.unit))
	}
	c.line(&d, x, y)
	// Figures and times are set where they have room; the first and the last always are.
	figures, times := newRoom(), newRoom()
	for _, i := range outsideIn(len(c.points)) {
		p := c.points[i]
		if at, ok := figures.at(x(p.at), 1.15*width(p.figure, rulerBig)); ok {
			d.text(at, y(p.value+z95*p.sd)-8, lettering{rulerBig, "middle", true}, p.figure)
		}
		if at, ok := times.at(x(p.at), width(p.low, rulerSmall)); ok {
			d.text(at, courseFloor+19, lettering{rulerSmall, "middle", false}, p.low)
		}
		d.line("M"+px(x(p.at))+" "+px(courseFloor)+"v5", 1.5)
	}
	for _, p := range c.points {
		if p.sd > 0 {
			d.line("M"+px(x(p.at))+" "+px(y(p.value+z95*p.sd))+"V"+px(y(p.value-z95*p.sd)), 2.5)
		}
		d.WriteString(`<circle cx="` + px(x(p.at)) + `" cy="` + px(y(p.value)) + `" r="5.5"/>`)
	}
	d.WriteString(`</svg>`)
	return d.String()
}

// line draws the fitted course; without one the points are joined by a thin line.
func (c course) line(d *drawing, x, y func(float64) float64) {
	fitted := slices.ContainsFunc(c.points, func(p coursePoint) bool { return p.line != 0 })
	path := ""
	for i, p := range c.points {
		v := p.value
		if fitted {
			v = p.line
		}
		// A daily rhythm can take the line out of the drawing; it is cut there.
		to := "L"
		if i == 0 {
			to = "M"
		}
		path += to + px(x(p.at)) + " " + px(clamp(y(v), 4, courseFloor))
	}
	if len(c.points) > 1 {
		d.line(path, 1.2)
	}
}

// outsideIn orders n places so that the ends come first and those between them after.
func outsideIn(n int) []int {
	if n == 0 {
		return nil
	}
	out := []int{n - 1}
	for i := range n - 1 {
		out = append(out, i)
	}
	return out
}

// room keeps texts of one row apart.
type room struct{ taken [][2]float64 }

func newRoom() *room { return &room{} }

// at gives the middle of a text that wants to stand at x, inside the drawing; ok is false
// where it would touch another.
func (r *room) at(x, wide float64) (at float64, ok bool) {
	at = clamp(x, wide/2+1, rulerWidth-wide/2-1)
	left, right := at-wide/2-4, at+wide/2+4
	for _, t := range r.taken {
		if left < t[1] && right > t[0] {
			return at, false
		}
	}
	r.taken = append(r.taken, [2]float64{left, right})
	return at, true
}
