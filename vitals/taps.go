package vitals

import (
	"math"
	"slices"
	"strconv"
	"time"
)

// MinTaps is how many taps it takes for a rate.
const MinTaps = 4

// Reasons to ask for the taps again.
const (
	FaultTapsFew    FaultCode = "taps-few"    // fewer than MinTaps
	FaultTapsUneven FaultCode = "taps-uneven" // an interval that is neither one nor several of the others
	FaultTapsGaps   FaultCode = "taps-gaps"   // more than a third of the taps are missing
)

// Tapped is what a series of taps gives.
type Tapped struct {
	// Measure is the rate in /min, if Refused is empty.
	Measure Measure `json:"measure"`
	// Refused is why there is no rate: tap again.
	Refused FaultCode `json:"refused,omitempty"`
	// Taps is how many there were, Doubled how many of them were dropped as the second of a
	// double, Missing how many events were put in where a tap seems to be missing.
	Taps    int `json:"taps"`
	Doubled int `json:"doubled,omitempty"`
	Missing int `json:"missing,omitempty"`
	// Seconds is the time from the first tap to the last.
	Seconds float64 `json:"seconds"`
}

// FromTaps gives the rate of heart beats from taps: [Cadence.FromTaps] of [Heart].
func FromTaps(at []time.Duration) (Tapped, error) { return Heart().FromTaps(at) }

// FromTaps gives the rate from the moments of the taps, rising. A refused series is an
// error, [Faults] with the reason ([FaultTapsFew], [FaultTapsUneven], [FaultTapsGaps]);
// so are [FaultManyTaps] and [FaultTapOrder]. Paths are inside [Taps] ("/atMs/3").
func (c Cadence) FromTaps(at []time.Duration) (Tapped, error) {
	if len(at) > MaxTaps || len(at) > 0 && at[len(at)-1]-at[0] > MaxTapMinutes*time.Minute {
		return Tapped{}, Faults{newFault(FaultManyTaps, "/atMs",
			"most", strconv.Itoa(MaxTaps), "minutes", strconv.Itoa(MaxTapMinutes))}
	}
	var faults Faults
	for i := range at {
		if i > 0 && at[i] <= at[i-1] {
			faults = append(faults, newFault(FaultTapOrder, "/atMs/"+strconv.Itoa(i)))
		}
	}
	if len(faults) > 0 {
		return Tapped{}, faults
	}
	t := c.tapped(at)
	if t.Refused != "" {
		return t, Faults{newFault(t.Refused, "/atMs", "least", strconv.Itoa(MinTaps))}
	}
	return t, nil
}

func (c Cadence) tapped(at []time.Duration) Tapped {
	t := Tapped{Taps: len(at)}
	if len(at) > 0 {
		t.Seconds = (at[len(at)-1] - at[0]).Seconds()
	}
	if len(at) < MinTaps {
		t.Refused = FaultTapsFew
		return t
	}
	sorted := make([]float64, 0, len(at)-1)
	for i := 1; i < len(at); i++ {
		sorted = append(sorted, (at[i] - at[i-1]).Seconds())
	}
	slices.Sort(sorted)
	median := (sorted[(len(sorted)-1)/2] + sorted[len(sorted)/2]) / 2
	var intervals, steps []float64
	last, gaps := at[0], 0
	for _, moment := range at[1:] {
		d := (moment - last).Seconds()
		if d < median/2 {
			t.Doubled++
			continue
		}
		k := math.Round(d / median)
		if math.Abs(d/median-k) > 0.25 {
			t.Refused = FaultTapsUneven
		}
		if k > 1 {
			gaps++
			t.Missing += int(k) - 1
		}
		intervals, steps = append(intervals, d), append(steps, k)
		last = moment
	}
	switch {
	case len(intervals) < MinTaps-1:
		t.Refused = FaultTapsFew
	case 3*gaps > len(intervals):
		t.Refused = FaultTapsGaps
	}
	if t.Refused != "" {
		return t
	}
	g := newGLS(c.Variation*median, c.Jitter)
	for i, d := range intervals {
		g.add(d, steps[i])
	}
	period, sd := g.estimate()
	sd *= math.Sqrt(max(1, g.misfit()/float64(len(intervals)-1)))
	t.Measure = rate(60/period, 60/(period*period)*sd)
	return t
}

func (t Taps) durations() []time.Duration {
	out := make([]time.Duration, len(t.AtMS))
	for i, ms := range t.AtMS {
		out[i] = time.Duration(ms) * time.Millisecond
	}
	return out
}
