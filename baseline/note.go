package baseline

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/vitals"
)

// note is what is worked out of an exam once, when it is taken in: whether it teaches by itself,
// and all that it would teach. What is usual is worked out from the notes alone. They do not change.
type note struct {
	id       vitals.ID
	at       time.Time
	reason   string // why it teaches nothing by itself, or ""
	finished bool
	findings int
	told     sync.Once    // print holds
	print    print        // of what the exam says
	exam     *vitals.Exam // until then
	age      float64      // of the animal then, in days, as ageDays
	readings []taken
	answers  []graded
}

// taken is the most precise reading of a measured sign in an exam (at one site, of a sign
// that has a normal for each).
type taken struct {
	place
	when      time.Time
	day, hour float64 // of it
	age       float64
	value, sd float64 // in the sign's unit
	from      vitals.SiteID
	reading   *vitals.Reading // nil where no instrument was read
}

func (t *taken) way() way {
	w := way{site: t.from}
	if r := t.reading; r != nil {
		w.read, w.unit, w.device, w.label = true, r.Unit, r.Device, r.Label
	}
	return w
}

// graded is the answer of a graded sign in an exam that is farthest from usual.
type graded struct {
	place
	answer
}

// place is a sign, and of a sign with a normal for each site the site.
type place struct {
	sign vitals.SignID
	site vitals.SiteID
}

func placeOf(sign *vitals.Sign, site vitals.SiteID) place {
	if !sign.PerSite {
		site = ""
	}
	return place{sign.ID, site}
}

// way is how a reading was taken, as far as the next one is to be taken in the same way.
type way struct {
	site   vitals.SiteID
	read   bool // an instrument was read
	unit   vitals.Unit
	device vitals.Device
	label  string
}

func (w way) sameSite(site vitals.SiteID) bool { return w.site == site || w.site == "" }

// catalogue is the package's own copy of the signs.
var catalogue = sync.OnceValue(vitals.Catalogue)

var catalogueIndex = sync.OnceValue(func() map[vitals.SignID]int {
	m := make(map[vitals.SignID]int)
	for i, s := range catalogue() {
		m[s.ID] = i
	}
	return m
})

// indexFrom gives the place of a sign in the catalogue. Findings mostly stand in its order: from the place of the one
// before, the next few are looked at first.
func indexFrom(signs []vitals.Sign, from int, id vitals.SignID) (i int, ok bool) {
	for i = from; i < min(from+8, len(signs)); i++ {
		if signs[i].ID == id {
			return i, true
		}
	}
	i, ok = catalogueIndex()[id]
	return i, ok
}

// lookup is vitals.Lookup, whose answer shares its lists with every other.
func lookup(id vitals.SignID) (sign vitals.Sign, ok bool) {
	i, ok := catalogueIndex()[id]
	if !ok {
		return vitals.Sign{}, false
	}
	return catalogue()[i], true
}

// fingerprint is worked out when it is first asked for: hardly ever, since few exams are of one moment or one ID.
func (n *note) fingerprint() print {
	n.told.Do(func() {
		if n.exam != nil {
			n.print, n.exam = fingerprint(n.exam), nil
		}
	})
	return n.print
}

