package vitals

import (
	"slices"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"
)

func firedIDs(h Horse, e Exam) []AlarmID {
	ids := []AlarmID{}
	for _, f := range FiredAlarms(h, e) {
		ids = append(ids, f.Alarm)
	}
	return ids
}

func choose(s SignID, site SiteID, grades ...GradeID) Finding {
	return Finding{Sign: s, Site: site, Chosen: grades}
}

func read(s SignID, value string, u Unit) Finding {
	return Finding{Sign: s, Reading: &Reading{Value: decimal.RequireFromString(value), Unit: u}}
}

func timed(s SignID, centi int) Finding {
	return Finding{Sign: s, Timed: &Timed{CentiSeconds: []int{centi}}}
}

// The thresholds as their sources print them, typed by hand.
func TestAlarmsFireAtThePrintedThresholds(t *testing.T) {
	t.Parallel()
	pain := choose(PainSigns, "", "paws")
	grownHorse, foal, donkey := animal(TypeHorse, Adult), animal(TypeHorse, Neonate), animal(TypeDonkey, Adult)
	hr := func(v string) Finding { return read(HeartRate, v, PerMinute) }
	f := func(v string) Finding { return read(RectalTemperature, v, Fahrenheit) }
	c := func(v string) Finding { return read(RectalTemperature, v, Celsius) }
	gums := func(g GradeID) Finding { return choose(GumColour, "", g) }

	for _, x := range []struct {
		source string
		horse  Horse
		quiet  []Finding // one step before the threshold
		loud   []Finding // at or just beyond it
		alarm  AlarmID
	}{
		{"Malone, Univ. Minnesota Extension 2012: over 45-50 with colic signs", grownHorse, []Finding{pain, hr("44")}, []Finding{pain, hr("45")}, "heart-pain"},
		{"the same: not without colic signs", grownHorse, []Finding{hr("59")}, []Finding{pain, hr("59")}, "heart-pain"},
		{"Devereux p. 760: 60", grownHorse, []Finding{hr("59")}, []Finding{hr("60")}, "heart-high"},
		{"older donkey table: to 68; WVS Academy: 60 to 80", donkey, []Finding{hr("68")}, []Finding{hr("69")}, "donkey-heart-high"},
		{"WVS Academy: donkey, 60-80", donkey, []Finding{hr("80")}, []Finding{hr("81")}, "donkey-heart-very-high"},
		{"WSVMA 2018: 102.5 F and over", grownHorse, []Finding{f("102.4")}, []Finding{f("102.5")}, "fever"},
		{"the same in Celsius, 39.17", grownHorse, []Finding{c("39.1")}, []Finding{c("39.2")}, "fever"},
		{"WSVMA 2018, donkeys too", donkey, []Finding{f("102.4")}, []Finding{f("102.5")}, "fever"},
		{"Hall 2019: 36.0 C is the lower limit", grownHorse, []Finding{c("36.0")}, []Finding{c("35.9")}, "cold"},
		{"Gerros: foal outside 99-102 F", foal, []Finding{f("102")}, []Finding{f("102.1")}, "foal-fever"},
		{"Lenz: foal outside 99-101.5 F", foal, []Finding{f("99.0")}, []Finding{f("98.9")}, "foal-cold"},
		{"Curtis 2015: capillary refill over 2.5 s", grownHorse, []Finding{timed(CapillaryRefill, 250)}, []Finding{timed(CapillaryRefill, 251)}, "refill-slow"},
		{"Curtis 2015 with Malone 2012", grownHorse, []Finding{pain, timed(CapillaryRefill, 250)}, []Finding{pain, timed(CapillaryRefill, 251)}, "refill-slow-pain"},
		{"Devereux p. 720: within three seconds", grownHorse, []Finding{timed(CapillaryRefill, 300)}, []Finding{timed(CapillaryRefill, 301)}, "refill-very-slow"},
		{"Curtis 2015: weak pulse in a colic", grownHorse, []Finding{choose(PulseStrength, "", "weak")}, []Finding{pain, choose(PulseStrength, "", "weak")}, "pulse-weak-pain"},
		{"UC Davis: red gums", grownHorse, []Finding{gums("pink")}, []Finding{gums("brick-red")}, "gum-colour"},
		{"UC Davis: white gums", grownHorse, []Finding{gums("pale-pink")}, []Finding{gums("white")}, "gum-colour"},
		{"UC Davis: blue gums", grownHorse, []Finding{gums("yellow")}, []Finding{gums("blue")}, "gum-colour"},
		{"UCI names file: dark cyanotic", grownHorse, []Finding{gums("pink")}, []Finding{gums("purple")}, "gum-purple"},
		{"Malone 2012: off colour with colic signs", grownHorse, []Finding{gums("pale-pink")}, []Finding{pain, gums("pale-pink")}, "gum-colour-pain"},
		{"Malone 2012: tacky with colic signs", grownHorse, []Finding{choose(GumMoisture, "", "tacky")}, []Finding{pain, choose(GumMoisture, "", "tacky")}, "gum-moisture-pain"},
		{"Lenz: a foal's yellow gums", foal, []Finding{gums("pink")}, []Finding{gums("yellow")}, "foal-gum-yellow"},
		{"Lenz: a dull foal", foal, []Finding{choose(Attitude, "", "quiet")}, []Finding{choose(Attitude, "", "dull")}, "foal-dull"},
		{"UK-Vet Equine: a dull donkey", donkey, []Finding{choose(Attitude, "", "quiet")}, []Finding{choose(Attitude, "", "dull")}, "donkey-dull"},
		{"UK-Vet Equine: an inappetent donkey", donkey, []Finding{choose(Feed, "", "usual")}, []Finding{choose(Feed, "", "less")}, "donkey-eats-less"},
		{"REACT: eating less", grownHorse, []Finding{choose(Feed, "", "usual")}, []Finding{choose(Feed, "", "less")}, "eats-less"},
		{"REACT: fewer droppings", grownHorse, []Finding{choose(Droppings, "", "loose")}, []Finding{choose(Droppings, "", "few", "dry")}, "few-droppings"},
		{"UC Davis: signs of colic", grownHorse, []Finding{choose(PainSigns, "", "none")}, []Finding{choose(PainSigns, "", "kicks-belly")}, "pain-signs"},
		{"UC Davis: signs of colic seen from afar", grownHorse, []Finding{choose(Doing, "", "lying")}, []Finding{choose(Doing, "", "watching-flank")}, "colic-behaviour"},
		{"rolling at the usual hour alone is pain: the rest was not answered", grownHorse, []Finding{choose(Doing, "", "lying"), choose(DoingUsual, "", "usual")},
			[]Finding{choose(Doing, "", "rolling"), choose(DoingUsual, "", "usual")}, "colic-behaviour"},
		{"rolling counts while nobody said that it is usual", grownHorse, []Finding{hr("50")}, []Finding{choose(Doing, "", "rolling"), hr("50")}, "heart-pain"},
		{"Lightfoot 2020: recumbency", grownHorse, []Finding{choose(Attitude, "", "anxious")}, []Finding{choose(Attitude, "", "down-not-rising")}, "down-not-rising"},
		{"Devereux p. 760: no gut sounds", grownHorse,
			[]Finding{choose(GutSounds, "flank-left", "none"), choose(GutSounds, "flank-right", "less")},
			[]Finding{choose(GutSounds, "flank-left", "none"), choose(GutSounds, "flank-right", "none")}, "gut-silent"},
		{"not while a side was not listened to", grownHorse,
			[]Finding{choose(GutSounds, "flank-left", "none"), {Sign: GutSounds, Site: "flank-right", Absent: CouldNot}},
			[]Finding{choose(GutSounds, "gut-upper-left", "none"), choose(GutSounds, "gut-lower-left", "none"),
				choose(GutSounds, "gut-upper-right", "none"), choose(GutSounds, "gut-lower-right", "none")}, "gut-silent"},
	} {
		td.CmpFalse(t, slices.Contains(firedIDs(x.horse, examOf(x.quiet...)), x.alarm), "%s: %s fires too soon", x.source, x.alarm)
		td.CmpTrue(t, slices.Contains(firedIDs(x.horse, examOf(x.loud...)), x.alarm), "%s: %s does not fire", x.source, x.alarm)
	}
}

