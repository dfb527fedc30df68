package vitals

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// The signs, in the order of the form.
const (
	Attitude          SignID = "attitude"
	HeadCarriage      SignID = "head-carriage"
	Coat              SignID = "coat"
	Wounds            SignID = "wounds"
	WoundPlace        SignID = "wound-place"
	Eye               SignID = "eye"
	Swelling          SignID = "swelling"
	LimbLoad          SignID = "limb-load"
	Stance            SignID = "stance"
	Doing             SignID = "doing"
	DoingUsual        SignID = "doing-usual"
	Gait              SignID = "gait"
	Turn              SignID = "turn"
	Sway              SignID = "sway"
	Cooling           SignID = "cooling"
	Foaling           SignID = "foaling"
	Afterbirth        SignID = "afterbirth"
	Vulva             SignID = "vulva"
	Droppings         SignID = "droppings"
	Water             SignID = "water"
	Feed              SignID = "feed"
	Swallowing        SignID = "swallowing"
	Urine             SignID = "urine"
	FirstHours        SignID = "first-hours"
	Lately            SignID = "lately"
	RespiratoryEffort SignID = "respiratory-effort"
	Nostrils          SignID = "nostrils"
	Cough             SignID = "cough"
	RespiratoryRate   SignID = "respiratory-rate"
	GumColour         SignID = "gum-colour"
	DarkRim           SignID = "dark-rim"
	GumMoisture       SignID = "gum-moisture"
	CapillaryRefill   SignID = "capillary-refill"
	SkinTent          SignID = "skin-tent"
	HeartRate         SignID = "heart-rate"
	PulseStrength     SignID = "pulse-strength"
	LimbWarmth        SignID = "limb-warmth"
	DigitalPulse      SignID = "digital-pulse"
	HoofWarmth        SignID = "hoof-warmth"
	GutSounds         SignID = "gut-sounds"
	GutOrder          SignID = "gut-order"
	HeartRhythm       SignID = "heart-rhythm"
	LungSounds        SignID = "lung-sounds"
	JugularRefill     SignID = "jugular-refill"
	RectalTemperature SignID = "rectal-temperature"
	Muscle            SignID = "muscle"
	Weight            SignID = "weight"
	BodyCondition     SignID = "body-condition"
	Udder             SignID = "udder"
	Navel             SignID = "navel"
	Joints            SignID = "joints"
	PainSigns         SignID = "pain-signs"
)

// The sections.
const (
	SectionLook        SectionID = "look"
	SectionIntake      SectionID = "intake"
	SectionBreathing   SectionID = "breathing"
	SectionMouth       SectionID = "mouth"
	SectionSkin        SectionID = "skin"
	SectionHeart       SectionID = "heart"
	SectionFeet        SectionID = "feet"
	SectionGut         SectionID = "gut"
	SectionTemperature SectionID = "temperature"
	SectionMuscle      SectionID = "muscle"
	SectionBody        SectionID = "body"
	SectionPain        SectionID = "pain"
)

// Sections lists the sections in the order of the form.
func Sections() []SectionID { return slices.Clone(allSections) }

var allSections = []SectionID{SectionLook, SectionIntake, SectionBreathing, SectionMouth, SectionSkin, SectionHeart,
	SectionFeet, SectionGut, SectionTemperature, SectionMuscle, SectionBody, SectionPain}

// catalogue is built once and never changed; what leaves the package is a copy.
var catalogue = slices.Concat(walkUpSigns(), handsOnSigns(), fullSigns())

var catalogueIndex = func() map[SignID]int {
	m := make(map[SignID]int, len(catalogue))
	for i, s := range catalogue {
		m[s.ID] = i
	}
	return m
}()

// signFrom gives the place of a sign in the catalogue. Findings mostly stand in its order: from the place of the one
// before, the next few are looked at first.
func signFrom(from int, id SignID) (i int, known bool) {
	for i = from; i < min(from+8, len(catalogue)); i++ {
		if catalogue[i].ID == id {
			return i, true
		}
	}
	i, known = catalogueIndex[id]
	return i, known
}

// Catalogue gives every sign in the order of the form. The signs are the caller's own copies.
func Catalogue() []Sign {
	out := make([]Sign, len(catalogue))
	for i, s := range catalogue {
		out[i] = s.clone()
	}
	return out
}

// Lookup gives the sign of an ID, as the caller's own copy; ok is false for an ID that
// the catalogue does not have.
func Lookup(id SignID) (sign Sign, ok bool) {
	i, ok := catalogueIndex[id]
	if !ok {
		return Sign{}, false
	}
	return catalogue[i].clone(), true
}

// Site gives a site of the sign.
func (s Sign) Site(id SiteID) (Site, bool) {
	i := slices.IndexFunc(s.Sites, func(x Site) bool { return x.ID == id })
	if i < 0 {
		return Site{}, false
	}
	return s.Sites[i], true
}

// Grade gives an answer of the sign.
func (s Sign) Grade(id GradeID) (Grade, bool) {
	i := slices.IndexFunc(s.Grades, func(x Grade) bool { return x.ID == id })
	if i < 0 {
		return Grade{}, false
	}
	return s.Grades[i], true
}

// RangesFor gives the published ranges that are for an animal of type t at stage st.
func (s Sign) RangesFor(t Type, st Stage) []Range {
	var out []Range
	for _, r := range s.Ranges {
		if r.Holds(t, st) {
			out = append(out, r)
		}
	}
	return out
}

