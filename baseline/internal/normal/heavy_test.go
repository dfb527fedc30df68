package normal

import (
	"math"
	"testing"
)

// One normal, beyond its limits by Student's t with four degrees of freedom that meets it at the 97.5 % quantile: twice the tail.
func TestHeavyTail(t *testing.T) {
	t.Parallel()
	var p Mixture
	p.Reset(38)
	p.Add(1, .5, 4)
	p.Moments()
	for z, want := range map[float64]float64{1.5: .1336144025, 1.959963984540054: .05, 2.5: .02398214351, 3: .01316081315, 4: .004783575599, 6: .001050824904} {
		for _, side := range []float64{1, -1} {
			plain, told, above := p.Rarity(38.5 + side*2*z)
			if math.Abs(told-want) > 1e-10 {
				t.Errorf("%g SDs: %.12g, want %.12g", z, told, want)
			}
			if normal := 2 * Upper(z); math.Abs(plain-normal) > 1e-11*normal {
				t.Errorf("%g SDs: %.12g by the normal tail, want %.12g", z, plain, normal)
			}
			if above != (side > 0) {
				t.Errorf("%g SDs: above %v", side*z, above)
			}
		}
	}
	// The tail of Student's t with four degrees by Simpson's rule.
	for x := 0.; x < 12; x += .7 {
		sum, h := 0.0, 1e-3
		for i := range 400000 {
			f := func(u float64) float64 { return 3. / 8 * math.Pow(1+u*u/4, -2.5) }
			a := x + float64(i)*h
			sum += h / 6 * (f(a) + 4*f(a+h/2) + f(a+h))
		}
		if got := heavyUpper(x); math.Abs(got-sum) > 1e-9 {
			t.Errorf("P(T > %g) = %.12g, want %.12g", x, got, sum)
		}
	}
}

// Farther out is rarer, of mixtures too, and never rarer than by the normal tail.
func TestHeavyTailFalls(t *testing.T) {
	t.Parallel()
	var p Mixture
	p.Reset(0)
	p.Add(.6, 0, 1)
	p.Add(.3, 1, 9)
	p.Add(.1, -4, .1)
	p.Moments()
	for _, side := range []float64{1, -1} {
		before := 1.0
		for x := 0.; x < 60; x += .05 {
			plain, told, _ := p.Rarity(p.Mean + side*x)
			if told < plain || told > before+1e-12 && plain < .9 {
				t.Fatalf("at %g: told %g, plain %g, before %g", side*x, told, plain, before)
			}
			before = told
		}
	}
}
