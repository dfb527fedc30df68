package vitals

import (
	"bufio"
	"bytes"
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
)

// A presentation is one animal as somebody finds it, and what a careful veterinarian would
// want done at least. All are of our own making; no real animal is among them. One stands on
// each line of testdata/presentations.jsonl (sick or injured) and testdata/well.jsonl.
type presentation struct {
	ID      string `json:"id"`
	Chapter string `json:"chapter"`
	// Source is the published work of the level, or "from memory".
	Source string            `json:"source"`
	Note   string            `json:"note"`
	Horse  presentationHorse `json:"horse"`
	Exam   presentationExam  `json:"exam"`

	// Expect is the least level that will do. Where "again" will do, Then is the least that
	// follows it and Minutes, where given, the longest wait.
	Expect  Urgency `json:"expect"`
	Then    Urgency `json:"then"`
	Minutes int     `json:"minutes"`
	// First is the act that comes before the call.
	First ActID `json:"first"`
	// Most, of a well animal, is the highest level that will do.
	Most Urgency `json:"most"`
}

// Ages are counted back from [testMoment]; without one the age is unknown.
type presentationHorse struct {
	Type           Type     `json:"type"`
	Sex            Sex      `json:"sex"`
	AgeHours       *float64 `json:"ageHours"`
	AgeDays        *int     `json:"ageDays"`
	AgeMonths      *int     `json:"ageMonths"`
	AgeYears       *int     `json:"ageYears"`
	InFoal         bool     `json:"inFoal"`
	FoaledHoursAgo *float64 `json:"foaledHoursAgo"`
}

type presentationExam struct {
	At        *time.Time `json:"at"` // testMoment where not given
	Purpose   Purpose    `json:"purpose"`
	Depth     Depth      `json:"depth"`
	RecheckOf ID         `json:"recheckOf"`
	State     State      `json:"state"`
	Air       *struct {
		Temperature decimal.Decimal `json:"temperature"`
		Humidity    decimal.Decimal `json:"humidity"`
	} `json:"air"`
	Story *struct {
		Noticed string `json:"noticed"`
		Course  Course `json:"course"`
		Bouts   *bool  `json:"bouts"`
		Ask     Ask    `json:"ask"`
		Given   []struct {
			What     string   `json:"what"`
			HoursAgo *float64 `json:"hoursAgo"`
		} `json:"given"`
	} `json:"story"`
	// Others "usual": every other answer that this depth asks of this animal is the usual one.
	// Measured signs are never filled in.
	Others   string                `json:"others"`
	Findings []presentationFinding `json:"findings"`
}

type presentationFinding struct {
	Sign    SignID           `json:"sign"`
	Site    SiteID           `json:"site"`
	Minutes int              `json:"minutes"`
	Chosen  []GradeID        `json:"chosen"`
	Where   []SiteID         `json:"where"`
	Reading *decimal.Decimal `json:"reading"` // in Unit, else in the sign's own
	Unit    Unit             `json:"unit"`
	Timed   *decimal.Decimal `json:"timed"` // seconds
	Count   *struct {
		Events  int `json:"events"`
		Seconds int `json:"seconds"`
	} `json:"count"`
	Absent Absence `json:"absent"`
}

const fromMemorySource = "from memory"

