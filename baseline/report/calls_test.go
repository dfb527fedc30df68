package report

import (
	"bufio"
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// called is one of the twelve calls: an exam as somebody on a yard would send it, the exams before it, and the three signs
// that a veterinarian must hear first.
type called struct {
	Name    string
	Horse   vitals.Horse
	Exam    vitals.Exam
	Quiet   int
	Earlier []vitals.Exam
	Worst   []vitals.SignID
	// ES has the handler's own words in Spanish, since nobody translates those.
	ES map[string]string
}

func calls(t *testing.T) (out []called) {
	t.Helper()
	file, err := os.Open("testdata/calls.jsonl")
	td.Require(t).CmpNoError(err)
	defer file.Close()
	for lines := bufio.NewScanner(file); lines.Scan(); {
		var c called
		td.Require(t).CmpNoError(json.Unmarshal(lines.Bytes(), &c))
		out = append(out, c)
	}
	td.Require(t).Cmp(len(out), 12)
	return out
}

// input compares the exam with the quiet days before it and puts the handler's words into the language.
func (c called) input(t *testing.T, lang words.Lang) Input {
	t.Helper()
	b, err := baseline.New(c.Horse)
	td.Require(t).CmpNoError(err)
	for i := range c.Quiet {
		b.Learn(quietDay(c.Exam, i, c.Quiet))
	}
	compared, err := b.Compare(c.Exam)
	td.Require(t).CmpNoError(err)
	in := Input{Horse: c.Horse, Exam: c.Exam, Comparison: compared, Earlier: c.Earlier}
	if len(c.Earlier) > 0 {
		in.Watched = watch.From(b, c.Earlier[0].ID, append(c.Earlier, c.Exam))
	}
	if lang == words.Spanish {
		c.inSpanish(&in)
	}
	return in
}

// quietDay is the i-th of n exams a week apart, each as it should be.
func quietDay(of vitals.Exam, i, n int) vitals.Exam {
	e := vitals.Exam{ID: vitals.ID("q" + strconv.Itoa(i)), Horse: of.Horse, At: of.At.AddDate(0, 0, 7*(i-n)), Depth: vitals.Full, Purpose: vitals.Learning,
		State: vitals.State{Condition: vitals.AtRest}, Wellness: vitals.Well, Status: vitals.Finished}
	count := func(s vitals.SignID, site vitals.SiteID, n int) {
		e.Findings = append(e.Findings, vitals.Finding{Sign: s, Site: site, Count: &vitals.Count{Events: n, Seconds: 60, Start: vitals.OnBeat}})
	}
	count(vitals.HeartRate, "chest-left", 34+i%3)
	count(vitals.RespiratoryRate, "afar", 11+i%2)
	e.Findings = append(e.Findings, vitals.Finding{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{140 + 10*(i%3)}}},
		vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.New(int64(376+i%3), -1), Unit: vitals.Celsius, Device: vitals.Digital}})
	for sign, grade := range map[vitals.SignID]vitals.GradeID{vitals.Attitude: "bright", vitals.GumColour: "pink", vitals.GumMoisture: "wet", vitals.PainSigns: "none",
		vitals.LimbLoad: "even", vitals.Wounds: "none", vitals.Feed: "usual", vitals.Droppings: "usual", vitals.Gait: "free", vitals.HeadCarriage: "usual"} {
		e.Findings = append(e.Findings, vitals.Finding{Sign: sign, Chosen: []vitals.GradeID{grade}})
	}
	for _, site := range []vitals.SiteID{"gut-upper-left", "gut-lower-left", "gut-upper-right", "gut-lower-right"} {
		e.Findings = append(e.Findings, vitals.Finding{Sign: vitals.GutSounds, Site: site, Chosen: []vitals.GradeID{"usual"}})
	}
	return e
}

// put sets a text in the handler's own words to their Spanish.
func (c called) put(to *string, key string) {
	if said, ok := c.ES[key]; ok && *to != "" {
		*to = said
	}
}

func (c called) inSpanish(in *Input) {
	c.put(&in.Horse.Name, "name")
	c.put(&in.Horse.Breed, "breed")
	c.put(&in.Horse.Stands, "hstands")
	in.Earlier = append([]vitals.Exam(nil), in.Earlier...)
	for i := range in.Earlier {
		in.Earlier[i].Story = c.translated(in.Earlier[i].Story)
	}
	in.Exam.Story = c.translated(in.Exam.Story)
}

func (c called) translated(story *vitals.Story) *vitals.Story {
	if story == nil {
		return nil
	}
	s := *story
	c.put(&s.Noticed, "noticed")
	c.put(&s.Stands, "stands")
	c.put(&s.Passed, "passed")
	c.put(&s.Intake, "intake")
	c.put(&s.Changed, "changed")
	c.put(&s.History, "history")
	for i := range s.Given {
		g := s.Given[i]
		c.put(&g.What, "what")
		c.put(&g.Dose, "dose")
		c.put(&g.By, "givenBy")
		s.Given = append(append([]vitals.Given(nil), s.Given[:i]...), append([]vitals.Given{g}, s.Given[i+1:]...)...)
	}
	return &s
}

// The twelve calls as they are told, to be read aloud by whoever changes them.
func TestTwelveCalls(t *testing.T) {
	t.Parallel()
	for _, c := range calls(t) {
		for _, lang := range words.Langs() {
			r := Call(c.input(t, lang), lang)
			golden(t, filepath.Join("testdata", string(lang), "calls", c.Name+".txt"), "["+strings.ReplaceAll(r.Message, "\n", "\n ")+"]\n\n"+r.Text())
		}
	}
}

