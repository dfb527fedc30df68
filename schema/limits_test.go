package schema

import (
	"bufio"
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/vitals"
)

// RFC 3339, narrowed: whole seconds or thousandths, an offset of at most 14 hours, years 1900 to 2199.
func TestWhichTimesAreRead(t *testing.T) {
	for s, ok := range map[string]bool{
		"2026-05-03T07:30:00Z": true, "2026-05-03T07:30:00+02:00": true, "2026-05-03T07:30:00-02:00": true,
		"1900-01-01T00:00:00Z": true, "1899-12-31T23:59:59Z": false, "2199-12-31T23:59:59Z": true, "2200-01-01T00:00:00Z": false,
		"2026-05-03T07:30:00.1Z": true, "2026-05-03T07:30:00.909Z": true, "2026-05-03T07:30:00.090Z": true, "2026-05-03T07:30:00.0909Z": false, "2026-05-03T07:30:00.Z": false, "2026-05-03T07:30:00.": false, "2026-05-03T07:30:00.1": false,
		"2026-05-03T07:30:00.123": false, "2026-05-03T07:30:00+14:00": true, "2026-05-03T07:30:00+14:01": false, "2026-05-03T07:30:00-14:00": true, "2026-05-03T07:30:00-14:01": false,
		"2026-05-03t07:30:00Z": false, "2026-05-03T07:30:00z": false, "2026-05-03 07:30:00Z": false, "2026-05-03T07:30:00": false, "2026-05-03T07:30Z": false, "2026-05-03T7:30:00Z": false,
		"2026-05-03T07:30:00,1Z": false, "2026-02-29T07:30:00Z": false, "2026-05-03T24:00:00Z": false, "2026-05-03T07:30:60Z": false, "2026/05/03T07:30:00Z": false,
		"2026-05-03T07:30:0:Z": false, "2026-05-03T07:30:0/Z": false, "2026-05-03T07:30:00+0200": false, "2026-05-03T07:30:00.:Z": false, "9999-99-99T99:99:99Z": false, "2019-09-09T09:09:09.9+09:09": true,
	} {
		read, got := parseTime(s)
		td.Cmp(t, got, ok, s)
		if want, err := time.Parse(time.RFC3339, s); ok && (err != nil || !read.Equal(want)) {
			t.Errorf("%s: read as %v", s, read)
		}
	}
	for in, want := range map[string]bool{"x": false, "0": true, "9": true, "/": false, ":": false} {
		td.Cmp(t, shaped(in, "0"), want, in)
	}
	td.Cmp(t, shaped("1x", "0x"), true)
	td.Cmp(t, shaped("1y", "0x"), false)
	td.Cmp(t, shaped("xx", "0x"), false)
}

// At most fifteen digits: what is written can be read again, and a number that cannot is not written.
func TestWhichDecimalsAreWritten(t *testing.T) {
	for _, x := range []struct {
		d    decimal.Decimal
		text string // "" where it is not written
	}{
		{decimal.New(3840, -2), "38.40"}, {decimal.New(0, 0), "0"}, {decimal.New(-5, -1), "-0.5"},
		{decimal.New(999_999_999_999_999, 0), "999999999999999"}, {decimal.New(1_000_000_000_000_000, 0), ""},
		{decimal.New(1, -14), "0.00000000000001"}, {decimal.New(1, -15), ""}, {decimal.New(1, -16), ""},
		{decimal.New(1, 14), "100000000000000"}, {decimal.New(1, 15), ""}, {decimal.New(1, 16), ""}, {decimal.New(0, 15), "0"}, {decimal.New(0, -14), "0.00000000000000"},
		{decimal.New(1, math.MaxInt32), ""}, {decimal.New(1, math.MinInt32), ""}, {decimal.New(0, 16), ""},
	} {
		s, ok := decimalText(x.d)
		td.Cmp(t, ok, x.text != "", "%v", x.text)
		if ok {
			td.Cmp(t, s, x.text)
			back, read := parseDecimal(s)
			td.Cmp(t, read && back.Equal(x.d), true, s)
		}
	}
	for _, s := range []string{"", "-", "+1", "01", "00", "1.", ".1", "1e1", "1,5", "/", ":", "1/", "1:", "--1", "1 "} {
		_, ok := parseDecimal(s)
		td.Cmp(t, ok, false, "%q", s)
	}
}

