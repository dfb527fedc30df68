package link

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// FaultNotOfExam: what is sent of a comparison does not belong to the exam beside it.
const FaultNotOfExam vitals.FaultCode = "not-of-exam"

// Rests is what a comparison owes to the horse's history. It is written by column, one
// entry for each finding with a value in the exam's order, because neighbours that are
// alike cost next to nothing when deflated.
//
// Figures are whole numbers, cut off, never rounded: what the report tells is rounded
// once, where it is told, and the thresholds of the sentences stay on the same side.
type Rests struct {
	// Says has one letter for each: u as usual, h higher, l lower, d differs, n noted, f seen for the
	// first time, x not compared. A capital: it stands out even after allowing for the number of signs.
	Says string `json:"says"`
	// Exams is how many of the horse's own exams taught each.
	Exams []int `json:"exams"`
	// Weak has one letter for each: w where the prior weighs as much, - where not.
	Weak string `json:"weak"`
	// Tail is each tail probability in millionths, three figures, at least 1 unless 0.
	Tail []int `json:"tail"`
	// Own has low, middle and high of each measured finding, in steps of a hundredth of the
	// sign's last place (a thousandth for temperatures); three zeros where there is none.
	Own []int `json:"own,omitempty"`
	// Seen and UsualSeen are of each graded finding; Usual are its answers joined by a
	// comma, "=" for those found today.
	Seen      []int    `json:"seen,omitempty"`
	UsualSeen []int    `json:"usualSeen,omitempty"`
	Usual     []string `json:"usual,omitempty"`
	// Settle: [place, advice without "settle.", chance in thousandths].
	Settle [][]string `json:"settle,omitempty"`
	// Warnings: [place, key without "warning.", args…]; no place: of the whole comparison.
	Warnings [][]string `json:"warnings,omitempty"`
	// Overall: the number of signs, P in millionths, Far in thousandths.
	Overall []int `json:"overall"`
	Taught  int   `json:"taught"`
	// Not: [reason without "lesson.", how many].
	Not [][]string `json:"not,omitempty"`
}

const (
	letters       = "uhldnf"
	notCompared   = "x"
	prefixSettle  = "settle."
	prefixWarning = "warning."
	prefixLesson  = "lesson."
)

var statements = []baseline.Statement{baseline.AsUsual, baseline.Higher, baseline.Lower, baseline.Differs, baseline.Noted, baseline.FirstSeen}

func restsOf(horse vitals.Horse, exam vitals.Exam, c baseline.Comparison) *Rests {
	r := &Rests{Exams: []int{}, Tail: []int{}}
	for i, v := range valued(horse, exam, c.Signs) {
		s := baseline.Compared{}
		letter := notCompared
		if v.at >= 0 {
			s = c.Signs[v.at]
			letter = letters[max(0, slices.Index(statements, s.Statement)):][:1]
		}
		if s.Strong {
			letter = strings.ToUpper(letter)
		}
		r.Says += letter
		r.Exams = append(r.Exams, s.Basis.Exams)
		if s.Basis.Weak {
			r.Weak += "w"
		} else {
			r.Weak += "-"
		}
		r.Tail = append(r.Tail, millionths(s.Tail))
		if v.measured {
			var own [3]int
			if s.Own != nil {
				step := stepOf(s.Sign)
				own = [3]int{cut(s.Own.Low, step), cut(s.Own.Mid, step), cut(s.Own.High, step)}
			}
			r.Own = append(r.Own, own[:]...)
		} else {
			r.Seen = append(r.Seen, s.Seen)
			r.UsualSeen = append(r.UsualSeen, s.UsualSeen)
			usual := "="
			if !slices.Equal(s.Usual, s.Chosen) {
				usual = join(s.Usual)
			}
			r.Usual = append(r.Usual, usual)
		}
		place := strconv.Itoa(i)
		if s.Settle != nil {
			r.Settle = append(r.Settle, []string{place, strings.TrimPrefix(s.Settle.Advice, prefixSettle),
				strconv.Itoa(cut(s.Settle.Chance, 1000))})
		}
		r.warn(place, s.Warnings)
	}
	r.warn("", c.Warnings)
	r.Overall = []int{c.Overall.Signs, millionths(c.Overall.P), cut(c.Overall.Far, 1000)}
	r.lessons(c.Lessons)
	return r
}

