package vitals

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
)

// tapped gives the moments of taps at intervals in ms, from a moment that is not the clock's zero.
func tapped(intervals ...int) []time.Duration {
	at := []time.Duration{7 * time.Second}
	for _, ms := range intervals {
		at = append(at, at[len(at)-1]+time.Duration(ms)*time.Millisecond)
	}
	return at
}

func repeated(n int, intervals ...int) (out []int) {
	for range n {
		out = append(out, intervals...)
	}
	return out
}

// What becomes of an interval: the second of a double, one event, several, or none of these.
func TestEachKindOfInterval(t *testing.T) {
	t.Parallel()
	even := repeated(10, 1600)
	for name, x := range map[string]struct {
		cadence   Cadence
		intervals []int
		want      Tapped // but for the measure and the seconds
		refused   FaultCode
		rate      float64 // what the intervals that were meant come to; 0: not looked at
	}{
		"even":                        {Heart(), even, Tapped{Taps: 11, Rhythm: RhythmRegular}, "", 37.5},
		"breaths, even":               {Breath(), even, Tapped{Taps: 11}, "", 37.5},
		"300 a minute":                {Heart(), repeated(20, 200), Tapped{Taps: 21, Rhythm: RhythmRegular}, "", 300},
		"faster than any":             {Heart(), repeated(4, 40), Tapped{Taps: 5, Doubled: 4, Rhythm: RhythmUnknown}, FaultTapsFew, 0},
		"a double":                    {Heart(), append([]int{100, 1500}, even...), Tapped{Taps: 13, Doubled: 1, Rhythm: RhythmRegular}, "", 37.5},
		"a double, slower":            {Heart(), append([]int{500, 1100}, even...), Tapped{Taps: 13, Doubled: 1, Rhythm: RhythmRegular}, "", 37.5},
		"every beat doubled":          {Heart(), append(repeated(12, 100, 1500), 100), Tapped{Taps: 26, Doubled: 13, Rhythm: RhythmRegular}, "", 37.5},
		"one missed":                  {Heart(), append([]int{3200}, even...), Tapped{Taps: 12, Gaps: 1, Missing: 1, Rhythm: RhythmRegular}, "", 37.5},
		"two missed":                  {Heart(), append([]int{4800}, even...), Tapped{Taps: 12, Gaps: 1, Missing: 2, Rhythm: RhythmRegular}, "", 37.5},
		"one and two missed":          {Heart(), append([]int{3200, 1600, 4800}, even...), Tapped{Taps: 14, Gaps: 2, Missing: 3, Rhythm: RhythmPauses}, "", 37.5},
		"a third of them gaps":        {Heart(), []int{1600, 1600, 3200}, Tapped{Taps: 4, Gaps: 1, Missing: 1, Rhythm: RhythmUnknown}, "", 37.5},
		"more than a third":           {Heart(), []int{1600, 1600, 3200, 3200, 1600}, Tapped{Taps: 6, Gaps: 2, Missing: 2, Rhythm: RhythmUnknown}, FaultTapsGaps, 0},
		"no order":                    {Heart(), repeated(4, 1300, 1850, 1400, 1800, 1350), Tapped{Taps: 21, Felt: true, Rhythm: RhythmIrregular}, "", 60 / 1.54},
		"one uneven in 20":            {Heart(), append([]int{2240}, repeated(19, 1600)...), Tapped{Taps: 21, Rhythm: RhythmRegular}, "", 0},
		"one uneven in 19":            {Heart(), append([]int{2240}, repeated(18, 1600)...), Tapped{Taps: 20, Rhythm: RhythmRegular}, FaultTapsUneven, 0},
		"two short of regular in 20":  {Heart(), append([]int{1000, 1000}, repeated(18, 1600)...), Tapped{Taps: 21, Rhythm: RhythmRegular}, FaultTapsUneven, 0},
		"as far from it as may be":    {Heart(), append([]int{2144, 1056}, even...), Tapped{Taps: 13, Rhythm: RhythmRegular}, "", 0}, // 1.34 and .66
		"a breath that is neither":    {Breath(), append([]int{2240}, even...), Tapped{Taps: 12, Felt: true}, "", 11 * 60 / 18.24},
		"a breath held for two":       {Breath(), append([]int{3200}, even...), Tapped{Taps: 12, Gaps: 1, Missing: 1}, "", 37.5},
		"so many pauses as no finger": {Heart(), append(repeated(7, 3200, 1600, 1600), 1600), Tapped{Taps: 23, Gaps: 7, Missing: 7, Rhythm: RhythmPauses}, "", 0},
	} {
		got, err := x.cadence.FromTaps(tapped(x.intervals...))
		td.Cmp(t, got.Refused, x.refused, name)
		td.Cmp(t, err != nil, got.Refused != "", name)
		total := 0
		for _, ms := range x.intervals {
			total += ms
		}
		td.Cmp(t, got.Seconds, td.N(float64(total)/1000, 1e-9), name)
		if x.rate != 0 {
			td.Cmp(t, got.Measure.Value, td.N(x.rate, x.rate/200), name)
		}
		got.Measure, got.Seconds, got.Refused = Measure{}, 0, ""
		td.Cmp(t, got, x.want, name)
	}
	for name, at := range map[string][]time.Duration{
		"at one moment": {0, 0, 1e9, 2e9, 3e9}, "backwards": {1e9, 0, 2e9, 3e9}, "at one moment, later": {0, 1e9, 2e9, 2e9},
	} {
		_, err := FromTaps(at)
		td.Cmp(t, err, td.Isa(Faults{}), name)
	}
}

