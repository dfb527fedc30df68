package level

import (
	"math"
	"math/rand/v2"
	"testing"
)

// breathingPrior is ln 8 to ln 21 split at the ratio 2.
func breathingPrior() Setting {
	return Setting{M0: 2.561981990, Tau: .178607977, Sigma0: .089303988, Omega: Omega, Drift: true, SpanDays: 30}
}

// Against the whole covariance matrix by Cholesky: three counts of breaths, the evidence at four points of the grid, and what a herd of that one horse, and of none, is taken for.
func TestEvidenceVectors(t *testing.T) {
	t.Parallel()
	set := breathingPrior()
	e := Evidence(set, []Reading{{Day: 7, Y: math.Log(16), SD: .05}, {Day: 0, Y: math.Log(12), SD: .05}, {Day: 15, Y: math.Log(11), SD: .05}})
	for i, want := range map[int]int32{0: -3917, 1000: 2033, 1461: 2192, 2924: 1759} {
		if e[i] != want {
			t.Errorf("evidence at %d: %d, want %d", i, e[i], want)
		}
	}
	sums := make([]int64, EvidencePoints)
	none := FromEvidence(set, sums)
	for i := range sums {
		sums[i] += int64(e[i])
	}
	one := FromEvidence(set, sums)
	for _, v := range []struct {
		name      string
		got, want float64
	}{
		{"M0", one.M0, 2.5598166}, {"Tau", one.Tau, .2018061}, {"Sigma0", one.Sigma0, .1221329}, {"Omega", one.Omega, .6403356},
		{"M0 of none", none.M0, 2.5619820}, {"Tau of none", none.Tau, .2157364}, {"Sigma0 of none", none.Sigma0, .0893040}, {"Omega of none", none.Omega, .7198135},
	} {
		near(t, v.name, v.got, v.want, 1e-6)
	}
}

// Absurd readings give evidence within its bounds, and a setting of finite numbers.
func TestEvidenceOfAnything(t *testing.T) {
	t.Parallel()
	for _, y := range []float64{0, 1e18, -1e18, 1e-9} {
		e := Evidence(breathingPrior(), []Reading{{Y: y}, {Day: 1, Y: -y, SD: 1e18}, {Day: 1, Y: y}})
		sums := make([]int64, EvidencePoints)
		for i := range sums {
			if sums[i] = int64(e[i]); e[i] < -EvidenceMost || e[i] > EvidenceMost {
				t.Fatalf("%v: %d", y, e[i])
			}
		}
		s := FromEvidence(breathingPrior(), sums)
		for _, x := range []float64{s.M0, s.Tau, s.Sigma0, s.Omega} {
			if math.IsNaN(x) || math.IsInf(x, 0) {
				t.Errorf("%v: %+v", y, s)
			}
		}
	}
}

// Breaths counted over 30 s in horses of which one varies from day to day as much as assumed, half or twice as much, log-SD .4: how often the next count of a horse of
// n weekly ones is covered, with what ships and with what was learned of 10 and 30 other horses of 2 to 10 weekly counts. Seed 3107.
func TestLearnedFromAHerd(t *testing.T) {
	t.Parallel()
	herds := reps(4, 60)
	for _, factor := range []float64{1, 2, .5} {
		for _, n := range []int{1, 2, 3} {
			rng := rand.New(rand.NewPCG(3107, uint64(n)))
			set := breathingPrior()
			set.Walk = Walk
			horse := func(n int) (ps []Reading, next float64) {
				mu := set.M0 + set.Tau*rng.NormFloat64()
				sigma := factor * set.Sigma0 * math.Exp(.4*rng.NormFloat64())
				sd := .58 / math.Exp(mu) // half a breath of a count of 30 s, either way
				for i := range n + 1 {
					y := mu + math.Hypot(sigma, sd)*rng.NormFloat64()
					ps = append(ps, Reading{Day: 7 * float64(i), Y: y, SD: sd})
				}
				return ps[:n], ps[n].Y
			}
			sizes := []int{0, 10, 30}
			var cover [3]share
			var width [3]float64
			for range herds {
				sums := make([]int64, EvidencePoints)
				var learned [3]Setting
				for k, count := 0, 0; k < len(sizes); k++ {
					for ; count < sizes[k]; count++ {
						ps, _ := horse(2 + rng.IntN(9))
						for i, e := range Evidence(set, ps) {
							sums[i] += int64(e)
						}
					}
					if learned[k] = FromEvidence(set, sums); k == 0 {
						learned[k] = set
					}
				}
				for range 24 {
					ps, next := horse(n)
					for k := range sizes {
						lo, hi := Fit(learned[k], ps).Predict(7*float64(n), 0, ps[0].SD).Limits(.95)
						cover[k].add(next >= lo && next <= hi)
						width[k] += (hi - lo) / float64(24*herds)
					}
				}
			}
			t.Logf("sigma0 × %v, n = %d: as it ships %.3f (%.3f) %.2f wide; 10 horses %.3f (%.3f) %.2f; 30 horses %.3f (%.3f) %.2f", factor, n,
				cover[0].of(), cover[0].se(), width[0], cover[1].of(), cover[1].se(), width[1], cover[2].of(), cover[2].se(), width[2])
			for k, least := range []float64{0, .93, .94} {
				if cover[k].of() < least-2*cover[k].se() {
					t.Errorf("sigma0 × %v, n = %d, %d horses: %.3f covered", factor, n, sizes[k], cover[k].of())
				}
			}
		}
	}
}
