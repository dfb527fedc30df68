package baseline

import (
	"math"

	"whorl.example/baseline/internal/normal"
	"whorl.example/vitals"
)

const (
	// askAbove is the chance of a change from which a better measurement is asked for. Of
	// heart rates counted over 15 s in simulated horses with 5 and 20 exams (standard error
	// .01 to .05): on a quiet day .24 and .36 ask, nine in ten of them in vain, and .29 and .32 of the few useful
	// counts are missed; at +3 SD .44 and .40 ask, half in vain, .15 and .16 missed, and statements that are wrong
	// fall from .22 and .25 to .07 each. So it is worded as "may change the answer".
	askAbove = .15
	// fewTries is how many tries of a timed sign are asked for.
	fewTries = 3
)

// settle asks for a better measurement where it may change the statement. With a flat
// view of today's true value the better reading y2 is Normal(y1, s1^2+s2^2), so that the
// chance of a change is Phi(-d/sqrt(s1^2+s2^2)), d the distance from y1 to the nearer limit
// for readings of the better kind. Shrinking y1 towards what is usual for the horse would
// ask less often on quiet days, and miss a change exactly on the bad ones.
func settle(sign *vitals.Sign, f *vitals.Finding, m vitals.Measure, chanceBy func(sd float64) float64) *Settle {
	advice, better := betterBy(sign, f, m)
	if advice == "" || !(better < m.SD) {
		return nil
	}
	chance := chanceBy(better)
	if chance <= askAbove {
		return nil
	}
	return &Settle{Advice: advice, Chance: chance}
}

// changeChance is the chance that a reading of standard uncertainty s2 lies beyond a limit at a distance from one of s1, both on the
// transformed scale.
func changeChance(distance, s1, s2 float64) float64 {
	return normal.Upper(distance / math.Sqrt(s1*s1+s2*s2))
}

// betterBy says how a finding could be measured better, and with what standard
// uncertainty, in the sign's unit; advice is "" where it could not.
func betterBy(sign *vitals.Sign, f *vitals.Finding, m vitals.Measure) (advice string, sd float64) {
	again := *f
	switch {
	case f.Count != nil && f.Count.Seconds < 60:
		count := *f.Count
		count.Seconds, count.Events = 60, int(math.Round(m.Value))
		again.Count, advice = &count, SettleCount
	case f.Timed != nil && len(f.Timed.CentiSeconds) > 0 && (f.Timed.Aloud || len(f.Timed.CentiSeconds) < fewTries):
		timed := vitals.Timed{CentiSeconds: make([]int, fewTries)}
		for i := range timed.CentiSeconds {
			timed.CentiSeconds[i] = int(math.Round(m.Value * 100))
		}
		again.Timed, advice = &timed, SettleTries
	case f.Reading != nil && sign.Kind == vitals.KindTemperature && f.Reading.Device != vitals.Digital:
		reading := *f.Reading
		reading.Device = vitals.Digital
		again.Reading, advice = &reading, SettleThermometer
	default:
		return "", 0
	}
	best, err := again.Measure(*sign)
	if err != nil {
		return "", 0
	}
	return advice, best.SD
}
