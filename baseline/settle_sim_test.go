package baseline

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// "Count a full minute" after fifteen seconds, through Compare: both counts are of the same rate, begun
// anywhere in the beat, as a horse's heart (3 % from beat to beat) gives them. Useful: the minute
// changed the statement. Missed: it would have, and nobody asked. Wrong: the statement on the
// number in hand is another than that on the true rate of the day. Seed 2101.
func TestSettleAsksInVainAndMisses(t *testing.T) {
	t.Parallel()
	p, _ := priorOf(vitals.HeartRate, vitals.TypeHorse)
	r := p.at(-1)
	for _, v := range []struct {
		name                   string
		n                      int
		shift                  float64
		most, useless, missing float64
	}{
		{"5 exams, quiet day", 5, 0, .27, .92, .35}, {"5 exams, +3 SD", 5, 3, .45, .75, .30},
		{"20 exams, quiet day", 20, 0, .40, .92, .35}, {"20 exams, +2 SD", 20, 2, .50, .75, .30}, {"20 exams, +3 SD", 20, 3, .45, .75, .30},
	} {
		rng := rand.New(rand.NewPCG(2101, uint64(v.n)+uint64(100*v.shift)))
		var asks, useless, missed, changes, before, after average
		add := func(a *average, b bool) {
			x := 0.0
			if b {
				x = 1
			}
			a.add(x)
		}
		for range reps(200, 2500) {
			mu, sigma := r.m0+r.tau*rng.NormFloat64(), r.sigma0*math.Exp(.35*rng.NormFloat64())
			// beats in so many seconds, begun anywhere in the beat.
			count := func(rate float64, seconds int) vitals.Finding {
				rate *= 1 + .03*rng.NormFloat64()/math.Sqrt(rate*float64(seconds)/60)
				return counted(vitals.HeartRate, int(rate*float64(seconds)/60+rng.Float64()), seconds)
			}
			b := must(New(aHorse()))
			for i := range v.n {
				must(b.Learn(quiet(float64(7*i), count(mu+sigma*rng.NormFloat64(), 60))))
			}
			truth := mu + sigma*(v.shift+rng.NormFloat64())
			if truth < 12 {
				continue
			}
			say := func(f vitals.Finding) Compared {
				c, err := b.Compare(tonight(float64(7*v.n), f))
				td.Require(t).CmpNoError(err)
				return one(c, vitals.HeartRate)
			}
			short, long := say(count(truth, 15)), say(count(truth, 60))
			n := long.Own
			really := AsUsual
			if truth < n.Low {
				really = Lower
			} else if truth > n.High {
				really = Higher
			}
			asked, changed := short.Settle != nil, short.Statement != long.Statement
			add(&asks, asked)
			add(&changes, changed)
			if asked {
				add(&useless, !changed)
			}
			if changed {
				add(&missed, !asked)
			}
			last := short
			if asked {
				last = long
			}
			add(&before, short.Statement != really)
			add(&after, last.Statement != really)
		}
		t.Logf("%s: asks %.3f, a minute changes %.3f; useless of the asks %.3f, missed of the useful %.3f (se %.3f); wrong after 15 s %.3f, after asking %.3f",
			v.name, asks.mean(), changes.mean(), useless.mean(), missed.mean(), missed.se(), before.mean(), after.mean())
		atMost(t, v.name+": asks", v.n, asks.mean(), asks.se(), v.most)
		atMost(t, v.name+": useless", v.n, useless.mean(), useless.se(), v.useless)
		atMost(t, v.name+": missed", v.n, missed.mean(), missed.se(), v.missing)
	}
}
