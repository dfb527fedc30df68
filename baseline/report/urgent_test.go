package report

import (
	"bufio"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// presentations are those of vitals, as far as a report needs them: each an animal as somebody finds it.
func presentations(t *testing.T) map[string]Input {
	t.Helper()
	file, err := os.Open("../../vitals/testdata/presentations.jsonl")
	td.Require(t).CmpNoError(err)
	defer file.Close()
	at := time.Date(2026, 5, 3, 2, 10, 0, 0, time.UTC)
	out := map[string]Input{}
	for lines := bufio.NewScanner(file); lines.Scan(); {
		var p struct {
			ID    string
			Horse struct {
				Type                     vitals.Type
				Sex                      vitals.Sex
				AgeHours, FoaledHoursAgo float64
				AgeYears, AgeMonths      int
				InFoal                   bool
			}
			Exam struct {
				Purpose   vitals.Purpose
				Depth     vitals.Depth
				State     vitals.State
				RecheckOf vitals.ID
				Air       *struct{ Temperature, Humidity decimal.Decimal }
				Findings  []struct {
					Sign    vitals.SignID
					Site    vitals.SiteID
					Minutes int
					Chosen  []vitals.GradeID
					Where   []vitals.SiteID
					Absent  vitals.Absence
					Reading *decimal.Decimal
					Unit    vitals.Unit
					Timed   *decimal.Decimal
					Count   *struct{ Events, Seconds int }
				}
			}
		}
		td.Require(t).CmpNoError(json.Unmarshal(lines.Bytes(), &p))
		hours := func(x float64) time.Time { return at.Add(-time.Duration(x * float64(time.Hour))) }
		h := vitals.Horse{ID: "h", Name: "Anis", Type: p.Horse.Type, Sex: p.Horse.Sex, InFoal: p.Horse.InFoal}
		switch {
		case p.Horse.AgeHours > 0:
			h.BornAt = hours(p.Horse.AgeHours)
			h.Born = vitals.DateOf(h.BornAt)
		case p.Horse.AgeYears+p.Horse.AgeMonths > 0:
			h.Born = vitals.DateOf(at.AddDate(-p.Horse.AgeYears, -p.Horse.AgeMonths, 0))
		}
		if p.Horse.FoaledHoursAgo > 0 {
			h.FoaledAt = hours(p.Horse.FoaledHoursAgo)
		}
		e := vitals.Exam{ID: "e", Horse: "h", At: at, Depth: p.Exam.Depth, Purpose: p.Exam.Purpose, State: p.Exam.State, Status: vitals.Finished, RecheckOf: p.Exam.RecheckOf}
		if a := p.Exam.Air; a != nil {
			e.Air = &vitals.Air{Temperature: &vitals.Reading{Value: a.Temperature, Unit: vitals.Celsius}, Humidity: &vitals.Reading{Value: a.Humidity, Unit: vitals.Percent}}
		}
		for _, x := range p.Exam.Findings {
			f := vitals.Finding{Sign: x.Sign, Site: x.Site, Minutes: x.Minutes, Chosen: x.Chosen, Where: x.Where, Absent: x.Absent}
			sign, _ := vitals.Lookup(f.Sign)
			switch {
			case x.Reading != nil && x.Unit != "":
				f.Reading = &vitals.Reading{Value: *x.Reading, Unit: x.Unit}
			case x.Reading != nil:
				f.Reading = &vitals.Reading{Value: *x.Reading, Unit: sign.Unit}
			case x.Timed != nil:
				f.Timed = &vitals.Timed{CentiSeconds: []int{int(x.Timed.Shift(2).IntPart())}}
			case x.Count != nil:
				f.Count = &vitals.Count{Events: x.Count.Events, Seconds: x.Count.Seconds, Start: vitals.OnBeat}
			}
			e.Findings = append(e.Findings, f)
		}
		e.Story = &vitals.Story{Noticed: "found like this at the gate of the low field, with 2 others near", Since: at.Add(-3 * time.Hour), Course: vitals.Worse,
			Callback: "555 010 0142", Stands: "the low field behind the second barn, through the gate by the creek"}
		c, err := must(baseline.New(h)).Compare(e)
		if err != nil {
			continue // a presentation with a wrong date
		}
		out[p.ID] = Input{Horse: h, Exam: e, Comparison: c}
	}
	td.Require(t).Cmp(len(out) > 600, true, "%d presentations", len(out))
	return out
}

// Over every presentation and in both languages: where a rule says to call now, each of its problems is among what is told
// first, the gravest finding before all others, its line further down is marked as urgent, nothing softer is told, and
// no sentence beside it says how seldom it is; where none does, no two sentences say the opposite of each other.
func TestUrgentOfThePresentations(t *testing.T) {
	t.Parallel()
	now, soft := 0, 0
	for id, in := range presentations(t) {
		fired := in.Comparison.Alarms
		for _, lang := range words.Langs() {
			r := Call(in, lang)
			c := &caller{telling: about(in.Horse, lang), in: in}
			c.index()
			said := strings.Join(texts(part(r, PartDanger).Lines), " ")
			aloud := ""
			for _, p := range r.Parts {
				if p.ID.Aloud() {
					aloud += strings.Join(texts(p.Lines), " ") + " "
				}
			}
			none := words.Say(lang, "report.ring.none")
			if len(fired) > 0 && strings.Contains(aloud, none) {
				t.Errorf("%s: %q beside %q", id, none, r.First)
			}
			if vitals.Strongest(fired) != vitals.RingNow {
				soft++
				continue
			}
			now++
			for _, f := range fired {
				if f.Urgency != vitals.RingNow {
					continue
				}
				// A rule that adds up others is told by what those rest on.
				ids := c.signsOf(f)
				for _, o := range fired {
					if len(ids) == 0 {
						ids = append(ids, c.signsOf(o)...)
					}
				}
				if len(ids) > 0 && !slices.ContainsFunc(ids, func(id vitals.SignID) bool { return c.heardIn(said, id) }) {
					t.Errorf("%s: nothing of %s in %q", id, f.Alarm, said)
				}
			}
			worst := c.reasons(c.of(vitals.RingNow))[0]
			td.Cmp(t, said, td.HasPrefix(strings.Split(words.Say(lang, "report.ring.now"), "{")[0]), id)
			first, _, _ := strings.Cut(said, ";")
			td.CmpTrue(t, worst.said != "" || c.heardIn(first, worst.sign), "%s: %s in %q", id, worst.sign, first)
			soon, _, _ := strings.Cut(words.Say(lang, "report.ring.soon"), "{")
			again, _, _ := strings.Cut(words.Say(lang, "report.ring.again"), "{")
			for _, softer := range []string{soon, again} {
				if strings.Contains(aloud, softer) {
					t.Errorf("%s: %q is told beside a call for now", id, softer)
				}
			}
			for _, l := range part(r, PartDiffers).Lines {
				for _, s := range in.Comparison.Signs {
					if c.urgent(s) && strings.Contains(strings.ToLower(l.Text), strings.ToLower(c.sign(s.Sign, s.Site)+c.valueMark(s))) {
						td.Cmp(t, l, td.Struct(Line{Strong: true}, td.StructFields{"Text": td.All(
							td.HasPrefix(strings.Split(words.Say(lang, "report.ring.now"), "{")[0]), td.Not(td.Contains(words.Say(lang, "said.grade.0", "kind", c.kind, "sex", string(in.Horse.Sex)))))}), id)
					}
				}
			}
		}
	}
	td.Cmp(t, now > 800 && soft > 100, true, "%d and %d reports", now, soft)
}

// heardIn reports whether what was found of a sign, or what says the same, is told.
func (c *caller) heardIn(said string, id vitals.SignID) bool {
	of := c.foundBy(id)
	return len(of) == 0 || strings.Contains(said, c.foundIn(of[0])) || id == vitals.DoingUsual || id == vitals.Doing || id == vitals.Wounds && c.heardIn(said, vitals.WoundPlace)
}

// valueMark is what stands between a sign and what was found of it.
func (c *caller) valueMark(s baseline.Compared) string {
	if s.Measure != nil {
		return " " + c.value(s)
	}
	return ": " + c.value(s)
}

// examOf is an exam of a horse about which somebody is worried.
func examOf(h vitals.Horse, story *vitals.Story, found ...vitals.Finding) Input {
	e := vitals.Exam{ID: "e", Horse: "h", At: time.Date(2026, 8, 3, 15, 0, 0, 0, time.UTC), Depth: vitals.HandsOn, Purpose: vitals.Concern,
		State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Finished, Story: story, Findings: found}
	h.ID = "h"
	c, err := must(baseline.New(h)).Compare(e)
	if err != nil {
		panic(err)
	}
	return Input{Horse: h, Exam: e, Comparison: c}
}

func answer(s vitals.SignID, g ...vitals.GradeID) vitals.Finding {
	return vitals.Finding{Sign: s, Chosen: g}
}

func measuredAs(s vitals.SignID, value string) vitals.Finding {
	sign, _ := vitals.Lookup(s)
	return vitals.Finding{Sign: s, Reading: &vitals.Reading{Value: decimal.RequireFromString(value), Unit: sign.Unit}}
}

// What a veterinarian tripped over: the headline as it must be.
func TestHeadlinesOfWorst(t *testing.T) {
	t.Parallel()
	mare := vitals.Horse{Name: "Anis", Type: vitals.TypeHorse, Sex: vitals.Mare, Born: vitals.Date{Year: 2016, Month: 4, Day: 2}}
	for _, x := range []struct {
		said, rest string
		of         []vitals.Finding
	}{
		{"Urgent: gums brick red, refill 3.2 s; rolls; heart rate 68", "dull", []vitals.Finding{answer(vitals.Attitude, "dull"), answer(vitals.PainSigns, "rolls"),
			measuredAs(vitals.HeartRate, "68"), answer(vitals.GumColour, "brick-red"), {Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{320}}}, measuredAs(vitals.RespiratoryRate, "36")}},
		{"Urgent: down, does not get up; wounds or bleeding: heavy: running or spurting; gums white", "", []vitals.Finding{answer(vitals.Attitude, "down-not-rising"), answer(vitals.Wounds, "heavy"), answer(vitals.GumColour, "white")}},
		{"Urgent: temperature 41.2 °C; ", "breathing 70", []vitals.Finding{measuredAs(vitals.RectalTemperature, "41.2"), measuredAs(vitals.RespiratoryRate, "70"), answer(vitals.Attitude, "dull")}},
		{"Urgent: feed or green froth at the nose; ", "sweating", []vitals.Finding{answer(vitals.Swallowing, "feed-at-nose"), answer(vitals.Coat, "sweating"), answer(vitals.Attitude, "anxious")}},
	} {
		in := examOf(mare, &vitals.Story{Noticed: "found like this", Callback: "555 010 0142", Stands: "Aspen Row, third stall on the left"}, x.of...)
		said := part(Call(in, words.English), PartDanger).Lines[0].Text
		td.Cmp(t, said, td.All(td.HasPrefix(x.said), td.Contains(x.rest)))
	}
}

