package level

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"whorl.example/baseline/internal/normal"
)

// Two thermometers in turn, the next reading by a third or by the second, against the whole covariance matrix by Cholesky at 801 values of log sigma over 5 omega.
func TestWaysVectors(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 37.55, Tau: .22, Sigma0: .17, Omega: .74, SpanDays: 30, Drift: true, Walk: Walk, Ways: 2, Offset: .1}
	points := []Reading{{Day: 0, Y: 37.5, SD: .06, Way: 1}, {Day: 7, Y: 37.6, SD: .06, Way: 1}, {Day: 14, Y: 37.8, SD: .06, Way: 2}, {Day: 21, Y: 37.4, SD: .06, Way: 1}}
	for _, v := range []struct {
		name                  string
		way                   uint8
		low, mid, high, above float64
		told                  float64
	}{
		{"by a third", 0, 37.1135868, 37.5883295, 38.0295471, .006768354, .010732664},
		{"by the second", 2, 37.1806119, 37.6678192, 38.0467759, .007283716, .010968687},
	} {
		l := newOn(set, .01, 5)
		l.Fit(points)
		p := new(normal.Mixture)
		l.PredictBy(p, Reading{Day: 28, SD: .06, Way: v.way})
		lo, hi := p.Limits(.95)
		_, above := p.Tails(38.2)
		_, told, _ := p.Rarity(38.2)
		near(t, v.name+": log evidence", l.logEvidence, .6290036, 1e-6)
		near(t, v.name+": low", lo, v.low, 1e-6)
		near(t, v.name+": middle", p.Quantile(.5), v.mid, 1e-6)
		near(t, v.name+": high", hi, v.high, 1e-6)
		near(t, v.name+": above", above, v.above, 1e-8)
		near(t, v.name+": told", told/2, v.told, 1e-6) // what hardly weighs is left out
	}
}

// wayed are readings in ways, some within hours of each other.
func wayed(t *rapid.T, set *Setting, most int) []Reading {
	if rapid.Bool().Draw(t, "rhythm") {
		set.Rhythm = &Rhythm{Amplitude: 2, AmplitudeSD: .8, From: 16, To: 23}
	}
	ps := someVisits(t, rapid.IntRange(1, most).Draw(t, "n"))
	for i := range ps {
		ps[i].Way = uint8(rapid.IntRange(0, set.Ways).Draw(t, "way"))
	}
	return ps
}

// One by one and all at once give the same bits; and offsets of no size are none.
func TestWaysOneByOne(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega, Drift: rapid.Bool().Draw(t, "drift"), Walk: Walk, Ways: 3, Offset: 2}
		ps := wayed(t, &set, 20)
		all, one := Fit(set, ps), New(set)
		for _, p := range ps {
			one.Learn(p)
			if rapid.IntRange(0, 3).Draw(t, "ask") == 0 {
				one.Weigh()
			}
		}
		next := Reading{Day: ps[len(ps)-1].Day + 3, Hour: 9, SD: .5, Way: uint8(rapid.IntRange(0, 3).Draw(t, "next"))}
		by := func(l *Model) *normal.Mixture {
			p := new(normal.Mixture)
			l.PredictBy(p, next)
			return p
		}
		a, b, c := by(all), by(one), by(new(Cache).Plain(set, ps, len(ps)))
		if a.Mean != b.Mean || a.SD != b.SD || a.Mean != c.Mean || a.SD != c.SD {
			t.Fatalf("all at once %v %v, one by one %v %v, going on %v %v", a.Mean, a.SD, b.Mean, b.SD, c.Mean, c.SD)
		}
		none, plain := set, set
		none.Offset, plain.Ways = 0, 0
		x, y := by(Fit(none, ps)), by(Fit(plain, ps))
		if math.Abs(x.Mean-y.Mean) > 1e-7 || math.Abs(x.SD-y.SD) > 1e-7 {
			t.Fatalf("offsets of no size: %v %v, without %v %v", x.Mean, x.SD, y.Mean, y.SD)
		}
	})
}

// A history by the second way alone is one by the first alone, and the search for bad days says of wild readings what it says without ways,
// where the offsets have no size.
func TestWaysByAnyName(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega, Drift: true, Walk: Walk, Ways: 2, Offset: 2, BadDays: true}
		ps := wayed(t, &set, 8)
		turned, none, plain := append([]Reading(nil), ps...), set, set
		for i := range turned {
			turned[i].Way = [...]uint8{0, 2, 1}[ps[i].Way]
		}
		none.Offset, plain.Ways = 0, 0
		for _, v := range []struct {
			name string
			a, b *Model
		}{{"turned", Fit(set, ps), Fit(set, turned)}, {"no size", Fit(none, ps), Fit(plain, ps)}} {
			for i, p := range v.a.BadDayProbabilities() {
				if q := v.b.BadDayProbabilities()[i]; math.Abs(p-q) > 1e-6 {
					t.Fatalf("%s: bad day %d %v %v", v.name, i, p, q)
				}
			}
		}
	})
}