func TestNothingFiresOnWhatWasNotChecked(t *testing.T) {
	t.Parallel()
	for _, why := range allAbsences {
		e := examOf()
		for _, s := range Catalogue() {
			e.Findings = append(e.Findings, Finding{Sign: s.ID, Absent: why})
		}
		for _, ty := range allTypes {
			td.Cmp(t, FiredAlarms(animal(ty, Adult), e), td.Empty(), "%s %s", ty, why)
		}
	}
	td.Cmp(t, FiredAlarms(Horse{}, Exam{Findings: []Finding{{Sign: "no-such-sign", Chosen: []GradeID{"x"}}}}), td.Empty())
}

// In the first hour after work the rules of rest are silent, and those of heat hold.
func TestWorkChangesTheRulesForAnHour(t *testing.T) {
	t.Parallel()
	h := animal(TypeHorse, Adult)
	e := examOf(read(HeartRate, "72", PerMinute), read(RectalTemperature, "39.3", Celsius), choose(GumColour, "", "white"))
	td.Cmp(t, firedIDs(h, e), []AlarmID{"gum-colour", "heart-high", "fever"})
	e.State = State{Condition: AfterWork, SinceMinutes: 15}
	td.Cmp(t, firedIDs(h, e), []AlarmID{"gum-colour"})
	e.State.SinceMinutes = 59
	td.Cmp(t, firedIDs(h, e), []AlarmID{"gum-colour", "heart-stays-64"})
	e.State.SinceMinutes = 60
	td.Cmp(t, firedIDs(h, e), []AlarmID{"gum-colour", "heart-settled-64", "fever"})
	e.State.SinceMinutes = 120
	td.Cmp(t, firedIDs(h, e), []AlarmID{"gum-colour", "heart-high", "fever"})
}