// An owner who is worried is never told that all is usual: a rule fired or not, with a story or without a finding.
func TestWorriedIsReasonEnough(t *testing.T) {
	t.Parallel()
	horse := vitals.Horse{Name: "Anis", Type: vitals.TypeHorse, Sex: vitals.Mare}
	quiet := []vitals.Finding{answer(vitals.Attitude, "bright"), measuredAs(vitals.HeartRate, "36")}
	for _, lang := range words.Langs() {
		reason := words.Say(lang, "report.ring.concern")
		for name, in := range map[string]Input{
			"grain": examOf(horse, &vitals.Story{Noticed: "ate about 10 kg of grain"}, quiet...), "a concern": examOf(horse, nil, quiet...), "nothing found": examOf(horse, &vitals.Story{Course: vitals.Worse}),
		} {
			td.Require(t).Cmp(in.Comparison.Alarms, td.Empty(), name)
			in.Comparison.Unchecked = []baseline.Unchecked{{Sign: vitals.GutSounds, Reason: vitals.NotTried}}
			r := Call(in, lang)
			td.Cmp(t, part(r, PartDanger).Lines[0], td.Struct(Line{Strong: true}, td.StructFields{"Text": td.HasPrefix(reason)}), name)
			td.Cmp(t, texts(part(r, PartUnchecked).Lines), td.Contains(td.Contains(about(in.Horse, lang).sign(vitals.GutSounds, ""))), "what was not checked")
			td.Cmp(t, Heading(in, lang), td.HasPrefix(reason), name)
			all := Heading(in, lang) + flat(r)
			soothing(t, about(in.Horse, lang), all)
			td.Cmp(t, all, td.Not(td.Contains(words.Say(lang, "report.ring.none"))))
		}
		routine := examOf(horse, nil, quiet...)
		routine.Exam.Purpose = vitals.Routine
		td.Cmp(t, part(Call(routine, lang), PartDanger).Lines[0].Text, td.HasPrefix(words.Say(lang, "report.ring.none")))
	}
}

