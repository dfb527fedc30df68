package baseline

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/vitals"
)

// wholeExam is a full exam of 25 findings on a quiet day, seven of them measured.
func wholeExam(rng *rand.Rand) []vitals.Finding {
	timedIn := func(sign vitals.SignID, site vitals.SiteID, middle int) vitals.Finding {
		return timed(sign, site, middle+rng.IntN(20), middle+rng.IntN(20), middle+rng.IntN(20))
	}
	return []vitals.Finding{
		shown(vitals.Attitude, "", "bright"), shown(vitals.HeadCarriage, "", "usual"), shown(vitals.Coat, "", "smooth"),
		shown(vitals.Wounds, "", "none"), shown(vitals.LimbLoad, "", "even"), shown(vitals.Stance, "", "square"),
		shown(vitals.Doing, "", "eating"), shown(vitals.DoingUsual, "", "usual"), shown(vitals.Droppings, "", "usual"),
		shown(vitals.Water, "", "usual"), shown(vitals.Feed, "", []vitals.GradeID{"usual", "usual", "usual", "less"}[rng.IntN(4)]),
		counted(vitals.RespiratoryRate, 10+rng.IntN(5), 60),
		shown(vitals.RespiratoryEffort, "", "easy"), shown(vitals.Nostrils, "", "dry"), shown(vitals.GumColour, "", "pink"),
		shown(vitals.GumMoisture, "", "wet"), timedIn(vitals.CapillaryRefill, "", 140), timedIn(vitals.SkinTent, "eyelid", 90),
		counted(vitals.HeartRate, 15+rng.IntN(4), 30), shown(vitals.PulseStrength, "", "usual"), shown(vitals.LimbWarmth, "", "usual"),
		shown(vitals.HeartRhythm, "", "regular"), timedIn(vitals.JugularRefill, "", 210),
		degrees(decimal.New(int64(373+rng.IntN(6)), -1).String()),
		{Sign: vitals.Weight, Reading: &vitals.Reading{Value: decimal.New(int64(505+rng.IntN(9)), 0), Unit: vitals.Kilogram, Device: vitals.Scale}},
	}
}

// wholeHistory is a horse's exams, one every three days at changing hours.
func wholeHistory(n int) []vitals.Exam {
	rng := rand.New(rand.NewPCG(25, uint64(n)))
	exams := make([]vitals.Exam, n)
	for i := range exams {
		exams[i] = quiet(3*float64(i)+float64(i%5)/12, wholeExam(rng)...)
	}
	return exams
}

// A full exam beside a history of n. Limits: 100 us warm, 4 ms from 200 raw exams, 9 where every third is of the same hour as the one before.
func BenchmarkCompare(b *testing.B) {
	for _, n := range []int{0, 2, 5, 20, 200, -200} {
		exams := wholeHistory(max(n, -n))
		if n < 0 {
			for i := 2; i < len(exams); i += 3 {
				exams[i].At = exams[i-1].At.Add(40 * time.Minute)
			}
		}
		night := tonight(3*float64(max(n, -n))+1, wholeExam(rand.New(rand.NewPCG(1, 2)))...)
		horse := learned(aHorse(), exams...)
		compare := func(horse *Baseline) {
			if _, err := horse.Compare(night); err != nil {
				b.Fatal(err)
			}
		}
		b.Run(fmt.Sprint("warm/", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				compare(horse)
			}
		})
		b.Run(fmt.Sprint("raw/", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				compare(learned(aHorse(), exams...))
			}
		})
	}
}