// An excited horse with nothing else amiss is counted again when it is quiet; anything else amiss does not wait.
func TestExcitementIsCountedAgain(t *testing.T) {
	t.Parallel()
	h := animal(TypeHorse, Adult)
	e := examOf(read(HeartRate, "72", PerMinute))
	e.State = State{Condition: Excited}
	td.Cmp(t, FiredAlarms(h, e), []Fired{{Alarm: "heart-high", Urgency: CheckAgain, Minutes: 10, Then: RingNow, Sign: HeartRate, Problem: ProblemHeart,
		Provenance: Provenance{"devereux", Read, "p. 760; stays above 60 between bouts; one practice's page says over 60 at rest"}}})
	e.RecheckOf = "before"
	td.Cmp(t, FiredAlarms(h, e)[0].Urgency, RingNow, "still so at the recheck")
	e.RecheckOf = ""
	e.Findings = append(e.Findings, choose(GumColour, "", "white"))
	td.Cmp(t, FiredAlarms(h, e)[1].Urgency, RingNow, "with white gums nobody waits")
	e.State = State{Condition: AfterWork, Also: []Condition{Excited, Medicated}, SinceMinutes: 70}
	e.Findings = e.Findings[:1]
	td.Cmp(t, Strongest(FiredAlarms(h, e)), RingNow, "a medicine in a set of states takes no rule away")
}

