package vitals

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/vitals/words"
)

// proven checks that a figure says how far it can be trusted, and where it comes from.
func proven(t *testing.T, what string, p Provenance) {
	t.Helper()
	switch p.Mark {
	case CommonPractice, Assumed:
		td.Cmp(t, p.Source, SourceID(""), "%s: common practice and assumptions have no source", what)
		return
	case Read, SecondHand, Derived:
	case Memory:
		if p.Note != "" {
			td.Cmp(t, p.Note, td.HasPrefix(fromMemory), what)
		} else {
			t.Errorf("%s: a figure from memory says so", what)
		}
	default:
		t.Errorf("%s: mark %q", what, p.Mark)
	}
	if _, ok := LookupSource(p.Source); !ok {
		t.Errorf("%s: no source %q", what, p.Source)
	}
	if p.Mark == Derived && p.Note == "" {
		t.Errorf("%s: a derived figure says how", what)
	}
}

func TestEveryFigureHasAProvenance(t *testing.T) {
	t.Parallel()
	cautionIDs := map[CautionID]bool{}
	for _, c := range Cautions() {
		proven(t, "caution "+string(c.ID), c.Provenance)
		td.CmpFalse(t, cautionIDs[c.ID], "caution %s twice", c.ID)
		cautionIDs[c.ID] = true
	}
	used := map[CautionID]bool{}
	for _, s := range Catalogue() {
		name := string(s.ID)
		if s.Kind.Measured() && s.Span == nil {
			t.Errorf("%s: no possible span", name)
		}
		if s.Span != nil {
			proven(t, name+" span", s.Span.Provenance)
		}
		for i, r := range s.Ranges {
			proven(t, name+" range "+strconv.Itoa(i), r.Provenance)
			if !r.Low.Valid && !r.High.Valid || r.Unit == "" {
				t.Errorf("%s range %d says nothing", name, i)
			}
		}
		for _, r := range s.Remarks {
			proven(t, name+" remark "+string(r.ID), r.Provenance)
		}
		for _, c := range s.Cautions {
			td.CmpTrue(t, cautionIDs[c], "%s: caution %s", name, c)
			used[c] = true
		}
		for _, site := range s.Sites {
			if site.Weak != nil {
				proven(t, name+" site "+string(site.ID), *site.Weak)
			}
		}
	}
	for _, a := range Alarms() {
		proven(t, "alarm "+string(a.ID), a.Provenance)
	}
	td.Cmp(t, used, cautionIDs, "a caution that stands at no step is never seen")
}

func TestSourcesAreUnique(t *testing.T) {
	t.Parallel()
	seen := map[SourceID]bool{}
	for _, s := range Sources() {
		td.CmpFalse(t, seen[s.ID], "source %s twice", s.ID)
		td.CmpNot(t, s.Cite, "")
		seen[s.ID] = true
	}
}

func TestSignsAreWhole(t *testing.T) {
	t.Parallel()
	seen := map[SignID]bool{}
	for _, s := range Catalogue() {
		if seen[s.ID] {
			t.Errorf("%s twice", s.ID)
		}
		seen[s.ID] = true
		td.CmpTrue(t, slices.Contains(allSections, s.Section), "%s: section %q", s.ID, s.Section)
		td.CmpTrue(t, slices.Contains(allDepths, s.Depth), "%s: depth %q", s.ID, s.Depth)
		td.CmpTrue(t, slices.Contains([]Direction{Either, Upward}, s.Bad), "%s: direction %q", s.ID, s.Bad)
		td.CmpNot(t, s.Methods, td.Empty(), "%s: methods", s.ID)
		if s.Kind.Measured() {
			td.CmpNot(t, s.Unit, Unit(""), "%s: unit", s.ID)
			td.Cmp(t, s.Grades, td.Empty(), "%s: grades", s.ID)
		} else {
			td.CmpTrue(t, slices.ContainsFunc(s.Grades, func(g Grade) bool { return g.Rank == 0 }), "%s: no usual answer", s.ID)
			td.CmpTrue(t, slices.ContainsFunc(s.Grades, func(g Grade) bool { return g.Rank > 0 }), "%s: no unusual answer", s.ID)
			td.Cmp(t, s.Methods, []Method{ByChoice}, "%s: methods", s.ID)
		}
		td.Cmp(t, s.PerSite && len(s.Sites) < 2, false, "%s: one site is no site", s.ID)
		shallowest := len(allDepths)
		for _, x := range s.Sites {
			shallowest = min(shallowest, x.Depth.rank())
		}
		if len(s.Sites) > 0 {
			td.Cmp(t, shallowest, s.Depth.rank(), "%s: depth of its sites", s.ID)
		}
	}
}