// A rule that rests on what the story says is told in its own words and with what else was found, never by a usual answer.
func TestRulesOfTheStory(t *testing.T) {
	t.Parallel()
	horse := vitals.Horse{Name: "Anis", Type: vitals.TypeHorse, Sex: vitals.Mare, Born: vitals.Date{Year: 2016, Month: 4, Day: 2}}
	for _, lang := range words.Langs() {
		for name, in := range map[string]Input{
			"come":  examOf(horse, &vitals.Story{Noticed: "ate about 10 kg of grain", Ask: vitals.AskCome}, answer(vitals.Attitude, "bright")),
			"worse": examOf(horse, &vitals.Story{Course: vitals.Worse}, answer(vitals.Attitude, "bright"), answer(vitals.Cough, "often")),
		} {
			td.Require(t).Cmp(in.Comparison.Alarms, td.NotEmpty(), name)
			c := &caller{telling: about(horse, lang), in: in}
			c.index()
			r := Call(in, lang)
			said := strings.Join(append(texts(part(r, PartDanger).Lines), texts(part(r, PartDiffers).Lines)...), " ")
			td.Cmp(t, said, td.Not(td.Contains(c.answers(vitals.Attitude, []vitals.GradeID{"bright"}, nil))), name)
			if name == "worse" {
				cough := c.sign(vitals.Cough, "") + ": "
				td.Cmp(t, part(r, PartDanger).Lines[0].Text, td.Contains(cough))
			} else {
				td.Cmp(t, said, td.Contains(lowerFirst(strings.TrimSuffix(words.Say(lang, "alarm.asked-to-come"), "."))))
			}
		}
	}
}

