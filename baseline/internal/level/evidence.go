package level

import (
	"math"
	"sync"
)

// What is assumed beforehand of horses can be learned from horses: each gives the log evidence of its readings at every point of a fixed grid
// of settings, as integers, and a herd is their sum, in any order, to the byte. The grid is about the setting that ships:
//
//	M0 + dm Tau, Tau × t, Sigma0 × s, omega.
//
// The walk, bad days and the rhythm are left out; readings of probable bad days are to be left out, too, and what the hour and the way add taken out.

// The axes of the grid, the last one the fastest.
var (
	herdMiddles = [...]float64{-1, -.75, -.5, -.25, 0, .25, .5, .75, 1}                         // dm
	herdTaus    = [...]float64{-1, -.5, 0, .5, 1}                                               // log2 t
	herdSigmas  = [...]float64{-1.5, -1.25, -1, -.75, -.5, -.25, 0, .25, .5, .75, 1, 1.25, 1.5} // log2 s
	herdOmegas  = [...]float64{.25, .35, .5, .74, 1}                                            // omega
	herdWeights = [...]float64{.2, .3, .3, .15, .05}                                            // of omega, beforehand
)

const (
	// EvidencePoints is how many points the grid has, EvidenceUnit how many units of the integers are one of the logarithm.
	EvidencePoints = len(herdMiddles) * len(herdTaus) * len(herdSigmas) * len(herdOmegas)
	EvidenceUnit   = 1024
	// EvidenceMost is the most that one horse says for or against a point.
	EvidenceMost = 1 << 30

	// SDs of what is believed beforehand of dm, log2 t and ln s.
	herdMiddleSD = .5
	herdTauSD    = .5
	herdSigmaSD  = .6

	herdSteps = 81 // values of sigma, over GridReach prior SDs as they ship
)

// sigmaWeights are, for each s and omega, the weights of the values of sigma.
var sigmaWeights = sync.OnceValue(func() (w [len(herdSigmas) * len(herdOmegas)][herdSteps]float64) {
	for i, s := range herdSigmas {
		for j, omega := range herdOmegas {
			row, total := &w[i*len(herdOmegas)+j], 0.0
			for k := range row {
				u := (herdLogSigma(k) - s*math.Ln2) / omega
				row[k] = math.Exp(-u * u / 2)
				total += row[k]
			}
			for k := range row {
				row[k] /= total
			}
		}
	}
	return w
})

// herdLogSigma is the logarithm of a value of sigma, over Sigma0.
func herdLogSigma(k int) float64 {
	return Omega * GridReach * float64(2*k-(herdSteps-1)) / (herdSteps - 1)
}

// told is what readings say of their common middle at one sigma and drift: with the innovations e of the readings above M0, f of a one and their
// variances S the sums of f²/S, fe/S, e²/S and ln S.
type toldMiddle struct{ ff, fe, ee, logs float64 }

// Evidence is the log evidence of readings at every point of the grid. It says nothing, all noughts, of no readings.
func Evidence(set Setting, points []Reading) []int32 {
	out := make([]int32, EvidencePoints)
	points = VisitMeans(InOrder(points))
	if len(points) == 0 {
		return out
	}
	if !(set.SpanDays > 0) {
		set.SpanDays = defaultSpan
	}
	drifts := Drifts(set.Drift)
	told := make([]toldMiddle, 0, herdSteps*len(drifts))
	for k := range herdSteps {
		sigma := set.Sigma0 * math.Exp(herdLogSigma(k))
		for _, b := range drifts {
			whole := sigma * sigma / (1 - b.Share*WithinSpan(set.SpanDays, b.Days))
			told = append(told, middleOf(points, set.M0, whole, b))
		}
	}
	weights := sigmaWeights()
	at := 0
	for _, dm := range herdMiddles {
		for _, t := range herdTaus {
			mu, v := dm*set.Tau, set.Tau*set.Tau*math.Exp2(2*t)
			var logs [herdSteps]float64
			best := math.Inf(-1)
			for k := range logs {
				logs[k] = logSum(told[k*len(drifts):(k+1)*len(drifts)], drifts, mu, v)
				best = max(best, logs[k])
			}
			for k := range logs {
				logs[k] = math.Exp(logs[k] - best)
			}
			for i := range weights {
				sum := 0.0
				for k, w := range weights[i][:] {
					sum += w * logs[k]
				}
				e := math.RoundToEven(EvidenceUnit * (best + math.Log(sum)))
				out[at] = int32(max(-EvidenceMost, min(EvidenceMost, e)))
				at++
			}
		}
	}
	return out
}

