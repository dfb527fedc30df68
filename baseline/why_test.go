package baseline

import (
	"math"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// The weights against what is known without the model: one reading and the assumptions share as
// in the normal closed form averaged over sigma; equal readings long ago share alike; a bad day
// counts for next to nothing, a reading before a new level for nothing.
func TestWeightsOfReadings(t *testing.T) {
	t.Parallel()
	why := func(h vitals.Horse, night vitals.Exam, exams ...vitals.Exam) *WhyMeasured {
		x, err := learned(h, exams...).Explain(night)
		td.Require(t).CmpNoError(err)
		return x.Signs[0].Measured
	}
	first := why(aHorse(), tonight(60, heart(36)), quiet(0, heart(36)))
	p, _ := priorOf(vitals.HeartRate, vitals.TypeHorse)
	r := p.at(-1)
	sum, total := 0.0, 0.0
	for u := -5.0; u <= 5; u += .01 { // the drift, forgotten after two months, counts as noise
		for _, b := range level.Drifts(true) {
			v := r.sigma0 * r.sigma0 * math.Exp(2*level.Omega*u) / (1 - b.Share*level.WithinSpan(spanDays, b.Days))
			left := math.Exp(-60/b.Days) * b.Share * v
			e := r.tau*r.tau + v + first.Readings[0].SD*first.Readings[0].SD
			w := b.Weight * math.Exp(-u*u/2) * math.Exp(-(36-r.m0)*(36-r.m0)/2/e) / math.Sqrt(e)
			sum, total = sum+w*(r.tau*r.tau+left)/e, total+w
		}
	}
	near(t, "share of a single reading", first.Readings[0].Share, sum/total, .02)
	near(t, "the rest", first.PriorShare, 1-first.Readings[0].Share, 1e-9)

	var weekly []vitals.Exam
	for i := range 6 {
		weekly = append(weekly, quiet(float64(30*i), heart(35+i%2)))
	}
	six := why(aHorse(), tonight(2000, heart(36)), weekly...)
	for i, w := range six.Readings {
		td.Cmp(t, w.Share, td.Between(.08, .28))
		td.CmpTrue(t, i == 0 || w.Share > six.Readings[i-1].Share, "an older exam counts for less")
	}
	td.Cmp(t, six.PriorShare, td.Between(.005, .1))

	weekly = append(weekly, quiet(175, heart(55)))
	odd := why(aHorse(), tonight(2000, heart(36)), weekly...)
	td.Cmp(t, odd.Readings[6].Odd, td.Gt(.9))
	td.Cmp(t, odd.Readings[6].Share, td.Lt(.02))

	h := aHorse()
	h.NewUsual = []vitals.NewUsual{{Sign: vitals.HeartRate, From: weekly[3].At, Said: weekly[5].At}}
	marked := why(h, tonight(176, heart(36)), weekly[:6]...)
	for i, w := range marked.Readings {
		if i < 3 {
			td.Cmp(t, w.Share, td.Between(-.01, .01))
		} else {
			td.Cmp(t, w.Share, td.Gt(.2))
		}
	}
	// The three parts are those of the interval.
	half := (marked.Own.High - marked.Own.Low) / 2
	parts := 1.96 * math.Sqrt(marked.Doubt*marked.Doubt+marked.Spread*marked.Spread+marked.Method*marked.Method)
	td.Cmp(t, parts, td.Between(.8*half, 1.2*half))
}

// What is explained is what was compared: the same statements, probabilities and parts, in the same order.
func TestExplanationIsOfTheComparison(t *testing.T) {
	t.Parallel()
	b := learned(aHorse(), quiet(0, heart(34), degrees("37.6"), shown(vitals.GutSounds, "gut-upper-left", "usual")), quiet(7, heart(36), degrees("37.5")))
	e := tonight(20, heart(50), degrees("38.9"), shown(vitals.GutSounds, "gut-upper-left", "none"), shown(vitals.GutSounds, "gut-upper-right", "usual"),
		shown(vitals.Doing, "", "lying"), vitals.Finding{Sign: vitals.GumColour, Absent: vitals.CouldNot})
	c, err := b.Compare(e)
	td.Require(t).CmpNoError(err)
	x, err := b.Explain(e)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, x.Signs, td.Len(len(c.Signs)))
	for i, w := range x.Signs {
		s := c.Signs[i]
		td.Cmp(t, []any{w.Sign, w.Site, w.Statement}, []any{s.Sign, s.Site, s.Statement})
		switch {
		case w.Measured != nil:
			td.Cmp(t, []any{w.Measured.P, w.Measured.Own, w.Measured.Value}, []any{s.P, *s.Own, s.Measure.Value})
		case w.Graded != nil:
			td.Cmp(t, []any{w.Graded.P, w.Graded.Seen}, []any{s.P, s.Seen})
		default:
			td.Cmp(t, s.Sign, vitals.Doing)
		}
	}
	td.Cmp(t, x.Overall.P, c.Overall.P)
	td.Cmp(t, x.Overall.Parts, td.Len(c.Overall.Signs))
	var ps []float64
	for _, p := range x.Overall.Parts {
		ps = append(ps, p.P)
	}
	// The rarest of so many is as rare as it at least, and at most that often (Bonferroni); few exams are counted here.
	td.Cmp(t, c.Overall.P, td.Between(ps[0]/2, 30*ps[0]))
	_, err = b.Explain(tonight(0, vitals.Finding{Sign: "no-such-sign"}))
	td.CmpError(t, err)
}
