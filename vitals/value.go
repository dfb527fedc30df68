package vitals

// inUnit gives x, in unit from, in unit to. The units must be of one quantity.
func inUnit(x float64, from, to Unit) float64 {
	switch {
	case from == Fahrenheit && to == Celsius:
		return (x - 32) / 1.8
	case from == Celsius && to == Fahrenheit:
		return x*1.8 + 32
	case from == Pound && to == Kilogram:
		return x * 0.45359237 // the international pound, exact
	case from == Kilogram && to == Pound:
		return x / 0.45359237
	case from == Inch && to == Centimetre:
		return x * 2.54 // the international inch, exact
	case from == Centimetre && to == Inch:
		return x / 2.54
	}
	return x
}

// measured gives what a finding says in the sign's unit, for the thresholds of alarms.
func measured(sign Sign, f Finding) (float64, bool) {
	switch {
	case f.Count != nil && f.Count.Seconds > 0:
		return float64(f.Count.Events) * 60 / float64(f.Count.Seconds), true
	case f.Taps != nil && len(f.Taps.AtMS) > 1:
		at := f.Taps.AtMS
		if length := at[len(at)-1] - at[0]; length > 0 {
			return float64(len(at)-1) * 60_000 / float64(length), true
		}
	case f.Reading != nil && f.Reading.Device != Infrared && plausible(f.Reading.Value):
		return inUnit(f.Reading.Value.InexactFloat64(), f.Reading.Unit, sign.Unit), true
	case f.Timed != nil && len(f.Timed.CentiSeconds) > 0:
		sum := 0.0
		for _, cs := range f.Timed.CentiSeconds {
			sum += float64(cs) / 100
		}
		return sum / float64(len(f.Timed.CentiSeconds)), true
	}
	return 0, false
}
