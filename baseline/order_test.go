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
	t.Parallel()
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
	v, _ := b.trainingAt(at, "")
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
	t.Parallel()
	precise, rare, coarse := contribution{ok: true, sign: 3, p: .5, sd: 1}, contribution{ok: true, sign: 3, p: .1, sd: 1}, contribution{ok: true, sign: 3, p: .01, sd: 2}
	other, site := contribution{ok: true, sign: 4, p: .2, sd: 9}, contribution{ok: true, sign: 3, site: "jaw", p: .3, sd: 9}
	for _, c := range []struct{ add, want []contribution }{
		{[]contribution{precise, coarse}, []contribution{precise}}, {[]contribution{coarse, precise}, []contribution{precise}}, {[]contribution{precise, rare}, []contribution{rare}}, {[]contribution{rare, precise}, []contribution{rare}},
		{[]contribution{precise, other, site, {sign: 5}}, []contribution{precise, other, site}}, {[]contribution{coarse, rare, precise, other}, []contribution{rare, other}},
	} {
		var e evidence
		for _, p := range c.add {
			e.add(p)
		}
		td.Cmp(t, e.contributions, c.want)
	}
}

// Of two exams with one ID the finished one is kept, then the one with more in it, then the later; each is preferred to the other in
// one direction only.
func TestWhichExamIsKept(t *testing.T) {
	t.Parallel()
	b := must(New(aHorse()))
	draft, done, more, later := quiet(0, heart(34), degrees("37.6")), quiet(0, heart(34)), quiet(0, heart(34), degrees("37.6")), quiet(1, heart(34))
	draft.Status = vitals.Draft
	for name, pair := range map[string][2]vitals.Exam{"finished": {done, draft}, "more": {more, done}, "later": {later, done}} {
		kept, left := b.summarise(&pair[0]), b.summarise(&pair[1])
		td.Cmp(t, []bool{kept.preferredTo(left), left.preferredTo(kept)}, []bool{true, false}, name)
	}
	for _, order := range [][]vitals.Exam{{draft, done}, {done, draft}} {
		f := must(NewFit(aHorse()))
		for _, e := range order {
			must(f.Learn(e))
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
	t.Parallel()
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

// Of a sign answered twice in one exam the answer farther from usual counts, whichever comes first.
func TestTheFartherAnswerTeaches(t *testing.T) {
	t.Parallel()
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
		n := must(New(aHorse())).summarise(&e)
		td.Require(t).Cmp(n.answers, td.Len(1))
		td.Cmp(t, n.answers[0].Chosen, []vitals.GradeID{far})
	}
}

// A finding taken hours after its exam began is compared as of then: like that of an exam at that hour.
func TestComparedAtItsOwnHour(t *testing.T) {
	t.Parallel()
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
	t.Parallel()
	h := vitals.Horse{Born: vitals.DateOf(spring)}
	born := h.Born.In(spring.Location())
	for days, want := range map[float64]bool{0: true, 500: true, 1095.7: true, 1095.8: false, 5000: false} {
		td.Cmp(t, growing(h, born.Add(time.Duration(days*24*float64(time.Hour)))), want, "%g days", days)
	}
	td.CmpFalse(t, growing(vitals.Horse{}, spring))
}