func TestASofterRuleGivesWayToAMoreUrgentOne(t *testing.T) {
	t.Parallel()
	h := animal(TypeHorse, Adult)
	td.Cmp(t, firedIDs(h, examOf(timed(CapillaryRefill, 270))), []AlarmID{"refill-slow"})
	td.Cmp(t, firedIDs(h, examOf(timed(CapillaryRefill, 400))), []AlarmID{"refill-very-slow"})
	td.Cmp(t, firedIDs(h, examOf(choose(PainSigns, "", "lies-more"))), []AlarmID{"early-pain-signs"})
	td.Cmp(t, firedIDs(h, examOf(choose(PainSigns, "", "lies-more", "rolls"))), []AlarmID{"pain-signs"})
}

func TestARuleNamesItsSitesAndItsSource(t *testing.T) {
	t.Parallel()
	h := animal(TypeHorse, Adult)
	e := examOf(choose(GutSounds, "flank-left", "none"), choose(GutSounds, "flank-right", "none"))
	td.Cmp(t, FiredAlarms(h, e), []Fired{{
		Alarm: "gut-silent", Urgency: RingNow, Sign: GutSounds, Sites: []SiteID{"flank-left", "flank-right"}, Problem: ProblemBelly,
		Provenance: Provenance{"devereux", Read, "p. 760; Curtis 2015 keeps absence too"},
	}})
	// A count fires as a reading does: 15 beats in 15 s are 60 a minute.
	e = examOf(Finding{Sign: HeartRate, Site: "chest-left", Count: &Count{Events: 15, Seconds: 15, Start: OnBeat}})
	td.Cmp(t, firedIDs(h, e), []AlarmID{"heart-high"})
	e.Findings[0].Count.Events = 11
	td.Cmp(t, firedIDs(h, e), []AlarmID{})
}

// A wrong date silences nothing: the rules for adults hold, and those on what a foal does as well.
func TestAnExamBeforeTheBirthStillHasItsRules(t *testing.T) {
	t.Parallel()
	h := animal(TypeHorse, Adult)
	h.Born = DateOf(testMoment.AddDate(36, 0, 0))
	td.Cmp(t, firedIDs(h, examOf(read(HeartRate, "64", PerMinute))), []AlarmID{"heart-high"})
	td.Cmp(t, Strongest(FiredAlarms(h, examOf(choose(Attitude, "", "dull")))), RingNow)
}

// Where healthy animals are printed or measured, at the edges of what was published, an alarm may only
// fire where the sources themselves disagree; each such place is named here.
func TestAlarmsInsidePublishedRangesAreKnown(t *testing.T) {
	t.Parallel()
	known := map[string]bool{
		"heart-high 70 texas-agrilife-2009": true, // prints 23-70 for adults
		"refill-slow 3 devereux":            true, // within three seconds
		"refill-slow 3 uci-colic-1989":      true, // coded under 3 s
		"refill-very-slow 3 devereux":       false,
	}
	seen := map[string]bool{}
	for _, s := range Catalogue() {
		for _, r := range s.Ranges {
			for _, edge := range []decimal.NullDecimal{r.Low, r.High} {
				if !edge.Valid {
					continue
				}
				for _, ty := range orAll(r.Types, allTypes) {
					for _, st := range orAll(r.Stages, allStages) {
						for _, id := range firedIDs(animal(ty, st), examOf(valued(s, edge.Decimal, r.Unit))) {
							seen[string(id)+" "+edge.Decimal.String()+" "+string(r.Source)] = true
						}
					}
				}
			}
		}
	}
	for k := range seen {
		td.CmpTrue(t, known[k], k)
	}
	for k, yes := range known {
		td.Cmp(t, seen[k], yes, k)
	}
}

func orAll[T any](some, all []T) []T {
	if len(some) == 0 {
		return all
	}
	return some
}

// A rule that adds up others names the signs at which they fired.
func TestARuleOfOthersNamesTheirSigns(t *testing.T) {
	t.Parallel()
	e := examOf(choose(Attitude, "", "quiet"), choose(GumColour, "", "pale-pink"), choose(DoingUsual, "", "unusual"))
	e.Purpose = Concern
	fired := FiredAlarms(animal(TypeHorse, Adult), e)
	i := slices.IndexFunc(fired, func(f Fired) bool { return f.Alarm == "quiet-and-two" })
	td.Require(t).True(i >= 0, "%v", fired)
	td.Cmp(t, fired[i].Sign, Attitude)
	td.Cmp(t, fired[i].With, td.Bag(GumColour, DoingUsual))
}

