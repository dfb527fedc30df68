package baseline

import (
	"encoding/binary"
	"math"
	"time"

	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

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
