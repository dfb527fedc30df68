package vitals

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

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

// Measure gives the finding as a number in the unit of its sign, with the standard
// uncertainty of the way in which it was taken: events in /min, times in s, temperature in
// Cel, weight in kg, a score in 1. Weight by girth and length is worked out as for a grown
// horse; [Finding.MeasureFor] knows the animal.
//
// The error is [Faults], with paths inside the finding ("/count/events"): what the
// instrument refuses, [FaultNoValue] for a finding without a value, [FaultWrongKind] for a
// sign or a way that does not give a number.
func (f Finding) Measure(sign Sign) (Measure, error) {
	return f.MeasureFor(sign, TypeHorse, Adult)
}

// MeasureFor is [Finding.Measure] for an animal of type t at stage st: a donkey's or a
// foal's girth and length give [FaultNoFormula].
func (f Finding) MeasureFor(sign Sign, t Type, st Stage) (Measure, error) {
	if f.Absent != "" {
		return Measure{}, Faults{newFault(FaultNoValue, "")}
	}
	if !sign.Kind.Measured() {
		return Measure{}, Faults{newFault(FaultWrongKind, "")}
	}
	switch {
	case f.Count != nil && sign.Kind == KindRate:
		// A number of seconds that no Duration holds must not come round as a window.
		seconds := min(max(f.Count.Seconds, 0), MaxCountWindow+1)
		m, err := CadenceOf(sign.ID).FromCount(f.Count.Events, time.Duration(seconds)*time.Second, f.Count.Start)
		return m, under("/count", err)
	case f.Taps != nil && sign.Kind == KindRate:
		tapped, err := CadenceOf(sign.ID).FromTaps(f.Taps.durations())
		return tapped.Measure, under("/taps", err)
	case f.Reading != nil && sign.Kind != KindTimed:
		m, err := FromReading(*f.Reading, sign)
		return m, under("/reading", err)
	case f.Timed != nil && sign.Kind == KindTimed:
		m, err := FromTries(*f.Timed)
		return m, under("/timed", err)
	case f.Girth != nil && sign.Kind == KindWeight:
		m, err := FromGirth(*f.Girth, t, st)
		return m, under("/girth", err)
	case f.Count != nil || f.Taps != nil || f.Reading != nil || f.Timed != nil || f.Girth != nil || len(f.Chosen) > 0:
		return Measure{}, Faults{newFault(FaultWrongKind, "")}
	}
	return Measure{}, Faults{newFault(FaultNoValue, "")}
}

// under puts a part of the finding before the paths of an instrument's faults.
func under(part string, err error) error {
	if faults, ok := errors.AsType[Faults](err); ok {
		return faults.At(part)
	}
	return err
}

// MaxCentiSeconds is the longest try of a timed sign: ten minutes.
const MaxCentiSeconds = 60000

// Timing is one part of the uncertainty of a timed sign, in seconds.
type Timing struct {
	SD float64
	Provenance
}

// ReactionSD is the standard deviation of one press-and-release time: seeing that the
// colour is back, or the fold gone, and stopping the watch.
func ReactionSD() Timing {
	return Timing{0.15, Provenance{"ajp-2019", Assumed,
		"start and stop of a watch on an event that is expected, 0.10 s, was read; 0.15 s is assumed, since colour comes back by degrees"}}
}

// AloudSD is the standard deviation of one time counted aloud in whole seconds, from the
// step alone: a second evenly spread.
func AloudSD() Timing {
	return Timing{1 / math.Sqrt(12), Provenance{Mark: Derived, Note: "whole seconds: 1 s/√12"}}
}

// AloudPace is the relative standard deviation of a second counted in the head.
const AloudPace = 0.15 // assumed; it does not average out over tries of one person

