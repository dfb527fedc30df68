package level

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"
)

// at are readings of a record: day, value, SD.
func at(rs ...[3]float64) []Reading {
	ps := make([]Reading, len(rs))
	for i, r := range rs {
		ps[i] = Reading{Day: r[0], Y: r[1], SD: r[2]}
	}
	return ps
}

// The model of a visit (readings within six hours share the day's deviation, of a share kappa of the day-to-day variance, 1/2, 9/10 or all
// of it, each as probable) against the whole covariance matrix by Cholesky at 401 values of log sigma over 5 omega: log evidence, mean of kappa, quantiles.
func TestVisitVectors(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: .74, SpanDays: 30, Drift: true, Walk: Walk}
	for _, v := range []struct {
		name                     string
		points                   []Reading
		day                      float64
		evidence, kappa          float64
		low, middle, high, above float64
	}{
		{"three in an hour", at([3]float64{0, 36, .5}, [3]float64{.02, 37, .5}, [3]float64{.04, 36, .5}), 7.04,
			-5.4938996, .8669194, 28.4356288, 36.5270718, 45.5298205, .012814193},
		{"visits of 3, 1, 2", at([3]float64{0, 36, .5}, [3]float64{.02, 39, .5}, [3]float64{.04, 37, .8}, [3]float64{3, 41, .5}, [3]float64{10, 38, .5}, [3]float64{10.2, 38.5, .5}), 17,
			-14.7949458, .6645378, 31.5325486, 38.6128811, 45.6464744, .009151720},
		{"six hours apart", at([3]float64{0, 36, .5}, [3]float64{.25, 39, .5}, [3]float64{7, 37, .5}), 14,
			-7.6567522, 0, 30.5051020, 37.3516496, 44.3109961, .006691046},
	} {
		l := newOn(set, .01, 5)
		l.Fit(v.points)
		p := l.Predict(v.day, 0, .5)
		lo, hi := p.Limits(.95)
		_, above := p.Tails(48)
		kappa := 0.0
		for i, j := range l.chosen {
			kappa += l.weight[i] * l.grid.blocks[l.cells[j].block].kappa
		}
		near(t, v.name+": log evidence", l.logEvidence, v.evidence, 1e-6)
		near(t, v.name+": kappa", kappa, v.kappa, 1e-6)
		near(t, v.name+": low", lo, v.low, 1e-6)
		near(t, v.name+": middle", p.Quantile(.5), v.middle, 1e-6)
		near(t, v.name+": high", hi, v.high, 1e-6)
		near(t, v.name+": above", above, v.above, 1e-8)

		// The grid that ships.
		l = New(set)
		l.Fit(v.points)
		p = l.Predict(v.day, 0, .5)
		lo, hi = p.Limits(.95)
		near(t, v.name+": low as shipped", lo, v.low, 5e-4*(v.high-v.low)/2)
		near(t, v.name+": high as shipped", hi, v.high, 5e-4*(v.high-v.low)/2)
	}
}

// someVisits are readings of which some come within hours of each other.
func someVisits(t *rapid.T, n int) []Reading {
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
	ps, day := make([]Reading, n), 0.0
	for i := range ps {
		day += []float64{.02, .1, 1.1, 6.9}[rng.IntN(4)]
		ps[i] = Reading{Day: day, Hour: math.Mod(24*day, 24), Y: 38 + 4*rng.NormFloat64(), SD: .2 + rng.Float64(), NewLevel: i > 2 && rng.IntN(12) == 0}
	}
	return ps
}

// One by one and all at once give the same bits, with repeats too, and so does a model that goes on from fewer readings.
func TestVisitsOneByOne(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega, Drift: rapid.Bool().Draw(t, "drift"), Walk: Walk}
		if rapid.Bool().Draw(t, "rhythm") {
			set.Rhythm = &Rhythm{Amplitude: 2, AmplitudeSD: .8, From: 16, To: 23}
		}
		ps := someVisits(t, rapid.IntRange(1, 40).Draw(t, "n"))
		all, one := Fit(set, ps), New(set)
		for _, p := range ps {
			one.Learn(p)
			if rapid.IntRange(0, 3).Draw(t, "ask") == 0 {
				one.Weigh()
			}
		}
		day := ps[len(ps)-1].Day + 3
		want := all.Predict(day, 9, .5)
		got := one.Predict(day, 9, .5)
		gone := new(Cache).Plain(set, ps, len(ps)).Predict(day, 9, .5)
		if math.Float64bits(want.Mean) != math.Float64bits(got.Mean) || math.Float64bits(want.SD) != math.Float64bits(got.SD) {
			t.Fatalf("one by one %v %v, all at once %v %v", got.Mean, got.SD, want.Mean, want.SD)
		}
		if gone.Mean != want.Mean || gone.SD != want.SD {
			t.Fatalf("going on %v %v, all at once %v %v", gone.Mean, gone.SD, want.Mean, want.SD)
		}
	})
}

// A visit told as one reading is what its readings say one after the other, where nothing changes within it.
func TestVisitAsOneReading(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: Omega, Drift: true}
	ps := at([3]float64{0, 36, .5}, [3]float64{0, 39, .4}, [3]float64{0, 37, .8}, [3]float64{3, 41, .5}, [3]float64{10, 38, .5}, [3]float64{10, 38.5, .3})
	for i := range ps {
		ps[i].ID = string(rune('a' + i))
	}
	l := Fit(set, ps)
	set.BadDays = true
	odd := New(set)
	odd.ratePrior = rateBelief{1} // none but in a thousand
	odd.Fit(ps)
	for _, day := range []float64{10.5, 17, 60} {
		a, b := l.Predict(day, 0, .5), odd.Predict(day, 0, .5)
		near(t, "mean", b.Mean, a.Mean, .02)
		near(t, "SD", b.SD, a.SD, .02*a.SD)
	}
	td.Cmp(t, len(odd.BadDayProbabilities()), len(ps))
	near(t, "log evidence", odd.logEvidence, l.logEvidence, .05)
}

