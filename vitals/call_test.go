package vitals_test

import (
	"slices"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/vitals"
)

func drawnCall(t *rapid.T) *vitals.Call {
	if rapid.IntRange(0, 4).Draw(t, "none") == 0 {
		return nil
	}
	moment := func(label string, low int) (out time.Time) {
		if n := rapid.IntRange(low, 2).Draw(t, label); n >= 0 {
			out = spring.Add(time.Duration(n) * time.Hour).In(time.FixedZone("", 3600*rapid.IntRange(0, 1).Draw(t, "offset")))
		}
		return out
	}
	text := rapid.SampledFrom([]string{"", "Ann", "the clinic"})
	c := &vitals.Call{SaidAt: moment("said", 0), Told: text.Draw(t, "told"), Outcome: text.Draw(t, "outcome"),
		Alarms: rapid.SliceOfN(rapid.SampledFrom([]vitals.AlarmID{"dull", "fever", "no-weight"}), 0, 3).Draw(t, "alarms")}
	c.ToldAt, c.ClosedAt = moment("toldAt", -1), moment("closedAt", -1)
	return c
}

// No order, grouping or repetition of merging changes what is remembered of a call, and nothing is
// remembered that neither device had.
func TestMergeCallLaws(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := drawnCall(t), drawnCall(t), drawnCall(t)
		m := vitals.MergeCall
		all := m(m(a, b), c)
		for _, other := range []*vitals.Call{m(a, m(b, c)), m(m(c, b), a), m(b, m(a, c)), m(all, all), m(all, b), m(nil, m(c, all))} {
			td.Cmp(t, other, all)
		}
		if all == nil {
			return
		}
		for _, one := range []*vitals.Call{a, b, c} {
			if one == nil {
				continue
			}
			td.Cmp(t, one.SaidAt.Before(all.SaidAt), false)
			td.Cmp(t, one.ToldAt.IsZero() || !all.ToldAt.IsZero() && !one.ToldAt.Before(all.ToldAt), true)
			td.Cmp(t, one.ClosedAt.IsZero() || !all.ClosedAt.IsZero() && !one.ClosedAt.Before(all.ClosedAt), true)
			for _, id := range one.Alarms {
				td.Cmp(t, slices.Contains(all.Alarms, id), true, "%s", id)
			}
		}
		has := func(f func(*vitals.Call) bool) bool {
			return slices.ContainsFunc([]*vitals.Call{a, b, c}, func(x *vitals.Call) bool { return x != nil && f(x) })
		}
		td.Cmp(t, all.ToldAt.IsZero() || has(func(x *vitals.Call) bool { return x.ToldAt.Equal(all.ToldAt) && x.Told == all.Told }), true)
		td.Cmp(t, all.ClosedAt.IsZero() || has(func(x *vitals.Call) bool { return x.ClosedAt.Equal(all.ClosedAt) && x.Outcome == all.Outcome }), true)
	})
}
