package baseline

import (
	"math"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// What the record holds of a sign: each place of its own, the latest of more than are asked for, none without a value and none of a
// draft.
func TestPastOfASite(t *testing.T) {
	left, right := "gut-upper-left", "gut-upper-right"
	var exams []vitals.Exam
	for i := range 5 {
		e := quiet(float64(7*i), shown(vitals.GutSounds, vitals.SiteID(left), "usual"), shown(vitals.GutSounds, vitals.SiteID(right), "less"), heart(34+i))
		e.Findings[2].Minutes = 5
		exams = append(exams, e)
	}
	exams[1].Findings[0] = vitals.Finding{Sign: vitals.GutSounds, Site: vitals.SiteID(left), Absent: vitals.CouldNot}
	exams[3].Status = vitals.Draft
	b := learned(aHorse(), exams...)
	ids := func(past []Past) (out []vitals.ID) {
		for _, p := range past {
			out = append(out, p.Exam.ID)
		}
		return out
	}
	id := func(i ...int) (out []vitals.ID) {
		for _, k := range i {
			out = append(out, exams[k].ID)
		}
		return out
	}
	td.Cmp(t, ids(b.Past(vitals.GutSounds, vitals.SiteID(left), 9)), id(0, 2, 4))
	td.Cmp(t, ids(b.Past(vitals.GutSounds, vitals.SiteID(right), 9)), id(0, 1, 2, 4))
	td.Cmp(t, ids(b.Past(vitals.GutSounds, "gut-lower-left", 9)), td.Empty())
	hearts := b.Past(vitals.HeartRate, "anywhere", 2)
	td.Cmp(t, ids(hearts), id(2, 4), "of a sign without places of its own wherever it was")
	td.Cmp(t, ids(b.Past(vitals.HeartRate, "", 0)), id(4))
	td.Cmp(t, hearts[1].At, exams[4].At.Add(5*time.Minute))
	td.Cmp(t, []float64{hearts[0].Compared.Measure.Value, hearts[1].Compared.Measure.Value}, []float64{36, 38})
	n, ok := b.Normal(vitals.HeartRate, "", exams[4].At)
	td.CmpTrue(t, ok)
	td.Cmp(t, *hearts[1].Usual, n.Own)
	td.Cmp(t, b.Past(vitals.GutSounds, vitals.SiteID(left), 9)[0].Usual, td.Nil())
}

// Of two counts in one exam the more precise one teaches, whichever comes first, at its own minute.
func TestTheMorePreciseCountTeaches(t *testing.T) {
	long, short := heart(36), counted(vitals.HeartRate, 20, 30)
	long.Minutes = 7
	for _, order := range [][]vitals.Finding{{long, short}, {short, long}} {
		e := quiet(0, order...)
		n, ok := learned(aHorse(), e).Normal(vitals.HeartRate, "", spring.AddDate(0, 0, 9))
		td.CmpTrue(t, ok)
		td.Require(t).Cmp(n.Readings, td.Len(1))
		td.Cmp(t, []any{n.Readings[0].Value, n.Readings[0].At}, []any{36., e.At.Add(7 * time.Minute)})
	}
	for _, c := range []struct {
		w    way
		site vitals.SiteID
		want bool
	}{{way{site: "jaw"}, "jaw", true}, {way{site: "jaw"}, "girth", false}, {way{}, "girth", true}, {way{}, "", true}, {way{site: "jaw"}, "", false}} {
		td.Cmp(t, c.w.sameSite(c.site), c.want, "%v", c)
	}
}

// The usual answer is the one shown most often, of two as often neither, whatever the order of the exams.
func TestUsualAnswerOfATie(t *testing.T) {
	sign, _ := vitals.Lookup(vitals.GumColour)
	first, second := []vitals.GradeID{sign.Grades[0].ID}, []vitals.GradeID{sign.Grades[1].ID}
	for _, c := range []struct {
		own  [][]vitals.GradeID
		want []vitals.GradeID
		n    int
	}{
		{[][]vitals.GradeID{first, second}, nil, 0}, {[][]vitals.GradeID{second, first}, nil, 0},
		{[][]vitals.GradeID{second, first, second}, second, 2}, {[][]vitals.GradeID{first, second, second}, second, 2},
		{[][]vitals.GradeID{second, second, first, first}, nil, 0}, {nil, nil, 0},
	} {
		var own []answer
		for _, g := range c.own {
			own = append(own, answer{chosen: g})
		}
		chosen, n := usual(own)
		td.Cmp(t, []any{chosen, n}, []any{c.want, c.n}, "%v", c.own)
	}
}

// A series leaves its line where the sum of squares about it is beyond what is left of one in a hundred: of four readings, two
// degrees of freedom, where chi² is beyond -2 ln p with the probability p.
func TestUnevenByHand(t *testing.T) {
	p := .01 / 4 * .75
	q := -2 * math.Log(p)
	for share, want := range map[float64]bool{.99: false, 1.01: true} {
		a := math.Sqrt(share*q/4) * 3 // each of the four is off by this, in a pattern that has no slope
		rs := []watchReading{{0, 40 + a, 0}, {1, 41 - a, 0}, {2, 42 - a, 0}, {3, 43 + a, 0}}
		d, ok := slopeOf(rs, watchSpread{{3, 1}})
		td.CmpTrue(t, ok)
		near(t, "slope", d.slope, 1, 1e-12)
		near(t, "its SD", d.se, 3/math.Sqrt(5), 1e-12)
		td.Cmp(t, d.uneven, want, "%g", share)
	}
}

// Between two counts the rate is better known than at either: there it may be surely below a limit that neither end is surely
// below. Both ends 1.6 of their SDs below it: the line is 1.96 of its own where (1-f)²+f² is (1.6/1.96)².
func TestSureBetweenTwoCounts(t *testing.T) {
	c := recoveryCurve{{t: 10, y: 4 - .16, sd: .1}, {t: 20, y: 4 - .16, sd: .1}}
	at, ok := c.first(4, .975)
	td.CmpTrue(t, ok)
	near(t, "first", at, 10+10*(1-math.Sqrt(2*(1.6/1.959964)*(1.6/1.959964)-1))/2, 1e-4)
	_, ok = c.first(4, .99)
	td.CmpFalse(t, ok) // 2.26 of its SDs in the middle
	at, ok = c.first(4, .94)
	td.Cmp(t, []any{at, ok}, []any{10., true})
	_, ok = recoveryCurve(nil).first(4, .5)
	td.CmpFalse(t, ok)
}

// A reading of a young animal counts by how far it is from what is expected at its age: a foal of one day and of two.
func TestReadingsOfTheFirstDays(t *testing.T) {
	born := spring.Add(-time.Hour * time.Duration(spring.Hour()))
	foal := vitals.Horse{ID: "h1", Type: vitals.TypeHorse, Born: vitals.DateOf(born)}
	p, _ := priorOf(vitals.HeartRate, vitals.TypeHorse)
	sign, _ := vitals.Lookup(vitals.HeartRate)
	for _, days := range []float64{1, 2, 30} {
		e := quiet(0, heart(90))
		e.At = foal.Born.In(spring.Location()).Add(time.Duration(days * 24 * float64(time.Hour)))
		b := learned(foal, e)
		at := e.At.Add(time.Hour)
		v, _ := b.taught(at, "")
		s := b.history(sign, "", p, at, v)
		td.Require(t).Cmp(s.points, td.Len(1))
		near(t, "reading", s.points[0].Y, 90-p.at(days).m0+p.at(days+1./24).m0, 1e-9)
	}
}

// A finding that gives no number is missing in a series of rechecks, not a reading of nought.
func TestNoNumberIsMissing(t *testing.T) {
	exams := hearts(10, 44, 46, 48)
	e := recheck(40, vitals.Finding{Sign: vitals.HeartRate, Count: &vitals.Count{Events: 20}})
	w := watchHeart(t, juniper(nil), append(exams, e))
	td.Cmp(t, w.Points, td.Len(3))
	td.Cmp(t, w.Missing, 1)
}

// Small things by hand: the hour of a time, sin x / x beside nought (its series' second term is x²/6), the chance that a
// difference of 4 with an SD of 1.1314 is truly above nought (R's pnorm(3.5355) = .99980).
func TestSmallThingsByHand(t *testing.T) {
	near(t, "hour", hour(time.Date(2026, 5, 3, 17, 45, 36, 0, time.UTC)), 17.76, 1e-12)
	m := func(v float64) vitals.Measure { return vitals.Measure{Value: v, SD: .8, Unit: vitals.PerMinute} }
	a, ok := TrotOut{HR0: m(60), HR1: m(64), OutMetres: 38.1, Clock: FromTrotStart, Seconds: 60}.Answer()
	td.CmpTrue(t, ok)
	td.Require(t).Cmp(a.Fits, td.Len(1))
	near(t, "chance", *a.Fits[0].Chance, .99980, 1e-5)
	exact := vitals.Measure{Value: 60, Unit: vitals.PerMinute}
	a, _ = TrotOut{HR0: exact, HR1: exact, OutMetres: 38.1, Clock: FromTrotStart, Seconds: 60}.Answer()
	td.Cmp(t, a.Fits[0].Chance, (*float64)(nil), "of exact counts none")
	curve := recoveryCurve{{0, 5, .1}, {10, 4, .2}, {20, 4.5, .3}}
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

// What stands behind a recovery is said of what there is.
func TestWhyOfARecoveryInParts(t *testing.T) {
	keys := func(r Recovery) int { return len(r.Why("en")) }
	td.Cmp(t, keys(Recovery{}), 0)
	td.Cmp(t, keys(Recovery{Heart: heartAfter(2, 90)}), 1)
	td.Cmp(t, keys(Recovery{Trots: []TrotAnswer{{}}}), 1)
	td.Cmp(t, keys(Recovery{Heart: heartAfter(2, 90), Trots: []TrotAnswer{{}, {}}}), 2)
	td.Cmp(t, keys(Recovery{Own: []RecoveryCompared{{}, {Basis: Basis{Exams: 3}}, {Basis: Basis{Exams: 2}}}}), 1)
	td.Cmp(t, keys(Recovery{Own: []RecoveryCompared{{}}}), 0)
}

// How a finding could be measured better: a shorter count as one over a minute, tries too few or counted aloud as three, another
// thermometer as the digital one; with the uncertainty that such a finding has.
func TestBetterWays(t *testing.T) {
	with := func(f vitals.Finding, device vitals.Device) vitals.Finding {
		r := *f.Reading
		r.Device, f.Reading = device, &r
		return f
	}
	aloud := timed(vitals.CapillaryRefill, "", 150, 150, 150)
	aloud.Timed.Aloud = true
	three := timed(vitals.CapillaryRefill, "", 150, 150, 150)
	score := vitals.Finding{Sign: vitals.BodyCondition, Reading: &vitals.Reading{Value: degrees("5").Reading.Value, Unit: vitals.One}}
	for name, c := range map[string]struct {
		f      vitals.Finding
		advice string
		as     vitals.Finding
	}{
		"half a minute":     {counted(vitals.HeartRate, 18, 30), SettleCount, heart(36)},
		"a minute":          {heart(36), "", vitals.Finding{}},
		"one try":           {timed(vitals.CapillaryRefill, "", 150), SettleTries, three},
		"two tries":         {timed(vitals.CapillaryRefill, "", 150, 150), SettleTries, three},
		"three tries":       {three, "", vitals.Finding{}},
		"three aloud":       {aloud, SettleTries, three},
		"digital":           {degrees("38.1"), "", vitals.Finding{}},
		"another":           {with(degrees("38.1"), vitals.Glass), SettleThermometer, degrees("38.1")},
		"of no thermometer": {score, "", vitals.Finding{}},
	} {
		sign, _ := vitals.Lookup(c.f.Sign)
		m, err := c.f.Measure(sign)
		td.Require(t).CmpNoError(err, name)
		advice, sd := betterBy(&sign, &c.f, m)
		td.Cmp(t, advice, c.advice, name)
		if advice != "" {
			best, err := c.as.Measure(sign)
			td.CmpNoError(t, err, name)
			near(t, name, sd, best.SD, 1e-12)
		}
	}
	// The chance of a change is that of a normal beyond the nearer limit.
	f := counted(vitals.HeartRate, 18, 30)
	sign, _ := vitals.Lookup(vitals.HeartRate)
	m, _ := f.Measure(sign)
	p, _ := priorOf(vitals.HeartRate, vitals.TypeHorse)
	whole, _ := heart(36).Measure(sign)
	for _, distance := range []float64{0, .5, 1.5} {
		s := settle(&sign, &f, m, p, m.Value, m.SD, func(sd float64) float64 {
			near(t, "of the better kind", sd, whole.SD, 1e-12)
			return distance
		})
		chance := math.Erfc(distance/math.Hypot(m.SD, whole.SD)/math.Sqrt2) / 2
		if chance <= askAbove {
			td.Cmp(t, s, (*Settle)(nil))
			continue
		}
		td.Require(t).Cmp(s, td.NotNil())
		near(t, "chance", s.Chance, chance, 1e-12)
	}
}

// What a finding adds to the exam as a whole: of a sign that is bad upward how high it is, of others how far out on either side.
func TestWhatAFindingAdds(t *testing.T) {
	b := learned(aHorse(), quiet(0, heart(34), degrees("37.6")), quiet(7, heart(36), degrees("37.5")))
	for _, e := range []vitals.Exam{tonight(20, heart(52), degrees("38.9")), tonight(20, heart(22), degrees("36.2"))} {
		c, all, err := b.compare(e)
		td.Require(t).CmpNoError(err)
		for _, p := range all.pieces {
			s := c.Signs[p.index]
			want := s.P
			if sign := catalogue()[p.sign]; sign.Bad == vitals.Upward {
				want = s.Tail
				if s.Measure.Value < s.Own.Mid {
					want = 1 - s.Tail
				}
			}
			near(t, string(s.Sign), p.toward, want, 1e-9)
		}
	}
}