// A sick evening's three readings are one bad day, and each of them is told as one.
func TestBadVisitIsOneBadDay(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 38, Tau: 5, Sigma0: 2, Omega: Omega, Drift: true, BadDays: true}
	var ps []Reading
	for i, y := range []float64{37, 38, 36.5, 37.5, 38.5, 37, 36, 38} {
		ps = append(ps, Reading{Day: float64(7 * i), Y: y, SD: .5})
	}
	clean := Fit(set, ps).Predict(70, 0, .5)
	for i, y := range []float64{52, 53, 52.5} {
		ps = append(ps, Reading{Day: 56 + float64(i)/24, Y: y, SD: .5})
	}
	if !HighStandsOut(ps, set) {
		t.Error("nothing stands out")
	}
	l := Fit(set, ps)
	bad := l.BadDayProbabilities()
	for i, p := range bad {
		if (p > .9) != (i >= 8) {
			t.Errorf("reading %d: %.3f", i, p)
		}
	}
	// The limits are those beside one such reading, within a tenth.
	after, one := l.Predict(70, 0, .5), Fit(set, ps[:9]).Predict(70, 0, .5)
	if after.SD > 1.1*one.SD || one.SD > 1.6*clean.SD || math.Abs(after.Mean-clean.Mean) > .5 {
		t.Errorf("%.2f, SD %.2f; with one of the evening's %.2f, SD %.2f; with none %.2f, SD %.2f", after.Mean, after.SD, one.Mean, one.SD, clean.Mean, clean.SD)
	}
}

// What belongs to a visit is counted from its first reading: six hours later is the next, however many there are between.
func TestVisits(t *testing.T) {
	t.Parallel()
	hours := func(hs ...float64) []Reading {
		ps := make([]Reading, len(hs))
		for i, h := range hs {
			ps[i] = Reading{Day: h / 24, Y: h}
		}
		return ps
	}
	td.Cmp(t, Visits(nil), 0)
	td.Cmp(t, Visits(hours(0, 2, 4, 6, 8, 10, 12)), 3)
	td.Cmp(t, Visits(hours(0, 5.9, 6.1)), 2)
	td.Cmp(t, Visits(hours(0, 6, 12)), 3)
	again := hours(0, 1, 2)
	again[1].NewLevel = true
	td.Cmp(t, Visits(again), 2)
	td.Cmp(t, VisitMeans(hours(0, 2, 4, 6, 30)), []Reading{{Y: 2}, {Day: .25, Y: 6}, {Day: 1.25, Y: 30}})
	one := hours(0, 8, 16)
	td.CmpTrue(t, &VisitMeans(one)[0] == &one[0])
	td.Cmp(t, days(hours(0, 24, 48)), 3.)
	td.Cmp(t, days(hours(0, 1, 24, 25)), 2.)
}

// Ten readings within three hours, of horses whose day is one thing within the hour: what is usual a week later covers
// .95 as after weekly readings; limits are not narrower than those of three days.
// Seed 101; the standard error of a share is .022 in the short form, .007 in the long.
func TestRepeatsAreNotDays(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(101, 1))
	set := Setting{M0: 38, Tau: 4, Sigma0: 3, Omega: Omega, Drift: true, Walk: Walk}
	for _, history := range []struct {
		name string
		days []float64
	}{{"3 in an hour", []float64{0, .02, .04}}, {"5 in an hour", []float64{0, .01, .02, .03, .04}},
		{"10 in three hours", []float64{0, .0139, .0278, .0417, .0556, .0694, .0833, .0972, .1111, .125}},
		{"three weeks", []float64{0, 7, 14}}} {
		for _, within := range []float64{0, .25} { // variance left within the hour
			var covered share
			width := 0.0
			for range reps(100, 1000) {
				mu, sigma := 38+4*rng.NormFloat64(), 3*math.Exp(.35*rng.NormFloat64())
				var ps []Reading
				day, last := 0.0, -1.0
				for _, at := range history.days {
					if last < 0 || at-last > .3 {
						day = sigma * math.Sqrt(1-within) * rng.NormFloat64()
					}
					last = at
					ps = append(ps, Reading{Day: at, Y: mu + day + sigma*math.Sqrt(within)*rng.NormFloat64() + .5*rng.NormFloat64(), SD: .5})
				}
				p := Fit(set, ps).Predict(last+7, 0, .5)
				lo, hi := p.Limits(.95)
				y := mu + sigma*rng.NormFloat64() + .5*rng.NormFloat64()
				covered.add(y >= lo && y <= hi)
				width += hi - lo
			}
			t.Logf("%s, share within %.2f: covered %.3f (%.3f), width %.2f", history.name, within, covered.of(), covered.se(), width/covered.n)
			if covered.of() < .94-2*covered.se()-.01 {
				t.Errorf("%s: covered %.3f (%.3f)", history.name, covered.of(), covered.se())
			}
		}
	}
}

// share is a share with its standard error.
type share struct{ n, sum float64 }

func (s *share) add(yes bool) {
	s.n++
	if yes {
		s.sum++
	}
}

func (s share) of() float64 { return s.sum / s.n }
func (s share) se() float64 { return math.Sqrt(s.of() * (1 - s.of()) / s.n) }
