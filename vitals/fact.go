package vitals

import (
	"slices"
	"time"
)

// Fact is a circumstance of an exam that a rule may ask for, worked out from the exam and the
// horse alone. Its words are under "fact.<id>".
type Fact string

const (
	// InPain: signs of belly pain, see [FiredAlarms].
	InPain Fact = "in-pain"
	// LonePain: of the signs of pain one of the mildest alone, a curled lip or pawing, in a horse that eats and shows nothing else.
	LonePain Fact = "lone-pain"
	// FirstStage: restless before foaling, and no sign of pain but those that belong to it.
	FirstStage Fact = "first-stage"
	// EarlyPain: lies down more, or leaves its feed.
	EarlyPain Fact = "early-pain"
	// OffFeed: eats or nurses less or not, or leaves its feed.
	OffFeed Fact = "off-feed"
	// OffColour: dull, odd, down.
	OffColour Fact = "off-colour"
	// Working: within [settledMinutes] of work, [settledEasy] of easy work, or work whose end nobody noted.
	Working Fact = "working"
	// Worked: after work, within a day.
	Worked Fact = "worked"
	// Unquiet: the horse is excited.
	Unquiet Fact = "excited"
	// Given: a medicine or sedative within [maskedHours], or at a time that nobody noted.
	MedicineGiven Fact = "medicine-given"
	// Rechecked: an earlier exam is being checked again.
	Rechecked Fact = "rechecked"
	// HotDay: the heat sum is over 150, or the air is 30 °C and over.
	HotDay Fact = "hot-day"
	// ColdDay: the air is under 10 °C.
	ColdDay Fact = "cold-day"
	// Feeding: in foal, or with a foal that may still suck.
	Breeding Fact = "breeding"
	// Overweight: body condition of 7 and over in this exam.
	Overweight Fact = "overweight"
	// Worried: somebody thinks that something is wrong, see [Exam.Concerned], or an exam is being checked again.
	Worried Fact = "worried"
	// GettingWorse: the story says so.
	GettingWorse Fact = "getting-worse"
	// AskedToCome: the handler asks the veterinarian to come.
	AskedToCome Fact = "asked-to-come"
	// WorkEndUnknown: after work whose end nobody noted.
	WorkEndUnknown Fact = "work-end-unknown"
	// InFoal: a mare or jenny in foal.
	InFoal Fact = "in-foal"
	// Male: a gelding or a stallion.
	Male Fact = "male"
	// OtherRule: another rule, at another sign, says to call now or to tell today.
	OtherRule Fact = "other-rule"
	// NowRule: another rule says to call now.
	NowRule Fact = "now-rule"
	// AnyRule, TwoRules and ThreeRules: other rules of any level, at so many other signs; those on what happened lately, on
	// foaling, or on what can wait for hours do not count.
	AnyRule    Fact = "any-rule"
	TwoRules   Fact = "two-rules"
	ThreeRules Fact = "three-rules"
)

// Facts lists every fact.
func Facts() []Fact { return slices.Clone(allFacts) }

var allFacts = []Fact{InPain, EarlyPain, OffFeed, OffColour, Working, Worked, Unquiet, MedicineGiven, Rechecked, HotDay, ColdDay,
	Breeding, Overweight, Worried, GettingWorse, AskedToCome, WorkEndUnknown, InFoal, Male, OtherRule, NowRule, AnyRule, TwoRules, ThreeRules,
	LonePain, FirstStage}

const (
	// settledMinutes is when a horse that worked counts as at rest for the rules (assumed:
	// pulse gates of endurance rides close 30 minutes after work, AERC rule 6.2.1.2).
	settledMinutes = 60
	// settledEasy is the same after easy work (assumed: those gates close for horses that raced).
	settledEasy = 30
	// countsWithin is how soon a rule of [CheckAgain] wants to be checked again, in minutes, for it to count beside others (assumed).
	countsWithin = 300
	// maskedHours is for how long something given may mask signs (assumed: no source gives one
	// figure for every medicine).
	maskedHours = 12
	// hotAir and coldAir are °C (assumed).
	hotAir, coldAir = 30, 10
	// minutesUnknown is up to when an unknown time since work may lie for a rule with a clock.
	minutesUnknown = 10
)

