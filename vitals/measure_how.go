package vitals

import "strconv"

// How is in what way a finding was taken, in no language: Key is its sentence in
// whorl.example/vitals/words, with Args.
type How struct {
	Key    string   `json:"key"`
	Args   []string `json:"args,omitempty"`
	Method Method   `json:"method"`
	// Seconds is the window of a count, or the time from the first tap to the last.
	Seconds float64 `json:"seconds,omitempty"`
	// Events is how many were counted or tapped.
	Events int    `json:"events,omitempty"`
	Tries  int    `json:"tries,omitempty"`
	Device Device `json:"device,omitempty"`
	// Unit is the unit as read.
	Unit Unit `json:"unit,omitempty"`
}

// How tells in what way the finding was taken; ok is false for a finding that is not a
// number, or has none.
func (f Finding) How(sign Sign) (h How, ok bool) {
	if f.Absent != "" || !sign.Kind.Measured() {
		return How{}, false
	}
	events := "beats"
	if !CadenceOf(sign.ID).Rhythmic {
		events = "breaths"
	}
	switch {
	case f.Count != nil:
		h = How{Method: ByCount, Events: f.Count.Events, Seconds: float64(f.Count.Seconds)}
		h.Key = "measure.count." + events + "." + string(f.Count.Start)
		h.Args = []string{"n", strconv.Itoa(h.Events), "seconds", strconv.Itoa(f.Count.Seconds)}
	case f.Taps != nil:
		h = How{Method: ByTaps, Events: len(f.Taps.AtMS)}
		if h.Events > 0 {
			h.Seconds = float64(f.Taps.AtMS[h.Events-1]-f.Taps.AtMS[0]) / 1000
		}
		h.Key = "measure.taps." + events
		h.Args = []string{"n", strconv.Itoa(h.Events), "seconds", strconv.FormatFloat(h.Seconds, 'f', 0, 64)}
	case f.Reading != nil:
		h = How{Method: ByReading, Device: f.Reading.Device, Unit: f.Reading.Unit}
		if h.Device == "" {
			h.Device = Told
		}
		h.Key = "measure.reading." + string(h.Device)
	case f.Timed != nil:
		h = How{Method: ByTimer, Tries: len(f.Timed.CentiSeconds), Unit: Second, Key: "measure.timer"}
		if f.Timed.Aloud {
			h.Key += ".aloud"
		}
		h.Args = []string{"n", strconv.Itoa(h.Tries)}
	case f.Girth != nil:
		h = How{Method: ByGirth, Unit: f.Girth.Unit, Key: "measure.girth"}
	default:
		return How{}, false
	}
	return h, true
}

// Say gives the sentence on the rhythm of a series: its key in
// whorl.example/vitals/words and the arguments. The key is empty for breaths.
func (t Tapped) Say() (key string, args []string) {
	if t.Rhythm == "" {
		return "", nil
	}
	args = []string{"n", strconv.Itoa(t.Gaps), "beats", strconv.Itoa(t.Taps - t.Doubled)}
	if t.Rhythm == RhythmRegular && t.Gaps > 0 {
		return "measure.rhythm.one-gap", args
	}
	return "measure.rhythm." + string(t.Rhythm), args
}
