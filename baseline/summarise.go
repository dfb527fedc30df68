package baseline

import (
	"slices"
	"strings"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/grade"
	"whorl.example/vitals"
)

// summarise makes the summary of an exam that is in order. It does not change any more.
func (b *Baseline) summarise(e *vitals.Exam) *summary {
	n := &summary{
		id: e.ID, at: e.At, reason: b.exclusion(*e), finished: e.Status == vitals.Finished, findings: len(e.Findings),
		exam: e, age: ageDays(b.horse, e.At), by: strings.TrimSpace(e.By),
	}
	if n.reason != "" {
		return n
	}
	stage, _ := b.horse.StageAt(e.At)
	theDay, theHour := day(e.At), hour(e.At)
	numbers := 0
	for i := range e.Findings {
		if f := &e.Findings[i]; f.Absent == "" && len(f.Chosen) == 0 {
			numbers++
		}
	}
	chosen := make([]vitals.GradeID, 0, len(e.Findings)) // the caller's own lists may change
	n.readings, n.answers = roomFor(&b.readings, numbers), roomFor(&b.answers, len(e.Findings)-numbers)
	signs := catalogue.Signs()
	again := append(make([]bool, 0, 128), make([]bool, len(signs))...) // signs that were met
	k, ok := 0, false
	for i := range e.Findings {
		f := &e.Findings[i]
		if k, ok = catalogue.IndexFrom(signs, k, f.Sign); !ok || f.Absent != "" {
			continue
		}
		sign := &signs[k]
		if sign.Context {
			continue
		}
		at := placeOf(sign, f.Site)
		if !sign.Kind.Measured() {
			if a, ok := grade.AnswerOf(sign, f); ok {
				from := len(chosen)
				chosen = append(chosen, a.Chosen...)
				a.Chosen = slices.Clip(chosen[from:])
				n.show(graded{at, a}, again[k])
				again[k] = true
			}
			continue
		}
		m, err := f.MeasureFor(*sign, b.horse.Type, stage)
		if err != nil {
			continue
		}
		t := measured{place: at, when: e.At, day: theDay, hour: theHour, age: n.age, value: m.Value, sd: m.SD, from: f.Site}
		if f.Reading != nil {
			reading := *f.Reading
			t.reading = &reading
		}
		if f.Minutes != 0 {
			t.when = e.At.Add(time.Duration(f.Minutes) * time.Minute)
			t.day, t.hour, t.age = day(t.when), hour(t.when), ageDays(b.horse, t.when)
		}
		n.take(t, again[k])
		again[k] = true
	}
	return n
}

// roomFor gives room for n from a larger piece of memory, the pieces growing with what was asked for.
func roomFor[T any](room *[]T, n int) []T {
	if cap(*room)-len(*room) < n {
		*room = make([]T, 0, max(n, min(2*cap(*room), 16*n)))
	}
	from := len(*room)
	*room = (*room)[:from+n]
	return (*room)[from : from : from+n]
}

// take keeps the most precise reading of a sign: two counts within minutes are not two days.
func (n *summary) take(t measured, again bool) {
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

func (n *summary) show(s graded, again bool) {
	for i := 0; again && i < len(n.answers); i++ {
		if old := &n.answers[i]; old.place == s.place {
			if s.Rank > old.Rank {
				*old = s
			}
			return
		}
	}
	n.answers = append(n.answers, s)
}
