package recovery

import (
	"math"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// What stands behind a recovery is said of what there is.
func TestWhyOfARecoveryInParts(t *testing.T) {
	t.Parallel()
	keys := func(r Recovery) int { return len(r.Why("en")) }
	td.Cmp(t, keys(Recovery{}), 0)
	td.Cmp(t, keys(Recovery{Heart: heartAfter(2, 90)}), 1)
	td.Cmp(t, keys(Recovery{Trots: []TrotAnswer{{}}}), 1)
	td.Cmp(t, keys(Recovery{Heart: heartAfter(2, 90), Trots: []TrotAnswer{{}, {}}}), 2)
	td.Cmp(t, keys(Recovery{Own: []RecoveryCompared{{}, {Basis: baseline.Basis{Exams: 3}}, {Basis: baseline.Basis{Exams: 2}}}}), 1)
	td.Cmp(t, keys(Recovery{Own: []RecoveryCompared{{}}}), 0)
}

// Between two counts the rate is better known than at either: there it may be surely below a limit that neither end is surely
// below. Both ends 1.6 of their SDs below it: the line is 1.96 of its own where (1-f)²+f² is (1.6/1.96)².
func TestSureBetweenTwoCounts(t *testing.T) {
	t.Parallel()
	c := curve{{t: 10, y: 4 - .16, sd: .1}, {t: 20, y: 4 - .16, sd: .1}}
	at, ok := c.first(4, .975)
	td.CmpTrue(t, ok)
	near(t, "first", at, 10+10*(1-math.Sqrt(2*(1.6/1.959964)*(1.6/1.959964)-1))/2, 1e-4)
	_, ok = c.first(4, .99)
	td.CmpFalse(t, ok) // 2.26 of its SDs in the middle
	at, ok = c.first(4, .94)
	td.Cmp(t, []any{at, ok}, []any{10., true})
	_, ok = curve(nil).first(4, .5)
	td.CmpFalse(t, ok)
}

// The chance that the second count is higher, and the course between two counts, by hand: a
// difference of 4 with an SD of 1.1314 is truly above nought by R's pnorm(3.5355) = .99980.
func TestTrotAndCourseByHand(t *testing.T) {
	t.Parallel()
	m := func(v float64) vitals.Measure { return vitals.Measure{Value: v, SD: .8, Unit: vitals.PerMinute} }
	a, ok := TrotOut{HR0: m(60), HR1: m(64), OutMetres: 38.1, Clock: FromTrotStart, Seconds: 60}.Answer()
	td.CmpTrue(t, ok)
	td.Require(t).Cmp(a.Fits, td.Len(1))
	near(t, "chance", *a.Fits[0].Chance, .99980, 1e-5)
	exact := vitals.Measure{Value: 60, Unit: vitals.PerMinute}
	a, _ = TrotOut{HR0: exact, HR1: exact, OutMetres: 38.1, Clock: FromTrotStart, Seconds: 60}.Answer()
	td.Cmp(t, a.Fits[0].Chance, (*float64)(nil), "of exact counts none")
	curve := curve{{0, 5, .1}, {10, 4, .2}, {20, 4.5, .3}}
	for at, want := range map[float64][2]float64{0: {5, .1}, 10: {4, .2}, 20: {4.5, .3}, 5: {4.5, math.Hypot(.05, .1)}, 12.5: {4.125, math.Hypot(.15, .075)}} {
		y, sd, ok := curve.at(at)
		td.CmpTrue(t, ok)
		near(t, "rate", y, want[0], 1e-12)
		near(t, "its SD", sd, want[1], 1e-12)
	}
	for _, at := range []float64{-.1, 20.1} {
		_, _, ok := curve.at(at)
		td.CmpFalse(t, ok)
	}
}
