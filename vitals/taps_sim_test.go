package vitals

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
	"time"
)

// drawTaps draws what a person taps in a window: beats at a rate (/min) with independent
// normal deviations (variation, of the interval), taps with a deviation of jitter seconds,
// each missed with probability missed, or doubled within 80 to 300 ms with probability
// double. The window begins at a beat.
func drawTaps(r *rand.Rand, rate, variation, jitter, window, missed, double float64) []time.Duration {
	period := 60 / rate
	var at []float64
	for beat := 0.0; beat <= window; beat += period * (1 + variation*r.NormFloat64()) {
		tap := beat + jitter*r.NormFloat64()
		if r.Float64() >= missed {
			at = append(at, tap)
			if r.Float64() < double {
				at = append(at, tap+0.08+0.22*r.Float64())
			}
		}
	}
	slices.Sort(at)
	return durations(at)
}

func durations(seconds []float64) []time.Duration {
	var out []time.Duration
	for _, s := range seconds {
		out = append(out, time.Duration(s*1e9))
	}
	return out
}

// long reports whether simulations run in full.
func long() bool { return os.Getenv("WHORL_LONG") == "1" }

// tapCell is what a number of series came to.
type tapCell struct{ rmse, sd, covers, refused, felt float64 }

// tapAccuracy taps series of rates evenly spread between two, and compares with the rates.
func tapAccuracy(c Cadence, series int, low, high, variation, jitter, window, missed float64) (cell tapCell) {
	r := rand.New(rand.NewPCG(11, uint64(window)))
	for range series {
		rate := low + (high-low)*r.Float64()
		got, err := c.FromTaps(drawTaps(r, rate, variation, jitter, window, missed, missed*0.6))
		if err != nil {
			cell.refused++
			continue
		}
		if got.Felt {
			cell.felt++
		}
		e := got.Measure.Value - rate
		cell.rmse += e * e
		cell.sd += got.Measure.SD
		if math.Abs(e) <= 1.96*got.Measure.SD {
			cell.covers++
		}
	}
	n := float64(series)
	accepted := n - cell.refused
	return tapCell{math.Sqrt(cell.rmse / accepted), cell.sd / accepted, cell.covers / accepted, cell.refused / n, cell.felt / n}
}

func (c tapCell) String() string {
	return fmt.Sprintf("RMSE %.3f, mean SD %.3f, covers %.4f, refused %.4f, felt %.4f", c.rmse, c.sd, c.covers, c.refused, c.felt)
}

func tapSeries() int {
	if long() {
		return 60000
	}
	return 6000
}

// TestTapAccuracy holds the tap estimator to its goals: root mean square error and the
// coverage of value ± 1.96 SD, for heart rates of 28 to 44, 40 ms of tap jitter. With 6000
// series a cell the Monte-Carlo error of a coverage is 0.003, of an RMSE 1 %.
func TestTapAccuracy(t *testing.T) {
	t.Parallel()
	series := tapSeries()
	goal := map[float64][2]float64{15: {0.40, 0.42}, 30: {0.268, 0.275}, 60: {0.187, 0.195}}
	mc := 0.0034 * math.Sqrt(6000/float64(series)) // one standard error of .93 to .97
	for _, window := range []float64{15, 30, 60} {
		for _, variation := range []float64{0.015, 0.03, 0.06} {
			for i, missed := range []float64{0, 0.05} {
				got := tapAccuracy(Heart(), series, 28, 44, variation, 0.040, window, missed)
				cell := fmt.Sprintf("%2.0f s, variation %.3f, missed %.2f", window, variation, missed)
				t.Logf("%s: %v", cell, got)
				if variation == 0.03 && got.rmse > goal[window][i] {
					t.Errorf("%s: RMSE %.4f, goal %.3f", cell, got.rmse, goal[window][i])
				}
				if got.refused > 0.01 {
					t.Errorf("%s: refused %.4f", cell, got.refused)
				}
				if got.covers < 0.93-2*mc || got.covers > 0.97+2*mc {
					t.Errorf("%s: covers %.4f", cell, got.covers)
				}
			}
		}
	}
}

// TestTapSteadiness is the same for fingers steadier and shakier than the cadence assumes,
// each on beats that vary little, as assumed, and much. What a finger of 20 ms cannot have at
// fifteen seconds is said at spread. With 2000 series a cell the Monte-Carlo error is 0.005
// to 0.008.
func TestTapSteadiness(t *testing.T) {
	t.Parallel()
	series := tapSeries() / 3
	for _, jitter := range []float64{0.020, 0.030, 0.040, 0.050, 0.060} {
		for _, variation := range []float64{0.015, 0.03, 0.06} {
			line := ""
			for _, window := range []float64{15, 30, 60} {
				got := tapAccuracy(Heart(), series, 28, 44, variation, jitter, window, 0)
				line += fmt.Sprintf("  %2.0f s %.3f (SD/RMSE %.2f)", window, got.covers, got.sd/got.rmse)
				least := map[float64]float64{15: 0.85, 30: 0.86, 60: 0.89}[window]
				if jitter >= 0.030 && variation >= 0.03 {
					least = map[float64]float64{15: 0.89, 30: 0.91, 60: 0.93}[window]
				}
				if got.covers < least || variation >= 0.03 && window == 60 && got.covers > 0.985 {
					t.Errorf("jitter %.3f, variation %.3f, %.0f s: covers %.4f", jitter, variation, window, got.covers)
				}
			}
			t.Logf("jitter %.3f, variation %.3f:%s", jitter, variation, line)
		}
	}
}

