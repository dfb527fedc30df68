package report

import (
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// The first words never say less than the strongest line below them: from a rule down to "as usual", one thing less
// at a time.
func TestHeadlineInItsOrder(t *testing.T) {
	t.Parallel()
	own := baseline.Basis{Exams: 8}
	say := func(c baseline.Comparison) string {
		return Heading(Input{Horse: vitals.Horse{Name: "Anis", Sex: vitals.Mare, Type: vitals.TypeHorse}, Comparison: c}, words.English)
	}
	usual := baseline.Compared{Sign: vitals.HeartRate, Statement: baseline.AsUsual, Basis: own}
	differs := baseline.Compared{Sign: vitals.Coat, Statement: baseline.Differs, Basis: own}
	first := baseline.Compared{Sign: vitals.GumColour, Chosen: []vitals.GradeID{"pale-pink"}, Statement: baseline.FirstSeen, Basis: own}
	seldom := baseline.Compared{Sign: vitals.Water, Chosen: []vitals.GradeID{"less"}, Statement: baseline.Noted, Basis: own}
	weight := baseline.Compared{Sign: vitals.Weight, Statement: baseline.Noted}
	lately := baseline.Compared{Sign: vitals.Lately, Chosen: []vitals.GradeID{"journey"}, Statement: baseline.Noted}
	c := baseline.Comparison{
		Alarms: []vitals.Fired{
			{Alarm: "a", Sign: vitals.Foaling, Urgency: vitals.RingNow, First: vitals.ActCutBag, Problem: vitals.ProblemFoaling},
			{Alarm: "b", Sign: vitals.Feed, Urgency: vitals.RingSoon},
			{Alarm: "c", Sign: vitals.HeartRate, Urgency: vitals.CheckAgain, Minutes: 240, Then: vitals.RingSoon},
			{Alarm: "d", Sign: vitals.HeartRate, Urgency: vitals.CheckAgain, Minutes: 30, Then: vitals.RingSoon},
			{Alarm: "e", Sign: vitals.HeartRate, Urgency: vitals.CheckAgain, Minutes: 60, Then: vitals.RingNow}},
		Overall: baseline.Overall{Signs: 5, Unusual: true, Far: 2},
		Signs:   []baseline.Compared{usual, lately, weight, seldom, first, differs},
	}
	td.Cmp(t, say(c), "Cut the red bag open now. Then call. Call your vet now. One thing is not usual for Anis, and neither is the exam as a whole, and 1 is new for her.")
	c.Alarms[0].First = ""
	td.Cmp(t, say(c), "Call your vet now. One thing is not usual for Anis, and neither is the exam as a whole, and 1 is new for her.")
	c.Alarms = c.Alarms[1:]
	td.Cmp(t, say(c), td.HasPrefix("Tell your vet today. One thing"))
	c.Alarms = c.Alarms[1:]
	td.Cmp(t, say(c), td.HasPrefix("Check again in 60 minutes. Still so: call your vet now. One thing"))
	c.Alarms = c.Alarms[:2]
	td.Cmp(t, say(c), td.HasPrefix("Check again in 30 minutes. Still so: tell your vet today. One thing"))
	c.Alarms = c.Alarms[:1]
	td.Cmp(t, say(c), td.HasPrefix("Check again in 4 hours. Still so: tell your vet today. One thing"))
	c.Alarms = nil
	td.Cmp(t, say(c), "One thing is not usual for Anis, and neither is the exam as a whole, and 1 is new for her.")
	c.Overall.Unusual = false
	td.Cmp(t, say(c), "One thing is not usual for Anis, and 1 is new for her.")
	c.Signs = c.Signs[:5]
	td.Cmp(t, say(c), "One thing is new for Anis.")
	c.Signs = c.Signs[:4]
	td.Cmp(t, say(c), "Many things are a little off for Anis.")
	c.Overall.Far = 0
	td.Cmp(t, say(c), "One thing is not what most horses show. Too little is known yet to compare with what is usual for Anis.")
	c.Signs = c.Signs[:3]
	td.Cmp(t, say(c), "Everything compared is in the usual range for Anis; 1 thing was only recorded.")
	c.Unchecked = []baseline.Unchecked{{Sign: vitals.GutSounds}, {Sign: vitals.Eye}}
	td.Cmp(t, say(c), "Everything compared is in the usual range for Anis; 1 thing was only recorded; 2 signs were not checked.")
	c.Signs = c.Signs[:2]
	// Of an exam that was mostly skipped "everything" is too much said.
	td.Cmp(t, say(c), "Only 1 sign was checked; what was compared is in the usual range for Anis; 2 signs were not checked.")
	both := c.Unchecked
	c.Unchecked = both[:1]
	td.Cmp(t, say(c), "Everything you checked is in the usual range for Anis; 1 sign was not checked.")
	c.Unchecked = both
	// Beside a rule nothing is called usual; what was not checked is still told.
	c.Alarms = []vitals.Fired{{Sign: vitals.Feed, Urgency: vitals.RingNow}}
	td.Cmp(t, say(c), "Call your vet now. 2 signs were not checked.")
	c.Signs, c.Alarms, c.Unchecked = c.Signs[1:], nil, nil
	td.Cmp(t, say(c), "Nothing was compared.")
}

// An off-feed mare in foal and a wound near a joint, of which nothing is known: the rule says call now, and no sentence
// beside it calls anything usual, in the heading, the remarks or the report.
func TestNothingSoothesBesideARule(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC)
	exam := func(f ...vitals.Finding) vitals.Exam {
		return vitals.Exam{ID: "e", Horse: "h", At: at, Depth: vitals.WalkUp, Purpose: vitals.Concern, State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Finished, Findings: f}
	}
	chosen := func(s vitals.SignID, g vitals.GradeID) vitals.Finding {
		return vitals.Finding{Sign: s, Chosen: []vitals.GradeID{g}}
	}
	for name, x := range map[string]struct {
		horse vitals.Horse
		exam  vitals.Exam
	}{
		"off feed": {vitals.Horse{ID: "h", Name: "Anis", Type: vitals.TypeDonkey, Sex: vitals.Mare, InFoal: true}, exam(chosen(vitals.Feed, "less"), chosen(vitals.Attitude, "bright"))},
		"wound":    {vitals.Horse{ID: "h", Name: "Anis", Type: vitals.TypeHorse, Sex: vitals.Mare}, exam(chosen(vitals.WoundPlace, "joint"), chosen(vitals.Wounds, "slight"), chosen(vitals.Attitude, "bright"))},
	} {
		c, err := must(baseline.New(x.horse)).Compare(x.exam)
		td.Require(t).CmpNoError(err)
		td.Require(t).Cmp(vitals.Strongest(c.Alarms), vitals.RingNow, name)
		for _, lang := range words.Langs() {
			td.Cmp(t, Heading(Input{Horse: x.horse, Comparison: c}, lang), td.HasPrefix(words.Say(lang, "heading.ring")), name)
			all := Heading(Input{Horse: x.horse, Comparison: c}, lang) + strings.Join(Remarks(c, x.horse, lang), " ") + flat(Call(Input{Horse: x.horse, Exam: x.exam, Comparison: c}, lang))
			soothing(t, about(x.horse, lang), all)
		}
	}
}

