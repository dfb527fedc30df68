package link

import (
	"errors"
	"strconv"
	"strings"

	"rsc.io/qr/coding"
)

// MaxVersion is the largest QR code that is drawn: 97 by 97 modules, as much as a phone
// shows with modules that another phone's camera can tell apart.
const MaxVersion = 20

// ErrTooLong: the text does not fit a code of MaxVersion. A link carries it still.
var ErrTooLong = errors.New("too long for a code that a camera can read from a phone")

// Drawing is a QR code (ISO/IEC 18004, model 2).
type Drawing struct {
	// Text is what a camera reads: the page's address, '#', and the fragment.
	Text string
	// Version is 1 to MaxVersion, Level L, M, Q or H.
	Version int
	Level   string
	// Size is the number of modules on a side without the quiet zone.
	Size int
	code *coding.Code
}

// Draw gives the QR code of a page's address and a fragment of [Code] or [Answer.Code]. It takes the
// smallest version, and of that the strongest error correction that still fits. The error
// is [ErrTooLong], or [ErrForeign] for what is not such a fragment.
func Draw(page, fragment string) (Drawing, error) {
	if len(fragment) < len(prefixCode) || fragment[0] != 'W' && fragment[0] != 'A' || strings.Trim(fragment[1:], base43) != "" {
		return Drawing{}, ErrForeign
	}
	// The address in bytes, since it has small letters; the rest in the dense mode.
	text := []coding.Encoding{coding.String(page + "#"), coding.Alpha(fragment)}
	for v := coding.Version(1); v <= MaxVersion; v++ {
		bits := 0
		for _, t := range text {
			bits += t.Bits(v)
		}
		for level := coding.H; level >= coding.L; level-- {
			if bits > 8*v.DataBytes(level) {
				continue
			}
			code, err := encode(v, level, text)
			return Drawing{Text: page + "#" + fragment, Version: int(v), Level: level.String(), Size: 17 + 4*int(v), code: code}, err
		}
	}
	return Drawing{}, ErrTooLong
}

// encode takes the mask of the lowest penalty.
func encode(v coding.Version, level coding.Level, text []coding.Encoding) (best *coding.Code, err error) {
	least := 0
	for mask := range coding.Mask(8) {
		plan, err := coding.NewPlan(v, level, mask)
		if err != nil {
			return nil, err
		}
		code, err := plan.Encode(text...)
		if err != nil {
			return nil, err
		}
		if p := penalty(code); best == nil || p < least {
			best, least = code, p
		}
	}
	return best, nil
}

// penalty is the sum of the four features of ISO/IEC 18004, 7.8.3 (from memory, not
// checked against the source): runs of five or more, blocks of two by two, patterns like
// a finder, and a share of dark far from half.
func penalty(c *coding.Code) int {
	sum, dark := 0, 0
	// The finder's 1:1:3:1:1 with four light modules before or after it.
	const before, after, mask = 0b00001011101, 0b10111010000, 1<<11 - 1
	for y := range c.Size {
		for _, at := range []func(i int) bool{
			func(i int) bool { return c.Black(i, y) }, func(i int) bool { return c.Black(y, i) },
		} {
			run, window := 0, 0
			for i := range c.Size {
				if i > 0 && at(i) == at(i-1) {
					run++
				} else {
					run = 1
				}
				if run == 5 {
					sum += 3
				} else if run > 5 {
					sum++
				}
				window = window << 1 & mask
				if at(i) {
					window |= 1
				}
				if i >= 10 && (window == before || window == after) {
					sum += 40
				}
			}
		}
		for x := range c.Size {
			b := c.Black(x, y)
			if b {
				dark++
			}
			if x > 0 && y > 0 && b == c.Black(x-1, y) && b == c.Black(x, y-1) && b == c.Black(x-1, y-1) {
				sum += 3
			}
		}
	}
	off := 100*dark/(c.Size*c.Size) - 50
	if off < 0 {
		off = -off
	}
	return sum + off/5*10
}

// quiet is the width in modules of the light border that a reader needs around the code.
const quiet = 4

// SVG draws the code with its quiet zone, dark on light whatever the page's colours are.
// It has no style and no script, so that a strict content security policy lets it pass. title is
// what a screen reader says.
func (d Drawing) SVG(title string) string {
	side := strconv.Itoa(d.Size + 2*quiet)
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ` + side + " " + side +
		`" shape-rendering="crispEdges" role="img"><title>` + escape(title) + `</title><path fill="#fff" d="M0 0h` +
		side + "v" + side + `H0z"/><path fill="#000" d="`)
	for y := range d.Size {
		for x := 0; x < d.Size; x++ {
			from := x
			for d.code.Black(x, y) {
				x++
			}
			if x > from {
				run := strconv.Itoa(x - from)
				b.WriteString("M" + strconv.Itoa(from+quiet) + " " + strconv.Itoa(y+quiet) + "h" + run + "v1h-" + run + "z")
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return b.String()
}

// escape writes a text in XML 1.0, without the characters that it has no place for.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' || r == 0xfffe || r == 0xffff {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	s = strings.ReplaceAll(strings.ReplaceAll(s, "&", "&amp;"), "<", "&lt;")
	return strings.ReplaceAll(s, ">", "&gt;")
}
