package vitals

// The order of grades and their ranks are ours (assumed): no published scale covers these
// answers. Rank 0 is what a healthy horse shows to a handler who passes by.

var limbs = list[SiteID]("fore-left fore-right hind-left hind-right")

// walkUpSigns are seen from outside the stall or fence.
func walkUpSigns() []Sign {
	return []Sign{
		{
			ID: Attitude, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: answers("bright 0, quiet 1, dull 2, anxious 2, odd 3, closing down-not-rising 3, closing down-thrashing 4"),
			Bad:    Upward, Telling: true,
			Cautions: list[CautionID]("before-anything down-quiet down-thrashing cast-or-trapped stallion-mare-young sedated"),
			Remarks:  remarks("donkey-hides"),
		},
		{
			ID: HeadCarriage, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   answers("usual 0, low 1, tilted 2, stretched 2"),
			Bad:      Upward,
			Cautions: list[CautionID]("unsteady"),
		},
		{
			ID: Coat, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: answers("only smooth 0, staring 1, bumps 1, sweating 2, cold-sweat 2, hot-dry 2"),
			Where:  list[SiteID]("all-over neck shoulder flank between-hind-legs"),
			Bad:    Upward,
		},
		{
			ID: Wounds, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: answers("none 0, slight 1, heavy 2"),
			Where:  list[SiteID]("head neck chest shoulder back belly flank hindquarters fore-left fore-right hind-left hind-right"),
			Bad:    Upward,
		},
		{
			ID: WoundPlace, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   answers("only none 0, joint 2, tendon 2, eye 2, chest-belly 2, foot 2, deep 2, fluid 3, object 3"),
			Bad:      Upward,
			Cautions: list[CautionID]("wound-leave"),
		},
		{
			ID: Eye, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   answers("only clear 0, weeping 1, half-shut 2, shut 2, swollen 2, third-eyelid 2, cloudy 3, injured 3"),
			Where:    list[SiteID]("eye-left eye-right"),
			Bad:      Upward,
			Cautions: list[CautionID]("eye-side"),
		},
		{
			ID: Swelling, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   answers("only none 0, pair-cool 1, cool 1, hot 2, hot-large 3"),
			Where:    list[SiteID]("throat face neck chest belly sheath-udder back fore-left fore-right hind-left hind-right"),
			Bad:      Upward,
			Cautions: list[CautionID]("hind-end"),
		},
		{
			ID: LimbLoad, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   answers("even 0, resting 1, pointing 2, no-weight 3"),
			Where:    limbs,
			Bad:      Upward,
			Telling:  true,
			Cautions: list[CautionID]("do-not-walk"),
		},
		{
			ID: Stance, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: answers("square 0, parked-out 1, straddled 2, tucked-up 2, rocked-back 2"),
			Bad:    Upward,
		},
		{
			ID: Doing, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: answers("eating 0, standing 0, moving 0, lying 0, rolling 1, pawing 1, watching-flank 2"),
			Bad:    Upward, Telling: true,
			Cautions: list[CautionID]("down-thrashing"),
		},
		{
			ID: DoingUsual, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: answers("usual 0, unusual 1"),
			Bad:    Upward,
		},
		{
			ID: PainSigns, Kind: KindChoice, Depth: WalkUp, Section: SectionPain, Methods: byChoice,
			Grades: answers("only none 0, lies-more 1, leaves-feed 1, lip-curl 1, plays-in-water 1, watches-flank 1, paws 2, " +
				"stretches-out 2, kicks-belly 2, bites-belly 2, groans 2, bloated 2, up-and-down 3, rolls 3, " +
				"sits-like-a-dog 3, on-its-back 3, eased-suddenly 3"),
			Bad: Upward, Telling: true,
			Cautions: list[CautionID]("down-thrashing"),
			Remarks:  remarks("colic-signs-late", "donkey-hides"),
		},
		{
			ID: Gait, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: answers("only free 0, short 1, lame 2, stiff 2, will-not-walk 3, staggers 3"),
			Bad:    Upward, Telling: true,
			Cautions: list[CautionID]("do-not-walk unsteady"),
		},
		{
			ID: Turn, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   answers("easy 0, sore 1, crosses 2"),
			Bad:      Upward,
			Cautions: list[CautionID]("do-not-walk unsteady"),
		},
		{
			ID: Sway, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   answers("steady 0, shifting 1, sways 2, falls 3"),
			Bad:      Upward,
			Cautions: list[CautionID]("unsteady"),
		},
		{
			ID: Cooling, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: answers("recovering 0, slow 1, not-recovering 3"),
			Bad:    Upward, Telling: true,
			Applies: &Applies{AfterWork: true},
		},
		{
			ID: Foaling, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades: answers("none 0, restless 1, waters 2, white-bag 2, feet-and-nose 2, red-bag 3, wrong 3, stuck 3"),
			Bad:    Upward, Telling: true,
			Cautions: list[CautionID]("foaling-mare"),
			Applies:  &Applies{Broodmare: true},
		},
		{
			ID: Afterbirth, Kind: KindGrade, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   answers("out 0, hanging 1, late 2, torn 2"),
			Bad:      Upward,
			Cautions: list[CautionID]("afterbirth-never-pull"),
			Applies:  &Applies{Broodmare: true},
		},
		{
			ID: Vulva, Kind: KindChoice, Depth: WalkUp, Section: SectionLook, Methods: byChoice,
			Grades:   answers("only usual 0, slack 0, discharge 2, blood 2, tear 2"),
			Bad:      Upward,
			Cautions: list[CautionID]("hind-end wash-hands"),
			Applies:  &Applies{Broodmare: true},
		},
		{
			ID: Droppings, Kind: KindChoice, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades: answers("only usual 0, few 1, dry 1, loose 1, only none 2"),
			Bad:    Upward, Telling: true,
		},
		{
			ID: Water, Kind: KindGrade, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades:  answers("usual 0, less 1, more 1, none 2"),
			Bad:     Either,
			Remarks: remarks("offer-water"),
		},
		{
			ID: Feed, Kind: KindGrade, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades:  answers("usual 0, less 1, none 2"),
			Bad:     Upward,
			Remarks: remarks("donkey-hides"),
		},
		{
			ID: Swallowing, Kind: KindChoice, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades: answers("only usual 0, drops-feed 1, gulps 2, drools 2, cannot 3, feed-at-nose 3, milk-at-nose 3"),
			Bad:    Upward, Telling: true,
			Cautions: list[CautionID]("no-hands-in-mouth"),
		},
		{
			ID: Urine, Kind: KindChoice, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades: answers("only usual 0, dark 2, strains 2, none 2"),
			Bad:    Upward,
		},
		{
			ID: FirstHours, Kind: KindChoice, Depth: WalkUp, Section: SectionIntake, Methods: byChoice,
			Grades: answers("only done 0, not-on-chest 2, no-suck-reflex 2, not-standing 2, not-nursed 2, no-dung 2, no-urine 2"),
			Bad:    Upward, Telling: true,
			Cautions: list[CautionID]("foal-and-mare"),
			Remarks:  remarks("foal-milestones"),
			Applies:  &Applies{Stages: []Stage{Newborn}},
		},
		{
			ID: Lately, Kind: KindChoice, Depth: WalkUp, Section: SectionIntake, Methods: byChoice, Context: true,
			Grades: answers("only none 0, contact 1, journey 1, vaccine 1, others-ill 1, feed-raid 2, ate-harmful 2, bite 1, operation 1"),
			Bad:    Upward,
		},
		{
			ID: RespiratoryEffort, Kind: KindGrade, Depth: WalkUp, Section: SectionBreathing, Methods: byChoice,
			Grades: answers("easy 0, flared 1, pushing 2, struggling 3"),
			Bad:    Upward, Telling: true,
			Cautions: list[CautionID]("foal-and-mare"),
		},
		{
			ID: Nostrils, Kind: KindGrade, Depth: WalkUp, Section: SectionBreathing, Methods: byChoice,
			Grades:   answers("dry 0, clear 0, coloured 1, bloody 2, froth 3, blood-flows 3"),
			Where:    list[SiteID]("nostril-left nostril-right"),
			Bad:      Upward,
			Cautions: list[CautionID]("wash-hands sick-last"),
		},
		{
			ID: Cough, Kind: KindGrade, Depth: WalkUp, Section: SectionBreathing, Methods: byChoice,
			Grades: answers("none 0, few 1, often 2"),
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
