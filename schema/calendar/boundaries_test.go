package calendar_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/emersion/go-ical"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema/calendar"
)

// RFC 5545, 3.1: a line has at most 75 octets without its end, a folded one goes on after a
// space, and it is not folded earlier than need be nor within a character.
func TestWhereALineIsFolded(t *testing.T) {
	t.Parallel()
	const begins = "SUMMARY:"
	for _, c := range []struct {
		summary string
		lines   []int // octets
	}{
		{strings.Repeat("x", 66), []int{74}},
		{strings.Repeat("x", 67), []int{75}},
		{strings.Repeat("x", 68), []int{75, 2}},
		{strings.Repeat("x", 67+74), []int{75, 75}},
		{strings.Repeat("x", 67+75), []int{75, 75, 2}},
		{strings.Repeat("x", 66) + "é", []int{74, 3}}, // octets 75 and 76
		{strings.Repeat("x", 65) + "é", []int{75}},
		{strings.Repeat("x", 64) + "🐴", []int{72, 5}}, // octets 73 to 76
		{strings.Repeat("x", 67) + "é", []int{75, 3}},
	} {
		out := string(calendar.Write([]calendar.Event{{UID: "u", Start: stamp, Summary: c.summary, RemindMinutes: -1}}, stamp))
		_, out, _ = strings.Cut(out, "\r\n"+begins)
		var got []int
		for i, line := range strings.Split(begins+out, "\r\n") {
			if i > 0 && !strings.HasPrefix(line, " ") {
				break
			}
			got = append(got, len(line))
			td.Cmp(t, utf8.ValidString(line), true, "%q", line)
		}
		td.Cmp(t, got, c.lines, "%q", c.summary)
	}
}

// What stands at the zero values: a quarter of an hour, once, and a reminder at the start itself.
func TestLengthRepetitionAndReminder(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		event    calendar.Event
		duration string
		rule     string
		trigger  string
	}{
		{calendar.Event{}, "PT15M", "", "-PT0M"},
		{calendar.Event{Minutes: -5, RemindMinutes: -1}, "PT15M", "", ""},
		{calendar.Event{Minutes: 1, RemindMinutes: 1}, "PT1M", "", "-PT1M"},
		{calendar.Event{EveryDays: 0, Times: 5}, "PT15M", "", "-PT0M"},
		{calendar.Event{EveryDays: 1, Times: 0}, "PT15M", "", "-PT0M"},
		{calendar.Event{EveryDays: 1, Times: 1}, "PT15M", "", "-PT0M"},
		{calendar.Event{EveryDays: 1, Times: 2}, "PT15M", "FREQ=DAILY;INTERVAL=1;COUNT=2", "-PT0M"},
	} {
		c.event.UID, c.event.Start, c.event.Summary = "u", stamp, "Bramble"
		cal, err := ical.NewDecoder(bytes.NewReader(calendar.Write([]calendar.Event{c.event}, stamp))).Decode()
		td.Require(t).CmpNoError(err)
		got := cal.Events()[0]
		value := func(props ical.Props, name string) string {
			if p := props.Get(name); p != nil {
				return p.Value
			}
			return ""
		}
		td.Cmp(t, value(got.Props, ical.PropDuration), c.duration, "%+v", c.event)
		td.Cmp(t, value(got.Props, ical.PropRecurrenceRule), c.rule, "%+v", c.event)
		td.Cmp(t, got.Props.Get(ical.PropDescription), td.Nil(), "%+v", c.event)
		trigger := ""
		for _, alarm := range got.Children {
			trigger = value(alarm.Props, ical.PropTrigger)
		}
		td.Cmp(t, trigger, c.trigger, "%+v", c.event)
	}
}
