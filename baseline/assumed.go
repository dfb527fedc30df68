package baseline

import "whorl.example/vitals"

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
			out = append(out, AssumedSpan{p.sign, p.types, s.days, s.low, s.high, len(p.spans) == 1, p.level, p.spread()})
		}
	}
	return out
}

// AssumedFigures lists the figures of the method that decide what is said of an exam.
func AssumedFigures() []vitals.Figure {
	f := func(id string, figure float64, from vitals.Provenance) vitals.Figure {
		return vitals.Figure{ID: id, Figure: figure, Provenance: from}
	}
	return []vitals.Figure{
		f("unusual-in", alpha, vitals.Provenance{Mark: vitals.CommonPractice, Note: "the usual 95 % of reference intervals"}),
		f("trend-in", trendAlpha, assumed("one false trend in fifty exams of a sign, so that many signs do not cry wolf and a slow climb is still found")),
		f("trend-least", trendLeast, assumed("three points lie on a line too easily")),
		f("trend-over", trendOver, assumed("the last ten readings")),
		f("known-twofold", omega, assumed("the SD within an animal may be wrong twofold either way")),
		f("wander-days", spanDays, assumed("no study of horses gives a span")),
		f("between-within", ratioUsual, assumed("repeated readings of people gave a third to four fifths for the inverse")),
		f("rhythm-amplitude", rhythmAmplitude, rhythmPrior[0]),
		f("rhythm-from", rhythmFrom, rhythmPrior[1]),
		f("rhythm-to", rhythmTo, rhythmPrior[1]),
		f("rhythm-days", rhythmDays, rhythmPrior[2]),
		f("grown-years", grownDays/365.25, assumed("growth plates of the legs close by then; from memory")),
		f("stale-share", stale, assumed("the figures of the young halve within months")),
		f("grade-weight", gradeWeight, assumed("how many quiet exams the usual answer is worth before the first")),
		f("bad-day-shift", oddShift, assumed("a sick day moves a reading by four of the animal's own SDs; how many days are sick is left open")),
		f("bad-day-spread", oddSpread, assumed("sick days are not all alike")),
		f("together", farCorrelation, assumed("how far signs of one well animal move together; no study was found")),
		f("ask-above", askAbove, assumed("a better count is asked for where it changes the answer this often")),
		f("few-tries", fewTries, vitals.Provenance{Mark: vitals.CommonPractice}),
		f("steady-share", steady, assumed("weight beforehand of an animal whose days do not hang together; chosen so that simulated animals are covered")),
		f("early-days", earlyDays, assumed("with fewer than three readings the next is judged as a week away; chosen so that simulated animals are covered")),
		f("walk-years", 1/walk/365.25, assumed("for age, training and season; half as much and twice as much were simulated")),
		f("new-usual-days", askDays, assumed("a single odd day is no new usual")),
		f("new-usual-base", askBase, assumed("fewer say too little of what was usual before")),
		f("new-usual-each", askEach, assumed("questions in vain were simulated: one look in a hundred")),
		f("new-usual-together", askTogether, assumed("questions in vain were simulated: one look in a hundred")),
		f("new-usual-renewed", renewed, assumed("variance of the new level over that between animals, so that the old one hardly counts")),
		f("watch-gap", watchGap.Hours(), assumed("a sick horse that is watched is looked at more often than twice a day")),
		f("watch-least", watchLeast, assumed("two readings always have a direction")),
		f("watch-in", watchLevel, assumed("one false direction in twenty series of rechecks")),
		f("watch-uneven", watchUneven, assumed("a series that goes no one way, yet is no chance, is told rarely")),
		f("watch-power", watchPower, vitals.Provenance{Mark: vitals.CommonPractice, Note: "the usual power of a planned study"}),
		f("robust-from", robustLeast, derived("with five readings no order of them is rarer than one in sixty")),
		f("plan-goal", planGoal, assumed("within a tenth of what can be reached")),
	}
}
