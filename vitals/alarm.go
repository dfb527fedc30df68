package vitals

import (
	"math"
	"slices"
	"sync"
)

// againExcited is after how many minutes an excited horse is counted again (assumed: the rules of
// endurance rides say to begin again when it has settled, without a figure).
const againExcited = 10

// FiredAlarms gives the rules that fire in an exam of a horse, in the order of [Alarms]. It needs no
// history and no right date: where the birth is not known, or is after the exam, the rules for
// adults hold, and those on what a foal does as well. A sign without a value never fires. A less
// urgent rule of a sign is left out where a more urgent one of the same sign fired.
//
// Signs of belly pain, which some rules need beside them: any answer of [PainSigns] but "none",
// "lies more" and "leaves its feed"; thrashing; watching the flank; rolling or pawing, unless
// in an exam of a quiet day or a routine check only one of the two was seen, each of these was answered: usual for the hour
// and place, feed and droppings usual, coat without sweat; and nothing else is unusual, no number raised, and no story told.
//
// A rule that says to check again is its Then in a recheck, since it has been checked again.
func FiredAlarms(h Horse, e Exam) []Fired {
	var room [64]int8
	var v view
	v.look(h, &e, room[:0])
	v.other = v.fire(nil, false)
	// What asks for other rules sees those before it, never one of its own kind.
	fired := v.fire(slices.Clip(v.other), true)
	if len(fired) == 0 {
		return nil
	}
	excited := v.holds(Unquiet, "") && !v.holds(MedicineGiven, "") && excitement(fired)
	for i := range fired {
		f := &fired[i]
		if excited && alarms[alarmIndex()[f.Alarm]].Calm && f.Urgency != CheckAgain {
			f.Urgency, f.Minutes, f.Then = CheckAgain, againExcited, f.Urgency
		}
		if v.harms(f.First) {
			f.First = ""
		}
		if f.Urgency == CheckAgain && v.holds(Rechecked, "") {
			f.Urgency, f.Minutes, f.Then = f.Then, 0, ""
		}
	}
	return order(fired)
}

// harms reports whether what is done before a call would harm this animal: cold water, unless a high temperature was taken, on one that
// bleeds, is white or stands in the cold, or whose temperature was taken and is no fever. Water is not taken from a feverish animal that
// swallows.
func (v *view) harms(act ActID) bool {
	switch act {
	case ActCool:
		if v.passes(hot, "") {
			return false
		}
		cool := v.taken(RectalTemperature) && !v.passes(feverish, "")
		return cool || v.holds(ColdDay, "") || v.shows(Wounds, "heavy") || v.shows(GumColour, "white")
	case ActFeedWaterAway:
		return v.passes(feverish, "") && !v.shows(Swallowing, "feed-at-nose", "gulps", "cannot")
	}
	return false
}

var (
	hot      = testOf("rectal-temperature >= 39.4 Cel") // the lowest limit of the rules on heat that cool
	feverish = testOf("rectal-temperature >= 38.6 Cel")
)

// excitement reports whether all that fired may come of excitement: a fast heart and breath, or a fever without them, and
// nothing else but what may wait for hours.
func excitement(fired []Fired) bool {
	rates, warm := false, false
	for i := range fired {
		f := &fired[i]
		rates, warm = rates || f.rate(), warm || f.Sign == RectalTemperature && f.Urgency == RingNow
		if !alarms[alarmIndex()[f.Alarm]].Calm && (f.Urgency != CheckAgain || !f.rate() && f.counts()) {
			return false
		}
	}
	return !rates || !warm
}

// order puts rules into the order of the list and leaves out the softer of one sign.
func order(fired []Fired) []Fired {
	index := alarmIndex()
	slices.SortStableFunc(fired, func(a, b Fired) int { return index[a.Alarm] - index[b.Alarm] })
	out := make([]Fired, 0, len(fired))
	for _, f := range fired {
		softer := slices.ContainsFunc(fired, func(o Fired) bool {
			return o.Sign == f.Sign && (o.Urgency.Over(f.Urgency) || o.Urgency == f.Urgency && o.Then.Over(f.Then))
		})
		if !softer {
			out = append(out, f)
		}
	}
	return out
}

