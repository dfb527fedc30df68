package baseline

import (
	"math"
	"time"

	"whorl.example/vitals"
)

// trendAlpha is how rarely a direction among quiet readings is warned of by chance: 1 in 50
// for each sign, since nobody asked about it.
const trendAlpha = .02

// trendWarning warns where the horse's own quiet readings have been going one way. The
// limits follow a slow climb and would call its end usual (the price of a level that may
// wander), so the direction is watched beside them.
func (s *series) trendWarning(c *Compared, own *level, at time.Time) {
	t := s.trend(at, own)
	if !(t.P < trendAlpha) {
		return
	}
	c.warn(WarnTrend, "n", itoa(t.N), "days", itoa(int(math.Round(t.Days))), "from", s.shown(s.prior.unscale(t.From)), "to", s.shown(s.prior.unscale(t.To)))
}

// trend is the direction of the readings of the present level.
func (s *series) trend(at time.Time, own *level) slope {
	set := s.setting(at)
	return s.fits.trend(set, func() slope { return climb(set, s.withoutRhythm(set, own)) })
}

// withoutRhythm gives the readings of the present level without what the hour of the day adds.
func (s *series) withoutRhythm(set setting, own *level) []point {
	points := s.points[s.before:]
	if set.Rhythm != nil {
		b := own.belief()
		points = make([]point, len(s.points)-s.before)
		for i, p := range s.points[s.before:] {
			cos, sin := clock(p.Hour)
			p.Y -= b.Cos*cos + b.Sin*sin
			points[i] = p
		}
	}
	return points
}

// shown writes a figure of the sign for a warning.
func (s *series) shown(value float64) string { return vitals.Decimals(value, s.sign.Places) }