// Of each call the first 20 seconds hold where it is, the number, the three worst signs with what was found, and what was
// given, how much and when; nothing of what makes it urgent stands elsewhere alone, in either language.
func TestTwentySecondsHoldWhatDecides(t *testing.T) {
	t.Parallel()
	for _, c := range calls(t) {
		for _, lang := range words.Langs() {
			in := c.input(t, lang)
			r := Call(in, lang)
			tell := &caller{telling: about(in.Horse, lang), in: in}
			tell.index()
			heard := spokenFirst(r, firstWords(lang))
			for i, id := range c.Worst {
				found := tell.foundBy(id)
				td.Require(t).Cmp(found, td.NotEmpty(), "%s: %s", c.Name, id)
				td.Cmp(t, heard, td.Contains(tell.foundIn(found[0])), "%s %s: %d. %s", lang, c.Name, i+1, id)
			}
			e := in.Exam.Carrying(in.Earlier)
			for _, g := range e.Story.Given {
				td.Cmp(t, heard, td.All(td.Contains(g.What), td.Contains(g.Dose)), "%s %s", lang, c.Name)
				if !g.At.IsZero() {
					td.Cmp(t, heard, td.Contains(strings.TrimPrefix(g.At.Format(words.Say(lang, "clock")), "0")), "%s %s", lang, c.Name)
				}
			}
			td.Cmp(t, heard, td.All(td.Contains(cmp.Or(e.Story.Stands, in.Horse.Stands)), td.Contains(e.Story.Callback), td.Contains(in.Horse.Name)), "%s %s", lang, c.Name)
			for _, p := range r.Parts {
				if p.ID.Aloud() {
					for _, l := range p.Lines {
						td.Cmp(t, l.Text, td.All(td.Not(td.Contains("(see ")), td.Not(td.Contains("(vea ")), td.Not(td.Contains(words.Say(lang, "report.below"))), td.Not(td.Contains("…"))), "%s %s", lang, c.Name)
					}
				}
			}
			told := strings.Join(texts(part(r, PartDanger).Lines), " ")
			for _, f := range in.Comparison.Alarms {
				if f.Urgency == vitals.RingNow {
					for _, x := range tell.foundBy(f.Sign) {
						if said := tell.foundIn(x); x.Measure != nil || offUsual(x) && f.Sign != vitals.DoingUsual && f.Sign != vitals.Doing && f.Sign != vitals.Wounds {
							td.Cmp(t, told, td.Contains(said), "%s %s: %s", lang, c.Name, f.Alarm)
						}
					}
				}
			}
		}
	}
}

// spokenFirst gives what is heard of a report in so many words.
func spokenFirst(r Report, limit int) string {
	var all []string
	for _, p := range r.Parts[:3] {
		for _, l := range p.Lines {
			if !l.Blank {
				all = append(all, l.Text)
			}
		}
	}
	short, _ := clip(strings.Join(all, " "), limit)
	return short
}

// foundIn is what must be heard of a finding: its answers, or its figure.
func (c *caller) foundIn(s baseline.Compared) string {
	s = told(s, c.finding(s))
	if s.Measure != nil {
		return write(s.Measure.Value, s.Own, s.Measure.Unit).value
	}
	if s.Sign == vitals.DarkRim {
		return c.say("brief.dark-rim")
	}
	return c.answers(s.Sign, s.Chosen, s.Where)
}

// The message of each call holds what is never cut, and is as short as that allows.
func TestMessage(t *testing.T) {
	t.Parallel()
	short := 0
	for _, c := range calls(t) {
		for _, lang := range words.Langs() {
			in := c.input(t, lang)
			r := Call(in, lang)
			e := in.Exam.Carrying(in.Earlier)
			td.Cmp(t, r.Message, td.All(td.Contains(cmp.Or(e.Story.Stands, in.Horse.Stands)), td.Contains(e.Story.Callback), td.Contains(in.Horse.Name)), "%s %s", lang, c.Name)
			for _, g := range e.Story.Given {
				td.Cmp(t, r.Message, td.All(td.Contains(g.What), td.Contains(g.Dose)), "%s %s", lang, c.Name)
			}
			n := utf8.RuneCountInString(r.Message)
			if n <= MessageLetters {
				short++
				continue
			}
			// Longer only where nothing that may give way is left in it.
			since := about(in.Horse, lang).time("report.since.", e.Story.Since, e.At)
			td.Cmp(t, r.Message, td.All(td.Not(td.Contains(since)), td.Not(td.Contains(strings.Split(words.Say(lang, "report.checked"), "{")[0]))), "%s %s: %d", lang, c.Name, n)
		}
	}
	td.Cmp(t, short >= 12, true, "%d of 24 messages fit", short)
}

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		td.Require(t).CmpNoError(os.MkdirAll(filepath.Dir(path), 0o755))
		td.Require(t).CmpNoError(os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	if err != nil || string(want) != got {
		t.Errorf("%s is not what is told today: %s\nIf that is meant: go test ./baseline/report -update", path, firstDifference(string(want), got))
	}
}

// firstDifference names the first line that two texts do not share.
func firstDifference(want, got string) string {
	was, is := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range max(len(was), len(is)) {
		a, b := "", ""
		if i < len(was) {
			a = was[i]
		}
		if i < len(is) {
			b = is[i]
		}
		if a != b {
			return fmt.Sprintf("line %d was %q, is %q", i+1, a, b)
		}
	}
	return "as many lines, all the same"
}
