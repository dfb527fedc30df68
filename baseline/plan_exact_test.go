package baseline

import (
	"fmt"
	"math"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/grade"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// Two and three readings with a drift, by the formulas of their inverses: the level's variance is what the regression on
// the readings leaves of it, and a matrix times its inverse is one.
func TestPlanFitByHand(t *testing.T) {
	t.Parallel()
	m := planModel{tau: 3}
	p := planPoint{vd: 4, ve: 2, days: 10, weight: 1}
	const s = .5
	// Two readings five days apart: variance a = 9+4+2+.25, covariance c = 9+4/sqrt(e); both tell of the level alike,
	// so that 9 - 9²·2/(a+c) is left.
	a, c := 15.25, 9+4*math.Exp(-.5)
	f := m.fit(p, []float64{2, 7}, s)
	near(t, "level", f.level, 9-162/(a+c), 1e-12)
	near(t, "log of the determinant", f.logDet, math.Log(a*a-c*c), 1e-12)
	for i, want := range []float64{a, -c, -c, a} {
		near(t, "inverse", f.inverse.a[i], want/(a*a-c*c), 1e-12)
	}
	// Three, one and then three days apart, by cofactors.
	days := []float64{0, 1, 4}
	v := newPlanMatrix(3)
	m.covariance(v, p, days, s)
	for i := range 3 {
		for j := range 3 {
			want := 9 + 4*math.Exp(-math.Abs(days[i]-days[j])/10)
			if i == j {
				want = 15.25
			}
			near(t, "covariance", v.a[3*i+j], want, 1e-12)
		}
	}
	at := func(i, j int) float64 { return v.a[3*(i%3)+j%3] }
	cofactor := func(i, j int) float64 { return at(i+1, j+1)*at(i+2, j+2) - at(i+1, j+2)*at(i+2, j+1) }
	det := at(0, 0)*cofactor(0, 0) + at(0, 1)*cofactor(0, 1) + at(0, 2)*cofactor(0, 2)
	f = m.fit(p, days, s)
	near(t, "log of the determinant", f.logDet, math.Log(det), 1e-11)
	sum := 0.0
	for i := range 3 {
		for j := range 3 {
			near(t, "inverse", f.inverse.a[3*i+j], cofactor(i, j)/det, 1e-11)
			sum += cofactor(i, j) / det
		}
	}
	near(t, "level", f.level, 9-81*sum, 1e-11)
	near(t, "trace", f.trace(v), 3, 1e-11)
}

// Chi² over its degrees of freedom, from the printed tables, within what Wilson and Hilferty's cube leaves.
func TestPlanSpreadsAreChiSquares(t *testing.T) {
	t.Parallel()
	td.Cmp(t, planSpreads(0), []float64{1})
	for n, want := range map[int][]float64{
		10: {4.865, 7.267, 9.342, 11.781, 15.987},
		20: {12.443, 16.266, 19.337, 22.775, 28.412},
	} {
		for i, q := range planSpreads(n) {
			near(t, fmt.Sprint(n, i), float64(n)*q, want[i], .03)
		}
	}
}

// The prior of a plan: weights of one, variances that span what the horse shows within a month, the middle at sigma0.
func TestPlanPrior(t *testing.T) {
	t.Parallel()
	m := newPlanModel(row{m0: 35, tau: 5, sigma0: 2.5}, false)
	td.Cmp(t, len(m.points), planFine)
	total, attainable := 0.0, 0.0
	for i, p := range m.points {
		u := .2 * float64(i-25)
		near(t, "variance", p.vd+p.ve, 6.25*math.Exp(2*level.Omega*u), 1e-9*p.ve)
		near(t, "weight", p.weight/m.points[25].weight, math.Exp(-u*u/2), 1e-12)
		total += p.weight
	}
	near(t, "weights", total, 1, 1e-12)
	norm := 0.0
	for i, p := range m.truths {
		u := .8 * float64(i-3)
		near(t, "true variance", p.vd+p.ve, 6.25*math.Exp(2*level.Omega*u), 1e-9*p.ve)
		attainable += math.Exp(-u*u/2) * 2 * 1.959963984540054 * math.Sqrt(6.25*math.Exp(2*level.Omega*u)+.25)
		norm += math.Exp(-u * u / 2)
	}
	near(t, "attainable", m.attainable(.5), attainable/norm, 1e-9)
	// With drift the horse shows sigma0 within the span: what is left of the drift's share over it counts as seen.
	for _, p := range newPlanModel(row{m0: 35, tau: 5, sigma0: 2.5}, true).points[planFine*len(level.Drifts(true))-26:][:1] {
		b := level.Drifts(true)[len(level.Drifts(true))-1]
		near(t, "seen", p.ve+p.vd*(1-level.WithinSpan(spanDays, b.Days)), 6.25, 1e-9)
		near(t, "share", p.vd/(p.vd+p.ve), b.Share, 1e-12)
	}
}

// The least exams that reach the goal. With sigma known and no drift, by hand: 1/(1/tau²+n/9.25) is to be at most
// 1.1²-1 of 9.25, so that n is at least 4.76-9.25/tau², and one at the least. With drift, by trying every number.
func TestPlanIsTheLeast(t *testing.T) {
	t.Parallel()
	td.Cmp(t, every(1, 30), []float64{0})
	td.Cmp(t, every(4, 30), []float64{0, 10, 20, 30})
	known := func(tau, vd, days float64) plannedSign {
		only := planPoint{vd: vd, ve: 9, days: days, weight: 1}
		return plannedSign{model: planModel{tau: tau, points: []planPoint{only}, truths: []planPoint{only}}, sd: .5}
	}
	for tau, want := range map[float64]int{1000: 5, 5: 5, 3: 4, 2: 3, 1.6: 2, 1: 1} {
		td.Cmp(t, known(tau, 0, 1).needs(30), want, fmt.Sprint(tau))
	}
	td.Cmp(t, known(5, 40, 1e6).needs(30), 0, "a drift that stays as it is in the span")
	for _, days := range []float64{2, 5, 9, 14} {
		s := known(5, 9, days)
		want := 0
		for n := 1; n <= planMost && want == 0; n++ {
			if s.model.width(every(n, 180), s.sd) <= planGoal*s.model.attainable(s.sd) {
				want = n
			}
		}
		td.Cmp(t, s.needs(180), want, fmt.Sprint(days))
	}
	n := gradedExams()
	share := func(n int) float64 { return grade.Weight * grade.PriorTail[1] / (grade.Weight + float64(n)) }
	td.CmpTrue(t, share(n) < .01-1e-9 && share(n-1) >= .01-1e-9)
	for _, s := range juniper(nil).plannedSigns(planDay) {
		near(t, "a width in the unit", s.wide(.4), s.prior.unscale(s.row.m0+.2)-s.prior.unscale(s.row.m0-.2), 1e-12)
	}
}

// What the next exam teaches, where all is normal: the share that it takes away is of the width without it.
func TestTeachingAddsUp(t *testing.T) {
	t.Parallel()
	for _, teaching := range juniper(quietHeart(2, 34, 37)).NextTeaches(planDay) {
		td.Cmp(t, []int{teaching.Next[0].InDays, teaching.Next[1].InDays, teaching.Next[2].InDays}, []int{0, 1, 7})
		for _, n := range teaching.Next {
			near(t, "narrower", n.Narrower, (teaching.Width-n.Width)/teaching.Width, 1e-12)
			td.CmpTrue(t, n.Narrower > 0 && n.Narrower < .3, string(teaching.Sign))
		}
	}
	td.Cmp(t, planLead[0], vitals.HeartRate)
}
