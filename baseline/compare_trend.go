package baseline

import (
	"math"
	"time"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// trendAlpha is how rarely a direction among quiet readings is warned of by chance: 1 in 50
// for each sign, since nobody asked about it.
const trendAlpha = .02

// trendWarning warns where the horse's own quiet readings have been going one way. The
// limits follow a slow climb and would call its end usual (the price of a level that may
// wander), so the direction is watched beside them.
func (s *series) trendWarning(c *Compared, own *level.Model, at time.Time) {
	t := s.trend(at, own)
	if !(t.P < trendAlpha) {
		return
	}
	c.warn(WarnTrend, "n", itoa(t.N), "days", itoa(int(math.Round(t.Days))), "from", s.shown(s.prior.unscale(t.From)), "to", s.shown(s.prior.unscale(t.To)))
}

// trend is the direction of the readings of the present level.
func (s *series) trend(at time.Time, own *level.Model) level.Slope {
	set := s.setting(at)
	return s.fits.Slope(set, func() level.Slope { return level.Trend(set, s.alike(set, own)) })
}

// alike gives the readings of the present level without what the hour of the day adds, and who measured.
func (s *series) alike(set level.Setting, own *level.Model) []level.Reading {
	points := s.points[s.before:]
	if set.Rhythm != nil || set.Ways > 0 {
		b := own.Belief()
		points = make([]level.Reading, len(s.points)-s.before)
		for i, p := range s.points[s.before:] {
			cos, sin := level.Angle(p.Hour)
			p.Y -= b.Cos*cos + b.Sin*sin + b.OffsetOf(p.Way)
			points[i] = p
		}
	}
	return points
}

// shown writes a figure of the sign for a warning.
func (s *series) shown(value float64) string { return vitals.Decimals(value, s.sign.Places) }
