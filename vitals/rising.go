package vitals

import (
	"slices"
	"time"
)

// AlarmRising: over the looks of one case a heart, a breath or a temperature went up at every look, each inside its limits. Its
// words are under "alarm." and the name.
const AlarmRising AlarmID = "rising"

const (
	risingLooks  = 3  // looks, this one among them
	risingHeart  = 20 // per cent up since the first
	risingBreath = 40
	risingWarmth = .6 // °C up since the first
)

var risingSays = Provenance{Mark: CommonPractice, Note: "that what creeps up is told; how much of it is ours"}

// RisingAlarms gives [AlarmRising] for a recheck and the earlier looks of its case up to twelve hours before, at rest all of them.
func RisingAlarms(e Exam, earlier []Exam) []Fired {
	if e.RecheckOf == "" || !calmly(&e) {
		return nil
	}
	run := []*Exam{&e}
	for i := range earlier {
		if o := &earlier[i]; o.Status != Withdrawn && o.sameCase(e) && calmly(o) && e.At.Sub(o.At) <= heldHours*time.Hour {
			run = append(run, o)
		}
	}
	slices.SortStableFunc(run, func(a, b *Exam) int { return a.At.Compare(b.At) })
	var out []Fired
	for _, r := range []struct {
		sign    SignID
		problem Problem
	}{{HeartRate, ProblemHeart}, {RespiratoryRate, ProblemBreath}, {RectalTemperature, ProblemFever}} {
		if rises(run, r.sign) {
			out = append(out, Fired{Alarm: AlarmRising, Urgency: RingSoon, Sign: r.sign, Problem: r.problem, Provenance: risingSays})
		}
	}
	return out
}

func calmly(e *Exam) bool { return !e.State.In(AfterWork) && !e.State.In(Excited) }

// rises reports whether a sign went up at each of the looks that took it, this one among them, and far enough in all.
func rises(run []*Exam, sign SignID) bool {
	var values []float64
	for _, e := range run {
		if v := e.Found(sign).Value; v > 0 {
			values = append(values, v)
		} else if e == run[len(run)-1] {
			return false
		}
	}
	n := len(values)
	if n < risingLooks {
		return false
	}
	for i := 1; i < n; i++ {
		if values[i] <= values[i-1] {
			return false
		}
	}
	const within = 1e-9
	first, last := values[0], values[n-1]
	switch sign {
	case HeartRate:
		return 100*last >= (100+risingHeart)*first-within
	case RespiratoryRate:
		return 100*last >= (100+risingBreath)*first-within
	}
	return last-first >= risingWarmth-within
}
