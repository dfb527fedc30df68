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

// taps draws what a person taps in a window: beats at a rate (/min) with independent
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

// TestTapAccuracy holds the tap estimator to its goals: root mean square error and the
// coverage of value ± 1.96 SD, for heart rates of 28 to 44, 40 ms of tap jitter. With 6000
// series a cell the Monte-Carlo error of a coverage is 0.003, of an RMSE 1 %.
func TestTapAccuracy(t *testing.T) {
	series := 6000
	if long() {
		series = 60000
	}
	goal := map[float64][2]float64{15: {0.40, 0.42}, 30: {0.268, 0.275}, 60: {0.187, 0.195}}
	mc := 0.0034 * math.Sqrt(6000/float64(series)) // one standard error of .93 to .97
	for _, window := range []float64{15, 30, 60} {
		for _, variation := range []float64{0.015, 0.03, 0.06} {
			for i, missed := range []float64{0, 0.05} {
				r := rand.New(rand.NewPCG(11, uint64(window)))
				var square, covered, refused, sd, felt float64
				for range series {
					rate := 28 + 16*r.Float64()
					got, err := FromTaps(drawTaps(r, rate, variation, 0.040, window, missed, missed*0.6))
					if err != nil {
						refused++
						continue
					}
					if got.Felt {
						felt++
					}
					e := got.Measure.Value - rate
					square += e * e
					sd += got.Measure.SD
					if math.Abs(e) <= 1.96*got.Measure.SD {
						covered++
					}
				}
				n := float64(series) - refused
				rmse, cover := math.Sqrt(square/n), covered/n
				cell := fmt.Sprintf("%2.0f s, variation %.3f, missed %.2f", window, variation, missed)
				t.Logf("%s: RMSE %.3f, mean SD %.3f, covers %.4f, refused %.4f, felt %.0f", cell, rmse, sd/n, cover, refused/float64(series), felt)
				if variation == 0.03 && rmse > goal[window][i] {
					t.Errorf("%s: RMSE %.4f, goal %.3f", cell, rmse, goal[window][i])
				}
				if refused/float64(series) > 0.01 {
					t.Errorf("%s: refused %.4f", cell, refused/float64(series))
				}
				if cover < 0.93-2*mc || cover > 0.97+2*mc {
					t.Errorf("%s: covers %.4f", cell, cover)
				}
			}
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
