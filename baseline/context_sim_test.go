package baseline

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// A foal's usual moves by the week, and so does what is assumed of it: at one week, a month, three months. What
// it showed at one week teaches nothing at a month; at ten days it still does.
func TestFoalsMoveByTheWeek(t *testing.T) {
	t.Parallel()
	foal := aHorse()
	foal.Born = vitals.DateOf(spring)
	usual := func(days float64) Interval {
		n, ok := must(New(foal)).Normal(vitals.HeartRate, "", spring.AddDate(0, 0, int(days)))
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
