package vitals

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"
)

// No instrument that these readings come from shows more.
const (
	MaxDigits = 6 // digits of a reading, before and after the point together
	MaxPlaces = 4 // digits after the point
)

// FaultNotReading: not written as a number is written on an instrument.
const FaultNotReading FaultCode = "not-a-reading"

// ParseReading reads a number as a person types it from an instrument of the given unit:
//
//	reading = [space] [sign] digit {digit} [point digit {digit}] [space]
//	sign    = "+" | "-" | U+2212       only where the unit is a temperature
//	point   = "." | ","                one of them, once
//	digit   = "0" … "9"
//	space   = blanks, tabs and no-break spaces
//
// with at most [MaxDigits] digits (leading zeros not counted), [MaxPlaces] of them after
// the point. There is no exponent, no grouping of digits, and no other kind of digit. The
// places are kept: "38,40" has two (see [Places]).
//
// The error is [Faults]: [FaultNotReading], or [FaultBadNumber] for too many digits.
func ParseReading(text string, unit Unit) (decimal.Decimal, error) {
	s := strings.Trim(text, spaces)
	signed := unit == Celsius || unit == Fahrenheit
	negative := false
	for _, sign := range []string{"+", "-", "\u2212"} {
		if rest, ok := strings.CutPrefix(s, sign); ok && signed {
			s, negative = rest, sign != "+"
			break
		}
	}
	whole, part := s, ""
	if i := strings.IndexAny(s, ".,"); i >= 0 {
		whole, part = s[:i], s[i+1:]
		if part == "" {
			return refuseReading(FaultNotReading)
		}
	}
	if whole == "" || !digits(whole) || !digits(part) {
		return refuseReading(FaultNotReading)
	}
	whole = strings.TrimLeft(whole, "0")
	if len(part) > MaxPlaces || len(whole)+len(part) > MaxDigits {
		return refuseReading(FaultBadNumber)
	}
	var n int64
	for _, c := range []byte(whole + part) {
		n = n*10 + int64(c-'0')
	}
	if negative {
		n = -n
	}
	return decimal.New(n, int32(-len(part))), nil
}

const spaces = " \t\u00a0\u202f"

func refuseReading(code FaultCode) (decimal.Decimal, error) {
	return decimal.Decimal{}, Faults{newFault(code, "/value")}
}

func digits(s string) bool {
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return false
		}
	}
	return true
}

// suffixes are the units as people type them after a number, in any case; one that ends
// like another comes first.
var suffixes = []struct {
	text string
	unit Unit
}{
	{"/min", PerMinute}, {"bpm", PerMinute}, {"%", Percent},
	{"°c", Celsius}, {"℃", Celsius}, {"cel", Celsius}, {"c", Celsius},
	{"°f", Fahrenheit}, {"℉", Fahrenheit}, {"[degf]", Fahrenheit}, {"f", Fahrenheit},
	{"kg", Kilogram}, {"[lb_av]", Pound}, {"lbs", Pound}, {"lb", Pound},
	{"cm", Centimetre}, {"[in_i]", Inch}, {"in", Inch}, {"\"", Inch}, {"″", Inch},
	{"s", Second},
}

// ParseTyped reads a number with the unit typed after it, as in "38,4 C", "101.2F" or
// "480 kg", upper or lower case, with or without a space; without a unit the first of
// units is meant. The number is read as by [ParseReading]; a unit that is not among units
// is [FaultWrongUnit].
func ParseTyped(text string, units ...Unit) (Reading, error) {
	if len(units) == 0 {
		return Reading{}, Faults{newFault(FaultWrongUnit, "/unit", "unit", "")}
	}
	r := Reading{Unit: units[0]}
	s := strings.Trim(text, spaces)
	for _, x := range suffixes {
		cut := len(s) - len(x.text)
		if cut < 0 || !strings.EqualFold(s[cut:], x.text) {
			continue
		}
		if !slices.Contains(units, x.unit) {
			return Reading{}, Faults{newFault(FaultWrongUnit, "/unit", "unit", s[cut:])}
		}
		r.Unit, s = x.unit, s[:cut]
		break
	}
	value, err := ParseReading(s, r.Unit)
	if err != nil {
		return Reading{}, err
	}
	r.Value = value
	return r, nil
}
