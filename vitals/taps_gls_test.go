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

// estimate gives the period and its standard deviation, with the variances as assumed.
func (g *gls) estimate() (period, sd float64) { return g.period(), math.Sqrt(1 / g.kk) }

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
	t.Parallel()
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
	t.Parallel()
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

// The deviation against the formulas with every covariance matrix written out: at each
// proportion of beat to tap the marginal likelihood of Student's t for the scale, the
// average of the variances and of the squared distances of the estimates.
func TestSpreadAgainstExplicitCovariance(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(3, 4))
	for range 60 {
		n := 3 + r.IntN(40)
		const beat, jitter, centre = 0.05, 0.04, 1.7
		d, k := make([]float64, n), make([]float64, n)
		s := newSpread(beat, jitter, centre)
		for i := range d {
			k[i] = float64(1 + r.IntN(3)*r.IntN(2)*r.IntN(2))
			d[i] = 1.6*k[i] + 0.1*r.NormFloat64()
			s.add(d[i], k[i])
		}
		var weight, period, variance [7]float64
		for i := range 7 {
			proportion := beat / jitter * math.Pow(2, float64(i-3))
			v := covariance(k, proportion, 1) // in squares of the scale, which is the finger's
			vk := solve(v, k)
			information := dot(vk, k)
			period[i] = dot(vk, d) / information
			rest := make([]float64, n)
			for j := range rest {
				rest[j] = d[j] - k[j]*period[i]
			}
			// Inverse gamma prior of the squared scale: 6.5 degrees about (jitter/2)².
			sum := 6.5*jitter*jitter/4 + dot(rest, solve(v, rest))
			degrees := float64(n-1) + 6.5
			weight[i] = math.Pow(0.8, float64(i)) * math.Exp(-(logDeterminant(v)+math.Log(information)+degrees*math.Log(sum/0.01))/2)
			variance[i] = sum / (degrees - 2) / information
		}
		var total, square float64
		for i, w := range weight {
			total += w
			square += w * (variance[i] + (period[i]-period[3])*(period[i]-period[3]))
		}
		want := math.Sqrt(square/total) * (1 + 0.4/float64(n))
		td.Cmp(t, s.own().period(), td.N(period[3], 1e-9))
		td.Cmp(t, s.deviation()/want, td.N(1.0, 1e-6), "%d intervals", n)
	}
}

// logDeterminant is by Cholesky's factors.
func logDeterminant(a [][]float64) (sum float64) {
	n := len(a)
	l := make([][]float64, n)
	for i := range l {
		l[i] = make([]float64, n)
		for j := range i + 1 {
			x := a[i][j]
			for k := range j {
				x -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(x)
				sum += 2 * math.Log(l[i][i])
			} else {
				l[i][j] = x / l[j][j]
			}
		}
	}
	return sum
}