func (s Sign) clone() Sign {
	s.Sites = slices.Clone(s.Sites)
	for i := range s.Sites {
		s.Sites[i].Needs = slices.Clone(s.Sites[i].Needs)
		if w := s.Sites[i].Weak; w != nil {
			weak := *w
			s.Sites[i].Weak = &weak
		}
	}
	s.Where = slices.Clone(s.Where)
	s.Methods = slices.Clone(s.Methods)
	s.Grades = slices.Clone(s.Grades)
	if s.Span != nil {
		span := *s.Span
		s.Span = &span
	}
	s.Ranges = slices.Clone(s.Ranges)
	for i := range s.Ranges {
		s.Ranges[i].Group = s.Ranges[i].Group.clone()
	}
	s.Needs = slices.Clone(s.Needs)
	s.Cautions = slices.Clone(s.Cautions)
	if a := s.Applies; a != nil {
		applies := *a
		applies.Stages = slices.Clone(applies.Stages)
		s.Applies = &applies
	}
	s.Remarks = slices.Clone(s.Remarks)
	for i := range s.Remarks {
		s.Remarks[i].Group = s.Remarks[i].Group.clone()
	}
	return s
}

func (g Group) clone() Group {
	return Group{Types: slices.Clone(g.Types), Stages: slices.Clone(g.Stages)}
}

// What follows keeps the entries of the catalogue short.

// at gives the sites of one depth.
func at(d Depth, sites ...SiteID) []Site {
	out := make([]Site, len(sites))
	for i, id := range sites {
		out[i] = Site{ID: id, Depth: d}
	}
	return out
}

// with gives the sites with what each of them needs.
func with(n Need, sites []Site) []Site {
	for i := range sites {
		sites[i].Needs = []Need{n}
	}
	return sites
}

// answers reads a sign's answers with their ranks: "usual 0, less 1". One marked "only" excludes every other, one marked
// "closing" closes the hands-on steps. As text they are a fraction of the code that a list would be.
func answers(text string) []Grade {
	var out []Grade
	for _, part := range strings.Split(text, ", ") {
		words := strings.Fields(part)
		rank, err := strconv.Atoi(words[len(words)-1])
		if err != nil || len(words) < 2 || len(words) == 3 && words[0] != "only" && words[0] != "closing" || len(words) > 3 {
			panic("vitals: answers cannot be read: " + part)
		}
		out = append(out, Grade{ID: GradeID(words[len(words)-2]), Rank: rank, Alone: len(words) > 2 && words[0] == "only",
			Closes: len(words) > 2 && words[0] == "closing"})
	}
	return out
}

// list reads names with spaces between.
func list[T ~string](names string) (out []T) {
	for _, name := range strings.Fields(names) {
		out = append(out, T(name))
	}
	return out
}

func span(low, high, note string) *Span {
	return &Span{decimal.RequireFromString(low), decimal.RequireFromString(high), Provenance{Mark: Assumed, Note: note}}
}

var (
	byRate   = []Method{ByTaps, ByCount, ByReading}
	byTimer  = []Method{ByTimer}
	byChoice = []Method{ByChoice}
)

// Step is one sign to take, at which sites.
type Step struct {
	Sign  SignID   `json:"sign"`
	Depth Depth    `json:"depth"`
	Sites []SiteID `json:"sites,omitempty"`
}

// Steps gives the steps of an exam in order, shallowest depth first. A sign that is asked
// again at each depth comes at each; any other comes once, at its deepest sites within the
// exam. Nobody holding the horse drops what needs a helper; a closed exam (see [Closed])
// keeps only what is seen from afar.
func Steps(depth Depth, holder Holder, closed bool) []Step {
	if closed {
		depth = WalkUp
	}
	var steps []Step
	for _, d := range allDepths {
		if !d.Within(depth) {
			break
		}
		for _, s := range catalogue {
			if step, ok := s.step(d, depth, holder); ok {
				steps = append(steps, step)
			}
		}
	}
	return steps
}

// StepsFor gives the steps of an exam of a horse: those of [Steps] for the exam's depth and
// holder whose sign is asked of such a horse in such a state, closed where an answer of the
// exam closes it.
func StepsFor(h Horse, e Exam) []Step {
	steps := Steps(e.Depth, e.Holder, Closed(e))
	return slices.DeleteFunc(steps, func(s Step) bool { return !catalogue[catalogueIndex[s.Sign]].For(h, e) })
}

// step gives the step of a sign at depth d of an exam of depth exam, if it has one.
func (s Sign) step(d, exam Depth, holder Holder) (Step, bool) {
	alone := holder == NotHeld
	if alone && slices.Contains(s.Needs, NeedHelper) {
		return Step{}, false
	}
	if len(s.Sites) == 0 {
		return Step{Sign: s.ID, Depth: d}, s.Depth == d
	}
	step := Step{Sign: s.ID, Depth: d}
	for _, site := range s.Sites {
		if !s.Again && site.Depth.Within(exam) && site.Depth.rank() > d.rank() {
			return Step{}, false // a deeper site comes later
		}
		if site.Depth == d && !(alone && slices.Contains(site.Needs, NeedHelper)) {
			step.Sites = append(step.Sites, site.ID)
		}
	}
	return step, len(step.Sites) > 0
}

// Closed reports whether an answer of the exam closes the hands-on steps: a horse that is
// down and will not rise, or thrashing, is left alone and the call comes first.
func Closed(e Exam) bool {
	for _, f := range e.Findings {
		i, known := catalogueIndex[f.Sign]
		if !known {
			continue
		}
		for _, id := range f.Chosen {
			if g, ok := catalogue[i].Grade(id); ok && g.Closes {
				return true
			}
		}
	}
	return false
}
