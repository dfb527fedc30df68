// Package calendar writes the days of practice exams and the times of rechecks as an
// iCalendar file (RFC 5545), which the calendar of a phone reads without a network.
package calendar

import (
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"whorl.example/vitals/words"
)

// Event is one entry of the calendar.
type Event struct {
	// UID tells the entry from every other, for ever: the same UID in a later file replaces it.
	UID string
	// Start, with the offset of its zone; it is written in UTC.
	Start time.Time
	// Minutes is the length; 0 counts as 15.
	Minutes int
	// EveryDays repeats the entry, Times times in all; 0 and 1 both mean once.
	EveryDays, Times int
	// Summary is the line in the calendar; Description what stands below it.
	Summary, Description string
	// RemindMinutes before Start the phone reminds; negative: no reminder.
	RemindMinutes int
}

// product names the writer of the file (RFC 5545, 3.7.3).
const product = "-//whorl.example//Whorl//EN"

// Write gives the file: one VCALENDAR with the events in the order given. stamp is the
// moment of writing (DTSTAMP). Lines end with CRLF and are folded at 75 octets.
func Write(events []Event, stamp time.Time) []byte {
	var w writer
	w.line("BEGIN:VCALENDAR")
	w.line("VERSION:2.0")
	w.line("PRODID:" + product)
	w.line("CALSCALE:GREGORIAN")
	for _, e := range events {
		w.event(e, stamp)
	}
	w.line("END:VCALENDAR")
	return w.out
}

type writer struct{ out []byte }

func (w *writer) event(e Event, stamp time.Time) {
	minutes := e.Minutes
	if minutes <= 0 {
		minutes = 15
	}
	w.line("BEGIN:VEVENT")
	w.line("UID:" + escape(e.UID))
	w.line("DTSTAMP:" + utc(stamp))
	w.line("DTSTART:" + utc(e.Start))
	w.line("DURATION:PT" + strconv.Itoa(minutes) + "M")
	if e.EveryDays > 0 && e.Times > 1 {
		w.line("RRULE:FREQ=DAILY;INTERVAL=" + strconv.Itoa(e.EveryDays) + ";COUNT=" + strconv.Itoa(e.Times))
	}
	w.line("SUMMARY:" + escape(e.Summary))
	if e.Description != "" {
		w.line("DESCRIPTION:" + escape(e.Description))
	}
	if e.RemindMinutes >= 0 {
		w.line("BEGIN:VALARM")
		w.line("ACTION:DISPLAY")
		w.line("DESCRIPTION:" + escape(e.Summary))
		w.line("TRIGGER:-PT" + strconv.Itoa(e.RemindMinutes) + "M")
		w.line("END:VALARM")
	}
	w.line("END:VEVENT")
}

func utc(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

// escape writes a TEXT value (RFC 5545, 3.3.11). Control characters that the grammar has
// no place for are dropped, and those that would turn what stands behind them around; broken UTF-8 is replaced, so that a name can never end a line.
func escape(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\\' || r == ';' || r == ',':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n' || r == '\r' || r == '\u2028' || r == '\u2029' || r == '\u0085':
			b.WriteString(`\n`)
		case r < ' ' && r != '\t', r == 0x7f, words.Turns(r):
		default:
			b.WriteRune(r) // an invalid byte ranges as U+FFFD
		}
	}
	return b.String()
}

// line writes one content line, folded so that no line has more than 75 octets and no
// UTF-8 sequence is cut (RFC 5545, 3.1).
func (w *writer) line(s string) {
	const most = 75
	room := most
	for len(s) > room {
		cut := room
		for !utf8.RuneStart(s[cut]) { // s is UTF-8, see escape
			cut--
		}
		w.out = append(w.out, s[:cut]...)
		w.out = append(w.out, "\r\n "...)
		s, room = s[cut:], most-1
	}
	w.out = append(w.out, s...)
	w.out = append(w.out, "\r\n"...)
}
