package vitals

import (
	"slices"
	"time"
)

// WaitID names a line on what to do, or not to do, until the veterinarian has answered; its
// words are under "wait.<id>".
type WaitID string

// Wait is one such line, for a problem and a class of animal.
type Wait struct {
	ID WaitID `json:"id"`
	Provenance
}

// class is for which animals a line is.
type class func(h Horse, at time.Time) bool

func everyone(Horse, time.Time) bool { return true }

func youngFoal(h Horse, at time.Time) bool {
	stage, known := h.StageAt(at)
	return known && slices.Contains(foalStages, stage)
}

// mustEat are animals for which hours without feed are a danger of their own: donkeys, mules,
// ponies, and mares in foal or in milk (Devereux p. 792). Foals must go on nursing.
func mustEat(h Horse, at time.Time) bool {
	return h.Type == TypeDonkey || h.Type == TypeMule || h.Type == TypePony || h.InFoal || h.nursing(at) || youngFoal(h, at)
}

func mayFast(h Horse, at time.Time) bool { return !mustEat(h, at) }

func mustEatGrown(h Horse, at time.Time) bool { return mustEat(h, at) && !youngFoal(h, at) }

func grownUp(h Horse, at time.Time) bool { return !youngFoal(h, at) }

// foalStages are those until weaning.
var foalStages = []Stage{Newborn, Neonate, Foal}

func readIn(s SourceID, note string) *Provenance { return &Provenance{s, Read, note} }

// derived: it is ours, from what the source prints.
func derived(s SourceID, note string) *Provenance { return &Provenance{s, Derived, note} }

func practice(note string) *Provenance { return &Provenance{Mark: CommonPractice, Note: note} }

