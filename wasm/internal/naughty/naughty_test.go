package naughty

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/emersion/go-ical"
	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/schema/calendar"
	"whorl.example/schema/fhir"
	"whorl.example/schema/link"
	"whorl.example/schema/pack"
	"whorl.example/schema/sheet"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

var at = time.Date(2026, 5, 3, 7, 30, 0, 0, time.FixedZone("", 7200))

// record has a text in every field that takes one: line in those of one line, note in the others.
func record(line, note string) schema.Record {
	yes := true
	horse := vitals.Horse{
		ID: "h", Name: line, Type: vitals.TypeHorse, Breed: line, Markings: note, Notes: note, Stands: note,
		Contacts: []vitals.Contact{{Name: line, Phone: line, Role: line}},
		NewUsual: []vitals.NewUsual{{Sign: vitals.HeartRate, From: at, Said: at, By: line}},
	}
	exam := vitals.Exam{
		ID: "e", Horse: "h", At: at, Depth: vitals.Full, Purpose: vitals.Concern, Wellness: vitals.Unwell, Status: vitals.Finished, By: line,
		State: vitals.State{Condition: vitals.Medicated, With: note},
		Air:   &vitals.Air{Temperature: &vitals.Reading{Value: decimal.New(21, 0), Unit: vitals.Celsius, Device: vitals.Digital, Label: line}},
		Findings: []vitals.Finding{
			{Sign: vitals.HeartRate, Site: "jaw", Count: &vitals.Count{Events: 56, Seconds: 60, Start: vitals.OnBeat}, Note: note},
			{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.New(3840, -2), Unit: vitals.Celsius, Device: vitals.Digital, Label: line}, Note: note},
			{Sign: vitals.GumColour, Chosen: []vitals.GradeID{"pale-pink"}, Note: note},
			{Sign: vitals.Weight, Absent: vitals.CouldNot, Note: note},
		},
		Story: &vitals.Story{
			Noticed: note, Since: at, Course: vitals.Worse, Bouts: &yes, Passed: note, Intake: note, Changed: note, History: note, Stands: note,
			Given: []vitals.Given{{What: line, Dose: line, By: line, At: at}}, Ask: vitals.AskCome, Callback: line,
		},
	}
	return schema.Record{Horse: horse, Exams: []vitals.Exam{exam}, Exam: exam}
}

// fits says whether a text may stand in a field, by the rules as the documents tell them.
func fits(s string, most int, allowed string) bool {
	control := func(r rune) bool { return unicode.Is(unicode.Cc, r) && !strings.ContainsRune(allowed, r) }
	return utf8.ValidString(s) && utf8.RuneCountInString(s) <= most && !strings.ContainsFunc(s, control)
}

// Every text in every field is refused with a fault for each place, or comes back as it was and breaks nothing that
// is made of it: read by readers that are not ours.
func TestNaughtyTexts(t *testing.T) {
	t.Parallel()
	kept, refused := 0, 0
	for _, s := range Strings() {
		line, note := s, s
		if strings.TrimSpace(s) == "" || !fits(s, vitals.MaxName, "") {
			line = "Bramble"
		}
		if !fits(s, vitals.MaxNote, "\n\t") {
			note = "quiet"
		}
		if line != s || note != s {
			refused++
			_, err := schema.EncodeRecord(record(s, s))
			faults, _ := errors.AsType[vitals.Faults](err)
			if s != "" && len(faults) == 0 && strings.TrimSpace(s) != "" {
				t.Errorf("%.40q is taken", s)
			}
			for _, f := range faults {
				if f.Path == "" && f.Code != schema.TooLarge || f.Sentence == "" || strings.Contains(f.Sentence, "fault.") {
					t.Errorf("%.40q: %+v", s, f)
				}
			}
		}
		kept++
		r := record(line, note)
		text, err := schema.EncodeRecord(r)
		if err != nil {
			t.Errorf("%.40q: %v", s, err)
			continue
		}
		back, err := schema.DecodeRecord(text)
		td.CmpNoError(t, err)
		again, err := schema.EncodeRecord(back)
		td.CmpNoError(t, err)
		td.Cmp(t, string(again), string(text))
		var other struct {
			Horse struct{ Name, Notes string }
			Exam  struct {
				By    string
				Story struct{ Noticed string }
			}
		}
		td.CmpNoError(t, json.Unmarshal(text, &other))
		td.Cmp(t, []string{other.Horse.Name, other.Horse.Notes, other.Exam.By, other.Exam.Story.Noticed}, []string{line, note, line, note})
		made(t, back)
	}
	t.Logf("%d texts, %d of them refused in some field", kept, refused)
}