// What changes how soon somebody comes stands beside the name: a newborn's hours, in foal, how long ago she foaled; and right
// behind how urgent it is the air of a hot day, and what was given, how much, when and by whom.
func TestFactsAtTheTop(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 8, 3, 15, 0, 0, 0, time.UTC)
	born := at.Add(-6*time.Hour - 10*time.Minute)
	foal := vitals.Horse{Name: "Bo", Type: vitals.TypeHorse, Born: vitals.DateOf(born), BornAt: born}
	who := func(h vitals.Horse, lang words.Lang) string {
		return part(Call(examOf(h, nil), lang), PartWho).Lines[0].Text
	}
	td.Cmp(t, who(foal, words.English), "About Bo, 6-hour-old foal, sex not entered.")
	td.Cmp(t, who(foal, words.Spanish), "Sobre Bo, potrillo de 6 horas, sexo no anotado.")
	foal.BornAt = at.Add(-50 * time.Minute)
	td.Cmp(t, who(foal, words.English), "About Bo, 50-minute-old foal, sex not entered.")
	mare := vitals.Horse{Name: "Anis", Type: vitals.TypeHorse, Sex: vitals.Mare, InFoal: true}
	td.Cmp(t, who(mare, words.English), "About Anis, mare, age not known, in foal.")
	mare.InFoal, mare.FoaledAt = false, at.Add(-20*time.Hour)
	td.Cmp(t, who(mare, words.English), "About Anis, mare, age not known, foaled 20 hours ago.")
	td.Cmp(t, who(mare, words.Spanish), "Sobre Anis, yegua, edad desconocida, parió hace 20 horas.")
	mare.FoaledAt = at.AddDate(0, 0, -vitals.BroodDays)
	td.Cmp(t, who(mare, words.English), "About Anis, mare, age not known.")

	in := examOf(mare, &vitals.Story{Given: []vitals.Given{{What: "paste", Dose: "half a tube, about 500 mg?", At: at.Add(-time.Hour), By: "Ana"}}})
	in.Exam.Air = &vitals.Air{Temperature: &vitals.Reading{Value: decimal.New(35, 0), Unit: vitals.Celsius}}
	lines := texts(part(Call(in, words.English), PartAnimal).Lines)
	td.Cmp(t, lines[len(lines)-3:], []string{"Checked 3:00 pm: hands-on, only in part, at rest.", "Air: 35 °C.", "What was given can hide pain and fever."})
	danger := texts(part(Call(in, words.English), PartDanger).Lines)
	td.Cmp(t, danger[len(danger)-1], "Given: paste, half a tube, about 500 mg?, at 2:00 pm, by Ana.")
	in.Exam.Air.Temperature.Value = decimal.New(20, 0)
	td.Cmp(t, texts(part(Call(in, words.English), PartAnimal).Lines), td.Not(td.Contains("Air: 20 °C.")))
}

