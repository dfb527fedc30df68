package vitals_test

import (
	"fmt"
	"time"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Nine beats in fifteen seconds, the clock started at any moment.
func ExampleFromCount() {
	m, err := vitals.FromCount(9, 15*time.Second, vitals.Anywhere)
	fmt.Printf("%.0f %s, give or take %.1f, %v\n", m.Value, m.Unit, m.SD, err)
	// Output: 36 /min, give or take 1.7, <nil>
}

// A series of taps has a rate from the fourth tap on, and a rhythm once there are enough.
func ExampleTapSeries() {
	s := vitals.NewTapSeries(vitals.Heart())
	var got vitals.Tapped
	for i, ms := range []int{0, 1650, 3310, 4990, 6620, 8310, 9950, 11640, 13280, 14990, 16610, 18290} {
		got, _ = s.Tap(time.Duration(ms) * time.Millisecond)
		switch i {
		case 1:
			fmt.Println(got.Taps, "taps:", got.Refused)
		case 3, 11:
			fmt.Printf("%d taps: %.0f give or take %.1f, %s\n", got.Taps, got.Measure.Value, got.Measure.SD, got.Rhythm)
		}
	}
	key, args := got.Say()
	fmt.Println(words.Say(words.English, key, args...))
	// Output:
	// 2 taps: taps-few
	// 4 taps: 36 give or take 0.4, cannot-tell
	// 12 taps: 36 give or take 0.1, regular
	// regular
}

// A reading is kept as it was read; comma and point are both understood.
func ExampleParseTyped() {
	r, err := vitals.ParseTyped("38,40 C", vitals.UnitsOf(vitals.Celsius)...)
	fmt.Println(vitals.AsRead(r.Value), r.Unit, err)
	f, err := vitals.Convert(r.Value, vitals.Celsius, vitals.Fahrenheit, 1)
	fmt.Println(vitals.AsRead(f), err)
	_, err = vitals.ParseTyped("38.4.1", vitals.Celsius)
	fmt.Println(err)
	// Output:
	// 38.40 Cel <nil>
	// 101.1 <nil>
	// /value: Write it as the instrument shows it, such as 38.4 or 38,4.
}

// Three tries by press and release.
func ExampleFromTries() {
	m, err := vitals.FromTries(vitals.Timed{CentiSeconds: []int{160, 170, 150}})
	fmt.Printf("%.1f %s, give or take %.2f, %v\n", m.Value, m.Unit, m.SD, err)
	// Output: 1.6 s, give or take 0.09, <nil>
}