// signsByDepth is the exam, depth by depth, sign by sign, typed by hand. A new sign is written here at its place.
func signsByDepth() map[Depth][]SignID {
	return map[Depth][]SignID{
		WalkUp: {Attitude, HeadCarriage, Coat, Wounds, WoundPlace, Eye, Swelling, LimbLoad, Stance, Doing, DoingUsual, PainSigns,
			Gait, Turn, Sway, Cooling, Foaling, Afterbirth, Vulva, Droppings, Water, Feed, Swallowing, Urine, FirstHours, Lately,
			RespiratoryEffort, Nostrils, Cough, RespiratoryRate},
		HandsOn: {GumColour, DarkRim, GumMoisture, CapillaryRefill, SkinTent, HeartRate,
			PulseStrength, LimbWarmth, DigitalPulse, HoofWarmth, GutSounds, Udder, Navel, Joints},
		Full: {HeartRhythm, GutOrder, LungSounds, JugularRefill, RectalTemperature, Muscle, Weight, BodyCondition},
	}
}

func TestEverySignOfTheExamIsThere(t *testing.T) {
	t.Parallel()
	got := map[Depth][]SignID{}
	for _, s := range Catalogue() {
		got[s.Depth] = append(got[s.Depth], s.ID)
	}
	for depth, want := range signsByDepth() {
		for i := range max(len(want), len(got[depth])) {
			if i >= len(want) || i >= len(got[depth]) || want[i] != got[depth][i] {
				t.Errorf("%s: the catalogue has %v, signsByDepth %v, from place %d on: a new sign is written in both", depth,
					got[depth][min(i, len(got[depth])):], want[min(i, len(want)):], i+1)
				break
			}
		}
	}
}

func TestNobodyCanDamageTheCatalogue(t *testing.T) {
	t.Parallel()
	before := Catalogue()
	spoilt := Catalogue()
	for i := range spoilt {
		s := &spoilt[i]
		for j := range s.Sites {
			s.Sites[j].ID = "x"
			for k := range s.Sites[j].Needs {
				s.Sites[j].Needs[k] = "x"
			}
			if s.Sites[j].Weak != nil {
				s.Sites[j].Weak.Note = "x"
			}
		}
		for j := range s.Grades {
			s.Grades[j].ID = "x"
		}
		for j := range s.Ranges {
			s.Ranges[j].Low = decimal.NullDecimal{}
			for k := range s.Ranges[j].Types {
				s.Ranges[j].Types[k] = "x"
			}
			for k := range s.Ranges[j].Stages {
				s.Ranges[j].Stages[k] = "x"
			}
		}
		for j := range s.Remarks {
			for k := range s.Remarks[j].Types {
				s.Remarks[j].Types[k] = "x"
			}
		}
		for j := range s.Cautions {
			s.Cautions[j] = "x"
		}
		for j := range s.Where {
			s.Where[j] = "x"
		}
		for j := range s.Methods {
			s.Methods[j] = "x"
		}
		for j := range s.Needs {
			s.Needs[j] = "x"
		}
		if s.Span != nil {
			s.Span.Note = "x"
		}
	}
	for _, a := range Alarms() {
		for k := range a.Types {
			a.Types[k] = "x"
		}
		for k := range a.Stages {
			a.Stages[k] = "x"
		}
		for k := range a.Grades {
			a.Grades[k] = "x"
		}
	}
	for _, c := range Cautions() {
		for k := range c.Stages {
			c.Stages[k] = "x"
		}
	}
	td.Cmp(t, Catalogue(), before)
	for _, s := range before {
		again, ok := Lookup(s.ID)
		td.CmpTrue(t, ok)
		td.Cmp(t, again, s)
	}
	td.CmpTrue(t, slices.Contains(Alarms()[0].Grades, "down-not-rising"))
	_, ok := Lookup("no-such-sign")
	td.CmpFalse(t, ok)
}

