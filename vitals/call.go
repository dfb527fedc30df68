package vitals

import (
	"cmp"
	"slices"
	"strings"
	"time"
)

// Call remembers that a reason to call now was shown, until a person says what became of it.
type Call struct {
	// SaidAt is when it was first shown.
	SaidAt time.Time `json:"saidAt"`
	// Alarms are the rules that gave it, as far as they have been shown.
	Alarms []AlarmID `json:"alarms,omitempty"`
	// ToldAt is when a person said that the veterinarian was told, and Told is who it was.
	ToldAt time.Time `json:"toldAt,omitzero"`
	Told   string    `json:"told,omitempty"`
	// ClosedAt is when a person said what became of it, and Outcome says that.
	ClosedAt time.Time `json:"closedAt,omitzero"`
	Outcome  string    `json:"outcome,omitempty"`
}

// MergeCall puts together what two devices remember of one call: the earliest moment at which it was
// said, every rule that gave it, in order and each once, and the earliest telling and the earliest end with
// what belongs to each. nil is no call. The order of merging changes nothing; neither a nor b is changed.
func MergeCall(a, b *Call) *Call {
	switch {
	case a == nil && b == nil:
		return nil
	case a == nil:
		a = b
	case b == nil:
		b = a
	}
	out := *a
	if earlier(b.SaidAt, "", a.SaidAt, "") {
		out.SaidAt = b.SaidAt
	}
	if earlier(b.ToldAt, b.Told, a.ToldAt, a.Told) {
		out.ToldAt, out.Told = b.ToldAt, b.Told
	}
	if earlier(b.ClosedAt, b.Outcome, a.ClosedAt, a.Outcome) {
		out.ClosedAt, out.Outcome = b.ClosedAt, b.Outcome
	}
	out.Alarms = nil
	for _, list := range [][]AlarmID{a.Alarms, b.Alarms} {
		for _, id := range list {
			if i, known := slices.BinarySearch(out.Alarms, id); !known {
				out.Alarms = slices.Insert(out.Alarms, i, id)
			}
		}
	}
	// The first of the list are the same whatever was merged first.
	out.Alarms = out.Alarms[:min(len(out.Alarms), MaxCallAlarms)]
	return &out
}

// earlier reports whether the first of two moments counts: the earlier one, and one that is told
// before one that is not. Of the same moment the text decides, then the offset of the clock.
func earlier(a time.Time, textA string, b time.Time, textB string) bool {
	if a.IsZero() || b.IsZero() {
		return !a.IsZero() || b.IsZero() && textA < textB
	}
	_, offsetA := a.Zone()
	_, offsetB := b.Zone()
	return cmp.Or(a.Compare(b), strings.Compare(textA, textB), cmp.Compare(offsetA, offsetB)) < 0
}
