package report

import (
	"cmp"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/baseline"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

var update = flag.Bool("update", false, "write the golden texts anew; read them aloud before committing")

// inWords puts what the handler typed into a language, so that a report can be read as a whole.
func inWords(in Input, lang words.Lang) Input {
	if lang != words.Spanish {
		return in
	}
	spanish := map[string]string{
		"off her feed, looking at her flank": "No come, se mira el costado",
		"dry droppings at noon, none since":  "seco a mediodía, desde entonces nada",
		"nothing":                            "nada",
		"Aspen Row, third stall on the left": "Aspen Row, tercera caballeriza a la izquierda",
		"the field by the ford":              "el potrero junto al vado",
	}
	own := func(text string) string {
		if said, ok := spanish[text]; ok {
			return said
		}
		return text
	}
	in.Horse.Stands = own(in.Horse.Stands)
	if in.Exam.Story != nil {
		s := *in.Exam.Story
		s.Noticed, s.Passed, s.Stands = own(s.Noticed), own(s.Passed), own(s.Stands)
		s.Given = slices.Clone(s.Given)
		for i := range s.Given {
			s.Given[i].What = own(s.Given[i].What)
		}
		in.Exam.Story = &s
	}
	return in
}

func TestCallGolden(t *testing.T) {
	t.Parallel()
	quiet := badNight()
	quiet.Exam.Story, quiet.Exam.Purpose, quiet.Comparison.Alarms = nil, vitals.Learning, nil
	for i := range quiet.Comparison.Signs {
		s := &quiet.Comparison.Signs[i]
		if !s.Statement.Unusual() {
			continue
		}
		s.Statement, s.Strong, s.Settle, s.Tail = baseline.AsUsual, false, nil, 0.3
		if s.Measure != nil {
			m := *s.Measure
			m.Value = s.Own.Mid
			s.Measure = &m
		} else {
			s.Chosen = s.Usual
		}
	}
	quiet.Comparison.Overall = baseline.Overall{Signs: 7, P: 0.4, Level: 0.05}

	first := badNight()
	first.Horse = vitals.Horse{ID: "pim", Name: "Pim", Type: vitals.TypeDonkey, Sex: vitals.Gelding, Stands: "the field by the ford"}
	for i := range first.Comparison.Signs {
		s := &first.Comparison.Signs[i]
		s.Basis = baseline.Basis{Prior: []vitals.Provenance{{Mark: vitals.Assumed}}}
		if s.Measure != nil {
			s.Basis.Prior = []vitals.Provenance{{Source: "donkey-sanctuary", Mark: vitals.Memory}}
		}
		s.Usual, s.UsualSeen = nil, 0
	}
	first.Exam.State = vitals.State{Condition: vitals.AfterWork, SinceMinutes: 25, Effort: vitals.Hard}
	first.Comparison.Warnings = []baseline.Warning{{Key: baseline.WarnAfterWork, Args: []string{"minutes", "25"}}}

	for name, in := range map[string]Input{"bad-night": badNight(), "quiet-day": quiet, "first-exam": first, "empty": {}} {
		for _, lang := range words.Langs() {
			t.Run(name+"/"+string(lang), func(t *testing.T) {
				path := filepath.Join("testdata", string(lang), name+".txt")
				got := Call(inWords(in, lang), lang).Text()
				if *update {
					if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
						t.Fatal(err)
					}
				}
				want, err := os.ReadFile(path)
				if err != nil {
					t.Fatal(err)
				}
				td.Cmp(t, got, string(want))
			})
		}
	}
}

// The order of the telephone call, and that a full exam is told in it.
func TestCallOrder(t *testing.T) {
	t.Parallel()
	in := badNight()
	in.Watched = watchedNight(in.Exam.At)
	r := Call(in, words.English)
	var ids []PartID
	for _, p := range r.Parts {
		ids = append(ids, p.ID)
	}
	td.Cmp(t, ids, slices.DeleteFunc(Parts(), func(id PartID) bool { return id == PartWords }), "nothing is too long")
	td.Cmp(t, r.Parts[0].Lines[0].Text, td.HasPrefix("Call back: 555 010 0142."), "the number first")
	td.CmpTrue(t, r.Parts[2].Lines[0].Strong)
	td.Cmp(t, r.Parts[5].Lines, []Line{
		{Text: "Heart rate: 52, 57, 64 a minute in 30 minutes, rising by about 4 a minute every 10 minutes.", Strong: true},
		{Text: "Gum color: pink, then pale pink. Worse than at the first exam.", Strong: true},
	}, "what stayed the same is not told")
}

