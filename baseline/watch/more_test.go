package watch

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Thirty readings are still worked out exactly: by the number of permutations with so many inversions (OEIS A008302),
// by its recurrence.
func TestKendallAtThirty(t *testing.T) {
	t.Parallel()
	inversions := []float64{1}
	n := 1
	p := func(s int) float64 {
		pairs := n * (n - 1) / 2
		far, all := 0., 0.
		for k, count := range inversions {
			all += count
			if d := pairs - 2*k; d >= s || -d >= s {
				far += count
			}
		}
		return far / all
	}
	rising := func(n int) (y []float64) {
		for i := range n {
			y = append(y, float64(i))
		}
		return y
	}
	for n < 30 {
		n++
		next := make([]float64, len(inversions)+n-1)
		for k, count := range inversions {
			for j := range n {
				next[k+j] += count / float64(n)
			}
		}
		inversions = next
	}
	for _, s := range []int{1, 45, 111, 145, 201, 435} {
		td.Cmp(t, kendallP(s, rising(30)), td.Between(p(s)*(1-1e-9), p(s)*(1+1e-9)), "%d", s)
	}
	// At 145, where p is about .01, the approximation is off by more than a thousandth of it.
	td.CmpGt(t, math.Abs(math.Erfc(144/math.Sqrt(2*30.*29*65/18))/p(145)-1), 1e-3)
}

// A series leaves its line where the sum of squares about it is beyond what is left of one in a hundred: of four readings, two
// degrees of freedom, where chi² is beyond -2 ln p with the probability p.
func TestUnevenByHand(t *testing.T) {
	t.Parallel()
	p := .01 / 4 * .75
	q := -2 * math.Log(p)
	for share, want := range map[float64]bool{.99: false, 1.01: true} {
		a := math.Sqrt(share*q/4) * 3 // each of the four is off by this, in a pattern that has no slope
		rs := []reading{{0, 40 + a, 0}, {1, 41 - a, 0}, {2, 42 - a, 0}, {3, 43 + a, 0}}
		d, ok := slopeOf(rs, watchSpread{{3, 1}})
		td.CmpTrue(t, ok)
		near(t, "slope", d.slope, 1, 1e-12)
		near(t, "its SD", d.se, 3/math.Sqrt(5), 1e-12)
		td.Cmp(t, d.uneven, want, "%g", share)
	}
}

// Kendall's S over many readings by its normal, with the variance n(n-1)(2n+5)/18 that he gives (1938), less the same of equal ones.
func TestKendallOfManyReadings(t *testing.T) {
	t.Parallel()
	var y []float64
	for i := range kendallExact + 1 {
		y = append(y, float64(i))
	}
	n := float64(len(y))
	for _, s := range []int{0, 40, 200, 400} {
		v := n * (n - 1) * (2*n + 5) / 18
		near(t, "p", kendallP(s, y), min(1, math.Erfc(max(0, float64(s)-1)/math.Sqrt(2*v))), 1e-12)
	}
	// Three of one value take their part away.
	y[1], y[2] = y[0], y[0]
	v := (n*(n-1)*(2*n+5) - 3*2*11) / 18
	near(t, "p with three alike", kendallP(200, y), math.Erfc(199/math.Sqrt(2*v)), 1e-12)
	for i := range y {
		y[i] = 1
	}
	td.Cmp(t, kendallP(0, y), 1.)
	// Equal readings neither rise nor fall: of 4, 4, 5, 3 one pair rises twice, three fall.
	td.Cmp(t, describe([]float64{0, 1, 2, 3}, []float64{4, 4, 5, 3}).S, 2-3)
}

// The weighted line of rechecks is that of the normal equations; a mixture of two SDs has the moments of a mixture.
func TestLineOfUnequalCounts(t *testing.T) {
	t.Parallel()
	rs := []reading{{0, 44, 1.6}, {1, 47, .4}, {3, 45, .8}, {4, 52, 2}}
	for _, sd := range []float64{.2, 3} {
		f, g := fitLine(rs, sd), normalEquations(rs, sd)
		near(t, "slope", f.slope, g.slope, 1e-12)
		near(t, "its SD", f.se, g.se, 1e-12)
		near(t, "middle", f.mid, g.mid, 1e-12)
		near(t, "level", f.level, g.level, 1e-12)
		near(t, "rest", f.q, g.q, 1e-9)
	}
	// Counts of one moment are one, with the SD of their weighted mean: of 3 and 4 that is 2.4.
	pooled := poolReadings([]reading{{1, 50, 4}, {0, 44, 1}, {1, 50, 3}})
	td.Cmp(t, pooled, td.Len(2))
	near(t, "pooled", pooled[1].s, 2.4, 1e-9)
	near(t, "pooled", pooled[1].y, 50, 1e-9)
	d, ok := slopeOf(rs, watchSpread{{.2, .25}, {3, .75}})
	td.CmpTrue(t, ok)
	a, b := fitLine(rs, .2), fitLine(rs, 3)
	mean := .25*a.slope + .75*b.slope
	second := .25*(a.se*a.se+a.slope*a.slope) + .75*(b.se*b.se+b.slope*b.slope)
	near(t, "slope", d.slope, mean, 1e-12)
	near(t, "its SD", d.se, math.Sqrt(second-mean*mean), 1e-9)
}

