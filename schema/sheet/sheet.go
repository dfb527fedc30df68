// Package sheet writes the readings of a horse as a table for a spreadsheet: CSV after
// RFC 4180, one row a finding.
//
// The text begins with a byte order mark, by which spreadsheets know UTF-8, and lines end
// with CRLF. Every text is quoted. What a spreadsheet would take for a formula (=, +, - or @ at the beginning of a cell, or behind a
// semicolon, a tab or a line break, where lists of some countries part) has an apostrophe before it; a plain number keeps its minus.
package sheet

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"whorl.example/baseline/report"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// columns are the headers' keys under "sheet.", in order.
var columns = []string{"horse", "at", "purpose", "state", "wellness", "status", "sign", "site", "read", "value", "unit",
	"how", "answers", "where", "absent", "by", "note"}

// Write gives the table of a horse's exams, oldest first, with the header and the answers
// in a language, a row for each thing that was told with the exam, and one for what is remembered of a call. Exams of other horses are left out. A finding that gives no number (taps
// too uneven for a rate) has what was read and the reason in place of the value.
func Write(horse vitals.Horse, exams []vitals.Exam, lang words.Lang) []byte {
	s := sheet{lang: lang, horse: horse}
	s.out = append(s.out, "\ufeff"...)
	var header []string
	for _, c := range columns {
		header = append(header, words.Say(lang, "sheet."+c))
	}
	s.row(header)
	// By place: a sort of exams themselves would cost the browser 10 kB.
	places := make([]int, len(exams))
	for i := range places {
		places[i] = i
	}
	slices.SortStableFunc(places, func(i, j int) int {
		if c := exams[i].At.Compare(exams[j].At); c != 0 {
			return c
		}
		return strings.Compare(string(exams[i].ID), string(exams[j].ID))
	})
	for _, i := range places {
		if exams[i].Horse != horse.ID {
			continue
		}
		for _, f := range exams[i].Findings {
			s.finding(exams[i], f)
		}
		s.story(exams[i])
		if said := report.Called(exams[i], horse, lang); said != "" {
			s.told(exams[i], exams[i].At, "report.call", said)
		}
	}
	return s.out
}

type sheet struct {
	lang  words.Lang
	horse vitals.Horse
	out   []byte
}

// say gives the words of an id, or the id where there are none.
func (s *sheet) say(key, id string) string {
	if id == "" {
		return ""
	}
	if said := words.Say(s.lang, key+id); said != key+id {
		return said
	}
	return id
}

func (s *sheet) finding(e vitals.Exam, f vitals.Finding) {
	at := e.At.Add(time.Duration(f.Minutes) * time.Minute)
	value, unit := s.value(e, f)
	var answers, where []string
	for _, g := range f.Chosen {
		answers = append(answers, s.say("grade."+string(f.Sign)+".", string(g)))
	}
	for _, w := range f.Where {
		where = append(where, s.say("site.", string(w)))
	}
	s.row(s.cells(e, at, s.say("sign.", string(f.Sign)), s.say("site.", string(f.Site)),
		asRead(f), value, unit, s.how(f), strings.Join(answers, "; "), strings.Join(where, "; "),
		s.say("absence.", string(f.Absent)), f.Note))
}

// told writes a row of something that was told: what it is stands where the sign of a finding does.
func (s *sheet) told(e vitals.Exam, at time.Time, key, text string) {
	s.row(s.cells(e, at, words.Say(s.lang, key), "", "", "", "", "", "", "", "", text))
}

// story writes what was told with an exam, each thing by itself.
func (s *sheet) story(e vitals.Exam) {
	told := e.Story
	if told == nil {
		return
	}
	since := e.At
	if !told.Since.IsZero() {
		since = told.Since
	}
	var ask, course string
	if told.Ask != "" {
		ask = s.say("ask.", string(told.Ask))
	}
	if told.Course != "" {
		course = s.say("course.", string(told.Course))
	}
	for _, x := range []struct {
		key, text string
		at        time.Time
	}{
		{"report.what", told.Noticed, since}, {"report.course", course, e.At}, {"report.passed", told.Passed, e.At},
		{"report.intake", told.Intake, e.At}, {"report.changed", told.Changed, e.At}, {"report.history", told.History, e.At}, {"report.ask", ask, e.At},
	} {
		if x.text != "" {
			s.told(e, x.at, x.key, x.text)
		}
	}
	for _, g := range told.Given {
		at, what := e.At, g.What
		if !g.At.IsZero() {
			at = g.At
		}
		if g.Dose != "" {
			what += ", " + g.Dose
		}
		if g.By != "" {
			e.By = g.By
		}
		s.told(e, at, "report.given", what)
	}
}

// cells are the cells of a row: what is of the exam, and the rest in their order, the last of them the note.
func (s *sheet) cells(e vitals.Exam, at time.Time, rest ...string) []string {
	last := len(rest) - 1
	of := []string{s.horse.Name, at.Format("2006-01-02T15:04:05Z07:00"), s.say("purpose.", string(e.Purpose)), s.state(e.State),
		s.say("wellness.", string(e.Wellness)), s.say("status.", string(e.Status))}
	return slices.Concat(of, rest[:last], []string{e.By, rest[last]})
}