func readPresentations(t *testing.T, name string) []presentation {
	t.Helper()
	text, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	var list []presentation
	lines := bufio.NewScanner(bytes.NewReader(text))
	for n := 1; lines.Scan(); n++ {
		var p presentation
		d := json.NewDecoder(bytes.NewReader(lines.Bytes()))
		d.DisallowUnknownFields()
		if err := d.Decode(&p); err != nil {
			t.Fatalf("%s:%d: %v", name, n, err)
		}
		list = append(list, p)
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return list
}

func hoursBefore(x float64) time.Time {
	return testMoment.Add(-time.Duration(math.Round(x * float64(time.Hour))))
}

func (p presentation) horse() Horse {
	h := Horse{ID: "h", Name: "Anis", Type: p.Horse.Type, Sex: p.Horse.Sex, InFoal: p.Horse.InFoal}
	switch a := p.Horse; {
	case a.AgeHours != nil:
		h.BornAt = hoursBefore(*a.AgeHours)
		h.Born = DateOf(h.BornAt)
	case a.AgeDays != nil:
		h.Born = DateOf(testMoment.AddDate(0, 0, -*a.AgeDays))
	case a.AgeMonths != nil:
		h.Born = DateOf(testMoment.AddDate(0, -*a.AgeMonths, 0))
	case a.AgeYears != nil:
		h.Born = DateOf(testMoment.AddDate(-*a.AgeYears, 0, 0))
	}
	if p.Horse.FoaledHoursAgo != nil {
		h.FoaledAt = hoursBefore(*p.Horse.FoaledHoursAgo)
	}
	return h
}

func (p presentation) exam() Exam {
	x := p.Exam
	e := Exam{ID: "e", Horse: "h", At: testMoment, Depth: x.Depth, Purpose: x.Purpose, State: x.State,
		Status: Finished, RecheckOf: x.RecheckOf}
	if x.At != nil {
		e.At = *x.At
	}
	if x.Air != nil {
		e.Air = &Air{Temperature: &Reading{Value: x.Air.Temperature, Unit: Celsius},
			Humidity: &Reading{Value: x.Air.Humidity, Unit: Percent}}
	}
	if x.Story != nil {
		e.Story = &Story{Noticed: x.Story.Noticed, Course: x.Story.Course, Bouts: x.Story.Bouts, Ask: x.Story.Ask}
		for _, g := range x.Story.Given {
			given := Given{What: g.What}
			if g.HoursAgo != nil {
				given.At = hoursBefore(*g.HoursAgo)
			}
			e.Story.Given = append(e.Story.Given, given)
		}
	}
	for _, f := range x.Findings {
		e.Findings = append(e.Findings, f.finding())
	}
	if x.Others == "usual" {
		e.Findings = append(e.Findings, usualAnswers(p.horse(), e)...)
	}
	return e
}

func (f presentationFinding) finding() Finding {
	out := Finding{Sign: f.Sign, Site: f.Site, Minutes: f.Minutes, Chosen: f.Chosen, Where: f.Where, Absent: f.Absent}
	switch {
	case f.Reading != nil:
		unit := f.Unit
		if s, _ := Lookup(f.Sign); unit == "" {
			unit = s.Unit
		}
		out.Reading = &Reading{Value: *f.Reading, Unit: unit}
	case f.Timed != nil:
		out.Timed = &Timed{CentiSeconds: []int{int(f.Timed.Shift(2).IntPart())}}
	case f.Count != nil:
		out.Count = &Count{Events: f.Count.Events, Seconds: f.Count.Seconds, Start: OnBeat}
	}
	return out
}

// usualAnswers are the usual answers of every graded sign that the exam asks and has not yet.
func usualAnswers(h Horse, e Exam) []Finding {
	var out []Finding
	for _, step := range StepsFor(h, e) {
		sign, _ := Lookup(step.Sign)
		if sign.Kind.Measured() || slices.ContainsFunc(e.Findings, func(f Finding) bool { return f.Sign == step.Sign }) {
			continue
		}
		usual := sign.Grades[slices.IndexFunc(sign.Grades, func(g Grade) bool { return g.Rank == 0 })].ID
		if !sign.PerSite {
			out = append(out, choose(step.Sign, "", usual))
			continue
		}
		for _, site := range step.Sites {
			out = append(out, choose(step.Sign, site, usual))
		}
	}
	return out
}

// Each chapter of a handbook, with the fewest presentations that can stand for it.
var presentationChapters = map[string]int{
	"belly": 30, "feet": 8, "choke": 6, "eye": 6, "wounds": 8, "bleeding": 4, "nosebleed": 6, "chest": 10, "heat": 14,
	"muscle": 6, "urine": 4, "nervous": 12, "fever": 18, "loose": 6, "gums": 8, "shock": 5, "heart": 10, "swelling": 5,
	"foaling": 10, "newborn": 10, "foal": 16, "off-feed": 8, "water": 3, "excited": 6, "aged": 4, "wrong-birth-date": 4,
	"unknown-age": 4,
}

var wellChapters = map[string]int{
	"at rest": 20, "feed and sand": 4, "heat": 3, "work": 8, "excited": 4, "foals": 12, "donkeys, mules, ponies": 6,
	"mares": 5, "aged": 2,
}

// presentationSources are the works that presentations were read in and that no rule or figure rests on.
func presentationSources(t *testing.T) map[string]bool {
	t.Helper()
	text, err := os.ReadFile("testdata/sources.tsv")
	if err != nil {
		t.Fatal(err)
	}
	ids := map[string]bool{}
	for _, line := range strings.Split(strings.TrimRight(string(text), "\n"), "\n")[1:] {
		cells := strings.Split(line, "\t")
		_, shipped := LookupSource(SourceID(cells[0]))
		if len(cells) != 3 || cells[1] == "" || ids[cells[0]] || shipped {
			t.Errorf("sources.tsv: %q: want an id that stands nowhere else, the work, and the place in it", line)
		}
		ids[cells[0]] = true
	}
	return ids
}

// The tables are in order: every animal and exam passes the checks (or fails by its date, where it
// is there for that), every level has its published source or says that it is from memory, and no
// chapter is thin.
func TestPresentationsAreInOrder(t *testing.T) {
	t.Parallel()
	levels, read := []Urgency{"again", "soon", "now"}, presentationSources(t)
	for _, table := range []struct {
		file     string
		least    int
		chapters map[string]int
	}{{"presentations.jsonl", 170, presentationChapters}, {"well.jsonl", 70, wellChapters}} {
		list := readPresentations(t, table.file)
		if len(list) < table.least {
			t.Errorf("%s: %d presentations, want %d", table.file, len(list), table.least)
		}
		ids, count, sourced, same := map[string]bool{}, map[string]int{}, map[string]int{}, map[string]string{}
		for _, p := range list {
			where := table.file + " " + p.ID
			if p.ID == "" || ids[p.ID] {
				t.Errorf("%s: no id, or one that is there twice", where)
			}
			ids[p.ID] = true
			count[p.Chapter]++
			if _, known := LookupSource(SourceID(p.Source)); known || read[p.Source] {
				sourced[p.Chapter]++
			} else if p.Source != fromMemorySource {
				t.Errorf("%s: source %q is in no list", where, p.Source)
			}
			well := table.file == "well.jsonl"
			switch {
			case well && (p.Expect != "" || p.Most != "none" && p.Most != "again"):
				t.Errorf("%s: most %q, expect %q", where, p.Most, p.Expect)
			case !well && (p.Most != "" || !slices.Contains(levels, p.Expect)):
				t.Errorf("%s: expect %q, most %q", where, p.Expect, p.Most)
			case !well && (p.Expect == "again") != (p.Then == "soon" || p.Then == "now"):
				t.Errorf("%s: expect %q, then %q", where, p.Expect, p.Then)
			}
			if p.Exam.Others != "" && p.Exam.Others != "usual" || len(p.Exam.Findings) == 0 {
				t.Errorf("%s: others %q, %d findings", where, p.Exam.Others, len(p.Exam.Findings))
			}
			h, e := p.horse(), p.exam()
			if faults := CheckHorse(h); len(faults) > 0 {
				t.Errorf("%s: the horse: %v", where, faults)
			}
			if faults := CheckExam(e, h); len(faults) > 0 {
				t.Errorf("%s: the exam: %v", where, faults)
			}
			p.ID, p.Source, p.Note = "", "", ""
			content, err := json.Marshal(p)
			if err != nil {
				t.Fatal(err)
			}
			if twin := same[string(content)]; twin != "" {
				t.Errorf("%s: the same as %s", where, twin)
			}
			same[string(content)] = where
			for _, f := range p.Exam.Findings {
				// An answer that this animal is never asked would test nothing.
				if s, _ := Lookup(f.Sign); !s.For(h, e) || !s.Depth.Within(e.Depth) {
					t.Errorf("%s: %s is not asked of this animal in this exam", where, f.Sign)
				}
			}
		}
		for chapter, least := range table.chapters {
			if count[chapter] < least || sourced[chapter] == 0 {
				t.Errorf("%s: chapter %q: %d presentations (want %d), %d with a published source", table.file, chapter, count[chapter], least, sourced[chapter])
			}
		}
		for chapter := range count {
			if table.chapters[chapter] == 0 {
				t.Errorf("%s: chapter %q is in no list", table.file, chapter)
			}
		}
	}
}