// note makes the note of an exam, which does not change any more.
func (b *Baseline) note(e *vitals.Exam) *note {
	n := &note{
		id: e.ID, at: e.At, reason: b.refusal(*e), finished: e.Status == vitals.Finished, findings: len(e.Findings),
		exam: e, age: ageDays(b.horse, e.At),
	}
	if n.reason != "" {
		return n
	}
	stage, _ := b.horse.StageAt(e.At)
	theDay, theHour := day(e.At), hour(e.At)
	measured := 0
	for i := range e.Findings {
		if f := &e.Findings[i]; f.Absent == "" && len(f.Chosen) == 0 {
			measured++
		}
	}
	n.readings, n.answers = carve(&b.readings, measured), carve(&b.answers, len(e.Findings)-measured)
	signs := catalogue()
	again := append(make([]bool, 0, 128), make([]bool, len(signs))...) // signs that were met
	k, ok := 0, false
	for i := range e.Findings {
		f := &e.Findings[i]
		if k, ok = indexFrom(signs, k, f.Sign); !ok || f.Absent != "" {
			continue
		}
		sign := &signs[k]
		if sign.Context {
			continue
		}
		at := placeOf(sign, f.Site)
		if !sign.Kind.Measured() {
			if a, ok := answerOf(sign, f); ok {
				n.show(graded{at, a}, again[k])
				again[k] = true
			}
			continue
		}
		m, err := f.MeasureFor(*sign, b.horse.Type, stage)
		if err != nil {
			continue
		}
		t := taken{place: at, when: e.At, day: theDay, hour: theHour, age: n.age, value: m.Value, sd: m.SD, from: f.Site, reading: f.Reading}
		if f.Minutes != 0 {
			t.when = e.At.Add(time.Duration(f.Minutes) * time.Minute)
			t.day, t.hour, t.age = day(t.when), hour(t.when), ageDays(b.horse, t.when)
		}
		n.take(t, again[k])
		again[k] = true
	}
	return n
}

// carve gives room for n from a larger piece of memory, the pieces growing with what was asked for.
func carve[T any](room *[]T, n int) []T {
	if cap(*room)-len(*room) < n {
		*room = make([]T, 0, max(n, min(2*cap(*room), 16*n)))
	}
	from := len(*room)
	*room = (*room)[:from+n]
	return (*room)[from : from : from+n]
}

// take keeps the most precise reading of a sign: two counts within minutes are not two days.
func (n *note) take(t taken, again bool) {
	for i := 0; again && i < len(n.readings); i++ {
		if old := &n.readings[i]; old.place == t.place {
			if t.sd < old.sd {
				*old = t
			}
			return
		}
	}
	n.readings = append(n.readings, t)
}

// shows reports whether the exam has a value of a sign.
func (n *note) shows(sign vitals.SignID) bool {
	return slices.ContainsFunc(n.readings, func(t taken) bool { return t.sign == sign }) ||
		slices.ContainsFunc(n.answers, func(g graded) bool { return g.sign == sign })
}

func (n *note) show(s graded, again bool) {
	for i := 0; again && i < len(n.answers); i++ {
		if old := &n.answers[i]; old.place == s.place {
			if s.rank > old.rank {
				*old = s
			}
			return
		}
	}
	n.answers = append(n.answers, s)
}

// inTime is the order of exams, by time and then ID.
func inTime(atA time.Time, a vitals.ID, atB time.Time, b vitals.ID) int {
	return cmp.Or(atA.Compare(atB), strings.Compare(string(a), string(b)))
}

func (n *note) compare(o *note) int { return inTime(n.at, n.id, o.at, o.id) }

// prefer reports whether n is kept when o bears the same ID. It is a total order on what
// matters here, so that two phones end with the same exam.
func (n *note) prefer(o *note) bool {
	if n.finished != o.finished {
		return n.finished
	}
	if c := cmp.Or(cmp.Compare(n.findings, o.findings), n.at.Compare(o.at)); c != 0 {
		return c > 0
	}
	return n.fingerprint().compare(o.fingerprint()) >= 0
}

// print is a fingerprint of what an exam says, without its ID: two exams that agree in it are one
// exam entered or brought in twice.
type print [2]uint64

func (p print) compare(q print) int {
	return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1]))
}

// mix takes a number into both halves, each by a multiplication of its own. A product of 128 bits would be better, and costs a
// browser four.
func mix(a, b, x uint64) (uint64, uint64) {
	a = (a^x)*0x9fb21c651e98df25 + 0x9e3779b97f4a7c15
	b = (b^bits.RotateLeft64(x, 32))*0xd6e8feb86659fd93 + 0xe7037ed1a0b428db
	return a ^ a>>32 ^ b, b ^ b>>29
}

func (p *print) word(x uint64) { p[0], p[1] = mix(p[0], p[1], x) }

func (p *print) num(n int) { p.word(uint64(n)) }

// text takes in the length and then the letters.
func (p *print) text(s string) {
	p.num(len(s))
	p.letters(s)
}

