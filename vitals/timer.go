package vitals

import (
	"math"
	"strconv"
)

// MaxCentiSeconds is the longest try of a timed sign: ten minutes.
const MaxCentiSeconds = 60000

// Timing is one part of the uncertainty of a timed sign, in seconds.
type Timing struct {
	SD float64
	Provenance
}

// ReactionSD is the standard deviation of one press-and-release time: seeing that the
// colour is back, or the fold gone, and stopping the watch.
func ReactionSD() Timing {
	return Timing{0.15, Provenance{"ajp-2019", Assumed,
		"start and stop of a watch on an event that is expected, 0.10 s, was read; 0.15 s is assumed, since colour comes back by degrees"}}
}

// AloudSD is the standard deviation of one time counted aloud in whole seconds, from the
// step alone: a second evenly spread.
func AloudSD() Timing {
	return Timing{1 / math.Sqrt(12), Provenance{Mark: Derived, Note: "whole seconds: 1 s/√12"}}
}

// AloudPace is the relative standard deviation of a second counted in the head.
const AloudPace = 0.15 // assumed; it does not average out over tries of one person

// FromTries gives the mean time of the tries, in seconds. The standard deviation of one
// try is [ReactionSD] or, where the tries scatter more than that, their own; it falls with
// √n. Times counted aloud add [AloudSD] to each try and [AloudPace] to the mean.
//
// The error is [Faults]: [FaultNoTry], [FaultManyTries] or [FaultOutOfRange], at /centiSeconds.
func FromTries(t Timed) (Measure, error) {
	const path = "/centiSeconds"
	n := len(t.CentiSeconds)
	if n == 0 {
		return Measure{}, Faults{newFault(FaultNoTry, path)}
	}
	if n > MaxTries {
		return Measure{}, Faults{newFault(FaultManyTries, path, "most", strconv.Itoa(MaxTries))}
	}
	var faults Faults
	sum := 0
	for i, cs := range t.CentiSeconds {
		if cs < 1 || cs > MaxCentiSeconds {
			faults = append(faults, newFault(FaultOutOfRange, path+"/"+strconv.Itoa(i),
				"low", "0.01", "high", strconv.Itoa(MaxCentiSeconds/100), "unit", string(Second)))
			continue
		}
		sum += cs
	}
	if len(faults) > 0 {
		return Measure{}, faults
	}
	mean := float64(sum) / float64(n) / 100
	one := square(ReactionSD().SD)
	if t.Aloud {
		one += square(AloudSD().SD)
	}
	if n > 1 {
		scatter := 0.0
		for _, cs := range t.CentiSeconds {
			scatter += square(float64(cs)/100 - mean)
		}
		one = max(one, scatter/float64(n-1))
	}
	variance := one / float64(n)
	if t.Aloud {
		variance += square(AloudPace * mean)
	}
	return steady(Measure{mean, math.Sqrt(variance), Second}), nil
}

func square(x float64) float64 { return x * x }
