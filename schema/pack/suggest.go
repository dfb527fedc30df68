package pack

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// near is the fact of a fault that names what may have been meant: see [words.Fault].
const near = "near"

// members are the names of everything that can stand in a clinic's file.
var members = []string{"kind", "format", "clinic", "langs", "units", "ranges", "thresholds", "questions", "ask", "name", "numbers", "page",
	"phone", "hours", "lang", "text", "answer", "at", "sign", "types", "stages", "low", "high", "unit", "setBy", "id", "urgency", "above", "below", "grades"}

// suggest adds what may have been meant to the faults of the file's structure.
func suggest(faults vitals.Faults) vitals.Faults {
	for i, f := range faults {
		if f.Code == schema.UnknownMember && len(f.Args) == 2 {
			f.Args = append(slices.Clone(f.Args), near, nearest(f.Args[1], members))
			f.Sentence = words.Fault(words.English, string(f.Code), f.Args...)
			faults[i] = f
		}
	}
	return faults
}

// nearest gives the name of a list that was most likely meant; the three nearest, with commas, where none is close.
func nearest[T ~string](text string, list []T) string {
	text = strings.ReplaceAll(strings.ReplaceAll(strings.ToLower(text), "_", "-"), " ", "-")
	far := func(name T) int {
		if len(text) >= 3 && strings.Contains(strings.ToLower(string(name)), text) {
			return 0
		}
		return distance(text, strings.ToLower(string(name)))
	}
	// The nearest first, equally near ones as they stood.
	var near []string
	for away := 0; len(near) < 3 && away <= 2*longest; away++ {
		for _, x := range list {
			if far(x) == away && len(near) < 3 {
				near = append(near, string(x))
			}
		}
		if len(near) > 0 && away <= len(text)/3 {
			return near[0]
		}
	}
	return strings.Join(near, ", ")
}

// longest is as much of a name as is compared: every name of ours is shorter.
const longest = 40

// distance counts the letters that must be put in, taken out or changed (Levenshtein).
func distance(a, b string) int {
	a, b = a[:min(len(a), longest)], b[:min(len(b), longest)]
	var row [longest + 1]int
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := before
			if a[i] != b[j] {
				change++
			}
			before = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// limit asks for a number that can be converted, since a rule with one that cannot would never fire, and for one that the
// sign can have at all: 99 degrees Celsius are Fahrenheit.
func (c *check) limit(path string, x *decimal.Decimal, u vitals.Unit, sign vitals.Sign) {
	if x == nil || !slices.Contains(vitals.UnitsOf(sign.Unit), u) {
		return
	}
	value := inUnit(x, u, sign.Unit)
	if value == nil {
		c.add(vitals.FaultBadNumber, path)
		return
	}
	if sign.Span == nil || within(sign, *value) {
		return
	}
	said := func(x decimal.Decimal) string {
		if y, err := vitals.Convert(x, sign.Unit, u, 1); err == nil {
			return y.String()
		}
		return ""
	}
	args := []string{"low", said(sign.Span.Low), "high", said(sign.Span.High), "unit", words.Say(words.English, "unit."+string(u))}
	for _, other := range vitals.UnitsOf(sign.Unit) {
		if meant := inUnit(x, other, sign.Unit); other != u && meant != nil && within(sign, *meant) {
			args = append(args, near, string(other))
		}
	}
	c.add(vitals.FaultOutOfRange, path, args...)
}

func within(sign vitals.Sign, value float64) bool {
	return value >= sign.Span.Low.InexactFloat64() && value <= sign.Span.High.InexactFloat64()
}

// phone asks for one number that a telephone can dial: digits with what people set between them, and + before a
// country's (RFC 3966). The page dials nothing else.
func (c *check) phone(path, text string) {
	digits := 0
	for _, r := range text {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case !strings.ContainsRune("+ -.()", r):
			digits = -100
		}
	}
	switch {
	case strings.TrimSpace(text) == "":
		c.add(vitals.FaultMissingText, path)
	case digits < 3 || digits > 15 || strings.LastIndexByte(text, '+') > 0:
		c.add(BadPhone, path)
	}
}

func join[T ~string](list []T) string {
	texts := make([]string, len(list))
	for i, x := range list {
		texts[i] = string(x)
	}
	return strings.Join(texts, ", ")
}