// waits are the lines by problem, in the order in which they are shown.
var waits = []struct {
	problem Problem
	id      WaitID
	of      class
	why     *Provenance
}{
	{ProblemBelly, "stay-out", everyone, readIn("devereux", "pp. 759-760")},
	{ProblemBelly, "feed-away", mayFast, readIn("devereux", "pp. 759-760")},
	{ProblemBelly, "feed-ask", mustEatGrown, readIn("devereux", "p. 792; hours without feed are a danger of their own")},
	{ProblemBelly, "foal-nurses-on", youngFoal, practice("")},
	{ProblemBelly, "water-stays", grownUp, readIn("devereux", "p. 759; one magazine says none: sources disagree")},
	{ProblemBelly, "walk-if-calms", grownUp, readIn("devereux", "p. 759; a few quiet minutes; another practice found no benefit")},
	{ProblemBelly, "keep-manure", everyone, practice("")},

	{ProblemSwallow, "all-away", everyone, readIn("devereux", "p. 745; feed, water and bedding")},
	{ProblemSwallow, "head-low", everyone, readIn("keswick-choke", "stand quiet, head down; one practice's page")},
	{ProblemSwallow, "no-hose", everyone, readIn("devereux", "pp. 744-746")},
	{ProblemSwallow, "no-hands", everyone, practice("bites, and rabies where it occurs")},
	{ProblemSwallow, "donkey-time", mustEatGrown, derived("devereux", "p. 792; hours without feed are told of")},

	{ProblemHeat, "cool-body", grownUp, readIn("brownlow-2023", "cold water over the whole body, again and again")},
	{ProblemHeat, "water-drink", everyone, readIn("brownlow-2023", "")},
	{ProblemHeat, "hose-outside", everyone, practice("an overheated horse may bolt or fall")},
	{ProblemHeat, "temperature-ten", grownUp, practice("")},
	{ProblemHeat, "foal-shade", youngFoal, practice("no cold hosing of a foal unless told")},

	{ProblemFeet, "do-not-move", everyone, readIn("equus-2017-laminitis", "")},
	{ProblemFeet, "soft-bed", everyone, readIn("equus-2017-laminitis", "")},
	{ProblemFeet, "cold-feet", grownUp, readIn("equus-2017-laminitis", "ice or cold to mid-cannon, if it will stand for it")},
	{ProblemFeet, "keep-feed", mustEatGrown, readIn("devereux", "p. 792; never starve a pony or a donkey")},

	{ProblemMuscle, "do-not-move", everyone, readIn("devereux", "p. 469")},
	{ProblemMuscle, "rug-if-cold", everyone, practice("")},
	{ProblemMuscle, "water-stays", everyone, practice("")},

	{ProblemLimb, "do-not-move", everyone, readIn("devereux", "p. 146")},
	{ProblemLimb, "leave-object", everyone, readIn("aaep-when-to-call", "")},
	{ProblemLimb, "foal-with-mare", youngFoal, practice("")},
	{ProblemWound, "leave-object", everyone, readIn("aaep-when-to-call", "")},
	{ProblemWound, "cover-clean", everyone, readIn("devereux", "pp. 97-99")},
	{ProblemWound, "no-powder", everyone, readIn("devereux", "pp. 97-99")},
	{ProblemWound, "do-not-move", everyone, practice("")},
	{ProblemBleeding, "press", everyone, readIn("aaep-when-to-call", "")},
	{ProblemBleeding, "keep-still", everyone, practice("")},
	{ProblemNose, "keep-still", everyone, readIn("devereux", "pp. 704-705")},
	{ProblemNose, "head-free", everyone, readIn("devereux", "pp. 704-705")},
	{ProblemEye, "dark-stall", everyone, practice("")},
	{ProblemEye, "no-ointment", everyone, readIn("purdue-emergency", "")},

	{ProblemNerves, "stay-clear", everyone, readIn("acequine-nervous", "one practice's page")},
	{ProblemNerves, "no-lead", everyone, readIn("acequine-nervous", "one practice's page")},
	{ProblemNerves, "no-hands", everyone, practice("bites, and rabies where it occurs")},
	{ProblemNerves, "list-people", everyone, practice("")},

	{ProblemFever, "shade-water", everyone, practice("")},
	{ProblemFever, "keep-apart", everyone, readIn("ucdavis-ehv-2011", "")},
	{ProblemFever, "companion-sight", mustEatGrown, practice("a donkey without its companion stops eating")},
	{ProblemGut, "gloves", everyone, readIn("devereux", "p. 779")},
	{ProblemGut, "keep-apart", everyone, readIn("devereux", "p. 779")},
	{ProblemGut, "water-stays", grownUp, readIn("devereux", "p. 779")},
	{ProblemGut, "foal-nurses-on", youngFoal, practice("")},

	{ProblemFoaling, "clock", everyone, readIn("aqha-foaling", "pp. 33-34")},
	{ProblemFoaling, "no-pull", everyone, readIn("aqha-foaling", "pp. 33-34")},
	{ProblemFoaling, "clean-hands", everyone, practice("")},
	{ProblemMare, "tie-afterbirth", everyone, readIn("devereux", "p. 962")},
	{ProblemMare, "keep-afterbirth", everyone, readIn("devereux", "p. 962")},
	{ProblemMare, "keep-feed", everyone, readIn("devereux", "p. 792")},
	{ProblemFoal, "warm-dry", everyone, practice("")},
	{ProblemFoal, "foal-with-mare", everyone, practice("")},
	{ProblemFoal, "no-bottle", everyone, readIn("the-horse-foal-2020", "milk can go into the lungs of a weak foal")},
	{ProblemFeed, "tempt", everyone, readIn("wikivet-donkey", "")},
	{ProblemFeed, "companion-sight", everyone, practice("a donkey without its companion stops eating")},
	{ProblemFeed, "do-not-wait", everyone, readIn("ukvet-donkey", "")},
	{ProblemBreath, "quiet-air", everyone, practice("")},
	{ProblemBreath, "do-not-move", everyone, practice("")},
	{ProblemCirculation, "keep-still", everyone, practice("")},
	{ProblemHeart, "no-ride", everyone, readIn("mcgurrin-2015", "")},
	{ProblemSkin, "watch-breath", everyone, readIn("mwv-vaccine", "one practice's page")},
}

// always stands at the end for every problem.
var always = []Wait{
	{"give-nothing", Provenance{"ucdavis-vmth", Read, ""}},
	{"stay-safe", Provenance{"safe-work-australia-2014", Read, ""}},
}

// WhileWaiting gives what to do and what to leave until the veterinarian has answered, for a
// problem and this animal: what helps a horse with belly pain may harm a donkey, a pony, a mare in
// foal or a foal. An age that is not known counts as grown up. The lines are the caller's own.
func WhileWaiting(h Horse, at time.Time, p Problem) []Wait {
	var out []Wait
	for _, w := range waits {
		if w.problem == p && w.of(h, at) {
			out = append(out, Wait{w.id, *w.why})
		}
	}
	return append(out, always...)
}

// Overrules says which lines a line, or an act before the call, makes false or dangerous beside it: of two problems at once only
// one may be told to take the feed away, or to walk. The keys are WaitIDs, and ActIDs as "act.<id>".
func Overrules() map[string][]WaitID {
	blocked := []WaitID{"all-away", "feed-away", "feed-ask", "keep-feed", "tempt", "water-stays", "water-drink", "shade-water"}
	noWalk := []WaitID{"walk-if-calms"}
	return map[string][]WaitID{
		"all-away":    blocked[1:],
		"feed-away":   {"keep-feed", "tempt"},
		"feed-ask":    {"keep-feed", "tempt"},
		"do-not-move": noWalk, "keep-still": noWalk, "no-lead": noWalk,
		// Nobody goes near with feed or to handle it; no other animal is brought near (rabies where it occurs).
		"stay-clear":          {"walk-if-calms", "tempt", "companion-sight", "head-low", "cold-feet", "rug-if-cold"},
		"act.press":           {"press"},
		"act.cool":            {"cool-body"},
		"act.feed-water-away": blocked,
	}
}

