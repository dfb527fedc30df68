package baseline

import (
	"math"
	"strconv"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/level"
	"whorl.example/baseline/internal/normal"
	"whorl.example/vitals"
)

// On which side readings lie, where all is known: of three days of a horse of SD 3 at 38 the mean must lie beyond
// 2.3263 SDs of such means (R's qnorm(.99)), which is 1.3431 of its own, and each beyond .9945 (qnorm(.84)).
func TestOneSideByHand(t *testing.T) {
	t.Parallel()
	l := level.New(level.Setting{M0: 38, Tau: 1e-6, Sigma0: 3})
	l.Fit(nil)
	for _, c := range []struct {
		zs    []float64
		sd    float64
		times float64
		want  Statement
	}{
		{[]float64{1.345, 1.345, 1.345}, 0, 1, Higher}, {[]float64{1.341, 1.341, 1.341}, 0, 1, ""},
		{[]float64{-1.345, -1.345, -1.345}, 0, 1, Lower}, {[]float64{-1.341, -1.341, -1.341}, 0, 1, ""},
		{[]float64{.996, 1.2, 2}, 0, 1, Higher}, {[]float64{.993, 1.2, 2}, 0, 1, ""}, {[]float64{2, 1.2, .993}, 0, 1, ""},
		{[]float64{-.996, -1.2, -2}, 0, 1, Lower}, {[]float64{-.993, -1.2, -2}, 0, 1, ""},
		// Of one reading the mean is itself, of twelve a mean of .68 is rare enough, but each must be beyond.
		{[]float64{2.33}, 0, 1, Higher}, {[]float64{2.32}, 0, 1, ""},
		// The method's SD of 4 makes five of the horse's three.
		{[]float64{1.345, 1.345, 1.345}, 4, 1, Higher}, {[]float64{1.341, 1.341, 1.341}, 4, 1, ""},
		// At twice the tails: qnorm(.98) = 2.0537, which is 1.1857 of its own, and qnorm(.68) = .4677.
		{[]float64{.469, 1.55, 1.55}, 0, 2, Higher}, {[]float64{.466, 1.55, 1.55}, 0, 2, ""}, {[]float64{.6, 1.47, 1.47}, 0, 2, ""},
		// At thirty times: qnorm(.7) = .5244, .3028 of its own, and each may be anywhere.
		{[]float64{-4, 2.5, 2.42}, 0, 30, Higher}, {[]float64{-4, 2.5, 2.4}, 0, 30, ""}, {[]float64{4, -2.5, -2.42}, 0, 30, Lower},
	} {
		var run []level.Reading
		for i, z := range c.zs {
			run = append(run, level.Reading{Day: float64(i), Y: 38 + z*math.Hypot(3, c.sd), SD: c.sd})
		}
		td.Cmp(t, oneSide(l, run, c.times), c.want, "%+v", c)
	}
	// A rhythm of 2, known, at its highest at 18 o'clock: what is usual is 40 then, 36 at 6 and 38 at noon.
	l = level.New(level.Setting{M0: 38, Tau: 1e-6, Sigma0: 3, Rhythm: &level.Rhythm{Amplitude: 2, AmplitudeSD: 1e-6, From: 18, To: 18}})
	l.Fit(nil)
	for z, want := range map[float64]Statement{1.345: Higher, 1.341: ""} {
		var run []level.Reading
		for i, hour := range []float64{3, 17, 19} {
			run = append(run, level.Reading{Day: float64(i), Hour: hour, Y: 38 + 2*math.Cos(2*math.Pi/24*(hour-18)) + 3*z})
		}
		td.Cmp(t, oneSide(l, run, 1), want, "with a rhythm: %g", z)
	}
	// What is predicted of a mean: of readings with methods of 1, 2 and 3 the variance is (9 + 14/3)/3.
	p := new(normal.Mixture)
	l = level.New(level.Setting{M0: 38, Tau: 1e-6, Sigma0: 3})
	l.Fit(nil)
	l.PredictMeanOf(p, []level.Reading{{SD: 1}, {Day: 1, SD: 2}, {Day: 2, SD: 3}})
	near(t, "SD of a mean", p.SD, math.Sqrt((9+14./3)/3), 1e-9)
	near(t, "the mean", p.Mean, 38, 1e-9)
	// Three of one hour are as a day: the horse's 9, and the methods' as before.
	l.PredictMeanOf(p, []level.Reading{{SD: 1}, {Day: .02, SD: 2}, {Day: .04, SD: 3}})
	near(t, "SD of a mean within an hour", p.SD, math.Sqrt(9+14./9), 1e-9)
	// Of one reading it is the prediction of that reading.
	l, _ = oddHistory(false, true, false)
	for _, q := range []level.Reading{{Day: 30, Hour: 7, SD: .4}, {Day: 90, Hour: 21, SD: 2}} {
		l.PredictMeanOf(p, []level.Reading{q})
		one := l.Predict(q.Day, q.Hour, q.SD)
		near(t, "mean of one", p.Mean, one.Mean, 1e-12)
		near(t, "SD of one", p.SD, one.SD, 1e-12)
		l.PredictMeanOf(p, []level.Reading{q, q, {Day: q.Day - 3, Hour: q.Hour, SD: q.SD}, {Day: q.Day + 3, Hour: q.Hour, SD: q.SD}})
		near(t, "mean of four about it", p.Mean, one.Mean, 1e-12)
	}
	// The first reading may be of any day, later ones of none before.
	l.Fit(nil)
	if !l.Learn(level.Reading{Day: -400, Y: 40}) || l.Learn(level.Reading{Day: -401, Y: 40}) || !l.Learn(level.Reading{Day: -400, Y: 41}) {
		t.Error("learned in the wrong order")
	}
}

