package report

import (
	"strconv"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// shown are a value and the limits of what is usual as they are written. A value outside the limits is also written outside
// them: rounded to the places of the unit, 40 beside "32 to 40" would say the opposite.
type shown struct{ value, low, high string }

// maxExtra is how many places more than those of its unit a figure is written with at most.
const maxExtra = 3

// write gives a measured sign's value and limits with the fewest places that do not contradict the statement: first
// the limits get more, then the value too.
func write(v float64, own *baseline.Interval, unit vitals.Unit) shown {
	out := shown{value: written(v, unit)}
	if own == nil || !finite(own.Low, own.High) {
		return out
	}
	out.low, out.high = written(own.Low, unit), written(own.High, unit)
	agree := func(s shown) bool {
		x, low, high := number(s.value), number(s.low), number(s.high)
		switch {
		case v > own.High:
			return x > high
		case v < own.Low:
			return x < low
		}
		return true
	}
	if agree(out) {
		return out
	}
	for _, value := range []bool{false, true} {
		for p := places(unit) + 1; p <= places(unit)+maxExtra; p++ {
			s := shown{out.value, vitals.Decimals(own.Low, p), vitals.Decimals(own.High, p)}
			if value {
				s.value = vitals.Decimals(v, p)
			}
			if agree(s) {
				return s
			}
		}
	}
	return out // they differ by less than a thousandth of what the unit shows: nobody can tell them apart
}

// number reads back what was written.
func number(s string) float64 {
	v, _ := strconv.ParseFloat(s, 64)
	return v
}

// measured is the value with its unit.
func (t telling) measured(c baseline.Compared) string {
	return t.withUnit(write(c.Measure.Value, c.Own, c.Measure.Unit).value, c.Measure.Unit)
}

// ownRange are the limits of what is usual, without their unit, which a value beside them may have said.
func (t telling) ownRange(c baseline.Compared) string {
	s := write(c.Measure.Value, c.Own, c.Measure.Unit)
	return t.rangeOf(s)
}

func (t telling) rangeOf(s shown) string {
	if s.low == s.high {
		return s.low
	}
	return s.low + t.say("list.to") + s.high
}