// watchedNight is the course of three looks.
func watchedNight(at time.Time) []watch.Watched {
	from := at.Add(-30 * time.Minute)
	heart := watch.Watched{Sign: vitals.HeartRate, From: from, To: at, Unit: vitals.PerMinute, Trend: watch.Rising,
		Slope: &watch.Slope{PerHour: 24, Low: 12, High: 36, WouldShow: 10, EveryMinutes: 10}}
	for i, v := range []float64{52, 57, 64} {
		heart.Points = append(heart.Points, watch.WatchedPoint{At: from.Add(time.Duration(i) * 15 * time.Minute), Measure: vitals.Measure{Value: v, SD: 1, Unit: vitals.PerMinute}})
	}
	gums := watch.Watched{Sign: "gum-colour", From: from, To: at, Course: vitals.Worse, Answers: []watch.WatchedAnswer{
		{At: from, Chosen: []vitals.GradeID{"pink"}}, {At: at, Chosen: []vitals.GradeID{"pale-pink"}}}}
	same := gums
	same.Course, same.Answers = vitals.Same, gums.Answers[:1]
	return []watch.Watched{same, gums, heart}
}

func TestAloud(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]int{
		"":                          0,
		"off her feed":              3,
		"52 a minute":               3,
		"fifty-two a minute":        3,
		"38.4 °C":                   4, // thirty-eight point four degrees (Celsius goes unsaid)
		"at 2:10 am":                4,
		"555 010 0142":              10,
		"+1-555-010-0142":           11,
		"one – two":                 2,
		"fewer than 1 in 1000":      8,
		"101.3 °F, digital":         7,
		"usually 0.8 to 2.1.":       8,
		"Monday, 3 August 2026":     7,
		"counted over 15s, regular": 5,
	} {
		td.Cmp(t, aloud(text), want, text)
	}
}

func TestClip(t *testing.T) {
	t.Parallel()
	short, cut := clip("off her feed, looking at her flank", 3)
	td.Cmp(t, short, "off her feed…")
	td.CmpTrue(t, cut)
	short, cut = clip("off her feed", 3)
	td.Cmp(t, short, "off her feed")
	td.CmpFalse(t, cut)
}

// No text of the report may be read as an all-clear, name a cause or advise a treatment.
var banned = map[words.Lang]*regexp.Regexp{
	words.English: regexp.MustCompile(`(?i)\b(normal|normally|fine|healthy|ok|okay|all clear|no problems?|nothing wrong|` +
		`nothing is wrong|safe|diagnos\w*|should (give|take)|recommend\w*|treat\w*|is well|within limits)\b`),
	words.Spanish: regexp.MustCompile(`(?i)\b(normal|normales|normalmente|san[oa]s?|est[áa] bien|sin problemas?|todo bien|` +
		`nada malo|a salvo|diagn[óo]st\w*|debe (dar|tomar)|d[ée]le|recomiend\w*|recomend\w*|trat(ar|e|amiento)\w*|dentro de los límites)\b`),
}

func TestBanList(t *testing.T) {
	t.Parallel()
	ours := regexp.MustCompile(`^(number|heading|said|report|ruler|settle|warning|lesson|how|amount)\.`)
	for _, lang := range words.Langs() {
		source := words.Say(lang, "report.basis.cite", "cite", "")
		banned, listed := banned[lang]
		if !listed {
			t.Errorf("%s: write the words that no report may say into banned", lang)
			continue
		}
		source, _, _ = strings.Cut(source, ":")
		for key, text := range words.Keys(lang) {
			if ours.MatchString(key) && key != "lesson.not-labelled" { // asks what the label was
				td.Cmp(t, banned.FindString(text), "", key)
			}
		}
		for _, in := range []Input{badNight(), {}} {
			for _, p := range Call(in, lang).Parts {
				for _, l := range p.Lines {
					if !strings.HasPrefix(l.Text, source+": ") { // titles of published works
						td.Cmp(t, banned.FindString(l.Text), "", l.Text)
					}
				}
			}
		}
	}
	td.CmpNot(t, banned[words.English].FindString("She is fine."), "", "the list finds what it is for")
	td.CmpNot(t, banned[words.Spanish].FindString("La yegua está sana."), "", "the list finds what it is for")
}

