package baseline

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/level"
	"whorl.example/baseline/internal/normal"
	"whorl.example/vitals"
)

var planDay = time.Date(2025, 6, 1, 8, 0, 0, 0, time.UTC)

// With sigma known (truths of one SD) and no drift, the width is that of the normal with
// the level's own uncertainty: Var(mu) = 1/(1/tau²+n/(sigma²+s²)), by hand.
func TestPlanWidthByHand(t *testing.T) {
	t.Parallel()
	only := planPoint{ve: 9, days: 1, weight: 1}
	m := planModel{tau: 5, points: []planPoint{only}, truths: []planPoint{only}}
	for n, want := range map[int]float64{0: 2 * normal.Z975 * math.Sqrt(25+9+.25), 4: 2 * normal.Z975 * math.Sqrt(1/(1./25+4/9.25)+9+.25)} {
		nearTo(t, m.width(every(n, 30), .5), want, 1e-6)
	}
	nearTo(t, m.attainable(.5), 2*normal.Z975*math.Sqrt(9.25), 1e-9)
}

// The same prediction before the first exam as that of the level itself.
func TestPlanWidthAgreesWithLevelAtStart(t *testing.T) {
	t.Parallel()
	r := row{m0: 35, tau: 5, sigma0: 2.5}
	lo, hi := level.New(level.Setting{M0: 35, Tau: 5, Sigma0: 2.5, Omega: level.Omega, SpanDays: spanDays, Drift: true}).Predict(0, 8, .45).Limits(.95)
	nearTo(t, newPlanModel(r, true).width(nil, .45), hi-lo, .02)
}

// Promised and realised width, over the attainable one: horses drawn from the model,
// examined by the plan and by three others, judged on a day long after. Seed 20250612;
// 400 horses a plan (4000 in the long form); both figures are ratios of means over the same
// horses, and their Monte-Carlo standard errors are printed.
func TestPlanPromiseKept(t *testing.T) {
	t.Parallel()
	horses := 400
	if os.Getenv("WHORL_LONG") != "" {
		horses = 4000
	}
	r := row{m0: 35, tau: 5, sigma0: 2.5}
	const s = .45
	m := newPlanModel(r, true)
	set := level.Setting{M0: r.m0, Tau: r.tau, Sigma0: r.sigma0, Omega: level.Omega, SpanDays: spanDays, Drift: true}
	attainable := m.attainable(s)
	for _, c := range []struct {
		name string
		days []float64
	}{{"plan", every(17, 182)}, {"daily", every(17, 16)}, {"monthly", every(17, 480)}, {"weekly, 8", every(8, 49)}, {"weekly, 3", every(3, 14)}} {
		rng := rand.New(rand.NewPCG(20250612, 1))
		widths, known := make([]float64, horses), make([]float64, horses)
		covered := 0.0
		for h := range horses {
			// Truths by the grid's own weights, one stratum a horse, so that rare volatile
			// horses do not decide the mean.
			u := (float64(h) + rng.Float64()) / float64(horses)
			truth := m.points[len(m.points)-1]
			for _, p := range m.points {
				if u -= p.weight; u < 0 {
					truth = p
					break
				}
			}
			mu := r.m0 + r.tau*rng.NormFloat64()
			d := math.Sqrt(truth.vd) * rng.NormFloat64()
			l := level.New(set)
			last := 0.0
			var points []level.Reading
			for i, day := range c.days {
				keep := math.Exp(-(day - last) / truth.days)
				d = keep*d + math.Sqrt(truth.vd*(1-keep*keep))*rng.NormFloat64()
				last = day
				points = append(points, level.Reading{Day: day, SD: s, ID: fmt.Sprint(i), Y: mu + d + math.Sqrt(truth.ve+s*s)*rng.NormFloat64()})
			}
			l.Fit(points)
			lo, hi := l.Predict(1e5, 8, s).Limits(.95)
			sd := math.Sqrt(truth.vd + truth.ve + s*s)
			widths[h], known[h] = hi-lo, 2*normal.Z975*sd
			covered += (normal.Upper((lo-mu)/sd) - normal.Upper((hi-mu)/sd)) / float64(horses)
		}
		var w, k, square float64
		for h := range horses {
			w, k = w+widths[h], k+known[h]
		}
		realised := w / k
		for h := range horses {
			square += (widths[h] - realised*known[h]) * (widths[h] - realised*known[h])
		}
		se := math.Sqrt(square) / k
		promised := m.width(c.days, s) / attainable
		t.Logf("%-9s promised %.3f realised %.3f (MC se %.3f), coverage %.3f", c.name, promised, realised, se, covered)
		td.Cmp(t, realised, td.Between(promised-.02-2*se, promised+.02+2*se), c.name)
	}
}

