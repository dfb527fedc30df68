package baseline

import (
	"slices"
	"time"

	"whorl.example/baseline/internal/grade"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// AssumedSpan is what is taken of one sign before the first exam of an animal: where 95 of
// 100 single readings of well animals of one age lie.
type AssumedSpan struct {
	Sign vitals.SignID
	// Types the span is for; empty: every type without a span of its own.
	Types []vitals.Type
	// Days is the age; ages between two spans are interpolated. The last span of a sign and
	// type is for every older animal and for an age that is not known.
	Days float64
	// Low and High are in the sign's unit.
	Low, High float64
	// OnlyAge: one span for every age.
	OnlyAge bool
	// Level is where the span comes from, Spread where its split into the differences
	// between animals and within one comes from.
	Level, Spread vitals.Provenance
}

// AssumedSpans lists the spans that the model starts from.
func AssumedSpans() []AssumedSpan {
	var out []AssumedSpan
	for _, p := range priors {
		for _, s := range p.spans {
			out = append(out, AssumedSpan{p.sign, slices.Clone(p.types), s.days, s.low, s.high, len(p.spans) == 1, p.level, p.spread()})
		}
	}
	return out
}

// AssumedFigures lists the figures of the method that decide what is said of an exam.
func AssumedFigures() []vitals.Figure { return slices.Clone(assumedFigures) }

var assumedFigures = []vitals.Figure{
	{ID: "unusual-in", Figure: alpha, Provenance: vitals.Provenance{Mark: vitals.CommonPractice, Note: "the usual 95 % of reference intervals"}},
	{ID: "trend-in", Figure: trendAlpha, Provenance: assumed("one false trend in fifty exams of a sign, so that many signs do not cry wolf and a slow climb is still found")},
	{ID: "trend-least", Figure: level.TrendLeast, Provenance: assumed("three points lie on a line too easily")},
	{ID: "trend-over", Figure: level.TrendOver, Provenance: assumed("the last ten readings")},
	{ID: "known-twofold", Figure: level.Omega, Provenance: assumed("the SD within an animal may be wrong twofold either way")},
	{ID: "wander-days", Figure: spanDays, Provenance: assumed("no study of horses gives a span")},
	{ID: "between-within", Figure: ratioUsual, Provenance: assumed("repeated readings of people gave a third to four fifths for the inverse")},
	{ID: "rhythm-amplitude", Figure: rhythmAmplitude, Provenance: rhythmSize},
	{ID: "rhythm-from", Figure: rhythmFrom, Provenance: rhythmPeak},
	{ID: "rhythm-to", Figure: rhythmTo, Provenance: rhythmPeak},
	{ID: "rhythm-days", Figure: rhythmDays, Provenance: rhythmNeeds},
	{ID: "grown-years", Figure: grownDays / 365.25, Provenance: assumed("growth plates of the legs close by then; from memory")},
	{ID: "stale-share", Figure: stale, Provenance: assumed("the figures of the young halve within months")},
	{ID: "grade-weight", Figure: grade.Weight, Provenance: assumed("how many quiet exams the usual answer is worth before the first")},
	{ID: "first-small", Figure: firstSmall, Provenance: assumed("at one in twenty every third well exam had such an answer from the ninth exam on, as simulated")},
	{ID: "bad-day-shift", Figure: level.BadDayShift, Provenance: assumed("a sick day moves a reading by four of the animal's own SDs; how many days are sick is left open")},
	{ID: "bad-day-spread", Figure: level.BadDaySpread, Provenance: assumed("sick days are not all alike; one in ten is taken to be far worse, by eight own SDs, give or take four, and two in ten are slips of the method, which go either way")},
	{ID: "together", Figure: farCorrelation, Provenance: assumed("how far signs of one well animal move together; no study was found")},
	{ID: "ask-above", Figure: askAbove, Provenance: assumed("a better count is asked for where it changes the answer this often")},
	{ID: "few-tries", Figure: fewTries, Provenance: vitals.Provenance{Mark: vitals.CommonPractice}},
	{ID: "steady-share", Figure: level.Steady, Provenance: assumed("weight beforehand of an animal whose days do not hang together; chosen so that simulated animals are covered")},
	{ID: "early-days", Figure: level.EarlyDays, Provenance: assumed("with fewer than three readings the next is judged as a week away; chosen so that simulated animals are covered")},
	{ID: "visit-hours", Figure: level.VisitHours, Provenance: assumed("readings so near say what one day was, and count as one; how much of a day's variation stays within the hour, half, nine tenths or all, is left open")},
	{ID: "between-thermometers", Figure: betweenThermometers, Provenance: assumed("sold as good to a tenth of a degree either way; more than doubled for depth and waiting")},
	{ID: "between-counters", Figure: betweenCounters, Provenance: assumed("of the logarithm; who counts to the last breath and who rounds were not compared in horses")},
	{ID: "between-timers", Figure: betweenTimers, Provenance: assumed("of the logarithm; people press, pinch and stop the watch differently")},
	{ID: "walk-years", Figure: 1 / level.Walk / 365.25, Provenance: assumed("for age, training and season; half as much and twice as much were simulated")},
	{ID: "new-usual-days", Figure: askDays, Provenance: assumed("a single odd day is no new usual")},
	{ID: "new-usual-base", Figure: askBase, Provenance: assumed("fewer say too little of what was usual before")},
	{ID: "new-usual-each", Figure: askEach, Provenance: assumed("questions in vain were simulated: one look in a hundred")},
	{ID: "new-usual-together", Figure: askTogether, Provenance: assumed("questions in vain were simulated: one look in a hundred")},
	{ID: "new-usual-renewed", Figure: level.Renewed, Provenance: assumed("variance of the new level over that between animals, so that the old one hardly counts")},
	{ID: "own-fever", Figure: ownFeverAbove, Provenance: ownFeverSays},
	{ID: "own-fever-exams", Figure: ownFeverExams, Provenance: assumed("with fewer exams the middle of what is usual is not known to half a degree")},
	{ID: "own-fever-minutes", Figure: ownFeverMinutes, Provenance: assumed("as long as the published rules wait on a hot day")},
	{ID: "own-heart", Figure: ownHeartPercent, Provenance: ownHeartSays},
	{ID: "own-heart-exams", Figure: ownHeartExams, Provenance: assumed("as for a temperature")},
	{ID: "own-heart-minutes", Figure: ownHeartMinutes, Provenance: assumed("as long as the published rules wait")},
	{ID: "own-breath", Figure: ownBreathPercent, Provenance: ownBreathSays},
	{ID: "own-breath-minutes", Figure: ownBreathMinutes, Provenance: assumed("as long as the published rules wait")},
	{ID: "own-refill", Figure: ownRefillPercent, Provenance: ownRefillSays},
	{ID: "own-refill-from", Figure: ownRefillFrom, Provenance: ownRefillSays},
	{ID: "own-refill-minutes", Figure: ownRefillMinutes, Provenance: assumed("as for a heart")},
	{ID: "own-weight", Figure: ownWeightPercent, Provenance: ownWeightSays},
	{ID: "own-weight-exams", Figure: ownWeightExams, Provenance: assumed("the middle of three is not moved by one slip of the tape")},
	{ID: "own-weight-from", Figure: ownWeightFrom, Provenance: assumed("a meal and a drink weigh some kilograms; what a month takes is no meal")},
	{ID: "own-weight-to", Figure: ownWeightTo, Provenance: assumed("the same season a year ago still counts")},
	{ID: "plan-goal", Figure: planGoal, Provenance: assumed("within a tenth of what can be reached")},
}

// Variation is what the exams before a time say of how a measured sign varies by itself, on the scale on which the sign is
// compared: for a course within hours, package whorl.example/baseline/watch.
type Variation struct {
	Basis Basis
	// Own is the horse's own interval at the time, for a reading taken in the most precise way.
	Own *Interval
	// SDs is the distribution of the SD with which readings of the horse scatter.
	SDs []WeightedSD
	// Log: the scale is the logarithm.
	Log bool

	prior  prior
	course func(at time.Time) float64
}

// WeightedSD is one SD of a distribution, with its weight.
type WeightedSD struct{ SD, Weight float64 }

// Scale brings a measure onto the scale; ok is false where it has no place there.
func (v Variation) Scale(m vitals.Measure) (y, sd float64, ok bool) { return v.prior.scale(m) }

// Unscale takes a value of the scale back to the sign's unit.
func (v Variation) Unscale(y float64) float64 { return v.prior.unscale(y) }

// Course is how far the hour of the day moves the sign, from the time asked for to another.
func (v Variation) Course(at time.Time) float64 { return v.course(at) }

// Variation gathers it from the exams before a time; ok is false for a sign of which nothing is assumed.
func (b *Baseline) Variation(sign vitals.Sign, site vitals.SiteID, from time.Time) (v Variation, ok bool) {
	p, ok := priorOf(sign.ID, b.horse.Type)
	if !ok || p.grown && growing(b.horse, from) {
		return v, false
	}
	exams, _ := b.trainingAt(from, "")
	s := b.history(sign, site, p, from, exams)
	known := s.fit(from)
	v = Variation{Basis: s.basis(s.from), Log: p.log, prior: p, course: func(time.Time) float64 { return 0 }}
	if p.rhythm {
		middle := func(at time.Time) float64 { return known.Predict(day(from), hour(at), 0).Mean }
		first := middle(from)
		v.course = func(at time.Time) float64 { return middle(at) - first }
	}
	v.SDs = weighted(known.SpreadPosterior())
	v.Own = s.interval(known.Predict(day(from), hour(from), s.preciseSD()))
	return v, true
}

func weighted(sds []level.WeightedSD) []WeightedSD {
	out := make([]WeightedSD, len(sds))
	for i, c := range sds {
		out[i] = WeightedSD(c)
	}
	return out
}
