package vitals

import (
	"cmp"
	"slices"
)

// Grave is one step of the order in which reasons of one level are told.
type Grave struct {
	Sign SignID `json:"sign"`
	// Grades are the answers meant; none: whatever was found.
	Grades []GradeID `json:"grades,omitempty"`
	Provenance
}

// gravest is that order: who cannot rise, bleeds, cannot breathe or falls goes before all else, as in first aid; then a
// birth, the circulation, pain of the belly, heat and the heart. No source prints it.
var gravest = func() []Grave {
	is := func(why string, sign SignID, grades ...GradeID) Grave {
		return Grave{sign, grades, Provenance{Mark: Assumed, Note: why}}
	}
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
		is("collapse", FirstHours, "not-on-chest", "no-suck-reflex"),
		is("birth", Foaling),
		is("circulation", GumColour, "white", "blue", "purple", "brick-red"),
		is("circulation", DarkRim),
		is("belly", PainSigns),
		is("belly", Doing, "rolling", "pawing", "watching-flank"),
		is("swallowing", Swallowing, "cannot", "feed-at-nose", "gulps"),
		is("temperature", RectalTemperature),
		is("heart", HeartRate),
		is("heart", HeartRhythm),
		is("heart", PulseStrength),
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

// Gravity is the place of what was found of a sign in the order of [Gravest], the gravest first; all else comes last.
func Gravity(sign SignID, chosen []GradeID) int {
	for i := range gravest {
		g := &gravest[i]
		if g.Sign == sign && (len(g.Grades) == 0 || slices.ContainsFunc(chosen, func(x GradeID) bool { return slices.Contains(g.Grades, x) })) {
			return i
		}
	}
	return len(gravest)
}

// WorstFirst puts rules in the order of the gravest sign that each rests on, then in that of [Problems]; those
// that name no problem come last. Chosen gives the answers of a sign in the exam.
func WorstFirst(fired []Fired, chosen func(SignID) []GradeID) []Fired {
	type placed struct {
		Fired
		gravity, problem int
	}
	places := make([]placed, len(fired))
	for i, f := range fired {
		p := placed{f, Gravity(f.Sign, chosen(f.Sign)), slices.Index(Problems, f.Problem)}
		for _, s := range f.With {
			p.gravity = min(p.gravity, Gravity(s, chosen(s)))
		}
		if p.problem < 0 {
			p.problem = len(Problems)
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

// Chosen gives the answers of a sign in an exam, of all its sites.
func (e *Exam) Chosen(sign SignID) (out []GradeID) {
	for i := range e.Findings {
		if f := &e.Findings[i]; f.Sign == sign && f.Absent == "" {
			out = append(out, f.Chosen...)
		}
	}
	return out
}
