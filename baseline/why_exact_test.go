package baseline

import (
	"math"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// Each figure of an explanation by what it says of itself.
func TestFiguresOfAnExplanation(t *testing.T) {
	t.Parallel()
	var exams []vitals.Exam
	for i := range 5 {
		exams = append(exams, quiet(7*float64(i), heart(34+i%2), degrees([]string{"37.5", "37.7"}[i%2]), counted(vitals.RespiratoryRate, 10+i%3, 60)))
	}
	b := learned(aHorse(), exams...)
	night := tonight(40, heart(38), degrees("37.8"), counted(vitals.RespiratoryRate, 12, 60))
	x, err := b.Explain(night)
	td.Require(t).CmpNoError(err)
	known, _ := b.trainingAt(night.At, night.ID)
	none := must(New(aHorse()))
	td.Require(t).Cmp(len(x.Signs), 3)
	for _, w := range x.Signs {
		m := w.Measured
		sign, _ := vitals.Lookup(w.Sign)
		p, _ := priorOf(w.Sign, vitals.TypeHorse)
		r := p.at(-1)
		s := b.history(sign, "", p, night.At, known)
		own := s.fit(night.At)
		// SDs are of the unit; of breathing, compared by ratios, they are shares of the middle.
		per := 1.0
		if p.log {
			per = m.Own.Mid
		}
		near(t, "between", m.Between, per*r.tau, 1e-9)
		near(t, "within", m.Within, per*r.sigma0, 1e-9)
		doubt, spread := own.VarianceParts(level.Reading{Day: day(night.At), Hour: hour(night.At), Way: 1})
		near(t, "doubt", m.Doubt, per*doubt, 1e-9)
		near(t, "spread", m.Spread, per*spread, 1e-9)
		c, _ := b.Compare(night)
		_, sd, _ := p.scale(*one(c, w.Sign).Measure)
		near(t, "method", m.Method, per*sd, 1e-9)
		near(t, "wanders", m.Wanders, 1-own.Belief().Steady, 1e-12)
		td.CmpTrue(t, m.Wanders > 0 && m.Wanders < 1)
		// Before the first exam: what a horse of which nothing is known would be told.
		first, err := none.Explain(night)
		td.Require(t).CmpNoError(err)
		for _, f := range first.Signs {
			if f.Sign == w.Sign {
				near(t, "before", m.Before.Low, f.Measured.Own.Low, 1e-9)
				near(t, "before", m.Before.High, f.Measured.Own.High, 1e-9)
				td.Cmp(t, []any{len(f.Measured.Readings), f.Measured.PriorShare, f.Measured.Trend}, []any{0, 1., (*WhyTrend)(nil)})
			}
		}
		rest := 1.0
		for i, got := range m.Readings {
			rest -= got.Share
			// What a share says: the middle moves by so much of what the reading does.
			const step = 1e-3
			middle := func(by float64) float64 {
				points := append([]level.Reading(nil), s.points...)
				points[i].Y += by
				set := s.setting(night.At)
				set.BadDays = false
				return level.Fit(set, points).Predict(day(night.At), hour(night.At), sd).Mean
			}
			near(t, "share", got.Share, (middle(step)-middle(-step))/(2*step), .02)
		}
		near(t, "left for the assumptions", m.PriorShare, rest, 1e-12)
		td.Cmp(t, m.Hour != nil, w.Sign == vitals.RectalTemperature)
		if m.Hour != nil {
			cos, sin := level.Angle(hour(night.At))
			near(t, "hour", *m.Hour, own.Belief().Cos*cos+own.Belief().Sin*sin, 1e-12)
		}
		td.Require(t).NotNil(m.Trend)
		line := s.trend(night.At, own)
		td.Cmp(t, []any{m.Trend.Readings, m.Trend.Stated}, []any{5, false})
		near(t, "from", m.Trend.From, p.unscale(line.From), 1e-12)
		near(t, "to", m.Trend.To, p.unscale(line.To), 1e-12)
	}
	three, err := learned(aHorse(), exams[:3]...).Explain(night)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, whyOf(three, vitals.HeartRate).Measured.Trend, (*WhyTrend)(nil), "three have no direction")
}

func whyOf(x Explanation, sign vitals.SignID) Why {
	for _, w := range x.Signs {
		if w.Sign == sign {
			return w
		}
	}
	return Why{}
}

// The whole is told by signs, the one that weighs most first; the sites of a sign are one part.
func TestPartsOfTheWhole(t *testing.T) {
	t.Parallel()
	e := evidence{[]contribution{{ok: true, sign: 3, p: .5}, {ok: true, sign: 5, p: .2}, {ok: true, sign: 3, p: .01}, {ok: true, sign: 7, p: .9}}}
	x := e.why(Overall{P: .1, Level: alpha})
	all := catalogue.Signs()
	td.Cmp(t, x.Parts, []WhyPart{{Sign: all[3].ID, Sites: 2, P: .01}, {Sign: all[5].ID, P: .2}, {Sign: all[7].ID, P: .9}})
	near(t, "strong", x.Strong, 1-math.Pow(1-alpha, 1./4), 1e-15)
	td.Cmp(t, []any{x.P, x.Level, x.Unusual}, []any{.1, alpha, false})
}
