package pack

import (
	"errors"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

func example(t testing.TB) string {
	data, err := os.ReadFile("../../examples/clinic/pack.json")
	td.Require(t).CmpNoError(err)
	return string(data)
}

// listed gives the faults as "code path line".
func listed(text string) []string {
	_, err := Decode([]byte(text))
	faults, _ := errors.AsType[vitals.Faults](err)
	lines := Lines([]byte(text), faults)
	var out []string
	for i, f := range faults {
		out = append(out, string(f.Code)+" "+f.Path+" "+strconv.Itoa(lines[i]))
	}
	return out
}

// Each slip of a hand in the file is named with its place and its line.
func TestFaultsNamePlaceAndLine(t *testing.T) {
	t.Parallel()
	text := example(t)
	for _, c := range []struct{ old, new, want string }{
		{`"whorl-pack"`, `"whorl-barn"`, "not-pack /kind 2"},
		{`"format": 1`, `"format": 2`, "newer-format /format 3"},
		{`"name": "W`, `"nmae": "W`, "unknown-member /clinic/nmae 5"},
		{`"name": "W`, `"nmae": "W`, "missing-member /clinic/name 4"},
		{`"+44 20 7946 0101"`, `" "`, "missing-text /clinic/numbers/1/phone 8"},
		{`"numbers": [`, `"page": "http://a.example/#x", "numbers": [`, "bad-page /clinic/page 6"},
		{`["en"]`, `["xx"]`, "unknown-lang /langs/0 11"},
		{`["Cel", "kg"`, `["Cel", "bpm"`, "wrong-unit /units/1 12"},
		{`"low": "37.0"`, `"low": "39.0"`, "pack-limit /ranges/0 14"},
		{`"low": "37.0"`, `"low": 37.0`, "not-text /ranges/0/low 15"},
		{`"unit": "Cel", "setBy"`, `"unit": "/min", "setBy"`, "wrong-unit /ranges/0/unit 15"},
		{`"setBy": "the practice's own list, 2026"}`, `"setBy": ""}`, "missing-text /ranges/0/setBy 15"},
		{`"windle-brook-heart"`, `"heart-high"`, "duplicate-id /thresholds/0/id 18"},
		{`"heart-rate", "types"`, `"hart-rate", "types"`, "unknown-sign /thresholds/0/sign 18"},
		{`"urgency": "now"`, `"urgency": "never"`, "unknown-answer /thresholds/0/urgency 19"},
		{`"above": "52", `, ``, "pack-limit /thresholds/0 18"},
		{`"above": "52"`, `"grades": ["x"]`, "pack-limit /thresholds/0 18"},
		{`"gut-sounds"]`, `"gut"]`, "unknown-sign /ask/5 25"},
		{`  "ask"`, `  ask`, "bad-json  25"},
	} {
		spoilt := strings.Replace(text, c.old, c.new, 1)
		td.Cmp(t, spoilt != text, true, c.old)
		td.Cmp(t, listed(spoilt), td.Contains(c.want), c.new)
	}
	td.Cmp(t, listed(text), td.Empty())
}

func heart(rate int) (vitals.Horse, vitals.Exam, baseline.Comparison) {
	h := vitals.Horse{ID: "h", Name: "Sorrel", Type: vitals.TypeHorse, Born: vitals.Date{Year: 2015, Month: 5, Day: 1}}
	e := vitals.Exam{ID: "e", Horse: "h", At: time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC), Depth: vitals.Full, Purpose: vitals.Concern,
		State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Finished, Findings: []vitals.Finding{
			{Sign: vitals.HeartRate, Site: "jaw", Count: &vitals.Count{Events: rate, Seconds: 60, Start: vitals.Anywhere}}}}
	c, err := must(baseline.New(h)).Compare(e)
	if err != nil {
		panic(err)
	}
	return h, e, c
}

