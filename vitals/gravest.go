package vitals

import (
	"cmp"
	"slices"
)

// Grave is one step of the order in which reasons of one level are told.
type Grave struct {
	Sign SignID `json:"sign"`
	// Grades are the answers meant, From is the least reading; without either, whatever was found.
	Grades []GradeID `json:"grades,omitempty"`
	From   float64   `json:"from,omitempty"`
	Provenance
}

// gravest is that order: who cannot rise, bleeds, cannot breathe or falls goes before all else, as in first aid; then a
// birth, the circulation, pain of the belly, heat and the heart. No source prints it.
var gravest = func() []Grave {
	is := func(why string, sign SignID, grades ...GradeID) Grave {
		return Grave{sign, grades, 0, Provenance{Mark: Assumed, Note: why}}
	}
	veryHot := is("very high temperature", RectalTemperature)
	veryHot.From = 40
	return []Grave{
		is("down", Attitude, "down-not-rising", "down-thrashing"),
		is("bleeding", Wounds, "heavy"),
		is("bleeding", Nostrils, "blood-flows"),
		is("cannot breathe", RespiratoryEffort, "struggling"),
		is("cannot breathe", Nostrils, "froth"),
		is("cannot breathe", RespiratoryEffort, "pushing"),
		is("collapse", Sway, "falls", "sways"),
		is("collapse", Gait, "staggers"),
		is("collapse", Turn, "crosses"),
		is("collapse", FirstHours, "not-on-chest", "no-suck-reflex", "not-standing", "not-nursed"),
		is("birth", Foaling),
		is("circulation", GumColour, "white", "blue", "purple", "brick-red"),
		is("circulation", DarkRim),
		is("belly", PainSigns),
		is("belly", Doing, "rolling", "pawing", "watching-flank"),
		is("swallowing", Swallowing, "cannot", "feed-at-nose", "gulps"),
		veryHot,
		is("heart", HeartRate),
		is("heart", HeartRhythm),
		is("heart", PulseStrength),
		is("temperature", RectalTemperature),
	}
}()

// Gravest lists the order. The entries are the caller's own copies.
func Gravest() []Grave {
	out := slices.Clone(gravest)
	for i := range out {
		out[i].Grades = slices.Clone(out[i].Grades)
	}
	return out
}

// Found is what was found of a sign at all its sites: the answers, or the highest reading in the sign's unit.
type Found struct {
	Chosen []GradeID
	Value  float64
}

// Gravity is the place of what was found of a sign in the order of [Gravest], the gravest first; all else comes last.
func Gravity(sign SignID, found Found) int {
	for i := range gravest {
		g := &gravest[i]
		if g.Sign == sign && found.Value >= g.From &&
			(len(g.Grades) == 0 || slices.ContainsFunc(found.Chosen, func(x GradeID) bool { return slices.Contains(g.Grades, x) })) {
			return i
		}
	}
	return len(gravest)
}

// WorstFirst puts rules in the order of the gravest sign that each rests on, then in that of [Problems]; those
// that name no problem come last. Found gives what was found of a sign.
func WorstFirst(fired []Fired, found func(SignID) Found) []Fired {
	type placed struct {
		Fired
		gravity, problem int
	}
	places := make([]placed, len(fired))
	for i, f := range fired {
		p := placed{f, Gravity(f.Sign, found(f.Sign)), slices.Index(allProblems, f.Problem)}
		for _, s := range f.With {
			p.gravity = min(p.gravity, Gravity(s, found(s)))
		}
		if p.problem < 0 {
			p.problem = len(allProblems)
		}
		places[i] = p
	}
	slices.SortStableFunc(places, func(a, b placed) int {
		return cmp.Or(cmp.Compare(a.gravity, b.gravity), cmp.Compare(a.problem, b.problem))
	})
	out := make([]Fired, len(fired))
	for i, p := range places {
		out[i] = p.Fired
	}
	return out
}

// Found gives what was found of a sign in an exam.
func (e *Exam) Found(id SignID) (out Found) {
	sign, known := Lookup(id)
	for i := range e.Findings {
		f := &e.Findings[i]
		if f.Sign != id || f.Absent != "" {
			continue
		}
		out.Chosen = append(out.Chosen, f.Chosen...)
		if m, err := f.Measure(sign); known && err == nil {
			out.Value = max(out.Value, m.Value)
		}
	}
	return out
}

