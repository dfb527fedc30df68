package calendar_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/emersion/go-ical"
	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/schema/calendar"
)

var stamp = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// An independent reader (emersion/go-ical) finds what was written.
func TestReadByAnotherProgram(t *testing.T) {
	t.Parallel()
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
	t.Parallel()
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

// printable is what of a text a calendar can carry: line ends of every kind as \n, no other control, no change of direction.
func printable(s string) string {
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n", "\u0085", "\n").Replace(s)
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' && r != '\t' || r == 0x7f || unicode.Is(unicode.Bidi_Control, r) {
			return -1
		}
		return r
	}, s)
}

// An independent reader finds the one event with the properties that it has, and in them the texts: nothing
// that is written can begin a property of its own.
func FuzzWrite(f *testing.F) {
	for _, s := range []string{"", "Bramble: hearts, \\n; more", "x\r\nBEGIN:VALARM\r\nACTION:EMAIL", "x\nATTENDEE:mailto:a@example.com", "\u2028\u0085\x00\x7f\xff",
		strings.Repeat("é", 80), strings.Repeat("😀", 30), "\\", "a\r b"} {
		f.Add(s, s, s, 20, 7, 6, 60)
	}
	f.Fuzz(func(t *testing.T, uid, summary, description string, minutes, every, times, remind int) {
		out := calendar.Write([]calendar.Event{{UID: uid, Start: stamp, Minutes: minutes, EveryDays: every, Times: times,
			Summary: summary, Description: description, RemindMinutes: remind}}, stamp)
		if bytes.ContainsAny(bytes.ReplaceAll(out, []byte("\r\n"), nil), "\r\n") || !utf8.Valid(out) {
			t.Fatalf("a bare line end, or no UTF-8: %q", out)
		}
		for _, line := range bytes.Split(out, []byte("\r\n")) {
			if len(line) > 75 || !utf8.Valid(line) {
				t.Fatalf("%d octets, or cut in a character: %q", len(line), line)
			}
		}
		cal, err := ical.NewDecoder(bytes.NewReader(out)).Decode()
		if err != nil {
			t.Fatalf("%v: %q", err, out)
		}
		td.Require(t).Cmp(cal.Children, td.Len(1))
		event := cal.Children[0]
		var names []string
		for name, props := range event.Props {
			td.Require(t).Cmp(props, td.Len(1), name)
			names = append(names, name)
		}
		want := []string{"UID", "DTSTAMP", "DTSTART", "DURATION", "SUMMARY"}
		if every > 0 && times > 1 {
			want = append(want, "RRULE")
		}
		if description != "" {
			want = append(want, "DESCRIPTION")
		}
		slices.Sort(want)
		slices.Sort(names)
		td.Require(t).Cmp(names, want)
		alarms := 0
		if remind >= 0 {
			alarms = 1
		}
		td.Require(t).Cmp(event.Children, td.Len(alarms))
		for _, alarm := range event.Children {
			td.Require(t).Cmp(alarm.Props, td.Len(3))
		}
		for name, text := range map[string]string{"UID": uid, "SUMMARY": summary, "DESCRIPTION": description} {
			got, err := event.Props.Text(name)
			if want := printable(string([]rune(text))); err != nil || got != want {
				t.Fatalf("%s: %v, %q became %q", name, err, text, got)
			}
		}
	})
}
