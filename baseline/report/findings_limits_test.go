package report

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// callOf is a call about a mare with these findings.
func callOf(signs ...baseline.Compared) *caller {
	c := &caller{telling: about(vitals.Horse{Sex: vitals.Mare}, words.English), in: Input{Comparison: baseline.Comparison{Signs: signs}}}
	c.index()
	return c
}

func texts(lines []Line) (out []string) {
	for _, l := range lines {
		out = append(out, l.Text)
	}
	return out
}

// Names that take too many words are counted, and so are the words of the count.
func TestFit(t *testing.T) {
	t.Parallel()
	names := strings.Split("a b|c d|e f|g h|i j", "|")
	for _, x := range []struct {
		n, limit int
		said     string
	}{
		{3, 6, "a b; c d; e f"}, {3, 4, "3 signs"}, {4, 4, "4 signs"}, {4, 5, "a b; and 3 more"},
		{5, 6, "a b; and 4 more"}, {5, 7, "a b; c d; and 3 more"}, {5, 10, "a b; c d; e f; g h; i j"}, {1, 0, "1 sign"},
	} {
		td.Cmp(t, callOf().fit(names[:x.n], "; ", x.limit), x.said, "%d in %d", x.n, x.limit)
	}
}

// What is not as usual is told as far as it fits: in full, then shorter from the end, then counted. Its words
// as they are said: 25 in full and 9 in short of the heart rate, 22 and 9 of the breathing rate, 8 of what it
// is based on, 6 of the count.
func TestDiffersInItsRoom(t *testing.T) {
	t.Parallel()
	a := heart()
	a.Tail, a.Strong = .0002, true
	b := baseline.Compared{Sign: vitals.RespiratoryRate, Statement: baseline.Higher, Basis: baseline.Basis{Exams: 11}, Tail: .015,
		Measure: &vitals.Measure{Value: 30, Unit: vitals.PerMinute}, Own: &baseline.Interval{Low: 10, High: 16}}
	const heartShort, breathShort, rests = "Heart rate 52 a minute; usually 29 to 39.", "Breathing rate 30 a minute; usually 10 to 16.", "Her usual is based on 11 quiet-day exams."
	heartLong, breathLong := heartShort+" Fewer than 1 in 1000 of her quiet-day readings would be this high.", breathShort+" Fewer than 1 in 50 of her quiet-day readings would be this high."
	more := func(n string) string {
		return strings.Replace("And "+n+" more things not usual.", "1 more things", "1 more thing", 1)
	}
	for _, x := range []struct {
		of    []baseline.Compared
		room  int
		said  []string
		whole bool
	}{
		{[]baseline.Compared{b, a}, 55, []string{heartLong, breathLong, rests}, true},
		{[]baseline.Compared{b, a}, 54, []string{heartLong, breathShort, rests}, false},
		{[]baseline.Compared{b, a}, 42, []string{heartLong, breathShort, rests}, false},
		{[]baseline.Compared{b, a}, 41, []string{heartShort, breathShort, rests}, false},
		{[]baseline.Compared{b, a}, 26, []string{heartShort, breathShort, rests}, false},
		{[]baseline.Compared{b, a}, 23, []string{heartShort, more("1"), rests}, false},
		{[]baseline.Compared{b, a}, 22, []string{more("2"), rests}, false},
		{[]baseline.Compared{a, a, a, a}, 44, []string{heartShort, heartShort, heartShort, heartShort, rests}, false},
		{[]baseline.Compared{a, a, a, a}, 41, []string{heartShort, heartShort, heartShort, more("1"), rests}, false},
		{[]baseline.Compared{a, a, a, a}, 40, []string{heartShort, heartShort, more("2"), rests}, false},
		{[]baseline.Compared{a, a, a, a}, 32, []string{heartShort, heartShort, more("2"), rests}, false},
		{[]baseline.Compared{a, a, a, a}, 31, []string{heartShort, more("3"), rests}, false},
	} {
		lines, whole := callOf(x.of...).differs(levels[0], x.room)
		td.Cmp(t, texts(lines), x.said, "in %d words", x.room)
		td.Cmp(t, whole, x.whole, "in %d words", x.room)
	}
	lines, _ := callOf(b, a).differs(levels[0], 55)
	td.Cmp(t, []bool{lines[0].Strong, lines[1].Strong, lines[2].Strong}, []bool{true, false, false})
	// Nothing that differs takes sixteen words.
	a.Statement = baseline.AsUsual
	for room, fits := range map[int]bool{16: true, 15: false} {
		lines, whole := callOf(a).differs(levels[0], room)
		td.Cmp(t, texts(lines), []string{"Every sign compared is in her usual range.", rests})
		td.Cmp(t, whole, fits, "in %d words", room)
	}
	c := callOf(a)
	c.in.Comparison.Overall = baseline.Overall{Unusual: true, P: .004}
	td.Cmp(t, c.nothing()[0], Line{Text: "Together, fewer than 1 in 200 of her quiet-day exams would be this unusual.", Strong: true})
	c.in.Comparison.Overall = baseline.Overall{Signs: 6, Far: 1.7}
	td.Cmp(t, c.nothing()[0], Line{Text: "Many signs together are a little off.", Strong: true})
	c.in.Comparison.Overall.Far = 1.6
	c.in.Comparison.Signs[0].Basis.Exams = 0
	td.Cmp(t, c.nothing()[0].Text, "Every sign compared is in the usual range for animals like her.")
	// Not beside a rule that fired, nor beside an answer that is not a healthy animal's.
	c.in.Comparison.Alarms = []vitals.Fired{{Sign: vitals.Feed, Urgency: vitals.RingSoon}}
	td.Cmp(t, texts(c.nothing()), []string{"Her own usual is not known yet."})
	c.in.Comparison.Alarms = nil
	c.in.Comparison.Signs = append(c.in.Comparison.Signs, baseline.Compared{Sign: vitals.Feed, Chosen: []vitals.GradeID{"less"}, Statement: baseline.Noted})
	td.Cmp(t, texts(c.nothing()), []string{"Her own usual is not known yet."})
	c.in.Comparison.Signs = c.in.Comparison.Signs[:1]
	c.in.Comparison.Signs[0].Statement = baseline.Noted
	td.Cmp(t, texts(c.nothing()), []string{"Nothing was compared."})
	// What should be known today stands in the opening.
	soon := callOf(b)
	soon.in.Comparison.Alarms = []vitals.Fired{{Sign: vitals.RespiratoryRate, Urgency: vitals.RingSoon}}
	td.Cmp(t, soon.danger()[0], Line{Text: "Today: breathing 30.", Strong: true})
	// Then what is to be checked again, by what follows and when; and what is new after what is rare.
	soon.in.Comparison.Alarms = append(soon.in.Comparison.Alarms,
		vitals.Fired{Sign: vitals.Attitude, Urgency: vitals.CheckAgain, Minutes: 240, Then: vitals.RingSoon},
		vitals.Fired{Sign: vitals.Nostrils, Urgency: vitals.CheckAgain, Minutes: 30, Then: vitals.RingNow, Problem: vitals.ProblemNose},
		vitals.Fired{Sign: vitals.Sway, With: []vitals.SignID{vitals.Gait, vitals.Turn}, Urgency: vitals.CheckAgain, Minutes: 30, Then: vitals.RingNow, Problem: vitals.ProblemNerves})
	soon.in.Comparison.Signs = append(soon.in.Comparison.Signs, baseline.Compared{Sign: vitals.GumColour, Chosen: []vitals.GradeID{"pale-pink"},
		Statement: baseline.FirstSeen, Basis: baseline.Basis{Exams: 8}})
	lines, _ = soon.differs(levels[0], 100)
	td.Cmp(t, texts(soon.danger()[1:3]), []string{
		"Check again in 30 minutes: balance; walk; turning; nostrils. Still so: call your vet now.",
		"Check again in 4 hours: attitude. Still so: tell your vet today.",
	})
	td.Cmp(t, lines[len(lines)-2].Text, "Gum color: pale pink. None of her 8 quiet-day exams showed this.")
	// Beside a call for now nothing softer is told, and what it rests on is only recorded; what is urgent says so again, and
	// not how seldom it is.
	soon.in.Comparison.Alarms = append(soon.in.Comparison.Alarms, vitals.Fired{Sign: vitals.GumColour, Urgency: vitals.RingNow})
	soon.in.Comparison.Signs = append(soon.in.Comparison.Signs, baseline.Compared{Sign: vitals.Attitude, Chosen: []vitals.GradeID{"anxious"}, Statement: baseline.AsUsual},
		baseline.Compared{Sign: vitals.Nostrils, Chosen: []vitals.GradeID{"clear"}, Statement: baseline.Noted})
	lines, _ = soon.differs(levels[0], 100)
	soon.before = 9
	td.Cmp(t, texts(soon.danger()), []string{"Urgent: gums pale pink."})
	td.Cmp(t, lines, []Line{{Text: "Breathing rate 30 a minute; usually 10 to 16."}, {Text: "Her usual is based on 0 to 11 quiet-day exams."}})
	td.Cmp(t, texts(soon.noted(levels[0])), []string{"Attitude: anxious; nostrils: clear, watery."})
	td.Cmp(t, texts(soon.usual(levels[0])), td.Empty())
}

