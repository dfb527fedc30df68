package vitals

import (
	"errors"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"
)

func TestParseReading(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		text string
		unit Unit
		want string // as read, or the code of the fault
	}{
		{"38.4", Celsius, "38.4"}, {"38,4", Celsius, "38.4"}, {"38.40", Celsius, "38.40"}, {" 38,40 ", Celsius, "38.40"},
		{"\u00a038,4\u202f", Celsius, "38.4"}, {"38", Celsius, "38"}, {"038.4", Celsius, "38.4"}, {"0.5", Inch, "0.5"},
		{"-3.5", Celsius, "-3.5"}, {"\u22123,5", Celsius, "-3.5"}, {"+3.5", Fahrenheit, "3.5"},
		{"0", PerMinute, "0"}, {"-0", Celsius, "0"}, {"-0.0", Celsius, "0.0"}, {"1234.56", Kilogram, "1234.56"}, {"12.3456", Inch, "12.3456"},
		{"000000038.4", Celsius, "38.4"},

		{"", Celsius, "not-a-reading"}, {" ", Celsius, "not-a-reading"}, {".", Celsius, "not-a-reading"}, {",5", Celsius, "not-a-reading"},
		{"38.", Celsius, "not-a-reading"}, {"38,", Celsius, "not-a-reading"}, {"38.4.1", Celsius, "not-a-reading"},
		{"1,234.5", Kilogram, "not-a-reading"}, {"1.234,5", Kilogram, "not-a-reading"}, {"1 234", Kilogram, "not-a-reading"},
		{"-36", PerMinute, "not-a-reading"}, {"+36", PerMinute, "not-a-reading"}, {"-480", Kilogram, "not-a-reading"},
		{"--3", Celsius, "not-a-reading"}, {"-+3", Celsius, "not-a-reading"}, {"- 3", Celsius, "not-a-reading"}, {"-", Celsius, "not-a-reading"},
		{"3e1", Celsius, "not-a-reading"}, {"1E5", Kilogram, "not-a-reading"}, {"0x1f", Celsius, "not-a-reading"}, {"1_000", Kilogram, "not-a-reading"},
		{"Inf", Celsius, "not-a-reading"}, {"NaN", Celsius, "not-a-reading"}, {"\u0663\u0668", Celsius, "not-a-reading"}, // Arabic digits
		{"38\u066b4", Celsius, "not-a-reading"}, {"３８", Celsius, "not-a-reading"}, {"38.4 C", Celsius, "not-a-reading"}, {"38\x00", Celsius, "not-a-reading"},
		{"1234567", Kilogram, "implausible-number"}, {"38.40000", Celsius, "implausible-number"}, {"123.4567", Inch, "implausible-number"},
		{strings.Repeat("9", 1_000_000), Kilogram, "implausible-number"},
	} {
		got, err := ParseReading(x.text, x.unit)
		said := AsRead(got)
		if err != nil {
			said = string(err.(Faults)[0].Code)
		}
		td.Cmp(t, said, x.want, "%.20q", x.text)
	}
}

func TestParseTyped(t *testing.T) {
	t.Parallel()
	temperature, weight, tape := UnitsOf(Celsius), UnitsOf(Kilogram), UnitsOf(Centimetre)
	for _, x := range []struct {
		text  string
		units []Unit
		value string
		unit  Unit
		fault FaultCode
	}{
		{"38,4", temperature, "38.4", Celsius, ""}, {"38,4 C", temperature, "38.4", Celsius, ""}, {"38.4°C", temperature, "38.4", Celsius, ""},
		{"38.40 c", temperature, "38.40", Celsius, ""}, {"101.2F", temperature, "101.2", Fahrenheit, ""}, {"101,2 °f ", temperature, "101.2", Fahrenheit, ""},
		{"101.2℉", temperature, "101.2", Fahrenheit, ""}, {"38.4 Cel", temperature, "38.4", Celsius, ""}, {"101.2[degF]", temperature, "101.2", Fahrenheit, ""},
		{"1050 LB", weight, "1050", Pound, ""}, {"1050lbs", weight, "1050", Pound, ""}, {"480", weight, "480", Kilogram, ""}, {"480 kg", weight, "480", Kilogram, ""},
		{"72 in", tape, "72", Inch, ""}, {"72\"", tape, "72", Inch, ""}, {"183 cm", tape, "183", Centimetre, ""},
		{"36 bpm", []Unit{PerMinute}, "36", PerMinute, ""}, {"36/min", []Unit{PerMinute}, "36", PerMinute, ""}, {"55 %", []Unit{Percent}, "55", Percent, ""},
		{"38.4 kg", temperature, "", "", FaultWrongUnit}, {"480 C", weight, "", "", FaultWrongUnit}, {"C", temperature, "", "", FaultNotReading},
		{"38.4 C C", temperature, "", "", FaultNotReading}, {"38.4 K", temperature, "", "", FaultNotReading}, {"", temperature, "", "", FaultNotReading},
		{"38.4", nil, "", "", FaultWrongUnit}, {"480 \u212ag", weight, "", "", FaultNotReading}, // the Kelvin sign is no k
		{"\xff°C", temperature, "", "", FaultNotReading},
	} {
		got, err := ParseTyped(x.text, x.units...)
		if x.fault != "" {
			td.CmpTrue(t, errors.Is(err, Fault{Code: x.fault}), "%q: %v", x.text, err)
			continue
		}
		td.CmpNoError(t, err, "%q", x.text)
		td.Cmp(t, []string{AsRead(got.Value), string(got.Unit)}, []string{x.value, string(x.unit)}, "%q", x.text)
	}
}

// What was read is written back to the digit, with either separator.
func TestParseReadingRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`(0|[1-9][0-9]{0,2})([.,][0-9]{1,3})?`).Draw(t, "text")
		got, err := ParseReading(text, Kilogram)
		if err != nil {
			t.Fatal(err)
		}
		if want := strings.Replace(text, ",", ".", 1); AsRead(got) != want {
			t.Fatalf("%q read as %s", text, AsRead(got))
		}
	})
}

func FuzzParseReading(f *testing.F) {
	for _, s := range []string{"38,4", "101.2F", "-3.5", " 480 kg ", "1e9", "38.4.4", "\u22123,5 °C", "００"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, unit := range allUnits {
			got, err := ParseReading(text, unit)
			if err != nil {
				continue
			}
			if strings.ContainsAny(text, "eExX_") || Places(got) > MaxPlaces || got.NumDigits() > MaxDigits {
				t.Errorf("%q read as %s", text, got)
			}
			again, err := ParseReading(AsRead(got), unit)
			if err != nil || AsRead(again) != AsRead(got) {
				t.Errorf("%q read as %s, and that as %s: %v", text, got, again, err)
			}
		}
		if r, err := ParseTyped(text, Celsius, Fahrenheit, Kilogram); err == nil && r.Unit == "" {
			t.Errorf("%q has no unit", text)
		}
	})
}
