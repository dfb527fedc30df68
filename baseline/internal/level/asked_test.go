package level

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// How rare a reading was beside those before it is what a fit of those alone says: from half of the readings on, as it is asked for, off by .01
// in the mean, on the grid points of all the readings. Seed 41.
func TestBeforeIsWhatWasSaid(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(41, 1))
	off, worst, asked := 0.0, 0.0, 0.0
	for k := range reps(80, 1000) {
		set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega, Drift: k%2 == 1, Walk: Walk}
		if k%4 > 1 {
			set.Rhythm = &Rhythm{Amplitude: 2, AmplitudeSD: .8, From: 16, To: 23}
		}
		n := 6 + rng.IntN(50)
		ps := make([]Reading, n)
		for i := range ps {
			ps[i] = Reading{Day: 3 * float64(i), Hour: 24 * rng.Float64(), Y: 38 + 4*rng.NormFloat64(), SD: .2 + rng.Float64()}
		}
		from := n / 2
		l := Fit(set, ps)
		want := Fit(set, ps).Predict(ps[n-1].Day+1, 3, .5)
		next := from
		l.Before(from, func(i int, told float64) {
			td.Cmp(t, i, next)
			next++
			_, then, _ := Fit(set, ps[:i]).Predict(ps[i].Day, ps[i].Hour, ps[i].SD).Rarity(ps[i].Y)
			off, worst, asked = off+math.Abs(told-then), max(worst, math.Abs(told-then)), asked+1
		})
		td.Cmp(t, next, n)
		got := l.Predict(ps[n-1].Day+1, 3, .5)
		td.Cmp(t, []float64{got.Mean, got.SD}, []float64{want.Mean, want.SD}, "the model has not changed")
	}
	t.Logf("off by %.5f in the mean, %.4f at most, of %.0f", off/asked, worst, asked)
	if off > .01*asked || worst > .2 {
		t.Errorf("off by %.5f in the mean, %.4f at most", off/asked, worst)
	}
}
