package link

import (
	"crypto/sha256"
	"encoding/hex"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/baseline/watch"
	"whorl.example/schema"
	"whorl.example/schema/internal/draw"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

func reading(value string, unit vitals.Unit, device vitals.Device) *vitals.Reading {
	return &vitals.Reading{Value: decimal.RequireFromString(value), Unit: unit, Device: device}
}

func chosen(sign vitals.SignID, site vitals.SiteID, g ...vitals.GradeID) vitals.Finding {
	return vitals.Finding{Sign: sign, Site: site, Chosen: g}
}

// night gives an exam of 25 findings; day i of the quiet ones, or the bad night for i < 0.
func night(horse vitals.Horse, i int) vitals.Exam {
	e := vitals.Exam{
		ID: vitals.ID("6f9619ff-8b86-4011-b42d-00c04fc9" + string("0123456789abcdef"[i&15]) + "4ff"), Horse: horse.ID,
		At:    time.Date(2026, 11, 1-7*i, 7, 30, 0, 0, time.FixedZone("", 3600)),
		Depth: vitals.Full, Purpose: vitals.Learning, State: vitals.State{Condition: vitals.AtRest},
		Wellness: vitals.Well, Status: vitals.Finished, By: "Rowan", Holder: vitals.Held,
	}
	heart, gums, gut := 34+i%3, vitals.GradeID("pink"), vitals.GradeID("usual")
	if i < 0 {
		e.At = time.Date(2026, 11, 14, 2, 5, 0, 0, time.FixedZone("", 3600))
		e.Purpose, e.Wellness = vitals.Concern, vitals.Unwell
		heart, gums, gut = 56, "pale-pink", "less"
		e.Story = &vitals.Story{
			Noticed: "left half the evening hay, pawing", Since: e.At.Add(-3 * time.Hour), Course: vitals.Worse,
			Passed: "two small, dry droppings since noon", Ask: vitals.AskCome, Callback: "+44 20 7946 0812", Stands: "end box, gate code 4411",
		}
	}
	taps := vitals.Taps{AtMS: []int{0}}
	for n := range heart / 2 {
		taps.AtMS = append(taps.AtMS, (n+1)*60_000/heart+(n*37+i*11)%60)
	}
	e.Findings = []vitals.Finding{
		chosen("attitude", "", "bright"), chosen("head-carriage", "", "usual"), chosen("coat", "", "smooth"),
		chosen("wounds", "", "none"), chosen("limb-load", "", "even"), chosen("stance", "", "square"),
		chosen("droppings", "", "usual"), chosen("water", "", "usual"), chosen("feed", "", "usual"),
		{Sign: vitals.RespiratoryRate, Site: "afar", Count: &vitals.Count{Events: 6 + i%2, Seconds: 30, Start: vitals.Anywhere}},
		chosen(vitals.GumColour, "", gums), chosen(vitals.GumMoisture, "", "wet"),
		{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{151 + i%4, 163, 140}}},
		{Sign: vitals.SkinTent, Site: "shoulder", Timed: &vitals.Timed{CentiSeconds: []int{112 + i%5}}},
		{Sign: vitals.HeartRate, Site: "jaw", Taps: &taps},
		chosen(vitals.DigitalPulse, "fore-left", "faint"), chosen(vitals.DigitalPulse, "fore-right", "faint"),
		chosen(vitals.HoofWarmth, "fore-left", "cool"), chosen(vitals.HoofWarmth, "fore-right", "cool"),
		chosen(vitals.GutSounds, "gut-upper-left", gut), chosen(vitals.GutSounds, "gut-lower-left", gut),
		chosen(vitals.GutSounds, "gut-upper-right", gut), chosen(vitals.GutSounds, "gut-lower-right", gut),
		{Sign: vitals.RectalTemperature, Reading: reading([]string{"37.6", "37.8", "37.7"}[(i+3)%3], vitals.Celsius, vitals.Digital)},
		chosen(vitals.PainSigns, "", "none"),
	}
	if i < 0 {
		e.Findings[0].Chosen, e.Findings[8].Chosen = []vitals.GradeID{"quiet"}, []vitals.GradeID{"less"}
		e.Findings[24].Chosen = []vitals.GradeID{"paws", "watches-flank"}
	}
	return e
}

