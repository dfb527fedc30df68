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

// note is what is worked out of an exam once, when it is taken in: whether it teaches by itself,
// and all that it would teach. What is usual is worked out from the notes alone. They do not change.
type note struct {
	id       vitals.ID
	at       time.Time
	reason   string // why it teaches nothing by itself, or ""
	finished bool
	findings int
	told     sync.Once        // print holds
	print    fingerprint.Hash // of what the exam says
	exam     *vitals.Exam     // until then
	age      float64          // of the animal then, in days, as ageDays
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
func (n *note) fingerprint() fingerprint.Hash {
	n.told.Do(func() {
		if n.exam != nil {
			n.print, n.exam = fingerprint.Exam(n.exam), nil
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
			if s.Rank > old.Rank {
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
	return n.fingerprint().Compare(o.fingerprint()) >= 0
}
