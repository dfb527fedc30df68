package baseline

import (
	"cmp"
	"slices"
	"strings"
	"sync"
	"time"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/baseline/internal/grade"
	"whorl.example/vitals"
)

// summary is what is worked out of an exam once, when it is taken in: whether it teaches by itself,
// and all that it would teach. What is usual is worked out from the summaries alone. They do not change.
type summary struct {
	id       vitals.ID
	at       time.Time
	reason   string // why it teaches nothing by itself, or ""
	finished bool
	findings int
	hashed   sync.Once        // print holds
	hash     fingerprint.Hash // of what the exam says
	exam     *vitals.Exam     // until then
	age      float64          // of the animal then, in days, as ageDays
	by       string           // who examined
	readings []measured
	answers  []graded
}

// measured is the most precise reading of a measured sign in an exam (at one site, of a sign
// that has a normal for each).
type measured struct {
	place
	when      time.Time
	day, hour float64 // of it
	age       float64
	value, sd float64 // in the sign's unit
	from      vitals.SiteID
	reading   *vitals.Reading // nil where no instrument was read
}

func (t *measured) way() way {
	w := way{site: t.from}
	if r := t.reading; r != nil {
		w.read, w.unit, w.device, w.label = true, r.Unit, r.Device, r.Label
	}
	return w
}

// graded is the answer of a graded sign in an exam that is farthest from usual.
type graded struct {
	place
	grade.Answer
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

// fingerprint is worked out when it is first asked for: hardly ever, since few exams are of one moment or one ID.
func (n *summary) fingerprint() fingerprint.Hash {
	n.hashed.Do(func() {
		if n.exam != nil {
			n.hash, n.exam = fingerprint.Exam(n.exam), nil
		}
	})
	return n.hash
}

// shows reports whether the exam has a value of a sign.
func (n *summary) shows(sign vitals.SignID) bool {
	return slices.ContainsFunc(n.readings, func(t measured) bool { return t.sign == sign }) ||
		slices.ContainsFunc(n.answers, func(g graded) bool { return g.sign == sign })
}

// inTime is the order of exams, by time and then ID.
func inTime(atA time.Time, a vitals.ID, atB time.Time, b vitals.ID) int {
	return cmp.Or(atA.Compare(atB), strings.Compare(string(a), string(b)))
}

func (n *summary) compare(o *summary) int { return inTime(n.at, n.id, o.at, o.id) }

// preferredTo reports whether n is kept when o bears the same ID. It is a total order on what
// matters here, so that two phones end with the same exam.
func (n *summary) preferredTo(o *summary) bool {
	if n.finished != o.finished {
		return n.finished
	}
	if c := cmp.Or(cmp.Compare(n.findings, o.findings), n.at.Compare(o.at)); c != 0 {
		return c > 0
	}
	return cmp.Or(n.fingerprint().Compare(o.fingerprint()), strings.Compare(n.by, o.by)) >= 0
}

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