// soothing looks for the sentences that call everything usual.
func soothing(t interface {
	Helper()
	Errorf(string, ...any)
}, of telling, text string) {
	t.Helper()
	for _, key := range []string{"heading.nothing", "heading.nothing.0", "heading.compared", "heading.compared.0", "heading.few", "heading.few.0", "report.differs.none", "report.differs.none.0"} {
		sentence, _, _ := strings.Cut(of.say(key), ".")
		if _, rest, ok := strings.Cut(sentence, "; "); ok {
			sentence = rest // before it stands how many were checked
		}
		if strings.Contains(text, sentence) {
			t.Errorf("%q in %q", sentence, text)
		}
	}
}

func flat(r Report) string { return strings.Join(strings.Fields(r.Text()), " ") }

// Whatever a comparison holds: where a rule fired, or anything is not as usual or new, nothing is said to be usual.
func TestNothingSoothesAtAll(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		in.Horse.Name, in.Exam.By, in.Exam.Story = "Anis", "", nil
		in.Comparison.Overall = baseline.Overall{Signs: 9, Unusual: rapid.Bool().Draw(t, "unusual"), P: .01, Far: rapid.Float64Range(-3, 5).Draw(t, "far")}
		out := len(in.Comparison.Alarms) > 0
		for _, s := range in.Comparison.Signs {
			out = out || s.Statement.Unusual() || s.Statement == baseline.FirstSeen
		}
		if !out {
			t.Skip()
		}
		for _, lang := range words.Langs() {
			soothing(t, about(in.Horse, lang), Heading(Input{Horse: in.Horse, Comparison: in.Comparison}, lang)+flat(Call(in, lang)))
		}
	})
}

