package baseline

import (
	"fmt"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/vitals"
)

// A horse whose own is 37.4 °C is checked again at 38.4, which no published figure calls a fever, and told of if it stays;
// not by fewer than five exams of its own, not after work, and not where a published rule has spoken.
func TestOwnFever(t *testing.T) {
	t.Parallel()
	known := func(n int, reading string) *Baseline {
		exams := quietHeart(n, 34)
		for i := range exams {
			exams[i].Findings = []vitals.Finding{warm(reading)}
		}
		return juniper(exams)
	}
	now := func(reading string) vitals.Exam {
		e := recheck(0, warm(reading))
		e.At, e.Purpose = planDay, vitals.Concern
		return e
	}
	own := vitals.Fired{Alarm: AlarmOwnFever, Urgency: vitals.CheckAgain, Minutes: 30, Then: vitals.RingSoon, Sign: vitals.RectalTemperature,
		Problem: vitals.ProblemFever, Provenance: vitals.Provenance{Mark: vitals.Assumed, Note: "no source; the horse's own usual plus 1 °C"}}
	again := own
	again.Urgency, again.Minutes, again.Then = vitals.RingSoon, 0, ""
	for _, x := range []struct {
		name string
		b    *Baseline
		exam vitals.Exam
		want any
	}{
		{"one degree over", known(8, "37.4"), now("38.4"), []vitals.Fired{own}},
		{"five exams", known(5, "37.4"), now("38.5"), []vitals.Fired{own}},
		{"four exams", known(4, "37.4"), now("38.5"), td.Empty()},
		{"nine tenths over", known(8, "37.4"), now("38.3"), td.Empty()},
		{"a warm horse", known(8, "37.9"), now("38.5"), td.Empty()},
		{"measured again", known(8, "37.4"), recheckOf(now("38.4")), []vitals.Fired{again}},
		{"after work", known(8, "37.4"), worked(now("38.4")), td.Empty()},
		{"a published fever", known(8, "37.4"), now("38.9"), td.Not(td.Contains(own))},
	} {
		c, err := x.b.Compare(x.exam)
		td.Require(t).CmpNoError(err)
		td.Cmp(t, c.Alarms, x.want, "%s: usual %v", x.name, c.Signs[0].Own)
	}
}

// What the evening adds is taken off, once the horse's own hours are known: warm in the morning is not warm at night.
func TestOwnFeverByTheHour(t *testing.T) {
	t.Parallel()
	var exams []vitals.Exam
	for i := range 40 {
		e := quietHeart(1, 34)[0]
		e.ID, e.At = vitals.ID(fmt.Sprint("q", i)), planDay.AddDate(0, 0, -80+2*i).Truncate(24*time.Hour).Add(6*time.Hour)
		reading := "37.0"
		if i%2 == 0 {
			e.At, reading = e.At.Add(12*time.Hour), "37.8"
		}
		e.Findings = []vitals.Finding{warm(reading)}
		exams = append(exams, e)
	}
	b := juniper(exams)
	fires := func(hour int) bool {
		e := recheck(0, warm("38.3"))
		e.Purpose, e.At = vitals.Concern, planDay.Truncate(24*time.Hour).Add(time.Duration(24+hour)*time.Hour)
		c, err := b.Compare(e)
		td.Require(t).CmpNoError(err)
		t.Logf("at %d: usual %.2f", hour, c.Signs[0].Own.Mid)
		return len(c.Alarms) > 0
	}
	td.Cmp(t, []bool{fires(6), fires(18)}, []bool{true, false})
}

