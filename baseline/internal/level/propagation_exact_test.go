package level

import (
	"math"
	"math/rand/v2"
	"testing"

	"whorl.example/baseline/internal/normal"
)

// allWays is the exact answer for any model: at each grid point the filter runs
// over every one of the ways to have had well and bad days. For short histories.
func allWays(set Setting, ps []Reading, day, hour, sd float64) (p *normal.Mixture, bad []float64) {
	ways := (&Model{spread: BadDaySpread}).outlierModel().ways
	set.BadDays = false
	l := New(set)
	n := len(ps)
	share := make([]float64, n+1)
	for c := range share {
		sum := 0.0
		for i, s := range BadDayRates {
			sum += BadDayPrior[i] * math.Pow(s, float64(c)) * math.Pow(1-s, float64(n-c))
		}
		share[c] = math.Log(sum)
	}
	type leaf struct{ logw, mean, variance float64 }
	var leaves []leaf
	var flags [][]bool
	flag := make([]bool, n)
	for k := range l.grid.blocks {
		b := &l.grid.blocks[k]
		for j := 0; j < l.grid.size; j += l.grid.perStep {
			cell := l.grid.cell(k*l.grid.size+j, set.Sigma0)
			c := &cell
			var walk func(i, count int, logp float64, s state, t harmonic)
			walk = func(i, count int, logp float64, s state, t harmonic) {
				if i == n {
					ahead := max(0, day-ps[n-1].Day)
					if n < Early && set.Drift {
						ahead = max(ahead, EarlyDays)
					}
					r := math.Exp(-ahead / b.Days)
					s.wander(r, c.vd)
					mean, v := s.level+s.drift, s.varLevel+2*s.cov+s.varDrift+c.ve+sd*sd
					if l.rhythm != nil {
						t.wander(r)
						m, add := t.at(Angle(hour))
						mean, v = mean+m, v+add
					}
					leaves = append(leaves, leaf{c.prior + s.logLik() + share[count] + logp, mean, v})
					flags = append(flags, append([]bool(nil), flag...))
					return
				}
				r := 1.0
				if i > 0 {
					r = math.Exp(-(ps[i].Day - ps[i-1].Day) / b.Days)
				}
				s.wander(r, c.vd)
				t.wander(r)
				y, v := ps[i].Y-set.M0, ps[i].SD*ps[i].SD
				cos, sin := 0.0, 0.0
				if l.rhythm != nil {
					cos, sin = Angle(ps[i].Hour)
				}
				e := y - s.level - s.drift - t.p*cos - t.q*sin
				s1, t1 := s, t
				s1.take(&t1, cos, sin, e, c.ve+v)
				flag[i] = false
				walk(i+1, count, logp, s1, t1)
				own := c.sigma*c.sigma + v
				flag[i] = true
				for _, w := range ways {
					if w.share == 0 {
						continue
					}
					s2, t2 := s, t
					s2.take(&t2, cos, sin, e-w.shift*math.Sqrt(own), w.spread*w.spread*own)
					walk(i+1, count+1, logp+math.Log(w.share), s2, t2)
				}
			}
			var t harmonic
			if l.rhythm != nil {
				t = l.rhythm.start()
			}
			walk(0, 0, 0, state{varLevel: set.Tau * set.Tau, varDrift: c.vd, prod: 1}, t)
		}
	}
	best := math.Inf(-1)
	for _, f := range leaves {
		best = max(best, f.logw)
	}
	total := 0.0
	for _, f := range leaves {
		total += math.Exp(f.logw - best)
	}
	p = new(normal.Mixture)
	p.Reset(set.M0)
	bad = make([]float64, n)
	for i, f := range leaves {
		w := math.Exp(f.logw-best) / total
		if w > 1e-10 {
			p.Add(w, f.mean, f.variance)
			for k, odd := range flags[i] {
				if odd {
					bad[k] += w
				}
			}
		}
	}
	p.Moments()
	return p, bad
}

// The factors that ship against every way, over histories with bad days in them:
// distances of the limits in half-widths.
func TestAgainstAllWays(t *testing.T) {
	t.Parallel()
	for _, v := range []struct {
		name           string
		drift          bool
		rhythm         *Rhythm
		mean, worst, p float64
	}{
		{"plain", false, nil, .01, .03, .015},
		{"drift", true, nil, .01, .03, .015},
		{"drift and rhythm", true, &Rhythm{Amplitude: 3.5, AmplitudeSD: 1.5, From: 16, To: 23}, .02, .05, .025},
	} {
		set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: .5, Drift: v.drift, Rhythm: v.rhythm, BadDays: true}
		l := New(set)
		rng := rand.New(rand.NewPCG(1, 2))
		var sum, worst, worstOdd float64
		const sets = 12
		for range sets {
			mu, sigma := 38+5*rng.NormFloat64(), 3*math.Exp(.35*rng.NormFloat64())
			var ps []Reading
			n := 2 + rng.IntN(reps(5, 7)) // each more takes four times as long
			for k := range n {
				y := mu + sigma*rng.NormFloat64()
				if rng.Float64() < .15 {
					y += 4 * sigma
				}
				ps = append(ps, Reading{Day: float64(k), Hour: float64(k * 7 % 24), Y: y, SD: .816})
			}
			q, bad := allWays(set, ps, float64(n), 8, .816)
			lo, hi := q.Limits(.95)
			l.Fit(ps)
			a, b := l.Predict(float64(n), 8, .816).Limits(.95)
			off := max(math.Abs(a-lo), math.Abs(b-hi)) / (hi - lo) * 2
			sum, worst = sum+off, max(worst, off)
			for i, p := range l.BadDayProbabilities() {
				worstOdd = max(worstOdd, math.Abs(p-bad[i]))
			}
		}
		if sum/sets > v.mean || worst > v.worst || worstOdd > v.p {
			t.Errorf("%s is further from the exact answer than stated", v.name)
		}
		t.Logf("%s: mean %.5f, worst %.5f of a half-width; P(bad day) worst %.4f", v.name, sum/sets, worst, worstOdd)
	}
}

// take updates a state and its tide, as the filter does for all cells at once, by a reading e above its mean, the rhythm
// in it, with the noise variance ve (day to day and method).
func (s *state) take(t *harmonic, cos, sin, e, ve float64) {
	um := s.varLevel + s.cov + t.mp*cos + t.mq*sin
	ud := s.cov + s.varDrift + t.dp*cos + t.dq*sin
	up := t.mp + t.dp + t.pp*cos + t.pq*sin
	uq := t.mq + t.dq + t.pq*cos + t.qq*sin
	inv := 1 / (um + ud + up*cos + uq*sin + ve)
	gm, gd, gp, gq := um*inv, ud*inv, up*inv, uq*inv
	s.level += gm * e
	s.drift += gd * e
	t.p += gp * e
	t.q += gq * e
	s.varLevel -= gm * um
	s.cov -= gm * ud
	s.varDrift -= gd * ud
	t.mp -= gm * up
	t.mq -= gm * uq
	t.dp -= gd * up
	t.dq -= gd * uq
	t.pp -= gp * up
	t.pq -= gp * uq
	t.qq -= gq * uq
	s.prod *= inv
	s.quad += e * e * inv
}