// Spreading the same exams over more time never widens, nor does an exam more; a shift in time changes nothing.
func TestPlanOrder(t *testing.T) {
	t.Parallel()
	m := newPlanModel(row{m0: 35, tau: 5, sigma0: 2.5}, true)
	for _, n := range []int{1, 2, 3, 6, 10} {
		for _, span := range []float64{0, .5, 4, 20, 60} {
			w := m.width(every(n, span), .45)
			td.Cmp(t, m.width(every(n+1, span), .45), td.Lt(w), fmt.Sprint(n, span))
			td.Cmp(t, m.width(every(n, span*2), .45), td.Lte(w+1e-9), fmt.Sprint(n, span))
			shifted := every(n, span)
			for i := range shifted {
				shifted[i] += 1000
			}
			nearTo(t, m.width(shifted, .45), w, 1e-6*w)
		}
	}
}

func TestPracticePlan(t *testing.T) {
	t.Parallel()
	b := must(New(vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse}))
	p := b.PracticePlan(planDay, 0)
	td.CmpTrue(t, p.Reached)
	td.Cmp(t, p.Exams, td.Between(8, 26))
	td.Cmp(t, p.Ratio, td.Between(1.0, planGoal))
	for _, s := range p.Signs {
		td.CmpTrue(t, s.Attainable < s.After && s.After < s.Before, string(s.Sign))
	}
	// One exam fewer does not do.
	signs := b.plannedSigns(planDay)
	td.Cmp(t, worst(signs, every(p.Exams-1, p.Days)), td.Gt(planGoal))
	// Against the naive ways to spend the same exams.
	byID := map[string]float64{}
	for _, o := range p.Others {
		byID[o.ID] = o.Ratio
	}
	td.CmpTrue(t, byID["at-once"] > byID["daily"] && byID["daily"] > p.Ratio, fmt.Sprint(byID))
	// Inside a week no plan gets there.
	td.CmpFalse(t, b.PracticePlan(planDay, 7).Reached)
	foal := must(New(vitals.Horse{ID: "foal", Name: "Juniper", Type: vitals.TypeHorse, Born: vitals.DateOf(planDay.AddDate(0, -3, 0))}))
	td.CmpTrue(t, foal.PracticePlan(planDay, 14).Growing)
	td.CmpFalse(t, p.Growing)
	// Odd input: no panic.
	for _, days := range []int{-5, 100000} {
		(&Baseline{}).PracticePlan(time.Time{}, days)
	}
}

// quietHeart is a weekly history of heart rates.
func quietHeart(n int, heart ...int) []vitals.Exam {
	var out []vitals.Exam
	for i := range n {
		out = append(out, vitals.Exam{
			ID: vitals.ID(fmt.Sprint("quiet-", i)), Horse: "juniper", At: planDay.AddDate(0, 0, 7*(i-n)), Status: vitals.Finished, Purpose: vitals.Learning,
			Wellness: vitals.Well, State: vitals.State{Condition: vitals.AtRest}, Depth: vitals.Full,
			Findings: []vitals.Finding{{Sign: vitals.HeartRate, Count: &vitals.Count{Events: heart[i%len(heart)], Seconds: 60, Start: vitals.Anywhere}}},
		})
	}
	return out
}

