package vitals

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"whorl.example/vitals/words"
)

// The rule of FEI Endurance Rules 2019, article 821.2.3: 15 s if 16 or less, 30 s if 32 or
// less, else, or if irregular or hard to hear, the full minute.
func TestCountOn(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		events, seconds int
		unclear         bool
		want            string
	}{
		{16, 15, false, "This count is long enough."},
		{17, 15, false, "Count on to 30 seconds."},
		{32, 30, false, "This count is long enough."},
		{33, 30, false, "Count a full minute."},
		{33, 20, false, "Count a full minute."},
		{70, 60, false, "This count is long enough."},
		{9, 15, true, "Count a full minute."},
		{9, 60, true, "This count is long enough."},
		{5, 10, false, "Count on to 15 seconds."},
	} {
		got := CountOn(x.events, time.Duration(x.seconds)*time.Second, x.unclear)
		td.Cmp(t, got.Source, SourceID("fei-2019"))
		td.Cmp(t, words.Say(words.English, "advice."+got.ID, got.Args...), x.want, "%+v", x)
	}
}

func TestDeviceChange(t *testing.T) {
	t.Parallel()
	read := func(d Device, label string, u Unit) Reading {
		return Reading{Value: dec("38.1"), Unit: u, Device: d, Label: label}
	}
	for _, x := range []struct {
		before, now Reading
		want        string
	}{
		{read(Digital, "", Celsius), read(Digital, "", Celsius), ""},
		{read(Digital, "blue", Celsius), read(Digital, "", Celsius), "0.9 Cel"},
		{read(Digital, "blue", Celsius), read(Digital, "blue", Celsius), ""},
		{read(Digital, "blue", Celsius), read(Digital, "red", Celsius), "0.9 Cel"},
		{read(Digital, "", Celsius), read(Predictive, "", Fahrenheit), "1.6 [degF]"},
		{Reading{Value: dec("480"), Unit: Kilogram, Device: Scale}, Reading{Value: dec("480"), Unit: Kilogram, Device: WeighTape}, ""},
	} {
		got, ok := DeviceChange(x.before, x.now)
		td.Cmp(t, ok, x.want != "")
		if ok {
			td.Cmp(t, got.Size.String()+" "+string(got.Unit), x.want)
			td.Cmp(t, got.Source, SourceID("hine-2015"))
		}
	}
}

func TestHeat(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		temperature string
		unit        Unit
		humidity    string
		sum, band   string
	}{
		{"70", Fahrenheit, "40", "110", HeatEasy},
		{"50", Fahrenheit, "76", "126", HeatEasy + ".humid"},
		{"80", Fahrenheit, "50", "130", HeatHelp},
		{"80", Fahrenheit, "70", "150", HeatHelp},
		{"80.1", Fahrenheit, "70", "150.1", HeatWatch},
		{"100", Fahrenheit, "80", "180", HeatWatch},
		{"100.5", Fahrenheit, "80", "180.5", HeatDangerous},
		{"30", Celsius, "60", "146", HeatHelp},
	} {
		got, ok := HeatOf(Air{&Reading{Value: dec(x.temperature), Unit: x.unit}, &Reading{Value: dec(x.humidity), Unit: Percent}})
		td.CmpTrue(t, ok)
		td.Cmp(t, []string{got.Sum.String(), got.Advice().ID}, []string{x.sum, x.band})
		td.CmpTrue(t, words.Has(words.English, "advice."+got.Advice().ID))
	}
	for _, air := range []Air{
		{}, {Temperature: &Reading{Value: dec("70"), Unit: Fahrenheit}}, {Humidity: &Reading{Value: dec("40"), Unit: Percent}},
		{&Reading{Value: dec("70"), Unit: Kilogram}, &Reading{Value: dec("40"), Unit: Percent}},
		{&Reading{Value: dec("70"), Unit: Fahrenheit}, &Reading{Value: dec("40"), Unit: One}},
		{&Reading{Value: dec("1e30"), Unit: Fahrenheit}, &Reading{Value: dec("40"), Unit: Percent}},
	} {
		_, ok := HeatOf(air)
		td.CmpFalse(t, ok)
	}
}

func TestInversion(t *testing.T) {
	t.Parallel()
	breaths := func(n, minutes int) Finding {
		return Finding{Sign: RespiratoryRate, Minutes: minutes, Count: &Count{n, 60, Anywhere}}
	}
	beats := func(n, minutes int) Finding {
		return Finding{Sign: HeartRate, Minutes: minutes, Count: &Count{n, 60, Anywhere}}
	}
	for _, x := range []struct {
		findings []Finding
		want     string
	}{
		{nil, ""},
		{[]Finding{breaths(60, 0)}, ""},
		{[]Finding{breaths(12, 0), beats(36, 0)}, ""},
		{[]Finding{breaths(60, 0), beats(60, 0)}, ""},
		{[]Finding{breaths(72, 0), beats(60, 0)}, "There are more breaths (72 a minute) than heartbeats (60 a minute). Sources disagree on what this means (a source). Tell your vet."},
		{[]Finding{breaths(72, 0), beats(60, 0), breaths(40, 10)}, ""},
		{[]Finding{breaths(72, 0), {Sign: HeartRate, Absent: CouldNot}}, ""},
	} {
		got, ok := Inversion(Exam{Findings: x.findings})
		td.Cmp(t, ok, x.want != "")
		if ok {
			td.Cmp(t, words.Say(words.English, "advice."+got.ID, append(got.Args, "source", "a source")...), x.want)
		}
	}
}
