// Package normal is the normal distribution and mixtures of normals: tails, quantiles, limits.
package normal

import "math"

// The normal distribution, written out for two reasons: the limits of a
// mixture need the density and the tail of every component without an
// exponential, and math.Erfcinv(x) is Erfinv(1-x), which has no digits left in
// the tail.

const (
	sqrt2Pi    = 2.50662827463100050242
	InvSqrt2Pi = 0.398942280401432677940
	Log2Pi     = 1.83787706640934548356
)

// Tail returns exp(-z²/2) and P(Z > z), relative error of the tail below
// 1e-13 for z in -38..26. Rational approximations of W. J. Cody, Math. Comp.
// 23 (1969) 631-637, with the coefficients of his SPECFUN (ACM TOMS 19 (1993)
// 22-32), from memory and compared with math.Erfc in the tests. The tail comes
// without the split of the exponent he uses: at the |z| of a statement the
// single exponential loses less than one digit.
func Tail(z float64) (e, tail float64) {
	y := math.Abs(z)
	e = math.Exp(-0.5 * z * z)
	switch {
	case y <= 0.67448975:
		q := y * y
		num := ((((.065682337918207449113*q+2.2352520354606839287)*q+161.02823106855587881)*q+1067.6894854603709582)*q + 18154.981253343561249)
		den := ((((q+47.20258190468824187)*q+976.09855173777669322)*q+10260.932208618978205)*q + 45507.789335026729956)
		return e, 0.5 - z*num/den
	case y <= 5.656854249492380195:
		num := ((((((((1.0765576773720192317e-8*y+.39894151208813466764)*y+8.8831497943883759412)*y+93.506656132177855979)*y+597.27027639480026226)*y+2494.5375852903726711)*y+6848.1904505362823326)*y+11602.651437647350124)*y + 9842.7148383839780218)
		den := ((((((((y+22.266688044328115691)*y+235.38790178262499861)*y+1519.377599407554805)*y+6485.558298266760755)*y+18615.571640885098091)*y+34900.952721145977266)*y+38912.003286093271411)*y + 19685.429676859990727)
		tail = e * num / den
	default:
		q := 1 / (y * y)
		num := (((((.02307344176494017303*q+.21589853405795699)*q+.1274011611602473639)*q+.022235277870649807)*q+.001421619193227893466)*q + 2.9112874951168792e-5)
		den := (((((q+1.28426009614491121)*q+.468238212480865118)*q+.0659881378689285515)*q+.00378239633202758244)*q + 7.29751555083966205e-5)
		tail = e * (InvSqrt2Pi - q*num/den) / y
	}
	if z < 0 {
		tail = 1 - tail
	}
	return e, tail
}

// The tail by Taylor's series about the nearest of tailSteps points a unit: no
// exponential and no division, a third of the time of Tail, and the same digits
// on every processor that does not fuse. Its error stays below 2e-12 of the tail.
const (
	tailSteps = 32
	tailReach = 7.984375 // half a step before 8; beyond it Tail
)

// nodeNear gives the point nearest to y, 0 <= y < tailReach, and how far beyond it y lies. Added to
// 1.5 times 2^47 a number is rounded to 32nds, which are then the last bits.
func nodeNear(y float64) (n *taylorNode, d float64) {
	const round = 3 << 51 / tailSteps
	r := y + round
	return &taylorNodes[math.Float64bits(r)%(8*tailSteps)], y - (r - round)
}

// taylorNode is the tail at a point, and the factors of the powers of the distance from it that are
// to be taken off: the density times (-1)^n He_n/(n+1)!, He_n the Hermite polynomials.
type taylorNode [8]float64

var taylorNodes = func() (nodes [8 * tailSteps]taylorNode) {
	for k := range nodes {
		z := float64(k) / tailSteps
		e, tail := Tail(z)
		f := &nodes[k]
		f[0] = tail
		before, he, factorial := 0.0, 1.0, 1.0
		for n := range len(f) - 1 {
			factorial *= float64(n + 1)
			f[n+1] = InvSqrt2Pi * e * he / factorial
			if n%2 == 1 {
				f[n+1] = -f[n+1]
			}
			before, he = he, z*he-float64(n)*before
		}
	}
	return nodes
}()