// keys lists every key of the words that the catalogue and the enumerations need.
func keys() []string {
	var ks []string
	for _, s := range Catalogue() {
		id := "sign." + string(s.ID)
		ks = append(ks, id, id+".ask", id+".how", id+".say")
		for _, g := range s.Grades {
			ks = append(ks, "grade."+string(s.ID)+"."+string(g.ID))
		}
		for _, x := range s.Sites {
			ks = append(ks, "site."+string(x.ID))
			for _, n := range x.Needs {
				ks = append(ks, "need."+string(n))
			}
		}
		for _, x := range s.Where {
			ks = append(ks, "site."+string(x))
		}
		for _, m := range s.Methods {
			ks = append(ks, "method."+string(m))
		}
		for _, n := range s.Needs {
			ks = append(ks, "need."+string(n))
		}
		for _, r := range s.Remarks {
			ks = append(ks, "remark."+string(r.ID))
		}
	}
	for _, c := range cautions {
		ks = append(ks, "caution."+string(c.ID))
	}
	for _, a := range alarms {
		ks = append(ks, "alarm."+string(a.ID))
	}
	// The rules on the horse's own usual are the comparison's, on the floor above.
	ks = append(ks, "alarm.own-fever", "alarm.own-heart", "alarm.own-breath", "alarm.own-refill", "alarm.own-weight", "alarm."+string(AlarmRising))
	for _, f := range faultCodes {
		ks = append(ks, "fault."+string(f))
	}
	ks = append(ks, named("section.", allSections)...)
	ks = append(ks, named("unit.", allUnits)...)
	ks = append(ks, named("type.", allTypes)...)
	ks = append(ks, named("sex.", allSexes)...)
	ks = append(ks, named("stage.", allStages)...)
	ks = append(ks, named("condition.", allConditions)...)
	ks = append(ks, named("effort.", allEfforts)...)
	ks = append(ks, named("purpose.", allPurposes)...)
	ks = append(ks, named("wellness.", allWellnesses)...)
	ks = append(ks, named("status.", allStatuses)...)
	ks = append(ks, named("holder.", allHolders)...)
	ks = append(ks, named("absence.", allAbsences)...)
	ks = append(ks, named("start.", allStarts)...)
	ks = append(ks, named("device.", allDevices)...)
	ks = append(ks, named("course.", allCourses)...)
	ks = append(ks, named("ask.", allAsks)...)
	ks = append(ks, named("depth.", allDepths)...)
	ks = append(ks, named("urgency.", []Urgency{RingNow, RingSoon})...)
	ks = append(ks, named("mark.", []Mark{Read, SecondHand, Memory, Derived, CommonPractice, Assumed})...)
	return ks
}

func named[T ~string](prefix string, list []T) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = prefix + string(x)
	}
	return out
}

func TestEverythingHasItsWordsInEveryLanguage(t *testing.T) {
	t.Parallel()
	need := map[string]bool{}
	for _, k := range keys() {
		need[k] = true
	}
	for _, l := range words.Langs() {
		for k := range need {
			if !words.Has(l, k) {
				t.Errorf("%s: %s has no words", l, k)
			}
		}
		// No word of the catalogue without its entry.
		for k := range words.Keys(l) {
			head, _, _ := strings.Cut(k, ".")
			if slices.Contains([]string{"sign", "grade", "site", "caution", "remark", "alarm", "section"}, head) && !need[k] {
				t.Errorf("%s: %s has words and no entry", l, k)
			}
		}
	}
}

func TestWordsAreShortAndNeverSayNormal(t *testing.T) {
	t.Parallel()
	for k, text := range words.Keys(words.English) {
		head, rest, _ := strings.Cut(k, ".")
		if strings.Contains(strings.ToLower(text), "normal") && slices.Contains([]string{"sign", "grade", "remark", "alarm", "caution"}, head) {
			t.Errorf("%s: %q", k, text)
		}
		lines := strings.Split(text, "\n")
		if (strings.HasSuffix(k, ".how") || head == "caution") && (len(lines) > 2 || len([]rune(text)) > 130) {
			t.Errorf("%s is too long for one hand on the horse: %d lines, %d characters", k, len(lines), len([]rune(text)))
		}
		if head == "grade" && len([]rune(text)) > 40 {
			t.Errorf("%s is too long for a button: %q", rest, text)
		}
	}
}