func juniper(exams []vitals.Exam) *Baseline {
	b := must(New(vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse}))
	for _, e := range exams {
		must(b.Learn(e))
	}
	return b
}

func TestNextTeaches(t *testing.T) {
	t.Parallel()
	for _, n := range []int{0, 1, 4, 12} {
		ts := juniper(quietHeart(n, 34, 37, 35)).NextTeaches(planDay)
		td.Cmp(t, ts, td.Len(len(planLead)))
		heart := ts[0]
		td.Cmp(t, heart.Sign, vitals.HeartRate)
		td.Cmp(t, heart.Next, td.Len(3))
		today, tomorrow, week := heart.Next[0], heart.Next[1], heart.Next[2]
		// A week on teaches more than tomorrow, and every exam narrows in expectation.
		td.CmpTrue(t, week.Width < tomorrow.Width && tomorrow.Width <= today.Width && today.Width < heart.Width, fmt.Sprintf("%d: %+v", n, heart))
	}
}

// The expected width against sampling what the next exam reads. Seed 20250613; 150 draws.
func TestNextTeachesAgainstSampling(t *testing.T) {
	t.Parallel()
	b := juniper(quietHeart(4, 34, 37, 35))
	heart := b.NextTeaches(planDay)[0]
	exams, _ := b.trainingAt(planDay, "")
	p := b.plannedSigns(planDay)[0]
	s := b.history(p.sign, "", p.prior, planDay, exams)
	next := s.fit(planDay).Predict(day(planDay), hour(planDay), p.sd)
	rng := rand.New(rand.NewPCG(20250613, 1))
	var sum, square float64
	const draws = 150
	for range draws {
		y := next.Quantile(rng.Float64())
		l := level.Fit(s.setting(planDay), append(append([]level.Reading(nil), s.points...), level.Reading{Day: day(planDay), Hour: hour(planDay), Y: y, SD: p.sd, ID: "x"}))
		lo, hi := l.Predict(day(planDay.Add(teachingHorizon)), hour(planDay), p.sd).Limits(.95)
		sum, square = sum+hi-lo, square+(hi-lo)*(hi-lo)
	}
	mean := sum / draws
	se := math.Sqrt((square/draws - mean*mean) / draws)
	t.Logf("expected width: 16 nodes %.3f, sampled %.3f (MC se %.3f)", heart.Next[0].Width, mean, se)
	nearTo(t, heart.Next[0].Width, mean, 3*se+.01*mean)
}

func TestPlanSaid(t *testing.T) {
	t.Parallel()
	p := juniper(nil).PracticePlan(planDay, 0)
	td.Cmp(t, []any{p.Reached, p.Days, p.EveryDays}, []any{true, 182., 182 / float64(p.Exams-1)})
	heart := juniper(nil).plannedSigns(planDay)[0]
	days := every(p.Exams, 182)
	for i, s := range p.Signs {
		td.CmpTrue(t, i == 0 || s.After/s.Before >= p.Signs[i-1].After/p.Signs[i-1].Before, "the one that gains most first")
		td.Cmp(t, s.Exams, td.Between(1, p.Exams))
		if s.Sign == vitals.HeartRate {
			for got, want := range map[float64]float64{
				s.Before: heart.model.width(nil, heart.sd), s.After: heart.model.width(days, heart.sd), s.Attainable: heart.model.attainable(heart.sd),
			} {
				nearTo(t, got, heart.wide(want), 1e-9)
			}
		}
	}
	for i, want := range []OtherPlan{{ID: "at-once"}, {ID: "daily", EveryDays: 1}, {ID: "monthly", EveryDays: 30}} {
		o := p.Others[i]
		td.Cmp(t, []any{o.ID, o.EveryDays, o.Days}, []any{want.ID, want.EveryDays, want.EveryDays * float64(p.Exams-1)})
		td.Cmp(t, o.Ratio, td.Gt(1.))
	}
}