// Severity is how severe a behaviour of belly pain is, from 1 to 5. It is not the rank of the answer: a rank is how far
// an answer is from what a healthy animal shows (a horse rolls on quiet days, and hardly ever looks at its
// flank), and belongs to the comparison. Which of two behaviours is worse is read here.
type Severity struct {
	Sign     SignID  `json:"sign"`
	Grade    GradeID `json:"grade"`
	Group            // for which animals; empty: all that no other entry of the answer is for
	Severity int     `json:"severity"`
	Provenance
}

// ViolentPain is the severity from which pain is violent: lying flat on the side, rolling.
const ViolentPain = 4

var severities = func() []Severity {
	scale := func(note string) Provenance { return Provenance{"eaaps-2018", Read, note} }
	near := func(note string) Provenance { return Provenance{"eaaps-2018", Derived, note} }
	ours := Provenance{Mark: Assumed, Note: "not in the published scale; put where behaviours like it stand"}
	donkeys := Group{Types: []Type{TypeDonkey, TypeMule}}
	return []Severity{
		{Attitude, "dull", donkeys, ViolentPain, Provenance{Mark: Assumed, Note: "first of a donkey's signs, which hides pain; last in the scale for horses"}},
		{Attitude, "dull", Group{}, 1, scale("depression")},
		{Attitude, "anxious", Group{}, 2, near("restlessness")},
		{Attitude, "odd", Group{}, 2, ours},
		{Attitude, "down-thrashing", Group{}, ViolentPain, near("flat on the side, rolling")},
		{Attitude, "down-not-rising", Group{}, 5, near("collapse")},
		{Doing, "watching-flank", Group{}, 1, scale("")},
		{Doing, "pawing", Group{}, 3, scale("a practice's page calls it mild")},
		{Doing, "rolling", Group{}, ViolentPain, scale("a practice's page calls it moderate")},
		{PainSigns, "leaves-feed", Group{}, 1, ours},
		{PainSigns, "lip-curl", Group{}, 1, ours},
		{PainSigns, "plays-in-water", Group{}, 1, ours},
		{PainSigns, "watches-flank", Group{}, 1, scale("")},
		{PainSigns, "lies-more", Group{}, 2, near("lying on the chest is 3; that it lies more is told before anybody sees how")},
		{PainSigns, "paws", Group{}, 3, scale("")},
		{PainSigns, "stretches-out", Group{}, 3, scale("")},
		{PainSigns, "kicks-belly", Group{}, 3, scale("")},
		{PainSigns, "up-and-down", Group{}, 3, near("attempts to lie down")},
		{PainSigns, "bites-belly", Group{}, 3, ours},
		{PainSigns, "groans", Group{}, 3, ours},
		{PainSigns, "bloated", Group{}, 3, ours},
		{PainSigns, "rolls", Group{}, ViolentPain, scale("")},
		{PainSigns, "sits-like-a-dog", Group{}, ViolentPain, ours},
		{PainSigns, "on-its-back", Group{}, ViolentPain, ours},
		{PainSigns, "eased-suddenly", Group{}, ViolentPain, Provenance{Mark: Assumed, Note: "says that the pain was violent"}},
	}
}()

// Severities lists how severe each behaviour of belly pain is.
func Severities() []Severity {
	out := slices.Clone(severities)
	for i := range out {
		out[i].Group = out[i].Group.clone()
	}
	return out
}

// SeverityOf gives how severe an answer is in an animal of type t: 0 for one that is no behaviour of pain.
func SeverityOf(t Type, sign SignID, g GradeID) int {
	for i := range severities {
		if s := &severities[i]; s.Sign == sign && s.Grade == g && in(s.Types, t) {
			return s.Severity
		}
	}
	return 0
}

// ShowsPain reports whether a sign has behaviours of belly pain among its answers.
func (s Sign) ShowsPain() bool {
	return slices.ContainsFunc(severities, func(x Severity) bool { return x.Sign == s.ID })
}
