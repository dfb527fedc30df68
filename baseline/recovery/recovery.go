// Package recovery reads the time after work: the course of heart rate and breathing, the published criteria, differences
// after a trot in hand, and the horse's own earlier recoveries. [Find] finds the bouts of work among exams.
package recovery

import (
	"cmp"
	"math"
	"slices"
	"time"

	"whorl.example/baseline/internal/normal"
	"whorl.example/baseline/internal/stable"
	"whorl.example/vitals"
)

// boutsApart parts two bouts of work: exams whose work ended farther apart belong to
// different ones. Assumed: the end of work is entered in whole minutes, at each exam anew.
const boutsApart = 15 * time.Minute

// Recovery is the course after one bout of work, from the exams marked "after work".
type Recovery struct {
	Horse vitals.ID `json:"horse"`
	// Ended is when the work ended, by the exam nearest to it.
	Ended  time.Time     `json:"ended"`
	Effort vitals.Effort `json:"effort,omitempty"`
	Exams  []vitals.ID   `json:"exams"`
	// Heart and Breath are the rates, by time.
	Heart  []RecoveryPoint `json:"heart,omitempty"`
	Breath []RecoveryPoint `json:"breath,omitempty"`
	// Criteria answers every published criterion, in the order of [Criteria].
	Criteria []CriterionAnswer `json:"criteria,omitempty"`
	// Trots are the differences after trots in hand. Their second counts are not part of Heart.
	Trots []TrotAnswer `json:"trots,omitempty"`
	// Inversions are the moments at which it breathed faster than its heart beat.
	Inversions []Inversion `json:"inversions,omitempty"`
	// Own compares with the horse's own earlier recoveries.
	Own []RecoveryCompared `json:"own,omitempty"`
}

// Inversion is a moment at which the horse breathed faster than its heart beat. Sources
// disagree on what it means: some rides pulled a horse for it, others dropped the rule for
// hot, humid places, where fit horses pant. It is an observation, not an alarm.
type Inversion struct {
	Minutes float64       `json:"minutes"`
	Breath  RecoveryPoint `json:"breath"`
	Heart   RecoveryPoint `json:"heart"`
	// Chance that it truly was so, given the counting.
	Chance float64 `json:"chance"`
	vitals.Provenance
}

// Find finds the bouts of work in the exams of one horse and what came after each,
// oldest first; exams of other horses, drafts and exams in another state are left out.
// Each bout is compared with the earlier ones of the same effort. The order of the exams
// does not matter.
func Find(horse vitals.ID, exams []vitals.Exam) []Recovery {
	var mine []vitals.Exam
	for _, e := range exams {
		if e.Horse == horse && e.Status != vitals.Draft && e.State.In(vitals.AfterWork) && !e.At.IsZero() {
			mine = append(mine, e)
		}
	}
	stable.Sort(mine, func(a, b vitals.Exam) int {
		return cmp.Or(workEnd(a).Compare(workEnd(b)), a.At.Compare(b.At), cmp.Compare(a.ID, b.ID))
	})
	var out []Recovery
	curves := map[vitals.Effort][]curve{}
	for i := 0; i < len(mine); {
		j := i + 1
		for j < len(mine) && workEnd(mine[j]).Sub(workEnd(mine[j-1])) <= boutsApart {
			j++
		}
		r := fromBout(mine[i:j])
		c := newCurve(r.Heart)
		for _, q := range allQuantities {
			if own, ok := compareWithOwn(q, c, curves[r.Effort]); ok {
				r.Own = append(r.Own, own)
			}
		}
		curves[r.Effort] = append(curves[r.Effort], c)
		out, i = append(out, r), j
	}
	return out
}

func workEnd(e vitals.Exam) time.Time {
	if !e.State.Ended.IsZero() {
		return e.State.Ended
	}
	return e.At.Add(-time.Duration(e.State.SinceMinutes) * time.Minute)
}