// normalEquations is the weighted line by Cramer's rule from sums that are not centred.
func normalEquations(rs []reading, sd float64) (f lineFit) {
	var w, t, tt, y, ty float64
	for _, r := range rs {
		v := 1 / (sd*sd + r.s*r.s)
		w, t, tt, y, ty = w+v, t+v*r.t, tt+v*r.t*r.t, y+v*r.y, ty+v*r.t*r.y
	}
	det := w*tt - t*t
	f.slope, f.se = (w*ty-t*y)/det, math.Sqrt(w/det)
	f.mid, f.level = t/w, y/w
	at0 := (tt*y - t*ty) / det
	for _, r := range rs {
		e := r.y - at0 - f.slope*r.t
		f.q += e * e / (sd*sd + r.s*r.s)
	}
	return f
}

// A series that begins with an exam of any purpose takes it in.
func TestWatchFromAQuietExam(t *testing.T) {
	t.Parallel()
	for _, purpose := range []vitals.Purpose{vitals.Learning, vitals.Concern, vitals.Recheck} {
		exams := hearts(10, 44, 46, 48)
		exams[0].Purpose = purpose
		td.Cmp(t, watchedSign(From(juniper(nil), exams[0].ID, exams), vitals.HeartRate).Points, td.Len(3), string(purpose))
	}
	exams := hearts(10, 44, 46, 48)
	exams[0].Purpose = vitals.Learning
	td.Cmp(t, From(juniper(nil), "none", exams), td.Empty())
	td.Cmp(t, watchHeart(t, juniper(nil), exams).Points, td.Len(2), "not of itself")
}

// Rechecks of a temperature that goes with the hour of the day as it is expected to have no slope, and the line through them is
// that course.
func TestWatchGoesWithTheDay(t *testing.T) {
	t.Parallel()
	sign, _ := vitals.Lookup(vitals.RectalTemperature)
	b := learned(aHorse(), quiet(0, degrees("37.6")), quiet(7, degrees("37.7")), quiet(14, degrees("37.6")))
	from := spring.AddDate(0, 0, 20)
	k, ok := b.Variation(sign, "", from)
	td.CmpTrue(t, ok)
	near(t, "at the first", k.Course(from), 0, 1e-12)
	now, _ := b.Normal(vitals.RectalTemperature, "", from)
	w := Watched{Sign: sign.ID, Unit: sign.Unit}
	swing := 0.0
	for i := range 5 {
		at := from.Add(time.Duration(150*i) * time.Minute)
		n, _ := b.Normal(vitals.RectalTemperature, "", at)
		near(t, "course", k.Course(at), n.Own.Mid-now.Own.Mid, .02)
		swing = max(swing, math.Abs(k.Course(at)))
		w.Points = append(w.Points, WatchedPoint{At: at, Minutes: float64(150 * i), Measure: vitals.Measure{Value: 38 + k.Course(at), SD: .1, Unit: vitals.Celsius}})
	}
	td.CmpTrue(t, swing > .15)
	w.From, w.To = from, w.Points[4].At
	w.direct(sign, k)
	near(t, "slope", w.Slope.PerHour, 0, 1e-9)
	for _, p := range w.Points {
		near(t, "line", p.Line, p.Value, 1e-9)
	}
}

// A probability is said in 100, with a decimal below 10.
func TestPercentSaid(t *testing.T) {
	t.Parallel()
	for p, want := range map[float64]string{0: "0.0", .0123: "1.2", .0994: "9.9", .0995: "10", .5: "50"} {
		td.Cmp(t, sayPercent(p), want, "%g", p)
	}
}

// A slope is said with one place more where it is less than two steps of the display; where none was shown, by what would have shown.
func TestSlopeSaidWithAPlaceMore(t *testing.T) {
	t.Parallel()
	said := func(trend Trend, perHour, shows float64, every int) string {
		w := Watched{Sign: vitals.HeartRate, Unit: vitals.PerMinute, Trend: trend, Slope: &Slope{PerHour: perHour, Low: perHour - 1.26, High: perHour + 1.26, WouldShow: shows, EveryMinutes: every}}
		var out []string
		w.saySlope(words.English, func(key string, args ...string) { out = append(out, strings.Join(args, " ")) })
		return strings.Join(out, "\n")
	}
	td.Cmp(t, said(Rising, 1.94, 9, 60), td.Contains("1.9"))
	td.Cmp(t, said(Rising, 2.04, 9, 60), td.Not(td.Contains("2.0")))
	td.Cmp(t, said(Falling, -1.94, 9, 60), td.Contains("1.9"))
	td.Cmp(t, said(Rising, 11.4, 9, 10), td.Contains("1.9"), "of ten minutes a sixth")
	td.Cmp(t, said(NoTrendShown, 9, 1.84, 60), td.Contains("1.9"), "rounded up")
	td.Cmp(t, said(NoTrendShown, .3, 2.4, 60), td.All(td.Contains("3"), td.Not(td.Contains("2.4"))))
}

// A finding that gives no number is missing in a series of rechecks, not a reading of nought.
func TestNoNumberIsMissing(t *testing.T) {
	t.Parallel()
	exams := hearts(10, 44, 46, 48)
	e := recheck(40, vitals.Finding{Sign: vitals.HeartRate, Count: &vitals.Count{Events: 20}})
	w := watchHeart(t, juniper(nil), append(exams, e))
	td.Cmp(t, w.Points, td.Len(3))
	td.Cmp(t, w.Missing, 1)
}
