package watch

import (
	"math"
	"slices"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// A pause of 12 hours to the second is still of the series, one second more begins another, before and behind.
func TestWatchPause(t *testing.T) {
	t.Parallel()
	b := juniper(quietHeart(4, 34, 37, 35))
	series := func(pause time.Duration) []vitals.Exam {
		exams := hearts(10, 44, 46, 48)
		e := recheck(0, beats(50))
		e.ID, e.At = "after", exams[2].At.Add(pause)
		return append(exams, e)
	}
	for pause, want := range map[time.Duration][2]int{12 * time.Hour: {4, 4}, 12*time.Hour + time.Second: {1, 3}} {
		exams := series(pause)
		td.Cmp(t, watchHeart(t, b, exams).Points, td.Len(want[0]))
		td.Cmp(t, watchedSign(From(b, exams[0].ID, exams), vitals.HeartRate).Points, td.Len(want[1]))
	}
	late := watchHeart(t, b, series(13*time.Hour))
	td.Cmp(t, late.Warnings, td.Contains(baseline.Warning{Key: WarnWatchEarlier, Args: []string{"n", "3"}}))
	td.Cmp(t, watchHeart(t, b, series(time.Hour)).Warnings, td.Not(td.Contains(td.Struct(baseline.Warning{Key: WarnWatchEarlier}, td.StructFields{"Args": td.Ignore()}))))
}

// The slope is said for ten minutes where that changes by two steps of the display or more, or less than an hour was
// watched; else for an hour.
func TestSayableMinutes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		perHour float64
		places  int
		span    time.Duration
		want    int
	}{
		{12, 0, 2 * time.Hour, 10}, {-12, 0, 2 * time.Hour, 10}, {11.9, 0, 2 * time.Hour, 60}, {-11.9, 0, time.Hour, 60},
		{11.9, 0, time.Hour - time.Second, 10}, {1.21, 1, time.Hour, 10}, {1.19, 1, time.Hour, 60}, {0, 0, time.Minute, 10},
	} {
		td.Cmp(t, sayableMinutes(c.perHour, c.places, c.span), c.want, "%v", c)
	}
}

// Of a sign compared by ratios the slope holds at the middle of the series: breathing that doubles in an hour rises there
// by ln 2 of itself an hour, and the line goes through the readings.
func TestWatchOfRatios(t *testing.T) {
	t.Parallel()
	breaths := func(n int) vitals.Finding {
		return vitals.Finding{Sign: vitals.RespiratoryRate, Count: &vitals.Count{Events: n, Seconds: 60, Start: vitals.Anywhere}}
	}
	var exams []vitals.Exam
	for i, n := range []int{16, 32, 64} {
		exams = append(exams, recheck(60*i, breaths(n), vitals.Finding{Sign: vitals.HeartRate, Absent: vitals.CouldNot}))
	}
	exams = append(exams, recheck(130))
	w := watchedSign(Last(juniper(nil), exams), vitals.RespiratoryRate)
	td.Cmp(t, w.Missing, 1)
	near(t, "slope", w.Slope.PerHour, 32*math.Ln2, 1.5) // the higher counts, better known in ratio, weigh more
	for i, want := range []float64{16, 32, 64} {
		near(t, "line", w.Points[i].Line, want, .02*want)
		near(t, "minutes", w.Points[i].Minutes, 60*float64(i), 1e-9)
	}
	td.Cmp(t, w.Trend, Rising)
	near(t, "the middle of the bounds", (w.Slope.Low+w.Slope.High)/2, w.Slope.PerHour, 1e-9)
	// The same backwards.
	slices.Reverse(exams[:3])
	for i := range 3 {
		exams[i].At = watchNight.Add(time.Duration(i) * time.Hour)
	}
	down := watchedSign(Last(juniper(nil), exams), vitals.RespiratoryRate)
	td.Cmp(t, down.Trend, Falling)
	near(t, "slope", down.Slope.PerHour, -w.Slope.PerHour, .5)
	near(t, "P", down.Slope.P, w.Slope.P, .2*w.Slope.P)
}

