package baseline

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// ages puts an animal into the middle of each stage of life.
var ages = map[vitals.Stage]time.Duration{
	vitals.Newborn: 12 * time.Hour, vitals.Neonate: 4 * 24 * time.Hour, vitals.Foal: 75 * 24 * time.Hour,
	vitals.Weanling: 270 * 24 * time.Hour, vitals.Yearling: 545 * 24 * time.Hour, vitals.TwoYearOld: 910 * 24 * time.Hour,
	vitals.Senior: 22 * 366 * 24 * time.Hour,
}

// aged is an invented animal of a type in the middle of a stage at noon of spring's day.
func aged(t vitals.Type, stage vitals.Stage) (vitals.Horse, time.Time) {
	noon := time.Date(2026, time.March, 2, 12, 0, 0, 0, time.UTC)
	h := vitals.Horse{ID: "h1", Name: "Juniper", Type: t}
	if age, ok := ages[stage]; ok {
		h.Born = vitals.DateOf(noon.Add(-age))
	}
	return h, noon
}

// asked gives what is usual of a sign at n = 0 in an animal, and its printed ranges.
func asked(sign vitals.Sign, t vitals.Type, stage vitals.Stage) (Normal, bool) {
	h, noon := aged(t, stage)
	site := vitals.SiteID("")
	if sign.PerSite {
		site = sign.Sites[0].ID
	}
	return must(New(h)).Normal(sign.ID, site, noon)
}

// Before the first exam the interval reproduces the printed ranges as far as they agree: each
// of its edges lies among the printed edges of its side, or beyond them by no more than a
// tenth of the whole printed width (or of the value, where one source speaks alone).
func TestPriorsReproducePrintedRanges(t *testing.T) {
	t.Parallel()
	var off []string
	groups := 0
	for _, sign := range vitals.Catalogue() {
		for _, animal := range vitals.Types() {
			if animal == vitals.TypeMule {
				continue // its printed figures are means of herds, not ranges of animals
			}
			for _, stage := range vitals.Stages() {
				n, ok := asked(sign, animal, stage)
				if !ok {
					continue
				}
				var lows, highs []float64
				for _, p := range n.Printed {
					if p.Low != nil && p.High != nil && *p.Low == *p.High {
						continue // one figure, not a range
					}
					if p.Low != nil {
						lows = append(lows, *p.Low)
					}
					if p.High != nil {
						highs = append(highs, *p.High)
					}
				}
				if len(lows) == 0 || len(highs) == 0 {
					continue
				}
				groups++
				slack := .1 * (maxOf(highs) - minOf(lows))
				if len(lows) == 1 {
					slack = .1 * highs[0]
				}
				if sign.Kind == vitals.KindTemperature {
					slack = .3 // degrees; noon is not the hour of any printed range
				}
				if n.Own.Low < minOf(lows)-slack || n.Own.Low > maxOf(lows)+slack || n.Own.High < minOf(highs)-slack || n.Own.High > maxOf(highs)+slack {
					off = append(off, fmt.Sprintf("%s %s %s: %.2f..%.2f, printed %v..%v", sign.ID, animal, stage, n.Own.Low, n.Own.High, lows, highs))
				}
			}
		}
	}
	if len(off) > 0 {
		t.Errorf("the limits before the first exam leave the printed ranges in %d of %d groups: "+
			"the spans in prior.go, or the false-alarm rate (alpha = %g). First: %s", len(off), groups, alpha, off[0])
	}
	td.Cmp(t, groups, td.Gte(60), "groups of animals with printed ranges")
}

func minOf(x []float64) float64 {
	m := x[0]
	for _, v := range x {
		m = min(m, v)
	}
	return m
}

func maxOf(x []float64) float64 {
	m := x[0]
	for _, v := range x {
		m = max(m, v)
	}
	return m
}

