package level

import "math"

// The slow drift: an Ornstein-Uhlenbeck process with the share phi of the
// horse's long-run variance, forgotten with a time constant of some days. Both
// are unknown and gridded; six tenths of the prior say that there is no drift. Of .5, .6 and
// .7, with the settings around it, .6 covers best what has no drift (fewer than .94 at .5)
// and costs people's resting heart rate nothing (.902 covered at least, 14 days
// ahead; .899 at .7).
//
// What a drift costs, and why it is there: readings on consecutive days are
// alike. A model of independent readings then grows too sure with every
// further day (people's resting heart rate 14 days ahead: .94 of nominal .95
// covered after one reading, .76 after twenty), this one does not. It follows a
// slowly sickening horse too, so that trend.go must watch beside it.

// Drift is one drift of the grid, for all values of sigma.
type Drift struct {
	Share  float64 // share of the long-run variance
	Days   float64 // time constant
	Weight float64 // prior
	// Worked out by newGrid:
	logWeight float64 // of weight
	longRun   float64 // long-run variance, where the variance within the span is 1
	constant  int     // which of the time constants; with a drift only
	kappa     float64 // share of a visit, see visit.go; where visits have several readings
}

// Drifts lists the drifts. Weight on the strong drift is what helps where
// days depend on each other; more points of the grid do not.
func Drifts(drift bool) []Drift {
	if !drift {
		return []Drift{{Weight: 1, Days: 1}}
	}
	return []Drift{
		{Share: 0, Days: 1, Weight: Steady},
		{Share: .4, Days: 7, Weight: (1 - Steady) / 4},
		{Share: .4, Days: 30, Weight: (1 - Steady) / 4},
		{Share: .95, Days: 7, Weight: (1 - Steady) / 4},
		{Share: .95, Days: 30, Weight: (1 - Steady) / 4},
	}
}

// Steady is the prior weight of no drift.
const Steady = .6

// With fewer than early readings nothing says whether the days of this horse are alike, and
// a drift that takes the first day for the second makes limits too narrow where
// Sigma0 is too small: then tomorrow is judged as a day EarlyDays from now.
const (
	Early     = 3
	EarlyDays = 7.0
)

// ahead is the time over which the drift is predicted, from the time since the latest reading.
func (l *Model) ahead(days float64) float64 {
	if l.Setting.Drift && l.since < Early {
		return max(days, EarlyDays)
	}
	return days
}

// Old exams count for less. The drift comes back to the level; the level itself walks too,
// with age, training and season, by one of the horse's own SDs in a year: without it horses whose
// level had climbed one SD a year for three years were covered in .87 of nominal .95, with it in .94,
// and horses that stay as they are pay with limits up to 4 % wider. That it is one SD is assumed; half of it
// covers .93, and .82 (here .91) of horses that came down three SDs in half a year of training.
const Walk = 1 / 365.25

// walked is the variance that the level has gained since the latest reading, over the own variance.
func (l *Model) walked(day float64) float64 {
	if l.n == 0 {
		return 0
	}
	return l.Setting.Walk * max(0, day-l.last)
}

// WithinSpan is the share of the drift's variance that a history of span days
// does not show within itself: every published SD within an individual is the
// SD of some span, so sigma at a grid point means just that, and the long-run
// variance there is sigma²/(1 - phi WithinSpan).
func WithinSpan(span, days float64) float64 {
	x := span / days
	if x < 1e-4 {
		return 1 - x/3
	}
	return 2 * (x + math.Expm1(-x)) / (x * x)
}

// wander moves a state by the time for which the drift keeps the share r.
func (s *state) wander(r, vd float64) {
	s.drift *= r
	s.cov *= r
	s.varDrift = vd + r*r*(s.varDrift-vd)
}
