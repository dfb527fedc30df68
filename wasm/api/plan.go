package api

import (
	"time"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/vitals"
)

// planRequest asks how often to examine a horse on quiet days. Next: also what a quiet exam
// now, tomorrow or in a week would teach. Both take a phone seconds to work out.
type planRequest struct {
	historyRequest
	At time.Time `json:"at"`
	// WithinDays is the span of the plan, 7 to 730; 182 if not said.
	WithinDays int  `json:"withinDays,omitempty"`
	Next       bool `json:"next,omitempty"`
}

// Check gives the faults of the record, and of the time and span.
func (q *planRequest) Check() vitals.Faults {
	faults := q.historyRequest.Check()
	if q.WithinDays != 0 && (q.WithinDays < 7 || q.WithinDays > 730) {
		faults = append(faults, fault(vitals.FaultOutOfRange, "/withinDays", "low", "7", "high", "730", "unit", ""))
	}
	return faults
}

// planned is the plan and what the next exam teaches, as data and as it is said.
type planned struct {
	Plan baseline.PracticePlan `json:"plan"`
	Said []string              `json:"said"`
	Next []teaching            `json:"next,omitempty"`
	Due  baseline.Due          `json:"due"`
}

type teaching struct {
	baseline.Teaching
	Said []string `json:"said"`
}

func plan(q planRequest) (any, error) {
	if q.At.IsZero() {
		return nil, vitals.Faults{fault(schema.MissingMember, "/at", "name", "at")}
	}
	b, err := q.learned(q.Horse, q.Exams)
	if err != nil {
		return nil, err
	}
	p := b.PracticePlan(q.At, q.WithinDays)
	out := planned{Plan: p, Said: report.SayPlan(p, q.in()), Due: b.Due(q.At)}
	if q.Next {
		for _, t := range b.NextTeaches(q.At) {
			out.Next = append(out.Next, teaching{t, report.SayTeaching(t, q.in())})
		}
	}
	return out, nil
}

func (q *planRequest) history() (*vitals.Horse, *[]vitals.Exam, **past) {
	return &q.Horse, &q.Exams, &q.past
}
