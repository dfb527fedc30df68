package report

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// The drawings use presentation attributes only, no style attribute, script, id or
// reference, so that they stand in a page under "style-src 'self'" any number of times.
// Everything is drawn in currentColor: it follows the page's dark theme and forced colours.

// px writes a coordinate with one decimal, the same on every platform.
func px(v float64) string {
	// Processors differ in the last digits of exp and log; a tie must fall the same way on all.
	v = math.Round(math.Round(v*1e7)/1e6) / 10
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// escape makes text safe between tags and in attributes, and leaves out what XML 1.0
// cannot hold.
func escape(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case r == '\'':
			b.WriteString("&#39;")
		case r == '\t', r == '\n', r == '\r':
			b.WriteByte(' ')
		case r < 0x20, r == 0xFFFE, r == 0xFFFF, r == utf8.RuneError:
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// width estimates how wide a text is set in a sans-serif face of the size, on the wide side.
func width(text string, size float64) float64 {
	return 0.58 * size * float64(utf8.RuneCountInString(text))
}

// drawing collects the elements of an SVG.
type drawing struct{ strings.Builder }

// line draws a path of the thickness in the ink of the page.
func (d *drawing) line(path string, thick float64) {
	d.WriteString(`<path d="` + path + `" fill="none" stroke="currentColor" stroke-width="` + px(thick) + `"/>`)
}

// dashed draws a thin broken line.
func (d *drawing) dashed(path string) {
	d.WriteString(`<path d="` + path + `" fill="none" stroke="currentColor" stroke-width="1.5" stroke-dasharray="4 3"/>`)
}

// lettering is how a text is set; its anchor is SVG's: start, middle or end.
type lettering struct {
	size   float64
	anchor string
	bold   bool
}

// text sets text at x, y; anchor is start, middle or end.
func (d *drawing) text(x, y float64, as lettering, text string) {
	d.WriteString(`<text x="` + px(x) + `" y="` + px(y) + `" font-size="` + px(as.size) + `"`)
	if as.anchor != "start" {
		d.WriteString(` text-anchor="` + as.anchor + `"`)
	}
	if as.bold {
		d.WriteString(` font-weight="bold"`)
	}
	d.WriteString(`>` + escape(text) + `</text>`)
}

// hatch draws a box filled with lines at 45 degrees, cut to the box by arithmetic: a
// pattern would need an id that is unique in the whole page.
func (d *drawing) hatch(x, y, w, h, step float64) {
	var p strings.Builder
	for at := x - h + step; at < x+w; at += step {
		x1, y1, x2, y2 := at, y+h, at+h, y
		if x1 < x {
			x1, y1 = x, y+h-(x-at)
		}
		if x2 > x+w {
			x2, y2 = x+w, y+(at+h-x-w)
		}
		p.WriteString("M" + px(x1) + " " + px(y1) + "L" + px(x2) + " " + px(y2))
	}
	if p.Len() > 0 {
		d.line(p.String(), 1.6)
	}
	d.WriteString(`<rect x="` + px(x) + `" y="` + px(y) + `" width="` + px(w) + `" height="` + px(h) +
		`" fill="none" stroke="currentColor" stroke-width="1.5"/>`)
}
