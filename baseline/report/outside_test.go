package report

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// What is written never contradicts what is said: a value outside the limits is written outside them, and one inside is not.
func TestAValueOutsideIsWrittenOutside(t *testing.T) {
	t.Parallel()
	random := rand.New(rand.NewPCG(15, 4))
	longer := 0
	for _, unit := range vitals.Units() {
		for range 20_000 {
			own := baseline.Interval{Low: 20 + 30*random.Float64()}
			own.High = own.Low + 5 + 10*random.Float64()
			// Near a limit, from three thousandths of what is shown to three times that.
			d := math.Pow10(-places(unit)) * math.Pow(10, 3*random.Float64()-2.5)
			v := own.High + d*float64(2*random.IntN(2)-1)
			if random.IntN(2) == 0 {
				v = own.Low + own.High - v
			}
			s := write(v, &own, unit)
			x, low, high := number(s.value), number(s.low), number(s.high)
			if (v > own.High) != (x > high) || (v < own.Low) != (x < low) {
				t.Fatalf("%v of %v..%v %s is written %+v", v, own.Low, own.High, unit, s)
			}
			if s.high != written(own.High, unit) {
				longer++
			}
		}
	}
	if longer == 0 {
		t.Error("no figure needed another place: nothing was tested")
	}
	// The counted value keeps its places as long as those of the limits do.
	td.Cmp(t, write(40, &baseline.Interval{Low: 32.04, High: 39.7}, vitals.PerMinute), shown{"40", "32.0", "39.7"})
	td.Cmp(t, write(40.02, &baseline.Interval{Low: 32, High: 40.01}, vitals.PerMinute), shown{"40.02", "32.00", "40.01"})
	td.Cmp(t, write(40, &baseline.Interval{Low: 32, High: 40.4}, vitals.PerMinute), shown{"40", "32", "40"})
}

// A person reads the unit that she chose: 900 lb are told as 900 lb, with limits in pounds, and a girth in inches gives
// pounds. 1 lb = 0.45359237 kg exactly (international yard and pound agreement of 1959).
func TestTheUnitThatWasReadIsTheUnitThatIsTold(t *testing.T) {
	t.Parallel()
	f := vitals.Finding{Sign: vitals.Weight, Reading: &vitals.Reading{Value: decimal.New(900, 0), Unit: vitals.Pound, Device: vitals.Scale}}
	sign, _ := vitals.Lookup(vitals.Weight)
	m, err := f.Measure(sign)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, m.Unit, vitals.Kilogram)
	shown, _ := Taken(f, m, words.English)
	td.Cmp(t, shown, "900 lb")
	c := AsRead(baseline.Compared{Sign: vitals.Weight, Measure: &m, Own: &baseline.Interval{Low: 453.59237, Mid: 460, High: 498.951607}}, f)
	td.Cmp(t, telling{lang: words.English}.own(c), td.Contains("1000 to 1100 lb"))
	taped := vitals.Finding{Sign: vitals.Weight, Girth: &vitals.Girth{Girth: decimal.New(72, 0), Length: decimal.New(64, 0), Unit: vitals.Inch}}
	m, err = taped.Measure(sign)
	td.Require(t).CmpNoError(err)
	shown, _ = Taken(taped, m, words.English)
	td.CmpTrue(t, strings.HasSuffix(shown, " lb"), shown)
}

// Of a sign for which nothing is published nothing is said to rest on published ranges, in one line or in all.
func TestNothingRestsOnRangesThatNobodyPublished(t *testing.T) {
	t.Parallel()
	published := []vitals.Provenance{{Source: "x", Mark: vitals.Read}}
	for _, keys := range []basisKeys{basisOfOne, basisOfAll} {
		for exams := range 3 {
			for _, weak := range []bool{false, true} {
				for _, lang := range words.Langs() {
					said := words.Say(lang, keys.key(exams, weak, false), "n", itoa(exams))
					td.CmpFalse(t, strings.Contains(said, "publi"), said)
				}
			}
		}
		td.CmpTrue(t, strings.Contains(words.Say(words.English, keys.key(2, true, true), "n", "2"), "publi"))
	}
	c := &caller{telling: telling{lang: words.English}}
	for _, prior := range [][]vitals.Provenance{nil, published} {
		c.in.Comparison.Signs = nil
		for _, n := range []int{1, 3} {
			c.in.Comparison.Signs = append(c.in.Comparison.Signs, baseline.Compared{Statement: baseline.AsUsual,
				Basis: baseline.Basis{Exams: n, Weak: true, Prior: prior}})
		}
		td.Cmp(t, strings.Contains(c.restsOn().Text, "publi"), prior != nil)
	}
}
