package level

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Old exams count for less because the level may wander: within the model the pull of a reading fades with
// the time constants of the drift, if the horse's own readings show that it wanders. Three years
// of exams of horses whose level moves with the season, with training, or slowly by
// itself, by their own SDs: how often the next reading is covered, and beside it the model
// without a drift, to which a reading of three years ago is one of today.
func TestSeasonTrainingAndAgeAreFollowed(t *testing.T) {
	t.Parallel()
	s := newShipped(with(heartPrior(), Omega, true, false))
	plain := New(with(heartPrior(), Omega, false, false))
	for _, v := range []struct {
		name  string
		step  float64
		level func(day float64, rng *rand.Rand) float64 // in own SDs
		least float64
	}{
		{"still, monthly", 30, func(float64, *rand.Rand) float64 { return 0 }, .94},
		{"season of 1 SD either way, monthly", 30, func(day float64, _ *rand.Rand) float64 { return math.Sin(2 * math.Pi * day / 365) }, .93},
		{"season of 1.5 SD either way, every two weeks", 14, func(day float64, _ *rand.Rand) float64 { return 1.5 * math.Sin(2*math.Pi*day/365) }, .92},
		{"training in the last half year, down 3 SD, every two weeks", 14, func(day float64, _ *rand.Rand) float64 {
			return -3 * max(0, min(1, (day-900)/150))
		}, .90},
		{"age, up 1 SD a year, monthly", 30, func(day float64, _ *rand.Rand) float64 { return day / 365 }, .92},
	} {
		rng := rand.New(rand.NewPCG(2081, 1))
		h := simHerd{set: heartPrior(), step: v.step}
		var own, unaware tally
		for range reps(150, 2000) {
			begin := 365 * rng.Float64() // of the year
			n := int(1095 / v.step)
			o := h.horse(rng, n)
			at := func(day float64) float64 {
				if v.name[0] == 's' {
					day += begin
				}
				return o.sigma * v.level(day, rng)
			}
			for i := range o.ps {
				o.ps[i].Y += at(o.ps[i].Day)
			}
			today := float64(n) * v.step
			o.next += at(today)
			for _, j := range []struct {
				l  *Model
				to *tally
			}{{s.fit(o.ps, 0, today), &own}, {plain, &unaware}} {
				if j.l == plain {
					plain.Fit(o.ps)
				}
				lo, hi := j.l.Predict(today, 0, 0).Limits(.95)
				j.to.add(h, o, lo, hi)
			}
		}
		t.Logf("%s: covered %.3f (%.3f) / %.2f; without a drift %.3f / %.2f", v.name, own.cover.mean(), own.cover.se(), own.ratio(), unaware.cover.mean(), unaware.ratio())
		atLeast(t, v.name, 0, own.cover, v.least)
	}
}
