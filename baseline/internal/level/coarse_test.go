package level

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// Where an answer only chooses between two ways of working, few points are looked at. What they say of a reading beyond
// nearly all others, and of how steep a slope may be by chance, is that of all points within a few percent, as far out as anything is asked.
func TestFewPointsAreEnoughToChoose(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(31, 7))
	worst, sum, count, looked, of := 0.0, 0.0, 0, 0, 0
	for range reps(300, 6000) {
		n := OutwardFrom + rng.IntN(500)
		set := heartPrior()
		set.Omega, set.Walk = Omega, Walk*float64(rng.IntN(2))
		if rng.IntN(2) == 0 {
			set.Rhythm = &aDay
		}
		sigma, method := set.Sigma0*math.Exp(Omega*rng.NormFloat64()), set.Sigma0*math.Exp(2*rng.NormFloat64()-1)
		points := make([]Reading, n)
		for i := range points {
			sd := method * math.Exp(.3*rng.NormFloat64())
			points[i] = Reading{Day: float64(i) * 3, Hour: 24 * rng.Float64(), SD: sd, Y: set.M0 + math.Hypot(sigma, sd)*rng.NormFloat64()}
		}
		few, all := New(set), New(set)
		few.Coarse = true
		few.Fit(points)
		all.Fit(points)
		looked, of = looked+len(few.cells), of+len(all.cells)
		p, q := few.Predict(0, 8, method), all.Predict(0, 8, method)
		for _, at := range []float64{.05, .005, 1e-4, 1e-6} {
			y := q.Quantile(1 - at)
			off := math.Abs(p.Upper(y)/q.Upper(y) - 1)
			worst, sum, count = max(worst, off), sum+off, count+1
			if off > .1 {
				t.Errorf("n = %d, sigma %.2f, methods %.2f: %.3g, of all points %.3g", n, sigma, method, p.Upper(y), q.Upper(y))
			}
		}
	}
	t.Logf("worst %.1e, mean %.1e; %.2f of the points", worst, sum/float64(count), float64(looked)/float64(of))
	if 3*looked > 2*of {
		t.Errorf("%d points instead of %d", looked, of)
	}
}

// Points are looked at outward from where the readings' own SD puts sigma. Of histories as absurd as can be (bad days by the dozen,
// two levels, methods of every quality, a reading a thousand SDs out) the limits are those of all points of the grid.
func TestOutwardFindsAllThatCounts(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(17, 3))
	worst, tried := 0.0, 0
	for k := range reps(240, 6000) {
		n := OutwardFrom + rng.IntN(300)
		set := with(heartPrior(), Omega, rng.IntN(3) > 0, false)
		set.Walk = Walk * float64(rng.IntN(2))
		if rng.IntN(3) == 0 {
			set.Rhythm = &aDay
		}
		sigma, method := set.Sigma0*math.Exp(1.5*Omega*rng.NormFloat64()), set.Sigma0*math.Exp(2*rng.NormFloat64()-1)
		points := make([]Reading, n)
		level, day := 0.0, 0.0
		for i := range points {
			day += rng.ExpFloat64() * math.Exp(2*rng.NormFloat64())
			sd := method
			switch k % 6 {
			case 0: // methods of every quality
				sd *= math.Exp(3 * rng.NormFloat64())
			case 1: // two levels
				level = 10 * sigma * float64(i*2/n)
			case 2: // a level that walks
				level += sigma * rng.NormFloat64()
			}
			y := set.M0 + level + math.Hypot(sigma, sd)*rng.NormFloat64()
			switch {
			case k%6 == 3 && rng.IntN(4) == 0:
				y += 8 * sigma
			case k%6 == 4 && i == n/2:
				y += 1000 * sigma
			case k%6 == 5: // as read from a coarse display
				y = 10 * math.Round(y/10)
			}
			points[i] = Reading{Day: day, Hour: 24 * rng.Float64(), SD: sd, Y: y, ID: strconv.Itoa(i)}
		}
		some, all := New(set), New(set)
		some.Fit(points)
		all.Fit(points)
		all.weighAll(1)
		beyond := false // at an end of the grid the sum is another one, see end
		for i, j := range all.chosen {
			beyond = beyond || all.weight[i] > 1e-9 && all.cells[j].value%(all.grid.size-1) == 0
		}
		if beyond {
			continue
		}
		tried++
		lo, hi := some.Predict(day+1, 8, method).Limits(.95)
		a, b := all.Predict(day+1, 8, method).Limits(.95)
		off := 2 * max(math.Abs(a-lo), math.Abs(b-hi)) / (b - a)
		if worst = max(worst, off); off > 1e-3 {
			t.Errorf("%d: n = %d: %.4f to %.4f, of all points %.4f to %.4f", k, n, lo, hi, a, b)
		}
	}
	t.Logf("worst %.1e of a half-width of %d", worst, tried)
}

// A model that goes on from one of fewer readings, in the same memory, is that of its readings alone, to the last bit; learning in one
// changes none of the others.
func TestModelsInOneMemory(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 8))
	for k := range 12 {
		set := with(heartPrior(), Omega, k%2 == 0, false)
		if k%4 < 2 {
			set.Rhythm = &aDay
		}
		points := make([]Reading, checkpoint+1+rng.IntN(60))
		for i := range points {
			points[i] = Reading{Day: float64(i) + rng.Float64(), Hour: 24 * rng.Float64(), SD: rng.Float64(), Y: 38 + 3*rng.NormFloat64(), ID: strconv.Itoa(i), NewLevel: i > 0 && rng.IntN(30) == 0}
		}
		var f Cache
		same := func(n int) {
			t.Helper()
			some, alone := f.Plain(set, points, n), Fit(set, points[:n])
			day := points[n-1].Day + 1
			a, b := some.Predict(day, 7, .4), alone.Predict(day, 7, .4)
			td.Cmp(t, a.Parts, b.Parts)
			td.Cmp(t, []float64{float64(some.n), float64(some.since), some.last}, []float64{float64(alone.n), float64(alone.since), alone.last})
			// More readings go into memory of their own.
			next := Reading{Day: day, Hour: 5, SD: .3, Y: 41}
			td.Cmp(t, some.Learn(next), true)
			td.Cmp(t, alone.Learn(next), true)
			td.Cmp(t, some.Predict(day+1, 7, .4).Parts, alone.Predict(day+1, 7, .4).Parts)
		}
		for n := len(points); n > 0; n-- {
			same(n)
		}
		same(len(points))
		l := f.Plain(set, points, len(points))
		l.Fit(points[:1]) // begins anew
		same(len(points))
	}
}