var bramble = vitals.Horse{ID: "0d4f3a52-97b1-4c61-9f0e-5b1c2a7de911", Name: "Bramble", Type: vitals.TypeHorse, Sex: vitals.Gelding,
	Born: vitals.Date{Year: 2014, Month: 5, Day: 1}, Stands: "Harrow Lane, second yard"}

// compared gives the bad night after so many quiet exams.
func compared(t testing.TB, exams int) (vitals.Exam, baseline.Comparison) {
	b := must(baseline.New(bramble))
	for i := range exams {
		must(b.Learn(night(bramble, i)))
	}
	exam := night(bramble, -1)
	td.Require(t).Nil(vitals.CheckExam(exam, bramble))
	c, err := b.Compare(exam)
	td.Require(t).CmpNoError(err)
	return exam, c
}

// A bad night of 25 findings with what it rests on fits a link of 900 characters.
func TestABadNightIsShort(t *testing.T) {
	t.Parallel()
	for _, exams := range []int{0, 3, 12} {
		exam, c := compared(t, exams)
		td.Cmp(t, len(exam.Findings), 25)
		text, err := New(bramble, exam, &c).Fragment()
		td.Require(t).CmpNoError(err)
		alone, _ := New(bramble, exam, nil).Fragment()
		t.Logf("after %d exams: %d characters; the exam alone %d", exams, len(text), len(alone))
		td.Cmp(t, len(text) <= 900, true)
	}
}

// asSent gives the sender's comparison with what the receiver says of it first.
func asSent(c, back baseline.Comparison) baseline.Comparison {
	if len(back.Warnings) > 0 && back.Warnings[0].Key == baseline.WarnSent {
		c.Warnings = append([]baseline.Warning{back.Warnings[0]}, c.Warnings...)
	}
	return c
}

// What is opened tells the same report, word for word, as the sender's own comparison.
func TestTheReceiverReadsTheSameReport(t *testing.T) {
	t.Parallel()
	for _, exams := range []int{0, 1, 3, 12} {
		exam, c := compared(t, exams)
		text, err := New(bramble, exam, &c).Fragment()
		td.Require(t).CmpNoError(err)
		got, err := Read("#" + text)
		td.Require(t).CmpNoError(err)
		back, err := got.Comparison()
		td.Require(t).CmpNoError(err)
		td.Cmp(t, back.Signs, td.Len(len(c.Signs)))
		for i, s := range back.Signs {
			want := c.Signs[i]
			// Cut to the steps that travel; everything else is as it was.
			td.Cmp(t, s.Tail, td.Between(want.Tail*.99-1e-6, want.Tail+1e-6), "%s tail", s.Sign)
			td.Cmp(t, s.P, td.Between(want.P*.99-2e-6, want.P+2e-6), "%s p", s.Sign)
			if want.Own != nil {
				step := 1 / stepOf(s.Sign)
				for _, x := range [][2]float64{{s.Own.Low, want.Own.Low}, {s.Own.Mid, want.Own.Mid}, {s.Own.High, want.Own.High}} {
					td.Cmp(t, x[0], td.Between(x[1]-step, x[1]+step), "%s own", s.Sign)
				}
			}
			if want.Settle != nil {
				td.Cmp(t, s.Settle.Chance, td.Between(want.Settle.Chance-.001, want.Settle.Chance+.001))
				want.Settle = s.Settle
			}
			want.Tail, want.P, want.Own = s.Tail, s.P, s.Own
			if len(want.Usual) == 0 {
				want.Usual = s.Usual
			}
			for j := range s.Warnings {
				if len(s.Warnings[j].Args) == 0 {
					s.Warnings[j].Args = nil
				}
			}
			td.Cmp(t, s, want)
		}
		td.Cmp(t, back.Alarms, c.Alarms)
		td.Cmp(t, back.Unchecked, c.Unchecked)
		c = asSent(c, back)
		td.Cmp(t, back.Warnings, c.Warnings)
		td.Cmp(t, back.Overall.Unusual, c.Overall.Unusual)
		td.Cmp(t, len(back.Lessons), len(c.Lessons))
		in := report.Input{Horse: bramble, Exam: exam, Comparison: c}
		out := report.Input{Horse: got.Horse, Exam: got.Exam, Comparison: back}
		td.Cmp(t, report.Call(out, words.English).Text(), report.Call(in, words.English).Text())
	}
}

