package api

import (
	"slices"
	"time"

	"whorl.example/baseline/recovery"
	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// recoveryRequest asks for what came after a bout of work: the one with the exam Of, or
// the last one.
type recoveryRequest struct {
	historyRequest
	Of vitals.ID `json:"of,omitempty"`
}

// recovering is one recovery as data, as it is said and drawn, and the earlier ones.
// Without any recovery of the horse it has no member but earlier.
type recovering struct {
	Recovery *recovery.Recovery `json:"recovery,omitempty"`
	Said     *recoverySaid      `json:"said,omitempty"`
	Curve    schema.Document    `json:"curve,omitempty"`
	Earlier  []recovered        `json:"earlier"`
}

// recoverySaid are the sentences of a recovery. Criteria are by limit, as each text states
// its own; Note says what they are not.
type recoverySaid struct {
	Own        []string    `json:"own"`
	Limits     []limitSaid `json:"limits"`
	Note       string      `json:"note"`
	Trots      []string    `json:"trots"`
	Inversions []string    `json:"inversions"`
	Why        []string    `json:"why"`
}

// limitSaid is when the rate came down to a limit, and each criterion that has it.
type limitSaid struct {
	AtMost   float64  `json:"atMost"`
	Reached  []string `json:"reached"`
	Criteria []string `json:"criteria"`
}

// recovered is an earlier recovery: when the rate came down to 64 a minute.
type recovered struct {
	Ended   time.Time        `json:"ended"`
	Effort  vitals.Effort    `json:"effort,omitempty"`
	Reached recovery.Reached `json:"reached"`
	Said    []string         `json:"said"`
}

func recoveries(q recoveryRequest) (any, error) {
	all := recovery.Find(q.Horse.ID, q.Exams)
	at := len(all) - 1
	if q.Of != "" {
		at = slices.IndexFunc(all, func(r recovery.Recovery) bool { return slices.Contains(r.Exams, q.Of) })
		if at < 0 {
			return nil, vitals.Faults{fault(NoSuchExam, "/of")}
		}
	}
	out := recovering{Earlier: []recovered{}}
	if at < 0 {
		return out, nil
	}
	r := all[at]
	out.Recovery, out.Said, out.Curve = &r, sayRecovery(r, q.in()), schema.Document(report.Curve(r, q.in()))
	for _, e := range all[:at] {
		reached := recovery.TimeTo(64, e.Heart)
		out.Earlier = append(out.Earlier, recovered{e.Ended, e.Effort, reached, reached.Say(q.in(), 64)})
	}
	return out, nil
}

func sayRecovery(r recovery.Recovery, lang words.Lang) *recoverySaid {
	said := &recoverySaid{Own: []string{}, Limits: []limitSaid{}, Note: words.Say(lang, "recovery.inspection"), Trots: []string{}, Inversions: []string{}, Why: r.Why(lang)}
	for _, o := range r.Own {
		said.Own = append(said.Own, o.Say(lang))
	}
	if len(said.Own) > 0 {
		said.Own = append(said.Own, words.Say(lang, "recovery.own.basis"))
	}
	for _, a := range r.Criteria {
		i := slices.IndexFunc(said.Limits, func(l limitSaid) bool { return l.AtMost == a.Criterion.AtMost })
		if i < 0 {
			i = len(said.Limits)
			said.Limits = append(said.Limits, limitSaid{AtMost: a.Criterion.AtMost, Reached: a.Reached.Say(lang, a.Criterion.AtMost)})
		}
		if a.Reached.State != recovery.NoCount {
			said.Limits[i].Criteria = append(said.Limits[i].Criteria, a.Say(lang))
		}
	}
	for _, t := range r.Trots {
		said.Trots = append(said.Trots, t.Say(lang)...)
	}
	for _, in := range r.Inversions {
		said.Inversions = append(said.Inversions, in.Say(lang))
	}
	return said
}