// A pack adds its rule and says so; whatever it holds, every published alarm and range stays.
func TestAPackOnlyAdds(t *testing.T) {
	t.Parallel()
	p, err := Decode([]byte(example(t)))
	td.Require(t).CmpNoError(err)
	h, e, c := heart(56) // the rules ask for a second count up to 60 without signs of pain
	td.Require(t).Cmp(c.Alarms, td.Len(1))
	td.Require(t).Cmp(c.Alarms[0].Urgency, vitals.CheckAgain)
	got, warned := Apply(p, h, c)
	td.Cmp(t, got.Alarms, td.Len(2))
	td.Cmp(t, got.Alarms[0], c.Alarms[0])
	td.Cmp(t, got.Alarms[1].Alarm, vitals.AlarmID("windle-brook-heart"))
	td.Cmp(t, warned, td.Len(1))
	td.Cmp(t, got.Warnings, td.Contains(warned[0]))
	td.Cmp(t, c.Alarms, td.Len(1), "the comparison given is not touched")
	text := report.Call(report.Input{Horse: h, Exam: e, Comparison: got}, words.English).Text()
	td.Cmp(t, strings.Join(strings.Fields(text), " "), td.Contains("It is not a published rule"))

	flat := strings.Join(strings.Fields(text), " ")
	td.Cmp(t, flat, td.Contains("From your clinic: its own rule says to call at this heart rate, above 52 a minute (the practice's own list, 2026)"))
	td.Cmp(t, flat, td.Not(td.Contains("Windle brook heart")), "the rule is told, not its id")

	looser := strings.Replace(example(t), `"above": "52"`, `"above": "90"`, 1)
	p, err = Decode([]byte(looser))
	td.Require(t).CmpNoError(err)
	h, _, c = heart(66)
	td.Require(t).Cmp(c.Alarms, td.Len(1))
	got, _ = Apply(p, h, c)
	td.Cmp(t, got.Alarms, c.Alarms, "a looser rule of the clinic takes nothing away")

	h.Type = vitals.TypeDonkey
	p, _ = Decode([]byte(example(t)))
	_, warned = Apply(p, h, c)
	td.Cmp(t, warned, td.Empty(), "of another kind of animal")
}

// The clinic's questions are asked and what it asks for is missed aloud; everything that
// the report said it still says.
func TestAPackAsks(t *testing.T) {
	t.Parallel()
	p, err := Decode([]byte(example(t)))
	td.Require(t).CmpNoError(err)
	h, e, c := heart(56)
	in := report.Input{Horse: h, Exam: e, Comparison: c}
	before := report.Call(in, words.English)
	r := p.Into(before, in)
	lines := map[report.PartID][]report.Line{}
	for i, part := range r.Parts {
		lines[part.ID] = part.Lines
		old := before.Parts[i].Lines
		td.Cmp(t, part.Lines[len(part.Lines)-len(old):], old)
	}
	const own = "Windle Brook Equine Practice (invented) asks, in its own words: “"
	td.Cmp(t, lines[report.PartStory][:2], []report.Line{
		{Text: own + "When did she last eat up everything?” Not answered.", Blank: true}, {Text: own + "Is there a vehicle that could take her in tonight?” Not answered.", Blank: true}})
	td.Cmp(t, lines[report.PartUnchecked][0], report.Line{Strong: true, Text: "Windle Brook Equine Practice (invented) asks for these, and they were not checked: " +
		"breathing rate, rectal temperature, gum color, capillary refill time, gut sounds."})
	r.Lang = "xx"
	td.Cmp(t, p.Into(r, in).Parts[len(r.Parts)-1], r.Parts[len(r.Parts)-1])
}

// What is accepted has a canonical form, which is accepted and stays as it is (white space and the order
// of members are free in the file); it takes no alarm away and no line out of a report.
func FuzzDecode(f *testing.F) {
	f.Add(example(f))
	h, e, c := heart(66)
	in := report.Input{Horse: h, Exam: e, Comparison: c}
	before := report.Call(in, words.English)
	f.Fuzz(func(t *testing.T, text string) {
		p, err := Decode([]byte(text))
		if err != nil {
			faults, _ := errors.AsType[vitals.Faults](err)
			last := 1 + strings.Count(text, "\n")
			for i, n := range Lines([]byte(text), faults) {
				if n < 1 || n > last {
					t.Fatalf("%v on line %d of %d", faults[i], n, last)
				}
			}
			return
		}
		once, err := schema.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		back, err := Decode(once)
		if err != nil {
			t.Fatal(err)
		}
		if twice, err := schema.Marshal(back); err != nil || string(twice) != string(once) {
			t.Fatalf("%v\n%s\n%s", err, once, twice)
		}
		in := in
		in.Comparison, _ = Apply(p, h, c)
		if len(in.Comparison.Alarms) < len(c.Alarms) {
			t.Fatal("an alarm was taken away")
		}
		for i, part := range p.Into(report.Call(in, words.English), in).Parts {
			if len(part.Lines) < len(before.Parts[i].Lines) {
				t.Fatalf("%s has lost a line", part.ID)
			}
		}
	})
}
