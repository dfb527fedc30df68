package sheet

import (
	"encoding/csv"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"whorl.example/schema/internal/draw"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// read reads the table as RFC 4180 with the reader of the standard library.
func read(t testing.TB, text []byte) [][]string {
	t.Helper()
	body, marked := strings.CutPrefix(string(text), "\ufeff")
	td.Require(t).Cmp(marked, true, "byte order mark")
	td.Cmp(t, strings.Count(body, "\n"), strings.Count(body, "\r\n"), "every line ends with CRLF")
	rows, err := csv.NewReader(strings.NewReader(body)).ReadAll() // refuses rows of unequal length
	td.Require(t).CmpNoError(err)
	return rows
}

func TestOneRowAFinding(t *testing.T) {
	t.Parallel()
	horse := vitals.Horse{ID: "h", Name: "Bramble", Type: vitals.TypeHorse}
	exam := vitals.Exam{
		ID: "e", Horse: "h", At: time.Date(2026, 5, 3, 7, 30, 0, 0, time.FixedZone("", 7200)), Depth: vitals.Full,
		Purpose: vitals.Learning, State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Finished, By: "=Rowan",
		Findings: []vitals.Finding{
			{Sign: vitals.HeartRate, Site: "jaw", Count: &vitals.Count{Events: 9, Seconds: 15, Start: vitals.OnBeat}, Note: "-3 today"},
			{Sign: vitals.RectalTemperature, Minutes: 10, Reading: &vitals.Reading{Value: decimal.New(3840, -2), Unit: vitals.Celsius, Device: vitals.Digital}},
			{Sign: vitals.GumColour, Chosen: []vitals.GradeID{"pale-pink"}},
			{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{150, 163}}},
			{Sign: vitals.Weight, Absent: vitals.CouldNot},
			{Sign: vitals.RespiratoryRate, Site: "flank", Taps: &vitals.Taps{AtMS: []int{0, 10}}, Note: "a, \"b\"\nc"},
		},
	}
	rows := read(t, Write(horse, []vitals.Exam{exam, {Horse: "other", Findings: exam.Findings}}, words.English))
	td.Cmp(t, rows, td.Len(7))
	td.Cmp(t, rows[0][:2], []string{"Horse", "When"})
	col := func(row int, name string) string {
		for i, c := range columns {
			if c == name {
				return rows[row][i]
			}
		}
		return "?"
	}
	td.Cmp(t, rows[1][:2], []string{"Bramble", "2026-05-03T07:30:00+02:00"})
	td.Cmp(t, rows[2][1], "2026-05-03T07:40:00+02:00", "ten minutes later")
	// Nine in 15 s from a beat on: nine intervals and, on average, half of the next.
	td.Cmp(t, []string{col(1, "read"), col(1, "value"), col(1, "by"), col(1, "note")}, []string{"9 / 15 s", "38.0", "'=Rowan", "'-3 today"})
	td.Cmp(t, []string{col(2, "read"), col(2, "value"), col(2, "how")}, []string{"38.40 Cel", "38.40", "digital thermometer"})
	td.Cmp(t, col(3, "answers"), words.Say(words.English, "grade.gum-colour.pale-pink"))
	td.Cmp(t, col(4, "read"), "1.50; 1.63 s")
	td.Cmp(t, col(5, "absent"), words.Say(words.English, "absence.could-not"))
	td.Cmp(t, col(6, "value"), td.NotEmpty(), "why two taps give no rate")
	td.Cmp(t, col(6, "note"), "a, \"b\"\nc")
}

// Any exam gives a table of as many rows as findings and remembered calls, and no cell that a spreadsheet
// would run.
func TestHostileTextStaysText(t *testing.T) {
	t.Parallel()
	for seed := range uint64(300) {
		s := draw.Source(rand.New(rand.NewPCG(seed, 1)).IntN)
		h := s.Horse()
		exams := []vitals.Exam{s.Exam(h), s.Exam(h)}
		rows := read(t, Write(h, exams, words.English))
		want := 1 + len(exams[0].Findings) + len(exams[1].Findings)
		for _, e := range exams {
			if e.Call != nil {
				want++
			}
			want += toldOf(e.Story)
		}
		td.Cmp(t, len(rows), want)
		for _, row := range rows {
			td.Cmp(t, len(row), len(columns))
			for _, c := range row {
				if c != "" && strings.ContainsRune("=+-@\t\n\r", rune(c[0])) {
					t.Fatalf("%q", c)
				}
			}
		}
	}
}