func (r *Rests) warn(place string, list []baseline.Warning) {
	for _, w := range list {
		if w.Key == baseline.WarnSent || w.Key == baseline.WarnSentMore {
			continue // whoever receives it says so anew
		}
		r.Warnings = append(r.Warnings, append([]string{place, strings.TrimPrefix(w.Key, prefixWarning)}, w.Args...))
	}
}

// warningKey is the key of the words of a warning. A key of another kind (a fault's) was
// sent whole, and has a point in it.
func warningKey(sent string) string {
	if strings.Contains(sent, ".") {
		return sent
	}
	return prefixWarning + sent
}

// value is a finding with a value, and its place in a comparison's signs, -1 if it was not
// compared (taps too uneven for a rate).
type value struct {
	measured bool
	at       int
}

// valued finds the findings with a value, in the exam's order, among the signs of a comparison.
func valued(horse vitals.Horse, exam vitals.Exam, signs []baseline.Compared) []value {
	stage, _ := horse.StageAt(exam.At)
	var out []value
	next := 0
	for _, f := range exam.Findings {
		if f.Absent != "" {
			continue
		}
		sign, _ := vitals.Lookup(f.Sign)
		v := value{sign.Kind.Measured(), -1}
		if next < len(signs) && signs[next].Sign == f.Sign && signs[next].Site == f.Site {
			m, err := f.MeasureFor(sign, horse.Type, stage)
			if !v.measured || err == nil && signs[next].Measure != nil && m.Value == signs[next].Measure.Value {
				v.at = next
				next++
			}
		}
		out = append(out, v)
	}
	return out
}

func (r *Rests) lessons(list []baseline.Lesson) {
	count := map[string]int{}
	var reasons []string
	for _, l := range list {
		if l.Taught {
			r.Taught++
		} else if count[l.Reason]++; count[l.Reason] == 1 {
			reasons = append(reasons, l.Reason)
		}
	}
	for _, reason := range reasons {
		r.Not = append(r.Not, []string{strings.TrimPrefix(reason, prefixLesson), strconv.Itoa(count[reason])})
	}
}

