package vitals

import (
	"strconv"

	"github.com/shopspring/decimal"
)

// Heat is the sum that is used before and after work in hot weather: degrees Fahrenheit
// plus relative humidity in per cent.
type Heat struct {
	Sum decimal.Decimal `json:"sum"`
	// Band is where the sum lies.
	Band string `json:"band"`
	// Humid: relative humidity over 75 %, at which even a low sum is no comfort.
	Humid bool `json:"humid,omitempty"`
	Provenance
}

// The bands of the heat sum.
const (
	HeatEasy      = "heat-easy"      // below 130: the horse cools itself, unless it is humid
	HeatHelp      = "heat-help"      // 130 to 150: help it cool
	HeatWatch     = "heat-watch"     // over 150 to 180: watch the vital signs
	HeatDangerous = "heat-dangerous" // over 180: cooling hardly works
)

// HeatOf gives the heat sum of the weather at an exam; ok is false unless both
// temperature and humidity are known in units that fit. The bands were read in a copy;
// other copies draw them at 120, 150 and 180, or take off the wind's speed.
func HeatOf(air Air) (h Heat, ok bool) {
	if air.Temperature == nil || air.Humidity == nil || air.Humidity.Unit != Percent {
		return Heat{}, false
	}
	f, err := Convert(air.Temperature.Value, air.Temperature.Unit, Fahrenheit, 1)
	if err != nil || !plausible(air.Humidity.Value) {
		return Heat{}, false
	}
	sum := f.Add(air.Humidity.Value)
	h = Heat{Sum: sum, Band: HeatEasy, Humid: air.Humidity.Value.GreaterThan(decimal.New(75, 0)),
		Provenance: Provenance{"extension-horses-heat", SecondHand, "other versions draw the bands elsewhere or take off the wind"}}
	switch {
	case sum.GreaterThan(decimal.New(180, 0)):
		h.Band = HeatDangerous
	case sum.GreaterThan(decimal.New(150, 0)):
		h.Band = HeatWatch
	case sum.GreaterThanOrEqual(decimal.New(130, 0)):
		h.Band = HeatHelp
	}
	return h, true
}

// Advice gives the sentence of the heat sum.
func (h Heat) Advice() Advice {
	id := h.Band
	if h.Humid && id == HeatEasy {
		id += ".humid"
	}
	return Advice{id, []string{"sum", h.Sum.String()}, h.Provenance}
}

// AdviceInversion states that more breaths than heart beats were counted.
const AdviceInversion = "breaths-above-beats"

// Inversion states, as an observation, that an exam found more breaths than heart beats in
// a minute; ok is false where it did not or one of the two is missing. Of several counts
// the last of each is taken. Sources disagree on what it is worth: rides have used it as a
// reason to stop a horse and others have dropped it, since fit horses pant in humid heat.
func Inversion(e Exam) (a Advice, ok bool) {
	last := func(id SignID) (Measure, bool) {
		var found *Finding
		for i := range e.Findings {
			f := &e.Findings[i]
			if f.Sign == id && f.Absent == "" && (found == nil || f.Minutes >= found.Minutes) {
				found = f
			}
		}
		if found == nil {
			return Measure{}, false
		}
		m, err := found.Measure(catalogue[catalogueIndex[id]])
		return m, err == nil
	}
	breaths, ok1 := last(RespiratoryRate)
	beats, ok2 := last(HeartRate)
	if !ok1 || !ok2 || breaths.Value <= beats.Value {
		return Advice{}, false
	}
	whole := func(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) }
	return Advice{AdviceInversion, []string{"breaths", whole(breaths.Value), "beats", whole(beats.Value)},
		Provenance{"endurance-archive", SecondHand, "postings of riders and veterinarians, 1995 to 1996; opinion, sources disagree"}}, true
}