func (s *sheet) state(st vitals.State) string {
	said := s.say("condition.", string(st.Condition))
	for _, c := range st.Also {
		said += "; " + s.say("condition.", string(c))
	}
	if st.In(vitals.AfterWork) {
		said += "; " + words.Say(s.lang, "sheet.minutes", "n", strconv.Itoa(st.SinceMinutes))
		if st.Effort != "" {
			said += "; " + s.say("effort.", string(st.Effort))
		}
	}
	if st.With != "" {
		said += "; " + st.With
	}
	return said
}

// value is the number compared, in the sign's unit (one place more than is shown, and as
// it was read where it was read in that unit), or the reason why there is none.
func (s *sheet) value(e vitals.Exam, f vitals.Finding) (value, unit string) {
	sign, ok := vitals.Lookup(f.Sign)
	if !ok || f.Absent != "" || !sign.Kind.Measured() {
		return "", ""
	}
	unit = words.Say(s.lang, "unit."+string(sign.Unit))
	if f.Reading != nil && f.Reading.Unit == sign.Unit {
		return vitals.AsRead(f.Reading.Value), unit
	}
	stage, _ := s.horse.StageAt(e.At)
	m, err := f.MeasureFor(sign, s.horse.Type, stage)
	if faults, refused := errors.AsType[vitals.Faults](err); refused {
		var said []string
		for _, fault := range faults {
			said = append(said, words.Say(s.lang, "fault."+string(fault.Code), fault.Args...))
		}
		return strings.Join(said, " "), ""
	}
	return strconv.FormatFloat(m.Value, 'f', sign.Places+1, 64), unit
}

// asRead is what was counted, tapped, timed or read, as it was.
func asRead(f vitals.Finding) string {
	switch {
	case f.Count != nil:
		return strconv.Itoa(f.Count.Events) + " / " + strconv.Itoa(f.Count.Seconds) + " s"
	case f.Taps != nil && len(f.Taps.AtMS) > 0:
		return strconv.Itoa(len(f.Taps.AtMS)) + " / " + seconds(f.Taps.AtMS[len(f.Taps.AtMS)-1], 3) + " s"
	case f.Timed != nil:
		var tries []string
		for _, cs := range f.Timed.CentiSeconds {
			tries = append(tries, seconds(cs, 2))
		}
		return strings.Join(tries, "; ") + " s"
	case f.Girth != nil:
		return vitals.AsRead(f.Girth.Girth) + " x " + vitals.AsRead(f.Girth.Length) + " " + string(f.Girth.Unit)
	case f.Reading != nil:
		return vitals.AsRead(f.Reading.Value) + " " + string(f.Reading.Unit)
	}
	return ""
}

// seconds writes a whole number of thousandths or hundredths in seconds.
func seconds(n, places int) string {
	unit := 1
	for range places {
		unit *= 10
	}
	return strconv.FormatFloat(float64(n)/float64(unit), 'f', places, 64)
}

func (s *sheet) how(f vitals.Finding) string {
	var key string
	switch {
	case f.Count != nil:
		return words.Say(s.lang, "how.count", "s", strconv.Itoa(f.Count.Seconds))
	case f.Taps != nil && len(f.Taps.AtMS) > 0:
		ms := f.Taps.AtMS[len(f.Taps.AtMS)-1]
		return words.Say(s.lang, "how.taps", "s", strconv.Itoa((ms+500)/1000))
	case f.Timed != nil && f.Timed.Aloud:
		key = "how.timed.aloud"
	case f.Timed != nil && len(f.Timed.CentiSeconds) == 1:
		key = "how.timed.1"
	case f.Timed != nil:
		return words.Say(s.lang, "how.timed", "n", strconv.Itoa(len(f.Timed.CentiSeconds)))
	case f.Girth != nil:
		key = "how.girth"
	case f.Reading != nil && f.Reading.Device != "":
		how := s.say("how.device.", string(f.Reading.Device))
		if f.Reading.Label != "" {
			how = words.Say(s.lang, "how.label", "how", how, "label", f.Reading.Label)
		}
		return how
	default:
		return ""
	}
	return words.Say(s.lang, key)
}

func (s *sheet) row(cells []string) {
	for i, c := range cells {
		if i > 0 {
			s.out = append(s.out, ',')
		}
		s.cell(c)
	}
	s.out = append(s.out, "\r\n"...)
}

// cell writes one cell: a number or nothing as it is, a text guarded and quoted.
func (s *sheet) cell(c string) {
	if c == "" || number(c) {
		s.out = append(s.out, c...)
		return
	}
	// A NUL ends the text for many readers, and a lone carriage return the row.
	c = strings.ReplaceAll(strings.ToValidUTF8(c, "\ufffd"), "\x00", "")
	c = strings.ReplaceAll(strings.ReplaceAll(c, "\r\n", "\n"), "\r", "\n")
	s.out = append(s.out, '"')
	begins := true // a cell, here or where another list parts
	for i, r := range c {
		if begins && strings.ContainsRune("=+-@", r) || i == 0 && (r == '\t' || r == '\n') {
			s.out = append(s.out, '\'')
		}
		begins = r == ';' || r == '\t' || r == '\n' || begins && (r == ' ' || r == '"')
		switch r {
		case '"':
			s.out = append(s.out, `""`...)
		case '\n':
			s.out = append(s.out, "\r\n"...)
		default:
			s.out = utf8.AppendRune(s.out, r)
		}
	}
	s.out = append(s.out, '"')
}

// number reports whether a cell is a plain number: digits, at most one point between two of them, and a minus or none.
func number(c string) bool {
	whole, places, point := strings.Cut(strings.TrimPrefix(c, "-"), ".")
	only := func(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
	return only(whole) && (!point || only(places))
}
