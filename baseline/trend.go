package baseline

import (
	"cmp"
	"math"
	"slices"
)

// A direction over some readings. The limits of the one-horse model follow a
// slow climb, so a trend test on the raw readings has to watch beside them; and
// while one waits for the practitioner the direction of the rechecks is what
// matters.

// slope is a straight line through readings, in units a day.
type slope struct {
	PerDay float64
	SD     float64 // its standard uncertainty
	P      float64 // two-sided: a slope as steep by chance, where there is none
	N      int     // readings
}

// knownSlope fits a line by weights, where the horse's own SD is known: weight
// 1/(sigma² + SD²) each. It needs two different times; P is 1 and SD infinite
// without. At three to six readings it decides where a rank test cannot: the
// smallest two-sided p of a rank test of four readings is .083.
func knownSlope(points []point, sigma float64) slope {
	f := lineThrough(points, sigma)
	if !(f.info > 0) {
		return slope{SD: math.Inf(1), P: 1, N: len(points)}
	}
	sd := 1 / math.Sqrt(f.info)
	return slope{PerDay: f.slope, SD: sd, P: 2 * normUpper(math.Abs(f.slope)/sd), N: len(points)}
}

// line is a weighted fit: the slope, its information 1/variance, the weighted
// sum of squares around it, and log of the determinant of the normal equations
// minus the log weights.
type line struct{ slope, info, rest, logDet float64 }

func lineThrough(points []point, sigma float64) line {
	var w0, t1, y1, logs float64
	for _, p := range points {
		w := 1 / (sigma*sigma + p.SD*p.SD)
		w0, t1, y1 = w0+w, t1+w*p.Day, y1+w*p.Y
		logs += math.Log(w)
	}
	t1, y1 = t1/w0, y1/w0
	var tt, ty, yy float64
	for _, p := range points {
		w := 1 / (sigma*sigma + p.SD*p.SD)
		t, y := p.Day-t1, p.Y-y1
		tt, ty, yy = tt+w*t*t, ty+w*t*y, yy+w*y*y
	}
	if !(tt > 0) {
		return line{}
	}
	return line{slope: ty / tt, info: tt, rest: max(0, yy-ty*ty/tt), logDet: math.Log(w0*tt) - logs}
}

// trendOver is how many of the latest readings climb looks at: a change that took
// fewer shows as an unusual reading, one that took more as well.
const trendOver = 10

// trendLeast is the least number of readings that have a direction.
const trendLeast = 4

// climb tests whether the latest readings of a sign, at most trendOver of them,
// go one way. The horse's own SD is not known: p is averaged over what the
// readings say of it, those before the window around their mean, those within
// around their own line, after the prior of the setting. Rhythm, if there is
// one, must have been taken out. P is 1 for fewer than trendLeast readings.
func climb(set setting, points []point) slope {
	sorted := inOrder(points)
	from := max(0, len(sorted)-trendOver)
	window := sorted[from:]
	none := slope{SD: math.Inf(1), P: 1, N: len(window)}
	if len(window) < trendLeast || window[len(window)-1].Day <= window[0].Day {
		return none
	}
	set.Drift, set.Rhythm, set.Odd = false, nil, oddNone
	l := newLevel(set)
	for _, p := range sorted[:from] {
		l.learn(p)
	}
	lines := make([]line, len(l.cells))
	best := math.Inf(-1)
	for j := range l.cells {
		f := lineThrough(window, l.cells[j].sigma)
		if !(f.info > 0) {
			return none
		}
		lines[j] = f
		l.weight[j] = l.cells[j].prior + l.states[j].logLik() - .5*(f.rest+f.logDet)
		best = max(best, l.weight[j])
	}
	var total, mean, square, p float64
	for j, f := range lines {
		w := math.Exp(l.weight[j] - best)
		total += w
		mean += w * f.slope
		square += w * (f.slope*f.slope + 1/f.info)
		p += w * 2 * normUpper(math.Abs(f.slope)*math.Sqrt(f.info))
	}
	mean /= total
	return slope{PerDay: mean, SD: math.Sqrt(max(0, square/total-mean*mean)), P: p / total, N: len(window)}
}

// rankTrend is Kendall's test of readings against time, and the Theil-Sen line.
type rankTrend struct {
	S         int     // pairs that rise less pairs that fall
	P         float64 // two-sided, exact for different times
	PerDay    float64 // median of the slopes of all pairs
	At0       float64 // median of Y - PerDay Day
	Low, High float64 // exact confidence interval of the slope; infinite if none
	Level     float64 // its exact level, at least the one asked for; 1 if none
}