// Compatible leaves out of the lines of several problems those that another one, or an act before the call, overrules.
func Compatible(list []WaitID, first []ActID) []WaitID {
	var out []WaitID
	rules := Overrules()
	for _, a := range first {
		out = append(out, rules["act."+string(a)]...)
	}
	for _, id := range list {
		out = append(out, rules[string(id)]...)
	}
	return slices.DeleteFunc(slices.Clone(list), func(id WaitID) bool { return slices.Contains(out, id) })
}

// FlagID names a red flag; its words are under "flag.<id>".
type FlagID string

// RedFlag is what a person who sees that something is wrong can tick before any exam: one
// answer of one sign for which a rule says to call now.
type RedFlag struct {
	ID    FlagID  `json:"id"`
	Sign  SignID  `json:"sign"`
	Grade GradeID `json:"grade"`
	Group         // for which animals; empty: all
	// Mares: only of a mare, or where the sex is not known.
	Mares bool `json:"mares,omitempty"`
	// InFoal: only of one in foal or in milk.
	InFoal  bool    `json:"inFoal,omitempty"`
	Problem Problem `json:"problem"`
	First   ActID   `json:"first,omitempty"`
	// State that the flag means, beside what is said of the exam.
	State Condition `json:"state,omitempty"`
}

// weaned are the stages after those of foals.
var weaned = []Stage{Weanling, Yearling, TwoYearOld, Adult, Senior}

// redFlags in the order of the screen: danger to people and to life first.
var redFlags = []RedFlag{
	{ID: "thrashing", Sign: Attitude, Grade: "down-thrashing", Problem: ProblemBelly},
	{ID: "down", Sign: Attitude, Grade: "down-not-rising", Problem: ProblemOther},
	{ID: "breath", Sign: RespiratoryEffort, Grade: "struggling", Problem: ProblemBreath},
	{ID: "bleeding", Sign: Wounds, Grade: "heavy", Problem: ProblemBleeding, First: ActPress},
	{ID: "belly", Sign: PainSigns, Grade: "rolls", Problem: ProblemBelly},
	{ID: "belly-pain", Sign: PainSigns, Grade: "paws", Problem: ProblemBelly},
	{ID: "no-weight", Sign: LimbLoad, Grade: "no-weight", Problem: ProblemLimb},
	{ID: "will-not-walk", Sign: Gait, Grade: "will-not-walk", Problem: ProblemFeet},
	{ID: "staggers", Sign: Gait, Grade: "staggers", Problem: ProblemNerves},
	{ID: "odd", Sign: Attitude, Grade: "odd", Problem: ProblemNerves},
	{ID: "swallow", Sign: Swallowing, Grade: "cannot", Problem: ProblemSwallow, First: ActFeedWaterAway},
	{ID: "feed-raid", Sign: Lately, Grade: "feed-raid", Problem: ProblemBelly},
	{ID: "ate-harmful", Sign: Lately, Grade: "ate-harmful", Problem: ProblemOther},
	{ID: "eye", Sign: Eye, Grade: "shut", Problem: ProblemEye},
	{ID: "eye-hurt", Sign: Eye, Grade: "injured", Problem: ProblemEye},
	{ID: "wound-joint", Sign: WoundPlace, Grade: "joint", Problem: ProblemWound},
	{ID: "wound-deep", Sign: WoundPlace, Grade: "deep", Problem: ProblemWound},
	{ID: "hot", Sign: Cooling, Grade: "not-recovering", Problem: ProblemHeat, First: ActCool, State: AfterWork},
	{ID: "nose-blood", Sign: Nostrils, Grade: "blood-flows", Problem: ProblemNose},
	{ID: "donkey-feed", Sign: Feed, Grade: "none", Group: Group{Types: []Type{TypeDonkey}}, Problem: ProblemFeed},
	{ID: "pony-feed", Sign: Feed, Grade: "none", Group: Group{Types: []Type{TypePony}, Stages: weaned}, Problem: ProblemFeed},
	{ID: "in-foal-feed", Sign: Feed, Grade: "none", Mares: true, InFoal: true, Problem: ProblemFeed},
	{ID: "foal-nursing", Sign: Feed, Grade: "none", Group: Group{Stages: foalStages}, Problem: ProblemFoal},
	{ID: "foal-dull", Sign: Attitude, Grade: "dull", Group: Group{Stages: foalStages}, Problem: ProblemFoal},
	{ID: "red-bag", Sign: Foaling, Grade: "red-bag", Mares: true, Problem: ProblemFoaling, First: ActCutBag},
	{ID: "foaling-stuck", Sign: Foaling, Grade: "stuck", Mares: true, Problem: ProblemFoaling},
	{ID: "afterbirth", Sign: Afterbirth, Grade: "late", Mares: true, Problem: ProblemMare},
}

