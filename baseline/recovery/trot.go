package recovery

import (
	"math"

	"whorl.example/baseline/internal/normal"
	"whorl.example/vitals"
)

// TrotOut is what was counted around a trot in hand, kept whole: the difference alone
// could not be read by another definition later.
type TrotOut struct {
	// HR0 is the count before the trot, HR1 the one after it, per minute.
	HR0 vitals.Measure `json:"hr0"`
	HR1 vitals.Measure `json:"hr1"`
	// OutMetres is the way out; the way back is as long.
	OutMetres float64   `json:"outMetres"`
	Clock     TrotClock `json:"clock"`
	// Seconds from the clock's start to the second count.
	Seconds int `json:"seconds,omitempty"`
}

// TrotAnswer is the difference after a trot-out.
type TrotAnswer struct {
	TrotOut TrotOut `json:"trotOut"`
	// Difference is HR1-HR0 per minute, SD its standard uncertainty.
	Difference float64 `json:"difference"`
	SD         float64 `json:"sd"`
	// Fits are the published definitions that this trot-out follows; often none.
	Fits []TrotFit `json:"fits,omitempty"`
}

// TrotFit reads the difference by one definition that the trot-out followed.
type TrotFit struct {
	Definition TrotDefinition `json:"definition"`
	// Notice: the difference is one of which the definition's source takes notice. Nil
	// where the text at hand gives no figure.
	Notice *bool `json:"notice,omitempty"`
	// Chance that it truly is, given the counting; nil likewise.
	Chance *float64 `json:"chance,omitempty"`
}

// Answer reads the difference by each published definition that the trot-out followed: the
// same way within 2 m, the same start of the clock, the same time within 5 s (both
// assumed). A definition of unstated clock is followed by the way alone. ok is false if
// the counts are no rates.
func (t TrotOut) Answer() (a TrotAnswer, ok bool) {
	for _, m := range []vitals.Measure{t.HR0, t.HR1} {
		if !isRate(m) {
			return a, false
		}
	}
	if !isFinite(t.OutMetres) {
		return a, false
	}
	a = TrotAnswer{TrotOut: t, Difference: t.HR1.Value - t.HR0.Value, SD: math.Hypot(t.HR0.SD, t.HR1.SD)}
	for _, d := range TrotDefinitions() {
		timed := d.Clock == FromUnknown || t.Clock == d.Clock && math.Abs(float64(t.Seconds-d.Seconds)) <= 5
		if !(math.Abs(t.OutMetres-d.OutMetres) <= 2) || !timed {
			continue
		}
		f := TrotFit{Definition: d}
		if d.Above != nil {
			notice := a.Difference > *d.Above
			if d.OnlyAbove != nil {
				notice = notice && t.HR0.Value > *d.OnlyAbove
			}
			f.Notice = &notice
			if a.SD > 0 && d.OnlyAbove == nil {
				p := normal.Upper((*d.Above - a.Difference) / a.SD)
				f.Chance = &p
			}
		}
		a.Fits = append(a.Fits, f)
	}
	return a, true
}

func isRate(m vitals.Measure) bool {
	return m.Value > 0 && isFinite(m.Value) && m.SD >= 0 && isFinite(m.SD)
}