// What this horse usually shows is told of an answer where it is not what most horses show.
func TestUsualAnswerBeside(t *testing.T) {
	t.Parallel()
	tell := func(change func(*baseline.Compared)) string {
		s := baseline.Compared{Sign: vitals.GutSounds, Statement: baseline.Differs, Chosen: []vitals.GradeID{"none"}, Usual: []vitals.GradeID{"less"}, Basis: baseline.Basis{Exams: 4}, Seen: 1}
		change(&s)
		return callOf(s).differing(group{[]baseline.Compared{s}}, false)
	}
	less := telling{lang: words.English}.grade(vitals.GutSounds, "less")
	td.Cmp(t, tell(func(*baseline.Compared) {}), "Gut sounds: none in a minute; usually "+less+".")
	for name, change := range map[string]func(*baseline.Compared){
		"as most horses":     func(s *baseline.Compared) { s.Usual = []vitals.GradeID{"usual"} },
		"no exam of its own": func(s *baseline.Compared) { s.Basis.Exams = 0 },
		"nothing usual":      func(s *baseline.Compared) { s.Usual = nil },
		"the same answer":    func(s *baseline.Compared) { s.Usual = s.Chosen },
		"no answer known":    func(s *baseline.Compared) { s.Usual = []vitals.GradeID{"no-such-grade"} },
	} {
		td.Cmp(t, tell(change), "Gut sounds: none in a minute.", name)
	}
	td.Cmp(t, tell(func(s *baseline.Compared) { s.Sign = "no-such-sign" }), "No such sign: none.")
	m := heart()
	m.Usual, m.Own = []vitals.GradeID{"less"}, nil
	td.Cmp(t, callOf(m).differing(group{[]baseline.Compared{m}}, false), "Heart rate 52 a minute.")
	m.Own = &baseline.Interval{Low: 34.4, High: 33.6}
	td.Cmp(t, callOf(m).differing(group{[]baseline.Compared{m}}, false), "Heart rate 52 a minute; usually 34.")
	m.Own, m.Basis.Exams = &baseline.Interval{Low: 28, High: 44}, 0
	td.Cmp(t, callOf(m).differing(group{[]baseline.Compared{m}}, false), "Heart rate 52 a minute; usual for animals 28 to 44.")
	m.Own.High = inf()
	td.Cmp(t, callOf(m).differing(group{[]baseline.Compared{m}}, false), "Heart rate 52 a minute.")
	m.Measure.Value = inf()
	td.Cmp(t, callOf(m).value(m), "no value")
}