// RFC 7493, 2.2: from 2^53 on a float64 cannot tell a whole number from its neighbour.
func TestWholeNumbers(t *testing.T) {
	for text, want := range map[string]string{
		"9007199254740991": "9007199254740991", "-9007199254740991": "-9007199254740991", "9007199254740992": "number-too-big", "-9007199254740992": "number-too-big",
		"60": "60", "60.0": "60", "6e1": "60", "-0": "0", "1.5": "not-whole", "1e400": "number-too-big", `"60"`: "not-number",
	} {
		var v struct {
			N int `json:"n"`
		}
		got := ""
		if err := Unmarshal([]byte(`{"n": `+text+`}`), &v); err != nil {
			got = string(err.(vitals.Faults)[0].Code)
		} else {
			got = strconv.Itoa(v.N)
		}
		td.Cmp(t, got, want, text)
	}
}

// A broken document is told by line and column, in characters and from 1.
func TestWhereADocumentBreaks(t *testing.T) {
	for text, want := range map[string][]string{
		"x": {"line", "1", "column", "1"}, "{x": {"line", "1", "column", "2"}, "{\n\n  x": {"line", "3", "column", "3"}, "{\"é\": x": {"line", "1", "column", "7"}, "": {"line", "1", "column", "1"},
	} {
		var v struct{}
		faults := Unmarshal([]byte(text), &v).(vitals.Faults)
		td.Cmp(t, faults[len(faults)-1].Args, want, "%q", text)
	}
	var v struct {
		Text string `json:"text"`
	}
	td.CmpNoError(t, Unmarshal([]byte(`{"text": ""}`), &v))
	for _, nul := range []string{`"\u0000"`, `"\u0000a"`, `"a\u0000"`} {
		td.Cmp(t, Unmarshal([]byte(`{"text": `+nul+`}`), &v).(vitals.Faults)[0].Code, BadText, nul)
	}
}

// However much is wrong, so many faults are told, and no fewer.
func TestSoManyFaults(t *testing.T) {
	for n, want := range map[int]int{MaxFaults - 1: MaxFaults - 1, MaxFaults: MaxFaults, MaxFaults + 1: MaxFaults} {
		var v struct {
			N []int `json:"n"`
		}
		err := Unmarshal([]byte(`{"n": [`+strings.TrimSuffix(strings.Repeat(`"x",`, n), ",")+`]}`), &v)
		td.Cmp(t, len(err.(vitals.Faults)), want)
	}
}

// What is kept of a line is what may be read, and one byte by which it is refused.
func TestLongLines(t *testing.T) {
	for n, kept := range map[int]int{0: 0, 10: 10, 4096: 4096, 5000: 5000, MaxBytes: MaxBytes, MaxBytes + 1: MaxBytes + 1, MaxBytes + 2: MaxBytes + 1, MaxBytes + 5000: MaxBytes + 1} {
		in := bufio.NewReader(bytes.NewReader(append(bytes.Repeat([]byte{'x'}, n), "\nnext\n"...)))
		text, err := readLine(in)
		td.CmpNoError(t, err)
		td.Cmp(t, len(bytes.TrimSuffix(text, []byte{'\n'})), kept)
		text, err = readLine(in)
		td.CmpNoError(t, err)
		td.Cmp(t, string(text), "next\n", "after %d bytes", n)
	}
}

// Which of two versions is shown: not set aside, finished, more findings, later.
func TestWhichVersionIsShown(t *testing.T) {
	at := time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC)
	exam := func(e vitals.Exam) version {
		e.ID, e.Horse = "e", "h"
		v := version{Conflict: Conflict{Exam: &e}, entries: func() map[place]entry { return entries(e) }}
		key, err := v.key()
		td.Require(t).CmpNoError(err)
		v.text = []byte(key)
		return v
	}
	aside := exam(vitals.Exam{At: at.Add(9 * time.Hour), Status: vitals.Finished})
	aside.Aside = true
	findings := func(n int) []vitals.Finding { return make([]vitals.Finding, n) }
	least := []version{ // the one shown last
		aside,
		exam(vitals.Exam{At: at.Add(time.Hour), Status: vitals.Draft, Findings: findings(2)}),
		exam(vitals.Exam{At: at.Add(2 * time.Hour), Status: vitals.Finished}),
		exam(vitals.Exam{At: at, Status: vitals.Finished, Findings: findings(1)}),
		exam(vitals.Exam{At: at.Add(time.Hour), Status: vitals.Finished, Findings: findings(1)}),
		exam(vitals.Exam{At: at.Add(time.Hour), Status: vitals.Finished, Findings: findings(1), By: "Rowan"}),
	}
	for i, v := range least {
		for j, o := range least {
			c := v.compare(o)
			td.Cmp(t, []bool{c > 0, c < 0}, []bool{i > j, i < j}, "%d %d", i, j)
		}
	}
	shown := version{Conflict: Conflict{Horse: &vitals.Horse{ID: "h"}}, text: []byte("a")}
	other := version{Conflict: Conflict{Horse: &vitals.Horse{ID: "h"}}, text: []byte("b")}
	td.Cmp(t, shown.compare(other) < 0 && other.compare(shown) > 0, true)
}

