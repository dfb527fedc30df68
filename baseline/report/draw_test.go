package report

import (
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"
	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// wellFormed checks a drawing: XML, and nothing that a strict content policy forbids.
func wellFormed(t interface{ Errorf(string, ...any) }, svg string) {
	if svg == "" {
		return
	}
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Errorf("%v in %s", err, svg)
			return
		}
		el, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if name := el.Name.Local; name == "script" || name == "style" || name == "image" || name == "a" || name == "use" {
			t.Errorf("<%s> in a drawing", name)
		}
		for _, a := range el.Attr {
			if n := a.Name.Local; n == "style" || n == "id" || n == "href" || strings.HasPrefix(n, "on") || strings.Contains(a.Value, "url(") {
				t.Errorf("%s=%q in a drawing", n, a.Value)
			}
		}
	}
	for _, bad := range []string{"NaN", "Inf", "e+", "e-0", "-0 ", "#"} {
		if strings.Contains(regexp.MustCompile(`<(title|desc|text)[^>]*>[^<]*`).ReplaceAllString(svg, ""), bad) {
			t.Errorf("%q in %s", bad, svg)
		}
	}
}

func heart() baseline.Compared {
	return baseline.Compared{Sign: vitals.HeartRate, Statement: baseline.Higher, Basis: baseline.Basis{Exams: 11},
		Measure: &vitals.Measure{Value: 52, SD: 1.1, Unit: vitals.PerMinute},
		Own:     &baseline.Interval{Low: 29, Mid: 34, High: 39},
		Printed: []baseline.Printed{{Low: p(28), High: p(44)}}}
}

// drawn reads the numbers of the first match of a pattern in a drawing.
func drawn(t *testing.T, svg, pattern string) []float64 {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(svg)
	if m == nil {
		t.Fatalf("no %s in %s", pattern, svg)
	}
	var out []float64
	for _, s := range m[1:] {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, v)
	}
	return out
}

const num = `(-?[0-9.]+)`

// The scale is linear: what is drawn stands in the proportions of the figures.
func TestRulerGeometry(t *testing.T) {
	t.Parallel()
	svg := Ruler(heart(), words.English)
	box := drawn(t, svg, `<rect x="`+num+`" y="[0-9.]+" width="`+num+`"`)
	low, high := box[0], box[0]+box[1]
	scale := (high - low) / (39 - 29) // units of the drawing for a beat a minute
	pin := drawn(t, svg, `<path d="M`+num+` `+num+`l-7 -10h14z"`)[0]
	td.Cmp(t, pin, td.Between(low+scale*(52-29)-0.2, low+scale*(52-29)+0.2), "pin")
	foot := drawn(t, svg, `<path d="M`+num+` 52H`+num+`" fill="none" stroke="currentColor" stroke-width="7"`)
	td.Cmp(t, foot[1]-foot[0], td.Between(2*1.96*1.1*scale-0.3, 2*1.96*1.1*scale+0.3), "foot")
	bracket := drawn(t, svg, `<path d="M`+num+` `+num+`V`+num+`H`+num+`V`)
	td.Cmp(t, bracket[0], td.Between(low-scale-0.2, low-scale+0.2), "28 is one below 29")
	td.Cmp(t, bracket[3], td.Between(high+5*scale-0.3, high+5*scale+0.3), "44 is five above 39")
}

// Durations lie on a log scale: doubling is the same length everywhere.
func TestRulerLog(t *testing.T) {
	t.Parallel()
	c := heart()
	c.Sign, c.Measure = vitals.CapillaryRefill, &vitals.Measure{Value: 4, SD: 0.2, Unit: vitals.Second}
	c.Own, c.Printed = &baseline.Interval{Low: 1, Mid: 1.4, High: 2}, nil
	svg := Ruler(c, words.English)
	box := drawn(t, svg, `<rect x="`+num+`" y="[0-9.]+" width="`+num+`"`)
	pin := drawn(t, svg, `<path d="M`+num+` `+num+`l-7 -10h14z"`)[0]
	td.Cmp(t, pin-(box[0]+box[1]), td.Between(box[1]-0.2, box[1]+0.2))
}

func TestRulerRows(t *testing.T) {
	t.Parallel()
	c := heart()
	c.Printed = nil
	for i := range 7 {
		c.Printed = append(c.Printed, baseline.Printed{Low: p(float64(20 + i)), High: p(44)})
	}
	c.Printed = append(c.Printed, baseline.Printed{Low: p(20), High: p(44)})
	svg := Ruler(c, words.English)
	td.Cmp(t, svg, td.All(td.Contains("20 to 44 (2 sources)"), td.Contains("4 others, together 23 to 44"), td.Not(td.Contains(">24 to 44<"))))
	td.Cmp(t, svg, td.Contains("26 to 44 a minute"), "the words have every range")
}

func TestRulerUnknown(t *testing.T) {
	t.Parallel()
	c := heart()
	c.Basis.Exams = 0
	svg := Ruler(c, words.English)
	td.CmpFalse(t, strings.Contains(svg, "<rect"), "nothing of its own is hatched before its first exam")
	td.Cmp(t, svg, td.Contains("Usual for animals of this kind: 29 to 39 a minute."))
	td.Cmp(t, svg, td.Not(td.Contains("own:")))
}

func TestRulerRefuses(t *testing.T) {
	t.Parallel()
	for _, m := range []*vitals.Measure{nil, {Value: math.NaN()}, {Value: 40, SD: math.Inf(1)}, {Value: 40, SD: -1}, {Value: 0, Unit: vitals.Second}} {
		c := heart()
		c.Measure, c.Own, c.Printed = m, nil, nil
		td.Cmp(t, Ruler(c, words.English), "")
	}
}

func TestEscape(t *testing.T) {
	t.Parallel()
	c := heart()
	c.Sign, c.Site = `"><script>alert(1)</script>`, "a\x00'&\uffff"
	svg := Ruler(c, words.English)
	wellFormed(t, svg)
	td.Cmp(t, svg, td.Not(td.Contains("<script")))
}

func TestWhorl(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		id := vitals.ID(rapid.StringMatching(`[A-Za-z0-9._-]{1,64}`).Draw(t, "id"))
		known := rapid.OneOf(rapid.Float64Range(0, 1), rapid.Float64()).Draw(t, "known")
		svg := Whorl(id, known, rapid.IntRange(-1, 400).Draw(t, "size"))
		wellFormed(t, svg)
		if svg2 := Whorl(id, known, 56); svg2 != Whorl(id, known, 56) {
			t.Errorf("not the same twice")
		}
		for _, q := range spiral(id) { // inside the ring, whose inner edge is at 25
			if r := math.Hypot(q.x-28, q.y-28); r > 25-1.3 {
				t.Errorf("%s leaves the ring: %f", id, r)
			}
		}
	})
}

func TestWhorlKnown(t *testing.T) {
	t.Parallel()
	none, some, all := Whorl("juniper", 0, 56), Whorl("juniper", 0.4, 56), Whorl("juniper", 1, 56)
	td.Cmp(t, none, td.All(td.Contains(`stroke-dasharray="4 5.07"`), td.Not(td.Contains(`"2.6"`))), "all open")
	td.Cmp(t, some, td.All(td.Contains(`"0.1 3.6"`), td.Contains(`"2.6"`)))
	td.Cmp(t, all, td.Not(td.Contains("dasharray")), "all inked")
	td.Cmp(t, Whorl("juniper", math.NaN(), 56), none)
	td.CmpTrue(t, Whorl("juniper", 1, 56) != Whorl("junipes", 1, 56))
}
