package level

import (
	"math"

	"whorl.example/baseline/internal/normal"
)

// A direction over the history. The limits of the one-horse model follow a slow
// climb (of ten readings that rise by .3 own SDs each, then one at +3, they call
// the last unusual in one of ten), so a trend test on the raw readings has to
// watch beside them.

// slope is a straight line through readings.
type Slope struct {
	PerDay   float64
	SD       float64 // its standard uncertainty
	P        float64 // two-sided: a slope as steep by chance, where there is none
	N        int     // readings
	Days     float64 // from the first of them to the last
	From, To float64 // the line at the first and at the last
}

// line is a fit by the weights 1/(sigma² + SD²): the slope, its information
// 1/variance, the weighted sum of squares around it, log of the determinant of
// the normal equations less the log weights, and the middle of time and reading.
type line struct{ slope, info, rest, logDet, t, y float64 }

func lineThrough(points []Reading, sigma float64) line {
	var w0, t1, y1 float64
	logs := logProduct{p: 1}
	for _, p := range points {
		w := 1 / (sigma*sigma + p.SD*p.SD)
		w0, t1, y1 = w0+w, t1+w*p.Day, y1+w*p.Y
		logs.by(w)
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
	return line{slope: ty / tt, info: tt, rest: max(0, yy-ty*ty/tt), logDet: math.Log(w0*tt) - logs.value(), t: t1, y: y1}
}

// TrendOver is how many of the latest readings climb looks at: a change that took
// fewer shows as an unusual reading, one that took more as well.
const TrendOver = 10

// TrendLeast is the least number of readings that have a direction.
const TrendLeast = 4

// climb tests whether the latest readings of a sign, at most TrendOver of them,
// go one way. The horse's own SD is not known: p is averaged over what the
// readings say of it, those before the window around their mean, those within
// around their own line, after the prior of the setting. Rhythm, if there is
// one, must have been taken out. P is 1 for fewer than TrendLeast readings.
func Trend(set Setting, points []Reading) Slope {
	sorted := VisitMeans(InOrder(points))
	before := max(0, len(sorted)-TrendOver)
	window := sorted[before:]
	none := Slope{SD: math.Inf(1), P: 1, N: len(window)}
	if len(window) < TrendLeast || window[len(window)-1].Day <= window[0].Day {
		return none
	}
	first, last := window[0].Day, window[len(window)-1].Day
	set.Drift, set.Rhythm, set.BadDays, set.Ways = false, nil, false, 0 // what the ways add must have been taken out, too
	l := Models.Get().(*Model)
	defer func() {
		l.extra, l.Coarse = nil, false
		Models.Put(l)
	}()
	l.Coarse = true
	l.Reset(set)
	l.Grow(before)
	for _, p := range sorted[:before] {
		l.Append(p)
	}
	if f := lineThrough(window, set.Sigma0); !(f.info > 0) {
		return none
	}
	l.extra = func(sigma float64) float64 {
		f := lineThrough(window, sigma)
		return -.5 * (f.rest + f.logDet)
	}
	l.Weigh()
	var mean, square, p, from, to float64
	for i, j := range l.chosen {
		w, f := l.weight[i], lineThrough(window, l.cells[j].sigma)
		mean += w * f.slope
		square += w * (f.slope*f.slope + 1/f.info)
		p += w * 2 * normal.Upper(math.Abs(f.slope)*math.Sqrt(f.info))
		from += w * (f.y + f.slope*(first-f.t))
		to += w * (f.y + f.slope*(last-f.t))
	}
	return Slope{
		PerDay: mean, SD: math.Sqrt(max(0, square-mean*mean)), P: min(1, p),
		N: len(window), Days: last - first, From: from, To: to,
	}
}