// The same of random exams and histories.
func TestTheReceiverReadsTheSameReportOfAnyExam(t *testing.T) {
	t.Parallel()
	differ := 0
	const n = 60
	for seed := range uint64(n) {
		s := draw.Source(rand.New(rand.NewPCG(seed, 1)).IntN)
		h := s.Horse()
		b := must(baseline.New(h))
		for range seed % 6 {
			e := s.Exam(h)
			e.Wellness, e.Status, e.State = vitals.Well, vitals.Finished, vitals.State{Condition: vitals.AtRest}
			must(b.Learn(e))
		}
		exam := s.Exam(h)
		c, err := b.Compare(exam)
		if err != nil { // a girth of a donkey, taps too uneven
			continue
		}
		sent := New(h, exam, &c)
		text, err := sent.Fragment()
		td.Require(t).CmpNoError(err)
		got, err := Read(text)
		td.Require(t).CmpNoError(err)
		td.Cmp(t, got.Rests, sent.Rests)
		back, err := got.Comparison()
		td.Require(t).CmpNoError(err)
		td.Cmp(t, New(got.Horse, got.Exam, &back).Rests, sent.Rests, "sent on, it is the same")
		c = asSent(c, back)
		card := got.Horse
		want := report.Call(report.Input{Horse: card, Exam: exam, Comparison: c}, words.English).Text()
		have := report.Call(report.Input{Horse: card, Exam: got.Exam, Comparison: back}, words.English).Text()
		if want != have {
			differ++
			a, b := strings.Split(want, "\n"), strings.Split(have, "\n")
			for i := range a {
				if i < len(b) && a[i] != b[i] {
					t.Logf("seed %d: %q became %q", seed, a[i], b[i])
					break
				}
			}
		}
	}
	// A temperature told in degrees Fahrenheit is rounded in another unit than it is cut in.
	td.Cmp(t, differ <= n/20, true, "%d of %d", differ, n)
}

// Any exam in order travels exactly, one in eight in both spellings.
func TestAnyExamTravelsExactly(t *testing.T) {
	t.Parallel()
	n := 200
	if os.Getenv("WHORL_LONG") != "" {
		n = 100_000
	}
	longest := 0
	for seed := range uint64(n) {
		s := draw.Source(rand.New(rand.NewPCG(seed, 1)).IntN)
		h := s.Horse()
		sent := New(h, s.Exam(h), nil)
		record, err := schema.Marshal(sent)
		td.Require(t).CmpNoError(err)
		link, err := sent.Fragment()
		td.Require(t).CmpNoError(err, "seed %d", seed)
		longest = max(longest, len(link))
		texts := []string{link}
		if seed%8 == 0 {
			code, err := sent.Code()
			td.Require(t).CmpNoError(err)
			texts = append(texts, code)
		}
		for _, text := range texts {
			got, err := Read(text)
			td.Require(t).CmpNoError(err, "seed %d", seed)
			again, err := schema.Marshal(got)
			td.Require(t).CmpNoError(err)
			if string(again) != string(record) {
				t.Fatalf("seed %d: %s became %s", seed, record, again)
			}
		}
	}
	t.Logf("%d exams, the longest link %d characters", n, longest)
}

