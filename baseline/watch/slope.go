package watch

import (
	"cmp"
	"math"

	"whorl.example/baseline"
	"whorl.example/baseline/internal/normal"
	"whorl.example/baseline/internal/stable"
)

// The direction of a series of rechecks, on the scale on which the sign is compared.
//
// Null: readings scatter about one level with the horse's own SD from one quiet exam to
// the next (its posterior, a mixture) and the measuring SD of each. Within hours a horse
// at rest should wander no more than from day to day, so the level of false statements is
// kept even where it wanders less; what happens where it wanders more is measured in
// the tests. The estimate is the weighted least squares slope, from
// the third moment on.
//
// Repeated looks: somebody who counts every ten minutes looks after every count. A look
// after n moments may spend a quarter of the error that is still left, .05*(1/4)*(3/4)^(n-3),
// which adds up to .05 over a series without end. By the union bound (Bonferroni) the
// chance of any false "rising" or "falling" in one series is then at most 5 %, however
// the counts are spaced and whenever the watching stops. Tried and left: the exact
// group-sequential limits with the same spending (Lan and DeMets 1983). They find a rise
// of one own SD a step by the fourth and fifth count in .41 and .74 of series instead of .38
// and .71, for a numerical integration at every look.

const (
	falseRate = .05 // any false direction in one series
	// watchUneven is the level of "not in one direction" in one series.
	unevenLevel  = .01
	leastMoments = 3 // moments before a slope is spoken of
	// watchPower is the chance with which the smallest slope "would have shown".
	power = .8
)

// lookShare is what the look after n moments may spend of a level.
func lookShare(level float64, n int) float64 {
	// The floor keeps the limits computable; it adds nothing to the sum.
	return max(level/4*math.Pow(.75, float64(n-leastMoments)), 1e-12)
}

// watchSpread is a distribution of SDs: the horse's own SD as its exams leave it known.
type watchSpread []struct{ sd, weight float64 }

// spreadOf is what the exams say of the horse's SD. The drift is left in on purpose: within hours a horse moves
// less than over weeks, and the direction must not be called too readily.
func spreadOf(k baseline.Variation) (sp watchSpread) {
	for _, c := range k.SDs {
		sp = append(sp, struct{ sd, weight float64 }{c.SD, c.Weight})
	}
	return sp
}

// watchReading is one reading on the scale of comparison; t in hours.
type reading struct{ t, y, s float64 }

// poolReadings sorts readings and pools those of one moment, weighted by the measuring: two
// counts at once are two looks at one state of the horse, not two states.
func poolReadings(rs []reading) []reading {
	var c []reading
	for _, r := range rs {
		if isFinite(r.t) && isFinite(r.y) && isFinite(r.s) && r.s >= 0 {
			c = append(c, r)
		}
	}
	stable.Sort(c, func(a, b reading) int {
		return cmp.Or(cmp.Compare(a.t, b.t), cmp.Compare(a.y, b.y), cmp.Compare(a.s, b.s))
	})
	var out []reading
	for i := 0; i < len(c); {
		j := i + 1
		for j < len(c) && c[j].t == c[i].t {
			j++
		}
		if j == i+1 {
			out, i = append(out, c[i]), j
			continue
		}
		w, wy := 0.0, 0.0
		for _, r := range c[i:j] {
			v := 1 / (r.s*r.s + 1e-12)
			w, wy = w+v, wy+v*r.y
		}
		out, i = append(out, reading{c[i].t, wy / w, 1 / math.Sqrt(w)}), j
	}
	return out
}

// watchFit is the slope for one SD of the horse.
type lineFit struct{ weight, slope, se, level, mid, q float64 }

// watchDirection is what a series says; slopes are per hour on the scale of comparison.
type direction struct {
	fits      []lineFit
	slope, se float64
	// p is two-sided; level is what this look may spend.
	p, level float64
	// The fitted course is mid at the time at.
	mid, at float64
	// uneven: the readings leave their line by more than measuring and horse explain.
	uneven bool
}

