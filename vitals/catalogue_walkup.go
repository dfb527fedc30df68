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
				answer("bright", 0), answer("quiet", 1), answer("dull", 2), answer("anxious", 2),
				closing("down-not-rising", 3), closing("down-thrashing", 4),
			},
			Bad: Upward, Telling: true,
			Cautions: ids[CautionID]("before-anything", "down-quiet", "down-thrashing", "cast-or-trapped", "stallion-mare-young", "sedated"),
			Remarks:  remarks("donkey-hides", "foal-milestones"),
		},
		{
			ID: HeadCarriage, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   []Grade{answer("usual", 0), answer("low", 1), answer("tilted", 2), answer("stretched", 2)},
			Bad:      Upward,
			Cautions: ids[CautionID]("unsteady"),
		},
		{
			ID: Coat, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{only("smooth", 0), answer("staring", 1), answer("sweating", 2)},
			Where:  ids[SiteID]("all-over", "neck", "shoulder", "flank", "between-hind-legs"),
			Bad:    Upward,
		},
		{
			ID: Wounds, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: []Grade{answer("none", 0), answer("slight", 1), answer("heavy", 2)},
			Where: ids[SiteID]("head", "neck", "chest", "shoulder", "back", "belly", "flank", "hindquarters",
				"fore-left", "fore-right", "hind-left", "hind-right"),
			Bad: Upward,
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
			Grades:   []Grade{answer("usual", 0), answer("less", 1), answer("none", 2)},
			Bad:      Upward,
			Remarks:  remarks("donkey-hides"),
			Cautions: ids[CautionID]("while-waiting"),
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
