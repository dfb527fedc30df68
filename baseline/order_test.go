package baseline

import (
	"math"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// Readings stand in their own order in time, which is not that of the exams where one was taken minutes after its exam began, and
// each stays with what was read.
func TestReadingsInTheirOwnOrder(t *testing.T) {
	late, second := heart(38), quiet(10./1440, heart(34))
	late.Minutes = 30
	b := learned(aHorse(), quiet(0, late), second, quiet(-1, heart(36)))
	n, ok := b.Normal(vitals.HeartRate, "", spring.AddDate(0, 0, 9))
	td.CmpTrue(t, ok)
	var values []float64
	for i, r := range n.Readings {
		values = append(values, r.Value)
		td.CmpTrue(t, i == 0 || r.At.After(n.Readings[i-1].At))
	}
	td.Cmp(t, values, []float64{36, 34, 38})
	td.Cmp(t, n.Readings[2].At, spring.Add(30*time.Minute))
	at := spring.AddDate(0, 0, 9)
	v, _ := b.taught(at, "")
	sign, _ := vitals.Lookup(vitals.HeartRate)
	p, _ := priorOf(vitals.HeartRate, vitals.TypeHorse)
	s := b.history(sign, "", p, at, v)
	for i, q := range s.points {
		near(t, "day", q.Day, day(s.exams[i].At), 1e-12)
		near(t, "value", q.Y, s.exams[i].Value, 1e-9)
	}
}

// Of two findings of one sign and place the more precise one speaks, of equally precise ones the rarer, whatever the order.
func TestTheMorePreciseFindingSpeaks(t *testing.T) {
	precise, rare, coarse := piece{ok: true, sign: 3, p: .5, sd: 1}, piece{ok: true, sign: 3, p: .1, sd: 1}, piece{ok: true, sign: 3, p: .01, sd: 2}
	other, site := piece{ok: true, sign: 4, p: .2, sd: 9}, piece{ok: true, sign: 3, site: "jaw", p: .3, sd: 9}
	for _, c := range []struct{ add, want []piece }{
		{[]piece{precise, coarse}, []piece{precise}}, {[]piece{coarse, precise}, []piece{precise}}, {[]piece{precise, rare}, []piece{rare}}, {[]piece{rare, precise}, []piece{rare}},
		{[]piece{precise, other, site, {sign: 5}}, []piece{precise, other, site}}, {[]piece{coarse, rare, precise, other}, []piece{rare, other}},
	} {
		var e evidence
		for _, p := range c.add {
			e.add(p)
		}
		td.Cmp(t, e.pieces, c.want)
	}
}

// Of two exams with one ID the finished one is kept, then the one with more in it, then the later; each is preferred to the other in
// one direction only.
func TestWhichExamIsKept(t *testing.T) {
	b := New(aHorse())
	draft, done, more, later := quiet(0, heart(34), degrees("37.6")), quiet(0, heart(34)), quiet(0, heart(34), degrees("37.6")), quiet(1, heart(34))
	draft.Status = vitals.Draft
	for name, pair := range map[string][2]vitals.Exam{"finished": {done, draft}, "more": {more, done}, "later": {later, done}} {
		kept, left := b.note(&pair[0]), b.note(&pair[1])
		td.Cmp(t, []bool{kept.prefer(left), left.prefer(kept)}, []bool{true, false}, name)
	}
	for _, order := range [][]vitals.Exam{{draft, done}, {done, draft}} {
		f := NewFit(aHorse())
		for _, e := range order {
			f.Learn(e)
		}
		td.Cmp(t, f.Known(spring.AddDate(0, 0, 5)).Exams, 1, "the finished one teaches")
		td.CmpTrue(t, f.Remove(done.ID))
		td.Cmp(t, f.Known(spring.AddDate(0, 0, 5)).Exams, 0)
		td.CmpFalse(t, f.Remove(done.ID))
	}
	all := learned(aHorse(), done, later)
	td.CmpTrue(t, all.Remove(done.ID))
	td.Cmp(t, all.Exams(), []vitals.Exam{later})
}

// Which ages tell of each other: all that are not known or grown, and of the young those of two thirds.
func TestAgesThatTellOfEachOther(t *testing.T) {
	const grown = 3 * 365.25
	for _, c := range []struct {
		then, now float64
		want      bool
	}{
		{-1, 5, true}, {5, -1, true}, {grown, 9000, true}, {9000, grown, true}, {grown - 1, 9000, false}, {9000, grown - 1, false},
		{20, 30, true}, {30, 20, true}, {19, 30, false}, {30, 19, false}, {0, 0, true}, {0, 1, false},
	} {
		td.Cmp(t, sameAge(c.then, c.now), c.want, "%v", c)
	}
	// The rhythm of the day is there from its age on, to the day, and where the age is not known.
	p, _ := priorOf(vitals.RectalTemperature, vitals.TypeHorse)
	s := series{prior: p, row: p.at(-1), horse: vitals.Horse{Born: vitals.DateOf(spring)}}
	born := s.horse.Born.In(spring.Location())
	for hours, want := range map[int]bool{-1: false, 0: true, 1: true} {
		at := born.Add(time.Duration(float64(rhythmDays)*24)*time.Hour + time.Duration(hours)*time.Hour)
		td.Cmp(t, s.setting(at).Rhythm != nil, want, "%d hours", hours)
	}
	s.horse = aHorse()
	td.CmpTrue(t, s.setting(spring).Rhythm != nil)
}

// normalEquations is the weighted line by Cramer's rule from sums that are not centred.
func normalEquations(rs []watchReading, sd float64) (f watchFit) {
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

// The weighted line of rechecks is that of the normal equations; a mixture of two SDs has the moments of a mixture.
func TestLineOfUnequalCounts(t *testing.T) {
	rs := []watchReading{{0, 44, 1.6}, {1, 47, .4}, {3, 45, .8}, {4, 52, 2}}
	for _, sd := range []float64{.2, 3} {
		f, g := fitLine(rs, sd), normalEquations(rs, sd)
		near(t, "slope", f.slope, g.slope, 1e-12)
		near(t, "its SD", f.se, g.se, 1e-12)
		near(t, "middle", f.mid, g.mid, 1e-12)
		near(t, "level", f.level, g.level, 1e-12)
		near(t, "rest", f.q, g.q, 1e-9)
	}
	// Counts of one moment are one, with the SD of their weighted mean: of 3 and 4 that is 2.4.
	pooled := poolReadings([]watchReading{{1, 50, 4}, {0, 44, 1}, {1, 50, 3}})
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

// Rechecks of a temperature that goes with the hour of the day as it is expected to have no slope, and the line through them is
// that course.
func TestWatchGoesWithTheDay(t *testing.T) {
	sign, _ := vitals.Lookup(vitals.RectalTemperature)
	b := learned(aHorse(), quiet(0, degrees("37.6")), quiet(7, degrees("37.7")), quiet(14, degrees("37.6")))
	from := spring.AddDate(0, 0, 20)
	k, ok := b.watchKnown(sign, "", from)
	td.CmpTrue(t, ok)
	near(t, "at the first", k.course(from), 0, 1e-12)
	now, _ := b.Normal(vitals.RectalTemperature, "", from)
	w := Watched{Sign: sign.ID, Unit: sign.Unit}
	swing := 0.0
	for i := range 5 {
		at := from.Add(time.Duration(150*i) * time.Minute)
		n, _ := b.Normal(vitals.RectalTemperature, "", at)
		near(t, "course", k.course(at), n.Own.Mid-now.Own.Mid, .02)
		swing = max(swing, math.Abs(k.course(at)))
		w.Points = append(w.Points, WatchedPoint{At: at, Minutes: float64(150 * i), Measure: vitals.Measure{Value: 38 + k.course(at), SD: .1, Unit: vitals.Celsius}})
	}
	td.CmpTrue(t, swing > .15)
	w.From, w.To = from, w.Points[4].At
	w.direct(sign, k)
	near(t, "slope", w.Slope.PerHour, 0, 1e-9)
	for _, p := range w.Points {
		near(t, "line", p.Line, p.Value, 1e-9)
	}
}

// A series that begins with an exam of any purpose takes it in.
func TestWatchFromAQuietExam(t *testing.T) {
	for _, purpose := range []vitals.Purpose{vitals.Learning, vitals.Concern, vitals.Recheck} {
		exams := hearts(10, 44, 46, 48)
		exams[0].Purpose = purpose
		td.Cmp(t, watchedSign(juniper(nil).WatchFrom(exams[0].ID, exams), vitals.HeartRate).Points, td.Len(3), string(purpose))
	}
	exams := hearts(10, 44, 46, 48)
	exams[0].Purpose = vitals.Learning
	td.Cmp(t, juniper(nil).WatchFrom("none", exams), td.Empty())
	td.Cmp(t, watchHeart(t, juniper(nil), exams).Points, td.Len(2), "not of itself")
}

// Which exams are bouts of work: the horse's own, finished, after work, with a time; each of the four is needed.
func TestWhatIsABoutOfWork(t *testing.T) {
	bout := quiet(0, heart(80))
	bout.State = vitals.State{Condition: vitals.AfterWork, SinceMinutes: 5}
	td.Cmp(t, Recoveries("h1", []vitals.Exam{bout}), td.Len(1))
	for name, change := range map[string]func(*vitals.Exam){
		"another horse": func(e *vitals.Exam) { e.Horse = "h2" }, "draft": func(e *vitals.Exam) { e.Status = vitals.Draft },
		"at rest": func(e *vitals.Exam) { e.State = vitals.State{Condition: vitals.AtRest} }, "no time": func(e *vitals.Exam) { e.At = time.Time{} },
	} {
		e := bout
		change(&e)
		td.Cmp(t, Recoveries("h1", []vitals.Exam{e}), td.Empty(), name)
	}
	// Counts of one moment are pooled by their weights, in any order: two with SDs of 3 and 4 in 100 as one with 2.4.
	for _, points := range [][]RecoveryPoint{{{2, 100, 3}, {2, 100, 4}}, {{2, 100, 4}, {2, 100, 3}}} {
		c := newRecoveryCurve(points)
		td.Require(t).Cmp(c, td.Len(1))
		near(t, "SD", c[0].sd, .024, 1e-6)
		near(t, "rate", c[0].y, math.Log(100), 1e-9)
	}
	// A later count of exactly the limit has not risen above it, one more has.
	td.CmpFalse(t, TimeTo(64, heartAfter(2, 96, 10, 60, 14, 64)).RoseAgain)
	td.CmpTrue(t, TimeTo(64, heartAfter(2, 96, 10, 60, 14, 65)).RoseAgain)
	a, b := newRecoveryCurve([]RecoveryPoint{{2, 90, 3}, {2, 100, 4}}), newRecoveryCurve([]RecoveryPoint{{2, 100, 4}, {2, 90, 3}})
	td.Cmp(t, a, b)
}

// Kendall's S over many readings by its normal, with the variance n(n-1)(2n+5)/18 that he gives (1938), less the same of equal ones.
func TestKendallOfManyReadings(t *testing.T) {
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
	td.Cmp(t, watchRobust([]float64{0, 1, 2, 3}, []float64{4, 4, 5, 3}).S, 2-3)
}

// Of a sign answered twice in one exam the answer farther from usual counts, whichever comes first.
func TestTheFartherAnswerTeaches(t *testing.T) {
	sign, _ := vitals.Lookup(vitals.GumColour)
	var mild, far vitals.GradeID
	for _, g := range sign.Grades {
		switch {
		case g.Rank == 0 && mild == "":
			mild = g.ID
		case g.Rank > 0 && far == "":
			far = g.ID
		}
	}
	for _, order := range [][]vitals.GradeID{{mild, far}, {far, mild}, {far, far}} {
		e := quiet(0, shown(vitals.GumColour, "", order[0]), shown(vitals.GumColour, "", order[1]))
		n := New(aHorse()).note(&e)
		td.Require(t).Cmp(n.answers, td.Len(1))
		td.Cmp(t, n.answers[0].chosen, []vitals.GradeID{far})
	}
}

// A finding taken hours after its exam began is compared as of then: like that of an exam at that hour.
func TestComparedAtItsOwnHour(t *testing.T) {
	b := learned(aHorse(), quiet(0, degrees("37.6")), quiet(7, degrees("37.7")), quiet(14, degrees("37.6")))
	late := degrees("38.0")
	late.Minutes = 420
	c, err := b.Compare(quiet(20, late))
	td.Require(t).CmpNoError(err)
	then := quiet(20+420./1440, degrees("38.0"))
	d, err := b.Compare(then)
	td.Require(t).CmpNoError(err)
	now, _ := b.Compare(quiet(20, degrees("38.0")))
	a, z, begun := c.Signs[0].Own, d.Signs[0].Own, now.Signs[0].Own
	near(t, "low", a.Low, z.Low, 1e-9)
	near(t, "high", a.High, z.High, 1e-9)
	td.CmpTrue(t, math.Abs(a.Mid-begun.Mid) > .05, "another hour")
}

// An animal grows from its first hour to its third birthday; of one whose birth is not known nothing is said.
func TestGrowing(t *testing.T) {
	h := vitals.Horse{Born: vitals.DateOf(spring)}
	born := h.Born.In(spring.Location())
	for days, want := range map[float64]bool{0: true, 500: true, 1095.7: true, 1095.8: false, 5000: false} {
		td.Cmp(t, growing(h, born.Add(time.Duration(days*24*float64(time.Hour)))), want, "%g days", days)
	}
	td.CmpFalse(t, growing(vitals.Horse{}, spring))
}
