package baseline

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline/internal/grade"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// herd invents well horses as the priors say they are, without drift.
type herd struct{ *rand.Rand }

// nature is what one of them is like.
type nature map[vitals.SignID]struct{ mu, sigma float64 }

var herdSigns = []vitals.SignID{vitals.HeartRate, vitals.RespiratoryRate, vitals.CapillaryRefill, vitals.RectalTemperature}

var herdGrades = []vitals.SignID{vitals.Attitude, vitals.GumColour, vitals.GumMoisture, vitals.RespiratoryEffort, vitals.Feed, vitals.Droppings}

func (h herd) nature() nature {
	n := nature{}
	for _, id := range herdSigns {
		p, _ := priorOf(id, vitals.TypeHorse)
		r := p.at(-1)
		n[id] = struct{ mu, sigma float64 }{r.m0 + r.tau*h.NormFloat64(), r.sigma0 * math.Exp(level.Omega*h.NormFloat64())}
	}
	return n
}

// findings are those of one day at noon, measured well.
func (h herd) findings(n nature) []vitals.Finding {
	var out []vitals.Finding
	for _, id := range herdSigns {
		p, _ := priorOf(id, vitals.TypeHorse)
		sign, _ := vitals.Lookup(id)
		y := p.unscale(n[id].mu + n[id].sigma*h.NormFloat64())
		switch sign.Kind {
		case vitals.KindTimed:
			y = max(.2, y+.05*h.NormFloat64())
			out = append(out, timed(id, "", int(100*y), int(100*y)+3, int(100*y)-3))
		case vitals.KindTemperature:
			out = append(out, vitals.Finding{Sign: id, Reading: &vitals.Reading{
				Value: decimal.NewFromFloat(y + .058*h.NormFloat64()).Round(1), Unit: vitals.Celsius, Device: vitals.Digital}})
		default:
			out = append(out, counted(id, int(y+h.Float64()), 60))
		}
	}
	for _, id := range herdGrades {
		sign, _ := vitals.Lookup(id)
		rank, u := 0, h.Float64()
		for k, tail := range grade.PriorTail {
			if u < tail {
				rank = k
			}
		}
		best := sign.Grades[0]
		for _, g := range sign.Grades {
			if g.Rank <= rank && g.Rank > best.Rank {
				best = g
			}
		}
		out = append(out, shown(id, "", best.ID))
	}
	return out
}

// Well exams of invented horses: the share of measured signs called unusual, of exams called
// unusual, and of exams farther than 1.645. 4 measured and 6 graded signs, independent.
// Short form 100 horses for each n: standard error .022 of an exam's share, .011 of a
// sign's; long form (WHORL_LONG=1) 2000: .005 and .0025. Seed 20. Long form for n = 0, 3, 8: signs
// .034 .043 .047 (the priors leave room for a drift that these horses lack), exams .017 .025 .044,
// farther than 1.645 none, .001, .002 (the signs are independent here, and assumed not to be).
func TestWellExams(t *testing.T) {
	t.Parallel()
	horses := 100
	if os.Getenv("WHORL_LONG") == "1" {
		horses = 2000
	}
	for _, n := range []int{0, 3, 8} {
		h := herd{rand.New(rand.NewPCG(20, uint64(n)))}
		signs, called, exams, far := 0, 0, 0, 0
		for range horses {
			nature := h.nature()
			b := must(New(aHorse()))
			for i := range n {
				e := quiet(float64(7*i)+4.5/24, h.findings(nature)...)
				b.keep(&e, b.summarise(&e))
			}
			e := tonight(float64(7*n)+4.5/24, h.findings(nature)...)
			c, err := b.Compare(e)
			td.Require(t).CmpNoError(err)
			for _, s := range c.Signs {
				if s.Measure != nil {
					signs++
					if s.Statement.Unusual() {
						called++
					}
				}
			}
			if c.Overall.Unusual {
				exams++
			}
			if c.Overall.Far > 1.645 {
				far++
			}
		}
		share := func(x, of int) float64 { return float64(x) / float64(of) }
		t.Logf("n = %d: signs %.3f, exams %.3f, far %.3f", n, share(called, signs), share(exams, horses), share(far, horses))
		se := math.Sqrt(.05 * .95 / float64(horses))
		td.Cmp(t, share(called, signs), td.Between(.05-3*se/2-.015, .05+3*se/2+.015), "false-alarm rate of a sign, n = %d", n)
		td.Cmp(t, share(exams, horses), td.Lte(.05+3*se), "false-alarm rate of an exam, n = %d", n)
	}
}