// A heart of 42 where 28 is usual is counted again, and told of if it stays, though no published figure calls it fast.
func TestOwnHeart(t *testing.T) {
	t.Parallel()
	now := func(rate int) vitals.Exam {
		e := recheck(0, quietHeart(1, rate)[0].Findings[0])
		e.At, e.Purpose = planDay, vitals.Concern
		return e
	}
	own := vitals.Fired{Alarm: AlarmOwnHeart, Urgency: vitals.CheckAgain, Minutes: 10, Then: vitals.RingSoon, Sign: vitals.HeartRate,
		Problem: vitals.ProblemHeart, Provenance: ownHeartSays}
	again := own
	again.Urgency, again.Minutes, again.Then = vitals.RingSoon, 0, ""
	known := func(n, rate int) *Baseline { return juniper(quietHeart(n, rate)) }
	for _, x := range []struct {
		name string
		b    *Baseline
		exam vitals.Exam
		want any
	}{
		{"half as fast again", known(8, 28), now(42), []vitals.Fired{own}},
		{"a beat less", known(8, 28), now(41), td.Empty()},
		{"five exams", known(5, 28), now(44), td.Len(1)},
		{"four exams", known(4, 28), now(44), td.Empty()},
		{"counted again", known(8, 28), recheckOf(now(42)), []vitals.Fired{again}},
		{"after work", known(8, 28), worked(now(42)), td.Empty()},
		{"a published rule", known(8, 36), now(64), td.Not(td.Contains(own))},
	} {
		c, err := x.b.Compare(x.exam)
		td.Require(t).CmpNoError(err)
		td.Cmp(t, c.Alarms, x.want, "%s: usual %v", x.name, c.Signs[0].Own)
	}
}

func recheckOf(e vitals.Exam) vitals.Exam { e.RecheckOf = "first"; return e }

func worked(e vitals.Exam) vitals.Exam {
	e.State = vitals.State{Condition: vitals.AfterWork, SinceMinutes: 90}
	return e
}

// A pony that loses weight step by step, each step within what its own limits allow, is told of once a tenth is gone; not on two
// earlier weights, not by days, not where a person said that this is a new usual, not while it grows.
func TestOwnWeight(t *testing.T) {
	pony := vitals.Horse{ID: "plum", Name: "Plum", Type: vitals.TypePony}
	last := func(h vitals.Horse, days int, weights ...string) Comparison {
		b, err := New(h)
		td.Require(t).CmpNoError(err)
		for i, kg := range weights {
			e := quietHeart(1, 34)[0]
			e.ID, e.Horse, e.At = vitals.ID(fmt.Sprint("w", i)), h.ID, planDay.AddDate(0, 0, days*i)
			e.Findings = []vitals.Finding{{Sign: vitals.Weight, Reading: &vitals.Reading{Value: decimal.RequireFromString(kg), Unit: vitals.Kilogram, Device: vitals.WeighTape}}}
			c, err := b.Compare(e)
			td.Require(t).CmpNoError(err)
			if i == len(weights)-1 {
				return c
			}
			_, err = b.Learn(e)
			td.Require(t).CmpNoError(err)
		}
		return Comparison{}
	}
	told := []vitals.Fired{{Alarm: AlarmOwnWeight, Urgency: vitals.RingSoon, Sign: vitals.Weight, Problem: vitals.ProblemOther, Provenance: ownWeightSays}}
	foal, renewed, mare := pony, pony, pony
	mare.Sex, mare.FoaledAt = vitals.Mare, planDay.AddDate(0, 0, 85)
	born, _ := vitals.ParseDate(planDay.AddDate(0, -8, 0).Format(time.DateOnly))
	foal.Born = born
	renewed.NewUsual = []vitals.NewUsual{{Sign: vitals.Weight, From: planDay.AddDate(0, 0, 80), Said: planDay.AddDate(0, 0, 80), By: "Wren"}}
	for _, x := range []struct {
		name    string
		horse   vitals.Horse
		days    int
		weights []string
		want    any
	}{
		{"over half a year", pony, 30, []string{"275", "264", "253", "242", "231", "220"}, told},
		{"a tenth, to the kilogram", pony, 30, []string{"250", "250", "250", "225"}, told},
		{"a kilogram less than a tenth", pony, 30, []string{"250", "250", "250", "226"}, td.Empty()},
		{"two earlier weights", pony, 30, []string{"250", "250", "220"}, td.Empty()},
		{"within days", pony, 3, []string{"250", "250", "250", "220"}, td.Empty()},
		{"from a month on", pony, 28, []string{"250", "250", "250", "220"}, told},
		{"years ago", pony, 500, []string{"250", "250", "250", "220"}, td.Empty()},
		{"heavier", pony, 30, []string{"220", "220", "220", "275"}, td.Empty()},
		{"a new usual, said by a person", renewed, 30, []string{"275", "275", "275", "220", "219", "221", "220"}, td.Empty()},
		{"before and after foaling", mare, 30, []string{"275", "275", "275", "240"}, td.Empty()},
		{"lost since foaling", mare, 30, []string{"275", "275", "275", "240", "240", "240", "210"}, told},
		{"a foal", foal, 30, []string{"100", "100", "100", "80"}, td.Empty()},
	} {
		td.Cmp(t, last(x.horse, x.days, x.weights...).Alarms, x.want, x.name)
	}
}