// The readings of the latest days in a row: the days are counted on the calendar, enough readings must lie before
// them, and enough of the days after the last no to the question.
func TestRunOfDays(t *testing.T) {
	t.Parallel()
	at := func(d float64) time.Time { return spring.Add(time.Duration(d * 24 * float64(time.Hour))) }
	no := func(d float64, change ...func(*vitals.NewUsual)) vitals.NewUsual {
		u := vitals.NewUsual{Sign: vitals.HeartRate, Not: true, From: at(0), Said: at(d)}
		for _, c := range change {
			c(&u)
		}
		return u
	}
	back := func(u *vitals.NewUsual) { u.Back = true }
	yes := func(u *vitals.NewUsual) { u.Not = false }
	elsewhere := func(u *vitals.NewUsual) { u.Sign = vitals.RespiratoryRate }
	site := func(u *vitals.NewUsual) { u.Site = "jaw" }
	five := []float64{0, 1, 2, 10, 11, 11.01, 12}
	for _, c := range []struct {
		name   string
		on     []float64
		before int
		said   []vitals.NewUsual
		days   int
		from   int // -1: none
	}{
		{"three days, four readings", five, 0, nil, 3, 3},
		{"four days leave two", five, 0, nil, 4, -1},
		{"of a new level", five, 1, nil, 3, -1},
		{"two days", []float64{0, 1, 2, 10, 11, 11.01}, 0, nil, 3, -1},
		{"two days at a new level", []float64{0, 1, 2, 3, 4, 5}, 4, nil, 3, -1},
		{"all", []float64{0, 1, 2}, 0, nil, 3, -1},
		{"just enough", []float64{0, .3, .6, 1, 2, 3}, 0, nil, 3, 3},
		{"three looks in an hour are one", []float64{0, .02, .04, 1, 2, 3}, 0, nil, 3, -1},
		{"no, before them", five, 0, []vitals.NewUsual{no(9)}, 3, 3},
		{"no, at the first", five, 0, []vitals.NewUsual{no(10)}, 3, -1},
		{"no, after the first", five, 0, []vitals.NewUsual{no(10.5)}, 3, -1},
		{"no, before and after", five, 0, []vitals.NewUsual{no(10.5), no(3)}, 3, -1},
		{"no, after and taken back", five, 0, []vitals.NewUsual{no(10.5, back), no(3)}, 3, 3},
		{"yes", five, 0, []vitals.NewUsual{no(10.5, yes)}, 3, 3},
		{"of another sign", five, 0, []vitals.NewUsual{no(10.5, elsewhere)}, 3, 3},
		{"of another place", five, 0, []vitals.NewUsual{no(10.5, site)}, 3, 3},
		{"four days, three of them after the no", []float64{0, 1, 2, 10, 11, 12, 13}, 0, []vitals.NewUsual{no(10.5)}, 4, 3},
	} {
		sign, _ := vitals.Lookup(vitals.HeartRate)
		s := series{sign: sign, before: c.before}
		s.horse.NewUsual = c.said
		var exams []Learned
		for _, d := range c.on {
			exams = append(exams, Learned{At: at(d)})
		}
		from, ok := s.run(exams, c.days)
		td.Cmp(t, ok, c.from >= 0, c.name)
		if ok {
			td.Cmp(t, from, c.from, c.name)
		}
	}
}

