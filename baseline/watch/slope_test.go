package watch

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/baseline"
	"whorl.example/baseline/internal/level"
)

func knownSD(sd float64) watchSpread { return watchSpread{{sd, 1}} }

// Known SD, equal spacing: the slope is sum(t-mean)(y-mean)/sum(t-mean)² and its SD
// sd/sqrt(sum(t-mean)²), by hand.
func TestSlopeByHand(t *testing.T) {
	t.Parallel()
	rs := []reading{{0, 40, 0}, {1, 44, 0}, {2, 45, 0}, {3, 51, 0}}
	d, ok := slopeOf(rs, knownSD(2))
	td.CmpTrue(t, ok)
	// means 1.5, 45; sum of products 1.5*5 + .5*1 + .5*0 + 1.5*6 = 17; sum of squares 5.
	td.Cmp(t, d.slope, td.Between(3.4-1e-12, 3.4+1e-12))
	td.Cmp(t, d.se, td.Between(2/math.Sqrt(5)-1e-12, 2/math.Sqrt(5)+1e-12))
	// z = 3.4/.8944 = 3.8013; two-sided 1.4395e-4.
	td.Cmp(t, d.p, td.Between(1.438e-4, 1.441e-4))
	low, high, shows := d.limits()
	// The fourth look spends .05/4*.75 = .009375: z = 2.5986 (two-sided), and .8416 for four in five.
	td.Cmp(t, d.level, td.Between(.009375-1e-15, .009375+1e-15))
	z := (high - low) / 2 / d.se
	td.Cmp(t, z, td.Between(2.597, 2.600))
	td.Cmp(t, shows/d.se, td.Between(z+.8415, z+.8418))
	// Sen 1968: the line y = 6+4t goes nearly through all; with known SD 1 least squares
	// gives 4.0191 by hand: sum(t-m)(y-m) = 883.857, sum(t-m)² = 219.429 (t 1 2 3 4 10 12 18).
	sen := []reading{{1, 9, 0}, {2, 15, 0}, {3, 19, 0}, {4, 20, 0}, {10, 45, 0}, {12, 55, 0}, {18, 78, 0}}
	d, _ = slopeOf(sen, knownSD(1))
	var st, sy, stt, sty float64
	for _, r := range sen {
		st, sy, stt, sty = st+r.t, sy+r.y, stt+r.t*r.t, sty+r.t*r.y
	}
	td.Cmp(t, d.slope, td.Between((7*sty-st*sy)/(7*stt-st*st)-1e-9, (7*sty-st*sy)/(7*stt-st*st)+1e-9))
}

// What all looks may spend adds up to the level.
func TestLookSharesAddUp(t *testing.T) {
	t.Parallel()
	sum := 0.0
	for n := leastMoments; n < 400; n++ {
		sum += lookShare(falseRate, n)
	}
	td.Cmp(t, sum, td.Between(falseRate-1e-6, falseRate+1e-6))
}

// Upper tails of chi² at the 5 % points of the printed tables (NIST handbook 1.3.6.7.4).
func TestChiTail(t *testing.T) {
	t.Parallel()
	for df, q := range map[int]float64{1: 3.841, 2: 5.991, 3: 7.815, 4: 9.488, 5: 11.070, 9: 16.919, 10: 18.307, 30: 43.773} {
		td.Cmp(t, chiTail(q, df), td.Between(.0499, .0501), fmt.Sprint(df))
	}
	td.Cmp(t, chiTail(0, 3), 1.0)
}