// onto puts what was sent onto the comparison of the same exam without any history. What
// only one of the two versions of Whorl could compare stays as it is without a history.
func (r *Rests) onto(horse vitals.Horse, exam vitals.Exam, c *baseline.Comparison) {
	measured, graded := 0, 0
	warned := make([][]baseline.Warning, len(c.Signs)) // what was worked out here
	places := valued(horse, exam, c.Signs)
	for i, v := range places {
		own, g := measured, graded
		if v.measured {
			measured++
		} else {
			graded++
		}
		letter := r.Says[i]
		if v.at < 0 || letter == notCompared[0] {
			continue
		}
		s := &c.Signs[v.at]
		warned[v.at] = s.Warnings
		said := statements[strings.IndexByte(letters, letter|0x20)]
		s.Basis.Exams, s.Basis.Weak = r.Exams[i], r.Weak[i] == 'w'
		s.Tail = float64(r.Tail[i]) / 1e6
		s.P = s.Tail // a graded sign has one side
		s.Settle, s.Warnings = nil, nil
		if v.measured {
			s.P = min(1, 2*s.Tail)
			s.Own, s.Statement = nil, baseline.Noted
			if low, mid, high := r.Own[3*own], r.Own[3*own+1], r.Own[3*own+2]; low != 0 || mid != 0 || high != 0 {
				step := stepOf(s.Sign)
				s.Own = &baseline.Interval{Low: middle(low, step), Mid: middle(mid, step), High: middle(high, step)}
				s.Statement = placed(s.Measure.Value, s.Own.Low, s.Own.High, 1/step, said)
			}
		} else {
			s.Statement = said
			s.Seen, s.UsualSeen = r.Seen[g], r.UsualSeen[g]
			if s.Usual = split(r.Usual[g]); r.Usual[g] == "=" {
				s.Usual = s.Chosen
			}
		}
		s.Strong = letter < 'a' && s.Statement.Unusual()
	}
	for _, w := range r.Settle {
		if i := number(w[0]); places[i].at >= 0 && words.Has(words.English, prefixSettle+w[1]) {
			c.Signs[places[i].at].Settle = &baseline.Settle{Advice: prefixSettle + w[1], Chance: middle(number(w[2]), 1000)}
		}
	}
	sent := make([][]baseline.Warning, len(c.Signs))
	var whole []baseline.Warning
	for _, w := range r.Warnings {
		if w[1] == "many-signs" { // of an earlier version, which no words say any more
			continue
		}
		list := &whole
		if w[0] != "" {
			at := places[number(w[0])].at
			if at < 0 {
				continue
			}
			list = &sent[at]
		}
		*list = append(*list, baseline.Warning{Key: warningKey(w[1]), Args: slices.Clip(w[2:])})
	}
	for i := range c.Signs {
		c.Signs[i].Warnings = toldWarnings(warned[i], sent[i])
	}
	c.Warnings = toldWarnings(c.Warnings, whole)
	p := float64(r.Overall[1]) / 1e6
	c.Overall = baseline.Overall{Signs: r.Overall[0], P: p, Unusual: p < c.Overall.Level, Level: c.Overall.Level, Far: middle(r.Overall[2], 1000)}
	c.Lessons = nil
	for range r.Taught {
		c.Lessons = append(c.Lessons, baseline.Lesson{Taught: true})
	}
	for _, n := range r.Not {
		for range number(n[1]) {
			if !words.Has(words.English, prefixLesson+n[0]) {
				continue // of a later version
			}
			c.Lessons = append(c.Lessons, baseline.Lesson{Reason: prefixLesson + n[0]})
		}
	}
}

// maxLessons bounds what a link can make of a number.
const maxLessons = 10_000