// view is an exam as the rules see it.
type view struct {
	horse Horse
	exam  *Exam
	stage Stage
	// dated: the dates of birth and exam can be right.
	dated bool
	// signs are the places of the findings' signs in the catalogue; -1: not there, or no value.
	signs []int8
	// first is where a sign is first found, plus one.
	first [128]uint8
	// unusual: one of the sign's answers is not a usual one; every rule on answers is on those.
	unusual [128]bool
	// manyFindings: more than first can tell.
	manyFindings bool
	latest       measured
	// other are the rules that fired without asking for others.
	other []Fired
	// late is the minute of the finding that the rule's own test found.
	late int
	// asked and held are facts that were worked out, as bits of [Facts].
	asked, held uint32
}

// look takes an exam in; room is for the places of its signs.
func (v *view) look(h Horse, e *Exam, room []int8) {
	v.horse, v.exam, v.dated = h, e, h.DateDoubt(e.At) == DateSound
	v.stage, _ = h.StageAt(e.At)
	v.signs = signsOf(*e, room)
	v.manyFindings = len(v.signs) >= 255
	for i, at := range v.signs {
		if at < 0 {
			continue
		}
		if i < 255 && v.first[at] == 0 {
			v.first[at] = uint8(i + 1)
		}
		for _, g := range catalogue[at].Grades {
			v.unusual[at] = v.unusual[at] || g.Rank > 0 && slices.Contains(e.Findings[i].Chosen, g.ID)
		}
	}
}

// taken reports whether a sign has a value.
func (v *view) taken(sign SignID) bool {
	i, ok := catalogueIndex[sign]
	return ok && slices.Contains(v.signs, int8(i))
}

// shows reports whether one of the answers was chosen for a sign.
func (v *view) shows(sign SignID, grades ...GradeID) bool {
	for i := range v.exam.Findings {
		f := &v.exam.Findings[i]
		if f.Sign == sign && f.Absent == "" && slices.ContainsFunc(f.Chosen, func(g GradeID) bool { return slices.Contains(grades, g) }) {
			return true
		}
	}
	return false
}

func (v *view) holds(f Fact, sign SignID) bool {
	if f == NowRule {
		return slices.ContainsFunc(v.other, func(f Fired) bool { return f.Urgency == RingNow })
	}
	if f == OtherRule {
		return slices.ContainsFunc(v.other, func(f Fired) bool {
			return f.Sign != sign && !slices.Contains(f.With, sign) && (f.Urgency == RingNow || f.Urgency == RingSoon)
		})
	}
	if n := rulesAsked(f); n > 0 {
		return len(v.others(sign)) >= n
	}
	bit := bitOf(allFacts, f)
	if v.asked&bit == 0 {
		v.asked |= bit
		if v.work(f) {
			v.held |= bit
		}
	}
	return v.held&bit != 0
}

// rulesAsked is at how many other signs a fact asks for rules; 0: it asks for none.
func rulesAsked(f Fact) int { return slices.Index([]Fact{"", AnyRule, TwoRules, ThreeRules}, f) }

// others are the signs, other than one, at which rules fired that count, as many as a fact can ask for. Of an excited horse
// its rates do not.
func (v *view) others(sign SignID) []SignID {
	var out []SignID
	for i := range v.other {
		f := &v.other[i]
		if f.counts() && f.Sign != sign && !(v.holds(Unquiet, "") && f.rate()) && !slices.Contains(out, f.Sign) {
			out = append(out, f.Sign)
		}
	}
	return out[:min(len(out), mostSigns)]
}

// mostSigns is the most signs that a fact asks for.
const mostSigns = 3

// rate reports whether a rule fired at a rate, which excitement alone raises.
func (f *Fired) rate() bool { return f.Sign == HeartRate || f.Sign == RespiratoryRate }

// counts reports whether a rule that fired counts beside others.
func (f *Fired) counts() bool {
	switch f.Sign {
	case Lately, Foaling, Afterbirth:
		return false
	}
	return f.Urgency != CheckAgain || f.Minutes < countsWithin
}