// A draft whose every entry stands in another version is an earlier state of that one; anything of its
// own that the other lacks makes it a version to keep.
func TestEarlierStates(t *testing.T) {
	at := time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC)
	count := vitals.Finding{Sign: vitals.HeartRate, Site: "jaw", Count: &vitals.Count{Events: 9, Seconds: 15, Start: vitals.OnBeat}}
	with := func(f vitals.Finding, change func(*vitals.Finding)) vitals.Finding { change(&f); return f }
	exam := func(status vitals.Status, change func(*vitals.Exam), findings ...vitals.Finding) version {
		e := vitals.Exam{ID: "e", Horse: "h", At: at, Depth: vitals.Full, Status: status, State: vitals.State{Condition: vitals.AfterWork, SinceMinutes: 5}, Findings: findings}
		if change != nil {
			change(&e)
		}
		v := version{Conflict: Conflict{Exam: &e}, entries: func() map[place]entry { return entries(e) }}
		key, err := v.key()
		td.Require(t).CmpNoError(err)
		v.text = []byte(key)
		return v
	}
	draft := func(findings ...vitals.Finding) version { return exam(vitals.Draft, nil, findings...) }
	absent := vitals.Finding{Sign: vitals.HeartRate, Site: "jaw", Absent: vitals.NotTried}
	temperature := vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.New(384, -1), Unit: vitals.Celsius}}
	for name, x := range map[string]struct {
		a, b    version
		earlier bool
	}{
		"nothing yet":                {draft(), draft(count), true},
		"more than it":               {draft(count), draft(), false},
		"the same":                   {draft(count), draft(count), false},
		"one more":                   {draft(count), draft(temperature, count), true},
		"finished":                   {draft(count), exam(vitals.Finished, nil, count), true},
		"no draft":                   {exam(vitals.Finished, nil, count), exam(vitals.Finished, nil, count, temperature), false},
		"another value":              {draft(count), draft(with(count, func(f *vitals.Finding) { f.Count = &vitals.Count{Events: 10, Seconds: 15, Start: vitals.OnBeat} })), false},
		"another site":               {draft(absent), draft(with(count, func(f *vitals.Finding) { f.Site = "chest-left" })), false},
		"another time":               {draft(absent), draft(with(count, func(f *vitals.Finding) { f.Minutes = 5 })), false},
		"another sign":               {draft(absent), draft(with(count, func(f *vitals.Finding) { f.Sign = vitals.RespiratoryRate })), false},
		"an absence filled":          {draft(absent), draft(count), true},
		"an absence noted":           {draft(with(absent, func(f *vitals.Finding) { f.Note = "kicks" })), draft(count), false},
		"another absence":            {draft(absent), draft(with(absent, func(f *vitals.Finding) { f.Absent = vitals.Unsure })), false},
		"a value became an absence":  {draft(count), draft(absent), false},
		"who, later":                 {draft(), exam(vitals.Draft, func(e *vitals.Exam) { e.By = "Rowan" }), true},
		"who, gone":                  {exam(vitals.Draft, func(e *vitals.Exam) { e.By = "Rowan" }), draft(count), false},
		"who, another":               {exam(vitals.Draft, func(e *vitals.Exam) { e.By = "Rowan" }), exam(vitals.Draft, func(e *vitals.Exam) { e.By = "Ida" }, count), false},
		"another time after work":    {draft(), exam(vitals.Draft, func(e *vitals.Exam) { e.State.SinceMinutes = 0 }, count), false},
		"no time after work, at all": {exam(vitals.Draft, func(e *vitals.Exam) { e.State.SinceMinutes = 0 }), draft(count), false},
		"a story, later":             {draft(), exam(vitals.Draft, func(e *vitals.Exam) { e.Story = &vitals.Story{Noticed: "off its feed"} }), true},
		"a story, gone":              {exam(vitals.Draft, func(e *vitals.Exam) { e.Story = &vitals.Story{Noticed: "off its feed"} }), draft(count), false},
		"a story, longer": {exam(vitals.Draft, func(e *vitals.Exam) { e.Story = &vitals.Story{Noticed: "off its feed"} }),
			exam(vitals.Draft, func(e *vitals.Exam) { e.Story = &vitals.Story{Noticed: "off its feed", Course: vitals.Same} }), true},
		"a story, another": {exam(vitals.Draft, func(e *vitals.Exam) { e.Story = &vitals.Story{Noticed: "off its feed"} }),
			exam(vitals.Draft, func(e *vitals.Exam) { e.Story = &vitals.Story{Noticed: "sweats", Course: vitals.Same} }), false},
		"given, later": {exam(vitals.Draft, func(e *vitals.Exam) { e.Story = &vitals.Story{Given: []vitals.Given{}} }),
			exam(vitals.Draft, func(e *vitals.Exam) { e.Story = &vitals.Story{Given: []vitals.Given{{What: "hay"}}} }), true},
		"given, gone": {exam(vitals.Draft, func(e *vitals.Exam) { e.Story = &vitals.Story{Given: []vitals.Given{{What: "hay"}}} }),
			exam(vitals.Draft, func(e *vitals.Exam) { e.Story = &vitals.Story{} }, count), false},
	} {
		td.Cmp(t, x.a.earlier(x.b), x.earlier, name)
		td.Cmp(t, x.b.earlier(x.a) && x.earlier, false, name)
	}
	// Two drafts that say the same in another order: one of them, by their bytes.
	x, y := draft(count, temperature), draft(temperature, count)
	td.Cmp(t, x.earlier(y) != y.earlier(x), true)
	td.Cmp(t, x.earlier(y), bytes.Compare(x.text, y.text) < 0)
	horse := version{Conflict: Conflict{Horse: &vitals.Horse{ID: "h"}}, text: []byte("a")}
	td.Cmp(t, horse.earlier(horse), false)
}