// The dictionary of version 1 is frozen: every link of version 1 is written against it.
func TestDictionary1IsFrozen(t *testing.T) {
	t.Parallel()
	sum := sha256.Sum256([]byte(dictionary1))
	td.Cmp(t, hex.EncodeToString(sum[:]), "88ef398f076251ea38d8ad0f187c06ae33f5a1d3dd654d7c069148e87a393422")
}

// Links written once open for ever.
func TestOldLinksOpen(t *testing.T) {
	t.Parallel()
	const name = "testdata/links-1.txt"
	if os.Getenv("WHORL_UPDATE") != "" {
		// What was written stays; what this version writes of a watched night is added.
		exam, c := compared(t, 12)
		exam.Purpose = vitals.Recheck
		var run []vitals.Exam
		for i := range 4 {
			e := exam
			e.ID, e.At = vitals.ID("look-"+string(rune('1'+i))), exam.At.Add(time.Duration(i-4)*20*time.Minute)
			run = append(run, e)
		}
		sent := New(bramble, exam, &c).With(watch.Last(must(baseline.New(bramble)), append(run, exam)))
		text, _ := sent.Fragment()
		code, _ := sent.Code()
		record, _ := schema.Marshal(sent)
		f, err := os.OpenFile(name, os.O_APPEND|os.O_WRONLY, 0)
		td.Require(t).CmpNoError(err)
		_, err = f.WriteString(text + "\n" + code + "\n" + string(record) + "\n")
		td.Require(t).CmpNoError(err)
		td.Require(t).CmpNoError(f.Close())
	}
	text, err := os.ReadFile(name)
	td.Require(t).CmpNoError(err)
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	td.Require(t).Cmp(len(lines) >= 9 && len(lines)%3 == 0, true)
	for three := range slices.Chunk(lines, 3) {
		for _, fragment := range three[:2] {
			record, err := Open(fragment)
			td.CmpNoError(t, err)
			td.Cmp(t, string(record), three[2])
			sent, err := Read(fragment)
			td.CmpNoError(t, err)
			_, err = sent.Comparison()
			td.CmpNoError(t, err)
		}
	}
}

// A comparison that does not fit its exam is refused, column by column.
func TestForeignRestsAreRefused(t *testing.T) {
	t.Parallel()
	exam, c := compared(t, 3)
	for path, spoil := range map[string]func(r *Rests){
		"/rests/says":       func(r *Rests) { r.Says = "?" + r.Says[1:] },
		"/rests/exams":      func(r *Rests) { r.Exams[3] = -1 },
		"/rests/weak":       func(r *Rests) { r.Weak += "w" },
		"/rests/tail":       func(r *Rests) { r.Tail[0] = 1_000_001 },
		"/rests/own":        func(r *Rests) { r.Own = r.Own[:4] },
		"/rests/seen":       func(r *Rests) { r.Seen = nil },
		"/rests/usualSeen":  func(r *Rests) { r.UsualSeen = append(r.UsualSeen, 1) },
		"/rests/usual":      func(r *Rests) { r.Usual = nil },
		"/rests/settle/0":   func(r *Rests) { r.Settle = [][]string{{"99", "tries", "200"}} },
		"/rests/warnings/0": func(r *Rests) { r.Warnings = [][]string{{"1"}} },
		"/rests/overall":    func(r *Rests) { r.Overall = nil },
		"/rests/taught":     func(r *Rests) { r.Taught = 1 << 40 },
		"/rests/not/0":      func(r *Rests) { r.Not = [][]string{{"unwell", "99999999"}} },
	} {
		s := New(bramble, exam, &c)
		spoil(s.Rests)
		_, err := s.Fragment()
		td.Cmp(t, err, td.Bag(td.Struct(vitals.Fault{Code: FaultNotOfExam, Path: path}, td.StructFields{
			"Args": td.Ignore(), "Sentence": td.Not("fault." + string(FaultNotOfExam))})), path)
	}
}

