package vitals

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals/words"
)

var update = flag.Bool("update", false, "write RULES.md anew")

// ruleClass is a class of animal in a state, for which every answer has a rule or a reason.
type ruleClass struct {
	name  string
	horse Horse
	state State
}

func ruleClasses() []ruleClass {
	rest := State{Condition: AtRest}
	inFoal, foaled := animal(TypeHorse, Adult), animal(TypeHorse, Adult)
	inFoal.Sex, inFoal.InFoal = Mare, true
	foaled.Sex, foaled.FoaledAt = Mare, testMoment.AddDate(0, 0, -2)
	classes := []ruleClass{
		{"adult", animal(TypeHorse, Adult), rest}, {"pony", animal(TypePony, Adult), rest}, {"donkey", animal(TypeDonkey, Adult), rest},
		{"mule", animal(TypeMule, Adult), rest}, {"in foal", inFoal, rest}, {"just foaled", foaled, rest},
		{"after work", animal(TypeHorse, Adult), State{Condition: AfterWork, SinceMinutes: 40}},
		{"excited", animal(TypeHorse, Adult), State{Condition: Excited}}, {"medicated", animal(TypeHorse, Adult), State{Condition: Medicated}},
	}
	for _, st := range []Stage{Newborn, Neonate, Foal, Weanling, Yearling, TwoYearOld, Senior} {
		classes = append(classes, ruleClass{string(st), animal(TypeHorse, st), rest})
	}
	return append(classes, ruleClass{"donkey foal", animal(TypeDonkey, Foal), rest})
}

// noRule is why an answer that is not the usual one, or a number, has no rule of its own for some class or for
// all. Each is common practice without a source unless it names one; beside other signs the answer may count.
var noRule = map[string]string{
	"attitude.quiet":         "many well horses are quiet; with any other rule it is told, and the horse's own usual says whether it is new",
	"attitude.anxious":       "explained by excitement or work where that was said",
	"head-carriage.low":      "a resting horse lowers its head; with any other rule it is told",
	"coat.staring":           "cold air does it; compared with the horse's own usual",
	"coat.sweating":          "explained by work, heat, excitement or foaling where that was said",
	"limb-load.resting":      "resting a hind leg is what well horses do",
	"stance.tucked-up":       "within an hour of work it is common",
	"swelling.pair-cool":     "filled legs in pairs, cool, go with walking (The Horse, November 2019)",
	"water.more":             "explained by work or heat",
	"lately.journey":         "counts beside fever and other signs for three days",
	"lately.operation":       "counts beside any other sign for two weeks",
	"lately.vaccine":         "counts beside fever, bumps, swelling and breath for two days",
	"gum-moisture.tacky":     "moisture agrees poorly with other measures of thirst (Pritchard 2008); with pain, pallor or early signs it counts",
	"pulse-strength.strong":  "no threshold was found; excitement and work do it",
	"limb-warmth.warm":       "no threshold was found; the hooves have rules of their own",
	"limb-warmth.cool":       "cold air does it; counts beside another sign of the circulation",
	"digital-pulse.easy":     "no threshold was found; easy to feel after work and in many well horses",
	"digital-pulse.bounding": "explained within an hour of work",
	"hoof-warmth.warm":       "sun and work do it",
	"hoof-warmth.hot":        "explained within an hour of work, and in the sun with faint pulses",
	"gut-sounds.more":        "louder sounds after feeding are common; pain has rules of its own",
	"gut-order.haphazard":    "taught by some, no published threshold; compared with the horse's own usual",
	"heart-rhythm.pauses":    "up to 30 of 100 fit horses at rest (equine cardiology texts); with weakness, dullness or effort it calls",
	"muscle.soft":            "no threshold was found",
	"udder.filling":          "expected before foaling",
	"udder.wax":              "expected before foaling",
	"skin-tent":              "the skin pinch had no association with thirst in 50 horses (Pritchard 2008): never a rule",
	"jugular-refill":         "some teach that the vein fills in one or two seconds; no published threshold to call was found",
	"weight":                 "changes over weeks; compared with the horse's own usual",
	"body-condition":         "changes over weeks; counts for a pony that eats less",
}

// rulesOf are the rules that fire at an answer of a sign, or at a number of it.
func rulesOf(sign SignID, grade GradeID) (own []Alarm) {
	for _, a := range alarms {
		if a.Sign == sign && (grade == "" || slices.Contains(a.Grades, grade)) {
			own = append(own, a)
		}
	}
	return own
}

// Every answer, for every class, has a rule by itself, or a reason why it has none.
func TestEveryAnswerHasARuleOrAReason(t *testing.T) {
	t.Parallel()
	needed := map[string]bool{}
	for _, s := range Catalogue() {
		grades := s.Grades
		if s.Kind.Measured() {
			grades = []Grade{{Rank: 1}}
		}
		for _, g := range grades {
			if g.Rank == 0 {
				continue
			}
			key := strings.TrimSuffix(string(s.ID)+"."+string(g.ID), ".")
			var without []string // the classes for which nothing is said
			for _, c := range ruleClasses() {
				e := examOf()
				e.State = c.state
				if !s.For(c.horse, e) {
					continue
				}
				stage, _ := c.horse.StageAt(testMoment)
				alone := slices.ContainsFunc(rulesOf(s.ID, g.ID), func(a Alarm) bool {
					return a.Holds(c.horse.Type, stage)
				})
				if alone && !s.Kind.Measured() {
					e.Findings = answersOf(s, g.ID)
					alone = len(FiredAlarms(c.horse, e)) > 0
				}
				if !alone {
					needed[key] = true
					if noRule[key] == "" {
						without = append(without, c.name)
					}
				}
			}
			if len(without) > 0 {
				t.Errorf("%s: write a rule (vitals/internal/rules) or, into noRule, the reason for having none; of: %s",
					key, strings.Join(without, ", "))
			}
		}
	}
	for key := range noRule {
		if !needed[key] {
			t.Errorf("%s: a reason that no class needs", key)
		}
	}
}