// What was given is told whole, with dose and time, and right after it that signs may be masked.
func TestGivenIsToldWhole(t *testing.T) {
	t.Parallel()
	in := badNight()
	at := in.Exam.At
	in.Exam.State = vitals.State{Condition: vitals.Excited, Also: []vitals.Condition{vitals.Medicated}, With: "paste for pain by mouth, half of the syringe, an hour ago, by the neighbor"}
	in.Exam.Story.Given = []vitals.Given{
		{What: "phenylbutazone paste", Dose: "2 g by mouth", At: at.Add(-3 * time.Hour), By: "Ana"},
		{What: "mash with oil", Dose: "1 bucket", At: at.Add(-30 * time.Hour)},
	}
	for _, lang := range words.Langs() {
		r := Call(in, lang)
		masked := Line{Text: words.Say(lang, "report.masked"), Strong: true}
		lines := part(r, PartAnimal).Lines
		td.Require(t).Cmp(len(lines), 2, lang)
		td.Cmp(t, lines[0].Text, td.Contains(lowerFirst(words.Say(lang, "condition.excited"))))
		td.Cmp(t, lines[1], masked)
		td.Cmp(t, strings.Join(texts(part(r, PartDanger).Lines), " "), td.All(td.Contains("phenylbutazone paste, 2 g by mouth, "), td.Contains("; mash with oil, 1 bucket, "), td.Contains("11:10"), td.Contains("; "+in.Exam.State.With)))
		// Given, and at rest, as it was told: it masks all the same.
		in := in
		in.Exam.State = vitals.State{Condition: vitals.AtRest}
		td.Cmp(t, part(Call(in, lang), PartAnimal).Lines[1], masked)
	}
	// Given long ago, or nothing: it masks nothing.
	in.Exam.State = vitals.State{Condition: vitals.AtRest}
	for _, given := range [][]vitals.Given{nil, {{What: "nothing"}}, {{What: "paste", At: at.Add(-12 * time.Hour)}}} {
		in.Exam.Story.Given = given
		td.Cmp(t, flat(Call(in, words.English)), td.Not(td.Contains(words.Say(words.English, "report.masked"))), "%v", given)
	}
}

func part(r Report, id PartID) Part {
	for _, p := range r.Parts {
		if p.ID == id {
			return p
		}
	}
	return Part{}
}

// What is remembered of a call is in the report, in plain lines.
func TestCallIsTold(t *testing.T) {
	t.Parallel()
	in := badNight()
	at := in.Exam.At
	for _, x := range []struct {
		call vitals.Call
		said string
	}{
		{vitals.Call{SaidAt: at.Add(5 * time.Minute)}, "“Call your vet now” was shown at 2:15 am. Nobody has noted that the vet was told."},
		{vitals.Call{SaidAt: at, ToldAt: at.Add(20 * time.Minute)}, "“Call your vet now” was shown at 2:10 am. The vet was told at 2:30 am."},
		{vitals.Call{SaidAt: at, ToldAt: at.Add(20 * time.Minute), Told: "the night line", ClosedAt: at.Add(30 * time.Hour), Outcome: "went to the clinic."},
			"“Call your vet now” was shown at 2:10 am. Told at 2:30 am: the night line. What became of it, noted on August 12: went to the clinic."},
	} {
		in.Exam.Call = &x.call
		td.Cmp(t, Called(in.Exam, in.Horse, words.English), x.said)
		td.Cmp(t, flat(Call(in, words.English)), td.Contains(x.said))
	}
	in.Exam.Call = nil
	td.Cmp(t, Called(in.Exam, in.Horse, words.English), "")
}

// What is told of the days before stands with the story, not among the findings.
func TestLatelyIsStory(t *testing.T) {
	t.Parallel()
	in := badNight()
	in.Exam.Findings = append(in.Exam.Findings, vitals.Finding{Sign: vitals.Lately, Chosen: []vitals.GradeID{"journey", "others-ill"}})
	in.Comparison.Signs = append(in.Comparison.Signs, baseline.Compared{Sign: vitals.Lately, Chosen: []vitals.GradeID{"journey", "others-ill"}, Statement: baseline.Noted})
	for _, lang := range words.Langs() {
		r := Call(in, lang)
		want := about(in.Horse, lang).answers(vitals.Lately, []vitals.GradeID{"journey", "others-ill"}, nil)
		td.Cmp(t, texts(part(r, PartStory).Lines), td.Contains(td.Contains(want)))
		td.Cmp(t, texts(part(r, PartNoted).Lines), td.Not(td.Contains(td.Contains(want))))
	}
}