// The cheap look: all above the mean of the own readings, or all below it, by as much as the rhythm of a day moves them.
func TestBesideTheMean(t *testing.T) {
	t.Parallel()
	points := func(ys ...float64) (out []level.Reading) {
		for _, y := range ys {
			out = append(out, level.Reading{Y: y})
		}
		return out
	}
	s := series{points: points(99, 30, 40), before: 1}
	for _, c := range []struct {
		ys   []float64
		want bool
	}{{[]float64{36, 35.1}, true}, {[]float64{34, 34.9}, true}, {[]float64{36, 34}, false}, {[]float64{36, 35}, false}, {[]float64{35, 34}, false}, {[]float64{35}, false}} {
		td.Cmp(t, s.beside(points(c.ys...), s.dayOf(spring)), c.want, "%v", c.ys)
	}
	s.prior.rhythm = true
	swing := 2 * rhythmAmplitude
	for _, c := range []struct {
		ys   []float64
		want bool
	}{{[]float64{35 - .9*swing, 36}, true}, {[]float64{35 + .9*swing, 34}, true}, {[]float64{35 - 1.1*swing, 35 + 1.1*swing}, false}, {[]float64{35 - swing, 35 + swing}, false}} {
		td.Cmp(t, s.beside(points(c.ys...), s.dayOf(spring)), c.want, "%v", c.ys)
	}
}

// What the day does is taken from the readings of the present level, once there are enough of them.
func TestDayOfThePresentLevel(t *testing.T) {
	t.Parallel()
	p, _ := priorOf(vitals.RectalTemperature, vitals.TypeHorse)
	s := series{prior: p, row: p.at(-1), fits: new(level.Cache)}
	for i := range 2 * level.OutwardFrom {
		hour := float64(5 * i % 24)
		s.points = append(s.points, level.Reading{Day: float64(i), Hour: hour, SD: .1, Y: 37.5 + .4*math.Cos(2*math.Pi/24*(hour-18)), ID: strconv.Itoa(i)})
	}
	s.before = level.OutwardFrom + 1
	td.Cmp(t, s.dayOf(spring), dayOf{slack: 2 * rhythmAmplitude})
	s.before = 0
	d := s.dayOf(spring)
	near(t, "cosine", d.cos, .4*math.Cos(2*math.Pi/24*18), .05)
	near(t, "sine", d.sin, .4*math.Sin(2*math.Pi/24*18), .05)
	if d.slack < .01 || d.slack > .2 {
		t.Errorf("slack %.3f of forty readings good to a tenth", d.slack)
	}
	near(t, "without it", d.without(&s.points[3]), d.without(&s.points[7]), .1)
	s.prior.rhythm = false
	td.Cmp(t, s.dayOf(spring), dayOf{})
}

// Where a new level begins: at the first reading not before it.
func TestWhereANewLevelBegins(t *testing.T) {
	t.Parallel()
	for day, want := range map[int]int{-1: 0, 0: 0, 1: 1, 7: 1, 8: 2, 21: 3, 22: 4} {
		var ps []level.Reading
		for i := range 4 {
			ps = append(ps, level.Reading{Day: float64(7 * i), Y: 40})
		}
		s := heartSeries(ps)
		u := vitals.NewUsual{Sign: vitals.HeartRate, From: spring.AddDate(0, 0, day)}
		s.since(u)
		td.Cmp(t, s.before, want, "%d", day)
		td.Cmp(t, *s.mark, u)
		for i, p := range s.points {
			td.Cmp(t, p.NewLevel, i == want, "%d: %d", day, i)
		}
	}
}

