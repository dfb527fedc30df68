package baseline

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func series(days, ys []float64) []point {
	ps := make([]point, len(ys))
	for i := range ys {
		ps[i] = point{Day: days[i], Y: ys[i]}
	}
	return ps
}

// Sen, J. Am. Stat. Assoc. 63 (1968) 1379-1389: slope 4, S = 21, (26/7, 35/8). His
// interval is called one of 93 %, by a normal approximation; its exact level is
// .970, which is the first at or above 95 %.
func TestSen1968(t *testing.T) {
	ps := series([]float64{1, 2, 3, 4, 10, 12, 18}, []float64{9, 15, 19, 20, 45, 55, 78})
	r := rankedTrend(ps, .95)
	near(t, "slope", r.PerDay, 4, 1e-12)
	near(t, "intercept", r.At0, 6, 1e-12)
	near(t, "S", float64(r.S), 21, 0)
	near(t, "p", r.P, 2./5040, 1e-15)
	near(t, "low", r.Low, 26./7, 1e-12)
	near(t, "high", r.High, 35./8, 1e-12)
	near(t, "level", r.Level, 1-2*.01508, 1e-5)
	r = rankedTrend(ps, .93)
	near(t, "low at 93 %", r.Low, 3.75, 1e-12)
	near(t, "high at 93 %", r.High, 4.1818181818, 1e-9)
	near(t, "level at 93 %", r.Level, 1-2*.03452, 1e-5)
}

// Hollander, Wolfe & Chicken, Nonparametric Statistical Methods, example 9.1
// (the readings as in the R package NSM3).
func TestHollanderWolfe(t *testing.T) {
	r := rankedTrend(series([]float64{1, 2, 3, 4, 5}, []float64{1.26, 1.27, 1.12, 1.16, 1.03}), .9)
	near(t, "S", float64(r.S), -6, 0)
	near(t, "slope", r.PerDay, -.05625, 1e-12)
	near(t, "p", r.P, .2333333333, 1e-9)
	near(t, "low", r.Low, -.13, 1e-12)
	near(t, "high", r.High, .01, 1e-12)
	near(t, "level", r.Level, 1-2./24, 1e-12)
}

func TestKendallTable(t *testing.T) {
	for _, v := range []struct {
		n, s int
		p    float64
	}{
		{4, 6, .04167}, {4, 4, .1667}, {5, 10, .008333}, {5, 8, .04167}, {5, 6, .1167},
		{6, 15, .001389}, {6, 13, .008333}, {6, 11, .02778}, {6, 9, .06806},
		{7, 21, .0001984}, {7, 19, .001389}, {7, 17, .005357}, {7, 15, .01508}, {7, 13, .03452}, {7, 11, .06806},
		{8, 28, 2.48e-5}, {8, 26, .0001984}, {8, 24, .0008681}, {8, 22, .002753}, {8, 20, .007068}, {8, 18, .01558}, {8, 16, .03051}, {8, 14, .05434},
		{10, 27, .008333}, {10, 25, .0143}, {10, 23, .02331}, {10, 21, .03628}, {10, 19, .05416},
	} {
		if got := kendallUpper(v.s, ones(v.n)); math.Abs(got/v.p-1) > 6e-4 {
			t.Errorf("n=%d P(S>=%d) = %.6g, want %g", v.n, v.s, got, v.p)
		}
	}
}

