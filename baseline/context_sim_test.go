package baseline

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// Old exams count for less because the level may wander: within the model the pull of a reading fades with
// the time constants of the drift, if the horse's own readings show that it wanders. Three years
// of exams of horses whose level moves with the season, with training, or slowly by
// itself, by their own SDs: how often the next reading is covered, and beside it the model
// without a drift, to which a reading of three years ago is one of today.
func TestSeasonTrainingAndAgeAreFollowed(t *testing.T) {
	s := newShipped(with(heartPrior(), omega, true, false))
	plain := newLevel(with(heartPrior(), omega, false, false))
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
				l  *level
				to *tally
			}{{s.fit(o.ps, 0, today), &own}, {plain, &unaware}} {
				if j.l == plain {
					plain.fit(o.ps)
				}
				lo, hi := j.l.predict(today, 0, 0).Limits(.95)
				j.to.add(h, o, lo, hi)
			}
		}
		t.Logf("%s: covered %.3f (%.3f) / %.2f; without a drift %.3f / %.2f", v.name, own.cover.mean(), own.cover.se(), own.ratio(), unaware.cover.mean(), unaware.ratio())
		atLeast(t, v.name, 0, own.cover, v.least)
	}
}

// A foal's usual moves by the week, and so does what is assumed of it: at one week, a month, three months. What
// it showed at one week teaches nothing at a month; at ten days it still does.
func TestFoalsMoveByTheWeek(t *testing.T) {
	foal := aHorse()
	foal.Born = vitals.DateOf(spring)
	usual := func(days float64) Interval {
		n, ok := New(foal).Normal(vitals.HeartRate, "", spring.AddDate(0, 0, int(days)))
		td.CmpTrue(t, ok)
		return n.Own
	}
	last := usual(7).Mid
	for _, days := range []float64{14, 21, 28, 60} {
		now := usual(days).Mid
		td.Cmp(t, now, td.Lt(last-1), "at %g days", days)
		last = now
	}
	b := learned(foal, quiet(7, heart(104)), quiet(8, heart(102)))
	for days, taught := range map[float64]int{10: 2, 28: 0} {
		c, err := b.Compare(tonight(days, heart(90)))
		td.CmpNoError(t, err)
		td.Cmp(t, one(c, vitals.HeartRate).Basis.Exams, taught, "at %g days", days)
	}
	// What it showed then is brought to the age of now: ten beats above its kind stay ten above.
	c, err := b.Compare(tonight(10, heart(90)))
	td.CmpNoError(t, err)
	then, now := (usual(7).Mid+usual(8).Mid)/2, usual(10).Mid
	td.Cmp(t, one(c, vitals.HeartRate).Own.Mid-now, td.Between((103-then)*.5, (103-then)*1.1))
}