// ready works out a test's threshold in its sign's unit.
func (t Test) ready() Test {
	at, known := catalogueIndex[t.Sign]
	if !known {
		return t
	}
	t.at = int8(at + 1)
	limit := t.Above
	if t.Below.Valid {
		limit = t.Below
	}
	if limit.Valid {
		unit := catalogue[at].Unit
		from := t.Unit
		if from == "" {
			from = unit
		}
		t.limit = inUnit(limit.Decimal, from, unit)
		t.shown = math.Round(t.limit*10) / 10
	}
	return t
}

var alarmIndex = sync.OnceValue(func() map[AlarmID]int {
	m := make(map[AlarmID]int, len(alarms))
	for i := range alarms {
		m[alarms[i].ID] = i
	}
	return m
})

// alarmFact is what a rule's entry says, worked out once.
type alarmFact struct {
	sign int8 // in the catalogue; -1: none
	// The group, as bits of Types and Stages.
	types, stages uint32
	// last: the rule asks what other rules say.
	last bool
	// seen: the rule is on answers that are seen, none of them a usual one.
	seen bool
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

// unusual reports whether a test is on answers of which none is a usual one.
func (t *Test) unusual() bool {
	return len(t.Grades) > 0 && !slices.ContainsFunc(t.Grades, func(id GradeID) bool {
		g, _ := catalogue[t.at-1].Grade(id)
		return g.Rank == 0
	})
}

var alarmFacts = sync.OnceValue(func() []alarmFact {
	facts := make([]alarmFact, len(alarms))
	for i := range alarms {
		a := &alarms[i]
		facts[i] = alarmFact{-1, bitsOf(allTypes, a.Types), bitsOf(allStages, a.Stages), false, a.unusual()}
		if at, ok := catalogueIndex[a.Sign]; ok {
			facts[i].sign = int8(at)
		}
		for _, t := range slices.Concat(a.With, a.Unless, a.Any) {
			facts[i].last = facts[i].last || t.Fact == OtherRule || t.Fact == NowRule || rulesAsked(t.Fact) > 0
		}
	}
	return facts
})

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

// fire runs the rules: those that ask what other rules say, or the others.
func (v *view) fire(fired []Fired, last bool) []Fired {
	ofType, ofStage := bitOf(allTypes, v.horse.Type), bitOf(allStages, v.stage)
	for i, fact := range alarmFacts() {
		if fact.last != last || fact.types&ofType == 0 {
			continue
		}
		if fact.sign >= 0 && !v.manyFindings && (v.first[fact.sign] == 0 || fact.seen && !v.unusual[fact.sign]) {
			continue
		}
		if fact.stages&ofStage == 0 && (v.dated || !fact.seen || fact.stages&bitOf(allStages, Neonate) == 0) {
			continue
		}
		a := &alarms[i]
		if f, yes := v.fires(a); yes {
			f.Alarm, f.Urgency, f.Minutes, f.Then = a.ID, a.Urgency, a.Minutes, a.Then
			f.Problem, f.First, f.Provenance = a.Problem, a.First, a.Provenance
			fired = append(fired, f)
		}
	}
	return fired
}

// fires reports whether a rule fires, and at which signs and sites.
func (v *view) fires(a *Alarm) (f Fired, yes bool) {
	v.late = 0
	if a.Sign != "" {
		if f.Sites, yes = v.found(&a.Test); !yes {
			return f, false
		}
		f.Sign = a.Sign
	}
	for i := range a.With {
		t := &a.With[i]
		if !v.passes(t, a.Sign) {
			return f, false
		}
		v.name(&f, t)
	}
	for i := range a.Unless {
		if v.passes(&a.Unless[i], a.Sign) {
			return f, false
		}
	}
	if len(a.Any) == 0 {
		return f, f.Sign != ""
	}
	n := 0
	var counted [4]SignID // a sign counts once, however many of its answers are asked for
	for i := range a.Any {
		t := &a.Any[i]
		if t.Sign != "" && slices.Contains(counted[:min(n, len(counted))], t.Sign) || !v.passes(t, a.Sign) {
			continue
		}
		if n < len(counted) {
			counted[n] = t.Sign
		}
		n++
		v.name(&f, t)
	}
	return f, n >= a.Need && f.Sign != ""
}

// name adds the signs that a test rests on: of one that asks for other rules, theirs.
func (v *view) name(f *Fired, t *Test) {
	if n := rulesAsked(t.Fact); n > 0 {
		for _, sign := range v.others(f.Sign)[:n] {
			f.with(sign)
		}
		return
	}
	f.with(v.signOf(t))
}

// with adds a sign that a rule rests on; the first is the one at which it fires.
func (f *Fired) with(sign SignID) {
	switch {
	case sign == "" || sign == f.Sign || slices.Contains(f.With, sign):
	case f.Sign == "":
		f.Sign = sign
	default:
		f.With = append(f.With, sign)
	}
}

// passes reports whether a test holds; sign is the one of the rule.
func (v *view) passes(t *Test, sign SignID) bool {
	switch {
	case t.Fact != "":
		return v.holds(t.Fact, sign)
	case t.Clock != "":
		minutes, known := v.since(t.Clock)
		if !known {
			// Work whose end nobody noted may have ended a few minutes ago.
			return t.Clock == SinceWork && v.exam.State.In(AfterWork) && t.From <= minutesUnknown
		}
		minutes += v.late
		return minutes >= t.From && (t.To == 0 || minutes < t.To)
	}
	late := v.late
	_, yes := v.found(t)
	v.late = late
	return yes
}

// found reports whether a test of a sign holds, and at which sites.
func (v *view) found(t *Test) (sites []SiteID, yes bool) {
	at := int(t.at) - 1
	if at < 0 || !v.manyFindings && v.first[at] == 0 {
		return nil, false
	}
	silent := true
	for i := range v.signs {
		if v.signs[i] != int8(at) {
			continue
		}
		f := &v.exam.Findings[i]
		if !v.beyond(t, f, at) {
			silent = silent && len(f.Chosen) == 0
			continue
		}
		if !yes {
			v.late = f.Minutes
		}
		yes = true
		if f.Site != "" && !slices.Contains(sites, f.Site) {
			sites = append(sites, f.Site)
		}
		for _, place := range f.Where {
			if (len(t.Sites) > 0 || t.AtLeast > 0) && !slices.Contains(sites, place) {
				sites = append(sites, place)
			}
		}
	}
	if !yes {
		return nil, false
	}
	if len(t.Sites) > 0 {
		sites = slices.DeleteFunc(sites, func(s SiteID) bool { return !slices.Contains(t.Sites, s) })
		yes = len(sites) >= max(1, t.AtLeast)
	} else if t.AtLeast > 0 {
		yes = len(sites) >= t.AtLeast
	}
	if t.AllSites {
		yes = silent && coversDepth(&catalogue[at], sites)
	}
	return sites, yes
}

// measured is the finding measured last, since one rule of a sign follows the other.
type measured struct {
	of *Finding
	Measure
	err error
}

// beyond reports whether one finding is beyond a test's threshold or among its grades.
func (v *view) beyond(t *Test, f *Finding, at int) bool {
	if len(t.Grades) > 0 {
		return slices.ContainsFunc(f.Chosen, func(g GradeID) bool { return slices.Contains(t.Grades, g) })
	}
	last := &v.latest
	if last.of != f {
		last.of = f
		last.Measure, last.err = f.Measure(catalogue[at])
		if n, whole := f.WholeMinute(); whole {
			last.Value = n
		}
	}
	if last.err != nil {
		return false
	}
	value, threshold := last.Value, t.limit
	if t.Unit == Fahrenheit && f.Reading != nil && f.Reading.Unit == Celsius {
		threshold = t.shown // a limit in Fahrenheit, as a thermometer in tenths of a degree Celsius shows it
	}
	// A reading in another unit comes back through a division: within a billionth it is at the threshold.
	const within = 1e-9
	if math.Abs(value-threshold) <= within*math.Max(1, math.Abs(threshold)) {
		return t.AndEqual
	}
	return value > threshold != t.Below.Valid
}

// coversDepth reports whether sites hold every site of one depth of the sign.
func coversDepth(sign *Sign, sites []SiteID) bool {
	for _, d := range allDepths {
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