// FromTries gives the mean time of the tries, in seconds. The standard deviation of one
// try is [ReactionSD] or, where the tries scatter more than that, their own; it falls with
// √n. Times counted aloud add [AloudSD] to each try and [AloudPace] to the mean.
//
// The error is [Faults]: [FaultNoTry], [FaultManyTries] or [FaultOutOfRange], at /centiSeconds.
func FromTries(t Timed) (Measure, error) {
	const path = "/centiSeconds"
	n := len(t.CentiSeconds)
	if n == 0 {
		return Measure{}, Faults{newFault(FaultNoTry, path)}
	}
	if n > MaxTries {
		return Measure{}, Faults{newFault(FaultManyTries, path, "most", strconv.Itoa(MaxTries))}
	}
	var faults Faults
	sum := 0
	for i, cs := range t.CentiSeconds {
		if cs < 1 || cs > MaxCentiSeconds {
			faults = append(faults, newFault(FaultOutOfRange, path+"/"+strconv.Itoa(i),
				"low", "0.01", "high", strconv.Itoa(MaxCentiSeconds/100), "unit", string(Second)))
			continue
		}
		sum += cs
	}
	if len(faults) > 0 {
		return Measure{}, faults
	}
	mean := float64(sum) / float64(n) / 100
	one := square(ReactionSD().SD)
	if t.Aloud {
		one += square(AloudSD().SD)
	}
	if n > 1 {
		scatter := 0.0
		for _, cs := range t.CentiSeconds {
			scatter += square(float64(cs)/100 - mean)
		}
		one = max(one, scatter/float64(n-1))
	}
	variance := one / float64(n)
	if t.Aloud {
		variance += square(AloudPace * mean)
	}
	return steady(Measure{mean, math.Sqrt(variance), Second}), nil
}

func square(x float64) float64 { return x * x }

// FaultNoFormula: no published formula of girth and length is at hand for this animal.
const FaultNoFormula FaultCode = "no-weight-formula"

// GirthFormula is a published rule for the weight in kg of an animal: girth²·length/Divisor,
// in cm. SD is the standard deviation of its error, as a share of the weight.
type GirthFormula struct {
	Group
	Divisor float64    `json:"divisor"`
	From    Provenance `json:"from"`
	SD      float64    `json:"sd"`
	SDFrom  Provenance `json:"sdFrom"`
}

// Girths gives the formula of girth and length. It is for grown horses and ponies. A
// donkey's formulas take other measures (height, or length from the elbow), a foal's take
// the girth alone, and no formula of these two measures was read for a mule.
func Girths() GirthFormula {
	return GirthFormula{
		Group:   Group{Types: []Type{TypeHorse, TypePony, TypeDraft}, Stages: []Stage{TwoYearOld, Adult, Senior}},
		Divisor: 11880,
		From: Provenance{"carroll-huntington-1988", SecondHand,
			"as quoted in studies that tested it; girth²·length/330 in inches and pounds is the same rule within 0.4 %"},
		SD: 0.06,
		SDFrom: Provenance{"hucul-weight", Derived,
			"mean error 4.5 % in 159 horses, 7 kg low; a mean absolute error of 4.5 % is a standard deviation of 5.6 %"},
	}
}

// Girth and length of a grown horse, in cm: a miniature to a large draft horse, with room (assumed).
const (
	minTape = 40
	maxTape = 300
)

// FromGirth gives the weight in kg by [Girths] for an animal of type t at stage st.
// The error is [Faults]: [FaultNoFormula], [FaultWrongUnit] at /unit, [FaultBadNumber] or
// [FaultOutOfRange] at /girth or /length.
func FromGirth(g Girth, t Type, st Stage) (Measure, error) {
	formula := Girths()
	var faults Faults
	if !formula.Holds(t, st) {
		faults = append(faults, newFault(FaultNoFormula, ""))
	}
	if !slices.Contains(UnitsOf(Centimetre), g.Unit) {
		return Measure{}, append(faults, newFault(FaultWrongUnit, "/unit", "unit", string(g.Unit)))
	}
	tape := func(value decimal.Decimal, path string) float64 {
		cm, err := Convert(value, g.Unit, Centimetre, maxShown)
		if err != nil {
			faults = append(faults, newFault(FaultBadNumber, path))
			return 0
		}
		if x := cm.InexactFloat64(); x >= minTape && x <= maxTape {
			return x
		}
		low, _ := Convert(decimal.New(minTape, 0), Centimetre, g.Unit, 0)
		high, _ := Convert(decimal.New(maxTape, 0), Centimetre, g.Unit, 0)
		faults = append(faults, newFault(FaultOutOfRange, path, "low", low.String(), "high", high.String(), "unit", string(g.Unit)))
		return 0
	}
	girth, length := tape(g.Girth, "/girth"), tape(g.Length, "/length")
	if len(faults) > 0 {
		return Measure{}, faults
	}
	kg := girth * girth * length / formula.Divisor
	return steady(Measure{kg, formula.SD * kg, Kilogram}), nil
}
