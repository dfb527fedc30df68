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
	FaultTapsFew    FaultCode = "taps-few"    // fewer than least
	FaultTapsUneven FaultCode = "taps-uneven" // an interval that is neither one nor several of the others
	FaultTapsGaps   FaultCode = "taps-gaps"   // so many gaps that missed taps and pauses cannot be told apart
)

// Tapped is what a series of taps gives.
type Tapped struct {
	// Measure is the rate in /min, if Refused is empty. Its SD is of how far it may be from the animal's own rate at that time, as many such
	// windows would give it: the rate within this one window is known far better, and the minute around it wanders further.
	Measure Measure `json:"measure"`
	// Refused is why there is no rate: tap again, or longer.
	Refused FaultCode `json:"refused,omitempty"`
	// Felt says that the rate is of the beats that were felt, pauses and all. Otherwise an
	// event was put in where one seems to be missing.
	Felt bool `json:"felt,omitempty"`
	// Taps is how many there were. Doubled of them were dropped as the second of a double;
	// Gaps is how many intervals are as long as several, Missing how many events they lack.
	Taps    int `json:"taps"`
	Doubled int `json:"doubled,omitempty"`
	Gaps    int `json:"gaps,omitempty"`
	Missing int `json:"missing,omitempty"`
	// Seconds is the time from the first tap to the last.
	Seconds float64 `json:"seconds"`
	// Rhythm is how regular the beats were; empty for breaths.
	Rhythm Rhythm `json:"rhythm,omitempty"`
}

// FromTaps gives the rate and rhythm of heart beats from taps: [Cadence.FromTaps] of [Heart].
func FromTaps(at []time.Duration) (Tapped, error) { return Heart().FromTaps(at) }

// FromTaps gives the rate, and for a heart the rhythm, from the moments of the taps, rising.
// It is what a [TapSeries] of the same taps gives. A refused series is an error besides,
// [Faults] with the reason ([FaultTapsFew], [FaultTapsUneven], [FaultTapsGaps]); so are
// [FaultManyTaps] and [FaultTapOrder]. Paths are inside [Taps] ("/atMs/3").
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
	s := NewTapSeries(c)
	for i, moment := range at {
		s.at[i] = moment
		if i > 0 {
			s.sorted[i-1] = (moment - at[i-1]).Seconds()
		}
	}
	s.n = len(at)
	slices.Sort(s.intervals())
	t := s.result()
	if t.Refused != "" {
		return t, Faults{newFault(t.Refused, "/atMs", "least", strconv.Itoa(MinTaps))}
	}
	return t, nil
}

// durations gives the taps as moments; what lies beyond a Duration is beyond
// [MaxTapMinutes] too, and stays so.
func (t Taps) durations() []time.Duration {
	const beyond = 1_000_000_000
	out := make([]time.Duration, len(t.AtMS))
	for i, ms := range t.AtMS {
		out[i] = time.Duration(min(max(ms, -beyond), beyond)) * time.Millisecond
	}
	return out
}

// Series gives what the taps of a sign come to, of a refused series the rhythm and the
// counts; it is zero for taps that no clock has shown.
func (t Taps) Series(sign SignID) Tapped {
	tapped, _ := CadenceOf(sign).FromTaps(t.durations())
	return tapped
}

// TapSeries takes taps one by one, with a result after each. It holds [MaxTaps] taps over
// [MaxTapMinutes] minutes and allocates nothing after [NewTapSeries]. A tap costs a
// constant time, but for a search and a move in the sorted intervals, and for the few taps
// that shift the base period so far that the series is summed anew.
type TapSeries struct {
	cadence Cadence
	n       int
	at      [MaxTaps]time.Duration
	sorted  [MaxTaps]float64 // the n-1 intervals in s
	sums    tapSums
}

// NewTapSeries starts a series of taps on the events of a cadence.
func NewTapSeries(c Cadence) *TapSeries { return &TapSeries{cadence: c} }

// Tap takes a tap at a moment of the caller's clock. ok is false, and the tap is not taken,
// if it does not come after the one before, or if the series is full.
func (s *TapSeries) Tap(at time.Duration) (t Tapped, ok bool) {
	if s.n == MaxTaps || s.n > 0 && (at <= s.at[s.n-1] || at-s.at[0] > MaxTapMinutes*time.Minute) {
		return s.result(), false
	}
	s.at[s.n] = at
	s.n++
	if s.n > 1 {
		d := (at - s.at[s.n-2]).Seconds()
		i, _ := slices.BinarySearch(s.sorted[:s.n-2], d)
		copy(s.sorted[i+1:s.n-1], s.sorted[i:s.n-2])
		s.sorted[i] = d
	}
	return s.result(), true
}

// Undo takes the last tap back; ok is false if there is none.
func (s *TapSeries) Undo() (t Tapped, ok bool) {
	if s.n == 0 {
		return s.result(), false
	}
	if s.n > 1 {
		d := (s.at[s.n-1] - s.at[s.n-2]).Seconds()
		i, _ := slices.BinarySearch(s.intervals(), d)
		copy(s.sorted[i:s.n-2], s.sorted[i+1:s.n-1])
	}
	s.n--
	s.sums = tapSums{}
	return s.result(), true
}

// Result is what the taps so far give.
func (s *TapSeries) Result() Tapped { return s.result() }

// Taps gives the taps so far as a finding keeps them, in whole milliseconds from the first.
func (s *TapSeries) Taps() Taps {
	t := Taps{AtMS: make([]int, s.n)}
	for i, at := range s.at[:s.n] {
		t.AtMS[i] = int((at - s.at[0] + time.Millisecond/2) / time.Millisecond)
	}
	return t
}

