package normal

import (
	"math"
	"testing"
)

// Normal quantiles and tails: engine-independent reference values of R's
// qnorm and pnorm, 12 digits and more.
func TestNormalReferenceValues(t *testing.T) {
	t.Parallel()
	for _, v := range []struct{ p, z float64 }{
		{.95, 1.644853626951472}, {.975, 1.959963984540054}, {.995, 2.5758293035489},
		{.9995, 3.290526731491926}, {1e-10, -6.361340902404056}, {.5, 0},
	} {
		if got := Quantile(v.p); math.Abs(got-v.z) > 2e-13*math.Max(1, math.Abs(v.z)) {
			t.Errorf("quantile(%g) = %.16g, want %.16g", v.p, got, v.z)
		}
	}
	for _, v := range []struct{ z, tail float64 }{
		{1, .158655253931457}, {2, .0227501319481792}, {3, .00134989803163009},
		{5, 2.86651571879194e-7}, {10, 7.61985302416053e-24}, {30, 4.90671392714819e-198},
	} {
		if got := Upper(v.z); math.Abs(got/v.tail-1) > 1e-12 {
			t.Errorf("upper(%g) = %.16g, want %.16g", v.z, got, v.tail)
		}
	}
}

// The whole range against math.Erfc, and there and back through the quantile.
func TestNormalTailAgainstErfc(t *testing.T) {
	t.Parallel()
	worst := 0.0
	for z := -38.0; z <= 26; z += .0037 {
		e, got := Tail(z)
		want := .5 * math.Erfc(z/math.Sqrt2)
		if e != math.Exp(-.5*z*z) {
			t.Fatalf("density factor at %g", z)
		}
		worst = math.Max(worst, math.Abs(got/want-1))
	}
	if worst > 2e-13 {
		t.Errorf("largest relative difference %g", worst)
	}
	for lp := -.7; lp > -300; lp -= .37 {
		p := math.Exp(lp)
		z := Quantile(p)
		if back := Upper(-z); math.Abs(back/p-1) > 1e-12*math.Max(1, z*z) {
			t.Errorf("p %g -> z %g -> %g", p, z, back)
		}
	}
	for _, p := range []float64{-.1, 1.1, math.NaN()} {
		if !math.IsNaN(Quantile(p)) {
			t.Errorf("quantile(%g) is a number", p)
		}
	}
	if !math.IsInf(Quantile(0), -1) || !math.IsInf(Quantile(1), 1) {
		t.Error("the ends are not infinite")
	}
}