// middleOf runs the filter of the drift over readings.
func middleOf(points []Reading, m0, whole float64, b Drift) (m toldMiddle) {
	vd, ve := b.Share*whole, (1-b.Share)*whole
	d, one, c := 0.0, 0.0, vd // the drift of the readings, of a one, its variance
	for i := range points {
		if i > 0 && vd > 0 {
			r := math.Exp(-(points[i].Day - points[i-1].Day) / b.Days)
			d, one, c = d*r, one*r, vd+r*r*(c-vd)
		}
		s := c + ve + points[i].SD*points[i].SD
		e, f := points[i].Y-m0-d, 1-one
		m.ff += f * f / s
		m.fe += f * e / s
		m.ee += e * e / s
		m.logs += math.Log(s)
		g := c / s
		d, one, c = d+g*e, one+g*f, c-g*c
	}
	return m
}

// logSum is the log density of the readings where the middle has mean mu and variance v, over the drifts.
func logSum(told []toldMiddle, drifts []Drift, mu, v float64) float64 {
	best, total := math.Inf(-1), 0.0
	logs := append(make([]float64, 0, 8), make([]float64, len(told))...)
	for i := range told {
		m := &told[i]
		pull := m.fe - m.ff*mu
		logs[i] = -(m.logs + m.ee - 2*m.fe*mu + m.ff*mu*mu + math.Log1p(v*m.ff) - v*pull*pull/(1+v*m.ff)) / 2
		best = max(best, logs[i])
	}
	for i, l := range logs {
		total += drifts[i].Weight * math.Exp(l-best)
	}
	return best + math.Log(total)
}

// FromEvidence gives the setting that the sums of the evidence of horses call for: its moments over the grid.
func FromEvidence(set Setting, sums []int64) Setting {
	logs := make([]float64, EvidencePoints)
	best, at := math.Inf(-1), 0
	for _, dm := range herdMiddles {
		for _, t := range herdTaus {
			for _, s := range herdSigmas {
				for k := range herdOmegas {
					a, b, c := dm/herdMiddleSD, t/herdTauSD, s*math.Ln2/herdSigmaSD
					logs[at] = float64(sums[at])/EvidenceUnit + math.Log(herdWeights[k]) - (a*a+b*b+c*c)/2
					best = max(best, logs[at])
					at++
				}
			}
		}
	}
	var total, middle, middle2, tau2, sigma, sigma2, omega2 float64
	at = 0
	for _, dm := range herdMiddles {
		for _, t := range herdTaus {
			for _, s := range herdSigmas {
				for _, omega := range herdOmegas {
					w := math.Exp(logs[at] - best)
					at++
					total += w
					middle, middle2 = middle+w*dm, middle2+w*dm*dm
					tau2 += w * math.Exp2(2*t)
					sigma, sigma2 = sigma+w*s*math.Ln2, sigma2+w*s*s*math.Ln2*math.Ln2
					omega2 += w * omega * omega
				}
			}
		}
	}
	middle, sigma = middle/total, sigma/total
	out := set
	out.M0 += set.Tau * middle
	out.Tau *= math.Sqrt(tau2/total + middle2/total - middle*middle)
	out.Sigma0 *= math.Exp(sigma)
	out.Omega = math.Sqrt(omega2/total + sigma2/total - sigma*sigma)
	return out
}