// Conflicts stand in the order of what they are about.
func TestConflictsAreInOrder(t *testing.T) {
	at := time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC)
	file := func(by string) File {
		f := File{Kind: Kind, Format: Format, Horses: []vitals.Horse{{ID: "h", Name: "Anis", Type: vitals.TypeHorse, Breed: by}}}
		for _, id := range []vitals.ID{"b", "a", "c"} {
			f.Exams = append(f.Exams, vitals.Exam{ID: id, Horse: "h", At: at, Depth: vitals.Full, Purpose: vitals.Routine, Status: vitals.Finished, State: vitals.State{Condition: vitals.AtRest}, By: by})
		}
		return f
	}
	merged, fresh, err := Merge(file("Rowan"), file("Ida"))
	td.CmpNoError(t, err)
	td.Cmp(t, len(fresh), 4)
	var ids []string
	for _, c := range merged.Conflicts {
		ids = append(ids, c.id())
	}
	td.Cmp(t, ids, []string{"ea", "eb", "ec", "hh"})
	again, fresh, err := Merge(merged, file("Ida"))
	td.CmpNoError(t, err)
	td.Cmp(t, fresh, td.Empty())
	td.Cmp(t, again.Conflicts, merged.Conflicts)
}

type embedded struct {
	Inner string `json:"inner"`
}

// The members of a struct as encoding/json names them: an embedded struct's stand in the object itself
// unless it has a name, and what is not exported or marked "-" stands nowhere.
func TestMembers(t *testing.T) {
	var v struct {
		embedded
		Named  embedded `json:"named"`
		Off    string   `json:"-"`
		hidden string
		Plain  string
	}
	v.Inner, v.Named.Inner, v.Off, v.hidden, v.Plain = "a", "b", "c", "d", "e"
	text, err := Marshal(v)
	td.CmpNoError(t, err)
	td.Cmp(t, json.RawMessage(text), td.JSON(`{"inner": "a", "named": {"inner": "b"}, "Plain": "e"}`))
}
