package level

import (
	"math/rand/v2"
	"testing"
)

// A horse that settles three of its own SDs higher after fifteen readings: how often the next
// reading there is covered, without the mark, with it, and by a new horse's interval
// from the readings at the new level alone. Weekly and daily readings, a third of the horses each
// without drift, with a weak one, with a strong one.
func TestNewLevelCovers(t *testing.T) {
	t.Parallel()
	for _, v := range []struct {
		name      string
		step, phi float64
	}{{"daily", 1, 0}, {"weekly", 7, 0}, {"weekly, with a drift", 7, .5}} {
		s := newShipped(with(heartPrior(), Omega, true, false))
		for _, k := range []int{0, 1, 2, 3, 5, 10} {
			rng := rand.New(rand.NewPCG(2061, uint64(k)))
			h := simHerd{set: heartPrior(), step: v.step, phi: v.phi, days: 20}
			var without, marked, fresh tally
			for range reps(200, 4000) {
				o := h.horse(rng, 15+k)
				o.next += 3 * o.sigma
				o.mu += 3 * o.sigma
				for i := 15; i < len(o.ps); i++ {
					o.ps[i].Y += 3 * o.sigma
				}
				today := float64(15+k) * v.step
				judge := func(l *Model, to *tally) {
					lo, hi := l.Predict(today, 0, 0).Limits(.95)
					to.add(h, o, lo, hi)
				}
				judge(s.fit(o.ps, 0, today), &without)
				judge(s.fit(o.ps[15:], 0, today), &fresh)
				if k > 0 {
					o.ps[15].NewLevel = true
				}
				l := s.fit(o.ps, 15, today)
				if k == 0 {
					l.Renew()
				}
				judge(l, &marked)
			}
			t.Logf("%s, %d readings at the new level: without the mark %.3f (%.3f) / %.2f, with it %.3f (%.3f) / %.2f, a new horse %.3f / %.2f", v.name, k,
				without.cover.mean(), without.cover.se(), without.ratio(), marked.cover.mean(), marked.cover.se(), marked.ratio(), fresh.cover.mean(), fresh.ratio())
			// Before the first reading there the mark only says that nothing is known.
			atLeast(t, v.name+": with the mark", k, marked.cover, .93)
			if k > 0 && marked.ratio() > fresh.ratio() {
				t.Errorf("%s, %d: wider than a new horse's, though the spread is known", v.name, k)
			}
			if k == 10 {
				atLeast(t, v.name+": without the mark, after ten", k, without.cover, .87)
			}
		}
	}
}
