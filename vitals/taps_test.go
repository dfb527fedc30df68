package vitals

import (
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"
)

// The published vector of the project's notes on rates from taps: generalised least
// squares with a beat deviation of 50 ms and a tap deviation of 40 ms.
func TestGLSVector(t *testing.T) {
	t.Parallel()
	at := []float64{0, 1.70, 3.31, 5.02, 6.66, 8.35, 9.98, 11.70}
	estimate := func(at []float64) (rate, sdPeriod, sdRate float64) {
		g := newGLS(0.05, 0.04)
		for i := 1; i < len(at); i++ {
			k := 1.0
			if at[i]-at[i-1] > 2.5 {
				k = 2
			}
			g.add(at[i]-at[i-1], k)
		}
		p, sd := g.estimate()
		return 60 / p, sd, 60 / p / p * sd
	}
	rate, sdP, sdR := estimate(at)
	td.Cmp(t, rate, td.N(35.95083, 1e-5))
	td.Cmp(t, sdP, td.N(0.02022204, 1e-8))
	td.Cmp(t, sdR, td.N(0.4356037, 1e-7))
	rate, sdP, _ = estimate(append(append([]float64{}, at[:3]...), at[4:]...))
	td.Cmp(t, rate, td.N(35.94959, 1e-5))
	td.Cmp(t, sdP, td.N(0.02022247, 1e-8))
}

func TestFromTapsVector(t *testing.T) {
	t.Parallel()
	var at []time.Duration
	for _, ms := range []int{0, 1700, 3310, 5020, 6660, 8350, 9980, 11700} {
		at = append(at, time.Duration(ms)*time.Millisecond)
	}
	got, err := FromTaps(at)
	td.CmpNoError(t, err)
	td.Cmp(t, got.Measure.Value, td.N(35.951, 0.005))
	// These taps are steadier than the constants expect: the SD is below the constants' 0.44.
	td.Cmp(t, got.Measure.SD, td.Between(0.15, 0.44))
}

// anyTaps draws taps as they come: mostly even, with misses, doubles and nonsense.
func anyTaps(t *rapid.T) []time.Duration {
	period := rapid.IntRange(230, 8000).Draw(t, "period")
	n := rapid.IntRange(0, 80).Draw(t, "taps")
	at := make([]time.Duration, 0, n)
	ms := rapid.IntRange(-1000, 1000).Draw(t, "first")
	for range n {
		at = append(at, time.Duration(ms)*time.Millisecond)
		step := period + rapid.IntRange(-period/8, period/8).Draw(t, "jitter")
		switch rapid.IntRange(0, 20).Draw(t, "slip") {
		case 0:
			step *= 2
		case 1:
			step = 1 + step/7
		case 2:
			step = rapid.IntRange(1, 2*period).Draw(t, "any")
		}
		ms += step
	}
	for len(at) > 0 && at[len(at)-1]-at[0] > MaxTapMinutes*time.Minute {
		at = at[:len(at)-1]
	}
	return at
}

// What a series says after each tap is what the same taps give at once; an undone tap
// leaves no trace.
func TestSeriesIsFromTaps(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		cadence := rapid.SampledFrom([]Cadence{Heart(), Breath()}).Draw(t, "cadence")
		at := anyTaps(t)
		s := NewTapSeries(cadence)
		for i, moment := range at {
			if rapid.IntRange(0, 9).Draw(t, "slip") == 0 {
				s.Tap(moment - 1)
				if s.n > i {
					s.Undo()
				}
			}
			got, ok := s.Tap(moment)
			want, err := cadence.FromTaps(at[:i+1])
			if !ok || !reflect.DeepEqual(got, want) || (err != nil) != (got.Refused != "") {
				t.Fatalf("after %d taps: %+v, at once %+v, %v", i+1, got, want, err)
			}
			if got.Refused == "" && !(got.Measure.Value > 0 && got.Measure.SD > 0 && got.Measure.SD < 1e6) {
				t.Fatalf("after %d taps: %+v", i+1, got)
			}
		}
		if len(at) > 0 {
			if _, ok := s.Tap(at[len(at)-1]); ok {
				t.Fatal("took a tap that does not come later")
			}
		}
		for s.n > 0 {
			got, _ := s.Undo()
			want, _ := cadence.FromTaps(at[:s.n])
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("undone to %d: %+v, at once %+v", s.n, got, want)
			}
		}
		if _, ok := s.Undo(); ok {
			t.Fatal("undid nothing")
		}
	})
}