// toldOf counts what was told with an exam.
func toldOf(s *vitals.Story) int {
	if s == nil {
		return 0
	}
	n := len(s.Given)
	for _, x := range []string{s.Noticed, string(s.Course), s.Passed, s.Intake, s.Changed, s.History, string(s.Ask)} {
		if x != "" {
			n++
		}
	}
	return n
}

// unguarded is a text without the apostrophes that keep it from being run.
func unguarded(text string) string { return guard.ReplaceAllString(text, "$1") }

var guard = regexp.MustCompile(`'+([=+@\t\n-]|$)`)

// lines gives a text without its NULs and with every line end as one character. NULs go first: what stands on both
// sides of one may be a line end together.
func lines(text string) string {
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.ReplaceAll(text, "\x00", ""))
}

// What was told stands in the table too, each thing in its row with its time; every text is quoted, and none is a formula where lists part by
// semicolons.
func TestTheStoryIsWritten(t *testing.T) {
	t.Parallel()
	zone := time.FixedZone("", -6*3600)
	at := time.Date(2026, 5, 3, 2, 10, 0, 0, zone)
	exam := vitals.Exam{ID: "e", Horse: "h", At: at, Depth: vitals.WalkUp, Purpose: vitals.Concern, Status: vitals.Finished, By: "Rowan",
		State:    vitals.State{Condition: vitals.AtRest},
		Findings: []vitals.Finding{{Sign: vitals.HeartRate, Count: &vitals.Count{Events: 20, Seconds: 30, Start: vitals.OnBeat}, Note: "a;=1+1"}},
		Story: &vitals.Story{Noticed: "left her hay", Since: at.Add(-5 * time.Hour), Course: vitals.Worse, Passed: "two small droppings", Ask: vitals.AskCome,
			Given: []vitals.Given{{What: "paste from the box", Dose: "half a tube", At: at.Add(-time.Hour), By: "Ana"}}}}
	for _, lang := range words.Langs() {
		text := Write(vitals.Horse{ID: "h", Name: "=Bramble", Type: vitals.TypeHorse}, []vitals.Exam{exam}, lang)
		rows := read(t, text)
		td.Require(t).Cmp(rows, td.Len(7))
		got := map[string][]string{}
		for _, r := range rows[2:] {
			td.Cmp(t, r[0], "'=Bramble")
			got[r[6]] = []string{r[1], r[len(r)-2], r[len(r)-1]}
		}
		say := func(key string) string { return words.Say(lang, key) }
		td.Cmp(t, got, map[string][]string{
			say("report.what"):   {"2026-05-02T21:10:00-06:00", "Rowan", "left her hay"},
			say("report.course"): {"2026-05-03T02:10:00-06:00", "Rowan", say("course.worse")},
			say("report.passed"): {"2026-05-03T02:10:00-06:00", "Rowan", "two small droppings"},
			say("report.ask"):    {"2026-05-03T02:10:00-06:00", "Rowan", say("ask.come")},
			say("report.given"):  {"2026-05-03T01:10:00-06:00", "Ana", "paste from the box, half a tube"},
		})
		td.Cmp(t, rows[1][len(rows[1])-1], "a;'=1+1")
		for _, line := range strings.Split(strings.TrimPrefix(string(text), "\ufeff"), "\r\n") {
			for _, cell := range strings.Split(line, ",") {
				if cell != "" && cell[0] != '"' && cell[len(cell)-1] != '"' && strings.Trim(cell, "0123456789.-") != "" {
					t.Errorf("%q is not quoted", cell)
				}
			}
		}
	}
}

// Any text comes back as it was, but for the guard, line ends and what is no text at all.
func TestAnyCellComesBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.String().Draw(rt, "text")
		var s sheet
		s.row([]string{text, "end"})
		rows, err := csv.NewReader(strings.NewReader(string(s.out))).ReadAll()
		if err != nil || len(rows) != 1 || len(rows[0]) != 2 || rows[0][1] != "end" {
			rt.Fatalf("%q %v %q", text, err, rows)
		}
		want := lines(text)
		if unguarded(rows[0][0]) != unguarded(want) {
			rt.Fatalf("%q became %q", text, rows[0][0])
		}
	})
}

