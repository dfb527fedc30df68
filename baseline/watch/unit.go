package watch

import "whorl.example/vitals"

// In gives the series in another unit, as it was read; in a unit of something else it comes back as it is.
func (w Watched) In(unit vitals.Unit) Watched {
	to, ok := w.Unit.To(unit)
	if !ok || unit == w.Unit {
		return w
	}
	points := make([]WatchedPoint, len(w.Points))
	for i, p := range w.Points {
		p.Measure = p.Measure.In(unit)
		if w.Slope != nil {
			p.Line = to.Value(p.Line)
		}
		points[i] = p
	}
	w.Unit, w.Points = unit, points
	if w.Own != nil {
		own := w.Own.In(to)
		w.Own = &own
	}
	if w.Slope != nil {
		s := *w.Slope
		for _, x := range []*float64{&s.PerHour, &s.SD, &s.Low, &s.High, &s.WouldShow} {
			*x = to.Size(*x)
		}
		w.Slope = &s
	}
	if w.Robust != nil {
		r := *w.Robust
		r.PerHour = to.Size(r.PerHour)
		w.Robust = &r
	}
	return w
}
