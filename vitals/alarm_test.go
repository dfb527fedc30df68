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
		{"WVS Academy: donkey, above 60", donkey, []Finding{hr("60")}, []Finding{hr("61")}, "donkey-heart-high"},
		{"WVS Academy: donkey, 60-80", donkey, []Finding{hr("80")}, []Finding{hr("81")}, "donkey-heart-very-high"},
		{"WSVMA 2018: 102.5 F and over", grownHorse, []Finding{f("102.4")}, []Finding{f("102.5")}, "fever"},
		{"the same in Celsius, 39.17", grownHorse, []Finding{c("39.1")}, []Finding{c("39.2")}, "fever"},
		{"WSVMA 2018, donkeys too", donkey, []Finding{f("102.4")}, []Finding{f("102.5")}, "fever"},
		{"Hall 2019: 36.0 C is the lower limit", grownHorse, []Finding{c("36.0")}, []Finding{c("35.9")}, "cold"},
		{"Lenz: foal outside 99-101.5 F", foal, []Finding{f("101.5")}, []Finding{f("101.6")}, "foal-warm"},
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
		{"rolling at the usual hour is no pain", grownHorse, []Finding{choose(Doing, "", "rolling"), choose(DoingUsual, "", "usual")},
			[]Finding{choose(Doing, "", "rolling"), choose(DoingUsual, "", "unusual")}, "colic-behaviour"},
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

// Every alarm of the catalogue, whatever it is: beyond its threshold and not before, for
// the animals it is for and no other.
func TestEveryAlarmFiresBeyondItsThresholdOnly(t *testing.T) {
	has := func(h Horse, e Exam, id AlarmID) bool {
		// A softer alarm hides behind a more urgent one of its sign; ask for itself.
		for _, a := range alarms {
			if a.ID == id {
				st, _ := h.StageAt(e.At)
				fact := a.fact()
				_, yes := a.fires(&fact, e.Findings, signsOf(e, nil), new(measured))
				return yes && a.Holds(h.Type, st)
			}
		}
		return false
	}
	for _, a := range Alarms() {
		s, ok := Lookup(a.Sign)
		if !ok {
			t.Errorf("%s: no sign %s", a.ID, a.Sign)
			continue
		}
		forms := 0
		for _, there := range []bool{a.Above.Valid, a.Below.Valid, len(a.Grades) > 0} {
			if there {
				forms++
			}
		}
		td.Cmp(t, forms, 1, "%s: exactly one of above, below and grades", a.ID)
		for _, ty := range Types {
			for _, st := range Stages {
				h := animal(ty, st)
				want := a.Holds(ty, st)
				if len(a.Grades) > 0 {
					for _, g := range s.Grades {
						var fs []Finding
						if s.PerSite {
							for _, x := range s.Sites {
								fs = append(fs, choose(s.ID, x.ID, g.ID))
							}
						} else {
							fs = append(fs, choose(s.ID, "", g.ID))
						}
						td.Cmp(t, has(h, examOf(fs...), a.ID), want && slices.Contains(a.Grades, g.ID), "%s %s %s %s", a.ID, ty, st, g.ID)
					}
					continue
				}
				threshold, step := a.Above.Decimal, decimal.RequireFromString("0.1")
				if a.Below.Valid {
					threshold, step = a.Below.Decimal, step.Neg()
				}
				for _, v := range []struct {
					x     decimal.Decimal
					fires bool
				}{{threshold.Sub(step), false}, {threshold, a.AndEqual}, {threshold.Add(step), true}} {
					td.Cmp(t, has(h, examOf(valued(s, v.x, a.Unit)), a.ID), want && v.fires, "%s %s %s at %s", a.ID, ty, st, v.x)
				}
			}
		}
		for _, g := range a.Grades {
			grade, ok := s.Grade(g)
			td.CmpTrue(t, ok && grade.Rank > 0, "%s: %s is no unusual answer", a.ID, g)
		}
	}
}

func TestNothingFiresOnWhatWasNotChecked(t *testing.T) {
	for _, why := range Absences {
		e := examOf()
		for _, s := range Catalogue() {
			e.Findings = append(e.Findings, Finding{Sign: s.ID, Absent: why})
		}
		for _, ty := range Types {
			td.Cmp(t, FiredAlarms(animal(ty, Adult), e), td.Empty(), "%s %s", ty, why)
		}
	}
	td.Cmp(t, FiredAlarms(Horse{}, Exam{Findings: []Finding{{Sign: "no-such-sign", Chosen: []GradeID{"x"}}}}), td.Empty())
}

