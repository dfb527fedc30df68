package baseline

import (
	"slices"
	"time"

	"whorl.example/baseline/internal/fingerprint"
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