// TestTapsFromTheFourth: what is shown while the taps still come is honest too. The same
// animal as in TestTapAccuracy, after 4, 5, 6, 8 and 12 taps.
func TestTapsFromTheFourth(t *testing.T) {
	t.Parallel()
	series := tapSeries()
	for _, taps := range []int{4, 5, 6, 8, 12} {
		r := rand.New(rand.NewPCG(13, uint64(taps)))
		covered := 0.0
		for range series {
			rate := 28 + 16*r.Float64()
			at := drawTaps(r, rate, 0.03, 0.040, 60/rate*(float64(taps)+3), 0, 0)[:taps]
			got, err := FromTaps(at)
			if err == nil && math.Abs(got.Measure.Value-rate) <= 1.96*got.Measure.SD {
				covered++
			}
		}
		t.Logf("%2d taps: covers %.3f", taps, covered/float64(series))
		if c := covered / float64(series); c < 0.91 || c > 0.985 {
			t.Errorf("%d taps: covers %.4f", taps, c)
		}
	}
}

func BenchmarkTap(b *testing.B) {
	for _, taps := range []int{18, 36, 150, 600} {
		b.Run(fmt.Sprint(taps), func(b *testing.B) {
			r := rand.New(rand.NewPCG(1, 1))
			var at []time.Duration
			for i := range taps {
				at = append(at, time.Duration(1e9*(float64(i)*0.9+0.05*r.NormFloat64())))
			}
			s := NewTapSeries(Heart())
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				if i == taps {
					i, s.n, s.sums = 0, 0, tapSums{}
				}
				s.Tap(at[i])
				i++
			}
		})
	}
}

// Regular hearts of 28 to 44 a minute of which one tap in twenty is missed: how often pauses are said, and beside it of how many hearts that leave out every third to
// fifth beat, or every eighth, and how often an irregular one is called so. With 2000 series the Monte-Carlo error is at most .011.
func TestMissedTapsAreNotPauses(t *testing.T) {
	t.Parallel()
	series := tapSeries() / 3
	for _, x := range []struct {
		name      string
		missed    float64
		every     int // beats left out: one in so many to two more
		among     int
		irregular bool
		said      Rhythm
		most      float64
		least     [2]float64 // at 30 s, at 60
	}{
		{"missed taps", .05, 0, 0, false, RhythmPauses, .05, [2]float64{}},
		{"every third to fifth left out", 0, 3, 3, false, RhythmPauses, 1, [2]float64{.85, .95}},
		{"every eighth to tenth left out", 0, 8, 3, false, RhythmPauses, 1, [2]float64{}},
		{"irregular", 0, 0, 0, true, RhythmIrregular, 1, [2]float64{.95, .95}},
	} {
		for i, window := range []float64{30, 60} {
			r := rand.New(rand.NewPCG(1908, uint64(window)))
			count := map[Rhythm]float64{}
			unclear := 0.0
			for range series {
				period, next := 60/(28+16*r.Float64()), 0
				if x.every > 0 {
					next = 1 + r.IntN(x.every+x.among)
				}
				variation := .03
				if x.irregular {
					variation = .24
				}
				var at []float64
				for beat, k := 0.0, 1; beat <= window; beat, k = beat+period*math.Max(.3, 1+variation*r.NormFloat64()), k+1 {
					if k == next {
						next = k + x.every + r.IntN(x.among)
						continue
					}
					if len(at) == 0 || r.Float64() >= x.missed {
						at = append(at, beat+.04*r.NormFloat64())
					}
				}
				slices.Sort(at)
				got, _ := FromTaps(durations(at))
				count[got.Rhythm] += 1 / float64(series)
				if got.Unclear() {
					unclear += 1 / float64(series)
				}
			}
			t.Logf("%s, %.0f s: regular %.3f, pauses %.3f, irregular %.3f, cannot tell %.3f (gaps asked about %.3f)", x.name, window,
				count[RhythmRegular], count[RhythmPauses], count[RhythmIrregular], count[RhythmUnknown], unclear)
			if got := count[x.said]; got > x.most || got < x.least[i]-.01 {
				t.Errorf("%s, %.0f s: %s said of %.3f", x.name, window, x.said, got)
			}
		}
	}
}
