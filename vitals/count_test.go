package vitals

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
)

// ways are the accuracies of the ways to a heart rate: root mean square error in /min,
// and what each declared.
type ways struct {
	anywhere, declared, covered, bias float64 // a count started anywhere
	onBeat, declaredOn, coveredOn     float64 // on a beat, the next being one
	fromOne                           float64 // on a beat that is itself counted as one
	taps, bound                       float64 // bound: Cramér and Rao's, with both variances known
}

// compareWays counts and taps animals of 28 to 44 beats a minute that vary by 3 %, the
// taps by 40 ms. Rates are drawn evenly: at 36 exactly a window of 15, 30 or 60 s holds a
// whole number of beats and a count looks better than it is.
func compareWays(series int, window float64) (w ways) {
	r := rand.New(rand.NewPCG(17, uint64(window)))
	length := time.Duration(window) * time.Second
	for range series {
		rate := 28 + 16*r.Float64()
		period := 60 / rate
		beats := func(first float64) (n int) {
			for at := first; at < window; at += period * (1 + 0.03*r.NormFloat64()) {
				n++
			}
			return n
		}
		a, _ := FromCount(beats(period*r.Float64()), length, Anywhere)
		on := beats(period * (1 + 0.03*r.NormFloat64()))
		b, _ := FromCount(on, length, OnBeat)
		at := drawTaps(r, rate, 0.03, 0.040, window, 0, 0)
		c, _ := FromTaps(at)
		g := newGLS(0.03*period, 0.040)
		for range len(at) - 1 {
			g.add(period, 1)
		}
		_, sd := g.estimate()
		w.anywhere += square(a.Value - rate)
		w.bias += (a.Value - rate) / float64(series)
		w.onBeat += square(b.Value - rate)
		w.fromOne += square(float64(on+1)*60/window - rate)
		w.taps += square(c.Measure.Value - rate)
		w.bound += square(60 / period / period * sd)
		w.declared += square(a.SD)
		w.declaredOn += square(b.SD)
		if math.Abs(a.Value-rate) <= 1.96*a.SD {
			w.covered += 1 / float64(series)
		}
		if math.Abs(b.Value-rate) <= 1.96*b.SD {
			w.coveredOn += 1 / float64(series)
		}
	}
	for _, sum := range []*float64{&w.anywhere, &w.declared, &w.onBeat, &w.declaredOn, &w.fromOne, &w.taps, &w.bound} {
		*sum = math.Sqrt(*sum / float64(series))
	}
	return w
}

// With 6000 series a cell the Monte-Carlo error of an RMSE is 1 %, of a coverage 0.3 %.
func TestCountAgainstTaps(t *testing.T) {
	t.Parallel()
	const series = 6000
	for _, window := range []float64{15, 30, 60} {
		w := compareWays(series, window)
		// The declared uncertainty is the real one, within 4 standard errors.
		td.Cmp(t, w.anywhere/w.declared, td.N(1.0, 0.04), "%v s, anywhere", window)
		td.Cmp(t, w.onBeat/w.declaredOn, td.N(1.0, 0.04), "%v s, on a beat", window)
		td.Cmp(t, w.bias, td.N(0.0, 4*w.declared/math.Sqrt(series)))
		td.Cmp(t, w.covered, td.Between(0.93, 0.99), "%v s, anywhere", window)
		td.Cmp(t, w.coveredOn, td.Between(0.93, 1.0), "%v s, on a beat", window)
		// Fifteen seconds of taps are as good as a minute of counting.
		if window == 15 {
			td.CmpLt(t, w.taps, 0.45)
		}
		td.CmpLt(t, w.taps, 1.05*w.bound)
	}
}

// BenchmarkWays prints that table: root mean square errors in /min beside the bound, and
// the coverage of the taps' interval as in TestTapAccuracy.
func BenchmarkWays(b *testing.B) {
	for _, window := range []float64{15, 30, 60} {
		b.Run(fmt.Sprintf("%.0fs", window), func(b *testing.B) {
			var w ways
			for b.Loop() {
				w = compareWays(6000, window)
			}
			b.ReportMetric(0, "ns/op")
			b.ReportMetric(w.fromOne, "counted-from-one")
			b.ReportMetric(w.anywhere, "count-anywhere")
			b.ReportMetric(w.onBeat, "count-on-beat")
			b.ReportMetric(w.taps, "taps")
			b.ReportMetric(w.bound, "taps-bound")
		})
	}
}

// The cells of the project's notes on rates: breaths of 10 % variation, 12 a minute and around.
func TestBreathTaps(t *testing.T) {
	t.Parallel()
	const series = 4000
	for _, window := range []float64{30, 60} {
		for _, variation := range []float64{0.05, 0.10, 0.20} {
			r := rand.New(rand.NewPCG(19, uint64(window)))
			var e2, sd, covered, n, declined float64
			for range series {
				rate := 8 + 10*r.Float64()
				got, err := Breath().FromTaps(drawTaps(r, rate, variation, 0.15, window, 0, 0))
				if err != nil {
					declined++
					continue
				}
				n++
				e := got.Measure.Value - rate
				e2 += e * e
				sd += got.Measure.SD
				if math.Abs(e) <= 1.96*got.Measure.SD {
					covered++
				}
				td.Cmp(t, got.Rhythm, Rhythm(""))
			}
			t.Logf("breaths, %2.0f s, variation %.2f: RMSE %.3f, mean SD %.3f, covers %.3f, refused %.3f",
				window, variation, math.Sqrt(e2/n), sd/n, covered/n, declined/series)
			td.Cmp(t, covered/n, td.Between(0.93, 0.98))
		}
	}
}
