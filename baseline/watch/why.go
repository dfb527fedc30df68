package watch

import (
	"math"
	"slices"
	"strconv"

	"whorl.example/baseline/internal/normal"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Why says what stands behind the direction of a series of rechecks.
func (w Watched) Why(l words.Lang) []string {
	var out []string
	say := func(key string, args ...string) { out = append(out, words.Say(l, key, args...)) }
	if w.Slope == nil || w.Basis == nil {
		switch {
		case len(w.Answers) > 0:
			say("why.watch.answers")
			if slices.ContainsFunc(w.Answers, func(a WatchedAnswer) bool { return a.Severity > 0 }) {
				say("why.watch.pain")
			}
		case w.Trend == TrendNotKnown:
			say("why.watch.not-known")
		default:
			say("why.watch.too-few")
		}
		return out
	}
	if w.Basis.Exams > 0 {
		say("why.watch.own", "n", strconv.Itoa(w.Basis.Exams))
	} else {
		say("why.watch.assumed")
	}
	least, most := math.Inf(1), 0.0
	for _, p := range w.Points {
		least, most = min(least, p.SD), max(most, p.SD)
	}
	places := Places(w.Sign) + 1
	key := "why.watch.line"
	if vitals.Decimals(least*normal.Z975, places) == vitals.Decimals(most*normal.Z975, places) {
		key = "why.watch.line.1"
	}
	say(key, "n", strconv.Itoa(len(w.Points)), "low", vitals.Decimals(least*normal.Z975, places), "high", Amount(l, most*normal.Z975, places, w.Unit))
	part := float64(w.Slope.EveryMinutes) / 60
	say("why.watch.span", "low", vitals.Decimals(w.Slope.Low*part, places), "high", Amount(l, w.Slope.High*part, places, w.Unit), "every", words.Say(l, "watch.every."+strconv.Itoa(w.Slope.EveryMinutes)))
	chance := words.Say(l, "watch.chance-rare")
	if w.Slope.P >= .001 {
		chance = words.Say(l, "watch.chance", "p", sayPercent(w.Slope.P))
	}
	key = "why.watch.stated"
	if w.Trend == NoTrendShown {
		key = "why.watch.not-stated"
	}
	say(key, "chance", chance, "level", sayPercent(w.Slope.Level))
	if w.Robust != nil {
		say("why.watch.ranks")
	}
	return out
}
