package pack

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// Keys of the warnings of a pack, with the names of their facts.
const (
	WarnRange = "pack.range" // sign, by, low, high, unit: the clinic's own range stands beside the published ones
	WarnAlarm = "pack.alarm" // sign, by, alarm, above or below with unit, or grades: the clinic's own threshold fired
)

// Apply gives a comparison with what the clinic adds: its ranges beside the published ones
// of each measured sign, and the thresholds of its own that fire. Every published range
// and every alarm that fired stays where it was. The warnings say what was added and who set it; they are in the
// comparison too.
func Apply(p Pack, horse vitals.Horse, c baseline.Comparison) (baseline.Comparison, []baseline.Warning) {
	var added []baseline.Warning
	warn := func(key string, sign vitals.SignID, by string, facts ...string) {
		w := baseline.Warning{Key: key, Args: append([]string{"sign", string(sign), "by", by}, facts...)}
		if !slices.ContainsFunc(added, func(o baseline.Warning) bool { return o.Key == key && slices.Equal(o.Args, w.Args) }) {
			added = append(added, w)
		}
	}
	c.Signs = slices.Clone(c.Signs)
	c.Alarms = slices.Clone(c.Alarms)
	for i := range c.Signs {
		s := &c.Signs[i]
		sign, _ := vitals.Lookup(s.Sign)
		for _, r := range p.Ranges {
			if r.Sign != s.Sign || s.Measure == nil || !r.Holds(horse.Type, c.Stage) {
				continue
			}
			s.Printed = append(slices.Clone(s.Printed), baseline.Printed{
				Low: inUnit(r.Low, r.Unit, sign.Unit), High: inUnit(r.High, r.Unit, sign.Unit),
				Provenance: vitals.Provenance{Mark: SetByClinic, Note: r.SetBy},
			})
			warn(WarnRange, r.Sign, r.SetBy, "low", text(r.Low), "high", text(r.High), "unit", string(r.Unit))
		}
	}
	for _, t := range p.Thresholds {
		if !t.Holds(horse.Type, c.Stage) {
			continue
		}
		fired := vitals.Fired{Alarm: t.ID, Urgency: t.Urgency, Sign: t.Sign,
			Provenance: vitals.Provenance{Mark: SetByClinic, Note: t.SetBy}}
		fires := false
		for _, s := range c.Signs {
			if s.Sign == t.Sign && t.fires(s) {
				fires = true
				if s.Site != "" && !slices.Contains(fired.Sites, s.Site) {
					fired.Sites = append(fired.Sites, s.Site)
				}
			}
		}
		if fires {
			c.Alarms = append(c.Alarms, fired)
			warn(WarnAlarm, t.Sign, t.SetBy, t.facts()...)
		}
	}
	c.Warnings = append(slices.Clone(c.Warnings), added...)
	return c, added
}

// facts are the threshold as facts of a warning.
func (t Threshold) facts() []string {
	facts := []string{"alarm", string(t.ID)}
	switch {
	case t.Above != nil:
		return append(facts, "above", text(t.Above), "unit", string(t.Unit))
	case t.Below != nil:
		return append(facts, "below", text(t.Below), "unit", string(t.Unit))
	}
	var grades []string
	for _, g := range t.Grades {
		grades = append(grades, string(g))
	}
	return append(facts, "grades", strings.Join(grades, " "))
}

func text(x *decimal.Decimal) string {
	if x == nil {
		return ""
	}
	return x.String()
}

// fires reports whether one finding is beyond the threshold.
func (t Threshold) fires(s baseline.Compared) bool {
	if s.Measure == nil {
		return slices.ContainsFunc(s.Chosen, func(g vitals.GradeID) bool { return slices.Contains(t.Grades, g) })
	}
	if above := inUnit(t.Above, t.Unit, s.Measure.Unit); above != nil && s.Measure.Value > *above+1e-9 {
		return true
	}
	below := inUnit(t.Below, t.Unit, s.Measure.Unit)
	return below != nil && s.Measure.Value < *below-1e-9
}

// inUnit gives a limit in another unit of the same quantity, nil for none. The check of
// the pack has seen that it can be converted.
func inUnit(x *decimal.Decimal, from, to vitals.Unit) *float64 {
	if x == nil {
		return nil
	}
	y, err := vitals.Convert(*x, from, to, 6)
	if err != nil {
		return nil
	}
	v := y.InexactFloat64()
	return &v
}
