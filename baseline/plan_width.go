package baseline

import (
	"math"

	"whorl.example/baseline/internal/level"
	"whorl.example/baseline/internal/normal"
)

// What a schedule of exams will teach, computed before the first one, without sampling.
//
// The model is that of the horse's own level: y = mu + d(t) + e, with mu normal about m0
// (SD tau), d an Ornstein-Uhlenbeck drift (share phi of the variance, time constant L
// days), e the rest of the horse's variation and the measuring. The true (sigma, phi, L)
// of the horse is one point of a grid with the prior's weights. For each truth:
//
//   - the weights that the fit will give every grid point are those of the expected log
//     likelihood, -(log det V + q tr(V^-1 V_true))/2, for readings that scatter q times as
//     much as expected, q over the middles of its distribution;
//   - the width is that of the 95 % interval of the mixture of the Mixture
//     distributions, which for one schedule have variances that no reading changes.
//
// The expected width is the average over truths and q. What that leaves out of the
// readings' play is measured in the tests by simulation.

// planModel is a sign's prior with the grid laid out.
type planModel struct {
	tau    float64
	points []planPoint
	truths []planPoint // coarser: the average over truths needs fewer
}

// planPoint is one (sigma, phi, L): the variance of the drift, of the rest, and the weight.
type planPoint struct{ vd, ve, days, weight float64 }

// planFine and planCoarse are the numbers of sigmas: steps of .2 prior log-SDs over ±5, and of .8 over ±2.4.
const (
	planFine   = 51
	planCoarse = 7
)

func newPlanModel(r row, drift bool) planModel {
	m := planModel{tau: r.tau}
	lay := func(n int, reach float64) []planPoint {
		var out []planPoint
		sum := 0.0
		for _, b := range level.Drifts(drift) {
			seen := 1 - b.Share*level.WithinSpan(spanDays, b.Days)
			for j := range n {
				u := reach * (2*float64(j)/float64(n-1) - 1)
				v := r.sigma0 * r.sigma0 * math.Exp(2*level.Omega*u) / seen
				p := planPoint{vd: b.Share * v, ve: (1 - b.Share) * v, days: b.Days, weight: b.Weight * math.Exp(-u*u/2)}
				sum += p.weight
				out = append(out, p)
			}
		}
		for i := range out {
			out[i].weight /= sum
		}
		return out
	}
	m.points, m.truths = lay(planFine, 5), lay(planCoarse, 2.4)
	return m
}

// attainable is the expected width on a day long after, of a horse known completely: level
// and variation known, today's drift not.
func (m planModel) attainable(s float64) float64 {
	w := 0.0
	for _, p := range m.truths {
		w += p.weight * 2 * normal.Z975 * math.Sqrt(p.vd+p.ve+s*s)
	}
	return w
}

// width is the expected width, on a day long after, of the 95 % interval of readings of
// measuring SD s, after exams at the given days with measuring SD s each.
func (m planModel) width(days []float64, s float64) float64 {
	n := len(days)
	fits := make([]planFitted, len(m.points))
	for i, p := range m.points {
		fits[i] = m.fit(p, days, s)
	}
	total := 0.0
	truth := newPlanMatrix(n)
	logs, traces := make([]float64, len(m.points)), make([]float64, len(m.points))
	spreads := planSpreads(n)
	var usual normal.Mixture
	for _, t := range m.truths {
		m.covariance(truth, t, days, s)
		for i := range m.points {
			traces[i] = fits[i].trace(truth)
		}
		for _, q := range spreads {
			top, sum := math.Inf(-1), 0.0
			for i, p := range m.points {
				logs[i] = math.Log(p.weight) - (fits[i].logDet+q*traces[i])/2
				top = max(top, logs[i])
			}
			for _, l := range logs {
				sum += math.Exp(l - top)
			}
			usual.Reset(0)
			for i, p := range m.points {
				if l := logs[i] - top; l > level.LogNegligible {
					usual.Add(math.Exp(l)/sum, 0, fits[i].level+p.vd+p.ve+s*s)
				}
			}
			usual.Moments()
			total += t.weight * 2 * usual.Quantile(.975) / float64(len(spreads))
		}
	}
	return total
}

// planSpreads are how much n readings scatter, over what is expected of them: the middles
// of five parts of chi² with n degrees of freedom over n, equally probable (Wilson and
// Hilferty's cube, from memory). Readings that happen to scatter little narrow the
// interval more than others widen it.
func planSpreads(n int) []float64 {
	if n == 0 {
		return []float64{1}
	}
	out := make([]float64, 5)
	for i := range out {
		v := 2 / (9 * float64(n))
		x := 1 - v + normal.Quantile((float64(i)+.5)/5)*math.Sqrt(v)
		out[i] = max(0, x*x*x)
	}
	return out
}

// planFitted is what a grid point makes of a schedule.
type planFitted struct {
	inverse planMatrix // of the readings' covariance
	logDet  float64
	level   float64 // posterior variance of mu
}

// planMatrix is a square matrix, row by row.
type planMatrix struct {
	n int
	a []float64
}

func newPlanMatrix(n int) planMatrix { return planMatrix{n, make([]float64, n*n)} }

// covariance fills in the covariance of the readings.
func (m planModel) covariance(v planMatrix, p planPoint, days []float64, s float64) {
	for i := range days {
		for j := range days {
			c := m.tau*m.tau + p.vd*math.Exp(-math.Abs(days[i]-days[j])/p.days)
			if i == j {
				c += p.ve + s*s
			}
			v.a[i*v.n+j] = c
		}
	}
}

// fit inverts the covariance by Cholesky's factors; the readings number a few dozen.
func (m planModel) fit(p planPoint, days []float64, s float64) planFitted {
	n := len(days)
	l := newPlanMatrix(n)
	m.covariance(l, p, days, s)
	f := planFitted{inverse: newPlanMatrix(n)}
	for i := range n {
		for j := 0; j <= i; j++ {
			x := l.a[i*n+j]
			for k := range j {
				x -= l.a[i*n+k] * l.a[j*n+k]
			}
			if i == j {
				// Rounding alone can bring it below this share of the diagonal.
				l.a[i*n+i] = math.Sqrt(max(x, 1e-14*l.a[i*n+i]))
				f.logDet += 2 * math.Log(l.a[i*n+i])
			} else {
				l.a[i*n+j] = x / l.a[j*n+j]
			}
		}
	}
	// Columns of the inverse, by solving forwards and backwards.
	col := make([]float64, n)
	for c := range n {
		for i := range n {
			x := 0.0
			if i == c {
				x = 1
			}
			for k := range i {
				x -= l.a[i*n+k] * col[k]
			}
			col[i] = x / l.a[i*n+i]
		}
		for i := n - 1; i >= 0; i-- {
			x := col[i]
			for k := i + 1; k < n; k++ {
				x -= l.a[k*n+i] * col[k]
			}
			col[i] = x / l.a[i*n+i]
		}
		for i := range n {
			f.inverse.a[i*n+c] = col[i]
		}
	}
	// Var(mu | readings) = tau² - tau⁴ 1'V^-1 1.
	sum := 0.0
	for _, x := range f.inverse.a {
		sum += x
	}
	f.level = max(0, m.tau*m.tau-m.tau*m.tau*m.tau*m.tau*sum)
	return f
}

// trace is tr(V^-1 T), the expected quadratic form of readings of covariance T.
func (f planFitted) trace(t planMatrix) float64 {
	x := 0.0
	for i, a := range f.inverse.a {
		x += a * t.a[i] // both symmetric
	}
	return x
}
