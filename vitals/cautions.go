package vitals

import "slices"

// cautions are the warnings that stand at the steps. Local rules and licensed practice
// come before all of them.
var cautions = []Caution{
	{"before-anything", Group{}, Provenance{"safe-work-australia-2014", Read, "falls, bites, strikes and kicks are the commonest causes of injury"}},
	{"alone", Group{}, Provenance{"vin-handling", Read, ""}},
	{"approach", Group{}, Provenance{"vin-handling", Read, ""}},
	{"stand", Group{}, Provenance{"horse-safety-16", SecondHand, ""}},
	{"hind-end", Group{}, Provenance{"horse-safety-16", SecondHand, ""}},
	{"stallion-mare-young", Group{}, Provenance{"ilo-70", SecondHand, ""}},
	{"foal-and-mare", newFoal, Provenance{Mark: CommonPractice}},
	{"young-bite", anyYoung, Provenance{"ilo-70", SecondHand, "weanlings and two-year-olds bite"}},
	{"sedated", Group{}, Provenance{"vin-handling", Read, ""}},
	{"down-quiet", Group{}, Provenance{"devereux", Read, "p. 759"}},
	{"down-thrashing", Group{}, Provenance{"devereux", Read, "pp. 759-760"}},
	{"cast-or-trapped", Group{}, Provenance{"leighton-staples", Read, "that a kick lands within a third of a second; the rest is common practice"}},
	{"unsteady", Group{}, Provenance{Mark: CommonPractice}},
	{"do-not-walk", Group{}, Provenance{Mark: CommonPractice}},
	{"wound-leave", Group{}, Provenance{Mark: CommonPractice, Note: "that what sticks in a wound stays in is in the AAEP Foundation's list"}},
	{"eye-side", Group{}, Provenance{Mark: CommonPractice}},
	{"foaling-mare", Group{}, Provenance{Mark: CommonPractice}},
	{"afterbirth-never-pull", Group{}, Provenance{"devereux", Read, "p. 962"}},
	{"no-hands-in-mouth", Group{}, Provenance{Mark: CommonPractice, Note: "bites, and rabies where it occurs"}},
	{"flank-ear", Group{}, Provenance{Mark: CommonPractice}},
	{"teeth", Group{}, Provenance{Mark: CommonPractice, Note: "where the fingers go; that young horses bite is in the ILO Encyclopaedia"}},
	{"feet", Group{}, Provenance{"horse-safety-16", SecondHand, "that one does not kneel is common practice"}},
	{"thermometer-stand", Group{}, Provenance{"devereux", Read, "p. 89"}},
	{"thermometer-string", Group{}, Provenance{Mark: CommonPractice, Note: "the string; a leaflet without a publisher says it can be drawn in"}},
	{"thermometer-never-force", Group{}, Provenance{Mark: CommonPractice}},
	{"thermometer-donkey", anyMule, Provenance{"wvs-donkey", Read, "printed for donkeys"}},
	{"wash-thermometer", Group{}, Provenance{"devereux", Read, "p. 89"}},
	{"wash-hands", Group{}, Provenance{"aphis-2014", Read, ""}},
	{"sick-last", Group{}, Provenance{"business-queensland", Read, ""}},
}

// Cautions lists every caution. The entries are the caller's own copies.
func Cautions() []Caution {
	out := slices.Clone(cautions)
	for i := range out {
		out[i].Group = out[i].Group.clone()
	}
	return out
}
