package vitals

import (
	"math"
	"slices"
	"sync"
)

// settledMinutes is when a horse that worked counts as at rest for the alarms (assumed:
// pulse gates of endurance rides close 30 minutes after work, AERC rule 6.2.1.2).
const settledMinutes = 60

// FiredAlarms gives the alarms that fire in an exam of a horse, in the order of [Alarms].
// A sign without a value never fires. A softer alarm of a sign is left out where a more
// urgent one of the same sign fired.
//
// Signs of belly pain, which some alarms need beside them: any answer of [PainSigns] but
// "none"; thrashing; watching the flank; rolling or pawing unless that was said to be
// usual for the hour and the place.
func FiredAlarms(h Horse, e Exam) []Fired {
	stage, _ := h.StageAt(e.At)
	working := e.State.Condition == AfterWork && e.State.SinceMinutes < settledMinutes
	var fired []Fired
	var room [256]int32
	found := foundIn(e, room[:])
	facts := alarmFacts()
	for i := range alarms {
		a, fact := &alarms[i], &facts[i]
		if found.first[fact.sign] == 0 || a.AtRest && working || !a.Holds(h.Type, stage) {
			continue
		}
		if sites, yes := a.fires(fact, &found); yes && (!a.WithPain || inPain(e)) {
			fired = append(fired, Fired{Alarm: a.ID, Urgency: a.Urgency, Sign: a.Sign, Sites: sites, Provenance: a.Provenance})
		}
	}
	if fired == nil {
		return nil
	}
	urgent := func(s SignID) bool {
		return slices.ContainsFunc(fired, func(f Fired) bool { return f.Sign == s && f.Urgency == RingNow })
	}
	soft := func(f Fired) bool { return f.Urgency == RingSoon && urgent(f.Sign) }
	var out []Fired
	for _, f := range fired {
		if !soft(f) {
			out = append(out, f)
		}
	}
	return out
}

// alarmFact is what an alarm's entry says, worked out once.
type alarmFact struct {
	sign  int     // in the catalogue
	limit float64 // Above or Below in the sign's unit
}

var alarmFacts = sync.OnceValue(func() []alarmFact {
	facts := make([]alarmFact, len(alarms))
	for i := range alarms {
		facts[i] = alarms[i].fact()
	}
	return facts
})

func (a *Alarm) fact() alarmFact {
	i := catalogueIndex[a.Sign]
	unit := a.Unit
	if unit == "" {
		unit = catalogue[i].Unit
	}
	limit := a.Below.Decimal
	if a.Above.Valid {
		limit = a.Above.Decimal
	}
	return alarmFact{i, inUnit(limit, unit, catalogue[i].Unit)}
}

// found is the findings of an exam that have a value, by sign.
type found struct {
	all []Finding
	// first is the first finding of each sign of the catalogue, next the next of the same sign; each counted from one.
	first, next []int32
	// Measured last, since one alarm of a sign follows the other.
	at      *Finding
	measure Measure
	err     error
}

// foundIn takes memory that is zero, and more if that is not enough.
func foundIn(e Exam, room []int32) found {
	n := len(catalogue)
	if all := 2*n + len(e.Findings); all > len(room) {
		room = make([]int32, all)
	}
	all := found{all: e.Findings, first: room[:n], next: room[2*n:]}
	last := room[n : 2*n]
	at, known := 0, false
	for i := range e.Findings {
		f := &e.Findings[i]
		if at, known = signFrom(at, f.Sign); !known || f.Absent != "" {
			continue
		}
		if before := last[at]; before > 0 {
			all.next[before-1] = int32(i + 1)
		} else {
			all.first[at] = int32(i + 1)
		}
		last[at] = int32(i + 1)
	}
	return all
}

func (all *found) measured(f *Finding, sign *Sign) (Measure, error) {
	if all.at != f {
		all.at = f
		all.measure, all.err = f.Measure(*sign)
	}
	return all.measure, all.err
}

// fires reports whether an alarm's sign is beyond it in an exam, and at which sites.
func (a *Alarm) fires(fact *alarmFact, found *found) (sites []SiteID, yes bool) {
	silent := true
	for i := found.first[fact.sign]; i > 0; i = found.next[i-1] {
		f := &found.all[i-1]
		if a.beyond(fact, f, found) {
			yes = true
			if f.Site != "" && !slices.Contains(sites, f.Site) {
				sites = append(sites, f.Site)
			}
		} else if len(f.Chosen) > 0 {
			silent = false
		}
	}
	if a.AllSites {
		yes = silent && coversDepth(&catalogue[fact.sign], sites)
	}
	if !yes {
		return nil, false
	}
	return sites, true
}

// beyond reports whether one finding is beyond an alarm's threshold or among its grades.
func (a *Alarm) beyond(fact *alarmFact, f *Finding, found *found) bool {
	if len(a.Grades) > 0 {
		return slices.ContainsFunc(f.Chosen, func(g GradeID) bool { return slices.Contains(a.Grades, g) })
	}
	m, err := found.measured(f, &catalogue[fact.sign])
	if err != nil {
		return false
	}
	// A reading in another unit comes back through a division: within a billionth it is at the threshold.
	const at = 1e-9
	side := func(value, threshold float64) bool {
		if math.Abs(value-threshold) <= at*math.Max(1, math.Abs(threshold)) {
			return a.AndEqual
		}
		return value > threshold
	}
	switch {
	case a.Above.Valid:
		return side(m.Value, fact.limit)
	case a.Below.Valid:
		return side(-m.Value, -fact.limit)
	}
	return false
}

// coversDepth reports whether sites hold every site of one depth of the sign.
func coversDepth(sign *Sign, sites []SiteID) bool {
	for _, d := range Depths {
		asked := 0
		missing := false
		for _, s := range sign.Sites {
			if s.Depth == d {
				asked++
				missing = missing || !slices.Contains(sites, s.ID)
			}
		}
		if asked > 0 && !missing {
			return true
		}
	}
	return false
}

func inPain(e Exam) bool {
	usual := shows(e, DoingUsual, "usual")
	for i := range e.Findings {
		f := &e.Findings[i]
		for _, g := range f.Chosen {
			switch {
			case f.Sign == PainSigns && g != "none",
				f.Sign == Attitude && g == "down-thrashing",
				f.Sign == Doing && g == "watching-flank",
				f.Sign == Doing && (g == "rolling" || g == "pawing") && !usual:
				return true
			}
		}
	}
	return false
}

// shows reports whether an answer was chosen for a sign anywhere in an exam.
func shows(e Exam, sign SignID, g GradeID) bool {
	return slices.ContainsFunc(e.Findings, func(f Finding) bool { return f.Sign == sign && slices.Contains(f.Chosen, g) })
}
