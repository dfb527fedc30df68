package vitals

import (
	"math"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"
)

// Tolerance is how far a reading of a device may be from the truth: limits ±Limit (of the
// value, in Unit) or ±Share of the value, evenly spread, for values from Low up to, not
// including, High.
type Tolerance struct {
	Device Device  `json:"device"`
	Unit   Unit    `json:"unit"`
	Low    float64 `json:"low,omitempty"`
	High   float64 `json:"high,omitempty"` // 0: no upper end
	Limit  float64 `json:"limit,omitempty"`
	Share  float64 `json:"share,omitempty"`
	Provenance
}

const thirdOfF = 0.3 / 1.8 // 0.3 degF in degrees Celsius

var (
	drugstore = Provenance{Mark: CommonPractice, Note: "a drugstore digital thermometer is good to 0.2 to 0.3 F; the wider is used"}
	astm      = Provenance{"astm-e1112", Memory, fromMemory}
	iso       = Provenance{"iso-80601-2-56", Memory, fromMemory + "; laboratory limits, the forecast adds to them"}
	glass     = Provenance{Mark: Assumed, Note: "as a digital thermometer, read between lines a fifth of a degree apart"}
	anyMeans  = Provenance{Mark: Assumed, Note: "thermometer and method unknown"}
)

// tolerances are the devices of every kind of reading. A device without a row for a unit is
// not accepted there.
var tolerances = []Tolerance{
	{Digital, Celsius, 0, 35.8, 0.3, 0, astm},
	{Digital, Celsius, 35.8, 37, 0.2, 0, astm},
	{Digital, Celsius, 37, 39, thirdOfF, 0, drugstore},
	{Digital, Celsius, 39, 41, 0.2, 0, astm},
	{Digital, Celsius, 41, 0, 0.3, 0, astm},
	{Predictive, Celsius, 0, 34, 0.4, 0, iso},
	{Predictive, Celsius, 34, 42, 0.3, 0, iso},
	{Predictive, Celsius, 42, 0, 0.4, 0, iso},
	{Glass, Celsius, 0, 0, 0.2, 0, glass},
	{Monitor, Celsius, 0, 0, 0.3, 0, anyMeans},
	{Told, Celsius, 0, 0, 0.5, 0, anyMeans},

	{Scale, Kilogram, 0, 0, 0, 0.01, Provenance{Mark: Assumed, Note: "a platform scale, with the horse not quite still"}},
	{WeighTape, Kilogram, 0, 0, 0, 0.12, Provenance{"catalano-2019", Derived, "tapes were off by 5 to 25 %; ±12 % evenly spread has a standard deviation of 7 %"}},
	{Told, Kilogram, 0, 0, 0, 0.17, Provenance{"catalano-2019", Derived, "owners were off by 8 to 15 % of the scale"}},

	{Monitor, PerMinute, 0, 0, 2, 0, Provenance{Mark: Assumed, Note: "instruments average over a few beats and show whole numbers"}},
	// See [ToldRateSD] for a rate that somebody gave.
}

// Tolerances lists what is taken of every device. The entries are the caller's own copy.
func Tolerances() []Tolerance { return slices.Clone(tolerances) }

func toleranceOf(d Device, u Unit, value float64) (Tolerance, bool) {
	for i := range tolerances {
		if t := &tolerances[i]; t.Device == d && t.Unit == u && value >= t.Low && (t.High == 0 || value < t.High) {
			return *t, true
		}
	}
	return Tolerance{}, false
}

// ToldRateSD is the standard deviation, in /min, of a rate that somebody gave without
// saying how it was counted: a 15-second count times four, started anyhow, 4·√(1/6), and
// the habit of round numbers, 4/√12, in quadrature.
func ToldRateSD() (float64, Provenance) {
	return math.Sqrt(16.0/6 + 16.0/12), Provenance{Mark: Assumed,
		Note: "method unknown: 15 s times 4 started anyhow, and a preference for round numbers"}
}

// ScoreSD is the standard deviation of a body condition score, in points.
func ScoreSD() (float64, Provenance) {
	return 0.5, Provenance{Mark: Assumed, Note: "half a point between observers"}
}

// FromReading gives what was read in the unit of the sign, without rounding, and the
// standard deviation of the device: limits ±a, evenly spread, a/√3; with the step of the
// display, d/√12, in quadrature. A reading without a device counts as told.
//
// The error is [Faults]: [FaultWrongUnit] at /unit, [FaultWrongDevice] at /device (an
// infrared thermometer is no rectal temperature), [FaultBadNumber] at /value.
func FromReading(r Reading, sign Sign) (Measure, error) {
	var faults Faults
	if r.Unit != sign.Unit && !slices.Contains(UnitsOf(sign.Unit), r.Unit) {
		faults = append(faults, newFault(FaultWrongUnit, "/unit", "unit", string(r.Unit)))
	}
	if !plausible(r.Value) {
		faults = append(faults, newFault(FaultBadNumber, "/value"))
	}
	if len(faults) > 0 {
		return Measure{}, faults
	}
	value, step := exactly(r, sign.Unit)
	m := Measure{Value: value, Unit: sign.Unit}
	device := r.Device
	if device == "" {
		device = Told
	}
	variance := 0.0
	switch told := device == Told; {
	case sign.Kind == KindScore && told:
		sd, _ := ScoreSD()
		variance = square(sd)
	case sign.Kind == KindRate && told:
		sd, _ := ToldRateSD()
		variance = square(sd)
	default:
		t, ok := toleranceOf(device, sign.Unit, m.Value)
		if !ok {
			return Measure{}, Faults{newFault(FaultWrongDevice, "/device")}
		}
		variance = square(t.Limit+t.Share*math.Abs(m.Value)) / 3
	}
	if sign.Kind == KindRate {
		// What the events themselves do over a quarter of a minute, as in a count.
		variance += square(CadenceOf(sign.ID).Variation) * m.Value * 4
	}
	variance += square(step) / 12
	m.SD = math.Sqrt(variance)
	return steady(m), nil
}

// exactly gives a plausible reading and the step of its display in a unit of the same quantity.
func exactly(r Reading, unit Unit) (value, step float64) {
	if r.Unit == unit {
		return nearest(r.Value), tenTo(r.Value.Exponent())
	}
	shown := func(x decimal.Decimal) decimal.Decimal {
		y, _ := Convert(x, r.Unit, unit, maxShown)
		return y
	}
	one := decimal.New(1, r.Value.Exponent())
	return shown(r.Value).InexactFloat64(), shown(one).Sub(shown(zero)).InexactFloat64()
}

// DeviceEffect is how far two thermometers have been apart in a published comparison.
type DeviceEffect struct {
	Size decimal.Decimal
	Unit Unit
	Provenance
}

// DeviceChange gives the published size of the effect, in the unit of the later reading,
// where a temperature was read with another thermometer than the one before it: another
// kind, or another label. In a study with four horses rapid digital thermometers read 0.89
// degrees lower than the reference, another digital 0.61.
func DeviceChange(before, now Reading) (DeviceEffect, bool) {
	temperature := now.Unit.Same(Celsius) && before.Unit.Same(Celsius)
	if !temperature || before.Device == now.Device && before.Label == now.Label {
		return DeviceEffect{}, false
	}
	effect := DeviceEffect{decimal.New(9, -1), Celsius,
		Provenance{"hine-2015", Read, "thermometer and person were confounded: one person a make"}}
	if now.Unit == Fahrenheit {
		effect.Size, effect.Unit = decimal.New(16, -1), Fahrenheit // 0.89 degrees Celsius
	}
	return effect, true
}

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