// Readings of one exam count at their own minutes; of answers the one farthest from usual counts, of equal ones the earlier.
func TestWatchWithinAnExam(t *testing.T) {
	t.Parallel()
	late := beats(48)
	late.Minutes = 7
	w := watchHeart(t, juniper(nil), []vitals.Exam{recheck(0, beats(44), late), recheck(30, beats(50))})
	var minutes, values []float64
	for _, p := range w.Points {
		minutes, values = append(minutes, p.Minutes), append(values, p.Value)
	}
	td.Cmp(t, minutes, []float64{0, 7, 30})
	td.Cmp(t, values, []float64{44, 48, 50})
	td.Cmp(t, w.To.Sub(w.From), 30*time.Minute)

	sign, _ := vitals.Lookup(vitals.GutSounds)
	at := func(g vitals.GradeID, minutes int) vitals.Finding {
		f := gut(sign.Sites[0].ID, g)
		f.Minutes = minutes
		return f
	}
	ws := Last(juniper(nil), []vitals.Exam{recheck(0, at("usual", 0), at("none", 4), at("less", 6), at("none", 2)), recheck(30, at("less", 0)), recheck(60, at("less", 0))})
	td.Require(t).Cmp(len(ws), 1)
	a := ws[0].Answers
	td.Require(t).Cmp(len(a), 3)
	td.Cmp(t, []any{a[0].Chosen, a[0].At}, []any{[]vitals.GradeID{"none"}, watchNight.Add(2 * time.Minute)})
	td.Cmp(t, []vitals.Course{a[0].Step, a[1].Step, a[2].Step, ws[0].Course}, []vitals.Course{"", vitals.Better, vitals.Same, vitals.Better})
	td.Cmp(t, ws[0].To.Sub(ws[0].From), 58*time.Minute)
	td.Cmp(t, Last(juniper(nil), []vitals.Exam{recheck(0, at("less", 0))})[0].Course, vitals.Course(""), "of one answer")
}

// Two exams of one moment are two; the same one twice is one, and changed it is another.
func TestWatchCountsEachExamOnce(t *testing.T) {
	t.Parallel()
	one := recheck(0, beats(44))
	other, changed, moved := one, recheck(0, beats(45)), one
	other.ID = "other"
	moved.At = one.At.Add(time.Minute)
	for _, c := range []struct {
		exams []vitals.Exam
		want  int
	}{{[]vitals.Exam{one}, 1}, {[]vitals.Exam{one, one, one}, 1}, {[]vitals.Exam{one, other}, 2}, {[]vitals.Exam{one, changed, one}, 2}, {[]vitals.Exam{one, moved}, 2}} {
		td.Cmp(t, examsOf("juniper", c.exams), td.Len(c.want))
	}
	concern := one
	concern.Purpose = vitals.Concern
	td.Cmp(t, examsOf("juniper", []vitals.Exam{concern}), td.Len(1))
	excited := one
	excited.State.Condition = vitals.Excited
	td.Cmp(t, watchHeart(t, juniper(nil), []vitals.Exam{excited}).Warnings, td.Contains(baseline.Warning{Key: WarnWatchExcited}))
	td.Cmp(t, watchHeart(t, juniper(nil), []vitals.Exam{one}).Warnings, []baseline.Warning{{Key: WarnWatchOwn}})
}

// The warning that a line hangs on one reading: from six readings on, where the middle slope is under a third of it.
func TestWatchHangsOnOneReading(t *testing.T) {
	t.Parallel()
	at := []float64{0, 1, 2, 3, 4, 5}
	course := func(each float64) []reading {
		var rs []reading
		for _, x := range at {
			rs = append(rs, reading{t: x, y: 40 + each*x})
		}
		return rs
	}
	for slope, want := range map[float64]bool{3: false, 9: false, 9.1: true, -3: true} {
		w := Watched{Trend: Rising, Slope: &Slope{PerHour: slope}}
		w.robust(course(3), 1)
		near(t, "the middle slope", w.Robust.PerHour, 3, 1e-12)
		td.Cmp(t, len(w.Warnings) == 1, want, "%v", slope)
	}
	falling := Watched{Trend: Falling, Slope: &Slope{PerHour: -20}}
	falling.robust(course(-3), 2)
	near(t, "in the unit", falling.Robust.PerHour, -6, 1e-12)
	td.Cmp(t, falling.Warnings, []baseline.Warning{{Key: WarnWatchOneReading}})
	none := Watched{Trend: NoTrendShown, Slope: &Slope{PerHour: 20}}
	none.robust(course(3), 1)
	td.Cmp(t, none.Warnings, td.Empty())
	few := Watched{Trend: Rising, Slope: &Slope{PerHour: 20}}
	few.robust(course(3)[:5], 1)
	td.Cmp(t, few.Robust, (*RobustSlope)(nil))
}