// Nothing that differs, no finding, no reason and no text entered is lost.
func checkWhole(t interface{ Errorf(string, ...any) }, in Input, r Report) {
	told := map[PartID]Part{}
	for _, p := range r.Parts {
		told[p.ID] = p
	}
	// What is never cut may take longer.
	fixed := neverCut(in, r)
	if first := total([]Part{told[PartWho], told[PartWhat], {Lines: told[PartDanger].Lines[:1]}}); first > firstWords(r.Lang)+fixed {
		t.Errorf("the first three parts take %d words: %+v", first, r.Parts[:3])
	}
	spoken := 0
	for _, p := range r.Parts {
		if p.ID.Aloud() && p.ID != PartWords { // those are read after the two minutes
			spoken += total([]Part{p})
		}
		for _, l := range p.Lines {
			if strings.ContainsAny(l.Text, "\n\r\t") {
				t.Errorf("a line holds a line break: %q", l.Text)
			}
		}
	}
	if spoken > allWords+fixed {
		for _, p := range r.Parts[:len(r.Parts)-1] {
			t.Errorf("%s: %d words: %q", p.ID, total([]Part{p}), texts(p.Lines))
		}
		t.Errorf("the whole takes %d words", spoken)
	}
	if n := len(in.Comparison.Signs) + len(in.Comparison.Unchecked); len(told[PartBasis].Lines) < n {
		t.Errorf("%d findings and reasons, %d lines of basis", n, len(told[PartBasis].Lines))
	}
	digitsSurvive(t, in, r)
	all := r.Text()
	flat := strings.Join(strings.Fields(all), " ")
	if s := in.Exam.Story; s != nil {
		for _, text := range []string{s.Callback, s.Noticed, s.Passed, s.Intake, s.Changed, s.History, s.Stands} {
			// A sentence begins with a capital; some letters share theirs with another ("ᲀ" and "в").
			fold := func(s string) string { return strings.ToLower(strings.ToUpper(s)) }
			if text = bare(text); !strings.Contains(fold(flat), fold(text)) {
				t.Errorf("lost: %q", text)
			}
		}
	}
	for _, line := range strings.Split(all, "\n") {
		if utf8.RuneCountInString(line) > columns && len(strings.Fields(line)) > 2 {
			t.Errorf("too wide: %q", line)
		}
	}
}

// neverCut counts the words of what is told at any length: the place, the number, what was given, and what makes it urgent.
func neverCut(in Input, r Report) int {
	n := aloud(in.Horse.Stands)
	if s := in.Exam.Story; s != nil {
		n = aloud(cmp.Or(bare(s.Stands), in.Horse.Stands)) + aloud(s.Callback)
		for _, g := range s.Given {
			n += 2 * (aloud(g.What) + aloud(g.Dose) + aloud(g.By) + 8)
		}
	}
	return n + 2*aloud(in.Exam.State.With) + total([]Part{{Lines: part(r, PartDanger).Lines}})
}

// digitsSurvive looks for every word with a figure of the story among what is read aloud.
func digitsSurvive(t interface{ Errorf(string, ...any) }, in Input, r Report) {
	said := map[string]bool{}
	for _, c := range r.Aloud() {
		var b strings.Builder
		for _, p := range c.Pieces {
			b.WriteString(cmp.Or(p.Figure, p.Say))
		}
		for _, w := range strings.Fields(b.String()) {
			said[strings.Trim(w, ".,;")] = true
		}
	}
	told := []string{in.Exam.State.With}
	if !in.Exam.State.In(vitals.Medicated) {
		told = nil
	}
	if s := in.Exam.Story; s != nil {
		told = append(told, s.Noticed, s.Passed, s.Intake, s.Changed, s.History, s.Stands, s.Callback)
		for _, g := range s.Given {
			told = append(told, g.What, g.Dose, g.By)
		}
	}
	for _, text := range told {
		for _, w := range strings.Fields(clean(text)) {
			if w = strings.Trim(w, ".,;"); strings.ContainsFunc(w, unicode.IsDigit) && !said[upper(w)] && !said[w] {
				t.Errorf("%q of %q is not read aloud", w, text)
			}
		}
	}
}

func TestWhole(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		checkWhole(t, badNight(), Call(badNight(), lang))
	}
}

