package level

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// How rare a reading was beside those before it is what a fit of those alone says, within a twentieth of it and .01: from half of the readings
// on, as it is asked for, which is what the grid points of all of them are good for.
func TestBeforeIsWhatWasSaid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega, Drift: rapid.Bool().Draw(t, "drift"), Walk: Walk}
		if rapid.Bool().Draw(t, "rhythm") {
			set.Rhythm = &Rhythm{Amplitude: 2, AmplitudeSD: .8, From: 16, To: 23}
		}
		n := rapid.IntRange(4, 60).Draw(t, "n")
		ps := someVisits(t, n)
		for i := range ps {
			ps[i].NewLevel = false
		}
		from := max(3, n/2)
		l := Fit(set, ps)
		want := Fit(set, ps).Predict(ps[n-1].Day+1, 3, .5)
		next := from
		l.Before(from, func(i int, told float64) {
			if i != next {
				t.Fatalf("reading %d after %d", i, next-1)
			}
			next++
			if Visits(ps[:i]) < Early { // which is judged as a week away
				return
			}
			_, then, _ := Fit(set, ps[:i]).Predict(ps[i].Day, ps[i].Hour, ps[i].SD).Rarity(ps[i].Y)
			if math.Abs(told-then) > .01+.05*then {
				t.Errorf("reading %d of %d: %.5f, then %.5f", i, n, told, then)
			}
		})
		if next != n {
			t.Fatalf("%d of %d", next, n)
		}
		if got := l.Predict(ps[n-1].Day+1, 3, .5); got.Mean != want.Mean || got.SD != want.SD {
			t.Error("the model has changed")
		}
	})
}
