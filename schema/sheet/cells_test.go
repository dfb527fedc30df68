package sheet

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

var at = time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC)

// rowsOf gives the cells of findings by the name of the column.
func rowsOf(t *testing.T, state vitals.State, findings ...vitals.Finding) []map[string]string {
	horse := vitals.Horse{ID: "h", Name: "Bramble", Type: vitals.TypeHorse}
	exam := vitals.Exam{ID: "e", Horse: "h", At: at, State: state, Status: vitals.Finished, Findings: findings}
	var out []map[string]string
	for _, row := range read(t, Write(horse, []vitals.Exam{exam}, words.English))[1:] {
		cells := map[string]string{}
		for i, c := range columns {
			cells[c] = row[i]
		}
		out = append(out, cells)
	}
	return out
}

// How a value was taken stands beside it, as it was read and as it is compared.
func TestHowEachValueWasTaken(t *testing.T) {
	t.Parallel()
	taps := func(gap, n int) *vitals.Taps {
		x := &vitals.Taps{}
		for i := range n {
			x.AtMS = append(x.AtMS, i*gap)
		}
		return x
	}
	girth := vitals.Girth{Girth: decimal.New(183, 0), Length: decimal.New(165, 0), Unit: vitals.Centimetre}
	for _, c := range []struct {
		finding                vitals.Finding
		read, value, unit, how string
	}{
		// 15.5 s, and 15.4 s, to the nearest second; 31 and 28 intervals of theirs in a minute.
		{vitals.Finding{Sign: vitals.HeartRate, Taps: taps(1550, 11)}, "11 / 15.500 s", "38.7", "/min", "tapped for 16 s"},
		{vitals.Finding{Sign: vitals.HeartRate, Taps: taps(1540, 11)}, "11 / 15.400 s", "39.0", "/min", "tapped for 15 s"},
		{vitals.Finding{Sign: vitals.HeartRate, Count: &vitals.Count{Events: 40, Seconds: 60, Start: vitals.OnBeat}}, "40 / 60 s", "40.5", "/min", "counted over 60 s"},
		{vitals.Finding{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{125}}}, "1.25 s", "1.25", "s", "timed once"},
		{vitals.Finding{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{125, 135}}}, "1.25; 1.35 s", "1.30", "s", "timed 2 times"},
		{vitals.Finding{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{100}, Aloud: true}}, "1.00 s", "1.00", "s", "counted without a timer"},
		{vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.New(380, -1), Unit: vitals.Celsius}}, "38.0 Cel", "38.0", "°C", ""},
		{vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.New(1004, -1), Unit: vitals.Fahrenheit, Device: vitals.Glass, Label: "blue"}},
			"100.4 [degF]", "38.00", "°C", "glass thermometer, “blue”"},
		// Girth squared times length over 11,880 (Carroll and Huntington 1988).
		{vitals.Finding{Sign: vitals.Weight, Girth: &girth}, "183 x 165 cm", "465.1", "kg", "from girth and length"},
		{vitals.Finding{Sign: vitals.HeartRate, Absent: vitals.CouldNot}, "", "", "", ""},
		{vitals.Finding{Sign: vitals.GumColour, Chosen: []vitals.GradeID{"pink"}}, "", "", "", ""},
		{vitals.Finding{Sign: "no-such-sign", Chosen: []vitals.GradeID{"pink"}}, "", "", "", ""},
		{vitals.Finding{Sign: vitals.HeartRate, Taps: &vitals.Taps{}}, "", "Too few taps for a rate. Tap at least 4 in a row.", "", ""},
	} {
		got := rowsOf(t, vitals.State{}, c.finding)[0]
		td.Cmp(t, got["read"], c.read, "%+v", c.finding)
		td.Cmp(t, got["value"], c.value, "%+v", c.finding)
		td.Cmp(t, got["unit"], c.unit, "%+v", c.finding)
		td.Cmp(t, got["how"], c.how, "%+v", c.finding)
	}
}

func TestStateSaysWhatBelongsToIt(t *testing.T) {
	t.Parallel()
	f := vitals.Finding{Sign: vitals.HeartRate, Absent: vitals.CouldNot}
	for _, c := range []struct {
		state vitals.State
		said  string
	}{
		{vitals.State{}, ""},
		{vitals.State{Condition: vitals.AtRest}, "At rest"},
		{vitals.State{Condition: vitals.AfterWork, SinceMinutes: 10}, "After work; 10 minutes after work"},
		{vitals.State{Condition: vitals.AfterWork, SinceMinutes: 1, Effort: vitals.Hard}, "After work; 1 minute after work; hard"},
		{vitals.State{Condition: vitals.Medicated, With: "as told"}, "Sedated or medicated; as told"},
	} {
		td.Cmp(t, rowsOf(t, c.state, f)[0]["state"], c.said)
	}
}

// Oldest first; of one moment, by id.
func TestRowsAreInOrderOfTime(t *testing.T) {
	t.Parallel()
	exam := func(id vitals.ID, after time.Duration) vitals.Exam {
		return vitals.Exam{ID: id, Horse: "h", At: at.Add(after), By: string(id), Findings: []vitals.Finding{{Sign: vitals.HeartRate, Absent: vitals.CouldNot}}}
	}
	rows := read(t, Write(vitals.Horse{ID: "h"}, []vitals.Exam{exam("a", time.Hour), exam("d", 0), exam("c", 0), exam("b", -time.Hour)}, words.English))
	var by []string
	for _, row := range rows[1:] {
		by = append(by, row[len(row)-2])
	}
	td.Cmp(t, by, []string{"b", "c", "d", "a"})
}

// What a spreadsheet would compute has an apostrophe, also where lists part by semicolons; a number is bare, and keeps its minus.
func TestCells(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{
		"": "", "-3": "-3", "-3.5": "-3.5", "3": "3", "-": `"'-"`, "-3+4": `"'-3+4"`, "3.": `"3."`, "=1": `"'=1"`, "+1": `"'+1"`, "@a": `"'@a"`, "\ta": "\"'\ta\"",
		"a,b": `"a,b"`, `a"b`: `"a""b"`, "a\nb": "\"a\r\nb\"", "a b": `"a b"`, " a": `" a"`, "a ": `"a "`, "a\x00b": `"ab"`, "\xff": "\"\ufffd\"",
		"a;=1+1": `"a;'=1+1"`, "a; -1": `"a; '-1"`, "a\n@b": "\"a\r\n'@b\"", `a;"=1`: `"a;""'=1"`, "a=1": `"a=1"`, "\x00=1": `"'=1"`,
	} {
		var s sheet
		s.cell(in)
		td.Cmp(t, string(s.out), want, "%q", in)
	}
}
