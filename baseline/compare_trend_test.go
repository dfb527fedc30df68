package baseline

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// A slow climb through Compare itself: twenty weekly heart rates counted over a minute, the last ten climbing by .3
// of the horse's own SDs each, then an exam at +3 SDs. Caught: the exam is called higher, or the climb is
// stated. False: a climb stated of a horse that stays as it is. Seed 2091.
func TestSlowClimbThroughCompare(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2091, 1))
	p, _ := priorOf("heart-rate", aHorse().Type)
	r := p.at(-1)
	horses := reps(150, 2000)
	var caught, unusual, stated, falsely, false5, caught5 average
	one01 := func(b bool) float64 {
		if b {
			return 1
		}
		return 0
	}
	for range horses {
		mu, sigma := r.m0+r.tau*rng.NormFloat64(), r.sigma0*math.Exp(.35*rng.NormFloat64())
		still, climbing := must(New(aHorse())), must(New(aHorse()))
		count := func(level float64) int {
			return int(math.Floor(mu + level*sigma + sigma*rng.NormFloat64() + rng.Float64()))
		}
		for i := range 20 {
			must(still.Learn(quiet(float64(7*i), heart(count(0)))))
			must(climbing.Learn(quiet(float64(7*i), heart(count(.3*max(0, float64(i-9)))))))
		}
		look := func(b *Baseline, level float64) (Compared, float64) {
			e := tonight(140, heart(count(level)))
			c, err := b.Compare(e)
			td.Require(t).CmpNoError(err)
			x, err := b.Explain(e)
			td.Require(t).CmpNoError(err)
			return one(c, "heart-rate"), x.Signs[0].Measured.Trend.P
		}
		c, pStill := look(still, 0)
		falsely.add(one01(hasWarning(c.Warnings, WarnTrend)))
		false5.add(one01(pStill < .05))
		c, pClimb := look(climbing, 3)
		trend := hasWarning(c.Warnings, WarnTrend)
		td.Cmp(t, trend, pClimb < trendAlpha)
		unusual.add(one01(c.Statement == Higher))
		stated.add(one01(trend))
		caught.add(one01(c.Statement == Higher || trend))
		caught5.add(one01(c.Statement == Higher || pClimb < .05))
	}
	t.Logf("higher %.3f, climb stated %.3f, either %.3f (se %.3f); stated falsely %.4f; at 5 %%: either %.3f, falsely %.3f",
		unusual.mean(), stated.mean(), caught.mean(), caught.se(), falsely.mean(), caught5.mean(), false5.mean())
	atLeast(t, "caught", 20, caught, .60)
	atMost(t, "stated falsely", 20, falsely.mean(), falsely.se(), .05)
}