// A reading in the middle of any printed range raises nothing at n = 0.
func TestMiddleOfPrintedRangesRaisesNothing(t *testing.T) {
	t.Parallel()
	for _, sign := range vitals.Catalogue() {
		for _, animal := range vitals.Types() {
			for _, stage := range vitals.Stages() {
				h, noon := aged(animal, stage)
				for _, p := range printed(sign, animal, stage) {
					if p.Low == nil || p.High == nil {
						continue
					}
					e := quiet(0, entered(sign, (*p.Low+*p.High)/2))
					e.At = noon
					c, err := must(New(h)).Compare(e)
					td.CmpNoError(t, err)
					td.Cmp(t, c.Alarms, td.Empty(), "%s %s %s %v", sign.ID, animal, stage, p)
					if c.Signs[0].Statement.Unusual() {
						t.Errorf("%s %s %s: the middle of %v..%v (%s) is called %s, usual %v", sign.ID, animal, stage,
							*p.Low, *p.High, p.Source, c.Signs[0].Statement, *c.Signs[0].Own)
					}
				}
			}
		}
	}
}

// entered is a finding of a value in the sign's unit, measured well.
func entered(sign vitals.Sign, value float64) vitals.Finding {
	f := vitals.Finding{Sign: sign.ID}
	if sign.PerSite {
		f.Site = sign.Sites[0].ID
	}
	switch sign.Kind {
	case vitals.KindTimed:
		f.Timed = &vitals.Timed{CentiSeconds: []int{int(100*value + .5), int(100*value + .5), int(100*value + .5)}}
	case vitals.KindTemperature:
		f.Reading = &vitals.Reading{Value: decimal.NewFromFloat(value).Round(1), Unit: sign.Unit, Device: vitals.Digital}
	default:
		device := map[vitals.Kind]vitals.Device{vitals.KindRate: vitals.Monitor, vitals.KindWeight: vitals.Scale, vitals.KindScore: vitals.Told}
		f.Reading = &vitals.Reading{Value: decimal.NewFromFloat(value).Round(1), Unit: sign.Unit, Device: device[sign.Kind]}
	}
	return f
}

// Every number of a prior says where it comes from.
func TestPriorsHaveProvenance(t *testing.T) {
	t.Parallel()
	for _, p := range priors {
		for _, from := range p.provenance() {
			td.Cmp(t, from.Mark, td.Any(vitals.Derived, vitals.Assumed, vitals.Read, vitals.SecondHand, vitals.Memory))
			td.Cmp(t, strings.TrimSpace(from.Note), td.NotEmpty(), "%s", p.sign)
		}
		for i, r := range p.spans {
			td.CmpTrue(t, r.low < r.high, "%s", p.sign)
			td.CmpTrue(t, i == 0 || r.days > p.spans[i-1].days, "%s: ages rise", p.sign)
			td.Cmp(t, p.at(r.days).sigma0, td.Gt(0.), "%s: %v", p.sign, r)
		}
	}
}

// Before the first exam the limits of the model are the span that was assumed.
func TestSpansAreTheLimits(t *testing.T) {
	t.Parallel()
	var off []string
	n := 0
	for _, p := range priors {
		if p.own || p.rhythm {
			continue // the rhythm has its own test, and moves the limits with the hour
		}
		for _, s := range p.spans {
			at := series{prior: p, row: p.at(s.days)}
			got := at.interval(level.Fit(at.setting(spring), nil).Predict(day(spring), 12, 0))
			low, high := p.scaled(got.Low), p.scaled(got.High)
			width := p.scaled(s.high) - p.scaled(s.low)
			n++
			if share := (high - low) / width; !(share >= .96 && share <= 1.04) {
				off = append(off, fmt.Sprintf("%s %v: %.3f of it", p.sign, s, share))
			}
		}
	}
	if len(off) > 0 {
		t.Errorf("%d of %d limits are not as wide as the span of 95 of 100 well animals: the false-alarm rate is alpha = %g, "+
			"or the inflation in prior.go has changed. First: %s", len(off), n, alpha, off[0])
	}
}

// The middle assumed of a growing foal moves without a step.
func TestPriorsAreContinuousInAge(t *testing.T) {
	t.Parallel()
	for _, p := range priors {
		before := p.at(1) // the first day moves by the hour
		for days := 1.02; days < 1600; days += .02 {
			now := p.at(days)
			if d := (now.m0 - before.m0) / now.tau; math.Abs(d) > .1 {
				t.Fatalf("%s: steps by %.2f tau at %v days", p.sign, d, days)
			}
			before = now
		}
		td.Cmp(t, p.at(-1), p.split(p.spans[len(p.spans)-1]), "%s: unknown age", p.sign)
	}
}
