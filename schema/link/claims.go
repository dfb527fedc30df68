package link

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"whorl.example/baseline"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// What a link says of the sender's history is a claim: anybody can write a link, and its check code finds damage, not forgery. What
// follows from the exam is worked out here; of the rest only what this version has words for is told, with facts that can be, and the
// comparison says that it was sent.

// factsOf names the facts of the warnings that rest on the sender's history, in their order; ok is false for every other, which
// the exam itself gives, or nothing.
func factsOf(key string) (names string, ok bool) {
	switch key {
	case baseline.WarnNoExams, baseline.WarnPriorAssumed, baseline.WarnPriorMemory,
		watch.WarnWatchOneReading, watch.WarnWatchUneven, watch.WarnWatchMedicated, watch.WarnWatchExcited, watch.WarnWatchOwn,
		watch.WarnWatchAlarm, watch.WarnWatchEased:
		return "", true
	case baseline.WarnFewExams, baseline.WarnNotSeen, watch.WarnWatchEarlier:
		return "n", true
	case baseline.WarnDeviceChanged:
		return "device label size unit source mark", true
	case baseline.WarnSiteChanged:
		return "site", true
	case baseline.WarnNewUsual:
		return "n earlier day by", true
	case baseline.WarnAskHigher, baseline.WarnAskLower:
		return "n low high from to", true
	case baseline.WarnOddDays:
		return "n of value day", true
	case baseline.WarnLighter:
		return "n from", true
	case baseline.WarnSomeoneElse:
		return "by", true
	case baseline.WarnTrend:
		return "n days from to", true
	case baseline.WarnAmong:
		return "n of", true
	}
	return "", false
}

// tellable reports whether a warning of a sign can be told: one of the history with facts that can be, or a name as a later
// version may have written it. No sentence passes for a name.
func tellable(sign vitals.Sign, w baseline.Warning) bool {
	facts, known := factsOf(w.Key)
	if !known {
		return isName(w.Key)
	}
	names := strings.Fields(facts)
	if len(w.Args) != 2*len(names) {
		return false
	}
	for i, name := range names {
		if w.Args[2*i] != name || !canBe(sign, name, w.Args[2*i+1]) {
			return false
		}
	}
	return true
}

// canBe reports whether a fact of a warning can have a value.
func canBe(sign vitals.Sign, name, value string) bool {
	switch name {
	case "site":
		return slices.ContainsFunc(sign.Sites, func(s vitals.Site) bool { return string(s.ID) == value })
	case "device":
		return slices.Contains(vitals.Devices(), vitals.Device(value))
	case "unit":
		return slices.Contains(vitals.Units(), vitals.Unit(value))
	case "source":
		_, known := vitals.LookupSource(vitals.SourceID(value))
		return known || value == ""
	case "mark":
		return value == "" || words.Has(words.English, "mark."+value)
	case "day":
		_, ok := vitals.ParseDate(value)
		return ok
	case "by", "label":
		return len(value) <= 4*vitals.MaxName && !strings.ContainsFunc(value, unicode.IsControl)
	}
	x, err := strconv.ParseFloat(value, 64)
	if err != nil || len(value) > 12 || strings.Trim(value, "0123456789.") != "" {
		return false
	}
	switch name {
	case "low", "high", "from", "to", "value":
		return inSpan(sign, x)
	}
	return x <= maxLessons
}

// isName reports whether a text can be a name of the catalogue or of the words: small letters, figures, '-' and '.'.
func isName(text string) bool {
	return text != "" && len(text) <= 60 && strings.Trim(text, "abcdefghijklmnopqrstuvwxyz0123456789-.") == ""
}

// inSpan reports whether a value can be entered of a sign at all.
func inSpan(sign vitals.Sign, x float64) bool {
	return sign.Span == nil || x >= sign.Span.Low.InexactFloat64() && x <= sign.Span.High.InexactFloat64()
}

// toldWarnings puts what was sent of warnings beside those that were worked out here, in the order in which they were sent. A name that this
// version does not know is told as the sender's.
func toldWarnings(own, sent []baseline.Warning) []baseline.Warning {
	var out []baseline.Warning
	same := func(w baseline.Warning) func(baseline.Warning) bool {
		return func(o baseline.Warning) bool { return o.Key == w.Key && slices.Equal(o.Args, w.Args) }
	}
	for _, w := range sent {
		switch _, claim := factsOf(w.Key); {
		case claim && slices.ContainsFunc(out, func(o baseline.Warning) bool { return o.Key == w.Key }):
		case claim, slices.ContainsFunc(own, same(w)) && !slices.ContainsFunc(out, same(w)):
			out = append(out, w)
		case !words.Has(words.English, w.Key) && !slices.ContainsFunc(out, func(o baseline.Warning) bool { return o.Key == baseline.WarnSentMore }):
			out = append(out, baseline.Warning{Key: baseline.WarnSentMore, Args: []string{"key", w.Key}})
		}
	}
	for _, w := range own {
		if _, claim := factsOf(w.Key); !claim && !slices.ContainsFunc(out, same(w)) {
			out = append(out, w)
		}
	}
	return out
}

// placed says where a measured value lies beside an interval that was sent, whatever the letter says; the letter counts where the
// figures, which were cut off, do not tell.
func placed(value, low, high, step float64, said baseline.Statement) baseline.Statement {
	switch {
	case value > high+step:
		return baseline.Higher
	case value < low-step:
		return baseline.Lower
	case value > low+step && value < high-step:
		return baseline.AsUsual
	}
	if said == baseline.Higher && value < high-step || said == baseline.Lower && value > low+step || !said.Unusual() {
		return baseline.AsUsual
	}
	return said
}