// On how many exams it rests, of those signs that were compared.
func TestRestsOn(t *testing.T) {
	t.Parallel()
	of := func(exams int, weak, printed bool) baseline.Compared {
		s := baseline.Compared{Sign: vitals.HeartRate, Statement: baseline.AsUsual, Basis: baseline.Basis{Exams: exams, Weak: weak}}
		if printed {
			s.Basis.Prior = []vitals.Provenance{{Mark: vitals.Assumed}, {Source: "somewhere"}}
		}
		return s
	}
	noted := of(9, true, true)
	noted.Statement = baseline.Noted
	for said, signs := range map[string][]baseline.Compared{
		"Her own usual is not known yet.":                                                            {noted, of(0, true, false)},
		"Compared with published ranges. Her own usual is not known yet.":                            {of(0, true, true), of(0, true, false)},
		"Her usual is based on 3 quiet-day exams.":                                                   {of(3, false, true), of(3, false, false)},
		"Her usual is based on 3 quiet-day exams and on published ranges.":                           {of(3, true, true), of(3, false, false)},
		"Her usual is based on 3 to 5 quiet-day exams, and on published ranges where there are few.": {of(4, false, true), of(5, false, false), of(3, false, false)},
		"Her usual is based on 0 to 1 quiet-day exams, and on published ranges where there are few.": {of(0, false, true), of(1, false, false)},
	} {
		td.Cmp(t, callOf(signs...).restsOn().Text, said)
	}
}