// slopeOf fits pooled readings; ok is false for fewer than three moments.
func slopeOf(rs []reading, sp watchSpread) (d direction, ok bool) {
	n := len(rs)
	if n < leastMoments || len(sp) == 0 {
		return d, false
	}
	uneven := 0.0
	for _, c := range sp {
		f := fitLine(rs, c.sd)
		f.weight = c.weight
		d.fits = append(d.fits, f)
		uneven += c.weight * chiTail(f.q, n-2)
		d.slope += f.weight * f.slope
		d.mid += f.weight * f.level
		d.at += f.weight * f.mid
	}
	v := 0.0
	for _, f := range d.fits {
		v += f.weight * (f.se*f.se + (f.slope-d.slope)*(f.slope-d.slope))
	}
	d.se = math.Sqrt(v)
	d.level = lookShare(falseRate, n)
	atZero := d.below(0)
	d.p = min(1, 2*min(atZero, 1-atZero))
	d.uneven = uneven < lookShare(unevenLevel, n)
	return d, true
}

// below is the distribution of the slope, given the readings.
func (d direction) below(x float64) float64 {
	p := 0.0
	for _, f := range d.fits {
		p += f.weight * normal.Upper((f.slope-x)/f.se)
	}
	return p
}

// limits hold the slope; they agree with p at this look's level, and over all looks at
// once they hold it with 95 % (repeated confidence intervals, Jennison and Turnbull 1989,
// the idea from memory). shows is the size of slope that would have shown in 4 of 5 series.
func (d direction) limits() (low, high, shows float64) {
	reach := 0.0
	for _, f := range d.fits {
		reach = max(reach, math.Abs(f.slope)+12*f.se)
	}
	low = root(-reach, reach, func(x float64) bool { return d.below(x) >= d.level/2 })
	high = root(-reach, reach, func(x float64) bool { return 1-d.below(x) <= d.level/2 })
	beyond := func(x, of float64) float64 { // P(estimate > x) where the truth is of
		p := 0.0
		for _, f := range d.fits {
			p += f.weight * normal.Upper((x-of)/f.se)
		}
		return p
	}
	limit := root(0, 2*reach, func(x float64) bool { return beyond(x, 0) <= d.level/2 })
	shows = root(0, 4*reach, func(x float64) bool { return beyond(limit, x) >= power })
	return low, high, shows
}

// fitLine is weighted least squares with known variances sd²+s².
func fitLine(rs []reading, sd float64) lineFit {
	var w, wt, wy float64
	for _, r := range rs {
		v := 1 / (sd*sd + r.s*r.s)
		w, wt, wy = w+v, wt+v*r.t, wy+v*r.y
	}
	mt, my := wt/w, wy/w
	var stt, sty float64
	for _, r := range rs {
		v := 1 / (sd*sd + r.s*r.s)
		stt += v * (r.t - mt) * (r.t - mt)
		sty += v * (r.t - mt) * (r.y - my)
	}
	f := lineFit{slope: sty / stt, se: 1 / math.Sqrt(stt), level: my, mid: mt}
	for _, r := range rs {
		e := r.y - my - f.slope*(r.t-mt)
		f.q += e * e / (sd*sd + r.s*r.s)
	}
	return f
}

// watchRoot finds where reached turns true between lo and hi; it must do so once.
func root(lo, hi float64, reached func(float64) bool) float64 {
	for range 70 {
		if mid := lo + (hi-lo)/2; reached(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo + (hi-lo)/2
}

// chiTail is P(chi² with df degrees of freedom > q), by the finite sums for whole df
// (Abramowitz and Stegun 26.4.4 and 26.4.5, from memory; compared with tables in the tests).
func chiTail(q float64, df int) float64 {
	if q <= 0 {
		return 1
	}
	if df%2 == 0 {
		term, sum := 1.0, 1.0
		for i := 1; i < df/2; i++ {
			term *= q / 2 / float64(i)
			sum += term
		}
		return math.Exp(-q/2) * sum
	}
	z := math.Sqrt(q)
	term, sum := z, 0.0
	for i := 1; i <= (df-1)/2; i++ {
		sum += term
		term *= q / float64(2*i+1)
	}
	return 2*normal.Upper(z) + 2*normal.InvSqrt2Pi*math.Exp(-q/2)*sum
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
