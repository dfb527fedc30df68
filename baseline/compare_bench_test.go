package baseline

import (
	"fmt"
	"testing"

	"whorl.example/vitals"
)

// A full exam beside a history of n.
func BenchmarkCompare(b *testing.B) {
	for _, n := range []int{0, 5, 20, 100} {
		var exams []vitals.Exam
		for i := range n {
			exams = append(exams, quiet(float64(7*i), heart(32+i%4), counted(vitals.RespiratoryRate, 10+i%3, 60), degrees("37.6"),
				timed(vitals.CapillaryRefill, "", 150, 140, 160), shown(vitals.GumColour, "", "pink")))
		}
		horse := learned(aHorse(), exams...)
		night := tonight(float64(7*n), heart(40), counted(vitals.RespiratoryRate, 14, 60), degrees("38.0"),
			timed(vitals.CapillaryRefill, "", 170), shown(vitals.GumColour, "", "pale-pink"))
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := horse.Compare(night); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
