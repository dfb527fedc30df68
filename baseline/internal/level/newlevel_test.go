package level

import (
	"math"
	"math/rand/v2"
	"testing"

	"whorl.example/baseline/internal/normal"
)

// A new level against the full multivariate normal: at one grid point the readings before
// and after are normal with a level (and drift) of their own each and one rhythm, worked out
// here by solving with the covariance matrix, without a filter.
func TestNewLevelAgainstFullNormal(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(77, 1))
	for _, rhythmic := range []bool{false, true} {
		set := Setting{M0: 38, Tau: 5, Sigma0: 3, Drift: true, Walk: .01} // Omega 0: one sigma, five drifts
		if rhythmic {
			set.Rhythm = &Rhythm{2, .8, 16, 23}
		}
		var ps []Reading
		for i := range 9 {
			ps = append(ps, Reading{Day: float64(i*i) / 3, Hour: float64(5 * i % 24), Y: 36 + 8*rng.Float64(), SD: .3 * float64(i%3), NewLevel: i == 5})
		}
		ahead := Reading{Day: 40, Hour: 19, SD: .4}
		l := New(set)
		l.Fit(ps)
		got := l.Predict(ahead.Day, ahead.Hour, ahead.SD)

		// By hand: weights and conditional normals of the five drifts.
		all := append(append([]Reading(nil), ps...), ahead)
		var logs, means, sds []float64
		for i, b := range l.grid.blocks {
			n := len(ps)
			cov := make([][]float64, n+1)
			mean := make([]float64, n+1)
			for r, p := range all {
				cov[r] = make([]float64, n+1)
				for c, q := range all {
					if (r >= 5) == (c >= 5) {
						level, begin := set.Tau*set.Tau, 0.0
						if r >= 5 {
							level, begin = Renewed*level, ps[5].Day
						}
						level += set.Walk * 9 * (min(p.Day, q.Day) - begin)
						cov[r][c] = level + l.cells[i].vd*math.Exp(-math.Abs(p.Day-q.Day)/b.Days)
					}
					if rhythmic {
						w := l.rhythm
						pc, psin := Angle(p.Hour)
						qc, qsin := Angle(q.Hour)
						cov[r][c] += pc*qc*w.pp + (pc*qsin+psin*qc)*w.pq + psin*qsin*w.qq
						mean[r] = set.M0 + w.p*pc + w.q*psin
					} else {
						mean[r] = set.M0
					}
					if r == c {
						cov[r][c] += l.cells[i].ve + p.SD*p.SD
					}
				}
			}
			// Cholesky of all; the last row gives the prediction.
			low := make([][]float64, n+1)
			z := make([]float64, n)
			logp := math.Log(b.Weight)
			for r := range all {
				low[r] = make([]float64, n+1)
				for c := 0; c <= r; c++ {
					sum := cov[r][c]
					for k := range c {
						sum -= low[r][k] * low[c][k]
					}
					if r == c {
						low[r][r] = math.Sqrt(sum)
					} else {
						low[r][c] = sum / low[c][c]
					}
				}
				if r < n {
					e := ps[r].Y - mean[r]
					for k := range r {
						e -= low[r][k] * z[k]
					}
					z[r] = e / low[r][r]
					logp -= math.Log(low[r][r]) + z[r]*z[r]/2
				}
			}
			m := mean[n]
			for k := range n {
				m += low[n][k] * z[k]
			}
			logs, means, sds = append(logs, logp), append(means, m), append(sds, low[n][n])
		}
		want := new(normal.Mixture)
		want.Reset(0)
		best, total := math.Inf(-1), 0.0
		for _, x := range logs {
			best = max(best, x)
		}
		for _, x := range logs {
			total += math.Exp(x - best)
		}
		for i := range logs {
			want.Add(math.Exp(logs[i]-best)/total, means[i], sds[i]*sds[i])
		}
		want.Moments()
		for _, q := range []float64{.025, .5, .975} {
			near(t, "quantile", got.Quantile(q), want.Quantile(q), 1e-8)
		}

		// Where no day can be bad, the factors of mixture.go give the same.
		set.BadDays = true
		odd := New(set)
		odd.ratePrior = rateBelief{1} // eps .001
		odd.Fit(ps)
		lo, hi := odd.Predict(ahead.Day, ahead.Hour, ahead.SD).Limits(.95)
		a, b := got.Limits(.95)
		near(t, "low, hardly a bad day", lo, a, .02*(b-a))
		near(t, "high, hardly a bad day", hi, b, .02*(b-a))
	}
}

// A bad day before a new level and one after it are both found, and neither the change of level itself.
func TestNewLevelWithBadDays(t *testing.T) {
	t.Parallel()
	set := Setting{M0: 38, Tau: 5, Sigma0: 3, Omega: .5, Drift: true, BadDays: true}
	l := New(set)
	var ps []Reading
	for i, y := range []float64{34, 36, 35, 47, 33, 35, 36, 34, 45, 44, 46, 58, 45, 46, 44} {
		ps = append(ps, Reading{Day: float64(7 * i), Y: y, SD: .4, NewLevel: i == 8})
	}
	l.Fit(ps)
	for i, p := range l.BadDayProbabilities() {
		if bad := i == 3 || i == 11; bad != (p > .5) {
			t.Errorf("reading %d (%g): %.3f", i, ps[i].Y, p)
		}
	}
	near(t, "the new level", l.Belief().Mu, 45, 1.5)
	lo, hi := l.Predict(110, 0, .4).Limits(.95)
	if lo < 36 || hi > 54 {
		t.Errorf("%.1f to %.1f", lo, hi)
	}
}
