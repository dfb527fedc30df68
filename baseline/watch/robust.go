package watch

import (
	"math"
	"slices"

	"whorl.example/baseline/internal/normal"
)

// kendallExact is the largest series whose exact distribution is worked out; a longer one gets
// the normal approximation with the variance for ties and the correction for continuity.
const kendallExact = 30

// watchRobust describes a series with rising times by Kendall's S with its two-sided p and by
// the median of the slopes (Theil 1950; Sen, J. Am. Stat. Assoc. 63 (1968) 1379-1389).
func describe(t, y []float64) RobustSlope {
	var slopes []float64
	s := 0
	for i := range t {
		for j := i + 1; j < len(t); j++ {
			d := y[j] - y[i]
			slopes = append(slopes, d/(t[j]-t[i]))
			switch {
			case d > 0:
				s++
			case d < 0:
				s--
			}
		}
	}
	slices.Sort(slopes)
	n := len(slopes)
	return RobustSlope{PerHour: (slopes[(n-1)/2] + slopes[n/2]) / 2, S: s, P: kendallP(s, y)}
}

// kendallP is the two-sided p of S over all orders of y, equal values kept equal.
func kendallP(s int, y []float64) float64 {
	sorted := slices.Clone(y)
	slices.Sort(sorted)
	var groups []int
	for i := 0; i < len(sorted); {
		j := i
		for j < len(sorted) && sorted[j] == sorted[i] {
			j++
		}
		groups, i = append(groups, j-i), j
	}
	size := math.Abs(float64(s))
	if n := float64(len(y)); len(y) > kendallExact {
		v := n * (n - 1) * (2*n + 5)
		for _, g := range groups {
			v -= float64(g) * (float64(g) - 1) * (2*float64(g) + 5)
		}
		if v <= 0 {
			return 1
		}
		return min(1, 2*normal.Upper(max(0, size-1)/math.Sqrt(v/18)))
	}
	// The orders by their number of falling pairs: adding a group of g to n others
	// multiplies by the Gaussian binomial coefficient of n+g over g.
	orders, n := []float64{1}, 0
	for _, g := range groups {
		orders = multiply(orders, fallingPairs(n, g))
		n += g
	}
	pairs := len(orders) - 1 // of unequal values; S = pairs - 2*falling
	far, all := 0.0, 0.0
	for falling, count := range orders {
		all += count
		if math.Abs(float64(pairs-2*falling)) >= size {
			far += count
		}
	}
	return far / all
}

// fallingPairs gives the orders of a zeros and b ones by their falling pairs, as shares.
func fallingPairs(a, b int) []float64 {
	// After each row, row[j] is for i zeros and j ones. The last element is a one that falls before
	// none, or a zero that falls behind all j ones.
	row := make([][]float64, b+1)
	for j := range row {
		row[j] = []float64{1}
	}
	for i := 1; i <= a; i++ {
		for j := 1; j <= b; j++ {
			next := make([]float64, i*j+1)
			share := float64(j) / float64(i+j)
			for k, x := range row[j-1] {
				next[k] += x * share
			}
			for k, x := range row[j] {
				next[k+j] += x * (1 - share)
			}
			row[j] = next
		}
	}
	return row[b]
}

func multiply(a, b []float64) []float64 {
	out := make([]float64, len(a)+len(b)-1)
	for i, x := range a {
		for j, y := range b {
			out[i+j] += x * y
		}
	}
	return out
}
