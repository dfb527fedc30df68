package normal

import "math"

// Beyond the limits. The limits are those of the normal mixture; what lies beyond them is told with a heavier tail, Student's with four degrees of freedom,
// that meets the normal one at the limit. Of invented horses with heavy-tailed days 2 to 3 of 100 findings were told as rarer than 1 in 100 by the
// normal tail, with this one 1 to 2. It is put on each part: the mixture over what the horse's SD may be is heavy by itself with few readings.

// heavyScale brings Student's tail to the normal one at Z975: the quantile of both over Z975.
const heavyScale = 1.416579655085

// heavyUpper is P(T > x) of Student's t with four degrees of freedom, x >= 0, without loss far out.
func heavyUpper(x float64) float64 {
	c := x / math.Sqrt(4+x*x)
	a := 4 / ((4 + x*x) * (1 + c))
	return a * a * (2 + c) / 4
}

// Rarity is the probability of a reading as far out as y or farther, on either side: p by the normal tails, which decides whether it is within the
// limits, and told, by the heavier ones beyond them. Both are the same within. above says on which side y lies.
func (p *Mixture) Rarity(y float64) (plain, told float64, above bool) {
	below, over := p.Tails(y)
	plain = min(1, 2*min(below, over))
	if above = over < below; plain >= .05 {
		return plain, plain, above
	}
	side := 1.0
	if !above {
		side = -1
	}
	x, tail := y-p.center, 0.0
	for i := range p.Parts {
		c := &p.Parts[i]
		z := side * (x - c.Mean) * c.inverse
		switch {
		case z >= Z975:
			tail += c.Weight * heavyUpper(heavyScale*z)
		case z > -Z975:
			tail += c.Weight * seriesUpper(z)
		default:
			tail += c.Weight * (1 - heavyUpper(-heavyScale*z))
		}
	}
	return plain, min(.05, max(plain, 2*tail)), above
}