// fromBout reads one bout. Minutes are differences of the clock from the one end of
// work, so that the rounding of "minutes since" enters once.
func fromBout(bout []vitals.Exam) Recovery {
	nearest := slices.MinFunc(bout, func(a, b vitals.Exam) int {
		// A clock that was pressed knows better than minutes that were estimated.
		return cmp.Or(cmp.Compare(pressed(b), pressed(a)), cmp.Compare(a.State.SinceMinutes, b.State.SinceMinutes), a.At.Compare(b.At), cmp.Compare(a.ID, b.ID))
	})
	r := Recovery{Horse: nearest.Horse, Ended: workEnd(nearest)}
	byTime := slices.Clone(bout)
	stable.Sort(byTime, func(a, b vitals.Exam) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID))
	})
	for _, e := range byTime {
		r.Exams = append(r.Exams, e.ID)
		if r.Effort == "" {
			r.Effort = e.State.Effort
		}
		for _, f := range e.Findings {
			sign, known := vitals.Lookup(f.Sign)
			if !known || f.Absent != "" || f.Sign != vitals.HeartRate && f.Sign != vitals.RespiratoryRate {
				continue
			}
			m, err := f.Measure(sign)
			if err != nil || !isRate(m) {
				continue
			}
			if f.Sign == vitals.HeartRate && e.Trot != nil {
				r.trot(*e.Trot, m, byTime)
				continue
			}
			p := RecoveryPoint{max(0, e.At.Add(time.Duration(f.Minutes)*time.Minute).Sub(r.Ended).Minutes()), m.Value, m.SD}
			switch f.Sign {
			case vitals.HeartRate:
				r.Heart = append(r.Heart, p)
			case vitals.RespiratoryRate:
				r.Breath = append(r.Breath, p)
			}
		}
	}
	stable.Sort(r.Heart, comparePoints)
	stable.Sort(r.Breath, comparePoints)
	r.Criteria = answerCriteria(newCurve(r.Heart))
	r.Inversions = inversions(r.Heart, r.Breath)
	return r
}

// pressed is 1 where the end of work was pressed on a clock.
func pressed(e vitals.Exam) int {
	if e.State.Ended.IsZero() {
		return 0
	}
	return 1
}

// trot adds the difference after a trot in hand, if the count before it is in the bout.
func (r *Recovery) trot(t vitals.Trot, after vitals.Measure, bout []vitals.Exam) {
	sign, _ := vitals.Lookup(vitals.HeartRate)
	for _, e := range bout {
		if e.ID != t.Before {
			continue
		}
		for _, f := range e.Findings {
			if f.Sign != sign.ID || f.Absent != "" {
				continue
			}
			before, err := f.Measure(sign)
			if err != nil {
				continue
			}
			out := TrotOut{HR0: before, HR1: after, OutMetres: t.OutMetres.InexactFloat64(), Clock: t.Clock, Seconds: t.Seconds}
			if a, ok := out.Answer(); ok {
				r.Trots = append(r.Trots, a)
			}
			return
		}
	}
}

func comparePoints(a, b RecoveryPoint) int {
	return cmp.Or(cmp.Compare(a.Minutes, b.Minutes), cmp.Compare(a.Rate, b.Rate), cmp.Compare(a.SD, b.SD))
}

// inversions pairs each breath count with the heart's course at that moment; the heart's
// count may be up to five minutes away at the ends (assumed).
func inversions(heart, breath []RecoveryPoint) []Inversion {
	const reach = 5
	var out []Inversion
	for _, b := range breath {
		var near RecoveryPoint
		best := math.Inf(1)
		for _, h := range heart {
			if d := math.Abs(h.Minutes - b.Minutes); d < best {
				near, best = h, d
			}
		}
		if best > reach || b.Rate <= near.Rate {
			continue
		}
		in := Inversion{Minutes: b.Minutes, Breath: b, Heart: near, Chance: 1,
			Provenance: vitals.Provenance{Source: srcRides, Mark: vitals.Read, Note: "opinion, not a standard; sources disagree"}}
		if sd := math.Hypot(b.SD, near.SD); sd > 0 {
			in.Chance = normal.Upper((near.Rate - b.Rate) / sd)
		}
		out = append(out, in)
	}
	return out
}