// Equal values: the exact distribution against every order of the values.
func TestKendallWithTies(t *testing.T) {
	ys := []float64{36, 40, 40, 44, 36, 40}
	counts := map[int]int{}
	total := 0
	var permute func(k int)
	permute = func(k int) {
		if k == len(ys) {
			s := 0
			for i := range ys {
				for _, y := range ys[i+1:] {
					s += int(math.Copysign(1, y-ys[i])) * int(math.Min(1, math.Abs(y-ys[i])))
				}
			}
			counts[s]++
			total++
			return
		}
		for i := k; i < len(ys); i++ {
			ys[k], ys[i] = ys[i], ys[k]
			permute(k + 1)
			ys[k], ys[i] = ys[i], ys[k]
		}
	}
	permute(0)
	for s := -11; s <= 11; s++ {
		upper := 0
		for x, c := range counts {
			if x >= s {
				upper += c
			}
		}
		near(t, "P(S>=s) with ties", kendallUpper(s, tieGroups(ys)), float64(upper)/float64(total), 1e-12)
	}
	// Two readings a day: the approximation against random orders of the values.
	var ps []point
	for i := range 16 {
		ps = append(ps, point{Day: float64(i / 2), Y: float64(i * i % 23)})
	}
	got := rankedTrend(ps, .95)
	rng, extreme := rand.New(rand.NewPCG(2, 7)), 0.0
	const orders = 20000
	for range orders {
		rng.Shuffle(len(ps), func(i, j int) { ps[i].Y, ps[j].Y = ps[j].Y, ps[i].Y })
		if r := rankedTrend(ps, .95); max(r.S, -r.S) >= max(got.S, -got.S) {
			extreme++
		}
	}
	near(t, "p with tied times", got.P, extreme/orders, .015)
}

func TestTrendEdges(t *testing.T) {
	for n := range 4 {
		ps := series([]float64{0, 1, 2}[:min(n, 3)], []float64{1, 2, 3}[:min(n, 3)])
		if c := climb(heart(), ps); c.P != 1 {
			t.Errorf("a direction of %d readings: %+v", n, c)
		}
		if r := rankedTrend(ps, .95); r.P < .3 || !math.IsInf(r.Low, -1) {
			t.Errorf("a rank test of %d readings: %+v", n, r)
		}
	}
	same := []point{{Y: 1}, {Y: 2}, {Y: 3}, {Y: 4}, {Y: 5}}
	if c, k, r := climb(heart(), same), knownSlope(same, 1), rankedTrend(same, .95); c.P != 1 || k.P != 1 || r.P != 1 {
		t.Error("readings at one time have a direction", c, k, r)
	}
	// z = slope sqrt(sum of squares of time)/sigma: 10 readings, .3 SD each.
	days, ys := make([]float64, 10), make([]float64, 10)
	for i := range ys {
		days[i], ys[i] = float64(i), 40+.9*float64(i)
	}
	k := knownSlope(series(days, ys), 3)
	near(t, "slope", k.PerDay, .9, 1e-12)
	near(t, "SD", k.SD, 3/math.Sqrt(82.5), 1e-12)
	near(t, "p", k.P, 2*normUpper(.3*math.Sqrt(82.5)), 1e-12)
}

// A slow climb: .3 own SD a reading over ten readings, then a reading at +3. The
// drift in the limits follows it; caught is when the last exam is called unusual,
// or the trend is stated at 5 %. The false-trend rate is under no change.
func TestSlowClimb(t *testing.T) {
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
		set := heart()
		set.Omega, set.Drift, set.Odd = .5, true, oddUp
		l, p := newLevel(set), new(predictive)
		h := herd{set: heart(), phi: v.phi, days: 20, step: v.step}
		rng := rand.New(rand.NewPCG(8, 15))
		var falseTrend, unusual, stated, caught float64
		for range reps {
			o := h.horse(rng, 20)
			last := point{Day: 20 * v.step, Y: o.next + o.nextSD*rng.NormFloat64()}
			if climb(set, append(slices.Clone(o.ps), last)).P < .05 {
				falseTrend++
			}
			for k := range 10 {
				o.ps[10+k].Y += .3 * float64(k+1) * o.sigma
			}
			last.Y += 3 * o.sigma
			l.fit(o.ps)
			l.predictInto(p, last.Day, 0, 0)
			lo, hi := p.Limits(.95)
			odd := last.Y < lo || last.Y > hi
			trend := climb(set, append(slices.Clone(o.ps), last)).P < .05
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