// Whatever stands in the texts of an exam, checked or not, another reader finds the same rows, and in them the
// texts but for the guard, line ends and what is no text at all.
func FuzzWrite(f *testing.F) {
	for _, s := range []string{"", "Rowan", "=1+1", "-3", "-", "-.", "-1.2.3", "+44 20", "@x", "\t=1", "\r=1", "a,b\"c\"\r\n=d", "\x00=1", "\xff", "\ufeff=1", "\u2028", "' x"} {
		f.Add(s, s, s)
	}
	horse := vitals.Horse{ID: "h", Name: "Bramble", Type: vitals.TypeHorse}
	plain := regexp.MustCompile(`^-[0-9]+(\.[0-9]+)?$`)
	f.Fuzz(func(t *testing.T, by, note, id string) {
		exam := vitals.Exam{
			ID: "e", Horse: "h", At: time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC), Purpose: vitals.Purpose(id), By: by,
			State: vitals.State{Condition: vitals.Medicated, With: note}, Wellness: vitals.Wellness(id), Status: vitals.Status(id),
			Findings: []vitals.Finding{
				{Sign: vitals.SignID(id), Site: vitals.SiteID(by), Note: note, Chosen: []vitals.GradeID{vitals.GradeID(id)}},
				{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.New(3840, -2), Unit: vitals.Unit(id), Device: vitals.Device(id), Label: note}},
				{Sign: vitals.GumColour, Absent: vitals.Absence(note), Where: []vitals.SiteID{vitals.SiteID(id)}},
			},
		}
		for _, lang := range words.Langs() {
			rows := read(t, Write(horse, []vitals.Exam{exam}, lang))
			if len(rows) != 4 {
				t.Fatalf("%d rows", len(rows))
			}
			for i, row := range rows[1:] {
				for _, c := range row {
					if c != "" && strings.ContainsRune("=+-@\t\n\r", rune(c[0])) && !plain.MatchString(c) {
						t.Fatalf("%q is run", c)
					}
				}
				want := []string{by, note}
				if i > 0 {
					want[1] = ""
				}
				for j, w := range want {
					w = lines(strings.ToValidUTF8(w, "\ufffd"))
					if got := row[len(row)-2+j]; unguarded(got) != unguarded(w) {
						t.Fatalf("%q became %q", w, got)
					}
				}
			}
		}
	})
}

// Every condition of the set is in its cell, with what belongs to it.
func TestTheStateIsWritten(t *testing.T) {
	t.Parallel()
	exam := vitals.Exam{ID: "e", Horse: "h", At: time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC), Depth: vitals.WalkUp, Purpose: vitals.Recheck, Status: vitals.Finished,
		State:    vitals.State{Condition: vitals.AfterWork, Also: []vitals.Condition{vitals.Excited, vitals.Medicated}, SinceMinutes: 20, Effort: vitals.Hard, With: "paste at noon"},
		Findings: []vitals.Finding{{Sign: vitals.Attitude, Chosen: []vitals.GradeID{"dull"}}}}
	for _, lang := range words.Langs() {
		rows := read(t, Write(vitals.Horse{ID: "h", Type: vitals.TypeHorse}, []vitals.Exam{exam}, lang))
		for _, id := range []string{"condition.after-work", "condition.excited", "condition.medicated", "effort.hard"} {
			td.Cmp(t, rows[1][3], td.Contains(words.Say(lang, id)), lang)
		}
		td.Cmp(t, rows[1][3], td.All(td.Contains("20"), td.Contains("paste at noon")), lang)
	}
}

// What is remembered of a call is a row of its own.
func TestTheCallIsARow(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC)
	horse := vitals.Horse{ID: "h", Type: vitals.TypeHorse}
	exam := vitals.Exam{ID: "e", Horse: "h", At: at, Depth: vitals.WalkUp, Purpose: vitals.Concern, Status: vitals.Finished, By: "Rowan",
		State: vitals.State{Condition: vitals.AtRest}, Call: &vitals.Call{SaidAt: at, ToldAt: at.Add(time.Minute), Told: "the night line", ClosedAt: at.Add(time.Hour), Outcome: "=came"}}
	for _, lang := range words.Langs() {
		rows := read(t, Write(horse, []vitals.Exam{exam}, lang))
		td.Require(t).Cmp(rows, td.Len(2))
		td.Cmp(t, rows[1][6], words.Say(lang, "report.call"))
		td.Cmp(t, rows[1][len(columns)-2], "Rowan")
		td.Cmp(t, rows[1][len(columns)-1], td.All(td.Contains("the night line"), td.Contains("=came")))
	}
}
