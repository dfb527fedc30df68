package baseline

import (
	"math"
	"strconv"
	"time"
)

// trendAlpha is how rarely a direction among quiet readings is warned of by chance: 1 in 100
// for each sign, since nobody asked about it.
const trendAlpha = .01

// trendWarning warns where the horse's own quiet readings have been going one way. The
// limits follow a slow climb and would call its end usual (the price of a level that may
// wander), so the direction is watched beside them.
func (s series) trendWarning(c *Compared, own *level, at time.Time) {
	points := s.points[s.before:]
	if set := s.setting(at); set.Rhythm != nil {
		// The hour of the day is no direction.
		b := own.belief()
		points = make([]point, len(s.points)-s.before)
		for i, p := range s.points[s.before:] {
			cos, sin := clock(p.Hour)
			p.Y -= b.Cos*cos + b.Sin*sin
			points[i] = p
		}
	}
	t := climb(s.setting(at), points)
	if !(t.P < trendAlpha) {
		return
	}
	c.warn(WarnTrend, "n", itoa(t.N), "days", itoa(int(math.Round(t.Days))), "from", s.shown(s.prior.unscale(t.From)), "to", s.shown(s.prior.unscale(t.To)))
}

// shown writes a figure of the sign for a warning. Processors differ in the last digits of
// exp and log: a tie must fall the same way on all.
func (s series) shown(value float64) string {
	return strconv.FormatFloat(math.Round(value*1e7)/1e7, 'f', s.sign.Places, 64)
}