// What is as usual: half of the room for each where some rests on own exams and some on published ranges alone.
func TestUsualInItsRoom(t *testing.T) {
	t.Parallel()
	of := func(id vitals.SignID, exams int) baseline.Compared {
		return baseline.Compared{Sign: id, Statement: baseline.AsUsual, Measure: &vitals.Measure{Value: 30, Unit: vitals.PerMinute}, Basis: baseline.Basis{Exams: exams}}
	}
	td.Cmp(t, texts(callOf(of(vitals.HeartRate, 1), of(vitals.RespiratoryRate, 1)).usual(level{list: 10})), []string{"For her: heart rate 30 a minute; breathing rate 30 a minute."})
	td.Cmp(t, texts(callOf(of(vitals.HeartRate, 0), of(vitals.RespiratoryRate, 0)).usual(level{list: 10})), []string{"For animals like her: heart rate 30 a minute; breathing rate 30 a minute."})
	td.Cmp(t, texts(callOf(of(vitals.HeartRate, 1), of(vitals.RespiratoryRate, 1), of(vitals.HeartRate, 0)).usual(level{list: 10})),
		[]string{"For her: 2 signs.", "For animals like her: heart rate 30 a minute."})
}

// A reason is told with what was found, and with its places until those are left out.
func TestReasonsInFewWords(t *testing.T) {
	t.Parallel()
	gut := func(site vitals.SiteID, g vitals.GradeID) baseline.Compared {
		return baseline.Compared{Sign: vitals.GutSounds, Site: site, Statement: baseline.Differs, Chosen: []vitals.GradeID{g}}
	}
	right, left, low := gut("gut-upper-right", "none"), gut("gut-upper-left", "none"), gut("gut-lower-left", "none")
	for _, x := range []struct {
		leaves leaving
		of     []baseline.Compared
		said   string
	}{
		{0, []baseline.Compared{right}, "gut sounds, upper right: none in a minute"},
		{0, []baseline.Compared{right, left}, "gut sounds, upper right and upper left: none in a minute"},
		{0, []baseline.Compared{right, left, low}, "gut sounds at 3 places: none in a minute"},
		{0, []baseline.Compared{gut("gut-lower-left", "less"), right}, "gut sounds, upper right: none in a minute"},
		{leaveSites, []baseline.Compared{right}, "gut sounds: none in a minute"},
		{0, nil, "gut sounds"},
	} {
		c := callOf(x.of...)
		c.leaves = x.leaves
		td.Cmp(t, c.phrases([]vitals.Fired{{Sign: vitals.GutSounds}}), []string{x.said}, "%d", x.leaves)
	}
	// Only the places at which the rule fired.
	c := callOf(right, left)
	c.in.Comparison.Alarms = []vitals.Fired{{Sign: vitals.GutSounds, Urgency: vitals.RingNow, Sites: []vitals.SiteID{"gut-upper-left"}}, {Sign: vitals.HeartRate, Urgency: vitals.RingNow, Sites: []vitals.SiteID{"gut-upper-right"}}}
	td.Cmp(t, c.phrases([]vitals.Fired{{Sign: vitals.GutSounds}}), []string{"gut sounds, upper left: none in a minute"})
	// What says the same is told once, and the gums in one phrase.
	found := func(s vitals.SignID, g ...vitals.GradeID) baseline.Compared {
		return baseline.Compared{Sign: s, Chosen: g}
	}
	c = callOf(found(vitals.Doing, "pawing", "rolling"), found(vitals.DoingUsual, "unusual"), found(vitals.PainSigns, "paws", "lip-curl"), found(vitals.GumMoisture, "tacky"), found(vitals.GumColour, "purple"))
	all := []vitals.Fired{{Sign: vitals.DoingUsual}, {Sign: vitals.Doing, With: []vitals.SignID{vitals.PainSigns}}, {Sign: vitals.GumMoisture}, {Sign: vitals.GumColour}}
	td.Cmp(t, c.phrases(all), []string{"gums purple and tacky", "paws and curls the upper lip", "rolling"})
	c = callOf(found(vitals.Doing, "pawing"), found(vitals.DoingUsual, "unusual"), found(vitals.PainSigns, "paws"))
	td.Cmp(t, c.phrases(all[:2]), []string{"paws"})
	td.Cmp(t, c.phrases(all[:1]), []string{"not usual for this hour and place"})
}

