package api

import (
	"errors"
	"strconv"
	"time"

	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// measureRequest asks what a finding comes to. Girth and length need the horse, and when
// it was: the formula of a grown horse would give a donkey or a foal a wrong weight.
type measureRequest struct {
	spoken
	Sign    vitals.SignID  `json:"sign"`
	Finding vitals.Finding `json:"finding"`
	Horse   *vitals.Horse  `json:"horse,omitempty"`
	At      time.Time      `json:"at,omitzero"`
}

// measured is a measure, and how it is said.
type measured struct {
	Measure vitals.Measure `json:"measure"`
	Shown   string         `json:"shown"`
	How     string         `json:"how"`
	// Advice is what a count of the heart is advised to do next, where it is not long enough.
	Advice string `json:"advice,omitempty"`
}

func measure(q measureRequest) (any, error) {
	sign, ok := vitals.Lookup(q.Sign)
	if !ok {
		return nil, unknownSign(q.Sign)
	}
	if t := q.Finding.Taps; t != nil {
		if err := drawnOut(t.AtMS); err != nil {
			return nil, within("/finding/taps", err)
		}
	}
	m, err := q.measure(sign)
	if err != nil {
		return nil, within("/finding", err)
	}
	shown, how := report.Taken(q.Finding, m, q.in())
	return measured{m, shown, how, countOn(q)}, nil
}

// countOn is the published rule for when a longer count of the heart is due, as a sentence; "" where none is.
func countOn(q measureRequest) string {
	c := q.Finding.Count
	if c == nil || q.Sign != vitals.HeartRate {
		return ""
	}
	a := vitals.CountOn(c.Events, time.Duration(c.Seconds)*time.Second, false)
	if a.ID == vitals.AdviceCountEnough {
		return ""
	}
	return words.Say(q.in(), "advice."+a.ID, a.Args...)
}

// Check asks for the animal where the measure depends on it.
func (q *measureRequest) Check() vitals.Faults {
	if q.Finding.Girth == nil {
		return nil
	}
	var faults vitals.Faults
	if q.Horse == nil {
		faults = append(faults, fault(schema.MissingMember, "/horse", "name", "horse"))
	}
	if q.At.IsZero() {
		faults = append(faults, fault(schema.MissingMember, "/at", "name", "at"))
	}
	return faults
}

func (q *measureRequest) measure(sign vitals.Sign) (vitals.Measure, error) {
	if q.Horse == nil || q.At.IsZero() {
		return q.Finding.Measure(sign)
	}
	stage, _ := q.Horse.StageAt(q.At)
	return q.Finding.MeasureFor(sign, q.Horse.Type, stage)
}

// tapsRequest holds taps as they come: milliseconds from the first, rising.
type tapsRequest struct {
	spoken
	Sign vitals.SignID `json:"sign"`
	AtMS []int         `json:"atMs"`
}

// tapped is the rate of the taps, what was repaired in them, and how it is said.
type tapped struct {
	vitals.Tapped
	Shown string `json:"shown"`
	How   string `json:"how"`
}

func taps(q tapsRequest) (any, error) {
	sign, ok := vitals.Lookup(q.Sign)
	if !ok || sign.Kind != vitals.KindRate {
		return nil, unknownSign(q.Sign)
	}
	if err := drawnOut(q.AtMS); err != nil {
		return nil, err
	}
	moments := make([]time.Duration, len(q.AtMS))
	for i, ms := range q.AtMS {
		moments[i] = time.Duration(ms) * time.Millisecond
	}
	got, err := vitals.CadenceOf(q.Sign).FromTaps(moments)
	if err != nil {
		return nil, err
	}
	shown, how := report.Taken(vitals.Finding{Sign: q.Sign, Taps: &vitals.Taps{AtMS: q.AtMS}}, got.Measure, q.in())
	if got.Rhythm == vitals.RhythmUnknown {
		key, args := got.Say()
		how += ", " + words.Say(q.in(), key, args...)
	}
	return tapped{got, shown, how}, nil
}

// drawnOut refuses a moment beyond the longest series before it is turned into nanoseconds,
// which would not hold it.
func drawnOut(atMS []int) error {
	const longest = vitals.MaxTapMinutes * 60_000
	for _, ms := range atMS {
		if ms < 0 || ms > longest {
			return vitals.Faults{fault(vitals.FaultManyTaps, "/atMs",
				"most", strconv.Itoa(vitals.MaxTaps), "minutes", strconv.Itoa(vitals.MaxTapMinutes))}
		}
	}
	return nil
}

// within puts the member that holds something before the places of its faults.
func within(member string, err error) error {
	if faults, ok := errors.AsType[vitals.Faults](err); ok {
		return faults.At(member)
	}
	return err
}

func unknownSign(id vitals.SignID) error {
	return vitals.Faults{fault(vitals.FaultUnknownSign, "/sign", "sign", string(id))}
}