// Every sign of the catalogue not as usual at every site, every rule fired, every text long.
func TestEverythingAtOnce(t *testing.T) {
	t.Parallel()
	in := badNight()
	long := strings.TrimSpace(strings.Repeat("and then it went on for a long while ", 30))
	in.Exam.By, in.Horse.Name, in.Horse.Breed, in.Horse.InFoal = long, long, long, true
	in.Exam.State = vitals.State{Condition: vitals.AfterWork, SinceMinutes: 1439, Effort: vitals.Moderate, With: long}
	yes := true
	in.Exam.Story = &vitals.Story{Noticed: long, Since: in.Exam.At.AddDate(-1, 0, -9), Course: vitals.Same, Bouts: &yes,
		Passed: long + " p", Intake: long + " i", Changed: long + " c", History: long + " h", Stands: long + " s",
		Callback: "+000 123 456 789 012", Ask: vitals.AskRing,
		Given: []vitals.Given{{What: long, Dose: long, At: in.Exam.At, By: long}}}
	in.Comparison.Signs, in.Comparison.Alarms, in.Comparison.Unchecked = nil, nil, nil
	states := []baseline.Statement{baseline.Higher, baseline.Differs, baseline.Noted, baseline.AsUsual}
	for i, s := range vitals.Catalogue() {
		sites := []vitals.SiteID{""}
		if s.PerSite {
			sites = nil
			for _, x := range s.Sites {
				sites = append(sites, x.ID)
			}
		}
		for j, site := range sites {
			c := baseline.Compared{Sign: s.ID, Site: site, Statement: states[(i+j)%4], Strong: i%2 == 0, Tail: 0.001, Basis: baseline.Basis{Exams: j}}
			if s.Kind.Measured() {
				c.Measure = &vitals.Measure{Value: 188.8, SD: 3, Unit: s.Unit}
				c.Own = &baseline.Interval{Low: 101.1, Mid: 120.1, High: 133.3}
			} else {
				for _, g := range s.Grades {
					c.Chosen = append(c.Chosen, g.ID)
				}
			}
			in.Comparison.Signs = append(in.Comparison.Signs, c)
			in.Comparison.Unchecked = append(in.Comparison.Unchecked,
				baseline.Unchecked{Sign: s.ID, Site: site, Reason: vitals.Absences()[(i+j)%len(vitals.Absences())]})
			urgency := vitals.RingNow
			if i%3 == 0 {
				urgency = vitals.RingSoon
			}
			in.Comparison.Alarms = append(in.Comparison.Alarms, vitals.Fired{Alarm: "x", Sign: s.ID, Urgency: urgency})
		}
	}
	for _, lang := range words.Langs() {
		r := Call(in, lang)
		checkWhole(t, in, r)
		if testing.Verbose() {
			t.Log("\n" + r.Text())
		}
	}
}

// text draws what a handler may type: words, digits, breaks, other scripts, marks of
// direction, markup.
var text = rapid.OneOf(rapid.Just(""), rapid.String(),
	rapid.Map(rapid.SliceOfN(rapid.SampledFrom([]string{"off", "her", "feed", "<b>", "&", "555", "0142", "38.4", "2:10",
		"\n", "\u202e", "caballo", "\x00", "“”", "-", "100000000000000000000"}), 0, 60),
		func(w []string) string { return strings.Join(w, " ") }))

// figures draws numbers, also those that a comparison must never hold.
var figures = rapid.OneOf(rapid.Float64Range(0, 200), rapid.Float64())

