package level

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"whorl.example/baseline/internal/normal"
)

// StandsOut reports whether the highest reading would be rare beside the others, or the lowest, see HighStandsOut.
func StandsOut(points []Reading, set Setting) bool {
	if HighStandsOut(points, set) {
		return true
	}
	// The lowest is the highest of the history turned over.
	room := sorts.Get().(*sortRoom)
	defer sorts.Put(room)
	room.turned = append(room.turned[:0], points...)
	for i := range room.turned {
		room.turned[i].Y = 2*set.M0 - points[i].Y
	}
	if set.Rhythm != nil {
		later := *set.Rhythm
		later.From, later.To = later.From+12, later.To+12
		set.Rhythm = &later
	}
	return HighStandsOut(room.turned, set)
}

// HighStandsOut reports whether the highest reading would be rare, less than 1 in 200, beside the lowest four fifths of them: the rarer the more
// were set aside, and beyond 20 readings rarer still.
func HighStandsOut(points []Reading, set Setting) bool {
	points = VisitMeans(points)
	n := len(points)
	if n < 2 {
		return false
	}
	top := slices.MaxFunc(points, func(a, b Reading) int { return cmp.Compare(a.Y, b.Y) })
	low := n - (n+4)/5
	room := sorts.Get().(*sortRoom)
	defer sorts.Put(room)
	lowest := room.lowest(points, low)
	rare := min(.005, .007/float64(n-low))
	if n > 20 {
		rare *= math.Pow(20/float64(n), 1.5)
	}
	set.Drift, set.BadDays, set.Ways = false, false, 0
	l, p := Models.Get().(*Model), normal.Mixtures.Get().(*normal.Mixture)
	defer func() {
		l.Coarse = false
		Models.Put(l)
		normal.Mixtures.Put(p)
	}()
	l.Coarse = true
	l.Reset(set)
	l.Fit(lowest)
	l.PredictInto(p, 0, top.Hour, top.SD)
	return p.Upper(top.Y) < rare
}

// sortRoom is room for readings in another order.
type sortRoom struct {
	ys  []float64
	low []Reading

	turned []Reading
}

// lowest gives the lowest of the points, in their order, none as the first of a new level. Of equal ones the earlier count as lower.
func (r *sortRoom) lowest(points []Reading, n int) []Reading {
	r.ys, r.low = r.ys[:0], slices.Grow(r.low[:0], n)
	for i := range points {
		r.ys = append(r.ys, points[i].Y)
	}
	slices.Sort(r.ys)
	edge, equal := r.ys[n-1], 0
	for i := n - 1; i >= 0 && r.ys[i] == edge; i-- {
		equal++
	}
	for i := range points {
		p := points[i]
		if p.Y == edge {
			equal--
		}
		if p.Y < edge || p.Y == edge && equal >= 0 {
			p.NewLevel = false
			r.low = append(r.low, p)
		}
	}
	return r.low
}

var sorts = sync.Pool{New: func() any { return new(sortRoom) }}

// Models are room for models that are asked once.
var Models = sync.Pool{New: func() any { return &Model{step: GridStep, reach: GridReach} }}

func Fit(set Setting, points []Reading) *Model {
	l := New(set)
	l.Fit(points)
	return l
}