// The false statements of one series, looked at after every count from the third to the
// twelfth, the horse's SD drawn from its posterior. Seed 20250607; Monte-Carlo standard
// error .0015 at 20000 series (short form: 4000, .0034).
func TestWatchLevelHeld(t *testing.T) {
	t.Parallel()
	series := 4000
	if os.Getenv("WHORL_LONG") != "" {
		series = 20000
	}
	rng := rand.New(rand.NewPCG(20250607, 1))
	history := make([]level.Reading, 5)
	for i := range history {
		history[i] = level.Reading{Day: 7 * float64(i), Y: 35 + 3*rng.NormFloat64(), SD: .45}
	}
	set := level.Setting{M0: 35, Tau: 5, Sigma0: 2.5, Omega: .72, Drift: true}
	l := level.New(set)
	l.Fit(history)
	posterior := spreadOf(baseline.Variation{SDs: sdsOf(l)})
	draw := func(sp watchSpread) float64 {
		u := rng.Float64()
		for _, c := range sp {
			if u -= c.weight; u < 0 {
				return c.sd
			}
		}
		return sp[len(sp)-1].sd
	}
	wrong, uneven, first := 0, 0, 0
	for range series {
		sd := draw(posterior)
		var rs []reading
		at := 0.0
		said, crooked := false, false
		for n := 1; n <= 12; n++ {
			at += .1 + .2*rng.Float64() // every 6 to 18 minutes
			s := []float64{.4, .82, 1.63}[rng.IntN(3)]
			rs = append(rs, reading{at, 60 + sd*rng.NormFloat64() + s*rng.NormFloat64(), s})
			if d, ok := slopeOf(rs, posterior); ok {
				said = said || d.p < d.level
				crooked = crooked || d.uneven
				if n == 3 && d.p < d.level {
					first++
				}
			}
		}
		if said {
			wrong++
		}
		if crooked {
			uneven++
		}
	}
	share := float64(wrong) / float64(series)
	se := math.Sqrt(share * (1 - share) / float64(series))
	t.Logf("any false direction in 10 looks %.4f (MC se %.4f), at the first look %.4f, not in one direction %.4f",
		share, se, float64(first)/float64(series), float64(uneven)/float64(series))
	td.Cmp(t, share, td.Lte(falseRate+2*se))
	// A rule that never speaks would hold its level too.
	td.Cmp(t, share, td.Gte(.02))
	td.Cmp(t, float64(uneven)/float64(series), td.Lte(unevenLevel+2*math.Sqrt(unevenLevel/float64(series))))
}

// What the model leaves out: part of the horse's variation wanders within hours instead of
// scattering (Ornstein-Uhlenbeck, counted every ten minutes, twelve counts). The slack of
// the union bound takes up half of the variance at any time constant; with all of it at 15
// to 30 minutes, the worst case, .07 of series are called. Seed 20250615; Monte-Carlo
// standard error .005 at .05 (2000 series; .0023 in the long form, 10000).
func TestWatchLevelOfAWanderingHorse(t *testing.T) {
	t.Parallel()
	series := 2000
	if os.Getenv("WHORL_LONG") != "" {
		series = 10000
	}
	for _, c := range []struct{ share, hours, most float64 }{{.5, .1, .055}, {.5, .25, .055}, {.5, .5, .055}, {.5, 2, .055}, {1, .25, .08}, {1, 2, .05}} {
		rng := rand.New(rand.NewPCG(20250615, 1))
		wrong := 0
		for range series {
			d := math.Sqrt(c.share) * 2.5 * rng.NormFloat64()
			keep := math.Exp(-1 / 6. / c.hours)
			var rs []reading
			for n := 1; n <= 12; n++ {
				d = keep*d + math.Sqrt(c.share*(1-keep*keep))*2.5*rng.NormFloat64()
				rs = append(rs, reading{float64(n) / 6, d + math.Sqrt(1-c.share)*2.5*rng.NormFloat64() + .45*rng.NormFloat64(), .45})
				if x, ok := slopeOf(rs, knownSD(2.5)); ok && x.p < x.level {
					wrong++
					break
				}
			}
		}
		share := float64(wrong) / float64(series)
		t.Logf("wandering share %.2f, time constant %.2f h: %.4f of series called", c.share, c.hours, share)
		td.Cmp(t, share, td.Lte(c.most+2*math.Sqrt(c.most/float64(series))))
	}
}

// What it finds: a rise of one own SD a step, the SD known, is said by the sixth count in
// nine of ten series. Seed 20250608; Monte-Carlo standard error .007 (2000 series).
func TestWatchPower(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(20250608, 1))
	const series = 2000
	found := map[int]int{}
	wrongWay := 0
	for range series {
		var rs []reading
		done := false
		for n := 1; n <= 8; n++ {
			rs = append(rs, reading{float64(n), float64(n) + rng.NormFloat64(), 0})
			if d, ok := slopeOf(rs, knownSD(1)); ok && d.p < d.level {
				done = true
				if d.slope < 0 {
					wrongWay++
				}
			}
			if done {
				found[n]++
			}
		}
	}
	share := func(n int) float64 { return float64(found[n]) / series }
	t.Logf("rise of 1 SD a step found by count 3..8: %.2f %.2f %.2f %.2f %.2f %.2f", share(3), share(4), share(5), share(6), share(7), share(8))
	td.Cmp(t, wrongWay, 0)
	td.Cmp(t, share(6), td.Gte(.90))
	td.Cmp(t, share(8), td.Gte(.99))
}

