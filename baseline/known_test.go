package baseline

import (
	"strconv"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// Widths fall with every quiet exam, from the population's towards what can be attained.
func TestKnownNarrows(t *testing.T) {
	t.Parallel()
	b := must(New(aHorse()))
	var before KnownSign
	for i, rate := range []int{33, 36, 31, 34, 35, 32, 36, 33, 34, 35, 32, 34} {
		if i == 0 || i == 1 || i == 4 || i == 11 {
			k := b.Known(spring.AddDate(0, 0, 7*i))
			td.Cmp(t, k.Exams, i)
			var got KnownSign
			for _, s := range k.Signs {
				if s.Sign == vitals.HeartRate {
					got = s
				}
			}
			td.Cmp(t, got.Exams, i)
			td.Cmp(t, got.Own.High-got.Own.Low, td.Between(got.Now-1e-9, got.Now+1e-9))
			td.Cmp(t, got.Attainable, td.Lte(got.Now))
			td.Cmp(t, got.AfterTwo, td.Lt(got.Doubt))
			if i == 0 {
				td.Cmp(t, got.Now, got.Before)
				td.CmpTrue(t, got.Halved(), "two exams beside none: %+v", got)
			} else {
				td.Cmp(t, got.Now, td.Lt(before.Now))
			}
			if i == 11 {
				td.CmpFalse(t, got.Halved(), "two exams beside eleven: %+v", got)
			}
			before = got
		}
		must(b.Learn(quiet(float64(7*i)-.5, heart(rate))))
	}
}

// Every sign with a published range is in the list before the first exam; weight is not.
func TestKnownSigns(t *testing.T) {
	t.Parallel()
	var signs []vitals.SignID
	for _, s := range must(New(aHorse())).Known(spring).Signs {
		signs = append(signs, s.Sign)
	}
	td.Cmp(t, signs, []vitals.SignID{vitals.RespiratoryRate, vitals.CapillaryRefill, vitals.HeartRate, vitals.JugularRefill, vitals.RectalTemperature},
		"a sign with an entry in prior.go and no own exam: write it here")
	k := learned(aHorse(), quiet(0, timed(vitals.SkinTent, "eyelid", 80, 90, 70))).Known(spring.AddDate(0, 0, 9))
	td.Cmp(t, k.Signs, td.Len(6))
	td.Cmp(t, k.LastAt, spring)
}

// A prediction can be followed: the readings, the interval before them and what was printed.
func TestNormal(t *testing.T) {
	t.Parallel()
	b := learned(aHorse(), quiet(0, heart(28)), quiet(7, heart(30)))
	n, ok := b.Normal(vitals.HeartRate, "", spring.AddDate(0, 0, 10))
	td.CmpTrue(t, ok)
	td.Cmp(t, n.Readings, td.Len(2))
	td.Cmp(t, n.Readings[1], td.Struct(Learned{Exam: "e-7.000", Value: 30}, td.StructFields{"=*": td.Ignore()}))
	td.Cmp(t, n.Own.Mid, td.Between(28., 32.))
	td.Cmp(t, n.Before.Mid, td.Between(35., 37.))
	td.Cmp(t, n.Printed, td.NotEmpty())
	td.CmpTrue(t, n.Basis.Weak, "two exams")

	for _, id := range []vitals.SignID{vitals.GumColour, vitals.Weight, "no-such-sign"} {
		_, ok := b.Normal(id, "", spring)
		td.CmpFalse(t, ok, "%s", id)
	}
}

// The model's published-precision vector through the series that the API builds:
// readings 36 40 36 44 by 15 s and 38 by 60 s of a horse of m0 38, tau 5, sigma0 3
// without drift (quadrature over 20001 points gives 31.348751773 .. 45.992209827).
func TestSeriesGivesTheVector(t *testing.T) {
	t.Parallel()
	s := series{prior: prior{}, row: row{m0: 38, tau: 5, sigma0: 3}}
	for i, y := range []float64{36, 40, 36, 44, 38} {
		sd := 1.633
		if i == 4 {
			sd = .408
		}
		s.points = append(s.points, level.Reading{Day: float64(i), Y: y, SD: sd, ID: strconv.Itoa(i)})
	}
	set := s.setting(spring)
	set.Omega = .5
	got := s.interval(level.Fit(set, s.points).Predict(6, 0, .408))
	td.Cmp(t, got.Low, td.Between(31.348751773-1e-5, 31.348751773+1e-5))
	td.Cmp(t, got.High, td.Between(45.992209827-1e-5, 45.992209827+1e-5))
}
