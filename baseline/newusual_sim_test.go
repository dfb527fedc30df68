package baseline

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// A horse that settles three of its own SDs higher after fifteen readings: how often the next
// reading there is covered, without the mark, with it, and by a new horse's interval
// from the readings at the new level alone. Weekly and daily readings, a third of the horses each
// without drift, with a weak one, with a strong one.
func TestNewLevelCovers(t *testing.T) {
	for _, v := range []struct {
		name      string
		step, phi float64
	}{{"daily", 1, 0}, {"weekly", 7, 0}, {"weekly, with a drift", 7, .5}} {
		s := newShipped(with(heartPrior(), omega, true, false))
		for _, k := range []int{0, 1, 2, 3, 5, 10} {
			rng := rand.New(rand.NewPCG(2061, uint64(k)))
			h := simHerd{set: heartPrior(), step: v.step, phi: v.phi, days: 20}
			var without, marked, fresh tally
			for range reps(200, 4000) {
				o := h.horse(rng, 15+k)
				o.next += 3 * o.sigma
				o.mu += 3 * o.sigma
				for i := 15; i < len(o.ps); i++ {
					o.ps[i].Y += 3 * o.sigma
				}
				today := float64(15+k) * v.step
				judge := func(l *level, to *tally) {
					lo, hi := l.predict(today, 0, 0).Limits(.95)
					to.add(h, o, lo, hi)
				}
				judge(s.fit(o.ps, 0, today), &without)
				judge(s.fit(o.ps[15:], 0, today), &fresh)
				if k > 0 {
					o.ps[15].New = true
				}
				l := s.fit(o.ps, 15, today)
				if k == 0 {
					l.renew()
				}
				judge(l, &marked)
			}
			t.Logf("%s, %d readings at the new level: without the mark %.3f (%.3f) / %.2f, with it %.3f (%.3f) / %.2f, a new horse %.3f / %.2f", v.name, k,
				without.cover.mean(), without.cover.se(), without.ratio(), marked.cover.mean(), marked.cover.se(), marked.ratio(), fresh.cover.mean(), fresh.ratio())
			// Before the first reading there the mark only says that nothing is known.
			atLeast(t, v.name+": with the mark", k, marked.cover, .93)
			if k > 0 && marked.ratio() > fresh.ratio() {
				t.Errorf("%s, %d: wider than a new horse's, though the spread is known", v.name, k)
			}
			if k == 10 {
				atLeast(t, v.name+": without the mark, after ten", k, without.cover, .87)
			}
		}
	}
}

// hearts is a horse's history of one sign as the comparison has it, readings on the hour of spring.
func heartSeries(ps []point, days ...vitals.NewUsual) series {
	p, _ := priorOf(vitals.HeartRate, vitals.TypeHorse)
	sign, _ := vitals.Lookup(vitals.HeartRate)
	s := series{horse: aHorse(), sign: sign, prior: p, row: p.at(-1), fits: new(fits)}
	s.horse.NewUsual = days
	for i, q := range ps {
		at := spring.Add(time.Duration(q.Day * 24 * float64(time.Hour)))
		s.exams = append(s.exams, Learned{At: at, Value: q.Y, SD: q.SD})
		s.ways = append(s.ways, way{})
		s.points = append(s.points, point{Day: day(at), Hour: hour(at), Y: q.Y, SD: q.SD, ID: itoa(100 + i)})
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
	p, _ := priorOf(vitals.HeartRate, vitals.TypeHorse)
	r := p.at(-1)
	for _, v := range []struct {
		name          string
		step, phi     float64
		vain, in3, at float64
	}{{"daily", 1, 0, .012, .80, .80}, {"weekly", 7, 0, .012, .74, .80}, {"weekly, drifting", 7, .7, .06, .74, .74}} {
		h := simHerd{set: setting{M0: r.m0, Tau: r.tau, Sigma0: r.sigma0, Omega: .35}, phi: v.phi, days: 20, step: v.step, methods: []float64{.45}}
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
	p, ok := priorOf(vitals.RectalTemperature, vitals.TypeHorse)
	td.Require(t).True(ok)
	row := p.at(-1)
	asked, ruledOut, wrong := 0, 0, 0
	for k := range reps(120, 3000) {
		rng := rand.New(rand.NewPCG(404, uint64(k)))
		n, days := outwardFrom+3+rng.IntN(60), askDays+rng.IntN(askMost-askDays+1)
		step := []float64{0, 4 * rng.NormFloat64() * row.sigma0}[k%2]
		swing, peak := rhythmAmplitude+rhythmAmplitudeSD*rng.NormFloat64(), rhythmFrom+(rhythmTo-rhythmFrom)*rng.Float64()
		points := make([]point, n+days)
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
			points[i] = point{Day: float64(i) + hour/24, Hour: hour, SD: .12, Y: y, ID: itoa(i)}
		}
		s := series{sign: vitals.Sign{ID: vitals.RectalTemperature}, prior: p, row: row, points: points, fits: new(fits)}
		at := spring.AddDate(0, 0, len(points))
		day := s.dayOf(at)
		base, run := s, points[n:]
		base.points = points[:n]
		if base.beside(run, day) {
			if base.plain(at).oneSide(run, 30) != "" && base.fit(at).oneSide(run, 1) != "" {
				asked++
			}
			continue
		}
		ruledOut++
		if side := base.plain(at).oneSide(run, 30); side != "" && base.fit(at).oneSide(run, 1) != "" {
			wrong++
			t.Logf("history %d, %d readings, %d days, a step of %.2f: ruled out, and asked whether it is %s", k, n, days, step, side)
		}
	}
	t.Logf("%d asked, %d ruled out, %d of them in vain", asked, ruledOut, wrong)
	if 100*wrong > ruledOut || ruledOut < 5 || asked < 10 {
		t.Error("the cheap look is no good")
	}
}