// The rate that is felt has the mean of the intervals and the error of a mean of few: for 11 intervals the
// published quantile of Student's t at 10 degrees, 2.228, over the normal's 1.960.
func TestFeltRate(t *testing.T) {
	t.Parallel()
	intervals := []int{2240, 1600, 1650, 1550, 1600, 1700, 1500, 1600, 1620, 1580, 1600}
	got, err := Breath().FromTaps(tapped(intervals...))
	td.Require(t).CmpNoError(err)
	td.Require(t).Cmp(got.Felt, true)
	var sum, squares float64
	for _, ms := range intervals {
		sum += float64(ms) / 1000
	}
	n := float64(len(intervals))
	mean := sum / n
	for _, ms := range intervals {
		squares += square(float64(ms)/1000 - mean)
	}
	td.Cmp(t, got.Measure.Value, td.N(60/mean, 1e-8))
	plain := 60 / mean / mean * math.Sqrt(squares/(n-1)/n)
	td.Cmp(t, got.Measure.SD/plain, td.N(2.228/1.960, 0.01))
}

// The rule that tells rhythm apart, at its limits: nine pairs to speak of it, more than a third of them
// apart, two gaps.
func TestRhythmAtItsLimits(t *testing.T) {
	t.Parallel()
	for _, x := range []struct {
		pairs, apart, gaps int
		want               Rhythm
	}{
		{8, 8, 5, RhythmUnknown}, {9, 3, 0, RhythmRegular}, {9, 4, 0, RhythmIrregular}, {9, 4, 5, RhythmIrregular},
		{9, 0, 1, RhythmRegular}, {9, 3, 2, RhythmUnknown}, {9, 3, 5, RhythmPauses}, {12, 4, 0, RhythmRegular}, {12, 5, 0, RhythmIrregular},
	} {
		td.Cmp(t, (&tapSums{pairs: x.pairs, apart: x.apart, gaps: x.gaps, missing: x.gaps, spread: spread{n: x.pairs + 1}}).rhythm(), x.want, "%+v", x)
	}
	// The likelihood ratio of left out to missed: 5 to 1 for each gap, .75 to .95 for each beat that was felt.
	for _, x := range []struct{ gaps, missing, felt, apart int }{
		{6, 6, 1, 0}, {6, 6, 2, 0}, {7, 7, 8, 0}, {7, 7, 9, 0}, {7, 14, 30, 0}, {2, 2, 0, 0}, {9, 9, 3, 9}, {0, 9, 0, 0},
	} {
		s := tapSums{pairs: 9, apart: x.apart, gaps: x.gaps, missing: x.missing, spread: spread{n: x.gaps + x.felt}}
		likelier := math.Pow(0.25/0.05, float64(x.missing)) * math.Pow(0.75/0.95, float64(x.felt))
		td.Cmp(t, s.pausing(), likelier > 10_000 && x.gaps >= 2 && x.apart == 0, "%+v", x)
	}
	for _, x := range []struct {
		t    Tapped
		key  string
		args []string
	}{
		{Tapped{Taps: 9}, "", nil},
		{Tapped{Taps: 20, Doubled: 3, Rhythm: RhythmRegular}, "how.rhythm.regular", []string{"n", "0", "beats", "17"}},
		{Tapped{Taps: 20, Gaps: 1, Rhythm: RhythmRegular}, "how.rhythm.one-gap", []string{"n", "1", "beats", "20"}},
		{Tapped{Taps: 20, Gaps: 2, Rhythm: RhythmUnknown}, "how.rhythm.gaps", []string{"n", "2", "beats", "20"}},
		{Tapped{Taps: 9, Gaps: 2, Rhythm: RhythmUnknown}, "how.rhythm.cannot-tell", []string{"n", "2", "beats", "9"}},
		{Tapped{Taps: 20, Gaps: 4, Rhythm: RhythmPauses}, "how.rhythm.pauses", []string{"n", "4", "beats", "20"}},
		{Tapped{Taps: 20, Gaps: 4, Rhythm: RhythmIrregular}, "how.rhythm.irregular", []string{"n", "4", "beats", "20"}},
	} {
		key, args := x.t.Say()
		td.Cmp(t, key, x.key)
		td.Cmp(t, args, x.args)
	}
}

