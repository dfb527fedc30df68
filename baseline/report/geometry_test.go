package report

import (
	"crypto/sha256"
	"encoding/hex"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// every gives the numbers of all matches of a pattern in a drawing.
func every(t *testing.T, svg, pattern string) (out [][]float64) {
	t.Helper()
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(svg, -1) {
		var of []float64
		for _, s := range m[1:] {
			v, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			of = append(of, v)
		}
		out = append(out, of)
	}
	return out
}

func near(x float64) td.TestDeep { return td.Between(x-0.11, x+0.11) }

// The lines of a hatched box lie at 45 degrees, one step apart, and end on its edges.
func TestHatch(t *testing.T) {
	t.Parallel()
	for _, box := range [][5]float64{{10, 20, 60, 15, 6}, {0, 0, 7, 15, 6}, {100, 40, 200, 30, 9}, {5, 5, 1, 15, 6}, {0, 0, 12, 12, 3}} {
		x, y, w, h, step := box[0], box[1], box[2], box[3], box[4]
		var d drawing
		d.hatch(x, y, w, h, step)
		lines := every(t, d.String(), `M`+num+` `+num+`L`+num+` `+num)
		// A line for each step along the bottom edge, from its end on the left, h before it, to the right.
		td.Cmp(t, len(lines), int(math.Ceil((w+h)/step))-1, "%v", box)
		for i, l := range lines {
			td.Cmp(t, l[2]-l[0], near(l[1]-l[3]), "as far right as up: %v", l)
			td.Cmp(t, l[0]+l[1], near(x+y+step*float64(i+1)), "one step apart: %v", l)
			begins := math.Abs(l[0]-x) < 0.1 || math.Abs(l[1]-(y+h)) < 0.1
			ends := math.Abs(l[2]-(x+w)) < 0.1 || math.Abs(l[3]-y) < 0.1
			inside := l[0] >= x-0.1 && l[2] <= x+w+0.1 && l[1] <= y+h+0.1 && l[3] >= y-0.1
			td.Cmp(t, begins && ends && inside, true, "%v in %v", l, box)
		}
		td.Cmp(t, every(t, d.String(), `<rect x="`+num+`" y="`+num+`" width="`+num+`" height="`+num+`"`), [][]float64{{x, y, w, h}})
	}
	for x, want := range map[float64]string{0: "0", -0.04: "0", 0.05: "0.1", 0.04999: "0", -1.25: "-1.3", 1.349: "1.3", 12: "12", math.Inf(1): "0", math.NaN(): "0"} {
		td.Cmp(t, px(x), want, "%v", x)
	}
}

// An animal's spiral never changes: a handler knows the horse by it. Its drawing is frozen.
func TestTheSpiralIsFrozen(t *testing.T) {
	t.Parallel()
	sum := sha256.Sum256([]byte(Whorl("juniper", 1, 56) + Whorl("sorrel", 0.4, 40) + Whorl("demo-bramble", 0, 56)))
	td.Cmp(t, hex.EncodeToString(sum[:8]), "6baa6cc7268808f0")
	// The part that is inked: of 72 steps, and a sixth of the points at least of what is known at all.
	for known, steps := range map[float64]int{0.5: 36, 0.01: 12, 1: 72} {
		path := regexp.MustCompile(`<path d="([^"]*)" stroke-width="2.6"`).FindStringSubmatch(Whorl("juniper", known, 56))
		td.Cmp(t, strings.Count(path[1], "C"), steps)
	}
	// Catmull-Rom: the curve goes through its points, and leaves each along the line of its neighbours.
	td.Cmp(t, smooth([]point{{0, 0}, {6, 0}, {12, 6}}), "M0 0C1 0 4 -1 6 0C8 1 11 5 12 6")
	td.Cmp(t, smooth(nil), "")
}

// The two figures under the own interval stand under its ends, at least six apart and inside the drawing.
func TestFiguresUnderTheEnds(t *testing.T) {
	t.Parallel()
	w := width("29", rulerSmall) // of either
	for _, x := range []struct{ low, high, l, h float64 }{
		{100, 200, 100, 200},
		{0, 200, w / 2, 200},
		{100, 328, 100, 328 - w/2},
		{160, 160, 160 - w/2 - 3, 160 + w/2 + 3},
		{150, 160, 155 - w/2 - 3, 155 + w/2 + 3},
		{0, 2, w / 2, w/2 + w + 6},
		{326, 328, 328 - w/2 - w - 6, 328 - w/2},
		{160 - w/2 - 3, 160 + w/2 + 3, 160 - w/2 - 3, 160 + w/2 + 3},
	} {
		var d drawing
		ends(&d, x.low, x.high, 67, shown{low: "29", high: "39"})
		got := every(t, d.String(), `<text x="`+num+`" y="`+num+`"`)
		td.Cmp(t, got, td.Len(2))
		td.Cmp(t, got[0][0], near(x.l), "%v", x)
		td.Cmp(t, got[1][0], near(x.h), "%v", x)
	}
	for at, x := range map[float64]float64{160: 160, 2: 12, 327: 316} {
		var d drawing
		ends(&d, at, at, 67, shown{low: "34", high: "34"})
		td.Cmp(t, every(t, d.String(), `<text x="`+num+`"`), [][]float64{{x}}, "one figure for both")
	}
}

// A bracket stands from its low to its high end, open to the edge where there is none; its label after it where there
// is room, else before it, else below.
func TestBrackets(t *testing.T) {
	t.Parallel()
	a := &axis{low: 0, high: 308} // a value is a unit of the drawing, ten from the left
	const label = "20 to 44"
	room := width(label, rulerSmall) + 6
	for name, x := range map[string]struct {
		low, high     *float64
		path, anchor  string
		at, y, height float64
	}{
		"after":        {p(40), p(100), "M50 95V100H110V95", "", 116, 103, rulerRow},
		"just after":   {p(40), p(318 - room), "M50 95V100H" + px(328-room) + "V95", "", 334 - room, 103, rulerRow},
		"before":       {p(150), p(300), "M160 95V100H310V95", "end", 154, 103, rulerRow},
		"below":        {p(20), p(300), "M30 95V100H310V95", "middle", 170, 114, rulerRow + 12},
		"no low end":   {nil, p(100), "M0 100H110V95", "", 116, 103, rulerRow},
		"no high end":  {p(150), nil, "M160 95V100H328", "end", 154, 103, rulerRow},
		"low, no high": {p(20), nil, "M30 95V100H328", "middle", 179, 114, rulerRow + 12},
	} {
		r := row{low: x.low, high: x.high, label: label}
		var d drawing
		r.draw(&d, a, 100)
		td.Cmp(t, d.String(), td.Contains(`<path d="`+x.path+`" fill="none"`), name)
		td.Cmp(t, d.String(), td.Not(td.Contains("dasharray")), name)
		text := every(t, d.String(), `<text x="`+num+`" y="`+num+`"`)
		td.Require(t).Cmp(text, td.Len(1))
		td.Cmp(t, text[0][0], near(x.at), name)
		td.Cmp(t, text[0][1], x.y, name)
		td.Cmp(t, strings.Contains(d.String(), "text-anchor"), x.anchor != "", name)
		td.Cmp(t, d.String(), td.Contains(x.anchor), name)
		td.Cmp(t, r.height(a), x.height, name)
		r.rest = 1
		d.Reset()
		r.draw(&d, a, 100)
		td.Cmp(t, d.String(), td.Contains("dasharray"), "several as one: "+name)
	}
}

// The scale holds all that is drawn and six in a hundred more at each end.
func TestAxis(t *testing.T) {
	t.Parallel()
	c := baseline.Compared{Measure: &vitals.Measure{Value: 40, SD: 1, Unit: vitals.PerMinute}}
	a := newAxis(c, nil)
	td.Cmp(t, a.low, td.N(40-1.959964*1.12, 1e-9)) // the width is 2·1.96, six hundredths of it at each end
	td.Cmp(t, a.high, td.N(40+1.959964*1.12, 1e-9))
	c.Own = &baseline.Interval{Low: 30, High: 42}
	a = newAxis(c, nil)
	td.Cmp(t, a.low, td.N(30-0.06*12, 1e-9))
	a = newAxis(c, []row{{low: p(20)}, {high: p(70)}, {}})
	td.Cmp(t, []float64{a.low, a.high}, []float64{17, 73})
	td.Cmp(t, []float64{a.x(17), a.x(73), a.x(45), a.x(0), a.x(90)}, []float64{10, 318, 164, 10, 318}, "what lies beyond stands at the edge")
	c = baseline.Compared{Measure: &vitals.Measure{Value: 40, Unit: vitals.PerMinute}}
	a = newAxis(c, nil)
	td.Cmp(t, []float64{a.low, a.high}, []float64{36, 44}, "of one figure, a tenth of it on each side")
	c.Measure.Value = 0
	a = newAxis(c, nil)
	td.Cmp(t, []float64{a.low, a.high}, []float64{-0.1, 0.1})
	// A time that may be nought: on a scale of logarithms what is not above it has no place.
	c.Measure = &vitals.Measure{Value: 1, SD: 1, Unit: vitals.Second}
	a = newAxis(c, nil)
	td.Cmp(t, a.high, td.N(math.Log(1+1.959964)*1.06, 1e-9))
	td.Cmp(t, a.low, td.N(-math.Log(1+1.959964)*0.06, 1e-9))
	td.Cmp(t, newAxis(baseline.Compared{Measure: &vitals.Measure{Value: 0, Unit: vitals.Second}}, nil), td.Nil())
}

// past gives readings of a heart rate on days, each with what was usual before it.
func chartOf(usual ...*baseline.Interval) *chart {
	c := &chart{t: telling{lang: words.English}}
	for i, u := range usual {
		c.add(reading{at: time.Date(2026, 5, 1+10*i, 7, 0, 0, 0, time.UTC), m: vitals.Measure{Value: 30 + 10*float64(i), Unit: vitals.PerMinute}, usual: u, mark: MarkQuiet})
	}
	return c
}

// Time runs evenly along the chart and the values up it; what was usual before a reading is hatched up to
// it, and what is usual now up to the edge.
func TestChartGeometry(t *testing.T) {
	t.Parallel()
	c := chartOf(nil, &baseline.Interval{Low: 30, High: 40}, &baseline.Interval{Low: 20, High: 50})
	c.now, c.nowAt = &baseline.Interval{Low: 34, High: 44}, time.Date(2026, 5, 31, 7, 0, 0, 0, time.UTC)
	svg := c.draw("heart rate", "now")
	// Ten days of thirty are a third of the field less its margins: 48 to 310.
	x := []float64{48, 48 + 262.0/3, 48 + 262.0*2/3}
	// 20 to 50 and six hundredths of that on each side: 18.2 to 51.8 from 194 up to 24.
	y := func(v float64) float64 { return 194 - (v-18.2)/33.6*170 }
	circles := every(t, svg, `<circle cx="`+num+`" cy="`+num+`" r="4"/>`)
	td.Require(t).Cmp(len(circles) >= 3, true)
	for i, v := range []float64{30, 40, 50} {
		td.Cmp(t, circles[i][0], near(x[i]))
		td.Cmp(t, circles[i][1], near(y(v)))
	}
	hatch := regexp.MustCompile(`<path d="([^"]*)" fill="none" stroke="currentColor" stroke-opacity`).FindStringSubmatch(svg)
	td.Require(t).Cmp(hatch, td.Len(2))
	parts := []struct{ from, to, low, high float64 }{{x[0], x[1], 30, 40}, {x[1], x[2], 20, 50}, {x[2], 318, 34, 44}}
	lines := every(t, hatch[1], `M`+num+` `+num+`L`+num+` `+num)
	count := 0
	for _, q := range parts {
		top, bottom := y(q.high), y(q.low)
		count += int(math.Ceil((q.to+bottom)/8)) - int(math.Ceil((q.from+top)/8))
	}
	td.Cmp(t, len(lines), count, "every line of a grid of eight that crosses a part")
	for _, l := range lines {
		td.Cmp(t, math.Mod(l[0]+l[1]+0.2, 8) < 0.4, true, "one grid through all: %v", l)
		td.Cmp(t, l[0]+l[1], td.Between(l[2]+l[3]-0.21, l[2]+l[3]+0.21), "of one slope: %v", l)
		within := 0
		for _, q := range parts {
			top, bottom := y(q.high), y(q.low)
			in := l[0] >= q.from-0.1 && l[2] <= q.to+0.1 && l[1] <= bottom+0.1 && l[3] >= top-0.1
			begins := math.Abs(l[0]-q.from) < 0.11 || math.Abs(l[1]-bottom) < 0.11
			ends := math.Abs(l[2]-q.to) < 0.11 || math.Abs(l[3]-top) < 0.11
			if in && begins && ends {
				within++
			}
		}
		td.Cmp(t, within >= 1, true, "cut to its part: %v", l)
	}
	edge := "M" + px(x[0]) + " " + px(y(40)) + "H" + px(x[1]) + "L" + px(x[1]) + " " + px(y(50)) + "H" + px(x[2]) + "L" + px(x[2]) + " " + px(y(44)) + "H318" +
		"M" + px(x[0]) + " " + px(y(30)) + "H" + px(x[1]) + "L" + px(x[1]) + " " + px(y(20)) + "H" + px(x[2]) + "L" + px(x[2]) + " " + px(y(34)) + "H318"
	td.Cmp(t, svg, td.Contains(edge))

	// A gap in what was known is a gap in the band.
	c = chartOf(nil, &baseline.Interval{Low: 30, High: 40}, nil, &baseline.Interval{Low: 30, High: 40})
	td.Cmp(t, strings.Count(regexp.MustCompile(`<path d="(M[^"L]*H[^"LV]*M[^"L]*)" fill`).FindString(c.draw("", "")), "M"), 4)
	// One reading is no course; two at one moment stand in the middle.
	td.Cmp(t, chartOf(nil).draw("", ""), "")
	c = chartOf(nil, nil)
	c.points[1].at = c.points[0].at
	td.Cmp(t, every(t, c.draw("", ""), `<circle cx="`+num+`"`)[0], []float64{179})
	for v, want := range map[float64]float64{1: 1, 1.2: 2, 2: 2, 2.1: 5, 5: 5, 5.1: 10, 0.3: 0.5, 30: 50, 99: 100, 0.01: 0.01} {
		td.Cmp(t, round(v), td.N(want, 1e-12), "%v", v)
	}
	// The figure beside a point is above its uncertainty and inside the field.
	c = chartOf(nil, nil)
	c.points[1].m.SD, c.points[0].unusual = 2, true
	svg = c.draw("", "")
	for i, x := range []float64{48, 310} {
		value := c.points[i].m.Value
		at := every(t, svg, `<text x="`+num+`" y="`+num+`" font-size="13" text-anchor="middle" font-weight="bold">`+written(value, vitals.PerMinute)+`<`)
		td.Require(t).Cmp(at, td.Len(1))
		half := width("30", 13) / 2
		td.Cmp(t, at[0][0], near(math.Min(math.Max(x, 40+half), 318-half)))
		td.Cmp(t, at[0][1], near(math.Max(12, c.y(value+1.959964*c.points[i].m.SD)-6)))
	}
	whisker := every(t, svg, `<path d="M310 `+num+`V`+num+`"`)
	td.Require(t).Cmp(whisker, td.Len(1))
	td.Cmp(t, (whisker[0][0]-whisker[0][1])/170*(c.high-c.low), td.N(2*1.959964*2, 0.03))
}

// A series of rechecks: time along the axis, values up it, each with its uncertainty and its figure.
func TestCourseGeometry(t *testing.T) {
	t.Parallel()
	c := course{unit: vitals.PerMinute, own: &baseline.Interval{Low: 30, High: 40}, usual: "own", levels: []float64{64},
		points: []coursePoint{{0, 50, 0, 52, "50", "2:10"}, {30, 60, 2, 56, "60", "2:40"}, {60, 58, 0, 60, "58", "3:10"}}}
	svg := c.draw()
	y := func(v float64) float64 { return 166 - (v-30)/34*132 } // 30 to 64, from 166 up to 34
	circles := every(t, svg, `<circle cx="`+num+`" cy="`+num+`"`)
	td.Require(t).Cmp(circles, td.Len(3))
	for i, at := range []float64{24, 164, 304} {
		td.Cmp(t, circles[i][0], near(at))
		td.Cmp(t, circles[i][1], near(y(c.points[i].value)))
	}
	td.Cmp(t, svg, td.Contains("M24 "+px(y(52))+"L164 "+px(y(56))+"L304 "+px(y(60))), "the line that was fitted")
	td.Cmp(t, svg, td.Contains(`<path d="M164 `+px(y(60+1.959964*2))+`V`+px(y(60-1.959964*2))+`"`))
	td.Cmp(t, strings.Count(svg, `stroke-width="2.5"`), 1, "no bar where there is no uncertainty")
	td.Cmp(t, every(t, svg, `<rect x="`+num+`" y="`+num+`" width="`+num+`" height="`+num+`"`)[0], td.Slice([]float64{}, td.ArrayEntries{0: 0.0, 1: near(y(40)), 2: 328.0, 3: near(y(30) - y(40))}))
	td.Cmp(t, svg, td.Contains(`M0 `+px(y(64))+`H328`))
	beside := every(t, svg, `<text x="2" y="`+num+`"`)
	td.Require(t).Cmp(beside, td.Len(2))
	td.Cmp(t, beside[0][0], near(y(40)-5))
	td.Cmp(t, beside[1][0], near(y(64)-4))
	for i, p := range c.points {
		text := every(t, svg, `<text x="`+num+`" y="`+num+`" font-size="17" text-anchor="middle" font-weight="bold">`+p.figure+`<`)
		td.Require(t).Cmp(text, td.Len(1))
		td.Cmp(t, text[0][0], near(circles[i][0]))
		td.Cmp(t, text[0][1], near(y(p.value+1.959964*p.sd)-8))
	}
	for i := range c.points {
		c.points[i].line = 0
	}
	td.Cmp(t, c.draw(), td.Contains("M24 "+px(y(50))+"L164 "+px(y(60))+"L304 "+px(y(58))), "joined where none was fitted")
	c.points = c.points[:1]
	td.Cmp(t, every(t, c.draw(), `<circle cx="`+num+`"`), [][]float64{{164}}, "one stands in the middle")
	c = course{points: []coursePoint{{0, 50, 0, 0, "50", ""}}}
	td.Cmp(t, every(t, c.draw(), `<circle cx="164" cy="`+num+`"`), [][]float64{{100}}, "of one figure, in the middle")
	c.points[0].sd = -1
	td.Cmp(t, c.draw(), "")

	r := newRoom()
	for _, x := range []struct {
		x, wide, at float64
		ok          bool
	}{
		{100, 20, 100, true}, {127.9, 20, 127.9, false}, {128, 20, 128, true}, {72, 20, 72, true}, {90, 2, 90, false}, {0, 20, 11, true}, {328, 20, 317, true}, {300, 10, 300, false},
	} {
		at, ok := r.at(x.x, x.wide)
		td.Cmp(t, []any{at, ok}, []any{x.at, x.ok}, "%+v", x)
	}
	td.Cmp(t, outsideIn(4), []int{3, 0, 1, 2})
	td.Cmp(t, outsideIn(0), td.Empty())
}

// A label that has room neither after its bracket nor before it stands under the middle of it, inside the
// drawing. On a scale from 0 to 100 a value lies at 10 + 3.08 times it, and a letter is 7.54 wide.
func TestLabelUnderItsBracket(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		low, high float64
		letters   int
		at        float64
	}{{40, 60, 17, 164}, {30, 60, 17, 148.6}, {10, 62, 40, 150.8}, {45, 100, 40, 177.2}} {
		var d drawing
		r := row{low: p(x.low), high: p(x.high), label: strings.Repeat("m", x.letters)}
		r.draw(&d, &axis{low: 0, high: 100}, 70)
		label := every(t, d.String(), `<text x="`+num+`" y="`+num+`" font-size="13" text-anchor="middle">m`)[0]
		td.Cmp(t, label[0], near(x.at), "%+v", x)
		td.Cmp(t, label[1], near(84))
		td.Cmp(t, r.height(&axis{low: 0, high: 100}), 31.0)
	}
	// Ranges that are none are not drawn, nor figures too far apart for a scale.
	c := heart()
	c.Printed = []baseline.Printed{{}, {Low: p(inf())}, {Low: p(20), High: p(inf())}, {High: p(60)}, {Low: p(20)}, {Low: p(20)}}
	td.Cmp(t, len(telling{lang: words.English}.rows(c)), 2)
	c.Own = &baseline.Interval{Low: -1e308, High: 1e308}
	td.Cmp(t, Ruler(c, words.English), "")
	// A chart spans each reading with its uncertainty: 50 and 1.96 times 5 on both sides, and six parts in a
	// hundred more.
	at := time.Date(2026, 5, 3, 7, 0, 0, 0, time.UTC)
	ch := chart{t: telling{lang: words.English}}
	for i := range 2 {
		ch.add(reading{at: at.AddDate(0, 0, i), m: vitals.Measure{Value: 50, SD: 5, Unit: vitals.PerMinute}, mark: MarkQuiet})
	}
	ch.draw("heart rate", "")
	td.Cmp(t, ch.low, near(39.02))
	td.Cmp(t, ch.high, near(60.98))
}