// The question in figures: what the readings were and what was usual before them, and so are its words.
func TestQuestionInFigures(t *testing.T) {
	t.Parallel()
	for _, up := range []bool{true, false} {
		var exams []vitals.Exam
		for i, rate := range []int{40, 41, 39, 40, 42, 40, 39, 41, 40, 40, 32, 31, 32} {
			if up && i >= 10 {
				rate = 80 - rate
			}
			exams = append(exams, quiet(float64(7*i), heart(rate)))
		}
		c, err := learned(aHorse(), exams...).Compare(exams[12])
		td.Require(t).CmpNoError(err)
		got := one(c, vitals.HeartRate)
		q := got.Question
		td.Require(t).Cmp(q, td.NotNil())
		side, key, low, high := Lower, WarnAskLower, 31., 32.
		if up {
			side, key, low, high = Higher, WarnAskHigher, 48, 49
		}
		td.Cmp(t, []any{q.Side, q.Days, q.Readings, q.Low, q.High, q.From}, []any{side, 3, 3, low, high, exams[10].At})
		s := series{sign: vitals.Sign{Places: 0}}
		td.Cmp(t, got.Warnings, td.SuperBagOf(Warning{Key: key, Args: []string{"n", "3", "low", s.shown(low), "high", s.shown(high), "from", s.shown(q.Before.Low), "to", s.shown(q.Before.High)}}))
		// What was usual before is what the first ten say of the day of the first of the three.
		n, ok := learned(aHorse(), exams[:10]...).Normal(vitals.HeartRate, "", exams[10].At)
		td.CmpTrue(t, ok)
		near(t, "low before", q.Before.Low, n.Own.Low, .02)
		near(t, "high before", q.Before.High, n.Own.High, .02)
	}
}

// A change that the first three of its days do not tell from what was before, because one before them lies there as well: a day
// more is looked at, to six days.
func TestADayMoreIsLookedAt(t *testing.T) {
	t.Parallel()
	days := map[int]int{}
	for n := 2; n <= 9; n++ {
		var exams []vitals.Exam
		for i := range 6 {
			exams = append(exams, quiet(float64(7*i), heart(39+i%3)))
		}
		for i := range n {
			exams = append(exams, quiet(float64(42+7*i), heart(32)))
		}
		c, err := learned(aHorse(), exams...).Compare(exams[len(exams)-1])
		td.Require(t).CmpNoError(err)
		q := one(c, vitals.HeartRate).Question
		if q == nil {
			continue
		}
		days[n] = q.Days
		td.Cmp(t, q.Days, td.Between(askDays, askMost))
		td.Cmp(t, q.From, exams[len(exams)-q.Days].At)
		td.Cmp(t, []any{q.Readings, q.Low, q.High}, []any{q.Days, 32., 32.})
	}
	t.Log(days)
	td.Cmp(t, days, td.SuperMapOf(map[int]int{3: 3}, td.MapEntries{4: td.Between(3, 4)}))
}

// When probable bad days are said: from one of more than a half on, with the most probable of them.
func TestWhenOddDaysAreSaid(t *testing.T) {
	t.Parallel()
	for _, v := range []struct {
		bad    []float64
		n, day string
	}{
		{[]float64{.1, .5, .2}, "", ""}, {[]float64{.1, .51, .2}, "1", "45"}, {[]float64{.6, .9, .7}, "3", "45"}, {[]float64{.9, .6, .9}, "3", "44"}, {[]float64{.6, .5, .9}, "2", "46"},
	} {
		s := heartSeries([]level.Reading{{Day: 0, Y: 44}, {Day: 7, Y: 45}, {Day: 14, Y: 46}})
		plain, searched := level.New(level.Setting{M0: 38, Tau: 5, Sigma0: 3}), level.New(level.Setting{M0: 38, Tau: 5, Sigma0: 3, BadDays: true})
		for _, l := range []*level.Model{plain, searched} {
			for _, p := range s.points {
				l.Append(p)
			}
			l.Restore(level.Snapshot{BadDays: v.bad})
		}
		var c Compared
		s.oddDays(&c, searched)
		if v.n == "" {
			td.Cmp(t, c.Warnings, td.Empty(), "%v", v.bad)
			continue
		}
		td.Require(t).Cmp(c.Warnings, td.Len(1))
		td.Cmp(t, c.Warnings[0].Args[:6], []string{"n", v.n, "of", "3", "value", v.day}, "%v", v.bad)
		c = Compared{}
		s.oddDays(&c, plain)
		td.Cmp(t, c.Warnings, td.Empty(), "not looked for")
	}
}

