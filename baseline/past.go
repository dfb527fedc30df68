package baseline

import (
	"slices"
	"time"

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
			alone := e
			alone.Findings = []vitals.Finding{f}
			c, err := b.Compare(alone)
			if err != nil || len(c.Signs) != 1 {
				continue // an entry that gives no number
			}
			p := Past{Exam: e, At: e.At.Add(time.Duration(f.Minutes) * time.Minute), Finding: f, Compared: c.Signs[0], Reason: b.exclusion(e)}
			if n, ok := b.Normal(id, site, e.At); ok {
				p.Usual = &n.Own
			}
			out = append(out, p)
		}
	}
	slices.Reverse(out)
	return out
}
