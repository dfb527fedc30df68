package vitals

import (
	"errors"
	"time"
)

// Measure gives the finding as a number in the unit of its sign, with the standard
// uncertainty of the way in which it was taken: events in /min, times in s, temperature in
// Cel, weight in kg, a score in 1. Weight by girth and length is worked out as for a grown
// horse; [Finding.MeasureFor] knows the animal.
//
// The error is [Faults], with paths inside the finding ("/count/events"): what the
// instrument refuses, [FaultNoValue] for a finding without a value, [FaultWrongKind] for a
// sign or a way that does not give a number.
func (f Finding) Measure(sign Sign) (Measure, error) {
	return f.MeasureFor(sign, TypeHorse, Adult)
}

// MeasureFor is [Finding.Measure] for an animal of type t at stage st: a donkey's or a
// foal's girth and length give [FaultNoFormula].
func (f Finding) MeasureFor(sign Sign, t Type, st Stage) (Measure, error) {
	if f.Absent != "" {
		return Measure{}, Faults{newFault(FaultNoValue, "")}
	}
	if !sign.Kind.Measured() {
		return Measure{}, Faults{newFault(FaultWrongKind, "")}
	}
	switch {
	case f.Count != nil && sign.Kind == KindRate:
		// A number of seconds that no Duration holds must not come round as a window.
		seconds := min(max(f.Count.Seconds, 0), MaxCountWindow+1)
		m, err := CadenceOf(sign.ID).FromCount(f.Count.Events, time.Duration(seconds)*time.Second, f.Count.Start)
		return m, under("/count", err)
	case f.Taps != nil && sign.Kind == KindRate:
		tapped, err := CadenceOf(sign.ID).FromTaps(f.Taps.durations())
		return tapped.Measure, under("/taps", err)
	case f.Reading != nil && sign.Kind != KindTimed:
		m, err := FromReading(*f.Reading, sign)
		return m, under("/reading", err)
	case f.Timed != nil && sign.Kind == KindTimed:
		m, err := FromTries(*f.Timed)
		return m, under("/timed", err)
	case f.Girth != nil && sign.Kind == KindWeight:
		m, err := FromGirth(*f.Girth, t, st)
		return m, under("/girth", err)
	case f.Count != nil || f.Taps != nil || f.Reading != nil || f.Timed != nil || f.Girth != nil || len(f.Chosen) > 0:
		return Measure{}, Faults{newFault(FaultWrongKind, "")}
	}
	return Measure{}, Faults{newFault(FaultNoValue, "")}
}

// under puts a part of the finding before the paths of an instrument's faults.
func under(part string, err error) error {
	if faults, ok := errors.AsType[Faults](err); ok {
		return faults.At(part)
	}
	return err
}