// When two neighbours, of k and l events, count as apart: beyond two thirds of a normal with the variance
// of their difference, worked out here from the covariance of taps and beats.
func TestNeighboursApart(t *testing.T) {
	t.Parallel()
	const beat, jitter = 0.2, 0.04
	for _, pair := range [][2]float64{{1, 1}, {1, 2}, {2, 1}, {3, 2}} {
		k, l := pair[0], pair[1]
		// The difference is (t1-t0)/k - (t2-t1)/l: of the three taps -1/k, 1/k+1/l, -1/l; of each beat 1/k or 1/l.
		variance := jitter*jitter*(1/k/k+(1/k+1/l)*(1/k+1/l)+1/l/l) + beat*beat*(k/k/k+l/l/l)
		limit := 0.967422 * math.Sqrt(variance) // Φ(0.967422) = 5/6
		for _, x := range []struct {
			off   float64
			apart int
		}{{limit * 0.999, 0}, {limit * 1.001, 1}, {-limit * 0.999, 0}, {-limit * 1.001, 1}} {
			s := tapSums{limit2: beat * beat, jitter2: jitter * jitter}
			s.compare(1.6*k, k)
			td.Cmp(t, s.pairs, 0, "the first has no neighbour")
			s.compare((1.6+x.off)*l, l)
			td.Cmp(t, []int{s.pairs, s.apart}, []int{1, x.apart}, "%v off by %v", pair, x.off)
		}
	}
}

// A full series: ten minutes and six hundred taps, and not one more; then all of it taken back.
func TestAFullSeries(t *testing.T) {
	t.Parallel()
	for _, gap := range []time.Duration{time.Second, 600 * time.Second / 599} {
		at := []time.Duration{time.Hour}
		for len(at) < MaxTaps {
			at = append(at, at[len(at)-1]+gap)
		}
		s := NewTapSeries(Heart())
		for i, moment := range at {
			// Every other interval longer, so that the sorted ones are moved about.
			if i%2 == 1 {
				moment -= gap / 50
				at[i] = moment
			}
			got, ok := s.Tap(moment)
			td.Require(t).Cmp(ok, true, i)
			td.Require(t).Cmp(got.Taps, i+1)
		}
		_, ok := s.Tap(at[MaxTaps-1] + 1)
		td.Cmp(t, ok, false, "full")
		got, err := FromTaps(at)
		td.CmpNoError(t, err)
		td.Cmp(t, got, s.Result())
		td.Cmp(t, got.Measure.Value, td.N(60/gap.Seconds(), 0.05))
		td.Cmp(t, got.Measure.SD, td.Between(1e-4, 0.2))
		_, err = FromTaps(append(at, at[MaxTaps-1]+gap))
		td.CmpError(t, err)
		for n := MaxTaps - 1; n >= 0; n-- {
			got, ok := s.Undo()
			td.Require(t).Cmp(ok, true)
			if n%37 == 0 {
				want, _ := FromTaps(at[:n])
				td.Require(t).Cmp(got, want, n)
			}
		}
	}
	for late, ok := range map[time.Duration]bool{10 * time.Minute: true, 10*time.Minute + 1: false} {
		s := NewTapSeries(Heart())
		s.Tap(time.Hour)
		_, took := s.Tap(time.Hour + late)
		td.Cmp(t, took, ok)
		_, err := FromTaps([]time.Duration{time.Hour, time.Hour + late})
		td.Cmp(t, coded(err.(Faults)), td.Any([]string{"taps-few /atMs"}, []string{"many-taps /atMs"}))
		td.Cmp(t, coded(err.(Faults))[0] == "taps-few /atMs", ok)
	}
}

// A series keeps whole milliseconds from its first tap, to the nearest.
func TestTapsAsKept(t *testing.T) {
	t.Parallel()
	s := NewTapSeries(Heart())
	for _, us := range []int{10_000_400, 11_600_800, 13_200_900, 14_800_899} {
		s.Tap(time.Duration(us) * time.Microsecond)
	}
	td.Cmp(t, s.Taps(), Taps{AtMS: []int{0, 1600, 3201, 4800}})
}

// Whatever the finger does, what a series says after each tap is what the same taps give at once: the sums
// are begun anew whenever the base period leaves what they were taken for.
func TestSeriesOfAnyFingerIsFromTaps(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(11, 12))
	for n := range 1400 {
		cadence := Heart()
		if n%2 == 1 {
			cadence = Breath()
		}
		s := NewTapSeries(cadence)
		at := []time.Duration{time.Duration(r.IntN(1000)) * time.Millisecond}
		period := 0.3 + 3*r.Float64()
		// The first thousand are even but for one interval, near where it would count for something else.
		odd, noise := r.IntN(8), 0.02
		for len(at) < 24 {
			d := period * math.Exp(noise*r.NormFloat64())
			if n < 1000 && len(at) == odd {
				d = period * []float64{0.5, 0.65, 1.35, 1.5, 1.65, 2.35, 2.5}[r.IntN(7)] * math.Exp(0.02*r.NormFloat64())
			}
			if n >= 1000 && r.IntN(2) == 0 {
				d = period * (0.4 + 2.3*r.Float64())
			}
			period *= math.Exp(0.02 * r.NormFloat64())
			at = append(at, at[len(at)-1]+time.Duration(d*1e9))
		}
		for i, moment := range at {
			got, _ := s.Tap(moment)
			want, _ := cadence.FromTaps(at[:i+1])
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("series %d after %d taps: %+v, at once %+v", n, i+1, got, want)
			}
		}
	}
}
