package watch

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Say tells the course in sentences, the direction first.
func (w Watched) Say(l words.Lang) []string {
	name := words.Say(l, "sign."+string(w.Sign))
	if w.Site != "" {
		name += " (" + words.Say(l, "site."+string(w.Site)) + ")"
	}
	var out []string
	say := func(key string, args ...string) {
		out = append(out, words.Say(l, key, append(args, "sign", name)...))
	}
	warned := func(key string) bool {
		return slices.ContainsFunc(w.Warnings, func(x baseline.Warning) bool { return x.Key == key })
	}
	switch {
	case warned(WarnWatchEased):
		say("watch.course.eased", "values", w.sayAnswers(l))
	case warned(WarnWatchAlarm):
		say("watch.course.alarm", "values", w.sayAnswers(l))
	case len(w.Answers) > 0 && w.Course != "":
		say("watch.course."+string(w.Course), "values", w.sayAnswers(l))
	case len(w.Answers) > 0:
		say("watch.sequence", "values", w.sayAnswers(l))
	case w.Trend == TooFew:
		say("watch.too-few-each", "values", w.sayPoints(l))
	case w.Trend == TrendNotKnown:
		say("watch.not-known", "values", w.sayPoints(l))
	case w.Slope != nil:
		w.saySlope(l, say)
	}
	if w.Missing > 0 {
		say("watch.missing", "n", strconv.Itoa(w.Missing))
	}
	for _, x := range w.Warnings {
		if x.Key != WarnWatchEased && x.Key != WarnWatchAlarm { // said with the answers
			say(x.Key, x.Args...)
		}
	}
	return out
}

func (w Watched) saySlope(l words.Lang, say func(string, ...string)) {
	s := w.Slope
	places := Places(w.Sign)
	// A slope of less than two steps of the display is said with one place more.
	part := float64(s.EveryMinutes) / 60
	size := math.Abs(s.PerHour)
	if w.Trend == NoTrendShown {
		size = s.WouldShow
	}
	if size*part < 2*math.Pow10(-places) {
		places++
	}
	// What would have shown is rounded up: a smaller one need not have.
	step := math.Pow10(places)
	amount := func(perHour float64) string { return Amount(l, perHour*part, places, w.Unit) }
	args := []string{
		"slope", amount(math.Abs(s.PerHour)), "values", w.sayPoints(l), "shows", amount(math.Ceil(s.WouldShow*part*step-1e-9) / step / part),
		"every", words.Say(l, "watch.every."+strconv.Itoa(s.EveryMinutes)), "span", saySpan(l, w.To.Sub(w.From)),
	}
	key := "watch." + string(w.Trend)
	switch way := w.Way(); {
	case w.Trend != NoTrendShown:
	case way > 0:
		key = "watch.each.up"
	case way < 0:
		key = "watch.each.down"
	}
	say(key, args...)
	if r := w.Robust; r != nil {
		chance := words.Say(l, "watch.chance-rare")
		if r.P >= .001 {
			chance = words.Say(l, "watch.chance", "p", sayPercent(r.P))
		}
		say("watch.ranks", "slope", amount(r.PerHour), "chance", chance, "every", words.Say(l, "watch.every."+strconv.Itoa(s.EveryMinutes)))
	}
}

// listed is how many readings are told one by one; of more, the first and the last.
const listed = 6

// sayPoints says the readings in their order, the unit once: "59, 63, 69 a minute".
func (w Watched) sayPoints(l words.Lang) string {
	points := w.Points
	join := ", "
	if len(points) > listed {
		points, join = []WatchedPoint{points[0], points[len(points)-1]}, " … "
	}
	parts := make([]string, len(points))
	for i, p := range points {
		parts[i] = vitals.Decimals(p.Value, Places(w.Sign))
	}
	last := len(points) - 1
	if last < 0 {
		return ""
	}
	parts[last] = Amount(l, points[last].Value, Places(w.Sign), w.Unit)
	return strings.Join(parts, join)
}

func (w Watched) sayAnswers(l words.Lang) string {
	var parts []string
	for i, a := range w.Answers {
		if i > 0 && slices.Equal(a.Chosen, w.Answers[i-1].Chosen) {
			continue
		}
		names := make([]string, len(a.Chosen))
		for k, g := range a.Chosen {
			name := words.Say(l, "grade."+string(w.Sign)+"."+string(g))
			first, n := utf8.DecodeRuneInString(name)
			names[k] = string(unicode.ToLower(first)) + name[n:]
		}
		parts = append(parts, strings.Join(names, words.Say(l, "watch.and")))
	}
	return strings.Join(parts, words.Say(l, "watch.then"))
}

func Places(id vitals.SignID) int {
	sign, _ := vitals.Lookup(id)
	return sign.Places
}

func Amount(l words.Lang, x float64, places int, u vitals.Unit) string {
	key := "watch.amount." + string(u)
	if !words.Has(words.English, key) {
		key = "watch.amount"
	}
	return strings.TrimSpace(words.Say(l, key, "x", vitals.Decimals(x, places), "unit", words.Say(l, "unit."+string(u))))
}

// sayPercent writes a probability in 100, with a decimal below 10.
func sayPercent(p float64) string {
	if p < .0995 {
		return vitals.Decimals(100*p, 1)
	}
	return vitals.Decimals(100*p, 0)
}

// saySpan says a time in minutes up to two hours, then in hours.
func saySpan(l words.Lang, d time.Duration) string {
	if d <= 2*time.Hour {
		return words.Say(l, "watch.minutes", "n", vitals.Decimals(d.Minutes(), 0))
	}
	return words.Say(l, "watch.hours", "n", vitals.Decimals(d.Hours(), 0))
}