// letters takes in eight letters at a time; at the end some of them twice. The length is the caller's to tell.
func (p *print) letters(s string) {
	at := func(i int) uint64 { return uint64(s[i]) }
	four := func(i int) uint64 { return at(i) | at(i+1)<<8 | at(i+2)<<16 | at(i+3)<<24 }
	for ; len(s) >= 8; s = s[8:] {
		p.word(uint64(s[0]) | uint64(s[1])<<8 | uint64(s[2])<<16 | uint64(s[3])<<24 |
			uint64(s[4])<<32 | uint64(s[5])<<40 | uint64(s[6])<<48 | uint64(s[7])<<56)
	}
	switch n := len(s); {
	case n >= 4:
		p.word(four(0) | four(n-4)<<32)
	case n > 0:
		p.word(at(0) | at(n/2)<<8 | at(n-1)<<16)
	}
}

// number takes in a decimal: 38.40 as 38.4.
func (p *print) number(d decimal.Decimal) {
	if d.NumDigits() > 15 {
		p.text(d.String())
		return
	}
	n, exponent := d.CoefficientInt64(), d.Exponent()
	for n != 0 && n%10 == 0 {
		n, exponent = n/10, exponent+1
	}
	p.lengths(int(n), int(exponent))
}

// lengths takes in several small numbers at once.
func (p *print) lengths(numbers ...int) {
	x := uint64(0)
	for _, n := range numbers {
		x = x*0x9fb21c651e98df25 + uint64(n)
	}
	p.word(x)
}

func fingerprint(e *vitals.Exam) (p print) {
	p.word(uint64(e.At.UnixNano()))
	p.text(string(e.Status))
	p.text(string(e.Wellness))
	p.text(string(e.State.Condition))
	for _, c := range e.State.Also {
		p.text(string(c))
	}
	p.text(e.State.With)
	// What the rules ask for besides: a rule that fires decides whether the exam teaches.
	p.text(string(e.Purpose))
	p.bool(e.RecheckOf != "")
	p.bool(e.Masked())
	p.num(e.State.SinceMinutes)
	p.moment(e.State.Ended)
	if e.Air != nil {
		for _, r := range [...]*vitals.Reading{e.Air.Temperature, e.Air.Humidity} {
			if p.bool(r != nil); r != nil {
				p.number(r.Value)
				p.text(string(r.Unit))
			}
		}
	}
	k, known := 0, false
	signs := catalogue()
	for i := range e.Findings {
		f := &e.Findings[i]
		if k, known = indexFrom(signs, k, f.Sign); known {
			p.num(k)
		} else {
			p.text(string(f.Sign))
		}
		p.finding(f)
	}
	return p
}

func (p *print) finding(f *vitals.Finding) {
	way := 0
	for i, there := range [...]bool{f.Count != nil, f.Taps != nil, f.Reading != nil, f.Timed != nil, f.Girth != nil, f.Minutes != 0 || f.Note != ""} {
		if there {
			way |= 1 << i
		}
	}
	p.lengths(way, len(f.Site), len(f.Absent), len(f.Chosen), len(f.Where))
	p.letters(string(f.Site))
	p.letters(string(f.Absent))
	if f.Minutes != 0 || f.Note != "" {
		p.num(f.Minutes)
		p.text(f.Note)
	}
	if c := f.Count; c != nil {
		p.lengths(c.Events, c.Seconds, len(c.Start))
		p.letters(string(c.Start))
	}
	if t := f.Taps; t != nil {
		p.num(len(t.AtMS))
		for _, ms := range t.AtMS {
			p.num(ms)
		}
	}
	if r := f.Reading; r != nil {
		p.number(r.Value)
		p.text(string(r.Unit))
		p.text(string(r.Device))
		p.text(r.Label)
	}
	if t := f.Timed; t != nil {
		p.bool(t.Aloud)
		p.num(len(t.CentiSeconds))
		for _, cs := range t.CentiSeconds {
			p.num(cs)
		}
	}
	if g := f.Girth; g != nil {
		p.number(g.Girth)
		p.number(g.Length)
		p.text(string(g.Unit))
	}
	for _, c := range f.Chosen {
		p.text(string(c))
	}
	for _, w := range f.Where {
		p.text(string(w))
	}
}