// check gives one fault for each column that does not fit the exam.
func (r *Rests) check(exam vitals.Exam) (faults vitals.Faults) {
	measured := 0
	var signs []vitals.Sign // of the findings with a value
	for _, f := range exam.Findings {
		if f.Absent != "" {
			continue
		}
		sign, _ := vitals.Lookup(f.Sign)
		signs = append(signs, sign)
		if sign.Kind.Measured() {
			measured++
		}
	}
	values := len(signs)
	want := func(ok bool, path string) {
		if !ok {
			faults = append(faults, notOfExam(path))
		}
	}
	graded := values - measured
	place := func(s string) bool { n, err := strconv.Atoi(s); return err == nil && n >= 0 && n < values }
	few := func(list []int) bool { return !slices.ContainsFunc(list, func(n int) bool { return n > maxLessons }) }
	positive := func(list []int) bool { return !slices.ContainsFunc(list, func(n int) bool { return n < 0 }) }
	probable := func(n int) bool { return n >= 0 && n <= 1_000_000 }
	want(len(r.Says) == values && strings.Trim(r.Says, letters+strings.ToUpper(letters)+notCompared) == "", "/says")
	want(len(r.Exams) == values && positive(r.Exams) && few(r.Exams), "/exams")
	want(len(r.Weak) == values && strings.Trim(r.Weak, "w-") == "", "/weak")
	want(len(r.Tail) == values && !slices.ContainsFunc(r.Tail, func(n int) bool { return !probable(n) }), "/tail")
	want(len(r.Own) == 3*measured, "/own")
	want(len(r.Seen) == graded && positive(r.Seen) && few(r.Seen), "/seen")
	want(len(r.UsualSeen) == graded && positive(r.UsualSeen) && few(r.UsualSeen), "/usualSeen")
	want(len(r.Usual) == graded, "/usual")
	for i, w := range r.Settle {
		want(len(w) == 3 && place(w[0]) && isName(w[1]) && number(w[2]) >= 0 && number(w[2]) <= 1000, "/settle/"+strconv.Itoa(i))
	}
	for i, w := range r.Warnings {
		ok := len(w) >= 2 && len(w)%2 == 0 && (w[0] == "" || place(w[0]))
		sign := vitals.Sign{}
		if ok && w[0] != "" {
			sign = signs[number(w[0])]
		}
		want(ok && tellable(sign, baseline.Warning{Key: warningKey(w[1]), Args: w[2:]}), "/warnings/"+strconv.Itoa(i))
	}
	want(len(r.Overall) == 3 && r.Overall[0] >= 0 && r.Overall[0] <= values && probable(r.Overall[1]) &&
		r.Overall[2] >= -maxFar && r.Overall[2] <= maxFar, "/overall")
	want(r.Taught >= 0 && r.Taught <= maxLessons, "/taught")
	lessons := 0
	for i, n := range r.Not {
		ok := len(n) == 2 && isName(n[0]) && number(n[1]) > 0 && number(n[1]) <= maxLessons-lessons
		if ok {
			lessons += number(n[1])
		}
		want(ok, "/not/"+strconv.Itoa(i))
	}
	if len(faults) > 0 {
		return faults
	}
	m, g := 0, 0
	for i, sign := range signs {
		if !sign.Kind.Measured() {
			for _, id := range split(r.Usual[g]) {
				_, known := sign.Grade(id)
				want(known || id == "=", "/usual")
			}
			want(r.Seen[g] <= r.Exams[i] && r.UsualSeen[g] <= r.Exams[i], "/seen")
			want(strings.IndexByte("hHlL", r.Says[i]) < 0, "/says")
			g++
			continue
		}
		own := r.Own[3*m : 3*m+3]
		step := stepOf(sign.ID)
		want(own[0] <= own[1] && own[1] <= own[2] && (own[2] == 0 || inSpan(sign, middle(own[1], step))) &&
			(sign.Span == nil || float64(own[2])/step <= 2*sign.Span.High.InexactFloat64()), "/own")
		m++
	}
	return faults
}

// maxFar bounds how far an exam as a whole can be said to be from what is usual, in thousandths.
const maxFar = 1_000_000

func notOfExam(path string) vitals.Fault {
	return vitals.Fault{Code: FaultNotOfExam, Path: path, Sentence: words.Say(words.English, "fault."+string(FaultNotOfExam))}
}

// number reads a whole number, -1 if it is none.
func number(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		return -1
	}
	return n
}

// stepOf is how many steps make one unit of a sign: two places more than are told, three
// for temperatures, which may be told in degrees Fahrenheit.
func stepOf(id vitals.SignID) float64 {
	sign, _ := vitals.Lookup(id)
	places := sign.Places + 2
	if sign.Kind == vitals.KindTemperature {
		places++
	}
	return math.Pow10(places)
}

// cut gives x in steps, cut off. What is cut was written by middle, or has more places than
// matter: a millionth of a step guards against the last bit.
func cut(x, step float64) int { return int(math.Floor(x*step + 1e-6)) }

// middle gives the middle of a step, so that a figure that was cut is told as the whole
// one was: 34.503 is told as 35, and so is the middle of 34.50 to 34.51.
func middle(n int, step float64) float64 { return (float64(n) + .5) / step }

// millionths gives a probability in millionths, cut to three figures.
func millionths(p float64) int {
	n := int(p*1e6 + 1e-6)
	unit := 1
	for n/unit >= 1000 {
		unit *= 10
	}
	if n = n / unit * unit; n == 0 && p > 0 {
		return 1
	}
	return n
}

func join(list []vitals.GradeID) string {
	var names []string
	for _, g := range list {
		names = append(names, string(g))
	}
	return strings.Join(names, ",")
}

func split(text string) []vitals.GradeID {
	var list []vitals.GradeID
	for name := range strings.SplitSeq(text, ",") {
		if name != "" {
			list = append(list, vitals.GradeID(name))
		}
	}
	return list
}
