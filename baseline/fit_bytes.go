package baseline

import (
	"encoding/binary"
	"math"
	"slices"
	"time"

	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

const (
	// FaultStaleFit: a fit was made by other rules, or for a horse described otherwise. It is to
	// be made anew from the exams.
	FaultStaleFit vitals.FaultCode = "stale-fit"
	// FaultBadFit: the bytes are no fit, or not all of one.
	FaultBadFit vitals.FaultCode = "bad-fit"
)

// The bytes of a fit: fitMagic, the fingerprint of rules and horse, the time for which it was worked out,
// the summaries, the models, and a print of all of it. Numbers are unsigned varints, floats the eight bytes of
// IEEE 754, texts and lists follow their length.
const fitMagic = "whorl fit 1\n"

// Encode gives the fit as bytes, worked out for a time: where comparisons at that time, and as a rule at
// later ones, find everything done. The same summaries and time give the same bytes.
func (f *Fit) Encode(at time.Time) []byte {
	w := &fitWriter{}
	w.raw(fitMagic)
	rules := f.b.rules()
	w.print(rules)
	w.time(at)
	w.num(len(f.b.summaries))
	for _, n := range f.b.summaries {
		w.note(n)
	}
	models := f.b.models(at)
	w.num(len(models))
	for _, m := range models {
		w.model(m)
	}
	sum := fingerprint.Hash{}
	sum.Text(string(w.out))
	w.print(sum)
	return w.out
}

// OpenFit reads the bytes of [Fit.Encode]. The error is a [vitals.Faults]: that of [New], [FaultBadFit], or
// [FaultStaleFit] where the rules of this version or the horse (its type, birth and what was said of
// its new usual, what a herd taught) are not those for which it was made.
func OpenFit(horse vitals.Horse, data []byte, options ...Option) (*Fit, error) {
	f, err := NewFit(horse, options...)
	if err != nil {
		return nil, err
	}
	r := &fitReader{in: data}
	if r.raw(len(fitMagic)) != fitMagic {
		return nil, fault(FaultBadFit, "")
	}
	if r.print() != f.b.rules() {
		return nil, fault(FaultStaleFit, "")
	}
	sum := fingerprint.Hash{}
	sum.Text(string(data[:max(0, len(data)-16)]))
	if end := (&fitReader{in: data[max(0, len(data)-16):]}); end.print() != sum {
		return nil, fault(FaultBadFit, "")
	}
	at := r.time()
	for range r.count(8) {
		n := r.note()
		f.b.summaries = append(f.b.summaries, n)
		f.b.at[n.id] = n.at
	}
	if !slices.IsSortedFunc(f.b.summaries, (*summary).compare) || len(f.b.at) != len(f.b.summaries) {
		r.bad = true
	}
	seen := map[place]bool{}
	for range r.count(48) {
		if r.bad {
			break
		}
		f.b.restore(at, r, seen)
	}
	if r.bad || len(r.in) != 16 {
		return nil, fault(FaultBadFit, "")
	}
	return f, nil
}

type fitWriter struct {
	out  []byte
	told map[string]int // texts written before, which are then written as their place
}

func (w *fitWriter) raw(s string) { w.out = append(w.out, s...) }

func (w *fitWriter) num(n int) { w.out = binary.AppendUvarint(w.out, uint64(n)) }

func (w *fitWriter) word(x uint64) { w.out = binary.LittleEndian.AppendUint64(w.out, x) }

func (w *fitWriter) print(p fingerprint.Hash) { w.word(p[0]); w.word(p[1]) }

func (w *fitWriter) bool(b bool) { w.out = append(w.out, map[bool]byte{true: 1}[b]) }

func (w *fitWriter) time(t time.Time) {
	_, offset := t.Zone()
	w.word(uint64(t.Unix()))
	w.num(t.Nanosecond())
	w.num(offset + 1<<17) // seconds, from -18 to 18 hours
}

func (w *fitWriter) text(s string) {
	if i, ok := w.told[s]; ok {
		w.num(i)
		return
	}
	if w.told == nil {
		w.told = make(map[string]int)
	}
	w.told[s] = len(w.told) + 1
	w.num(0)
	w.num(len(s))
	w.raw(s)
}

func (w *fitWriter) floats(xs ...float64) {
	for _, x := range xs {
		w.word(math.Float64bits(x))
	}
}

func (w *fitWriter) note(n *summary) {
	w.text(string(n.id))
	w.time(n.at)
	w.text(n.reason)
	w.bool(n.finished)
	w.num(n.findings)
	w.print(n.fingerprint())
	w.floats(n.age)
	w.text(n.by)
	w.num(len(n.readings))
	for i := range n.readings {
		t := &n.readings[i]
		w.text(string(t.sign))
		w.text(string(t.site))
		w.time(t.when)
		w.floats(t.age, t.value, t.sd)
		w.text(string(t.from))
		w.bool(t.reading != nil)
		if r := t.reading; r != nil {
			w.text(string(r.Unit))
			w.text(string(r.Device))
			w.text(r.Label)
		}
	}
	w.num(len(n.answers))
	for i := range n.answers {
		g := &n.answers[i]
		w.text(string(g.sign))
		w.text(string(g.site))
		w.num(g.Rank)
		w.num(len(g.Chosen))
		for _, c := range g.Chosen {
			w.text(string(c))
		}
	}
}

func (w *fitWriter) model(m model) {
	w.text(string(m.sign))
	w.text(string(m.site))
	w.num(m.n)
	w.bool(m.odd)
	w.bool(m.stored())
	if m.stored() {
		w.snapshot(m.state)
	}
	t := m.trend
	w.floats(t.PerDay, t.SD, t.P, t.Days, t.From, t.To)
	w.num(t.N)
	w.bool(m.question != nil)
	if q := m.question; q != nil {
		w.time(q.From)
		w.num(q.Days)
		w.num(q.Readings)
		w.text(string(q.Side))
		w.floats(q.Low, q.High, q.Before.Low, q.Before.Mid, q.Before.High)
	}
}

func (w *fitWriter) snapshot(s *level.Snapshot) {
	w.num(len(s.Points))
	for i := range s.Points {
		p := &s.Points[i]
		w.num(p.Index)
		w.floats(p.Weight)
		w.floats(p.State[:]...)
		if s.Rhythm {
			w.floats(p.Harmonic[:]...)
		}
	}
	w.floats(s.LogEvidence)
	w.num(s.Since)
	w.num(s.Stride)
	w.num(len(s.BadDays))
	w.floats(s.BadDays...)
}

// fitReader reads what fitWriter wrote. After anything that cannot be so it is bad and gives zeros.
type fitReader struct {
	in   []byte
	told []string
	bad  bool
}

func (r *fitReader) raw(n int) string {
	if n < 0 || n > len(r.in) {
		r.bad = true
		r.in = nil
		return ""
	}
	s := string(r.in[:n])
	r.in = r.in[n:]
	return s
}

func (r *fitReader) int() int {
	x, n := binary.Uvarint(r.in)
	if n <= 0 || x > 1<<40 {
		r.bad = true
		r.in = nil
		return 0
	}
	r.in = r.in[n:]
	return int(x)
}

// count is the length of a list whose items take so many bytes at least.
func (r *fitReader) count(least int) int {
	n := r.int()
	if n > len(r.in)/least {
		r.bad = true
		return 0
	}
	return n
}

func (r *fitReader) text() string {
	i := r.int()
	switch {
	case i == 0:
		s := r.raw(r.int())
		r.told = append(r.told, s)
		return s
	case i > len(r.told):
		r.bad = true
		return ""
	}
	return r.told[i-1]
}

func (r *fitReader) bool() bool { return r.raw(1) == "\x01" }

func (r *fitReader) word() uint64 {
	if len(r.in) < 8 {
		r.raw(8)
		return 0
	}
	x := binary.LittleEndian.Uint64(r.in)
	r.in = r.in[8:]
	return x
}

func (r *fitReader) print() fingerprint.Hash { return fingerprint.Hash{r.word(), r.word()} }

func (r *fitReader) float() float64 {
	x := math.Float64frombits(r.word())
	if !isNumber(x) {
		r.bad = true
		return 0
	}
	return x
}

func isNumber(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func (r *fitReader) floats(xs ...*float64) {
	for _, x := range xs {
		*x = r.float()
	}
}

func (r *fitReader) time() time.Time {
	seconds, nanos, offset := r.word(), r.int(), r.int()-1<<17
	zone := time.UTC
	if offset != 0 {
		zone = time.FixedZone("", offset)
	}
	return time.Unix(int64(seconds), int64(nanos)).In(zone)
}

// More and less than any reading of a record can be, which has 12 digits and six places: what is made of much larger
// and much smaller ones is no number.
const (
	mostFigure  = 1e18
	leastFigure = 1e-9
)

func figure(x float64) bool { return x == 0 || x >= leastFigure && x <= mostFigure }

func (r *fitReader) note() *summary {
	n := &summary{id: vitals.ID(r.text()), at: r.time(), reason: r.text(), finished: r.bool(), findings: r.int(), hash: r.print(), age: r.float(), by: r.text()}
	for range r.count(8) {
		t := measured{place: place{vitals.SignID(r.text()), vitals.SiteID(r.text())}, when: r.time()}
		t.day, t.hour = day(t.when), hour(t.when)
		r.floats(&t.age, &t.value, &t.sd)
		if !figure(math.Abs(t.value)) || !figure(t.sd) {
			r.bad = true
		}
		if t.from = vitals.SiteID(r.text()); r.bool() {
			t.reading = &vitals.Reading{Unit: vitals.Unit(r.text()), Device: vitals.Device(r.text()), Label: r.text()}
		}
		n.readings = append(n.readings, t)
	}
	for range r.count(4) {
		g := graded{place: place{vitals.SignID(r.text()), vitals.SiteID(r.text())}}
		g.Rank = r.int()
		for range r.count(1) {
			g.Chosen = append(g.Chosen, vitals.GradeID(r.text()))
		}
		n.answers = append(n.answers, g)
	}
	return n
}

func (r *fitReader) snapshot(rhythm bool) (s level.Snapshot) {
	s.Rhythm = rhythm
	for range r.count(65) {
		p := level.GridPoint{Index: r.int(), Weight: r.float()}
		for i := range p.State {
			p.State[i] = r.float()
		}
		for i := 0; rhythm && i < len(p.Harmonic); i++ {
			p.Harmonic[i] = r.float()
		}
		s.Points = append(s.Points, p)
	}
	s.LogEvidence, s.Since, s.Stride = r.float(), r.int(), r.int()
	for range r.count(8) {
		s.BadDays = append(s.BadDays, r.float())
	}
	return s
}

func (r *fitReader) slope() (s level.Slope) {
	s.PerDay = r.float()
	// Of too few readings there is no slope, and its SD is infinite.
	if s.SD = math.Float64frombits(r.word()); !(s.SD >= 0) {
		r.bad = true
	}
	r.floats(&s.P, &s.Days, &s.From, &s.To)
	s.N = r.int()
	return s
}

func (r *fitReader) question() *Question {
	if !r.bool() {
		return nil
	}
	q := &Question{From: r.time(), Days: r.int(), Readings: r.int(), Side: Statement(r.text())}
	r.floats(&q.Low, &q.High, &q.Before.Low, &q.Before.Mid, &q.Before.High)
	return q
}