// made holds everything that is made of a record to readers that are not ours.
func made(t *testing.T, r schema.Record) {
	t.Helper()
	line, note := r.Horse.Name, r.Horse.Notes
	c, err := must(baseline.New(r.Horse)).Compare(r.Exam)
	td.Require(t).CmpNoError(err)
	for _, lang := range words.Langs() {
		rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(sheet.Write(r.Horse, r.Exams, lang), []byte("\ufeff")))).ReadAll()
		td.Require(t).CmpNoError(err)
		n := 1 + len(r.Exam.Findings) // behind them stands what was told
		td.Require(t).Cmp(len(rows), td.Between(n, n+8))
		unified := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace
		for i, row := range rows[1:] {
			td.Cmp(t, row[len(row)-2], td.Any(line, guarded(line)))
			if i+1 < n {
				td.Cmp(t, row[len(row)-1], td.Any(unified(note), guarded(unified(note))))
			}
			for _, cell := range row {
				if _, err := strconv.ParseFloat(cell, 64); err != nil && cell != "" && strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) {
					t.Errorf("%q is run", cell)
				}
			}
		}

		in := report.Input{Horse: r.Horse, Exam: r.Exam, Comparison: c}
		told := report.Call(in, lang)
		plain(t, told)
		bundle, err := fhir.Write(in, told)
		if err != nil {
			t.Errorf("%.40q: %v", line, err)
			continue
		}
		var b struct {
			Entry []struct {
				Resource struct {
					Name    []struct{ Text string }
					Section []struct{ Text struct{ Div string } }
				}
			}
		}
		td.Require(t).CmpNoError(json.Unmarshal(bundle, &b))
		td.Cmp(t, b.Entry[1].Resource.Name[0].Text, line)
		elements(t, b.Entry[0].Resource.Section[0].Text.Div, "div", "h1", "h2", "p")
	}

	out := calendar.Write([]calendar.Event{{UID: "u", Start: at, Summary: line, Description: note, RemindMinutes: 30}}, at)
	directions(t, string(out))
	cal, err := ical.NewDecoder(bytes.NewReader(out)).Decode()
	td.Require(t).CmpNoError(err)
	td.Require(t).Cmp(cal.Children, td.Len(1))
	td.Cmp(t, []int{len(cal.Children[0].Props), len(cal.Children[0].Children)}, td.Any([]int{6, 1}, []int{5, 1})) // with a description or none

	sent := link.New(r.Horse, r.Exam, &c)
	fragment, err := sent.Fragment()
	td.Require(t).CmpNoError(err)
	got, err := link.Read(fragment)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, []string{got.Horse.Name, got.Horse.Notes, got.Exam.By, got.Exam.Story.Noticed}, []string{line, note, line, note})
	card, err := link.Draw("https://yard.example/", link.Code([]byte("{}")))
	td.Require(t).CmpNoError(err)
	elements(t, card.SVG(line), "svg", "title", "path")

	p := pack.Pack{Kind: pack.Kind, Format: pack.Format,
		Clinic:     pack.Clinic{Name: line, Numbers: []pack.Number{{Phone: "112", Hours: line}}},
		Questions:  []pack.Question{{Lang: words.English, Text: line}},
		Ask:        []vitals.SignID{vitals.RespiratoryRate},
		Thresholds: []pack.Threshold{{ID: "theirs", Sign: vitals.HeartRate, Urgency: vitals.RingNow, Above: new(decimal.New(52, 0)), Unit: vitals.PerMinute, SetBy: line}},
	}
	text, err := schema.Marshal(p)
	td.Require(t).CmpNoError(err)
	read, err := pack.Decode(text)
	if faults, ok := errors.AsType[vitals.Faults](err); ok && len(faults) == 1 && faults[0].Path == "/questions/0/text" {
		p.Questions = nil // an order in the form of a question, refused for that
		text, err = schema.Marshal(p)
		td.Require(t).CmpNoError(err)
		read, err = pack.Decode(text)
	}
	td.Require(t).CmpNoError(err)
	td.Cmp(t, read.Clinic.Name, line)
	with, _ := pack.Apply(read, r.Horse, c)
	in := report.Input{Horse: r.Horse, Exam: r.Exam, Comparison: with}
	plain(t, read.Into(report.Call(in, words.English), in))
}

// guarded is a text as a spreadsheet that parts lists at semicolons, tabs or line ends takes it for text: an apostrophe before
// what would begin a formula there.
func guarded(s string) string {
	s = begins.ReplaceAllString(s, "$1'$2")
	if s != "" && strings.ContainsRune("\t\n", rune(s[0])) {
		s = "'" + s
	}
	return s
}

