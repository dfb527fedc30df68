package recovery

import (
	"cmp"
	"math"

	"whorl.example/baseline/internal/normal"
	"whorl.example/baseline/internal/stable"
)

// RecoveryPoint is one rate after work.
type RecoveryPoint struct {
	// Minutes since the work ended.
	Minutes float64 `json:"minutes"`
	// Rate and its standard uncertainty, per minute.
	Rate float64 `json:"rate"`
	SD   float64 `json:"sd"`
}

// ReachedState says how the time at which a rate was reached is known.
type ReachedState string

const (
	// ReachedBetween: between two counts, or at one; Minutes is by interpolation.
	ReachedBetween ReachedState = "between"
	// ReachedBefore: already at the first count (left-censored).
	ReachedBefore ReachedState = "before-first"
	// NotReached: not by the last count (right-censored).
	NotReached ReachedState = "not-yet"
	// NoCount: nothing was counted.
	NoCount ReachedState = "no-count"
)

// Reached is when the heart rate first was at or below a limit. Between two counts the
// logarithm of the rate runs in a straight line; of the counting method's standard
// uncertainties the distribution of the crossing follows exactly, without sampling:
// P(at or below by t) is that of the line between two independent normal readings.
// What the heart does between two counts that the line does not is not in it.
type Reached struct {
	State ReachedState `json:"state"`
	// Minutes since the work ended: the estimate with ReachedBetween, the first count
	// with ReachedBefore, the last count with NotReached.
	Minutes float64 `json:"minutes"`
	// Low and High hold the crossing with 95 %. Nil: the counts do not bound that side.
	Low  *float64 `json:"low,omitempty"`
	High *float64 `json:"high,omitempty"`
	// RoseAgain: a later count was above the limit.
	RoseAgain bool `json:"roseAgain,omitempty"`
}

// curve is a course of rates, sorted by time, on the log scale, one point a moment.
type curve []knot

type knot struct{ t, y, sd float64 }

// newCurve drops what cannot be a rate and pools counts of one moment by their
// weights, so that the order in which counts were entered does not matter.
func newCurve(points []RecoveryPoint) curve {
	var c curve
	for _, p := range points {
		k := knot{p.Minutes, math.Log(p.Rate), p.SD / p.Rate}
		if isFinite(k.t) && isFinite(k.y) && isFinite(k.sd) && k.sd >= 0 && k.t >= 0 {
			c = append(c, k)
		}
	}
	stable.Sort(c, func(a, b knot) int {
		switch {
		case a.t != b.t:
			return cmp.Compare(a.t, b.t)
		case a.y != b.y:
			return cmp.Compare(a.y, b.y)
		}
		return cmp.Compare(a.sd, b.sd)
	})
	out := c[:0]
	for i := 0; i < len(c); {
		j, w, wy := i, 0.0, 0.0
		for ; j < len(c) && c[j].t == c[i].t; j++ {
			// A count cannot be exact: 1e-6 of the rate keeps the weights finite.
			v := 1 / (c[j].sd*c[j].sd + 1e-12)
			w, wy = w+v, wy+v*c[j].y
		}
		k := knot{c[i].t, wy / w, 1 / math.Sqrt(w)}
		if j == i+1 {
			k = c[i]
		}
		out, i = append(out, k), j
	}
	return out
}

// at gives the log rate and its SD at time t, which must be inside the counts.
func (c curve) at(t float64) (y, sd float64, ok bool) {
	if len(c) == 0 || !(t >= c[0].t && t <= c[len(c)-1].t) {
		return 0, 0, false
	}
	i := 0
	for i < len(c)-1 && c[i+1].t <= t {
		i++
	}
	if i == len(c)-1 {
		return c[i].y, c[i].sd, true
	}
	a, b := c[i], c[i+1]
	f := (t - a.t) / (b.t - a.t)
	return a.y + f*(b.y-a.y), math.Hypot((1-f)*a.sd, f*b.sd), true
}

// chance is the probability that the rate was at or below limit (log) at time t.
func (c curve) chance(t, limit float64) float64 {
	y, sd, ok := c.at(t)
	switch {
	case !ok:
		return 0
	case sd == 0 && y <= limit:
		return 1
	case sd == 0:
		return 0
	}
	return normal.Upper((y - limit) / sd)
}

// first finds the first time at which the chance is q or more; ok false if it never is.
func (c curve) first(limit, q float64) (t float64, ok bool) {
	// Equal at the last digit counts as reached: a count of exactly the limit has chance .5.
	q -= 1e-9
	if len(c) == 0 {
		return 0, false
	}
	if c.chance(c[0].t, limit) >= q {
		return c[0].t, true
	}
	// Inside a stretch the chance may rise and fall once, since the line is better known in
	// its middle than at its ends; 32 parts find every crossing longer than that.
	const parts = 32
	for i := 1; i < len(c); i++ {
		a, b := c[i-1].t, c[i].t
		lo := a
		for k := 1; k <= parts; k++ {
			hi := a + (b-a)*float64(k)/parts
			if k == parts {
				hi = b
			}
			if c.chance(hi, limit) >= q {
				for range 60 {
					if mid := lo + (hi-lo)/2; c.chance(mid, limit) >= q {
						hi = mid
					} else {
						lo = mid
					}
				}
				return hi, true
			}
			lo = hi
		}
	}
	return 0, false
}

// TimeTo gives when a rate of atMost or less (per minute) was first reached.
func TimeTo(atMost float64, points []RecoveryPoint) Reached {
	return newCurve(points).timeTo(atMost)
}

func (c curve) timeTo(atMost float64) Reached {
	limit := math.Log(atMost)
	if len(c) == 0 || !isFinite(limit) {
		return Reached{State: NoCount}
	}
	t, ok := c.first(limit, .5)
	if !ok {
		r := Reached{State: NotReached, Minutes: c[len(c)-1].t}
		r.Low, r.High = c.bounds(limit)
		return r
	}
	r := Reached{State: ReachedBetween, Minutes: t}
	if t == c[0].t {
		// A first count of exactly the limit is no crossing seen either.
		r.State = ReachedBefore
	}
	r.Low, r.High = c.bounds(limit)
	for _, k := range c {
		r.RoseAgain = r.RoseAgain || k.t > t && k.y > limit+1e-9
	}
	return r
}

// bounds holds the crossing with 95 %; a side that lies before the first count or after
// the last is nil.
func (c curve) bounds(limit float64) (low, high *float64) {
	if t, ok := c.first(limit, .025); ok && t > c[0].t {
		low = &t
	}
	if t, ok := c.first(limit, .975); ok {
		high = &t
	}
	return low, high
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