// The search for bad days begins where a reading would be rarer than 1 in 200 beside the lowest four fifths: of five
// readings 40, 40, 40, 40 and y that is of a normal whose level and SD are known, by R's qnorm(.995) = 2.5758.
func TestWhatStandsOut(t *testing.T) {
	t.Parallel()
	known := level.Setting{M0: 40, Tau: 1e-6, Sigma0: 3, BadDays: true, Drift: true}
	points := func(ys ...float64) (out []level.Reading) {
		for i, y := range ys {
			out = append(out, level.Reading{Day: float64(i), Y: y})
		}
		return out
	}
	for _, c := range []struct {
		ys   []float64
		want bool
	}{
		{[]float64{40, 40, 40, 40, 47.8}, true}, {[]float64{40, 40, 40, 40, 47.6}, false}, {[]float64{47.8, 40, 40, 40, 40}, true}, {[]float64{20, 40, 47.8}, true},
		{[]float64{60}, false}, {nil, false}, {[]float64{40, 47.8}, true}, {[]float64{40, 47.6}, false}, {[]float64{60, 60}, true}, {[]float64{10, 10}, false},
	} {
		td.Cmp(t, level.HighStandsOut(points(c.ys...), known), c.want, "%v", c.ys)
	}
	// The highest must be the rarer the more are set aside, .007 shared among them, and beyond twenty readings rarer
	// still: at forty with eight set aside by 2^1.5.
	many := make([]float64, 40)
	for i := range many {
		many[i] = 40
	}
	for z, want := range map[float64]bool{3.43: true, 3.41: false} { // qnorm(1-.007/8/2^1.5) = 3.4233
		many[17] = 40 + 3*z
		td.Cmp(t, level.HighStandsOut(points(many...), known), want, "%g of forty", z)
	}
	many[17] = 40
	for n, z := range map[int]float64{20: 2.9200, 21: 3.0112} { // qnorm(1-.007/4), qnorm(1-.007/5*(20/21)^1.5)
		for off, want := range map[float64]bool{.01: true, -.01: false} {
			many[n-1] = 40 + 3*(z+off)
			td.Cmp(t, level.HighStandsOut(points(many[:n]...), known), want, "%d", n)
			many[n-1] = 40
		}
	}
	// Which are the lowest: of 30, 31 and so on to 39, the lowest eight; their mean is 33.5. With a level of SD 5 and a day's of 3
	// the mean of the next is pulled to it by hand, and its SD is known.
	ten := level.Setting{M0: 40, Tau: 5, Sigma0: 3, BadDays: true}
	v := 1 / (1./25 + 8./9)
	mean, sd := v*(40./25+8*33.5/9), math.Sqrt(v+9)
	for off, want := range map[float64]bool{.02: true, -.02: false} {
		ys := []float64{37, 31, mean + sd*(2.6968+off), 33, 30, 32, 36, 35, 34, 38}
		td.Cmp(t, level.HighStandsOut(points(ys...), ten), want, "beside the lowest eight of ten: %g", off)
	}
	// Of equal readings each counts: four of 34 and one beside them.
	v = 1 / (1./25 + 4./9)
	mean, sd = v*(40./25+4*34./9), math.Sqrt(v+9)
	for off, want := range map[float64]bool{.02: true, -.02: false} {
		for at := range 5 {
			ys := []float64{34, 34, 34, 34, 34}
			ys[at] = mean + sd*(2.5758+off)
			td.Cmp(t, level.HighStandsOut(points(ys...), ten), want, "beside four alike: %g", off)
		}
	}
	// Before a new level and at it the readings are looked at apart.
	s := heartSeries([]level.Reading{{Day: 0, Y: 34}, {Day: 1, Y: 34}, {Day: 2, Y: 34}, {Day: 3, Y: 60}, {Day: 4, Y: 60}, {Day: 5, Y: 60}})
	s.before = 3
	set := level.Setting{M0: 45, Tau: 30, Sigma0: 2, BadDays: true}
	td.CmpFalse(t, s.standsOut(set), "each alike")
	s.before = 0
	td.CmpTrue(t, s.standsOut(set), "together not")
}