// Breathing and refill are told beside the horse's own too: half as much again, unusual for it, and for the refill two seconds and
// more; not by fewer than five exams.
func TestOwnBreathAndRefill(t *testing.T) {
	t.Parallel()
	taken := func(sign vitals.SignID, value float64) vitals.Finding {
		if sign == vitals.CapillaryRefill {
			return vitals.Finding{Sign: sign, Timed: &vitals.Timed{CentiSeconds: []int{int(100 * value)}}}
		}
		return vitals.Finding{Sign: sign, Reading: &vitals.Reading{Value: decimal.NewFromFloat(value), Unit: vitals.PerMinute}}
	}
	fires := func(sign vitals.SignID, n int, usual, value float64) (out []vitals.AlarmID) {
		exams := quietHeart(n, 34)
		for i := range exams {
			exams[i].Findings = []vitals.Finding{taken(sign, usual)}
		}
		e := recheck(0, taken(sign, value))
		e.At, e.Purpose = planDay, vitals.Concern
		c, err := juniper(exams).Compare(e)
		td.Require(t).CmpNoError(err)
		t.Logf("%s: usual %v, %v", sign, c.Signs[0].Own, c.Signs[0].Statement)
		for _, f := range c.Alarms {
			out = append(out, f.Alarm)
		}
		return out
	}
	td.Cmp(t, fires(vitals.RespiratoryRate, 30, 10, 20), []vitals.AlarmID{AlarmOwnBreath})
	td.Cmp(t, fires(vitals.RespiratoryRate, 30, 10, 13), td.Empty())
	td.Cmp(t, fires(vitals.RespiratoryRate, 4, 10, 20), td.Empty())
	td.Cmp(t, fires(vitals.CapillaryRefill, 30, 1.1, 2.4), []vitals.AlarmID{AlarmOwnRefill})
	td.Cmp(t, fires(vitals.CapillaryRefill, 30, 1.1, 1.9), td.Empty())
	td.Cmp(t, fires(vitals.CapillaryRefill, 30, 1.9, 2.4), td.Empty())
}

// What rises over the looks of a case is told of the last, once.
func TestRisingIsTold(t *testing.T) {
	t.Parallel()
	var looks []vitals.Exam
	for i, beats := range []int{36, 40, 44, 46} {
		e := recheck(0, vitals.Finding{Sign: vitals.HeartRate, Reading: &vitals.Reading{Value: decimal.New(int64(beats), 0), Unit: vitals.PerMinute}})
		e.ID, e.RecheckOf, e.At = vitals.ID(fmt.Sprint("look", i)), "look0", planDay.Add(time.Duration(i)*time.Hour)
		if i == 0 {
			e.RecheckOf = ""
		}
		looks = append(looks, e)
	}
	var c Comparison
	c.Held(juniper(nil).horse, looks[3], looks[:3])
	td.Require(t).Cmp(c.Alarms, td.Len(1))
	f := c.Alarms[0]
	td.Cmp(t, []any{f.Alarm, f.Urgency, f.Sign}, []any{vitals.AlarmRising, vitals.RingSoon, vitals.HeartRate})
}