// luhn is the mod 10 check digit of LOINC (LOINC Users' Guide, appendix "Calculating mod
// 10 check digits"): from the right, every second digit, beginning with the last, is doubled.
func luhn(digits string) int {
	sum := 0
	for i := 0; i < len(digits); i++ {
		d := int(digits[len(digits)-1-i] - '0')
		if i%2 == 0 {
			if d *= 2; d > 9 {
				d -= 9
			}
		}
		sum += d
	}
	return (10 - sum%10) % 10
}

func TestLOINCCheckDigits(t *testing.T) {
	t.Parallel()
	// 8332-9 is rectal temperature, and 8332-3 a misprint that went round.
	td.Cmp(t, luhn("8332"), 9)
	want := map[SignID]string{
		HeartRate: "8867-4", RespiratoryRate: "9279-1", RectalTemperature: "8332-9",
		CapillaryRefill: "44971-0", Weight: "29463-7",
	}
	got := map[SignID]string{}
	for _, s := range Catalogue() {
		if s.LOINC == "" {
			continue
		}
		got[s.ID] = s.LOINC
		number, check, ok := strings.Cut(s.LOINC, "-")
		td.CmpTrue(t, ok)
		td.Cmp(t, strconv.Itoa(luhn(number)), check, "%s: %s", s.ID, s.LOINC)
	}
	td.Cmp(t, got, want)
}

// Pairs printed in both scales must agree to the tenth (conversion exact, then rounded).
func TestPrintedPairsOfFahrenheitAndCelsius(t *testing.T) {
	t.Parallel()
	for _, p := range []struct {
		c, f   string
		agrees bool
		where  string
	}{
		{"37.8", "100", true, "Texas AgriLife 2009: 100 F"},
		{"37.2", "99.0", true, "Merck, stallions"}, {"38.1", "100.6", true, "Merck, stallions"},
		{"37.3", "99.1", true, "Merck, mares"}, {"38.2", "100.8", true, "Merck, mares"},
		{"37.2", "99", true, "neonatal outline"}, {"38.8", "101.8", true, "neonatal outline"},
		{"36.5", "97.7", true, "The Donkey Sanctuary"}, {"37.7", "99.9", true, "The Donkey Sanctuary"},
		{"36.4", "97.5", true, "Merck, donkey"}, {"38.4", "101.1", true, "Merck, donkey"},
		{"37", "98.5", false, "Devereux p. 35: 37 C is 98.6 F"}, {"38", "100.5", false, "Devereux p. 35: 38 C is 100.4 F"},
		{"36.5", "97.2", false, "WVS Academy: 36.5 C is 97.7 F"}, {"37.8", "100.0", true, "WVS Academy"},
	} {
		c, f := decimal.RequireFromString(p.c), decimal.RequireFromString(p.f)
		same := math.Round(inUnit(c, Celsius, Fahrenheit)*10) == math.Round(f.InexactFloat64()*10)
		td.Cmp(t, same, p.agrees, p.where)
	}
}

// ages puts a horse of every stage at one moment.
var testMoment = time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC)

func animal(ty Type, st Stage) Horse {
	born := map[Stage]time.Time{
		Newborn: testMoment, Neonate: testMoment.AddDate(0, 0, -4), Foal: testMoment.AddDate(0, -2, 0),
		Weanling: testMoment.AddDate(0, -8, 0), Yearling: testMoment.AddDate(-1, -3, 0),
		TwoYearOld: testMoment.AddDate(-2, -3, 0), Adult: testMoment.AddDate(-9, 0, 0), Senior: testMoment.AddDate(-24, 0, 0),
	}
	return Horse{ID: "h", Name: "Anis", Type: ty, Born: DateOf(born[st])}
}

func examOf(findings ...Finding) Exam {
	return Exam{ID: "e", Horse: "h", At: testMoment, Depth: Full, Purpose: Routine, Status: Finished,
		State: State{Condition: AtRest}, Findings: findings}
}

// valued is a finding of a measured sign at a value in a unit.
func valued(s Sign, x decimal.Decimal, u Unit) Finding {
	f := Finding{Sign: s.ID}
	if s.PerSite {
		f.Site = s.Sites[0].ID
	}
	if s.Kind == KindTimed {
		f.Timed = &Timed{CentiSeconds: []int{int(x.Shift(2).IntPart())}}
		return f
	}
	f.Reading = &Reading{Value: x, Unit: u}
	return f
}

