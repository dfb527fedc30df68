package vitals

import "slices"

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
