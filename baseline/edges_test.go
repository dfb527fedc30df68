package baseline

import (
	"math"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/grade"
	"whorl.example/vitals"
)

// What the record holds of a sign: each place of its own, the latest of more than are asked for, none without a value and none of a
// draft.
func TestPastOfASite(t *testing.T) {
	t.Parallel()
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
	t.Parallel()
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
	t.Parallel()
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
		var own []grade.Answer
		for _, g := range c.own {
			own = append(own, grade.Answer{Chosen: g})
		}
		chosen, n := grade.Usual(own)
		td.Cmp(t, []any{chosen, n}, []any{c.want, c.n}, "%v", c.own)
	}
}

// A reading of a young animal counts by how far it is from what is expected at its age: a foal of one day and of two.
func TestReadingsOfTheFirstDays(t *testing.T) {
	t.Parallel()
	born := spring.Add(-time.Hour * time.Duration(spring.Hour()))
	foal := vitals.Horse{ID: "h1", Name: "Juniper", Type: vitals.TypeHorse, Born: vitals.DateOf(born)}
	p, _ := priorOf(vitals.HeartRate, vitals.TypeHorse)
	sign, _ := vitals.Lookup(vitals.HeartRate)
	for _, days := range []float64{1, 2, 30} {
		e := quiet(0, heart(90))
		e.At = foal.Born.In(spring.Location()).Add(time.Duration(days * 24 * float64(time.Hour)))
		b := learned(foal, e)
		at := e.At.Add(time.Hour)
		v, _ := b.trainingAt(at, "")
		s := b.history(sign, "", p, at, v)
		td.Require(t).Cmp(s.points, td.Len(1))
		near(t, "reading", s.points[0].Y, 90-p.at(days).m0+p.at(days+1./24).m0, 1e-9)
	}
}

// The hour of a time, by hand.
func TestSmallThingsByHand(t *testing.T) {
	t.Parallel()
	near(t, "hour", hour(time.Date(2026, 5, 3, 17, 45, 36, 0, time.UTC)), 17.76, 1e-12)
}

// How a finding could be measured better: a shorter count as one over a minute, tries too few or counted aloud as three, another
// thermometer as the digital one; with the uncertainty that such a finding has.
func TestBetterWays(t *testing.T) {
	t.Parallel()
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
		s := settle(&sign, &f, m, func(sd float64) float64 {
			near(t, "of the better kind", p.scaleSD(m.Value, sd), whole.SD, 1e-12)
			return changeChance(distance, m.SD, p.scaleSD(m.Value, sd))
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
	t.Parallel()
	b := learned(aHorse(), quiet(0, heart(34), degrees("37.6")), quiet(7, heart(36), degrees("37.5")))
	for _, e := range []vitals.Exam{tonight(20, heart(52), degrees("38.9")), tonight(20, heart(22), degrees("36.2"))} {
		c, all, err := b.compare(e)
		td.Require(t).CmpNoError(err)
		for _, p := range all.contributions {
			s := c.Signs[p.index]
			want := s.P
			if sign := catalogue.Signs()[p.sign]; sign.Bad == vitals.Upward {
				want = s.Tail
				if s.Measure.Value < s.Own.Mid {
					want = 1 - s.Tail
				}
			}
			near(t, string(s.Sign), p.toward, want, 1e-9)
		}
	}
}
