package baseline

import "whorl.example/vitals"

// In gives the series of a temperature in degrees Fahrenheit, as it was read; any other
// series, and any other unit, comes back as it is.
func (w Watched) In(unit vitals.Unit) Watched {
	if w.Unit != vitals.Celsius || unit != vitals.Fahrenheit {
		return w
	}
	// The Fahrenheit scale is defined by the Celsius scale: exact.
	const per, zero = 1.8, 32
	scale := func(x float64) float64 { return x*per + zero }
	w.Unit = unit
	points := make([]WatchedPoint, len(w.Points))
	for i, p := range w.Points {
		p.Measure = vitals.Measure{Value: scale(p.Value), SD: p.SD * per, Unit: unit}
		if w.Slope != nil {
			p.Line = scale(p.Line)
		}
		points[i] = p
	}
	w.Points = points
	if w.Own != nil {
		w.Own = &Interval{scale(w.Own.Low), scale(w.Own.Mid), scale(w.Own.High)}
	}
	if w.Slope != nil {
		s := *w.Slope
		for _, x := range []*float64{&s.PerHour, &s.SD, &s.Low, &s.High, &s.WouldShow} {
			*x *= per
		}
		w.Slope = &s
	}
	if w.Robust != nil {
		r := *w.Robust
		r.PerHour *= per
		w.Robust = &r
	}
	return w
}