// tail is the tail so far beyond the point.
func (f *taylorNode) tail(d float64) float64 {
	return f[0] - d*(f[1]+d*(f[2]+d*(f[3]+d*(f[4]+d*(f[5]+d*(f[6]+d*f[7]))))))
}

// seriesUpper is P(Z > z), and its error below 2e-12 of it.
func seriesUpper(z float64) float64 {
	y := math.Abs(z)
	if !(y < tailReach) {
		return Upper(z)
	}
	n, d := nodeNear(y)
	tail := n.tail(d)
	if z < 0 {
		tail = 1 - tail
	}
	return tail
}

// Upper is P(Z > z).
func Upper(z float64) float64 { _, t := Tail(z); return t }

// Quantile returns z with P(Z <= z) = p; ±Inf at 0 and 1, NaN outside.
// M. J. Wichura, algorithm AS 241 (PPND16), Applied Statistics 37 (1988)
// 477-484: relative error about 1e-16.
func Quantile(p float64) float64 {
	switch {
	case !(p >= 0 && p <= 1):
		return math.NaN()
	case p == 0:
		return math.Inf(-1)
	case p == 1:
		return math.Inf(1)
	}
	if q := p - 0.5; math.Abs(q) <= 0.425 {
		r := 0.180625 - q*q
		return q * (((((((2.5090809287301226727e+3*r+3.3430575583588128105e+4)*r+6.7265770927008700853e+4)*r+4.5921953931549871457e+4)*r+1.3731693765509461125e+4)*r+1.9715909503065514427e+3)*r+1.3314166789178437745e+2)*r + 3.3871328727963666080e0) /
			(((((((5.2264952788528545610e+3*r+2.8729085735721942674e+4)*r+3.9307895800092710610e+4)*r+2.1213794301586595867e+4)*r+5.3941960214247511077e+3)*r+6.8718700749205790830e+2)*r+4.2313330701600911252e+1)*r + 1)
	}
	z := tailQuantile(math.Min(p, 1-p))
	if p < 0.5 {
		return -z
	}
	return z
}

// tailQuantile returns z >= 0 with P(Z > z) = q for q in (0, .075], where
// 1-q would have lost its digits.
func tailQuantile(q float64) float64 {
	r := math.Sqrt(-math.Log(q))
	if r <= 5 {
		r -= 1.6
		return (((((((7.7454501427834140764e-4*r+2.27238449892691845833e-2)*r+2.41780725177450611770e-1)*r+1.27045825245236838258e0)*r+3.64784832476320460504e0)*r+5.76949722146069140550e0)*r+4.63033784615654529590e0)*r + 1.42343711074968357734e0) /
			(((((((1.05075007164441684324e-9*r+5.47593808499534494600e-4)*r+1.51986665636164571966e-2)*r+1.48103976427480074590e-1)*r+6.89767334985100004550e-1)*r+1.67638483018380384940e0)*r+2.05319162663775882187e0)*r + 1)
	}
	r -= 5
	return (((((((2.01033439929228813265e-7*r+2.71155556874348757815e-5)*r+1.24266094738807843860e-3)*r+2.65321895265761230930e-2)*r+2.96560571828504891230e-1)*r+1.78482653991729133580e0)*r+5.46378491116411436990e0)*r + 6.65790464350110377720e0) /
		(((((((2.04426310338993978564e-15*r+1.42151175831644588870e-7)*r+1.84631831751005468180e-5)*r+7.86869131145613259100e-4)*r+1.48753612908506148525e-2)*r+1.36929880922735805310e-1)*r+5.99832206555887937690e-1)*r + 1)
}

const Z975 = 1.959963984540054

// Z95 is the quantile of the normal distribution that 19 of 20 stay below.
const Z95 = 1.6448536269514722
