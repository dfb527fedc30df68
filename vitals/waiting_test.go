package vitals

import (
	"slices"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals/words"
)

func waitIDs(h Horse, p Problem) (ids []WaitID) {
	for _, w := range WhileWaiting(h, testMoment, p) {
		ids = append(ids, w.ID)
	}
	return ids
}

// Feed is taken away from a grown horse with belly pain only: for a foal, a donkey, a mule, a pony and a mare
// in foal or in milk hours without feed are a danger of their own (Devereux p. 792).
func TestFeedIsTakenFromNobodyWhoMustEat(t *testing.T) {
	t.Parallel()
	grown := animal(TypeHorse, Adult)
	td.CmpTrue(t, slices.Contains(waitIDs(grown, ProblemBelly), "feed-away"))
	inFoal, milking := grown, grown
	inFoal.Sex, inFoal.InFoal = Mare, true
	milking.Sex, milking.FoaledAt = Mare, testMoment.AddDate(0, -2, 0)
	must := []Horse{animal(TypeDonkey, Adult), animal(TypeMule, Adult), animal(TypePony, Adult), inFoal, milking}
	for _, st := range foalStages {
		must = append(must, animal(TypeHorse, st))
	}
	for _, h := range must {
		for _, p := range allProblems {
			td.CmpFalse(t, slices.Contains(waitIDs(h, p), "feed-away"), "%s %s %s", h.Type, h.Born, p)
		}
	}
	for _, p := range allProblems {
		if p != ProblemBelly {
			td.CmpFalse(t, slices.Contains(waitIDs(grown, p), "feed-away"), p)
		}
		td.CmpTrue(t, slices.Contains(waitIDs(grown, p), "give-nothing"), p)
	}
	// Where the throat is blocked, water goes too.
	td.CmpTrue(t, slices.Contains(waitIDs(grown, ProblemSwallow), "all-away"))
	td.CmpFalse(t, slices.Contains(waitIDs(grown, ProblemSwallow), "water-stays"))
	td.CmpFalse(t, slices.Contains(waitIDs(animal(TypeHorse, Neonate), ProblemHeat), "cool-body"))
}

// Every red flag alone is a reason to call now, with the act before the call that its rule has.
func TestEveryRedFlagIsAReasonToCallNow(t *testing.T) {
	t.Parallel()
	for _, f := range RedFlags() {
		for _, ty := range allTypes {
			for _, st := range allStages {
				h := animal(ty, st)
				if f.Mares {
					h.Sex, h.InFoal = Mare, true
				}
				if !f.For(h, testMoment) {
					continue
				}
				e := examOf(choose(f.Sign, "", f.Grade))
				e.Purpose = Concern
				if f.State != "" {
					e.State = State{Condition: f.State}
				}
				td.CmpEmpty(t, CheckExam(e, h), f.ID)
				fired := FiredAlarms(h, e)
				td.Cmp(t, Strongest(fired), RingNow, "%s %s %s", f.ID, ty, st)
				if len(f.Stages) == 0 {
					td.CmpTrue(t, slices.ContainsFunc(fired, func(x Fired) bool { return x.First == f.First }), "%s: the act of its rule", f.ID)
				}
			}
		}
	}
}

func TestWaitsAndFlagsHaveTheirWords(t *testing.T) {
	t.Parallel()
	var keys []string
	for _, w := range waits {
		keys = append(keys, "wait."+string(w.id))
	}
	for _, w := range always {
		keys = append(keys, "wait."+string(w.ID))
	}
	for _, f := range RedFlags() {
		keys = append(keys, "flag."+string(f.ID))
	}
	keys = append(keys, named("problem.", allProblems)...)
	keys = append(keys, named("act.", allActs)...)
	keys = append(keys, named("fact.", allFacts)...)
	keys = append(keys, named("clock.", []Clock{SinceWork, SinceBirth, SinceFoaling})...)
	for _, l := range words.Langs() {
		for _, k := range keys {
			td.CmpTrue(t, words.Has(l, k), "%s %s", l, k)
		}
	}
}

// No flag of foaling is offered of a filly; of a mare, and of one whose age nobody entered, each is.
func TestAFillyDoesNotFoal(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)
	of := func(h Horse) (n int) {
		for _, f := range RedFlags() {
			if f.Mares && f.For(h, at) {
				n++
			}
		}
		return n
	}
	if young, grown, unknown := of(Horse{Type: TypeHorse, Sex: Mare, Born: DateOf(at.AddDate(0, 0, -35))}), of(Horse{Type: TypeHorse, Sex: Mare, Born: DateOf(at.AddDate(-8, 0, 0))}), of(Horse{Type: TypeHorse}); young != 0 || grown == 0 || unknown != grown {
		t.Errorf("flags of foaling: %d of a filly, %d of a mare, %d of an unknown animal", young, grown, unknown)
	}
}

// Two problems at once are not told opposite things: who is told to take feed and water away is not told to leave or to offer
// them, and who is told to keep it still is not told to walk. Of every pair of problems, for every class of animal.
func TestLinesOfTwoProblemsDoNotContradict(t *testing.T) {
	t.Parallel()
	opposite := [][2][]WaitID{
		{{"all-away", "feed-away", "feed-ask"}, {"keep-feed", "tempt"}},
		{{"all-away"}, {"water-stays", "water-drink", "shade-water", "feed-ask", "feed-away"}},
		{{"do-not-move", "keep-still", "no-lead", "stay-clear"}, {"walk-if-calms"}},
		{{"stay-clear"}, {"tempt", "companion-sight", "head-low"}},
	}
	inFoal := animal(TypeHorse, Adult)
	inFoal.Sex, inFoal.InFoal = Mare, true
	animals := []Horse{animal(TypeHorse, Adult), animal(TypePony, Adult), animal(TypeDonkey, Adult), animal(TypeHorse, Neonate), inFoal}
	for _, h := range animals {
		for _, p := range allProblems {
			for _, q := range allProblems {
				list := Compatible(append(waitIDs(h, p), waitIDs(h, q)...), nil)
				has := func(ids []WaitID) bool {
					return slices.ContainsFunc(ids, func(id WaitID) bool { return slices.Contains(list, id) })
				}
				for _, o := range opposite {
					td.CmpFalse(t, has(o[0]) && has(o[1]), "%s %s and %s: %v", h.Type, p, q, list)
				}
				td.CmpTrue(t, slices.Contains(list, "give-nothing"), "%s and %s", p, q)
			}
		}
	}
	// What is an act before the call is not said again among the lines.
	td.Cmp(t, Compatible([]WaitID{"press", "keep-still"}, []ActID{ActPress}), []WaitID{"keep-still"})
	td.CmpFalse(t, slices.Contains(Compatible(waitIDs(animals[0], ProblemSwallow), []ActID{ActFeedWaterAway}), "all-away"))
}
