package recovery

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"
)

func heartAfter(pairs ...float64) []RecoveryPoint {
	var out []RecoveryPoint
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, RecoveryPoint{pairs[i], pairs[i+1], .8})
	}
	return out
}

func nearTo(t *testing.T, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestTimeTo(t *testing.T) {
	t.Parallel()
	// 96 at 5 minutes, 54 at 15: ln 96-ln 64 = .40547 of ln 96-ln 54 = .57536, so 5+10*.70471.
	r := TimeTo(64, heartAfter(5, 96, 15, 54))
	td.Cmp(t, r.State, ReachedBetween)
	nearTo(t, r.Minutes, 5+10*math.Log(1.5)/math.Log(96./54), 1e-9)
	nearTo(t, r.Minutes, 12.0471, 1e-4)
	td.CmpTrue(t, r.Low != nil && r.High != nil && *r.Low < r.Minutes && r.Minutes < *r.High)

	// Exactly the limit counts as reached.
	td.Cmp(t, TimeTo(64, heartAfter(5, 96, 15, 64)), td.Struct(Reached{State: ReachedBetween}, td.StructFields{
		"Minutes": td.Between(15-1e-4, 15+1e-9), "Low": td.NotNil(), "High": td.Nil()}))
	// Already there, not yet there, nothing counted.
	td.Cmp(t, TimeTo(64, heartAfter(4, 52, 10, 44)), td.Struct(Reached{State: ReachedBefore, Minutes: 4}, td.StructFields{"High": td.NotNil()}))
	td.Cmp(t, TimeTo(64, heartAfter(2, 100, 12, 72)), Reached{State: NotReached, Minutes: 12})
	td.Cmp(t, TimeTo(64, nil), Reached{State: NoCount})
	// Down, and up again later.
	r = TimeTo(64, heartAfter(2, 90, 10, 58, 14, 70))
	td.CmpTrue(t, r.RoseAgain)
	td.CmpTrue(t, r.Minutes < 10)
	// A last count just above, within the counting: not reached, and the side before it open.
	r = TimeTo(64, heartAfter(2, 90, 12, 64.5))
	td.Cmp(t, r.State, NotReached)
	td.CmpTrue(t, r.Low != nil && *r.Low < 12)
	td.Cmp(t, r.High, (*float64)(nil))
}

// The bounds against sampling of the two readings. Seed 20250610; Monte-Carlo standard
// error of a quantile here .012 minutes (40000 draws).
func TestTimeToAgainstSampling(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(20250610, 1))
	r := TimeTo(64, heartAfter(5, 80, 15, 54))
	below := [2]int{}
	const draws = 40000
	for range draws {
		a, b := math.Log(80)+.8/80*rng.NormFloat64(), math.Log(54)+.8/54*rng.NormFloat64()
		x := 5 + 10*(a-math.Log(64))/(a-b)
		for i, q := range []float64{*r.Low, *r.High} {
			if x <= q {
				below[i]++
			}
		}
	}
	nearTo(t, float64(below[0])/draws, .025, .0024)
	nearTo(t, float64(below[1])/draws, .975, .0024)
}

