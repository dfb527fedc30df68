package baseline

import (
	"encoding/binary"
	"math"
	"time"

	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/baseline/internal/level"
)

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