func drawInput(t *rapid.T) Input {
	when := func(label string) time.Time {
		return time.Unix(rapid.Int64Range(0, 4e9).Draw(t, label), 0).In(time.FixedZone("", rapid.IntRange(-12, 14).Draw(t, "zone")*3600))
	}
	signs := vitals.Catalogue()
	in := Input{
		Horse: vitals.Horse{Name: text.Draw(t, "name"), Sex: rapid.SampledFrom([]vitals.Sex{"", vitals.Mare, vitals.Gelding, vitals.Stallion}).Draw(t, "sex"),
			Type: rapid.SampledFrom(vitals.Types()).Draw(t, "type"), Breed: text.Draw(t, "breed"), InFoal: rapid.Bool().Draw(t, "in foal"),
			Born: vitals.DateOf(when("born")), BornYearOnly: rapid.Bool().Draw(t, "year only")},
		Exam: vitals.Exam{At: when("at"), By: text.Draw(t, "by"), Depth: rapid.SampledFrom(vitals.Depths()).Draw(t, "depth"),
			State: vitals.State{Condition: rapid.SampledFrom(vitals.Conditions()).Draw(t, "condition"), SinceMinutes: rapid.IntRange(0, 1440).Draw(t, "minutes"), With: text.Draw(t, "with")}},
	}
	if rapid.Bool().Draw(t, "story") {
		in.Exam.Story = &vitals.Story{Noticed: text.Draw(t, "noticed"), Since: when("since"), Course: rapid.SampledFrom(vitals.Courses()).Draw(t, "course"),
			Passed: text.Draw(t, "passed"), Intake: text.Draw(t, "intake"), Changed: text.Draw(t, "changed"), History: text.Draw(t, "history"),
			Stands: text.Draw(t, "stands"), Callback: text.Draw(t, "callback"), Ask: rapid.SampledFrom(vitals.Asks()).Draw(t, "ask"),
			Given: []vitals.Given{{What: text.Draw(t, "what"), At: when("given")}}}
	}
	if rapid.Bool().Draw(t, "set") {
		in.Exam.State.Condition, in.Exam.State.Also = vitals.AfterWork, []vitals.Condition{vitals.Excited, vitals.Medicated}
	}
	if rapid.Bool().Draw(t, "call") {
		in.Exam.Call = &vitals.Call{SaidAt: when("said"), ToldAt: when("told"), Told: text.Draw(t, "told to"), ClosedAt: when("closed"), Outcome: text.Draw(t, "outcome")}
	}
	for range rapid.IntRange(0, 40).Draw(t, "signs") {
		s := rapid.SampledFrom(signs).Draw(t, "sign")
		c := baseline.Compared{Sign: s.ID, Tail: rapid.Float64().Draw(t, "tail"), Strong: rapid.Bool().Draw(t, "strong"),
			Statement: rapid.SampledFrom([]baseline.Statement{baseline.AsUsual, baseline.Higher, baseline.Lower, baseline.Differs, baseline.FirstSeen, baseline.Noted, "other"}).Draw(t, "statement"),
			Basis:     baseline.Basis{Exams: rapid.IntRange(0, 30).Draw(t, "exams"), Weak: rapid.Bool().Draw(t, "weak")}}
		if len(s.Sites) > 0 && s.PerSite {
			c.Site = rapid.SampledFrom(s.Sites).Draw(t, "site").ID
		}
		if rapid.Bool().Draw(t, "measured") {
			c.Measure = &vitals.Measure{Value: rapid.Float64Range(0, 300).Draw(t, "value"), SD: figures.Draw(t, "sd"), Unit: s.Unit}
			c.Own = &baseline.Interval{Low: rapid.Float64Range(0, 300).Draw(t, "low"), High: rapid.Float64Range(0, 300).Draw(t, "high")}
		} else if len(s.Grades) > 0 {
			c.Chosen = []vitals.GradeID{rapid.SampledFrom(s.Grades).Draw(t, "grade").ID}
		}
		in.Comparison.Signs = append(in.Comparison.Signs, c)
		if rapid.Bool().Draw(t, "fired") {
			fired := vitals.Fired{Alarm: rapid.SampledFrom(vitals.Alarms()).Draw(t, "rule").ID, Sign: s.ID,
				Urgency: rapid.SampledFrom([]vitals.Urgency{vitals.RingNow, vitals.RingSoon, vitals.CheckAgain}).Draw(t, "urgency"),
				Problem: rapid.SampledFrom(vitals.Problems()).Draw(t, "problem")}
			if fired.Urgency == vitals.CheckAgain {
				fired.Minutes, fired.Then = rapid.IntRange(1, 720).Draw(t, "wait"), rapid.SampledFrom([]vitals.Urgency{vitals.RingNow, vitals.RingSoon}).Draw(t, "then")
			}
			for range rapid.IntRange(0, 3).Draw(t, "with") {
				fired.With = append(fired.With, rapid.SampledFrom(signs).Draw(t, "other").ID)
			}
			if rapid.Bool().Draw(t, "first") {
				fired.First = rapid.SampledFrom(vitals.Acts()).Draw(t, "act")
			}
			in.Comparison.Alarms = append(in.Comparison.Alarms, fired)
		}
	}
	if rapid.Bool().Draw(t, "watched") {
		for range rapid.IntRange(1, 9).Draw(t, "times") {
			in.Watched = append(in.Watched, watchedNight(in.Exam.At)...)
		}
	}
	for range rapid.IntRange(0, 40).Draw(t, "unchecked") {
		in.Comparison.Unchecked = append(in.Comparison.Unchecked, baseline.Unchecked{Sign: rapid.SampledFrom(signs).Draw(t, "sign").ID,
			Reason: rapid.SampledFrom(vitals.Absences()).Draw(t, "reason")})
	}
	return in
}

func TestAnyCall(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		lang := rapid.SampledFrom(words.Langs()).Draw(t, "lang")
		r := Call(in, lang)
		checkWhole(t, in, r)
		if again := Call(in, lang); again.Text() != r.Text() {
			t.Errorf("not the same twice")
		}
		if _, err := json.Marshal(r); err != nil {
			t.Error(err)
		}
		Heading(Input{Horse: in.Horse, Comparison: in.Comparison}, lang)
		for _, s := range in.Comparison.Signs {
			for _, line := range Said(s, nil, in.Horse, lang) {
				if strings.Contains(line, "{") || line == "" {
					t.Errorf("a sentence with a gap: %q", line)
				}
			}
			wellFormed(t, Ruler(s, lang))
		}
	})
}