func (s *TapSeries) intervals() []float64 { return s.sorted[:max(0, s.n-1)] }

// base gives the period of one event: the median of the intervals that are near their
// lower third. Below that third are the halves of double taps; half of the intervals may
// be long, where every third beat is dropped.
func (s *TapSeries) base() float64 {
	all := s.intervals()
	if first, _ := slices.BinarySearch(all, shortest); first < len(all) {
		all = all[first:]
	}
	third := all[len(all)/3]
	low, _ := slices.BinarySearch(all, third/2)
	high, _ := slices.BinarySearch(all, third*1.5)
	return (all[(low+high-1)/2] + all[(low+high)/2]) / 2
}

func (s *TapSeries) result() Tapped {
	t := Tapped{Taps: s.n}
	if s.n > 1 {
		t.Seconds = (s.at[s.n-1] - s.at[0]).Seconds()
	}
	heart := s.cadence.Rhythmic
	if heart {
		t.Rhythm = RhythmUnknown
	}
	if s.n < MinTaps {
		t.Refused = FaultTapsFew
		return t
	}
	base := s.base()
	// At the very limit the quotient of an interval and the base rounds to either side.
	const sure = 1e-12
	if sums := &s.sums; !(base > sums.low*(1+sure) && base < sums.high*(1-sure)) {
		sums.start(s.cadence, base, s.at[0])
	}
	for s.sums.taps < s.n {
		s.sums.add(s.at[s.sums.taps], base)
	}
	sums := &s.sums
	t.Doubled, t.Gaps, t.Missing = sums.doubled, sums.gaps, sums.missing
	if heart {
		t.Rhythm = sums.rhythm()
	}
	// Breathing may be uneven in health; a heart that seems so after few beats is tapped again.
	felt := t.Rhythm == RhythmIrregular || heart && sums.pausing() || !heart && sums.uneven > 0
	switch {
	case sums.n < MinTaps-1:
		t.Refused = FaultTapsFew
	case felt:
		t.Felt = true
		t.Measure = sums.felt()
	case 3*sums.gaps > sums.n:
		t.Refused = FaultTapsGaps
	case sums.uneven*unevenIn > sums.n:
		t.Refused = FaultTapsUneven
	default:
		t.Measure = sums.filled()
	}
	return t
}

const (
	// unevenness is how far, in periods, an interval may be from a whole number of them:
	// further, and it is doubtful how many events it spans.
	unevenness = 0.35
	// unevenIn is in how many intervals one may be uneven (both chosen by simulation).
	unevenIn = 20
)

// tapSums are the sums over the taps so far, for any base period between low and high.
type tapSums struct {
	low, high float64
	taps      int           // summed so far
	last      time.Duration // the last that was not dropped

	doubled, gaps, missing, uneven int

	spread

	// For the rhythm: neighbouring intervals, and how many of them are further apart than
	// two of three would be at the limit of regular.
	pairs, apart    int
	prior, priorK   float64
	limit2, jitter2 float64
	// Of the intervals, about the reference period.
	reference, sum, squares float64
}

// shortest is the shortest interval, in s, that can be of two beats (300 a minute, assumed);
// a finger or a screen that bounces makes shorter ones.
const shortest = 0.2

// start begins the sums for a base period, at the first tap.
func (s *tapSums) start(c Cadence, base float64, first time.Duration) {
	// The weights need the beat's deviation only roughly: the reference period is a step of
	// an eighth of an octave, so that it seldom changes while taps come in.
	const steps = 8
	step := math.Round(math.Log2(base) * steps)
	reference := math.Exp2(step / steps)
	*s = tapSums{
		low: math.Exp2((step - 0.5) / steps), high: math.Exp2((step + 0.5) / steps),
		taps: 1, last: first,
		spread:    newSpread(c.Variation*reference, c.Jitter, reference),
		limit2:    square(irregularFrom * reference),
		jitter2:   square(c.Jitter),
		reference: reference,
	}
}

// add sums one more tap.
func (s *tapSums) add(at time.Duration, base float64) {
	s.taps++
	d := (at - s.last).Seconds()
	x := d / base
	if d < shortest {
		s.doubled++
		return
	}
	if x < 0.5 {
		s.doubled++
		s.low = max(s.low, 2*d)
		return
	}
	k := math.Round(x)
	from, to := k-unevenness, k+unevenness
	switch {
	case x < from:
		from, to = k-0.5, from
		s.uneven++
	case x > to:
		from, to = to, k+0.5
		s.uneven++
	}
	s.low, s.high = max(s.low, d/to), min(s.high, d/from)
	if k > 1 {
		s.gaps++
		s.missing += int(k) - 1
	}
	s.spread.add(d, k)
	s.compare(d, k)
	r := d - s.reference
	s.sum += r
	s.squares += float64(r * r)
	s.last = at
}

// filled is the rate with an event put in wherever one seems to be missing: the estimate at
// the cadence's own proportion of beat to tap, with the uncertainty of [spread].
func (s *tapSums) filled() Measure {
	period := s.own().period()
	return rate(60/period, 60/(period*period)*s.deviation())
}

// felt is the rate of the taps themselves, with the scatter of their intervals, widened
// for few of them as Student's t is: by exp((1+z²)/4ν), to second order.
func (s *tapSums) felt() Measure {
	n := float64(s.n)
	mean := s.reference + s.sum/n
	variance := max(0, s.squares-s.sum*s.sum/n) / (n - 1)
	return rate(60/mean, 60/(mean*mean)*math.Sqrt(variance/n)*math.Exp((1+z95*z95)/4/(n-1)))
}
