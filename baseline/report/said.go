package report

import (
	"slices"
	"strings"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Sentence is one of the sentences under a sign, and what it is about: a reader chooses by the kind, in any language.
type Sentence struct {
	Kind SentenceKind `json:"kind"`
	Text string       `json:"text"`
}

// SentenceKind is what a sentence is about.
type SentenceKind string

// The kinds of sentences.
const (
	SaysUsual     SentenceKind = "usual"     // what is usual for this animal
	SaysRarity    SentenceKind = "rarity"    // how seldom a reading like this is
	SaysBasis     SentenceKind = "basis"     // what that rests on
	SaysPublished SentenceKind = "published" // what is published
	SaysMeasure   SentenceKind = "measure"   // what further measuring would settle
	SaysWarning   SentenceKind = "warning"
)

// Said gives the texts of [Sentences].
func Said(c baseline.Compared, fired []vitals.Fired, horse vitals.Horse, lang words.Lang) []string {
	return Texts(Sentences(c, fired, horse, lang))
}

// Texts gives the sentences without their kinds.
func Texts(all []Sentence) []string {
	var said []string
	for _, s := range all {
		said = append(said, s.Text)
	}
	return said
}

// Sentences gives what stands under a sign on the screen of the result: what is
// usual for this animal, how seldom a reading like this is, what that rests on, what is
// published, what would settle it, and every warning. Beside a rule that fired it does not say how seldom the reading is.
func Sentences(c baseline.Compared, fired []vitals.Fired, horse vitals.Horse, lang words.Lang) []Sentence {
	t := about(horse, lang)
	var said []Sentence
	add := func(kind SentenceKind, s string) {
		if s != "" {
			said = append(said, Sentence{kind, s})
		}
	}
	add(SaysUsual, t.own(c))
	if !rests(fired, c) {
		if !allUsual(c) {
			add(SaysRarity, t.odds(c))
		}
		if c.Strong && c.Statement.Unusual() {
			add(SaysRarity, t.say("said.strong"))
		}
	}
	if c.Statement == baseline.Noted && c.Measure != nil && c.Own == nil || c.Statement == baseline.Noted && c.P == 0 {
		add(SaysBasis, t.say("said.noted"))
	} else {
		add(SaysBasis, t.rests(c.Basis))
	}
	if printed := t.printed(c); printed != "" {
		add(SaysPublished, t.say("said.printed", "ranges", printed))
	}
	if c.Settle != nil {
		add(SaysMeasure, t.settle(*c.Settle))
	}
	for _, w := range c.Warnings {
		if !repeated(w.Key) {
			add(SaysWarning, t.warning(c.Sign, w))
		}
	}
	return said
}

// repeated are warnings whose fact stands in [telling.rests] or [telling.seen] already.
func repeated(key string) bool {
	switch key {
	case baseline.WarnNoExams, baseline.WarnFewExams, baseline.WarnNotSeen,
		baseline.WarnPriorAssumed, baseline.WarnPriorMemory:
		return true
	}
	return false
}

// Remarks gives the sentences that stand under the heading of a result: what must be
// known of the whole comparison before any sign of it is read.
func Remarks(c baseline.Comparison, horse vitals.Horse, lang words.Lang) []string {
	t := about(horse, lang)
	var said []string
	if c.Overall.Unusual && c.Overall.Signs > 1 {
		said = append(said, t.say("report.together", "n", itoa(oneIn(c.Overall.P))))
	} else if c.Overall.ManyLittle() {
		said = append(said, t.say("report.many"))
	}
	for _, w := range c.Warnings {
		said = append(said, t.warning("", w))
	}
	return said
}

// own says what is usual for this animal.
func (t telling) own(c baseline.Compared) string {
	key := "said.own"
	if c.Basis.Exams == 0 {
		key = "said.own.0"
	}
	switch {
	case c.Measure != nil && c.Own != nil && finite(c.Own.Low, c.Own.High):
		return t.say(key, "range", t.withUnit(t.ownRange(c), c.Measure.Unit))
	case c.Measure == nil && len(c.Usual) > 0 && c.Basis.Exams > 0 && c.Statement != baseline.AsUsual:
		return t.say("said.usual", "answer", t.answers(c.Sign, c.Usual, nil),
			"seen", itoa(c.UsualSeen), "n", itoa(c.Basis.Exams))
	}
	return ""
}

// allUsual reports whether what is usual, as [telling.own] says it, was shown on every quiet day: then no other answer was.
func allUsual(c baseline.Compared) bool {
	return c.Measure == nil && c.Seen == 0 && c.Basis.Exams > 0 && c.UsualSeen == c.Basis.Exams
}

// odds says in words how seldom a reading like this one is on a quiet day.
func (t telling) odds(c baseline.Compared) string {
	own := ""
	if c.Basis.Exams == 0 {
		own = ".0"
	}
	switch c.Statement {
	case baseline.Higher:
		return t.say("said.high"+own, "n", itoa(oneIn(c.Tail)))
	case baseline.Lower:
		return t.say("said.low"+own, "n", itoa(oneIn(c.Tail)))
	case baseline.Differs, baseline.FirstSeen, baseline.Noted:
		return t.seen(c)
	}
	return ""
}

// seen says how many of the animal's own exams showed the same answer.
func (t telling) seen(c baseline.Compared) string {
	switch {
	case c.Measure != nil:
		return ""
	case c.Basis.Exams == 0 && c.Statement == baseline.Differs:
		return t.say("said.grade.0")
	case c.Basis.Exams == 0:
		return ""
	case c.Basis.Exams == 1 && c.Seen == 0:
		return t.say("said.seen.0.1")
	case c.Basis.Exams == 1:
		return t.say("said.seen.1")
	case c.Seen == 0:
		return t.say("said.seen.0", "n", itoa(c.Basis.Exams))
	}
	return t.say("said.seen", "seen", itoa(c.Seen), "n", itoa(c.Basis.Exams))
}

// oneIn gives the largest round number N for which the probability is below 1 in N. What
// lies outside an interval that holds 95 of 100 is below 1 in 40 on its side.
func oneIn(p float64) int {
	for _, n := range []int{1000, 500, 200, 100, 50, 40, 30, 20, 10, 5} {
		if p < 1/float64(n) {
			return n
		}
	}
	return 2
}

// rests says what a comparison rests on, and what of that is not from a source that was read.
func (t telling) rests(b baseline.Basis) string {
	said := t.say(basisOfOne.key(b.Exams, b.Weak, published(b.Prior)), "n", itoa(b.Exams))
	if b.Exams > 0 && !b.Weak {
		return said
	}
	return strings.TrimSpace(said + " " + t.doubts(b.Prior))
}

// basisKeys are the keys of what a comparison rests on: own exams, and few of them, so that what is published counts too.
type basisKeys struct{ own, few string }

var (
	basisOfOne = basisKeys{"said.basis", "said.basis.weak"}
	basisOfAll = basisKeys{"report.rests", "report.rests.weak"}
)

// key is that of so many own exams. Nothing is said to rest on published ranges where none is published.
func (k basisKeys) key(exams int, weak, published bool) string {
	switch {
	case exams == 0 && published:
		return "said.basis.0"
	case exams == 0:
		return "said.basis.none"
	case weak && published:
		return k.few
	}
	return k.own
}

// doubts names what of a prior was not read in a source.
func (t telling) doubts(prior []vitals.Provenance) string {
	var said []string
	if marked(prior, vitals.Memory) {
		said = append(said, t.say("said.basis.memory"))
	}
	if marked(prior, vitals.Assumed) {
		said = append(said, t.say("said.basis.assumed"))
	}
	return strings.Join(said, " ")
}

// published reports whether any of a prior is from a published work.
func published(prior []vitals.Provenance) bool {
	return slices.ContainsFunc(prior, func(p vitals.Provenance) bool { return p.Source != "" })
}

func marked(list []vitals.Provenance, mark vitals.Mark) bool {
	return slices.ContainsFunc(list, func(p vitals.Provenance) bool { return p.Mark == mark })
}

// printed lists the published ranges, each with its source.
func (t telling) printed(c baseline.Compared) string {
	if c.Measure == nil {
		return ""
	}
	var list []string
	for _, p := range c.Printed {
		span := t.span(p.Low, p.High, c.Measure.Unit)
		if span == "" {
			continue
		}
		source := t.source(p.Provenance)
		if source != "" {
			span += " (" + source + ")"
		}
		list = append(list, span)
	}
	return strings.Join(list, "; ")
}

// source names where a figure is from. A mark other than "read" is always told.
func (t telling) source(p vitals.Provenance) string {
	name := sourceName(p.Source)
	if p.Mark == vitals.Read || p.Mark == "" {
		return name
	}
	mark := t.first(string(p.Mark), "mark."+string(p.Mark))
	if name == "" {
		return mark
	}
	return t.say("report.basis.source", "source", name, "mark", mark)
}

func (t telling) settle(s baseline.Settle) string {
	return t.say("said.settle", "advice", t.say(s.Advice), "n", itoa(min(9, max(1, int(s.Chance*10+0.5)))))
}

// warning says a warning; facts that are ids of the catalogue are said by their words.
func (t telling) warning(sign vitals.SignID, w baseline.Warning) string {
	if strings.HasPrefix(w.Key, "pack.") {
		return t.clinical(w)
	}
	args := slices.Clone(w.Args)
	for i := 0; i+1 < len(args); i += 2 {
		switch args[i] {
		case "site":
			args[i+1] = t.site(vitals.SiteID(args[i+1]))
		case "sign", "other":
			args[i+1] = t.sign(vitals.SignID(args[i+1]), "")
		case "grade":
			args[i+1] = t.grade(sign, vitals.GradeID(args[i+1]))
		case "device":
			args[i+1] = t.first(args[i+1], "how.device."+args[i+1])
		case "size":
			args[i+1] = t.withUnit(clean(args[i+1]), vitals.Unit(argument(w, "unit")))
		case "source":
			args[i+1] = t.source(vitals.Provenance{Source: vitals.SourceID(args[i+1]), Mark: vitals.Mark(argument(w, "mark"))})
		case "day":
			if d, ok := vitals.ParseDate(args[i+1]); ok {
				args[i+1] = t.date(d)
			}
		case "by":
			if args[i+1] = clean(args[i+1]); args[i+1] == "" {
				if args[i+1] = t.say("warning.new-usual.by"); w.Key == baseline.WarnSent {
					args[i+1] = t.say("warning.sent.by")
				}
			} else {
				args[i+1] = "“" + words.Inside(args[i+1]) + "”"
			}
		default:
			args[i+1] = clean(args[i+1])
		}
	}
	return t.say(w.Key, args...)
}

// sent gives the warning that what is usual was sent and not worked out here; its key is empty where there is none.
func sent(c baseline.Comparison) (w baseline.Warning) {
	if len(c.Warnings) > 0 && c.Warnings[0].Key == baseline.WarnSent {
		w = c.Warnings[0]
	}
	return w
}
