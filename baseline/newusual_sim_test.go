package baseline

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// hearts is a horse's history of one sign as the comparison has it, readings on the hour of spring.
func heartSeries(ps []level.Reading, days ...vitals.NewUsual) series {
	p, _ := priorOf(vitals.HeartRate, vitals.TypeHorse)
	sign, _ := vitals.Lookup(vitals.HeartRate)
	s := series{horse: aHorse(), sign: sign, prior: p, row: p.at(-1), fits: new(level.Cache)}
	s.horse.NewUsual = days
	for i, q := range ps {
		at := spring.Add(time.Duration(q.Day * 24 * float64(time.Hour)))
		s.exams = append(s.exams, Learned{At: at, Value: q.Y, SD: q.SD})
		s.ways = append(s.ways, way{})
		s.points = append(s.points, level.Reading{Day: day(at), Hour: hour(at), Y: q.Y, SD: q.SD, ID: strconv.Itoa(100 + i)})
	}
	if u, ok := s.horse.UsualFrom(sign.ID, "", s.exams[len(s.exams)-1].At); ok {
		s.since(u)
	}
	return s
}

// How often the question comes in vain, of horses that stay as they are (from the sixth quiet reading
// on, looked at after each of 35), and whether it has come by the third, fourth and fifth reading of a
// horse that settles three of its own SDs higher after fifteen.
func TestQuestionInVainAndInTime(t *testing.T) {
	t.Parallel()
	p, _ := priorOf(vitals.HeartRate, vitals.TypeHorse)
	r := p.at(-1)
	for _, v := range []struct {
		name          string
		step, phi     float64
		vain, in3, at float64
	}{{"daily", 1, 0, .012, .80, .80}, {"weekly", 7, 0, .012, .74, .80}, {"weekly, drifting", 7, .7, .06, .74, .74}} {
		h := simHerd{set: level.Setting{M0: r.m0, Tau: r.tau, Sigma0: r.sigma0, Omega: .35}, phi: v.phi, days: 20, step: v.step, methods: []float64{.45}}
		rng := rand.New(rand.NewPCG(2071, uint64(v.step)))
		var looks, vain, ever, horses float64
		var came [6]float64
		for range reps(40, 1000) {
			o := h.horse(rng, 40)
			horses++
			asked := false
			for n := 6; n <= 40; n++ {
				s := heartSeries(o.ps[:n])
				looks++
				if s.asked(s.exams[n-1].At, nil, Learned{}) != nil {
					vain++
					asked = true
				}
			}
			if asked {
				ever++
			}
			for k := 15; k < 20; k++ {
				o.ps[k].Y += 3 * o.sigma
				s := heartSeries(o.ps[:k+1])
				if q := s.asked(s.exams[k].At, nil, Learned{}); q != nil && q.Side == Higher {
					came[k-14]++
				}
			}
		}
		share := func(x float64) average {
			a := average{n: horses, sum: x, square: x}
			return a
		}
		t.Logf("%s: in vain at %.4f of looks, to %.3f of horses within 35 looks; +3 SD: by the third reading %.3f, fourth %.3f, fifth %.3f (se %.3f)",
			v.name, vain/looks, ever/horses, came[3]/horses, came[4]/horses, came[5]/horses, share(came[3]).se())
		atMost(t, v.name+": in vain, of looks", 0, vain/looks, share(ever).se()*ever/horses, v.vain)
		atLeast(t, v.name+": by the third", 3, share(came[3]), v.in3)
		atLeast(t, v.name+": by the fifth", 5, share(came[5]), v.at)
	}
}

// What the cheap look rules out, the model itself does not ask, but where the level wandered from its mean before (one in a hundred at
// most): of temperatures at all hours, of mornings only with a change read in the
// evening, and of mornings and evenings by turns, with changes of every size.
func TestBesideRulesOutNothingAsked(t *testing.T) {
	t.Parallel()
	p, ok := priorOf(vitals.RectalTemperature, vitals.TypeHorse)
	td.Require(t).True(ok)
	row := p.at(-1)
	asked, ruledOut, wrong := 0, 0, 0
	for k := range reps(120, 3000) {
		rng := rand.New(rand.NewPCG(404, uint64(k)))
		n, days := level.OutwardFrom+3+rng.IntN(60), askDays+rng.IntN(askMost-askDays+1)
		step := []float64{0, 4 * rng.NormFloat64() * row.sigma0}[k%2]
		swing, peak := rhythmAmplitude+rhythmAmplitudeSD*rng.NormFloat64(), rhythmFrom+(rhythmTo-rhythmFrom)*rng.Float64()
		points := make([]level.Reading, n+days)
		mu := row.m0 + row.tau*rng.NormFloat64()
		for i := range points {
			hour := []float64{24 * rng.Float64(), 7, []float64{7, 19}[i%2]}[k%3]
			if k%3 == 1 && i >= n {
				hour = 19
			}
			y := mu + swing*math.Cos(2*math.Pi*(hour-peak)/24) + row.sigma0*rng.NormFloat64()
			if i >= n {
				y += step
			}
			points[i] = level.Reading{Day: float64(i) + hour/24, Hour: hour, SD: .12, Y: y, ID: strconv.Itoa(i)}
		}
		s := series{sign: vitals.Sign{ID: vitals.RectalTemperature}, prior: p, row: row, points: points, fits: new(level.Cache)}
		at := spring.AddDate(0, 0, len(points))
		day := s.dayOf(at)
		base, run := s, points[n:]
		base.points = points[:n]
		if base.beside(run, day) {
			if oneSide(base.plain(at), run, 30) != "" && oneSide(base.fit(at), run, 1) != "" {
				asked++
			}
			continue
		}
		ruledOut++
		if side := oneSide(base.plain(at), run, 30); side != "" && oneSide(base.fit(at), run, 1) != "" {
			wrong++
			t.Logf("history %d, %d readings, %d days, a step of %.2f: ruled out, and asked whether it is %s", k, n, days, step, side)
		}
	}
	t.Logf("%d asked, %d ruled out, %d of them in vain", asked, ruledOut, wrong)
	if 100*wrong > ruledOut || ruledOut < 5 || asked < 10 {
		t.Error("the cheap look is no good")
	}
}