// "Would have shown": a slope of that size is found in four of five series at that look.
// Seed 20250609; Monte-Carlo standard error .006 (4000 series).
func TestWouldShow(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(20250609, 1))
	base := []reading{{0, 0, .4}, {.2, 0, 1.6}, {.3, 0, .8}, {.7, 0, .4}, {.8, 0, .4}}
	d, _ := slopeOf(base, knownSD(2))
	_, _, shows := d.limits()
	found := 0
	for range 4000 {
		rs := append([]reading(nil), base...)
		for i := range rs {
			rs[i].y = shows*rs[i].t + 2*rng.NormFloat64() + rs[i].s*rng.NormFloat64()
		}
		if x, _ := slopeOf(rs, knownSD(2)); x.p < x.level && x.slope > 0 {
			found++
		}
	}
	td.Cmp(t, float64(found)/4000, td.Between(.8-3*.0063, .8+3*.0063))
}

func genReadings(t *rapid.T) []reading {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) reading {
		const hour = float64(time.Hour) // no two moments are nearer than a nanosecond
		return reading{float64(rapid.Int64Range(0, int64(12*time.Hour)).Draw(t, "t")) / hour, rapid.Float64Range(20, 120).Draw(t, "y"), rapid.Float64Range(0, 3).Draw(t, "s")}
	}), 0, 12).Draw(t, "readings")
}

func TestSlopeProperties(t *testing.T) {
	t.Parallel()
	sp := spreadOf(baseline.Variation{SDs: sdsOf(level.New(level.Setting{M0: 35, Tau: 5, Sigma0: 2.5, Omega: .72}))})
	rapid.Check(t, func(t *rapid.T) {
		rs := genReadings(t)
		a, okA := slopeOf(poolReadings(rs), sp)
		// Order does not matter.
		back := make([]reading, len(rs))
		for i, r := range rs {
			back[len(rs)-1-i] = r
		}
		b, okB := slopeOf(poolReadings(back), sp)
		if okA != okB || okA && (a.slope != b.slope || a.p != b.p) {
			t.Fatalf("order matters: %v %v", a, b)
		}
		if !okA {
			return
		}
		low, high, shows := a.limits()
		if !(low <= a.slope && a.slope <= high && shows > 0) {
			t.Fatalf("limits %v %v %v of %v", low, high, shows, a.slope)
		}
		// The limits exclude zero just when the direction is said.
		if said := a.p < a.level; said != (low > 0 || high < 0) && math.Abs(a.p/a.level-1) > 1e-3 {
			t.Fatalf("said %v, limits %v %v, p %v level %v", said, low, high, a.p, a.level)
		}
		// Shifting the level, mirroring.
		moved, mirrored := append([]reading(nil), rs...), append([]reading(nil), rs...)
		for i := range rs {
			moved[i].y += 10
			mirrored[i].y = -mirrored[i].y
		}
		m, _ := slopeOf(poolReadings(moved), sp)
		n, _ := slopeOf(poolReadings(mirrored), sp)
		tol := 1e-6 * (1 + math.Abs(a.slope) + a.se)
		if math.Abs(m.slope-a.slope) > tol || math.Abs(n.slope+a.slope) > tol {
			t.Fatalf("slopes %v, moved %v, mirrored %v", a.slope, m.slope, n.slope)
		}
	})
}

func TestSlopeOddInput(t *testing.T) {
	t.Parallel()
	nan, inf := math.NaN(), math.Inf(1)
	odd := []reading{{nan, 1, 1}, {1, nan, 1}, {1, 1, nan}, {inf, 1, 1}, {1, inf, 1}, {1, 1, -1}, {0, 40, 0}, {0, 41, 0}, {1, 42, 0}}
	rs := poolReadings(odd)
	td.Cmp(t, rs, td.Len(2))
	_, ok := slopeOf(rs, knownSD(1))
	td.CmpFalse(t, ok)
	long := make([]reading, 500)
	for i := range long {
		long[i] = reading{float64(i), 40 + float64(i%3), 1}
	}
	d, ok := slopeOf(long, knownSD(2))
	td.CmpTrue(t, ok)
	low, high, _ := d.limits()
	td.CmpTrue(t, low < 0 && high > 0)
}

func sdsOf(l *level.Model) (out []baseline.WeightedSD) {
	for _, c := range l.SpreadPosterior() {
		out = append(out, baseline.WeightedSD(c))
	}
	return out
}
