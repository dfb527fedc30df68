package vitals

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func TestConvert(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		value    string
		from, to Unit
		places   int
		want     string
	}{
		{"101.2", Fahrenheit, Celsius, 1, "38.4"},
		{"98.6", Fahrenheit, Celsius, 1, "37.0"},
		{"98.60", Fahrenheit, Celsius, 2, "37.00"},
		{"38.4", Celsius, Fahrenheit, 1, "101.1"},
		{"38.25", Celsius, Fahrenheit, 1, "100.8"}, // 100.85, a tie: to the even tenth
		{"38.75", Celsius, Fahrenheit, 1, "101.8"}, // 101.75, a tie
		{"-40", Celsius, Fahrenheit, 0, "-40"},
		{"0.5", Fahrenheit, Celsius, 1, "-17.5"},
		{"31.1", Fahrenheit, Celsius, 0, "0"}, // -0.5, a tie to even nought
		{"1", Pound, Kilogram, 8, "0.45359237"},
		{"1000", Pound, Kilogram, 0, "454"},
		{"500", Kilogram, Pound, 1, "1102.3"},
		{"72", Inch, Centimetre, 0, "183"},
		{"1", Inch, Centimetre, 1, "2.5"},   // 2.54
		{"2.5", Inch, Centimetre, 1, "6.4"}, // 6.35, a tie
		{"180", Centimetre, Inch, 2, "70.87"},
		{"38.40", Celsius, Celsius, 2, "38.40"},
		{"38.45", Celsius, Celsius, 1, "38.4"},
		{"36", PerMinute, PerMinute, 1, "36.0"},
	} {
		got, err := Convert(dec(x.value), x.from, x.to, x.places)
		td.CmpNoError(t, err)
		td.Cmp(t, AsRead(got), x.want, "%s %s in %s", x.value, x.from, x.to)
	}
}

func TestConvertRefuses(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		value    decimal.Decimal
		from, to Unit
		want     FaultCode
	}{
		{dec("1"), Celsius, Kilogram, FaultWrongUnit},
		{dec("1"), "furlong", "furlong", FaultWrongUnit},
		{dec("1"), "", Celsius, FaultWrongUnit},
		{decimal.New(1, 1<<30), Celsius, Fahrenheit, FaultBadNumber},
		{decimal.New(1, -1<<30), Celsius, Fahrenheit, FaultBadNumber},
	} {
		_, err := Convert(x.value, x.from, x.to, 1)
		td.CmpTrue(t, errors.Is(err, Fault{Code: x.want}), "%v", err)
	}
}

// Against rational arithmetic: for every value and number of places the result is a
// nearest one, and an even one where two are nearest.
func TestConvertIsNearestEven(t *testing.T) {
	t.Parallel()
	pairs := [][2]Unit{{Celsius, Fahrenheit}, {Fahrenheit, Celsius}, {Kilogram, Pound}, {Pound, Kilogram},
		{Centimetre, Inch}, {Inch, Centimetre}}
	exact := func(v *big.Rat, from Unit) *big.Rat {
		r := func(a, b int64) *big.Rat { return big.NewRat(a, b) }
		switch from {
		case Celsius:
			return v.Add(v.Mul(v, r(9, 5)), r(32, 1))
		case Fahrenheit:
			return v.Mul(v.Sub(v, r(32, 1)), r(5, 9))
		case Pound:
			return v.Mul(v, r(45359237, 100000000))
		case Kilogram:
			return v.Mul(v, r(100000000, 45359237))
		case Inch:
			return v.Mul(v, r(254, 100))
		}
		return v.Mul(v, r(100, 254))
	}
	rapid.Check(t, func(t *rapid.T) {
		pair := rapid.SampledFrom(pairs).Draw(t, "units")
		value := decimal.New(rapid.Int64Range(-999999, 999999).Draw(t, "digits"), -int32(rapid.IntRange(0, 4).Draw(t, "places")))
		places := rapid.IntRange(0, 6).Draw(t, "shown")
		got, err := Convert(value, pair[0], pair[1], places)
		if err != nil {
			t.Fatal(err)
		}
		want := exact(value.Rat(), pair[0])
		off := new(big.Rat).Sub(got.Rat(), want)
		step := decimal.New(1, int32(-places)).Rat()
		half := new(big.Rat).Quo(step, big.NewRat(2, 1))
		odd := got.Shift(int32(places)).BigInt().Bit(0) == 1
		switch off.Abs(off).Cmp(half) {
		case 1:
			t.Fatalf("%s %s = %s %s, off by %s", value, pair[0], got, pair[1], off)
		case 0:
			if odd {
				t.Fatalf("%s %s: %s is the odd one of two", value, pair[0], got)
			}
		}
		if Places(got) != places {
			t.Fatalf("%d places, not %d", Places(got), places)
		}
	})
}

func TestAsRead(t *testing.T) {
	t.Parallel()
	for _, s := range []string{"38.40", "38.4", "38", "0.00", "-2.50"} {
		td.Cmp(t, AsRead(dec(s)), s)
	}
	td.Cmp(t, AsRead(decimal.New(4, 1)), "40")
	td.Cmp(t, Places(decimal.New(4, 1)), 0)
}

func TestUnitsOf(t *testing.T) {
	t.Parallel()
	td.Cmp(t, UnitsOf(Celsius), []Unit{Celsius, Fahrenheit})
	td.Cmp(t, UnitsOf(Kilogram), []Unit{Kilogram, Pound})
	td.Cmp(t, UnitsOf(PerMinute), []Unit{PerMinute})
	td.CmpFalse(t, Second.Same(One))
	td.CmpTrue(t, Inch.Same(Centimetre))
}

// The nearest float64 is the one that big.Rat finds, for every number that an instrument can show and for others.
func TestNearest(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(7, 7))
	same := func(d decimal.Decimal) {
		t.Helper()
		want, _ := d.Rat().Float64()
		td.Cmp(t, math.Float64bits(nearest(d)), math.Float64bits(want), d.String())
	}
	for range 20_000 {
		same(decimal.New(rng.Int64N(2e12)-1e12, int32(rng.IntN(13)-6)))
		same(decimal.New(rng.Int64N(2000)-1000, int32(rng.IntN(13)-6)))
	}
	for _, d := range []decimal.Decimal{{}, decimal.New(1, -7), decimal.New(1, 7), decimal.New(math.MaxInt64, 3), decimal.New(999_999_999_999, 6), decimal.New(1, 30)} {
		same(d)
	}
}

// Ties go up whatever their binary digits are: half of these lie below the tie as float64, half above.
func TestDecimals(t *testing.T) {
	t.Parallel()
	for x, want := range map[float64]string{
		1.65: "1.7", 1.75: "1.8", 1.85: "1.9", 1.15: "1.2", 1.25: "1.3", -1.65: "-1.6", -1.75: "-1.7",
		100.85: "100.9", 0.05: "0.1", -0.05: "0.0", -0.04: "0.0", 1.6499: "1.6", 1.64999999999: "1.7", 1e15: "1000000000000000.0",
	} {
		td.Cmp(t, Decimals(x, 1), want, "%v", x)
	}
	// Every multiple of a hundredth, in whole numbers beside it.
	for n := range 100_000 {
		want := (n + 5) / 10
		td.Require(t).Cmp(Decimals(float64(n)/100, 1), fmt.Sprintf("%d.%d", want/10, want%10), "%d", n)
	}
	td.Cmp(t, Decimals(34.5, 0), "35")
	td.Cmp(t, Decimals(math.Inf(1), 1), "+Inf")
	td.Cmp(t, Decimals(math.NaN(), 1), "NaN")
}
