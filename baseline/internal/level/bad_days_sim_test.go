package level

import (
	"math/rand/v2"
	"testing"

	"whorl.example/baseline/internal/normal"
)

// A tenth of the history from bad days, and none; Omega .5 as where the goals come from, and
// the one that ships beside it, held to the same goals. Bad days are looked for where a reading stands out, for
// which what is believed of them is meant.
func TestBadDaysInHistory(t *testing.T) {
	t.Parallel()
	sick := simHerd{set: heartPrior(), sick: .1, shift: 4}
	milder := simHerd{set: heartPrior(), sick: .1, shift: 2.5}
	well := simHerd{set: heartPrior()}
	searched := func(omega float64, drift bool) func(h simHerd, n, reps int, seed uint64) tally {
		return func(h simHerd, n, reps int, seed uint64) tally {
			y, _ := simulateSearched(h, with(heartPrior(), omega, drift, false), n, reps, seed)
			return y
		}
	}
	for _, v := range []struct {
		name string
		run  func(h simHerd, n, reps int, seed uint64) tally
	}{
		{"plain, searched where a reading stands out", searched(.5, false)},
		{"drift, searched where a reading stands out", searched(.5, true)},
		{"what ships", searched(Omega, true)},
	} {
		for _, n := range []int{5, 10, 20, 50} {
			if n == 50 && !long() {
				continue
			}
			y := v.run(well, n, reps(150, 6000), 2031)
			t.Logf("%s, none, n=%d: %v", v.name, n, &y)
			atLeast(t, v.name+", none", n, y.cover, .94)
		}
		y := v.run(sick, 20, reps(150, 6000), 2032)
		t.Logf("%s, a tenth, n=20: %v (power %.4f)", v.name, &y, y.power[4].se())
		atLeast(t, v.name, 20, y.cover, .945)
		atMost(t, v.name+" width", 20, y.ratio(), widthSE(y), 1.13)
		atLeast(t, v.name+" power +4", 20, y.power[4], .92)
		if long() {
			y = v.run(milder, 20, 3000, 2033)
			t.Logf("%s, a tenth by 2.5 SDs, n=20: %v", v.name, &y)
			atLeast(t, v.name+", milder", 20, y.cover, .945)
		}
	}
	y := simulate(sick, with(heartPrior(), .5, false, false), 20, reps(150, 6000), 2032)
	t.Logf("unaware, a tenth, n=20: %v", &y)
	if y.power[4].mean() > .75 {
		t.Errorf("the histories are no test: power %.3f without the mixture", y.power[4].mean())
	}
}

// One wild reading among others of a well horse, 8 and 12 own SDs up: a bad day of the nearer kind cannot
// be as far, so that without the farther kind the horse's own SD has to grow.
func TestOneWildReading(t *testing.T) {
	t.Parallel()
	h := simHerd{set: heartPrior()}
	for _, v := range []struct {
		n            int
		up           float64
		width, least float64 // in widths of the oracle; power +4
	}{{8, 8, 1.5, .75}, {8, 12, 1.7, .65}, {20, 8, 1.2, .92}, {20, 12, 1.2, .92}} {
		s, p, y := newShipped(with(heartPrior(), Omega, true, false)), new(normal.Mixture), tally{}
		rng := rand.New(rand.NewPCG(2035, uint64(v.n)))
		for range reps(150, 6000) {
			o := h.horse(rng, v.n)
			o.ps[v.n/2].Y += v.up * o.sigma
			s.fit(o.ps, 0, float64(v.n)).PredictInto(p, float64(v.n), 0, 0)
			lo, hi := p.Limits(.95)
			y.add(h, o, lo, hi)
		}
		t.Logf("one of %d up by %g: %v", v.n, v.up, &y)
		atLeast(t, "coverage beside a wild reading", v.n, y.cover, .945)
		atMost(t, "width beside a wild reading", v.n, y.ratio(), widthSE(y), v.width)
		atLeast(t, "power +4 beside a wild reading", v.n, y.power[4], v.least)
	}
}