// A rate does not depend on when the clock started, and scales with it.
func TestTapsScale(t *testing.T) {
	t.Parallel()
	at := drawTaps(rand.New(rand.NewPCG(3, 3)), 36, 0.03, 0.04, 60, 0, 0)
	got, err := FromTaps(at)
	td.CmpNoError(t, err)
	for i := range at {
		at[i] += 5 * time.Hour
	}
	later, err := FromTaps(at)
	td.CmpNoError(t, err)
	td.Cmp(t, later.Measure.Value, td.N(got.Measure.Value, 1e-6))
}

func TestTapRefusals(t *testing.T) {
	t.Parallel()
	even := func(n int) (at []time.Duration) {
		for i := range n {
			at = append(at, time.Duration(i)*1600*time.Millisecond)
		}
		return at
	}
	for _, x := range []struct {
		name string
		at   []time.Duration
		want FaultCode
	}{
		{"none", nil, FaultTapsFew},
		{"three", even(3), FaultTapsFew},
		{"four", even(4), ""},
		{"doubles of three", durations([]float64{0, 0.1, 1.6, 1.7, 3.2, 3.3}), FaultTapsFew},
		{"one off", durations([]float64{0, 1.6, 3.2, 5.5, 7.1, 8.7}), FaultTapsUneven},
		{"half of them gaps", durations([]float64{0, 1.6, 4.8, 6.4, 9.6, 11.2, 14.4}), FaultTapsGaps},
		{"too many", even(MaxTaps + 1), FaultManyTaps},
		{"too long", []time.Duration{0, 11 * time.Minute}, FaultManyTaps},
		{"out of order", []time.Duration{0, 2e9, 1e9, 3e9, 4e9}, FaultTapOrder},
	} {
		_, err := FromTaps(x.at)
		if x.want == "" {
			td.CmpNoError(t, err, x.name)
			continue
		}
		td.CmpTrue(t, errors.Is(err, Fault{Code: x.want}), "%s: %v", x.name, err)
	}
	// Milliseconds that no clock shows do not come round.
	_, err := Finding{Sign: HeartRate, Taps: &Taps{AtMS: []int{0, math.MaxInt - 1, math.MaxInt}}}.Measure(mustSign(t, HeartRate))
	td.Cmp(t, err, td.Isa(Faults{}))
}

func mustSign(t testing.TB, id SignID) Sign {
	t.Helper()
	s, ok := Lookup(id)
	if !ok {
		t.Fatalf("no sign %q", id)
	}
	return s
}

func TestTapAllocatesNothing(t *testing.T) {
	s := NewTapSeries(Heart())
	at := time.Duration(0)
	got := testing.AllocsPerRun(400, func() {
		at += 1600 * time.Millisecond
		if _, ok := s.Tap(at); !ok {
			s.n, s.sums = 0, tapSums{}
		}
	})
	td.Cmp(t, got, 0.0)
}

// Any taps give a fault or a rate with its uncertainty, the same tap by tap as all at once, and what is kept of
// them gives it again.
func FuzzTaps(f *testing.F) {
	f.Add([]byte{100, 100, 100, 100, 200, 100, 100, 10, 90, 100, 100, 100, 100}, uint16(16))
	f.Add([]byte{1, 1, 1, 1, 1, 255, 255, 255}, uint16(16))
	f.Add([]byte{0, 0, 0, 0}, uint16(1))
	f.Fuzz(func(t *testing.T, steps []byte, unit uint16) {
		at := []time.Duration{0}
		for _, b := range steps {
			at = append(at, at[len(at)-1]+time.Duration(b)*time.Duration(unit)*time.Millisecond)
		}
		for _, id := range []SignID{HeartRate, RespiratoryRate} {
			c := Heart()
			if id == RespiratoryRate {
				c = Breath()
			}
			got, err := c.FromTaps(at)
			if err == nil && !(got.Measure.Value > 0 && got.Measure.SD >= 0 && got.Measure.SD < math.MaxFloat64) {
				t.Errorf("%v: %+v", at, got)
			}
			s := NewTapSeries(c)
			for _, d := range at {
				s.Tap(d)
			}
			kept := s.Taps()
			again, err2 := c.FromTaps(kept.durations())
			if err == nil && len(kept.AtMS) == len(at) && (err2 != nil || !td.EqDeeply(again, got) || !td.EqDeeply(s.Result(), got)) {
				t.Errorf("%v: at once %+v, tap by tap %+v, as kept %+v (%v)", at, got, s.Result(), again, err2)
			}
		}
	})
}