func TestWorkSilencesTheAlarmsOfRestForAnHour(t *testing.T) {
	h := animal(TypeHorse, Adult)
	e := examOf(read(HeartRate, "72", PerMinute), read(RectalTemperature, "39.6", Celsius), choose(GumColour, "", "white"))
	td.Cmp(t, firedIDs(h, e), []AlarmID{"gum-colour", "heart-high", "fever"})
	e.State = State{Condition: AfterWork, SinceMinutes: 59}
	td.Cmp(t, firedIDs(h, e), []AlarmID{"gum-colour"})
	e.State.SinceMinutes = 60
	td.Cmp(t, firedIDs(h, e), []AlarmID{"gum-colour", "heart-high", "fever"})
	e.State = State{Condition: Excited}
	td.Cmp(t, firedIDs(h, e), []AlarmID{"gum-colour", "heart-high", "fever"})
}

func TestASofterAlarmStandsBehindAMoreUrgentOne(t *testing.T) {
	h := animal(TypeHorse, Adult)
	td.Cmp(t, firedIDs(h, examOf(timed(CapillaryRefill, 270))), []AlarmID{"refill-slow"})
	td.Cmp(t, firedIDs(h, examOf(timed(CapillaryRefill, 400))), []AlarmID{"refill-very-slow"})
	td.Cmp(t, firedIDs(h, examOf(choose(PainSigns, "", "lies-more"))), []AlarmID{"early-pain-signs"})
	td.Cmp(t, firedIDs(h, examOf(choose(PainSigns, "", "lies-more", "rolls"))), []AlarmID{"pain-signs"})
}

func TestAnAlarmNamesItsSitesAndItsSource(t *testing.T) {
	h := animal(TypeHorse, Adult)
	e := examOf(choose(GutSounds, "flank-left", "none"), choose(GutSounds, "flank-right", "none"))
	td.Cmp(t, FiredAlarms(h, e), []Fired{{
		Alarm: "gut-silent", Urgency: RingNow, Sign: GutSounds, Sites: []SiteID{"flank-left", "flank-right"},
		Provenance: Provenance{"devereux", Read, "p. 760; Curtis 2015 keeps absence too"},
	}})
	// A count fires as a reading does: 15 beats in 15 s are 60 a minute.
	e = examOf(Finding{Sign: HeartRate, Site: "chest-left", Count: &Count{Events: 15, Seconds: 15, Start: OnBeat}})
	td.Cmp(t, firedIDs(h, e), []AlarmID{"heart-high"})
	e.Findings[0].Count.Events = 14
	td.Cmp(t, firedIDs(h, e), []AlarmID{})
}

// Where healthy animals are printed or measured, at the edges of what was published, an alarm may only
// fire where the sources themselves disagree; each such place is named here.
func TestAlarmsInsidePublishedRangesAreKnown(t *testing.T) {
	known := map[string]bool{
		"heart-high 70 texas-agrilife-2009":           true, // prints 23-70 for adults
		"donkey-heart-high 68 donkey-sanctuary-older": true, // prints 36-68; soon, not now
		"refill-slow 3 devereux":                      true, // within three seconds
		"refill-slow 3 uci-colic-1989":                true, // coded under 3 s
		"foal-warm 101.8 neonatal-outline":            true, // Lenz: 101.5
		"foal-warm 102 gerros-osu":                    true,
		"foal-warm 102 newborn-foal-2010":             true,
		"foal-warm 102 forbes-foals":                  true,
		"foal-warm 102 csu-foal-diarrhoea":            true,
		"foal-cold 37.2 avenel-foals":                 true, // 37.2 C is a little under the 99 F of others
		"foal-warm 38.8 santa-maria-foals":            true,
		"refill-very-slow 3 devereux":                 false,
	}
	seen := map[string]bool{}
	for _, s := range Catalogue() {
		for _, r := range s.Ranges {
			for _, edge := range []decimal.NullDecimal{r.Low, r.High} {
				if !edge.Valid {
					continue
				}
				for _, ty := range orAll(r.Types, Types) {
					for _, st := range orAll(r.Stages, Stages) {
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
