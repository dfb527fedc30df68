package main

import "math"

// curve is the area under the ROC curve of a number, and what its error and its comparison with
// another number need (DeLong, DeLong and Clarke-Pearson, Biometrics 44 (1988) 837-845).
type curve struct {
	area      float64
	bad, good []float64 // the placement of each case
}

// roc compares the numbers of those that died with those that lived. The area is the chance that of one
// of each the one that died has the higher number, ties counting half.
func roc(bad, good []float64) curve {
	c := curve{bad: make([]float64, len(bad)), good: make([]float64, len(good))}
	for i, x := range bad {
		for j, y := range good {
			w := 0.
			switch {
			case x > y:
				w = 1
			case x == y:
				w = .5
			}
			c.area += w
			c.bad[i] += w
			c.good[j] += w
		}
	}
	c.area /= float64(len(bad) * len(good))
	for i := range c.bad {
		c.bad[i] /= float64(len(good))
	}
	for j := range c.good {
		c.good[j] /= float64(len(bad))
	}
	return c
}

// se is the standard error of the area.
func (c curve) se() float64 {
	return math.Sqrt(covariance(c.bad, c.bad)/float64(len(c.bad)) + covariance(c.good, c.good)/float64(len(c.good)))
}

// seOfDifference is the standard error of the difference of two areas over the same cases.
func (c curve) seOfDifference(o curve) float64 {
	bad := covariance(c.bad, c.bad) + covariance(o.bad, o.bad) - 2*covariance(c.bad, o.bad)
	good := covariance(c.good, c.good) + covariance(o.good, o.good) - 2*covariance(c.good, o.good)
	return math.Sqrt(max(0, bad/float64(len(c.bad))+good/float64(len(c.good))))
}

func covariance(x, y []float64) float64 {
	mx, my := 0., 0.
	for i := range x {
		mx += x[i] / float64(len(x))
		my += y[i] / float64(len(y))
	}
	sum := 0.
	for i := range x {
		sum += (x[i] - mx) * (y[i] - my)
	}
	return sum / float64(len(x)-1)
}
