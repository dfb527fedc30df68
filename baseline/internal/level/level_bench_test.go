package level

import (
	"math/rand/v2"
	"strconv"
	"testing"

	"whorl.example/baseline/internal/normal"
)

// sickly is a history with a tenth of bad days.
func sickly(n int) []Reading {
	rng := rand.New(rand.NewPCG(7, 9))
	ps := make([]Reading, n)
	for k := range ps {
		y := 38 + 3*rng.NormFloat64()
		if rng.Float64() < .1 {
			y += 12
		}
		ps[k] = Reading{Day: float64(k), Hour: float64(k * 7 % 24), Y: y, SD: .8}
	}
	return ps
}

func models() []struct {
	name string
	set  Setting
} {
	swing := &Rhythm{Amplitude: 3.5, AmplitudeSD: 1.5, From: 16, To: 23}
	base := with(heartPrior(), .5, false, false)
	wide := with(heartPrior(), .72, true, false)
	day := with(heartPrior(), .5, true, false)
	day.Rhythm = swing
	all := day
	all.BadDays = true
	return []struct {
		name string
		set  Setting
	}{
		{"plain", base}, {"drift", with(base, .5, true, false)}, {"drift-wide", wide}, {"drift-rhythm", day},
		{"drift-bad", with(base, .5, true, true)}, {"drift-rhythm-bad", all},
	}
}

// One more reading, taken into every grid point that was looked at, and the same with the weights of all anew. Limits
// of the first: .7 us plain, 2 us with drift; a grid of 255 points took .82 us.
func BenchmarkLearn(b *testing.B) {
	for _, m := range models()[:4] {
		for _, weigh := range []bool{false, true} {
			name := m.name
			if weigh {
				name += "-weighed"
			}
			b.Run(name, func(b *testing.B) {
				l := New(m.set)
				ps := sickly(200)
				b.ReportAllocs()
				for i := 0; b.Loop(); i++ {
					if i%180 == 0 {
						b.StopTimer()
						l.Fit(ps[:20])
						b.StartTimer()
					}
					l.Learn(ps[20+i%180])
					if weigh {
						l.Weigh()
					}
				}
			})
		}
	}
}

// A history from the raw readings.
func BenchmarkFit(b *testing.B) {
	for _, m := range models() {
		for _, n := range []int{20, 200} {
			b.Run(m.name+"/"+strconv.Itoa(n), func(b *testing.B) {
				l := New(m.set)
				ps := sickly(n)
				for b.Loop() {
					l.Fit(ps)
				}
			})
		}
	}
}

// A prediction and both 95 % limits.
func BenchmarkLimits(b *testing.B) {
	for _, m := range models() {
		for _, n := range []int{0, 5, 20, 200} {
			b.Run(m.name+"/"+strconv.Itoa(n), func(b *testing.B) {
				l, p := New(m.set), new(normal.Mixture)
				l.Fit(sickly(n))
				l.PredictInto(p, float64(n), 8, .8)
				b.ReportAllocs()
				for b.Loop() {
					l.PredictInto(p, float64(n), 8, .8)
					p.Limits(.95)
				}
				b.ReportMetric(float64(len(p.Parts)), "parts")
			})
		}
	}
}
