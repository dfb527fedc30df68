package vitals

// The order of grades and their ranks are ours (assumed): no published scale covers these
// answers. Rank 0 is what a healthy horse shows to a handler who passes by.

var limbs = ids[SiteID]("fore-left", "fore-right", "hind-left", "hind-right")

// walkUpSigns are seen from outside the stall or fence.
func walkUpSigns() []Sign {
	return []Sign{
		{
			ID: Attitude, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{
				answer("bright", 0), answer("quiet", 1), answer("dull", 2), answer("anxious", 2), answer("odd", 3),
				closing("down-not-rising", 3), closing("down-thrashing", 4),
			},
			Bad: Upward, Telling: true,
			Cautions: ids[CautionID]("before-anything", "down-quiet", "down-thrashing", "cast-or-trapped", "stallion-mare-young", "sedated"),
			Remarks:  remarks("donkey-hides"),
		},
		{
			ID: HeadCarriage, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   []Grade{answer("usual", 0), answer("low", 1), answer("tilted", 2), answer("stretched", 2)},
			Bad:      Upward,
			Cautions: ids[CautionID]("unsteady"),
		},
		{
			ID: Coat, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{only("smooth", 0), answer("staring", 1), answer("bumps", 1), answer("sweating", 2),
				answer("cold-sweat", 2), answer("hot-dry", 2)},
			Where: ids[SiteID]("all-over", "neck", "shoulder", "flank", "between-hind-legs"),
			Bad:   Upward,
		},
		{
			ID: Wounds, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{answer("none", 0), answer("slight", 1), answer("heavy", 2)},
			Where: ids[SiteID]("head", "neck", "chest", "shoulder", "back", "belly", "flank", "hindquarters",
				"fore-left", "fore-right", "hind-left", "hind-right"),
			Bad: Upward,
		},
		{
			ID: WoundPlace, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{only("none", 0), answer("joint", 2), answer("tendon", 2), answer("eye", 2), answer("chest-belly", 2),
				answer("foot", 2), answer("deep", 2), answer("fluid", 3), answer("object", 3)},
			Bad:      Upward,
			Cautions: ids[CautionID]("wound-leave"),
		},
		{
			ID: Eye, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{only("clear", 0), answer("weeping", 1), answer("half-shut", 2), answer("shut", 2), answer("swollen", 2),
				answer("third-eyelid", 2), answer("cloudy", 3), answer("injured", 3)},
			Where:    ids[SiteID]("eye-left", "eye-right"),
			Bad:      Upward,
			Cautions: ids[CautionID]("eye-side"),
		},
		{
			ID: Swelling, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{only("none", 0), answer("pair-cool", 1), answer("cool", 1), answer("hot", 2), answer("hot-large", 3)},
			Where: ids[SiteID]("throat", "face", "neck", "chest", "belly", "sheath-udder", "back",
				"fore-left", "fore-right", "hind-left", "hind-right"),
			Bad:      Upward,
			Cautions: ids[CautionID]("hind-end"),
		},
		{
			ID: LimbLoad, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   []Grade{answer("even", 0), answer("resting", 1), answer("pointing", 2), answer("no-weight", 3)},
			Where:    limbs,
			Bad:      Upward,
			Telling:  true,
			Cautions: ids[CautionID]("do-not-walk"),
		},
		{
			ID: Stance, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{answer("square", 0), answer("parked-out", 1), answer("straddled", 2),
				answer("tucked-up", 2), answer("rocked-back", 2)},
			Bad: Upward,
		},
		{
			ID: Doing, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{answer("eating", 0), answer("standing", 0), answer("moving", 0), answer("lying", 0),
				answer("rolling", 1), answer("pawing", 1), answer("watching-flank", 2)},
			Bad: Upward, Telling: true,
			Cautions: ids[CautionID]("down-thrashing"),
		},
		{
			ID: DoingUsual, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{answer("usual", 0), answer("unusual", 1)},
			Bad:    Upward,
		},
		{
			ID: PainSigns, Kind: KindChoice, Depth: WalkUp, Section: SectionPain, Methods: byChoice,
			Grades: []Grade{
				only("none", 0), answer("lies-more", 1), answer("leaves-feed", 1), answer("lip-curl", 1),
				answer("plays-in-water", 1), answer("watches-flank", 1), answer("paws", 2), answer("stretches-out", 2),
				answer("kicks-belly", 2), answer("bites-belly", 2), answer("groans", 2), answer("bloated", 2),
				answer("up-and-down", 3), answer("rolls", 3), answer("sits-like-a-dog", 3), answer("on-its-back", 3),
				answer("eased-suddenly", 3),
			},
			Bad: Upward, Telling: true,
			Cautions: ids[CautionID]("down-thrashing"),
			Remarks:  remarks("colic-signs-late", "donkey-hides"),
		},
		{
			ID: Gait, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{only("free", 0), answer("short", 1), answer("lame", 2), answer("stiff", 2), answer("will-not-walk", 3),
				answer("staggers", 3)},
			Bad: Upward, Telling: true,
			Cautions: ids[CautionID]("do-not-walk", "unsteady"),
		},
		{
			ID: Turn, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   []Grade{answer("easy", 0), answer("sore", 1), answer("crosses", 2)},
			Bad:      Upward,
			Cautions: ids[CautionID]("do-not-walk", "unsteady"),
		},
		{
			ID: Sway, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   []Grade{answer("steady", 0), answer("shifting", 1), answer("sways", 2), answer("falls", 3)},
			Bad:      Upward,
			Cautions: ids[CautionID]("unsteady"),
		},
		{
			ID: Cooling, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{answer("recovering", 0), answer("slow", 1), answer("not-recovering", 3)},
			Bad:    Upward, Telling: true,
			Applies: &Applies{AfterWork: true},
		},
		{
			ID: Foaling, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{answer("none", 0), answer("restless", 1), answer("waters", 2), answer("white-bag", 2),
				answer("feet-and-nose", 2), answer("red-bag", 3), answer("wrong", 3), answer("stuck", 3)},
			Bad: Upward, Telling: true,
			Cautions: ids[CautionID]("foaling-mare"),
			Applies:  &Applies{Broodmare: true},
		},
		{
			ID: Afterbirth, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   []Grade{answer("out", 0), answer("hanging", 1), answer("late", 2), answer("torn", 2)},
			Bad:      Upward,
			Cautions: ids[CautionID]("afterbirth-never-pull"),
			Applies:  &Applies{Broodmare: true},
		},
		{
			ID: Vulva, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   []Grade{only("usual", 0), answer("slack", 0), answer("discharge", 2), answer("blood", 2), answer("tear", 2)},
			Bad:      Upward,
			Cautions: ids[CautionID]("hind-end", "wash-hands"),
			Applies:  &Applies{Broodmare: true},
		},
		{
			ID: Droppings, Kind: KindChoice, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades: []Grade{only("usual", 0), answer("few", 1), answer("dry", 1), answer("loose", 1), only("none", 2)},
			Bad:    Upward, Telling: true,
		},
		{
			ID: Water, Kind: KindGrade, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades:  []Grade{answer("usual", 0), answer("less", 1), answer("more", 1), answer("none", 2)},
			Bad:     Either,
			Remarks: remarks("offer-water"),
		},
		{
			ID: Feed, Kind: KindGrade, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades:  []Grade{answer("usual", 0), answer("less", 1), answer("none", 2)},
			Bad:     Upward,
			Remarks: remarks("donkey-hides"),
		},
		{
			ID: Swallowing, Kind: KindChoice, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades: []Grade{only("usual", 0), answer("drops-feed", 1), answer("gulps", 2), answer("drools", 2), answer("cannot", 3),
				answer("feed-at-nose", 3), answer("milk-at-nose", 3)},
			Bad: Upward, Telling: true,
			Cautions: ids[CautionID]("no-hands-in-mouth"),
		},
		{
			ID: Urine, Kind: KindChoice, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades: []Grade{only("usual", 0), answer("dark", 2), answer("strains", 2), answer("none", 2)},
			Bad:    Upward,
		},
		{
			ID: FirstHours, Kind: KindChoice, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades: []Grade{only("done", 0), answer("not-on-chest", 2), answer("no-suck-reflex", 2), answer("not-standing", 2),
				answer("not-nursed", 2), answer("no-dung", 2), answer("no-urine", 2)},
			Bad: Upward, Telling: true,
			Cautions: ids[CautionID]("foal-and-mare"),
			Remarks:  remarks("foal-milestones"),
			Applies:  &Applies{Stages: []Stage{Newborn}},
		},
		{
			ID: Lately, Kind: KindChoice, Depth: WalkUp, Section: SectionIntake, Methods: byChoice, Context: true,
			Grades: []Grade{only("none", 0), answer("contact", 1), answer("journey", 1), answer("vaccine", 1), answer("others-ill", 1)},
			Bad:    Upward,
		},
		{
			ID: RespiratoryEffort, Kind: KindGrade, Depth: WalkUp, Section: SectionBreathing, Methods: byChoice,
			Grades: []Grade{answer("easy", 0), answer("flared", 1), answer("pushing", 2), answer("struggling", 3)},
			Bad:    Upward, Telling: true,
			Cautions: ids[CautionID]("foal-and-mare"),
		},
		{
			ID: Nostrils, Kind: KindGrade, Depth: WalkUp, Section: SectionBreathing, Methods: byChoice,
			Grades: []Grade{answer("dry", 0), answer("clear", 0), answer("coloured", 1), answer("bloody", 2), answer("froth", 3),
				answer("blood-flows", 3)},
			Where:    ids[SiteID]("nostril-left", "nostril-right"),
			Bad:      Upward,
			Cautions: ids[CautionID]("wash-hands", "sick-last"),
		},
		{
			ID: Cough, Kind: KindGrade, Depth: WalkUp, Section: SectionBreathing, Methods: byChoice,
			Grades: []Grade{answer("none", 0), answer("few", 1), answer("often", 2)},
			Bad:    Upward,
		},
		{
			ID: RespiratoryRate, Kind: KindRate, Depth: WalkUp, Section: SectionBreathing, Unit: PerMinute,
			Sites:   append(at(WalkUp, "afar"), at(HandsOn, "flank", "nostril")...),
			Again:   true,
			Methods: byRate,
			Span:    span("2", "240", "below any resting figure and above panting; wide on purpose"),
			Ranges:  respiratoryRateRanges(),
			Bad:     Upward, Telling: true,
			Remarks: remarks("breathing-first", "breathing-scatter"),
			LOINC:   "9279-1",
		},
	}
}
