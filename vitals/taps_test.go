package vitals

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
)

// The published vector of the project's notes on rates from taps: generalised least
// squares with a beat deviation of 50 ms and a tap deviation of 40 ms.
func TestGLSVector(t *testing.T) {
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