// signOf is the sign that a test rests on, of a fact the one that made it hold; "" where none did.
func (v *view) signOf(t *Test) SignID {
	switch t.Fact {
	case InPain:
		if !v.shows(Attitude, "down-thrashing") && !v.taken(PainSigns) {
			return Doing
		}
		return PainSigns
	case EarlyPain:
		return PainSigns
	case OffFeed:
		if !v.shows(Feed, "less", "none") {
			return PainSigns
		}
		return Feed
	case OffColour:
		return Attitude
	case Overweight:
		return BodyCondition
	}
	return t.Sign
}

func (v *view) work(f Fact) bool {
	e, s := v.exam, v.exam.State
	switch f {
	case InPain:
		return v.inPain()
	case LonePain:
		return v.holds(InPain, "") && v.lonePain()
	case FirstStage:
		return v.firstStage()
	case EarlyPain:
		return v.shows(PainSigns, "lies-more", "leaves-feed")
	case OffFeed:
		return v.shows(Feed, "less", "none") || v.shows(PainSigns, "leaves-feed")
	case OffColour:
		return v.shows(Attitude, "dull", "odd", "down-not-rising", "down-thrashing")
	case Working:
		minutes, known := v.since(SinceWork)
		settled := settledMinutes
		if s.Effort == Easy {
			settled = settledEasy
		}
		return s.In(AfterWork) && (!known || minutes < settled)
	case Worked:
		return s.In(AfterWork)
	case Unquiet:
		return s.In(Excited)
	case MedicineGiven:
		return e.Masked()
	case Rechecked:
		return e.RecheckOf != "" || e.Purpose == Recheck
	case HotDay, ColdDay:
		return v.weather(f)
	case Breeding:
		return v.horse.InFoal || v.horse.nursing(e.At)
	case Overweight:
		return v.passes(overweight, "")
	case Worried:
		return e.Concerned() || v.holds(Rechecked, "")
	case GettingWorse:
		return e.Story != nil && e.Story.Course == Worse
	case AskedToCome:
		return e.Story != nil && e.Story.Ask == AskCome
	case WorkEndUnknown:
		_, known := v.since(SinceWork)
		return s.In(AfterWork) && !known
	case InFoal:
		return v.horse.InFoal
	case Male:
		return v.horse.Sex == Gelding || v.horse.Sex == Stallion
	}
	return false
}

func (v *view) weather(f Fact) bool {
	air := v.exam.Air
	if air == nil || air.Temperature == nil {
		return false
	}
	c, err := Convert(air.Temperature.Value, air.Temperature.Unit, Celsius, 1)
	if err != nil {
		return false
	}
	t := c.InexactFloat64()
	if f == ColdDay {
		return t < coldAir
	}
	heat, ok := HeatOf(*air)
	return t >= hotAir || ok && (heat.Band == HeatWatch || heat.Band == HeatDangerous)
}

// since gives the minutes of a clock at the exam; not known where nobody noted its moment.
func (v *view) since(c Clock) (minutes int, known bool) {
	from := time.Time{}
	switch c {
	case SinceWork:
		s := v.exam.State
		if !s.In(AfterWork) {
			return 0, false
		}
		if s.Ended.IsZero() {
			return s.SinceMinutes, s.SinceMinutes > 0
		}
		from = s.Ended
	case SinceBirth:
		from = v.horse.BornAt
		if born := v.horse.Born; from.IsZero() && !born.IsZero() && !v.horse.BornYearOnly {
			// A day without an hour is a clock of days only.
			from = born.In(v.exam.At.Location())
			if v.exam.At.Before(from.AddDate(0, 0, 2)) {
				return 0, false
			}
		}
	case SinceFoaling:
		from = v.horse.FoaledAt
	}
	if from.IsZero() || v.exam.At.Before(from) {
		return 0, false
	}
	return int(v.exam.At.Sub(from) / time.Minute), true
}

// inPain is what [FiredAlarms] says of belly pain.
func (v *view) inPain() bool {
	if v.holds(FirstStage, "") {
		return false
	}
	for i := range v.exam.Findings {
		f := &v.exam.Findings[i]
		if f.Absent != "" {
			continue
		}
		for _, g := range f.Chosen {
			switch {
			case f.Sign == PainSigns && g != "none" && g != "lies-more" && g != "leaves-feed",
				f.Sign == Attitude && g == "down-thrashing",
				f.Sign == Doing && g == "watching-flank" && !v.shows(Foaling, "restless"),
				f.Sign == Doing && g == "rolling" && !v.quietHabit(),
				f.Sign == Doing && g == "pawing" && !v.shows(Foaling, "restless") && !v.quietHabit():
				return true
			}
		}
	}
	return false
}

