package level

import "math"

// rateBelief is a belief about eps: weights of BadDayRates, summing to one.
type rateBelief [len(BadDayRates)]float64

func (s *rateBelief) mean() (eps float64) {
	for i, w := range s {
		eps += w * BadDayRates[i]
	}
	return eps
}

// times multiplies by (1-eps) well + eps ill, and returns the sum before it is
// scaled to one again.
func (s *rateBelief) times(well, ill float64) (sum float64) {
	for i := range s {
		eps := BadDayRates[i]
		s[i] *= (1-eps)*well + eps*ill
		sum += s[i]
	}
	inv := 1 / sum
	for i := range s {
		s[i] *= inv
	}
	return sum
}

// meanWithout is the mean with the same factor divided out.
func (s *rateBelief) meanWithout(well, ill float64) float64 {
	sum, mean := 0.0, 0.0
	for i, w := range s {
		eps := BadDayRates[i]
		w /= (1-eps)*well + eps*ill
		sum += w
		mean += w * eps
	}
	return mean / sum
}

// badDay is one way in which a bad day moves a reading, in own SDs.
type badDay struct{ share, shift, spread float64 }

// outlierModel is what a grid point makes of one reading of a bad or a well day.
type outlierModel struct {
	y, noise float64 // reading; variance around h on a well day
	own      float64 // variance of the horse and the method together
	ways     [3]badDay
}

// outlierModel is that of a model without its reading.
func (l *Model) outlierModel() outlierModel {
	return outlierModel{ways: [...]badDay{{1 - farDay.share - slip.share, BadDayShift, l.spread}, farDay, slip}}
}

// matchMoments sets the factor of a visit from the belief about h without it: normal
// with mean m and variance v; and from the belief about eps without it. It
// returns the density of the reading, scaled by exp(-x.scale).
func (k *outlierModel) matchMoments(x *factor, m, v float64, eps float64) (density float64) {
	own := math.Sqrt(k.own)
	total := v + k.noise
	e := k.y - m
	// Exponents of a well day and of the bad ones; the largest is taken out.
	well := -.5 * e * e / total
	top := well
	var bad [len(k.ways)]struct{ e, noise, weight float64 }
	for i := range bad {
		w, b := &k.ways[i], &bad[i]
		b.e, b.noise = e-w.shift*own, w.spread*w.spread*k.own
		b.weight = -.5 * b.e * b.e / (v + b.noise)
		top = max(top, b.weight)
	}
	x.scale = top
	x.well, x.bad = relative(well, top)/math.Sqrt(total), 0
	for i := range bad {
		b := &bad[i]
		b.weight = relative(b.weight, top) * k.ways[i].share / math.Sqrt(v+b.noise)
		x.bad += b.weight
	}
	density = (1-eps)*x.well + eps*x.bad
	x.probability = eps * x.bad / density

	// Mean (from m) and variance of h after the reading.
	w, g := 1-x.probability, v/total
	mean := w * g * e
	second := w * g * (k.noise + g*e*e)
	for i := range bad {
		b := &bad[i]
		w, g := eps*b.weight/density, v/(v+b.noise)
		mean += w * g * b.e
		second += w * g * (b.noise + g*b.e*b.e)
	}
	after := second - mean*mean
	x.precision = 1/after - 1/v
	if x.precision < 0 {
		// Doubt about the reading widens h. A factor cannot carry that to the others
		// and stay normal for all of them: the mean alone is kept.
		x.precision, x.rate = 0, mean/v
		return density
	}
	x.rate = (m+mean)/after - m/v
	return density
}

// relative is exp(a-b), for a at b without the exponential.
func relative(a, b float64) float64 {
	if a == b {
		return 1
	}
	return math.Exp(a - b)
}

// mass is the integral of the factor over a normal h: exp(exponent)/sqrt(square).
func (x *factor) mass(m, v float64) (exponent, square float64) {
	square = 1 + x.precision*v
	return .5 * (x.rate*(2*m+x.rate*v) - x.precision*m*m) / square, square
}

// logProduct is the log of a product of many factors.
type logProduct struct{ p, log float64 }

func (p *logProduct) by(x float64) {
	p.p *= x
	if p.p < 1e-100 || p.p > 1e100 {
		p.log += math.Log(p.p)
		p.p = 1
	}
}

func (p *logProduct) value() float64 { return p.log + math.Log(p.p) }