// What is done before the call stands before the report and is not said in it; worst problem first.
func TestActsComeFirst(t *testing.T) {
	t.Parallel()
	in := badNight()
	in.Comparison.Alarms = append(in.Comparison.Alarms,
		vitals.Fired{Alarm: "heat", Sign: vitals.RectalTemperature, Urgency: vitals.RingNow, Problem: vitals.ProblemHeat, First: vitals.ActCool},
		vitals.Fired{Alarm: "blood", Sign: vitals.Wounds, Urgency: vitals.RingNow, Problem: vitals.ProblemBleeding, First: vitals.ActPress})
	in.Comparison.Signs = append(in.Comparison.Signs, baseline.Compared{Sign: vitals.Wounds, Chosen: []vitals.GradeID{"heavy"}})
	r := Call(in, words.English)
	td.Cmp(t, r.First, []string{words.Say(words.English, "act.press"), words.Say(words.English, "act.cool")})
	td.Cmp(t, strings.Index(r.Text(), "* Press") < strings.Index(r.Text(), "WHO AND WHERE"), true)
	for _, chunk := range r.Aloud() {
		td.Cmp(t, chunk.Text(), td.Not(td.Contains("Press a clean cloth")))
	}
	hot := vitals.Finding{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{Value: decimal.RequireFromString("100.2"), Unit: vitals.Fahrenheit}}
	td.Require(t).Cmp(in.Exam.Findings[1].Reading.Value, hot.Reading.Value)
	in.Comparison.Alarms = []vitals.Fired{
		{Alarm: "k", Sign: vitals.HeartRate, With: []vitals.SignID{vitals.PainSigns, vitals.RectalTemperature}, Urgency: vitals.RingNow, Problem: vitals.ProblemBelly},
		{Alarm: "l", Sign: vitals.PainSigns, Urgency: vitals.RingNow, Problem: vitals.ProblemBelly}}
	// Each sign once, the gravest first, in the unit in which it was read.
	in.Exam.Story, in.Exam.By = &vitals.Story{Noticed: "off her feed"}, ""
	td.Cmp(t, part(Call(in, words.English), PartDanger).Lines[0].Text,
		"Urgent: looks at the flank and paws; heart rate 52; temperature 100.2 °F.")
}

// "Each finding alone is usual" stands beside no rule that fired, nor beside an answer that is new or only recorded.
func TestEachAloneIsUsualOnlyWhereItIs(t *testing.T) {
	t.Parallel()
	alone := func(change func(*baseline.Comparison)) bool {
		c := baseline.Comparison{Signs: []baseline.Compared{{Sign: vitals.Attitude, Statement: baseline.AsUsual, Basis: baseline.Basis{Exams: 5}}}}
		c.Overall = baseline.Overall{Unusual: true, P: .001, Signs: 5}
		change(&c)
		said := Heading(Input{Horse: vitals.Horse{Name: "Juniper", Type: vitals.TypeHorse}, Exam: vitals.Exam{Purpose: vitals.Routine}, Comparison: c}, words.English)
		return strings.Contains(said, "alone")
	}
	td.CmpTrue(t, alone(func(*baseline.Comparison) {}))
	td.CmpFalse(t, alone(func(c *baseline.Comparison) {
		c.Alarms = []vitals.Fired{{Alarm: "colic-behaviour", Urgency: vitals.RingNow, Sign: vitals.Doing}}
	}))
	td.CmpFalse(t, alone(func(c *baseline.Comparison) {
		c.Signs = append(c.Signs, baseline.Compared{Sign: vitals.Doing, Chosen: []vitals.GradeID{"rolling"}, Statement: baseline.FirstSeen, Basis: baseline.Basis{Exams: 5}})
	}))
}

// Since when is not asked of a person whose own words say it, in either language.
func TestSinceWhenIsInTheWords(t *testing.T) {
	for noticed, asks := range map[string]bool{
		"off her hay since noon": false, "Yesterday: half her feed.": false, "lame, two hours ago": false, "no come desde el mediodía": false, "inquieta anoche": false,
		"off her hay": true, "sincere pain": true, "half a bucket left": true,
	} {
		for _, lang := range words.Langs() {
			in := Input{Horse: vitals.Horse{ID: "h", Name: "Anis", Type: vitals.TypeHorse}, Exam: vitals.Exam{ID: "e", Horse: "h", At: time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC),
				Depth: vitals.WalkUp, Purpose: vitals.Concern, State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Finished, Story: &vitals.Story{Noticed: noticed}}}
			got := false
			for _, p := range Call(in, lang).Parts {
				for _, l := range p.Lines {
					got = got || l.Blank && l.Text == words.Say(lang, "report.since.ask")
				}
			}
			td.Cmp(t, got, asks, "%s %s", lang, noticed)
		}
	}
}

// A sedative that only the story tells of stands with what state the animal is in; another medicine does not.
func TestASedativeInTheStory(t *testing.T) {
	t.Parallel()
	for what, sedative := range map[string]bool{"sedated by the vet": true, "Sedative, by mouth": true, "sedación": true, "un sedante": true, "phenylbutazone paste": false} {
		in := badNight()
		in.Exam.State = vitals.State{Condition: vitals.AtRest}
		in.Exam.Story.Given = []vitals.Given{{What: what, At: in.Exam.At.Add(-time.Hour)}}
		for _, lang := range words.Langs() {
			told := strings.Join(texts(part(Call(in, lang), PartAnimal).Lines), " ")
			td.Cmp(t, strings.Contains(told, lowerFirst(words.Say(lang, "condition.medicated"))), sedative, "%s: %s", what, told)
		}
	}
}
