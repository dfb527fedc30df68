package recovery

import "math"

// WithinLimit answers a time limit.
type WithinLimit string

const (
	Within      WithinLimit = "yes"
	NotWithin   WithinLimit = "no"
	WithinOpen  WithinLimit = "open"     // the counts do not say
	WithoutTime WithinLimit = "no-limit" // the text gives no time
)

// CriterionAnswer is a published criterion beside the counts. It is no veterinary
// inspection: the clock of the criterion may start elsewhere.
type CriterionAnswer struct {
	Criterion Criterion   `json:"criterion"`
	Reached   Reached     `json:"reached"`
	Within    WithinLimit `json:"within"`
	// Chance that the rate was low enough within the limit, given the counting; nil where
	// the counts do not say.
	Chance *float64 `json:"chance,omitempty"`
}

// AnswerCriteria answers every published criterion from heart rates after work.
func AnswerCriteria(heart []RecoveryPoint) []CriterionAnswer {
	return answerCriteria(newCurve(heart))
}

func answerCriteria(c curve) []CriterionAnswer {
	var out []CriterionAnswer
	for _, k := range Criteria() {
		a := CriterionAnswer{Criterion: k, Reached: c.timeTo(k.AtMost), Within: WithinOpen}
		limit := float64(k.WithinMinutes)
		// A time from a count of exactly the limit must not fall out by the last digit.
		const hair = 1e-6
		switch {
		case k.WithinMinutes == 0:
			a.Within = WithoutTime
		case a.Reached.State == ReachedBetween && a.Reached.Minutes > limit+hair,
			a.Reached.State == NotReached && a.Reached.Minutes >= limit-hair:
			a.Within = NotWithin
		case (a.Reached.State == ReachedBetween || a.Reached.State == ReachedBefore) && a.Reached.Minutes <= limit+hair:
			a.Within = Within
		}
		if k.WithinMinutes > 0 && len(c) > 0 && c[0].t <= limit {
			until := min(limit, c[len(c)-1].t)
			if p := c.chanceBy(until, math.Log(k.AtMost)); until == limit || a.Within == Within {
				a.Chance = &p
			}
		}
		out = append(out, a)
	}
	return out
}

// chanceBy is the probability that the rate was at or below limit at some time up to t: the
// largest chance at any moment, which is exact for a course that only falls.
func (c curve) chanceBy(t, limit float64) float64 {
	p := c.chance(t, limit)
	for _, k := range c {
		if k.t <= t {
			p = max(p, c.chance(k.t, limit))
		}
	}
	return p
}