// Danger holds every reason, whatever the room; after the third what was given comes first.
func TestDangerIsNeverCut(t *testing.T) {
	t.Parallel()
	c := callOf(baseline.Compared{Sign: vitals.GutSounds, Chosen: []vitals.GradeID{"none"}}, heart(), baseline.Compared{Sign: vitals.GumColour, Chosen: []vitals.GradeID{"white"}}, baseline.Compared{Sign: vitals.LimbWarmth, Chosen: []vitals.GradeID{"cold"}})
	c.in.Exam.Story = &vitals.Story{Given: []vitals.Given{{What: "paste", Dose: "10 ml"}}}
	for _, id := range []vitals.SignID{vitals.GutSounds, vitals.LimbWarmth, vitals.HeartRate, vitals.GumColour} {
		c.in.Comparison.Alarms = append(c.in.Comparison.Alarms, vitals.Fired{Sign: id, Urgency: vitals.RingNow, Problem: vitals.ProblemBelly})
	}
	c.order, c.before = orderOf(c.in.Comparison.Alarms), 9
	td.Cmp(t, texts(c.danger()), []string{"Urgent: gums white; heart rate 52; gut sounds: none in a minute; ears and legs cold.", "Given: paste, 10 ml."})
	c.before = worst
	td.Cmp(t, texts(c.danger()), []string{"Urgent: gums white; heart rate 52; gut sounds: none in a minute.", "Given: paste, 10 ml.", "Also urgent: ears and legs cold."})
	for i := range c.in.Comparison.Alarms {
		c.in.Comparison.Alarms[i].Urgency = vitals.RingSoon
	}
	td.Cmp(t, texts(c.danger()), []string{"Today: gums white; heart rate 52; gut sounds: none in a minute; ears and legs cold.", "No sign of this exam was left out.", "Given: paste, 10 ml."})
	none := callOf(heart())
	td.Cmp(t, texts(none.danger()), []string{"Not usual: heart rate 52.", "No rule here says to call now. That does not rule out a problem. No sign of this exam was left out."})
	none.in.Comparison.Unchecked = []baseline.Unchecked{{Sign: vitals.HeartRate}}
	td.Cmp(t, texts(none.danger()), []string{"Not usual: heart rate 52.", "No rule here says to call now. That does not rule out a problem. 1 sign was not checked."})
	td.Cmp(t, texts(callOf().danger()), []string{"Nothing was checked."})
}