// answersOf shows an answer at every site of one depth, or without a site.
func answersOf(s Sign, g GradeID) (fs []Finding) {
	if !s.PerSite {
		return []Finding{choose(s.ID, "", g)}
	}
	for _, x := range s.Sites {
		if x.Depth == s.Depth {
			fs = append(fs, choose(s.ID, x.ID, g))
		}
	}
	return fs
}

// RULES.md is made from the rules: by sign and answer what fires, for whom, beside what, and from which source.
func TestRulesPage(t *testing.T) {
	t.Parallel()
	page := rulesPage()
	if *update {
		td.Require(t).CmpNoError(os.WriteFile("RULES.md", []byte(page), 0o644))
	}
	old, err := os.ReadFile("RULES.md")
	td.Require(t).CmpNoError(err)
	if string(old) != page {
		t.Error("RULES.md is not what the rules say: go test ./vitals -run RulesPage -update")
	}
}

func rulesPage() string {
	say := func(key string) string { return words.Say(words.English, key) }
	var b strings.Builder
	b.WriteString("# Rules on when to call\n\nMade from the code by `go test ./vitals -run RulesPage -update`. Each row: the rule and its sentence, how soon, for which animals, beside what, and where\n" +
		"its limit is from. \"Common practice\" and \"assumed\" are no published figures. A rule never names a cause.\n\nRolling and pawing are silent only on a quiet day or at a routine check, seen once, where the hour and place, feed and droppings were answered as\nusual, the coat without sweat, and the heart is under 48 or was not counted.\n")
	describe := func(x Test) string {
		switch {
		case x.Fact != "":
			return say("fact." + string(x.Fact))
		case x.Clock != "":
			to := ""
			if x.To > 0 {
				to = fmt.Sprintf(" to %d", x.To)
			}
			return fmt.Sprintf("%d%s minutes %s", x.From, to, say("clock."+string(x.Clock)))
		}
		said := say("sign." + string(x.Sign))
		for i, g := range x.Grades {
			said += map[bool]string{true: ": ", false: " / "}[i == 0] + strings.ToLower(say("grade."+string(x.Sign)+"."+string(g)))
		}
		mark := map[bool]string{true: " ≥ ", false: " > "}[x.AndEqual]
		if x.Above.Valid {
			said += mark + AsRead(x.Above.Decimal) + " " + say("unit."+string(x.Unit))
		}
		if x.Below.Valid {
			said += " < " + AsRead(x.Below.Decimal) + " " + say("unit."+string(x.Unit))
		}
		if x.AtLeast > 1 {
			said += fmt.Sprintf(" (at %d places)", x.AtLeast)
		}
		if x.AllSites {
			said += " (everywhere)"
		}
		return said
	}
	list := func(tests []Test) string {
		var out []string
		for _, x := range tests {
			out = append(out, describe(x))
		}
		return strings.Join(out, "; ")
	}
	row := func(a Alarm) {
		level := map[Urgency]string{RingNow: "call now", RingSoon: "tell today"}[a.Urgency]
		if a.Urgency == CheckAgain {
			level = fmt.Sprintf("check again in %d minutes, then %s", a.Minutes, map[Urgency]string{RingNow: "call now", RingSoon: "tell today"}[a.Then])
		}
		if a.First != "" {
			level = say("act."+string(a.First)) + " (" + level + ")"
		}
		var who []string
		for _, x := range a.Types {
			who = append(who, say("type."+string(x)))
		}
		for _, x := range a.Stages {
			who = append(who, say("stage."+string(x)))
		}
		var beside []string
		if len(a.With) > 0 {
			beside = append(beside, "with "+list(a.With))
		}
		if len(a.Any) > 0 {
			beside = append(beside, fmt.Sprintf("with %d of: %s", a.Need, list(a.Any)))
		}
		if len(a.Unless) > 0 {
			beside = append(beside, "unless "+list(a.Unless))
		}
		source := string(a.Source)
		for _, s := range Sources() {
			if s.ID == a.Source {
				source = s.Cite
			}
		}
		why := strings.Trim(strings.Join([]string{source, say("mark." + string(a.Mark)), a.Note}, "; "), "; ")
		what := ""
		if a.Sign != "" {
			what = describe(a.Test)
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s | %s | %s |\n", a.ID, say("alarm."+string(a.ID)), what, level, strings.Join(who, ", "), strings.Join(beside, ". "), why)
	}
	head := "\n| rule | sentence | fires at | how soon | for | beside | from |\n|---|---|---|---|---|---|---|\n"
	for _, s := range Catalogue() {
		fmt.Fprintf(&b, "\n## %s\n", say("sign."+string(s.ID)))
		if own := rulesOf(s.ID, ""); len(own) > 0 {
			b.WriteString(head)
			for _, a := range own {
				row(a)
			}
		}
		if why := noRule[string(s.ID)]; why != "" {
			fmt.Fprintf(&b, "\nNo rule, because: %s.\n", why)
		}
		for _, g := range s.Grades {
			if why := noRule[string(s.ID)+"."+string(g.ID)]; why != "" && g.Rank > 0 {
				fmt.Fprintf(&b, "\n%s: not always, or no rule by itself, because: %s.\n", say("grade."+string(s.ID)+"."+string(g.ID)), why)
			}
		}
	}
	b.WriteString("\n## Several signs of equal weight\n" + head)
	for _, a := range rulesOf("", "") {
		row(a)
	}
	return b.String()
}
