package calendar_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"
	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/schema/calendar"
)

var stamp = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// An independent reader (emersion/go-ical) finds what was written.
func TestReadByAnotherProgram(t *testing.T) {
	zone := time.FixedZone("", -6*3600)
	events := []calendar.Event{{
		UID: "practice-bramble-1", Start: time.Date(2026, 3, 4, 7, 30, 0, 0, zone), Minutes: 20,
		EveryDays: 7, Times: 6, Summary: "Bramble: practice exam; heart, breath, gums",
		Description: "Quiet day, at rest.\nCount a full minute.", RemindMinutes: 60,
	}, {
		UID: "recheck-1", Start: time.Date(2026, 3, 4, 2, 25, 0, 0, zone), Summary: "Röschen: count again", RemindMinutes: -1,
	}}
	out := calendar.Write(events, stamp)
	cal, err := ical.NewDecoder(bytes.NewReader(out)).Decode()
	td.Require(t).CmpNoError(err)
	td.Cmp(t, len(cal.Events()), 2)
	first := cal.Events()[0]
	start, err := first.DateTimeStart(time.UTC)
	td.CmpNoError(t, err)
	td.Cmp(t, start.Equal(events[0].Start), true)
	end, err := first.DateTimeEnd(time.UTC)
	td.CmpNoError(t, err)
	td.Cmp(t, end.Sub(start), 20*time.Minute)
	summary, err := first.Props.Text(ical.PropSummary)
	td.CmpNoError(t, err)
	td.Cmp(t, summary, events[0].Summary)
	description, err := first.Props.Text(ical.PropDescription)
	td.CmpNoError(t, err)
	td.Cmp(t, description, events[0].Description)
	set, err := first.RecurrenceSet(time.UTC)
	td.CmpNoError(t, err)
	days := set.All()
	td.Cmp(t, len(days), 6)
	td.Cmp(t, days[5].Equal(events[0].Start.AddDate(0, 0, 35)), true)
	td.Cmp(t, len(first.Children), 1, "one reminder")
	td.Cmp(t, len(cal.Events()[1].Children), 0, "none asked for")

	var again bytes.Buffer
	td.CmpNoError(t, ical.NewEncoder(&again).Encode(cal), "the strict encoder accepts it too")
}

// RFC 5545, 3.1 and 3.3.11: lines of at most 75 octets, CRLF, text that cannot end a line.
func TestAnyTextIsCarried(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		out := calendar.Write([]calendar.Event{{UID: "u", Start: stamp, Summary: text, RemindMinutes: 0}}, stamp)
		if bytes.Contains(bytes.ReplaceAll(out, []byte("\r\n"), nil), []byte("\n")) || bytes.Contains(bytes.ReplaceAll(out, []byte("\r\n"), nil), []byte("\r")) {
			t.Fatalf("a bare line end: %q", out)
		}
		for _, line := range strings.Split(string(out), "\r\n") {
			if len(line) > 75 {
				t.Fatalf("%d octets: %q", len(line), line)
			}
		}
		cal, err := ical.NewDecoder(bytes.NewReader(out)).Decode()
		if err != nil {
			t.Fatal(err)
		}
		got, err := cal.Events()[0].Props.Text(ical.PropSummary)
		if err != nil {
			t.Fatal(err)
		}
		if want := printable(text); got != want {
			t.Fatalf("%q became %q, want %q", text, got, want)
		}
	})
}

// printable is what of a text a calendar can carry: line ends of every kind as \n, no other control.
func printable(s string) string {
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n", "\u0085", "\n").Replace(s)
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' || r >= ' ' && r != 0x7f {
			return r
		}
		return -1
	}, s)
}
