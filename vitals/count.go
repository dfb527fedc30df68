package vitals

import (
	"math"
	"strconv"
	"time"
)

// Cadence is what the instruments know of the events that they count: how far one interval
// differs from the next, and how well a person follows them with a finger.
type Cadence struct {
	// Variation is the standard deviation of one interval over the mean interval.
	Variation  float64
	Variations Provenance
	// Jitter is the standard deviation in seconds of a tap about its event.
	Jitter  float64
	Jitters Provenance
	// Rhythmic: the intervals are judged for rhythm too.
	Rhythmic bool
}

// Heart is the cadence of a resting horse's heart.
func Heart() Cadence {
	return Cadence{
		Variation: 0.03,
		Variations: Provenance{"orbi-warmbloods", Derived,
			"standard deviation of the intervals 47.8 ms of 1.67 s in 16 resting horses"},
		Jitter: 0.040,
		Jitters: Provenance{"repp-2005", Memory,
			"2 to 4 % of the interval, 33 to 67 ms at 36 a minute; from memory, not checked against the source"},
		Rhythmic: true,
	}
}

// Breath is the cadence of a resting horse's breathing. Where a breath begins is a softer
// event than a beat, so both figures are larger.
func Breath() Cadence {
	return Cadence{
		Variation:  0.10,
		Variations: Provenance{Mark: Assumed, Note: "no published breath-to-breath variation of horses was found"},
		Jitter:     0.150,
		Jitters:    Provenance{Mark: Assumed, Note: "the turn of the flank is seen to a sixth of a second or so"},
	}
}

// CadenceOf gives the cadence of the events of a rate's sign.
func CadenceOf(sign SignID) Cadence {
	if sign == RespiratoryRate {
		return Breath()
	}
	return Heart()
}

// MaxEvents is the most that can be counted: five minutes at 300 a minute.
const MaxEvents = 1500

// FromCount gives the rate of heart beats counted in a window: [Cadence.FromCount] of [Heart].
func FromCount(events int, window time.Duration, start Start) (Measure, error) {
	return Heart().FromCount(events, window, start)
}

// FromCount gives the rate, in /min, of events counted in a window of [MinCountWindow] to
// [MaxCountWindow] seconds.
//
// A window started anywhere holds the whole number above or below its true length in
// intervals: the error is triangular, one event wide on each side, and its standard
// deviation is (60/T)·√(1/6), without bias. A window started on an event that is not
// counted ends, on average, half an interval after the last event that is: half an event
// is added, and the error is uniform, (60/T)/√12. In quadrature comes what the events
// themselves do: the mean of n intervals differs from the animal's rate by Variation/√n.
// (Arithmetic; both confirmed by simulation in the tests. Resolution/√12 for a count
// started anywhere would be too small by √2.)
//
// The error is [Faults] with [FaultOutOfRange] at /events or /seconds, or
// [FaultUnknownAnswer] at /start.
func (c Cadence) FromCount(events int, window time.Duration, start Start) (Measure, error) {
	var faults Faults
	if events < 0 || events > MaxEvents {
		faults = append(faults, newFault(FaultOutOfRange, "/events", "low", "0", "high", strconv.Itoa(MaxEvents), "unit", ""))
	}
	if window < MinCountWindow*time.Second || window > MaxCountWindow*time.Second {
		faults = append(faults, newFault(FaultOutOfRange, "/seconds",
			"low", strconv.Itoa(MinCountWindow), "high", strconv.Itoa(MaxCountWindow), "unit", string(Second)))
	}
	n, variance := float64(events), 0.0
	switch start {
	case Anywhere:
		variance = 1.0 / 6
	case OnBeat:
		n += 0.5
		variance = 1.0 / 12
	default:
		faults = append(faults, newFault(FaultUnknownAnswer, "/start", "name", string(start)))
	}
	if len(faults) > 0 {
		return Measure{}, faults
	}
	step := 60 / window.Seconds() // of the rate, an event
	floor := c.Variation * c.Variation * n
	return rate(n*step, step*math.Sqrt(variance+floor)), nil
}

// WholeMinute gives what a person counted in a full minute: the figure that is told, and that the rules go by. The half event that
// [Cadence.FromCount] adds is right on average and would have 48 counted beats told as 49.
func (f *Finding) WholeMinute() (n float64, ok bool) {
	if f.Count == nil || f.Count.Seconds != 60 || f.Absent != "" {
		return 0, false
	}
	return float64(f.Count.Events), true
}

// rate is a measure in /min.
func rate(value, sd float64) Measure { return steady(Measure{value, sd, PerMinute}) }

// steady cuts a measure to 1e-9. The square roots and logarithms of two processors may
// differ in the last bit; their answers must not.
func steady(m Measure) Measure {
	const grain = 1e9
	return Measure{math.Round(m.Value*grain) / grain, math.Round(m.SD*grain) / grain, m.Unit}
}

// Advice names a piece of advice; its words are under "advice.ID".
type Advice struct {
	ID string `json:"id"`
	// Args are the facts of the sentence: name, value, name, value.
	Args []string `json:"args,omitempty"`
	Provenance
}

// What a count at rest is advised to do next.
const (
	AdviceCountEnough = "count-enough"      // the window was long enough for this rate
	AdviceCountLonger = "count-longer"      // count on to (seconds)
	AdviceCountFull   = "count-full-minute" // count a full minute
)

// CountOn is the rule of the ride's vet gate for a heart count: a count that has reached
// fifteen seconds stands if it is 16 or less, one of thirty seconds if it is 32 or less;
// anything faster, or a beat that is irregular or hard to hear, is counted for the full
// minute. It answers for a count of so many events in window; unclear says that the
// rhythm was irregular or the beat hard to hear.
func CountOn(events int, window time.Duration, unclear bool) Advice {
	from := Provenance{"fei-2019", Read, "article 821.2.3"}
	seconds := window.Seconds()
	switch {
	case seconds >= 60:
		return Advice{AdviceCountEnough, nil, from}
	case unclear:
		return Advice{AdviceCountFull, nil, from}
	case seconds < 15:
		return Advice{AdviceCountLonger, []string{"seconds", "15"}, from}
	case events <= 16, seconds >= 30 && events <= 32:
		return Advice{AdviceCountEnough, nil, from}
	case events <= 32:
		return Advice{AdviceCountLonger, []string{"seconds", "30"}, from}
	}
	return Advice{AdviceCountFull, nil, from}
}