// quietHabit reports whether rolling or pawing may be what this horse does here at this hour:
// only on a quiet day or at a routine check, one of the two seen once, with what is asked beside it
// answered and usual, and nothing else found that is not.
func (v *view) quietHabit() bool {
	e := v.exam
	if e.Purpose != Learning && e.Purpose != Routine || v.holds(Worried, "") || v.holds(MedicineGiven, "") ||
		v.shows(Doing, "rolling") && v.shows(Doing, "pawing") || !v.shows(DoingUsual, "usual") || !v.shows(Feed, "usual") ||
		!v.shows(Droppings, "usual") || !v.taken(Coat) {
		return false
	}
	if s := e.Story; s != nil && (s.Course != "" || s.Bouts != nil || s.Ask != "") {
		return false
	}
	return v.elseQuiet(Doing)
}

// lonePain reports whether the sign of pain is one of the mildest and alone: never in an animal that hides pain or is worse off
// with it (a donkey, a mule, a foal, a mare in foal or with one), after work or a medicine, or where the story tells of more.
func (v *view) lonePain() bool {
	if v.horse.Type == TypeDonkey || v.horse.Type == TypeMule || v.stage == Newborn || v.stage == Neonate || v.stage == Foal ||
		v.holds(Breeding, "") || v.holds(Worked, "") || v.holds(MedicineGiven, "") || v.holds(Rechecked, "") ||
		!v.shows(Attitude, "bright") || !v.shows(Feed, "usual") {
		return false
	}
	if s := v.exam.Story; s != nil && (s.Course == Worse || s.Bouts != nil && *s.Bouts || s.Ask != "") {
		return false
	}
	paws := v.shows(PainSigns, "paws") || v.shows(Doing, "pawing")
	for i := range v.exam.Findings {
		f := &v.exam.Findings[i]
		for _, g := range f.Chosen {
			switch {
			case f.Absent != "" || f.Sign != PainSigns && f.Sign != Doing:
			case g == "rolling", g == "watching-flank", f.Sign == PainSigns && g != "none" && g != "paws" && (g != "lip-curl" || paws):
				return false
			}
		}
	}
	return v.elseQuiet(Doing, DoingUsual, PainSigns)
}

// firstStage reports whether a mare is restless before foaling and her signs are those of every mare then: down and up, a look
// at the flank, pawing.
func (v *view) firstStage() bool {
	if !v.shows(Foaling, "restless") || v.holds(OffColour, "") || v.shows(Droppings, "none") || v.shows(Doing, "rolling") {
		return false
	}
	return !slices.ContainsFunc(v.exam.Findings, func(f Finding) bool {
		return f.Sign == PainSigns && f.Absent == "" && slices.ContainsFunc(f.Chosen, func(g GradeID) bool {
			return !slices.Contains([]GradeID{"none", "lies-more", "watches-flank", "paws", "up-and-down"}, g)
		})
	})
}

// elseQuiet reports whether no answer is unusual but at some signs, and no number is raised.
func (v *view) elseQuiet(but ...SignID) bool {
	for at, unusual := range v.unusual {
		switch {
		case !unusual || at >= len(catalogue) || slices.Contains(but, catalogue[at].ID):
		case catalogue[at].ID == GutSounds && !v.shows(GutSounds, "less", "none"): // a hungry gut is loud
		default:
			return false
		}
	}
	if v.horse.Type != TypeDonkey && v.passes(notQuietBreath, "") {
		return false
	}
	return !slices.ContainsFunc(notQuiet, func(t *Test) bool { return v.passes(t, "") })
}

var (
	overweight = testOf("body-condition >= 7 1")
	// notQuiet are the numbers beside which rolling or pawing is no habit.
	notQuiet       = []*Test{testOf("heart-rate >= 48 /min"), testOf("rectal-temperature >= 38.6 Cel"), testOf("capillary-refill > 2 s")}
	notQuietBreath = testOf("respiratory-rate > 24 /min") // of horses; healthy donkeys breathe up to 44
)