// What somebody told is told whole, there or below, and our own sentences give way first.
func TestOwnWordsAreNeverCut(t *testing.T) {
	t.Parallel()
	long := func(tag string) string {
		return strings.TrimSpace(strings.Repeat("mineral oil by tube ", 90)) + " " + tag + "4 l at " + tag + ":15, by 3 people " + tag + "kg"
	}
	for _, noticed := range []string{"ate about 10 kg of grain", long("1")} {
		in := badNight()
		in.Exam.State = vitals.State{Condition: vitals.Medicated, With: long("9")}
		in.Exam.Story = &vitals.Story{Noticed: noticed, Passed: long("2"), Intake: long("3"), Changed: long("4"), History: long("5"), Stands: long("6"),
			Callback: "+000 123 456 789 012 345", Given: []vitals.Given{{What: long("7"), Dose: "half a tube, 500 mg", By: "Dr. 8"}}}
		for _, lang := range words.Langs() {
			r := Call(in, lang)
			checkWhole(t, in, r)
			td.Cmp(t, strings.Join(texts(part(r, PartStory).Lines), " "), td.Contains(words.Say(lang, "report.below")), "a pointer")
			for _, p := range r.Parts {
				for _, l := range p.Lines {
					td.Cmp(t, l.Text, td.Not(td.Contains("…")), "nothing is cut")
				}
			}
		}
	}
	// What is told of forty words stands where it belongs, whatever else there is to say.
	in := badNight()
	in.Exam.Story.Passed = strings.Repeat("two dry piles since last night ", 6) + "7 in all"
	td.Cmp(t, flat(Call(in, words.English)), td.Contains("Manure and urine: "+in.Exam.Story.Passed+"."))
	td.Cmp(t, part(Call(in, words.English), PartWords).Lines, td.Empty())
}