// What is read is written to a record that is read as the same one, and can be told. Its canonical form is a
// fixed point: white space and the order of members are free in what is read.
func FuzzRead(f *testing.F) {
	exam, c := compared(f, 2)
	record, _ := schema.Marshal(New(bramble, exam, &c))
	f.Add(record)
	f.Fuzz(func(t *testing.T, record []byte) {
		s, err := Read(Fragment(record))
		if err != nil {
			return
		}
		once, err := schema.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		fragment, err := s.Fragment()
		if err != nil {
			if len(once) <= MaxRecord {
				t.Fatal("read and not written", err)
			}
			return
		}
		back, err := Read(fragment)
		if err != nil {
			t.Fatal(err)
		}
		if twice, err := schema.Marshal(back); err != nil || string(twice) != string(once) {
			t.Fatalf("%v\n%s\n%s", err, once, twice)
		}
		c, err := s.Comparison()
		if err != nil {
			return
		}
		for _, lang := range words.Langs() {
			report.Call(report.Input{Horse: s.Horse, Exam: s.Exam, Comparison: c, Watched: s.Watched()}, lang).Text()
		}
	})
}

// The answer "this is the new usual" stays on the device; the figures that rest on it travel, and the
// report says that they do.
func TestANewUsualTravelsAsFigures(t *testing.T) {
	t.Parallel()
	horse := bramble
	exam := night(horse, -1)
	b := must(baseline.New(horse))
	for i := range 6 {
		must(b.Learn(night(horse, i)))
	}
	from := night(horse, 2).At // i counts back
	marked := horse
	marked.NewUsual = []vitals.NewUsual{{Sign: vitals.HeartRate, From: from, Said: exam.At, By: "Rowan"}}
	m := must(baseline.New(marked))
	td.Require(t).CmpNoError(m.Merge(b))
	c, err := m.Compare(exam)
	td.Require(t).CmpNoError(err)
	fragment, err := New(marked, exam, &c).Fragment()
	td.Require(t).CmpNoError(err)
	got, err := Read(fragment)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, got.Horse.NewUsual, td.Empty())
	read, err := got.Comparison()
	td.Require(t).CmpNoError(err)
	text := func(h vitals.Horse, c baseline.Comparison) string {
		return report.Call(report.Input{Horse: h, Exam: exam, Comparison: c}, words.English).Text()
	}
	td.Cmp(t, text(got.Horse, read), text(marked, asSent(c, read)))
	td.Cmp(t, strings.Join(strings.Fields(text(got.Horse, read)), " "), td.Contains("New usual from October 18, 2026, set by “Rowan”: 3 readings since then."))
}

// The rule on the horse's own usual rests on a history that does not travel; it is told by the receiver all the same.
func TestOwnFeverTravels(t *testing.T) {
	t.Parallel()
	h := vitals.Horse{ID: "h", Name: "Anis", Type: vitals.TypeHorse}
	at := time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC)
	exam := func(id vitals.ID, days int, reading string) vitals.Exam {
		return vitals.Exam{ID: id, Horse: "h", At: at.AddDate(0, 0, days), Depth: vitals.Full, Purpose: vitals.Routine, State: vitals.State{Condition: vitals.AtRest},
			Wellness: vitals.Well, Status: vitals.Finished, Findings: []vitals.Finding{{Sign: vitals.RectalTemperature,
				Reading: &vitals.Reading{Value: decimal.RequireFromString(reading), Unit: vitals.Celsius, Device: vitals.Digital}}}}
	}
	b := must(baseline.New(h))
	for i := range 8 {
		must(b.Learn(exam(vitals.ID(rune('a'+i)), i-20, "37.4")))
	}
	now := exam("now", 0, "38.4")
	c, err := b.Compare(now)
	td.Require(t).CmpNoError(err)
	td.Require(t).Cmp(c.Alarms, td.Len(1))
	fragment, err := New(h, now, &c).Fragment()
	td.Require(t).CmpNoError(err)
	sent, err := Read(fragment)
	td.Require(t).CmpNoError(err)
	back, err := sent.Comparison()
	td.Require(t).CmpNoError(err)
	td.Cmp(t, back.Alarms, c.Alarms)
}