// RedFlags lists them. The entries are the caller's own copies.
func RedFlags() []RedFlag {
	out := slices.Clone(redFlags)
	for i := range out {
		out[i].Group = out[i].Group.clone()
	}
	return out
}

// tooYoungToFoal are the stages in which no mare foals.
var tooYoungToFoal = []Stage{Newborn, Neonate, Foal, Weanling, Yearling}

// For reports whether a flag is offered for a horse: those of foals only where the animal is one or its
// age is not known, those of mares only where it is not known to be none, or too young, those of mares in foal
// where the card says so.
func (f RedFlag) For(h Horse, at time.Time) bool {
	stage, known := h.StageAt(at)
	if len(f.Stages) > 0 && known && !slices.Contains(f.Stages, stage) {
		return false
	}
	if f.Mares && known && slices.Contains(tooYoungToFoal, stage) {
		return false
	}
	if f.InFoal && !h.InFoal && !h.nursing(at) {
		return false
	}
	return in(f.Types, h.Type) && (!f.Mares || h.Sex == "" || h.Sex == Mare)
}

// cautions are the warnings that stand at the steps. Local rules and licensed practice
// come before all of them.
var cautions = []Caution{
	{"before-anything", Group{}, Provenance{"safe-work-australia-2014", Read, "falls, bites, strikes and kicks are the commonest causes of injury"}},
	{"alone", Group{}, Provenance{"vin-handling", Read, ""}},
	{"approach", Group{}, Provenance{"vin-handling", Read, ""}},
	{"stand", Group{}, Provenance{"horse-safety-16", SecondHand, ""}},
	{"hind-end", Group{}, Provenance{"horse-safety-16", SecondHand, ""}},
	{"stallion-mare-young", Group{}, Provenance{"ilo-70", SecondHand, ""}},
	{"foal-and-mare", newFoal, Provenance{Mark: CommonPractice}},
	{"young-bite", anyYoung, Provenance{"ilo-70", SecondHand, "weanlings and two-year-olds bite"}},
	{"sedated", Group{}, Provenance{"vin-handling", Read, ""}},
	{"down-quiet", Group{}, Provenance{"devereux", Read, "p. 759"}},
	{"down-thrashing", Group{}, Provenance{"devereux", Read, "pp. 759-760"}},
	{"cast-or-trapped", Group{}, Provenance{"leighton-staples", Read, "that a kick lands within a third of a second; the rest is common practice"}},
	{"unsteady", Group{}, Provenance{Mark: CommonPractice}},
	{"do-not-walk", Group{}, Provenance{Mark: CommonPractice}},
	{"wound-leave", Group{}, Provenance{Mark: CommonPractice, Note: "that what sticks in a wound stays in is in the AAEP Foundation's list"}},
	{"eye-side", Group{}, Provenance{Mark: CommonPractice}},
	{"foaling-mare", Group{}, Provenance{Mark: CommonPractice}},
	{"afterbirth-never-pull", Group{}, Provenance{"devereux", Read, "p. 962"}},
	{"no-hands-in-mouth", Group{}, Provenance{Mark: CommonPractice, Note: "bites, and rabies where it occurs"}},
	{"flank-ear", Group{}, Provenance{Mark: CommonPractice}},
	{"teeth", Group{}, Provenance{Mark: CommonPractice, Note: "where the fingers go; that young horses bite is in the ILO Encyclopaedia"}},
	{"feet", Group{}, Provenance{"horse-safety-16", SecondHand, "that one does not kneel is common practice"}},
	{"thermometer-stand", Group{}, Provenance{"devereux", Read, "p. 89"}},
	{"thermometer-string", Group{}, Provenance{Mark: CommonPractice, Note: "the string; a leaflet without a publisher says it can be drawn in"}},
	{"thermometer-never-force", Group{}, Provenance{Mark: CommonPractice}},
	{"thermometer-donkey", anyMule, Provenance{"wvs-donkey", Read, "printed for donkeys"}},
	{"wash-thermometer", Group{}, Provenance{"devereux", Read, "p. 89"}},
	{"wash-hands", Group{}, Provenance{"aphis-2014", Read, ""}},
	{"sick-last", Group{}, Provenance{"business-queensland", Read, ""}},
}

// Cautions lists every caution. The entries are the caller's own copies.
func Cautions() []Caution {
	out := slices.Clone(cautions)
	for i := range out {
		out[i].Group = out[i].Group.clone()
	}
	return out
}