var begins = regexp.MustCompile(`((?:^|[;\t\n])[ "]*)([=+@-])`)

// plain holds a report to what paper and a screen can take: each line is one line, and no text turns what stands after
// it around, moves a cursor or is invisible to whoever reads the numbers.
func plain(t *testing.T, told report.Report) {
	t.Helper()
	all := []string{told.Title}
	for _, p := range told.Parts {
		all = append(all, p.Heading)
		for _, l := range p.Lines {
			all = append(all, l.Text)
		}
	}
	for _, s := range all {
		if !utf8.ValidString(s) || strings.ContainsFunc(s, unicode.IsControl) || strings.ContainsAny(s, "\u2028\u2029") {
			t.Errorf("%.200q", s)
		}
		directions(t, s)
	}
	for line := range strings.Lines(told.Text()) {
		if len(line) > 1 && strings.ContainsFunc(line[:len(line)-1], unicode.IsControl) {
			t.Errorf("%q", line)
		}
	}
}

// directions looks for what turns the text after it around: 56 would be read as 65.
func directions(t *testing.T, s string) {
	t.Helper()
	if i := strings.IndexFunc(s, func(r rune) bool { return r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 }); i >= 0 {
		t.Errorf("turned around from byte %d on: %.200q", i, s)
	}
}

// elements reads XML, which has these elements and no others.
func elements(t *testing.T, text string, names ...string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Errorf("%v: %.300q", err, text)
			return
		}
		switch x := token.(type) {
		case xml.StartElement:
			if !slices.Contains(names, x.Name.Local) {
				t.Errorf("an element %q: %.300q", x.Name.Local, text)
			}
		case xml.Comment, xml.Directive, xml.ProcInst:
			t.Errorf("%T: %.300q", token, text)
		}
	}
}

// Every text member of a record that is half a surrogate pair, a NUL, or a megabyte is refused at its place, and so
// is one in the file of a clinic.
func TestWhatNoTextMayBe(t *testing.T) {
	t.Parallel()
	whole, err := schema.EncodeRecord(record("Bramble", "quiet"))
	td.Require(t).CmpNoError(err)
	clinic := []byte(`{"kind":"whorl-pack","format":1,"clinic":{"name":"C","numbers":[{"phone":"112","hours":"2"}],"page":"https://c.example/"},"langs":["en"],"units":["Cel"],` +
		`"ranges":[{"sign":"heart-rate","types":["horse"],"stages":["adult"],"low":"20","high":"40","unit":"/min","setBy":"we"}],` +
		`"thresholds":[{"id":"t","sign":"heart-rate","urgency":"now","above":"52","unit":"/min","setBy":"we"}],"questions":[{"lang":"en","text":"?"}],"ask":["weight"]}`)
	_, err = pack.Decode(clinic)
	td.Require(t).CmpNoError(err)
	places := 0
	for _, doc := range []struct {
		text   []byte
		decode func([]byte) error
	}{
		{whole, func(b []byte) error { _, err := schema.DecodeRecord(b); return err }},
		{clinic, func(b []byte) error { _, err := pack.Decode(b); return err }},
	} {
		for _, bad := range []string{`\ud800`, `\udc00x`, `a\ud83d`, `\u0000`, `a\u0000`, "\xed\xa0\x80", strings.Repeat("x", 1<<20)} {
			var tree any
			td.Require(t).CmpNoError(json.Unmarshal(doc.text, &tree))
			walk(tree, "", func(path string, set func(any)) {
				places++
				set("MARK")
				text, err := json.Marshal(tree)
				td.Require(t).CmpNoError(err)
				err = doc.decode(bytes.Replace(text, []byte("MARK"), []byte(bad), 1))
				faults, _ := errors.AsType[vitals.Faults](err)
				if !slices.ContainsFunc(faults, func(f vitals.Fault) bool {
					return f.Path == path && (f.Code == schema.BadText || f.Code == schema.TooLong)
				}) {
					t.Errorf("%.20q at %s: %.300v", bad, path, err)
				}
			})
		}
	}
	t.Logf("%d places", places)
}

// walk visits every text of a tree; set puts something in its place, until the next visit.
func walk(v any, path string, visit func(path string, set func(any))) {
	below := func(x any, path string, set func(any)) {
		if s, ok := x.(string); ok {
			visit(path, set)
			set(s)
			return
		}
		walk(x, path, visit)
	}
	switch v := v.(type) {
	case map[string]any:
		for name, x := range v {
			below(x, path+"/"+name, func(to any) { v[name] = to })
		}
	case []any:
		for i, x := range v {
			below(x, path+"/"+strconv.Itoa(i), func(to any) { v[i] = to })
		}
	}
}
