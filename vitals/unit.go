package vitals

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// Unit is a UCUM code (The Unified Code for Units of Measure).
type Unit string

const (
	PerMinute  Unit = "/min"
	Celsius    Unit = "Cel"
	Fahrenheit Unit = "[degF]"
	Second     Unit = "s"
	Kilogram   Unit = "kg"
	Pound      Unit = "[lb_av]"
	Centimetre Unit = "cm"
	Inch       Unit = "[in_i]"
	Percent    Unit = "%"
	One        Unit = "1"
)

// Units lists every unit.
func Units() []Unit { return slices.Clone(allUnits) }

var allUnits = []Unit{PerMinute, Celsius, Fahrenheit, Second, Kilogram, Pound, Centimetre, Inch, Percent, One}

// scale is the size of a unit in the base unit of its dimension: base = (value + offset) * num / den.
// The factors are exact by definition: 1 [lb_av] = 0.45359237 kg and 1 [in_i] = 2.54 cm
// (international yard and pound agreement of 1959), 0 Cel = 32 [degF], 5 Cel = 9 [degF] apart (UCUM).
type scale struct {
	base             Unit
	offset, num, den decimal.Decimal
}

var (
	zero  = decimal.New(0, 0)
	unity = decimal.New(1, 0)
)

func scaleOf(u Unit) scale {
	switch u {
	case Fahrenheit:
		return scale{Celsius, decimal.New(-32, 0), decimal.New(5, 0), decimal.New(9, 0)}
	case Pound:
		return scale{Kilogram, zero, decimal.New(45359237, -8), unity}
	case Inch:
		return scale{Centimetre, zero, decimal.New(254, -2), unity}
	}
	return scale{u, zero, unity, unity}
}

// Same reports whether values of the two units measure the same thing, so that [Convert]
// can go between them.
func (u Unit) Same(v Unit) bool { return scaleOf(u).base == scaleOf(v).base }

// UnitsOf lists the units in which a sign of unit u can be read, u first.
func UnitsOf(u Unit) []Unit {
	out := []Unit{u}
	for _, v := range allUnits {
		if v != u && v.Same(u) {
			out = append(out, v)
		}
	}
	return out
}

// Convert gives value in another unit with the given number of decimal places, rounded
// half to even on the exact result. The error is [Faults] with [FaultWrongUnit] where the
// two units do not measure the same thing, or [FaultBadNumber] where value has more than 12
// digits or an exponent beyond 6, which no instrument shows.
func Convert(value decimal.Decimal, from, to Unit, places int) (decimal.Decimal, error) {
	a, b := scaleOf(from), scaleOf(to)
	if a.base != b.base || !slices.Contains(allUnits, from) {
		return decimal.Decimal{}, Faults{newFault(FaultWrongUnit, "/unit", "unit", string(from))}
	}
	if !plausible(value) {
		return decimal.Decimal{}, Faults{newFault(FaultBadNumber, "/value")}
	}
	if from == to && places >= 0 && -value.Exponent() <= int32(places) && places <= maxShown {
		return fixPlaces(value, int32(places)), nil // nothing to round
	}
	// to = (value + a.offset) * (a.num * b.den) / (a.den * b.num) - b.offset: one division, last.
	num, den := a.num.Mul(b.den), a.den.Mul(b.num)
	top := value.Add(a.offset).Mul(num).Sub(b.offset.Mul(den))
	return divideHalfEven(top, den, int32(min(max(places, 0), maxShown))), nil
}

// Conversion takes computed numbers from one unit to another: to = from * num / den + zero. For what was read, with its
// places, there is [Convert].
type Conversion struct{ num, den, zero float64 }

// To gives the conversion to another unit. Where the two do not measure the same thing there is none: false.
func (u Unit) To(v Unit) (Conversion, bool) {
	a, b := scaleOf(u), scaleOf(v)
	if a.base != b.base {
		return Conversion{1, 1, 0}, false
	}
	num, den := nearest(a.num.Mul(b.den)), nearest(a.den.Mul(b.num))
	return Conversion{num, den, nearest(a.offset)*num/den - nearest(b.offset)}, true
}

