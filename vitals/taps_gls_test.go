package vitals

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// solve gives the solution of a·x = b by elimination with pivots.
func solve(a [][]float64, b []float64) []float64 {
	n := len(b)
	m := make([][]float64, n)
	for i := range m {
		m[i] = append(append([]float64{}, a[i]...), b[i])
	}
	for i := range n {
		p := i
		for j := i + 1; j < n; j++ {
			if math.Abs(m[j][i]) > math.Abs(m[p][i]) {
				p = j
			}
		}
		m[i], m[p] = m[p], m[i]
		for j := i + 1; j < n; j++ {
			f := m[j][i] / m[i][i]
			for k := i; k <= n; k++ {
				m[j][k] -= f * m[i][k]
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = m[i][n]
		for k := i + 1; k < n; k++ {
			x[i] -= m[i][k] * x[k]
		}
		x[i] /= m[i][i]
	}
	return x
}

func dot(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// covariance writes out the covariance of intervals that span k events each.
func covariance(k []float64, beat, jitter float64) [][]float64 {
	v := make([][]float64, len(k))
	for i := range v {
		v[i] = make([]float64, len(k))
		v[i][i] = k[i]*beat*beat + 2*jitter*jitter
		if i > 0 {
			v[i][i-1], v[i-1][i] = -jitter*jitter, -jitter*jitter
		}
	}
	return v
}

// The recursion against the textbook estimate with the covariance matrix written out, for
// missed beats, for 2 to 60 intervals, and for every proportion of beat to tap.
func TestGLSAgainstExplicitCovariance(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 400 {
		n := 2 + r.IntN(59)
		beat, jitter := 0.5*r.Float64()+1e-3, 0.2*r.Float64()+1e-3
		d, k := make([]float64, n), make([]float64, n)
		g := newGLS(beat, jitter)
		g.centre = 1.7
		for i := range d {
			k[i] = float64(1 + r.IntN(3)*r.IntN(2))
			d[i] = 1.6*k[i] + 0.1*r.NormFloat64()
			g.add(d[i], k[i])
		}
		v := covariance(k, beat, jitter)
		vk := solve(v, k)
		period := dot(vk, d) / dot(vk, k)
		rest := make([]float64, n)
		for i := range rest {
			rest[i] = d[i] - k[i]*period
		}
		got, sd := g.estimate()
		td.CmpLax(t, got, td.N(period, 1e-9))
		td.CmpLax(t, sd, td.N(math.Sqrt(1/dot(vk, k)), 1e-9))
		td.CmpLax(t, g.misfit()/dot(rest, solve(v, rest)), td.N(1.0, 1e-6))
	}
}

// The closed form of the weights and of the variance, for intervals of one event each.
func TestGLSAgainstClosedForm(t *testing.T) {
	at := []float64{0, 1.70, 3.31, 5.02, 6.66, 8.35, 9.98, 11.70}
	const beat, jitter = 0.05, 0.04
	g := newGLS(beat, jitter)
	q := beat * beat / jitter / jitter
	theta := math.Acosh(1 + q/2)
	n := float64(len(at) - 1)
	var weights, period float64
	first := 0.0
	for i := 1; i < len(at); i++ {
		w := 1 - math.Cosh(theta*(float64(i)-(n+1)/2))/math.Cosh(theta*(n+1)/2)
		if i == 1 {
			first = w
		}
		weights += w
		period += w * (at[i] - at[i-1])
		g.add(at[i]-at[i-1], 1)
	}
	precision := (n - math.Sinh(theta*n/2)/(math.Sinh(theta/2)*math.Cosh(theta*(n+1)/2))) / q
	got, sd := g.estimate()
	td.Cmp(t, got, td.N(period/weights, 1e-12))
	td.Cmp(t, sd, td.N(jitter/math.Sqrt(precision), 1e-12))
	td.Cmp(t, precision, td.N(3.912642, 1e-6))
	td.Cmp(t, first/weights, td.N(0.11328624, 1e-8))
}
