package level

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"whorl.example/baseline/internal/normal"
)

func pointsAt(days, ys []float64) []Reading {
	ps := make([]Reading, len(ys))
	for i := range ys {
		ps[i] = Reading{Day: days[i], Y: ys[i]}
	}
	return ps
}

func TestTrendEdges(t *testing.T) {
	t.Parallel()
	for n := range 4 {
		ps := pointsAt([]float64{0, 1, 2}[:min(n, 3)], []float64{1, 2, 3}[:min(n, 3)])
		if c := Trend(heartPrior(), ps); c.P != 1 {
			t.Errorf("a direction of %d readings: %+v", n, c)
		}
	}
	same := []Reading{{Y: 1}, {Y: 2}, {Y: 3}, {Y: 4}, {Y: 5}}
	if c := Trend(heartPrior(), same); c.P != 1 {
		t.Error("readings at one time have a direction", c)
	}
	// With one sigma p is that of the weighted slope: z = slope sqrt(sum of squares
	// of time)/sigma for equal weights.
	days, ys := make([]float64, 10), make([]float64, 10)
	for i := range ys {
		days[i], ys[i] = float64(i), 40+.9*float64(i)
	}
	set := heartPrior()
	set.Omega = 0
	c := Trend(set, pointsAt(days, ys))
	near(t, "slope", c.PerDay, .9, 1e-12)
	near(t, "SD", c.SD, 3/math.Sqrt(82.5), 1e-9)
	near(t, "p", c.P, 2*normal.Upper(.3*math.Sqrt(82.5)), 1e-12)
	near(t, "from", c.From, 40, 1e-9)
	near(t, "to", c.To, 48.1, 1e-9)
	near(t, "days", c.Days, 9, 0)
}

// Readings of unequal weight: the fit that leaves the weighted sums of its rests
// and of its rests times time at zero.
func TestWeightedLine(t *testing.T) {
	t.Parallel()
	ps := []Reading{{Day: 0, Y: 36, SD: 1.6}, {Day: 1, Y: 40, SD: .8}, {Day: 4, Y: 37, SD: .4}, {Day: 9, Y: 43, SD: 1.6}}
	f := lineThrough(ps, 2)
	var r0, r1, rest float64
	for _, p := range ps {
		w := 1 / (4 + p.SD*p.SD)
		e := p.Y - f.y - f.slope*(p.Day-f.t)
		r0, r1, rest = r0+w*e, r1+w*e*p.Day, rest+w*e*e
	}
	near(t, "sum of rests", r0, 0, 1e-12)
	near(t, "sum of rests times time", r1, 0, 1e-12)
	near(t, "sum of squares", f.rest, rest, 1e-12)
}

// Norris of the NIST Statistical Reference Datasets (linear regression), certified slope, intercept and residual SD.
func TestNorris(t *testing.T) {
	t.Parallel()
	xs := []float64{
		.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, .4, .6, 775.5, 666.9, 338, 447.5, 11.6,
		556, 228.1, 995.8, 887.6, 120.2, .3, .3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2, 669.1, 448.9, .5,
	}
	ys := []float64{
		.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, .3, .1, 778.1, 668.8, 339.3, 448.9, 10.8,
		557.7, 228.3, 998, 888.8, 119.6, .3, .6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, .2,
	}
	f := lineThrough(pointsAt(xs, ys), 1)
	near(t, "slope", f.slope, 1.00211681802045, 1e-13)
	near(t, "intercept", f.y-f.slope*f.t, -.262323073774029, 1e-11)
	near(t, "residual SD", math.Sqrt(f.rest/34), .884796396144373, 1e-9)
	near(t, "SD of the slope", math.Sqrt(f.rest/34/f.info), .429796848199937e-3, 1e-12)
}

// A slow climb: .3 own SD a reading over ten readings, then a reading at +3. The
// drift in the limits follows it; caught is when the last exam is called unusual,
// or the trend is stated at 5 %. The false-trend rate is under no change.
func TestSlowClimb(t *testing.T) {
	t.Parallel()
	reps := 150
	if long() {
		reps = 3000
	}
	for _, v := range []struct {
		name                string
		phi                 float64
		step                float64
		leastCaught, mostFP float64
	}{
		{"independent days", 0, 1, .60, .055},
		{"drifting, daily", .7, 1, .30, .40},
		{"drifting, weekly", .7, 7, .30, .30},
	} {
		set := heartPrior()
		set.Omega, set.Drift, set.BadDays = .5, true, true
		l, p := New(set), new(normal.Mixture)
		h := simHerd{set: heartPrior(), phi: v.phi, days: 20, step: v.step}
		rng := rand.New(rand.NewPCG(8, 15))
		var falseTrend, unusual, stated, caught float64
		for range reps {
			o := h.horse(rng, 20)
			last := Reading{Day: 20 * v.step, Y: o.next + o.nextSD*rng.NormFloat64()}
			if Trend(set, append(slices.Clone(o.ps), last)).P < .05 {
				falseTrend++
			}
			for k := range 10 {
				o.ps[10+k].Y += .3 * float64(k+1) * o.sigma
			}
			last.Y += 3 * o.sigma
			l.Fit(o.ps)
			l.PredictInto(p, last.Day, 0, 0)
			lo, hi := p.Limits(.95)
			odd := last.Y < lo || last.Y > hi
			trend := Trend(set, append(slices.Clone(o.ps), last)).P < .05
			if odd {
				unusual++
			}
			if trend {
				stated++
			}
			if odd || trend {
				caught++
			} else {
			}
		}
		f := float64(reps)
		se := .5 / math.Sqrt(f)
		t.Logf("%s: false trend %.3f; exam unusual %.3f, trend %.3f, either %.3f (se <= %.3f)", v.name, falseTrend/f, unusual/f, stated/f, caught/f, se)
		if caught/f < v.leastCaught-3*se || falseTrend/f > v.mostFP+3*se {
			t.Errorf("%s: caught %.3f, false %.3f", v.name, caught/f, falseTrend/f)
		}
	}
}
