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
	var room [64]int8
	signs := signsOf(e, room[:0])
	// Where a sign is found first and last; two that share a place here are looked for in vain.
	var ends [64]struct{ from, to uint8 }
	short := len(signs) < 256
	for i, at := range signs {
		end := &ends[uint8(at)%64]
		if end.to == 0 {
			end.from = uint8(i)
		}
		end.to = uint8(i + 1)
	}
	ofType, ofStage := bitOf(Types, h.Type), bitOf(Stages, stage)
	var latest measured
	for i, fact := range alarmFacts() {
		end := ends[uint8(fact.sign)%64]
		if fact.types&ofType == 0 || fact.stages&ofStage == 0 || fact.atRest && working || short && end.to == 0 {
			continue
		}
		from, to := 0, len(signs)
		if short {
			from, to = int(end.from), int(end.to)
		}
		a := &alarms[i]
		if sites, yes := a.fires(&fact, e.Findings[from:to], signs[from:to], &latest); yes && (!a.WithPain || inPain(e)) {
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
	sign   int8 // in the catalogue
	atRest bool
	limit  float64 // Above or Below in the sign's unit
	// The group, as bits of Types and Stages.
	types, stages uint32
}

// bitOf is the bit of one of a list; of one that is not among them the last.
func bitOf[T comparable](list []T, x T) uint32 {
	for i := range list {
		if list[i] == x {
			return 1 << i
		}
	}
	return 1 << 31
}

// bitsOf are the bits of a group; without any they are all.
func bitsOf[T comparable](list, group []T) (bits uint32) {
	for _, x := range group {
		bits |= bitOf(list, x)
	}
	if bits == 0 {
		return 1<<32 - 1
	}
	return bits
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
	return alarmFact{int8(i), a.AtRest, inUnit(limit, unit, catalogue[i].Unit), bitsOf(Types, a.Types), bitsOf(Stages, a.Stages)}
}

// signsOf gives the place of each finding's sign in the catalogue; -1: not there, or no value.
func signsOf(e Exam, room []int8) []int8 {
	at, known := 0, false
	for i := range e.Findings {
		f := &e.Findings[i]
		if at, known = signFrom(at, f.Sign); known && f.Absent == "" {
			room = append(room, int8(at))
		} else {
			room = append(room, -1)
		}
	}
	return room
}

// measured is the finding measured last, since one alarm of a sign follows the other.
type measured struct {
	of *Finding
	Measure
	err error
}

// fires reports whether an alarm's sign is beyond it in an exam, and at which sites.
func (a *Alarm) fires(fact *alarmFact, findings []Finding, signs []int8, last *measured) (sites []SiteID, yes bool) {
	silent := true
	for i, at := range signs {
		if at != fact.sign {
			continue
		}
		f := &findings[i]
		if a.beyond(fact, f, last) {
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
func (a *Alarm) beyond(fact *alarmFact, f *Finding, last *measured) bool {
	if len(a.Grades) > 0 {
		return slices.ContainsFunc(f.Chosen, func(g GradeID) bool { return slices.Contains(a.Grades, g) })
	}
	if last.of != f {
		last.of = f
		last.Measure, last.err = f.Measure(catalogue[fact.sign])
	}
	if last.err != nil {
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
		return side(last.Value, fact.limit)
	case a.Below.Valid:
		return side(-last.Value, -fact.limit)
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