// The opening gives up the lesser facts one by one, and tells each of them later.
func TestOpeningGivesUp(t *testing.T) {
	t.Parallel()
	yes := true
	at := time.Date(2026, 5, 3, 2, 10, 0, 0, time.UTC)
	c := callOf()
	c.in.Horse = vitals.Horse{Name: "Juniper", Type: vitals.TypeHorse, Sex: vitals.Mare, Born: vitals.Date{Year: 2017, Month: 4, Day: 1}}
	c.in.Exam = vitals.Exam{At: at, By: "Ana", Story: &vitals.Story{Noticed: "off her feed", Since: at.Add(-time.Hour), Course: vitals.Worse, Bouts: &yes, Callback: "555 010 0142", Stands: "Aspen Row"}}
	for _, x := range []struct {
		leaves   leaving
		by, what string
		moved    []fact
	}{
		{0, "This is Ana, about", "Off her feed, since 1:10 am, getting worse, comes and goes.", nil},
		{leaveCaller, "About", "Off her feed, since 1:10 am, getting worse, comes and goes.", []fact{{"report.by", "Ana"}}},
		{leaveBouts, "About", "Off her feed, since 1:10 am, getting worse.", []fact{{"report.by", "Ana"}, {"report.course", "comes and goes"}}},
		{leaveCourse, "About", "Off her feed, since 1:10 am.", []fact{{"report.by", "Ana"}, {"report.course", "getting worse"}, {"report.course", "comes and goes"}}},
		{leaveSince, "About", "Off her feed.", []fact{{"report.by", "Ana"}, {"report.since.label", "1:10 am"}, {"report.course", "getting worse"}, {"report.course", "comes and goes"}}},
	} {
		c.moved, c.leaves = nil, x.leaves
		td.Cmp(t, []string{c.who()[0].Text, c.what()[0].Text}, []string{"Call back: 555 010 0142. " + x.by + " Juniper, 9-year-old mare. Location: Aspen Row.", x.what})
		td.Cmp(t, c.moved, x.moved)
	}
	// The number and the place are told whole, at any length; a number of more than sixteen words is not read back.
	c.leaves = leaveNoticed
	for _, phone := range []string{"1234567890123456", "12345678901234567"} {
		c.in.Exam = vitals.Exam{At: at, Story: &vitals.Story{Callback: phone, Stands: strings.Repeat("past the gate ", 40)}}
		td.Cmp(t, c.who()[0].Text, td.All(td.HasPrefix("Call back: "+phone+". About Juniper"), td.Contains(strings.TrimSpace(c.in.Exam.Story.Stands))))
		td.Cmp(t, len(c.ask()), map[bool]int{true: 3, false: 2}[len(phone) == 16])
	}
	c.leaves = 0
	// What was not entered is asked.
	c.in.Exam = vitals.Exam{At: at, Story: &vitals.Story{Noticed: "off her feed"}}
	td.Cmp(t, texts(c.what()), []string{"Off her feed.", "Since when:", "Better, worse or the same; all the time, or on and off:"})
	c.in.Exam.Story.Course = vitals.Same
	td.Cmp(t, texts(c.what()), []string{"Off her feed, no change.", "Since when:"})
	no := false
	c.in.Exam.Story.Course, c.in.Exam.Story.Bouts = "", &no
	td.Cmp(t, texts(c.what()), []string{"Off her feed, all the time.", "Since when:"})
	c.in.Exam.Story = &vitals.Story{Given: []vitals.Given{{}, {What: "mash", Dose: "1 kg", At: at.Add(-time.Hour), By: "Ana"}, {What: "hay"}}}
	td.Cmp(t, texts(c.given(true)), []string{"Given: mash, 1 kg, at 1:10 am, by Ana; hay."})
}

// What was watched is told as far as it fits, at the least in 60 words, of six lines with 17 words and 12; the rest is in the basis.
func TestWatchedInItsRoom(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 5, 3, 2, 10, 0, 0, time.UTC)
	const rate, gums = "Heart rate: 52, 57, 64 a minute in 30 minutes, rising by about 4 a minute every 10 minutes.", "Gum color: pink, then pale pink. Worse than at the first exam."
	for room, said := range map[int][]string{81: {rate, rate, rate, gums, gums}, 0: {rate, rate, rate}} {
		c := callOf()
		c.in.Watched = slices.Repeat(watchedNight(at), 3)
		td.Cmp(t, texts(c.watched(level{list: room})), said, "in %d words", room)
		td.Cmp(t, len(c.full), 6-len(said), "in %d words", room)
	}
	c := callOf()
	c.in.Watched = watchedNight(at)[1:2]
	c.in.Watched[0].Course = vitals.Better
	td.Cmp(t, c.watched(levels[0])[0].Strong, false, "what gets better is not called out")
	c.in.Watched[0].To = c.in.Watched[0].From
	td.Cmp(t, c.watched(levels[0]), td.Empty(), "one look is no course")
}

// What was not checked, by its reason, each with its share of the room, and places counted.
func TestUncheckedByReason(t *testing.T) {
	t.Parallel()
	c := callOf(heart())
	td.Cmp(t, texts(c.unchecked(levels[0])), []string{"No sign of this exam was left out."})
	td.Cmp(t, texts(callOf().unchecked(levels[0])), []string{"Nothing was checked."})
	c.in.Comparison.Unchecked = []baseline.Unchecked{{Sign: vitals.LungSounds, Site: "lung-left", Reason: vitals.NotTried}, {Sign: vitals.LungSounds, Site: "lung-right", Reason: vitals.NotTried},
		{Sign: vitals.GutSounds, Site: "gut-upper-left", Reason: vitals.CouldNot}, {Sign: vitals.GumColour, Reason: "of its own"}}
	td.Cmp(t, texts(c.unchecked(level{list: 15})), []string{"Skipped: lung sounds at 2 places.", "Could not: gut sounds, upper left.", "No value: gum color."})
	td.Cmp(t, texts(c.unchecked(level{list: 14})), []string{"Skipped: 1 sign.", "Could not: gut sounds, upper left.", "No value: gum color."})
}

