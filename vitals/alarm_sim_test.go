package vitals

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
)

// simClass is a class of well animals.
type simClass struct {
	name      string
	horse     Horse
	stage     Stage
	firstHour bool // within the first hour of life, for which ranges of its own are printed
}

func simClasses() []simClass {
	born := func(ty Type, st Stage, before time.Duration) Horse {
		h := animal(ty, st)
		h.BornAt = testMoment.Add(-before)
		h.Born = DateOf(h.BornAt)
		return h
	}
	mare := func(ty Type) Horse {
		h := animal(ty, Adult)
		h.Sex, h.InFoal = Mare, true
		return h
	}
	week := 7 * 24 * time.Hour
	return []simClass{
		{"horse", animal(TypeHorse, Adult), Adult, false},
		{"horse, senior", animal(TypeHorse, Senior), Senior, false},
		{"pony", animal(TypePony, Adult), Adult, false},
		{"draft", animal(TypeDraft, Adult), Adult, false},
		{"donkey", animal(TypeDonkey, Adult), Adult, false},
		{"mule", animal(TypeMule, Adult), Adult, false},
		{"mare in foal", mare(TypeHorse), Adult, false},
		{"donkey in foal", mare(TypeDonkey), Adult, false},
		{"foal, 20 minutes", born(TypeHorse, Newborn, 20*time.Minute), Newborn, true},
		{"foal, 12 hours", born(TypeHorse, Newborn, 12*time.Hour), Newborn, false},
		{"foal, 4 days", born(TypeHorse, Neonate, 4*24*time.Hour), Neonate, false},
		{"foal, 3 weeks", born(TypeHorse, Foal, 3*week), Foal, false},
		{"foal, 3 months", born(TypeHorse, Foal, 13*week), Foal, false},
		{"donkey foal, 4 days", born(TypeDonkey, Neonate, 4*24*time.Hour), Neonate, false},
		{"donkey foal, 3 months", born(TypeDonkey, Foal, 13*week), Foal, false},
		{"weanling", animal(TypeHorse, Weanling), Weanling, false},
		{"yearling", animal(TypeHorse, Yearling), Yearling, false},
		{"two-year-old", animal(TypeHorse, TwoYearOld), TwoYearOld, false},
	}
}

// ranges are the published ranges from which a sign of the class is drawn. A single figure and a range
// open on one side say nothing of the spread and are left out. What is printed of the newborn alone
// for heart and breath is of its first hour.
func (c simClass) ranges(s Sign) []Range {
	all := s.RangesFor(c.horse.Type, c.stage)
	return slices.DeleteFunc(all, func(r Range) bool {
		ofFirstHour := s.Kind == KindRate && len(r.Stages) == 1 && r.Stages[0] == Newborn
		return r.Source == "texas-agrilife-2009" && s.ID == HeartRate || !r.Low.Valid || !r.High.Valid || !r.Low.Decimal.LessThan(r.High.Decimal) ||
			s.Kind == KindRate && c.stage == Newborn && ofFirstHour != c.firstHour
	})
}

// draw gives a value of a range, each as likely as any other, rounded as it is shown.
func draw(rng *rand.Rand, s Sign, r Range) Finding {
	low, high := r.Low.Decimal.InexactFloat64(), r.High.Decimal.InexactFloat64()
	x := low + rng.Float64()*(high-low)
	if s.Kind == KindTimed {
		return Finding{Sign: s.ID, Timed: &Timed{CentiSeconds: []int{int(math.Round(x * 100))}}}
	}
	unit := r.Unit
	if unit == "" {
		unit = s.Unit
	}
	return Finding{Sign: s.ID, Reading: &Reading{Value: decimal.NewFromFloat(x).Round(int32(s.Places)), Unit: unit}}
}

// Exams of well animals on a quiet day: every measured sign drawn from the published ranges of its class, one
// of them at random for each, every other answer the usual one. Rules must leave nearly all in peace: at most
// 1 exam in 100 of a class fires anything, 1 in 1,000 says to call now (our limits). Each line says so much ± one
// standard error of the draw. One row is left out: 23 to 70 beats a minute (Texas AgriLife 2009) are the outermost of
// all horses, and others call from 48 and from 60 on.
func TestQuietExamsOfWellAnimalsHardlyFire(t *testing.T) {
	t.Parallel()
	const exams = 4_000
	const anything, callNow = 1.0 / 100, 1.0 / 1000
	percent := func(n int) string {
		p := float64(n) / exams
		return fmt.Sprintf("%.3f %% ± %.3f", 100*p, 100*math.Sqrt(p*(1-p)/exams))
	}
	for i, class := range simClasses() {
		rng := rand.New(rand.NewPCG(20260503, uint64(i)))
		base := Exam{ID: "e", Horse: class.horse.ID, At: testMoment, Depth: Full, Purpose: Learning, Holder: Held,
			State: State{Condition: AtRest}, Status: Finished}
		usual := usualAnswers(class.horse, base)
		measuredSigns := map[SignID][]Range{}
		for _, step := range StepsFor(class.horse, base) {
			if s, _ := Lookup(step.Sign); s.Kind.Measured() {
				if ranges := class.ranges(s); len(ranges) > 0 {
					measuredSigns[s.ID] = ranges
				}
			}
		}
		signs := slices.Sorted(maps.Keys(measuredSigns))
		fires, calls := 0, 0
		byRule := map[AlarmID]int{}
		by := map[string]int{} // rule, and the range that it fired in
		for range exams {
			e, from := base, map[SignID]Range{}
			e.Findings = slices.Clone(usual)
			for _, id := range signs {
				s := &catalogue[catalogueIndex[id]]
				r := measuredSigns[id][rng.IntN(len(measuredSigns[id]))]
				from[id] = r
				e.Findings = append(e.Findings, draw(rng, *s, r))
			}
			fired := FiredAlarms(class.horse, e)
			if len(fired) > 0 {
				fires++
			}
			if Strongest(fired) == RingNow {
				calls++
			}
			for _, f := range fired {
				byRule[f.Alarm]++
				r := from[f.Sign]
				by[fmt.Sprintf("%s %s, drawn from %s %s-%s", f.Urgency, f.Alarm, r.Source, r.Low.Decimal, r.High.Decimal)]++
			}
		}
		t.Logf("%s: anything %s, now %s; %v", class.name, percent(fires), percent(calls), signs)
		lines := slices.SortedFunc(maps.Keys(by), func(a, b string) int { return by[b] - by[a] })
		for _, l := range lines {
			t.Logf("    %s: %s", percent(by[l]), l)
		}
		if p := float64(fires) / exams; p > anything {
			t.Errorf("%s: %s of the quiet exams fire something, want at most %.1f %%: %s", class.name, percent(fires), 100*anything,
				strings.Join(slices.Collect(names(byRule)), ", "))
		}
		if p := float64(calls) / exams; p > callNow {
			t.Errorf("%s: %s of the quiet exams say to call now, want at most %.1f %%: %s", class.name, percent(calls), 100*callNow,
				strings.Join(slices.Collect(names(byRule)), ", "))
		}
	}
}

// names gives the rules, the most frequent first.
func names(n map[AlarmID]int) func(yield func(string) bool) {
	order := slices.SortedFunc(maps.Keys(n), func(a, b AlarmID) int { return n[b] - n[a] })
	return func(yield func(string) bool) {
		for _, id := range order {
			if !yield(fmt.Sprintf("%s %d", id, n[id])) {
				return
			}
		}
	}
}
