package baseline

import (
	"slices"
	"time"

	"whorl.example/baseline/internal/grade"
	"whorl.example/vitals"
)

// Past is one finding of the record, beside what was usual of its sign before it.
type Past struct {
	Exam vitals.Exam
	// At is when it was found: the exam's time and the finding's minutes.
	At      time.Time
	Finding vitals.Finding
	// Compared is the finding beside the exams before its own; of a measured sign it has the
	// measure and the interval of readings taken in that way.
	Compared Compared
	// Usual is the interval before the exam, for the most precise common way of measuring, so
	// that the intervals of a record can be set side by side; nil where nothing says what is usual.
	Usual *Interval
	// Reason is why the exam did not teach what is usual, a key of the words; empty if it did.
	Reason string
}

// Past gives what the record holds of a sign, oldest first, each beside the exams before it;
// site matters only for a sign with a normal for each site. Only finished exams count, and
// of more than most of them the latest; most is 1 or more. A finding that gives no number is left out.
// It costs two fits an exam.
func (b *Baseline) Past(id vitals.SignID, site vitals.SiteID, most int) []Past {
	out := b.past(id, site, most, func(e vitals.Exam, f vitals.Finding) (Compared, bool) {
		e.Findings = []vitals.Finding{f}
		c, err := b.Compare(e)
		if err != nil || len(c.Signs) != 1 {
			return Compared{}, false
		}
		return c.Signs[0], true
	})
	for i := range out {
		if n, ok := b.Normal(id, site, out[i].Exam.At); ok {
			out[i].Usual = &n.Own
		}
	}
	return out
}

// Latest is Past without what was usual before each finding: Compared holds the measure or the answers alone, and Usual
// is nil. It costs no fit.
func (b *Baseline) Latest(id vitals.SignID, site vitals.SiteID, most int) []Past {
	return b.past(id, site, most, func(e vitals.Exam, f vitals.Finding) (Compared, bool) {
		c := Compared{Sign: f.Sign, Site: f.Site, Chosen: f.Chosen, Where: f.Where, Statement: Noted}
		sign, _ := vitals.Lookup(id)
		if !sign.Kind.Measured() {
			return c, true
		}
		stage, _ := b.horse.StageAt(e.At)
		m, err := f.MeasureFor(sign, b.horse.Type, stage)
		c.Measure = &m
		return c, err == nil
	})
}

// past walks over the findings of a sign, the latest first, and gives at most so many of them in order of time; read is false
// for an entry that gives no number.
func (b *Baseline) past(id vitals.SignID, site vitals.SiteID, most int, read func(vitals.Exam, vitals.Finding) (Compared, bool)) []Past {
	sign, ok := vitals.Lookup(id)
	if !ok {
		return nil
	}
	var out []Past
	for _, exam := range slices.Backward(b.exams) {
		e := *exam
		if e.Status != vitals.Finished {
			continue
		}
		for _, f := range slices.Backward(e.Findings) {
			if f.Sign != id || f.Absent != "" || sign.PerSite && f.Site != site {
				continue
			}
			if len(out) >= max(1, most) {
				slices.Reverse(out)
				return out
			}
			if c, ok := read(e, f); ok {
				out = append(out, Past{Exam: e, At: e.At.Add(time.Duration(f.Minutes) * time.Minute), Finding: f, Compared: c, Reason: b.exclusion(e)})
			}
		}
	}
	slices.Reverse(out)
	return out
}

// UsualAnswer gives what a horse shows most often of a graded sign in the exams before a time, on how many of them, and
// how many there are. There is none for a sign whose answers have no order, and for one of which no exam teaches.
func (b *Baseline) UsualAnswer(id vitals.SignID, site vitals.SiteID, at time.Time) (answers []vitals.GradeID, seen, exams int) {
	sign, ok := vitals.Lookup(id)
	if !ok || sign.Kind.Measured() || !grade.Ranked(sign) || sign.Context {
		return nil, 0, 0
	}
	taught, _ := b.trainingAt(at, "")
	known := taught.grades(sign, site)
	return slices.Clone(known.usual), known.seen, len(known.own)
}