// rankedTrend describes a series robustly, from about six readings on; three
// readings or four cannot reach 5 %. Pairs at the same time are left out, and
// make P an approximation (normal, with the variance corrected for ties). level
// is the confidence asked for, .95 as a rule.
func rankedTrend(points []point, level float64) rankTrend {
	sorted := inOrder(points)
	n := len(sorted)
	r := rankTrend{P: 1, Low: math.Inf(-1), High: math.Inf(1), Level: 1}
	var slopes []float64
	sameTime := false
	for i, p := range sorted {
		for _, q := range sorted[i+1:] {
			if q.Day == p.Day {
				sameTime = true
				continue
			}
			r.S += cmp.Compare(q.Y, p.Y)
			slopes = append(slopes, (q.Y-p.Y)/(q.Day-p.Day))
		}
	}
	if len(slopes) == 0 {
		return r
	}
	slices.Sort(slopes)
	r.PerDay = median(slopes)
	rests := make([]float64, n)
	for i, p := range sorted {
		rests[i] = p.Y - r.PerDay*p.Day
	}
	slices.Sort(rests)
	r.At0 = median(rests)
	ys := make([]float64, n)
	days := make([]float64, n)
	for i, p := range sorted {
		ys[i], days[i] = p.Y, p.Day
	}
	yTies := tieGroups(ys)
	if sameTime {
		r.P = tiedKendallP(r.S, n, tieGroups(days), yTies)
		return r
	}
	r.P = min(1, 2*kendallUpper(max(r.S, -r.S), yTies))
	// The interval between the k-th slope from each end, as narrow as its exact
	// level allows (Hollander, Wolfe & Chicken, section 9.3).
	upper := kendallTail(ones(n))
	for k := len(slopes) / 2; k >= 1; k-- {
		if miss := 2 * upper[k-1]; miss <= 1-level {
			r.Low, r.High, r.Level = slopes[k-1], slopes[len(slopes)-k], 1-miss
			break
		}
	}
	return r
}

func ones(n int) []int {
	g := make([]int, n)
	for i := range g {
		g[i] = 1
	}
	return g
}

// tieGroups counts equal values.
func tieGroups(ys []float64) (groups []int) {
	s := slices.Sorted(slices.Values(ys))
	for i, y := range s {
		if i == 0 || y != s[i-1] {
			groups = append(groups, 0)
		}
		groups[len(groups)-1]++
	}
	return groups
}

// kendallUpper is P(S >= s) under no trend, for readings with these groups of
// equal values at different times.
func kendallUpper(s int, groups []int) float64 {
	upper := kendallTail(groups)
	pairs := len(upper) - 1 // pairs that differ
	// S = pairs - 2 falls: S >= s is falls <= (pairs-s)/2.
	k := (pairs - s) / 2
	if s > pairs {
		return 0
	}
	return upper[min(k, pairs)]
}

// kendallTail returns P(falls <= k) for k = 0 .. pairs, falls the number of
// inversions of a random order: the Mahonian numbers, and their generalisation
// to groups of equal values, a product of Gaussian binomials.
func kendallTail(groups []int) []float64 {
	counts, placed := []float64{1}, 0
	for _, g := range groups {
		counts = convolve(counts, gaussian(placed, g))
		placed += g
	}
	total := 0.0
	for _, c := range counts {
		total += c
	}
	run := 0.0
	for i, c := range counts {
		run += c
		counts[i] = run / total
	}
	return counts
}

// gaussian returns how many partitions of k = 0 .. m g have at most g parts of at
// most m each, as shares of all.
func gaussian(m, g int) []float64 {
	ways := make([][]float64, g+1) // by number of parts
	for i := range ways {
		ways[i] = make([]float64, m*g+1)
	}
	ways[0][0] = 1
	for part := 1; part <= m; part++ {
		for i := range g {
			for k := 0; k+part <= m*g; k++ {
				ways[i+1][k+part] += ways[i][k]
			}
		}
	}
	sum, total := make([]float64, m*g+1), 0.0
	for _, w := range ways {
		for k, x := range w {
			sum[k] += x
			total += x
		}
	}
	for k := range sum {
		sum[k] /= total
	}
	return sum
}

func convolve(a, b []float64) []float64 {
	c := make([]float64, len(a)+len(b)-1)
	for i, x := range a {
		for j, y := range b {
			c[i+j] += x * y
		}
	}
	return c
}

// tiedKendallP is the normal approximation with ties in time and value and a
// continuity correction of one (Kendall, Rank Correlation Methods, ch. 4).
func tiedKendallP(s, n int, times, values []int) float64 {
	var v0, vt, vu, t1, u1, t2, u2 float64
	f := float64(n)
	v0 = f * (f - 1) * (2*f + 5)
	for _, g := range times {
		t := float64(g)
		vt += t * (t - 1) * (2*t + 5)
		t1 += t * (t - 1)
		t2 += t * (t - 1) * (t - 2)
	}
	for _, g := range values {
		u := float64(g)
		vu += u * (u - 1) * (2*u + 5)
		u1 += u * (u - 1)
		u2 += u * (u - 1) * (u - 2)
	}
	v := (v0-vt-vu)/18 + t1*u1/(2*f*(f-1))
	if n > 2 {
		v += t2 * u2 / (9 * f * (f - 1) * (f - 2))
	}
	if !(v > 0) {
		return 1
	}
	z := max(0, math.Abs(float64(s))-1) / math.Sqrt(v)
	return min(1, 2*normUpper(z))
}

func median(sorted []float64) float64 {
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2]
	}
	return (sorted[n/2-1] + sorted[n/2]) / 2
}