// Value converts a place on the scale: a reading, a limit.
func (c Conversion) Value(x float64) float64 { return x*c.num/c.den + c.zero }

// Size converts a difference of two values, or an SD.
func (c Conversion) Size(x float64) float64 { return x * c.num / c.den }

// In gives the measure in another unit; as it is, where the two do not measure the same thing.
func (m Measure) In(u Unit) Measure {
	c, ok := m.Unit.To(u)
	if !ok || m.Unit == u {
		return m
	}
	return Measure{Value: c.Value(m.Value), SD: c.Size(m.SD), Unit: u}
}

// Unit is the unit in which the handler reads the sign: that of the reading, pounds beside a girth in inches, else
// the sign's own, of.
func (f Finding) Unit(of Unit) Unit {
	switch {
	case f.Reading != nil && f.Reading.Unit.Same(of):
		return f.Reading.Unit
	case f.Girth != nil && f.Girth.Unit == Inch && of == Kilogram:
		return Pound
	}
	return of
}

// maxShown is how many places a converted value can be asked for.
const maxShown = 12

// divideHalfEven gives top/den, den > 0, to so many places, half to even, without the
// rounding of an intermediate result and without any setting of the decimal package.
func divideHalfEven(top, den decimal.Decimal, places int32) decimal.Decimal {
	quotient, rest := top.QuoRem(den, places) // toward zero; the rest has the sign of top
	double := rest.Abs().Add(rest.Abs())
	step := decimal.New(int64(top.Sign()), -places)
	odd := !quotient.Shift(places).Mod(decimal.New(2, 0)).IsZero()
	switch double.Cmp(den.Shift(-places)) {
	case 1:
		quotient = quotient.Add(step)
	case 0:
		if odd {
			quotient = quotient.Add(step)
		}
	}
	return fixPlaces(quotient, places)
}

// fixPlaces gives a value that has exactly so many places, of which it uses no more.
func fixPlaces(d decimal.Decimal, places int32) decimal.Decimal {
	return decimal.NewFromBigInt(d.Shift(places).BigInt(), -places)
}

// nearest gives the float64 nearest to a plausible value, as InexactFloat64 does: both numbers of the division are whole and
// exact, so that it rounds once.
func nearest(d decimal.Decimal) float64 {
	if !plausible(d) {
		return d.InexactFloat64()
	}
	n := float64(d.CoefficientInt64())
	if e := d.Exponent(); e < 0 {
		return n / tens[-e]
	}
	return n * tens[d.Exponent()]
}

// tenTo gives the float64 nearest to 10^e, for an exponent that is plausible.
func tenTo(e int32) float64 {
	if e < 0 {
		return 1 / tens[-e]
	}
	return tens[e]
}

var tens = [...]float64{1, 10, 100, 1e3, 1e4, 1e5, 1e6}

// Places is how many decimal places a reading was written with: 2 for 38.40.
func Places(d decimal.Decimal) int { return int(max(0, -d.Exponent())) }

// AsRead writes a reading with the places it was written with: "38.40".
func AsRead(d decimal.Decimal) string { return d.StringFixed(int32(Places(d))) }

// Decimals writes a computed number with so many decimals, and zero without a sign. A tie goes up, of two
// numbers as near to the greater: 1.65 is told as 1.7 and -1.65 as -1.6. (By the binary digits of a
// float64, 1.65 lies below the tie and 1.85 above it.)
func Decimals(x float64, places int) string {
	// Processors differ in the last digits of exp and log; a tie must fall the same way on all.
	const step = 1e7
	if n := math.Round(x * step); math.Abs(n) < 1<<53 && places >= 0 && places < 7 {
		last := math.Pow10(places)
		x = math.Floor(n/(step/last)+.5) / last
	}
	s := strconv.FormatFloat(x, 'f', places, 64)
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}