func TestMiddleOfEveryPublishedRangeIsPossibleAndQuiet(t *testing.T) {
	t.Parallel()
	checked := 0
	for _, s := range Catalogue() {
		for i, r := range s.Ranges {
			low, high := r.Low.Decimal, r.High.Decimal
			mid := low.Add(high).DivRound(decimal.NewFromInt(2), 2)
			if !r.High.Valid {
				mid = low.Mul(decimal.RequireFromString("1.02"))
			}
			if !r.Low.Valid {
				mid = high.Mul(decimal.RequireFromString("0.98"))
				if s.Kind == KindTimed {
					mid = high.Div(decimal.NewFromInt(2))
				}
			}
			td.CmpTrue(t, !r.High.Valid || !r.Low.Valid || !low.GreaterThan(high), "%s %d: low over high", s.ID, i)
			types, stages := r.Types, r.Stages
			if len(types) == 0 {
				types = allTypes
			}
			if len(stages) == 0 {
				stages = allStages
			}
			for _, ty := range types {
				for _, st := range stages {
					h := animal(ty, st)
					if got, _ := h.StageAt(testMoment); got != st {
						t.Fatalf("%s is not %s but %s", h.Born, st, got)
					}
					e := examOf(valued(s, mid, r.Unit))
					td.Cmp(t, CheckExam(e, h), td.Empty(), "%s %s %s: %s %s", s.ID, ty, st, mid, r.Unit)
					td.Cmp(t, FiredAlarms(h, e), td.Empty(), "%s %s %s: %s %s", s.ID, ty, st, mid, r.Unit)
					checked++
				}
			}
		}
	}
	if checked < 150 {
		t.Errorf("only %d middles were checked", checked)
	}
}

func TestEveryStageOfAHorseHasAPublishedRange(t *testing.T) {
	t.Parallel()
	for _, id := range []SignID{HeartRate, RespiratoryRate, RectalTemperature} {
		s, _ := Lookup(id)
		for _, st := range allStages {
			td.Cmp(t, s.RangesFor(TypeHorse, st), td.NotEmpty(), "%s %s", id, st)
		}
	}
	// Measured in 41 healthy adults, it disagrees with the handbooks, and both stand (Hall 2019; Devereux p. 35).
	s, _ := Lookup(RectalTemperature)
	var lows []string
	for _, r := range s.RangesFor(TypeHorse, Adult) {
		lows = append(lows, r.Low.Decimal.String())
	}
	td.Cmp(t, lows, td.SuperBagOf("36", "37", "99", "37.5", "99.5"))
}

// Most published ranges were read in a text, or in a copy that names it. What is left from memory is of animals
// for which no such text was found: ponies' heart rate, weanlings to two-year-olds, donkeys' temperature.
func TestFewRangesAreFromMemory(t *testing.T) {
	t.Parallel()
	n := 0
	for _, s := range Catalogue() {
		for _, r := range s.Ranges {
			if r.Mark == Memory {
				n++
				td.Cmp(t, r.Note, td.HasPrefix(fromMemory), "%s %s", s.ID, r.Source)
			}
		}
	}
	td.Cmp(t, n, td.Lte(10))
}

// Where a hand goes, the caution of that place stands at the step, and where to stand at every step of a hand.
func TestCautionsStandAtTheirSteps(t *testing.T) {
	t.Parallel()
	at := map[SectionID][]CautionID{
		SectionMouth: {"teeth"}, SectionFeet: {"feet", "hind-end"}, SectionTemperature: {"thermometer-stand", "thermometer-string", "thermometer-never-force", "wash-thermometer", "wash-hands"},
		SectionSkin: {"stand"}, SectionGut: {"stand", "hind-end"}, SectionMuscle: {"hind-end"}, SectionBody: {"stand"},
	}
	for _, s := range Catalogue() {
		for _, c := range at[s.Section] {
			td.CmpTrue(t, slices.Contains(s.Cautions, c), "%s: no caution %s", s.ID, c)
		}
		// A rate can be counted from afar.
		if s.Depth != WalkUp && len(s.Cautions) == 0 {
			t.Errorf("%s: no caution", s.ID)
		}
	}
	first := Catalogue()[0]
	for _, c := range []CautionID{"before-anything", "down-quiet", "down-thrashing", "cast-or-trapped"} {
		td.CmpTrue(t, slices.Contains(first.Cautions, c), "the first step lacks %s", c)
	}
}