// The published definitions, as the rules state them.
func TestCriteriaAsPublished(t *testing.T) {
	t.Parallel()
	within := func(points []RecoveryPoint) map[CriterionID]WithinLimit {
		out := map[CriterionID]WithinLimit{}
		for _, a := range AnswerCriteria(points) {
			out[a.Criterion.ID] = a.Within
		}
		return out
	}
	// 64 reached between 15 and 20 minutes: in time for the finish, not for the gate.
	td.Cmp(t, within(heartAfter(5, 100, 15, 68, 20, 58)), td.SuperMapOf(map[CriterionID]WithinLimit{
		"fei-2019": WithoutTime, "fei-2020-gate": NotWithin, "fei-2020-final": Within, "fei-trial-first": Within, "aerc": Within,
		"fei-trial-later": Within, "fei-2002-one": NotWithin,
	}, nil))
	// Last count at 12 minutes, still above: open for every limit after it.
	td.Cmp(t, within(heartAfter(2, 110, 12, 72)), td.SuperMapOf(map[CriterionID]WithinLimit{
		"fei-2020-gate": WithinOpen, "fei-2020-final": WithinOpen, "aerc": WithinOpen}, nil))
	// First count after the limit: what was before it is not known.
	td.Cmp(t, within(heartAfter(25, 50)), td.SuperMapOf(map[CriterionID]WithinLimit{
		"fei-2020-gate": WithinOpen, "fei-2020-final": WithinOpen, "aerc": Within}, nil))
	// A last count above at the limit itself.
	td.Cmp(t, within(heartAfter(5, 90, 15, 66))["fei-2020-gate"], NotWithin)
	// Every entry says where it comes from, and its source is listed.
	sources := map[string]bool{}
	for _, s := range Sources() {
		sources[string(s.ID)] = true
	}
	for _, k := range Criteria() {
		td.CmpTrue(t, sources[string(k.Source)] && k.Mark != "", string(k.ID))
	}
	for _, d := range TrotDefinitions() {
		td.CmpTrue(t, sources[string(d.Source)] && d.Mark != "", d.ID)
	}
}

func TestCriterionChance(t *testing.T) {
	t.Parallel()
	for _, a := range AnswerCriteria(heartAfter(5, 96, 15, 64)) {
		if a.Criterion.ID == "fei-2020-gate" {
			nearTo(t, *a.Chance, .5, 1e-9)
		}
		if a.Criterion.ID == "fei-2020-final" {
			// 20 minutes lie after the last count; half a chance already at 15 is all that is known.
			td.Cmp(t, a.Within, Within)
			nearTo(t, *a.Chance, .5, 1e-9)
		}
	}
}

func TestTimeToProperties(t *testing.T) {
	t.Parallel()
	gen := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) RecoveryPoint {
		return RecoveryPoint{rapid.Float64Range(-5, 60).Draw(t, "t"), rapid.Float64Range(-1, 180).Draw(t, "rate"), rapid.Float64Range(-.1, 4).Draw(t, "sd")}
	}), 0, 8)
	rapid.Check(t, func(t *rapid.T) {
		ps := gen.Draw(t, "points")
		limit := rapid.Float64Range(30, 140).Draw(t, "limit")
		r := TimeTo(limit, ps)
		back := make([]RecoveryPoint, len(ps))
		for i, p := range ps {
			back[len(ps)-1-i] = p
		}
		if b := TimeTo(limit, back); b.State != r.State || b.Minutes != r.Minutes {
			t.Fatalf("order matters: %+v %+v", r, b)
		}
		if r.State == ReachedBetween {
			if r.Low != nil && *r.Low > r.Minutes+1e-6 || r.High != nil && *r.High < r.Minutes-1e-6 {
				t.Fatalf("%v outside %v..%v", r.Minutes, *r.Low, *r.High)
			}
		}
		// A higher limit is reached no later.
		if h := TimeTo(limit*1.1, ps); r.State == ReachedBetween && (h.State == NotReached || h.Minutes > r.Minutes+1e-6) {
			t.Fatalf("%v reached at %v, %v at %v", limit, r.Minutes, limit*1.1, h.Minutes)
		}
		AnswerCriteria(ps)
	})
}

func TestTimeToOddInput(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	odd := []RecoveryPoint{{nan, 60, 1}, {1, nan, 1}, {1, 60, nan}, {1, 0, 1}, {1, -5, 1}, {-3, 60, 1}, {math.Inf(1), 60, 1}}
	td.Cmp(t, TimeTo(64, odd).State, NoCount)
	td.Cmp(t, TimeTo(nan, heartAfter(1, 60)).State, NoCount)
	td.Cmp(t, TimeTo(0, heartAfter(1, 60)).State, NoCount)
}