// What was said of a reading by those before it is what a model of those says.
func TestWaysBefore(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 37.55, Tau: .22, Sigma0: .17, Omega: Omega, Drift: true, Walk: Walk, Ways: 2, Offset: .15, Rhythm: &Rhythm{.25, .1, 16, 23}}
	rng := rand.New(rand.NewPCG(8, 8))
	ps := make([]Reading, 30)
	for i := range ps {
		ps[i] = Reading{Day: 3 * float64(i), Hour: float64(7 + 4*(i%3)), Y: 37.5 + .2*rng.NormFloat64() + .3*float64(i%2), SD: .06, Way: uint8(1 + i%2)}
	}
	p := new(normal.Mixture)
	Fit(set, ps).Before(20, func(i int, told float64) {
		Fit(set, ps[:i]).PredictBy(p, ps[i])
		if _, want, _ := p.Rarity(ps[i].Y); math.Abs(told-want) > .002+.05*want {
			t.Errorf("reading %d: %v, by those before it %v", i, told, want)
		}
	})
}

// Weekly rectal temperatures of horses as in [TestSlipOfTheThermometer], read with thermometers that are off by .15 °C, give or take (SD): how often
// the next reading is covered, how wide what is usual is, and whether +1.0 °C is seen. Seed 4107, paired: with offsets and without.
func TestAnotherThermometer(t *testing.T) {
	t.Parallel()
	base := Setting{M0: 37.55, Tau: .22, Sigma0: .17, Omega: Omega, Drift: true, Walk: Walk}
	for _, v := range []struct {
		name  string
		off   float64
		ways  int // in turn
		next  int
		n     int
		least float64 // covered
	}{
		{"all by one, next by another", .15, 1, 1, 3, .94}, {"all by one, next by another", .15, 1, 1, 10, .94}, {"all by one, next by another", .15, 1, 1, 20, .94},
		{"two in turn, next by the first", .15, 2, 0, 10, .94}, {"four in turn, next by a fifth", .15, 4, 4, 10, .94},
		{"all by one, next by another that is the same", 0, 1, 1, 10, .95},
	} {
		rng := rand.New(rand.NewPCG(4107, uint64(v.n)))
		var cover, seen [2]share
		var widths [2]float64
		horses := reps(150, 2000)
		for range horses {
			mu, sigma := 37.55+.22*rng.NormFloat64(), .17*math.Exp(.35*rng.NormFloat64())
			off := make([]float64, v.ways+1)
			for i := range off {
				off[i] = v.off * rng.NormFloat64()
			}
			read := func(way int) float64 { return mu + off[way] + math.Hypot(sigma, .06)*rng.NormFloat64() }
			ps := make([]Reading, v.n)
			for i := range ps {
				ps[i] = Reading{Day: float64(7 * i), Y: read(i % v.ways), SD: .06, Way: uint8(1 + i%v.ways)}
			}
			next, way := read(v.next), uint8(1+v.next)
			if v.next >= v.ways {
				way = 0
			}
			for k, ways := range []int{0, v.ways} {
				set := base
				set.Ways, set.Offset = ways, .15
				p := new(normal.Mixture)
				Fit(set, ps).PredictBy(p, Reading{Day: float64(7 * v.n), SD: .06, Way: way})
				lo, hi := p.Limits(.95)
				cover[k].add(next >= lo && next <= hi)
				seen[k].add(next+1 > hi)
				widths[k] += (hi - lo) / float64(horses)
			}
		}
		name := fmt.Sprintf("%s, n = %d", v.name, v.n)
		t.Logf("%s: without %.3f (%.3f) covered, %.2f wide, +1.0 seen %.3f; with %.3f (%.3f), %.2f, %.3f (%.3f)", name, cover[0].of(), cover[0].se(), widths[0], seen[0].of(),
			cover[1].of(), cover[1].se(), widths[1], seen[1].of(), seen[1].se())
		if cover[1].of() < v.least-2*cover[1].se() {
			t.Errorf("%s: %.3f covered", name, cover[1].of())
		}
	}
}