// What is done before a call does no harm: no cold water for one that bleeds, is white, stands in the cold or is not hot, as far as
// that was noted; a hot one is cooled whatever else there is. A feverish animal that swallows keeps its water.
func TestActsDoNoHarm(t *testing.T) {
	t.Parallel()
	h := Horse{ID: "h", Name: "Anis", Type: TypeHorse}
	cold := &Air{Temperature: &Reading{Value: dec("-5"), Unit: Celsius}}
	chosen := func(s SignID, g ...GradeID) Finding { return Finding{Sign: s, Chosen: g} }
	warm := func(c string) Finding {
		return Finding{Sign: RectalTemperature, Reading: &Reading{Value: dec(c), Unit: Celsius, Device: Digital}}
	}
	for name, x := range map[string]struct {
		air      *Air
		findings []Finding
		want     bool
	}{
		"dull":                    {nil, []Finding{chosen(Attitude, "dull")}, true},
		"dull, bleeds":            {nil, []Finding{chosen(Attitude, "dull"), chosen(Wounds, "heavy")}, false},
		"dull, white":             {nil, []Finding{chosen(Attitude, "dull"), chosen(GumColour, "white")}, false},
		"dull, in the cold":       {cold, []Finding{chosen(Attitude, "dull")}, false},
		"dull, 38.5":              {nil, []Finding{chosen(Attitude, "dull"), warm("38.5")}, false},
		"dull, 38.6":              {nil, []Finding{chosen(Attitude, "dull"), warm("38.6")}, true},
		"dull, 39.3, in the cold": {cold, []Finding{chosen(Attitude, "dull"), warm("39.3")}, false},
		"dull, 39.4, in the cold": {cold, []Finding{chosen(Attitude, "dull"), warm("39.4")}, true},
		"dull, 41, in the cold":   {cold, []Finding{chosen(Attitude, "dull"), warm("41.0")}, true},
		"dull, hot, and bleeding": {nil, []Finding{chosen(Attitude, "dull"), warm("41.0"), chosen(Wounds, "heavy")}, true},
	} {
		e := Exam{ID: "e", Horse: h.ID, At: testMoment, Depth: HandsOn, Purpose: Concern, Status: Finished, Air: x.air,
			State: State{Condition: AfterWork, SinceMinutes: 15, Effort: Hard}, Findings: x.findings}
		cools := slices.ContainsFunc(FiredAlarms(h, e), func(f Fired) bool { return f.First == ActCool })
		td.Cmp(t, cools, x.want, name)
	}
	for name, x := range map[string]struct {
		findings []Finding
		want     bool
	}{
		"slobbers, coughs":             {[]Finding{chosen(Swallowing, "drools"), chosen(Cough, "often")}, true},
		"slobbers, coughs, fever":      {[]Finding{chosen(Swallowing, "drools"), chosen(Cough, "often"), warm("38.6")}, false},
		"feed at the nose, fever":      {[]Finding{chosen(Swallowing, "feed-at-nose"), warm("39.5")}, true},
		"slobbers, coughs, no fever":   {[]Finding{chosen(Swallowing, "drools"), chosen(Cough, "often"), warm("38.5")}, true},
		"cannot swallow, with a fever": {[]Finding{chosen(Swallowing, "cannot"), warm("39.5")}, true},
	} {
		e := Exam{ID: "e", Horse: h.ID, At: testMoment, Depth: HandsOn, Purpose: Concern, Status: Finished, State: State{Condition: AtRest}, Findings: x.findings}
		td.Cmp(t, slices.ContainsFunc(FiredAlarms(h, e), func(f Fired) bool { return f.First == ActFeedWaterAway }), x.want, name)
	}
}
