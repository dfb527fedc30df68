package api

import (
	"slices"

	"whorl.example/baseline"
	"whorl.example/schema/pack"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// alarmsRequest asks which rules fire in an exam by itself: without a history, and in whatever
// state the exam is, since a rule must be heard before everything is filled in. So it has no Check.
type alarmsRequest struct {
	spoken
	Horse vitals.Horse `json:"horse"`
	Exam  vitals.Exam  `json:"exam"`
	// Exams are the earlier looks of the case: what they said to call for holds where a finished recheck did not look again.
	Exams []vitals.Exam `json:"exams,omitempty"`
	// Pack is the clinic's file, whose rules fire too.
	Pack *pack.Pack `json:"pack,omitempty"`
}

// advice is one line by its id, and as it is said.
type advice struct {
	ID   string `json:"id"`
	Said string `json:"said"`
}

// alarming is what the rules say of an exam, the worst first. Said goes with Fired, one for one; it is empty for a
// rule of a clinic's own, which has no words here, and for what an earlier look saw, which is told with its time. Waits are of what is called for now or told today; First of every rule
// that fired, without the call where none is called for.
type alarming struct {
	Fired []vitals.Fired `json:"fired"`
	// Level is the most urgent; "" where no rule fired.
	Level vitals.Urgency `json:"level"`
	Said  []string       `json:"said"`
	Waits []advice       `json:"waits"`
	First []advice       `json:"first"`
}

func alarms(q alarmsRequest) (any, error) {
	fired := vitals.FiredAlarms(q.Horse, q.Exam)
	if q.Pack != nil && len(q.Pack.Check()) == 0 {
		// What cannot be compared yet has no rule of the clinic's, and still has every published one.
		if b, err := baseline.New(q.Horse); err == nil {
			if c, err := b.Compare(q.Exam); err == nil {
				c, _ = pack.Apply(*q.Pack, q.Horse, c)
				fired = c.Alarms
			}
		}
	}
	fired = vitals.WorstFirst(fired, q.Exam.Found)
	if q.Exam.Status == vitals.Finished {
		c := baseline.Comparison{Alarms: fired}
		c.Held(q.Horse, q.Exam, q.Exams)
		fired = c.Alarms
	}
	out := alarming{Fired: fired, Level: vitals.Strongest(fired), Said: []string{}, Waits: []advice{}, First: []advice{}}
	add := func(list []advice, family, id string) []advice {
		if id == "" || slices.ContainsFunc(list, func(a advice) bool { return a.ID == id }) {
			return list
		}
		return append(list, advice{id, words.Say(q.in(), family+id)})
	}
	// The lines that hold for every problem stand behind those of each.
	common := vitals.WhileWaiting(q.Horse, q.Exam.At, "")
	always := func(w vitals.Wait) bool { return slices.Contains(common, w) }
	var waits []vitals.WaitID
	var first []vitals.ActID
	for _, f := range fired {
		said := ""
		if key := "alarm." + string(f.Alarm); f.Seen.IsZero() && words.Has(q.in(), key) {
			said = words.Say(q.in(), key)
		}
		out.Said = append(out.Said, said)
		if a := string(f.First); a != "" && !slices.ContainsFunc(out.First, func(x advice) bool { return x.ID == a }) {
			first = append(first, f.First)
			out.First = append(out.First, advice{a, words.Act(q.in(), a, out.Level == vitals.RingNow)})
		}
		if f.Urgency == vitals.CheckAgain && f.First == "" { // what has an act of its own has its lines too
			continue
		}
		for _, w := range vitals.WhileWaiting(q.Horse, q.Exam.At, f.Problem) {
			if !always(w) {
				waits = append(waits, w.ID)
			}
		}
	}
	for _, id := range vitals.Compatible(waits, first) {
		out.Waits = add(out.Waits, "wait.", string(id))
	}
	if out.Level != "" && out.Level != vitals.CheckAgain {
		for _, w := range common {
			out.Waits = add(out.Waits, "wait.", string(w.ID))
		}
	}
	return out, nil
}