// A page of 72 columns: a line that fills it, one word more, and the rule to write on.
func TestPageWidth(t *testing.T) {
	t.Parallel()
	word := func(n int) string { return strings.Repeat("m", n) }
	page := func(l Line) string {
		text := Report{Title: "T", Parts: []Part{{Heading: "h", Lines: []Line{l}}}}.Text()
		return strings.TrimPrefix(text, "T\n=\n\nH\n")
	}
	td.Cmp(t, page(Line{Text: word(30) + " " + word(39)}), "  "+word(30)+" "+word(39)+"\n")
	td.Cmp(t, page(Line{Text: word(30) + " " + word(40), Strong: true}), "* "+word(30)+"\n    "+word(40)+"\n")
	td.Cmp(t, page(Line{Text: word(30) + " " + word(40) + " " + word(27)}), "  "+word(30)+"\n    "+word(40)+" "+word(27)+"\n")
	td.Cmp(t, page(Line{Text: word(30) + " " + word(40) + " " + word(28)}), "  "+word(30)+"\n    "+word(40)+"\n    "+word(28)+"\n")
	td.Cmp(t, page(Line{Text: word(56), Blank: true}), "  "+word(56)+" "+strings.Repeat("_", 13)+"\n")
	td.Cmp(t, page(Line{Text: word(57), Blank: true}), "  "+word(57)+"\n    "+strings.Repeat("_", 68)+"\n")
	td.Cmp(t, page(Line{Text: word(30) + " " + word(25), Blank: true}), "  "+word(30)+" "+word(25)+" "+strings.Repeat("_", 13)+"\n")
	td.Cmp(t, strings.Split(Report{Title: word(80)}.Text(), "\n")[1], strings.Repeat("=", 72))
	// Where a breath is taken: as long as may be, and not after a word or two.
	td.Cmp(t, breaths(word(151), words.English), []string{word(151)})
	td.Cmp(t, breaths(word(149)+". "+word(50), words.English), []string{word(149) + ".", word(50)})
	td.Cmp(t, breaths(word(36)+". "+word(100)+", "+word(100), words.English), []string{word(36) + ".", word(100) + ",", word(100)})
	td.Cmp(t, breaths(word(35)+". "+word(100)+", "+word(100), words.English), []string{word(35) + ". " + word(100) + ",", word(100)})
	for text, n := range map[string]int{"2:10h": 3, "12h": 2, "123h": 4, "12:345": 5, "123.45": 6, "%": 1, "(–)": 0, "a1b2": 3} {
		td.Cmp(t, aloud(text), n, text)
	}
	// Ranges with one end, two ends and none.
	tell := telling{lang: words.English}
	for _, x := range []struct {
		low, high  *float64
		said, bare string
	}{{nil, nil, "", ""}, {p(2), nil, "2 a minute or more", "2 or more"}, {nil, p(3), "up to 3 a minute", "up to 3"}, {p(2), p(3), "2 to 3 a minute", "2 to 3"}} {
		td.Cmp(t, []string{tell.span(x.low, x.high, vitals.PerMinute), tell.spanBare(x.low, x.high, vitals.PerMinute)}, []string{x.said, x.bare})
	}
	for _, x := range [][4]*float64{{nil, nil, nil, nil}, {p(1), nil, p(1), p(1)}, {nil, p(1), p(1), p(1)}, {p(1), p(2), p(1), p(2)}, {p(2), p(1), p(1), p(2)}} {
		td.Cmp(t, []*float64{lower(x[0], x[1]), higher(x[0], x[1])}, []*float64{x[2], x[3]})
	}
	td.Cmp(t, []bool{same(nil, nil), same(nil, p(1)), same(p(1), nil), same(p(1), p(1)), same(p(1), p(2))}, []bool{true, false, false, true, false})
}
