package vitals

import (
	"github.com/shopspring/decimal"
)

// handsOnSigns need no equipment. Ranks as in catalogue_walkup.go (assumed).
func handsOnSigns() []Sign {
	// Hind limbs are handled only while somebody holds the horse (cautions "alone", "feet").
	feet := append(at(HandsOn, "fore-left", "fore-right"), with(NeedHelper, at(HandsOn, "hind-left", "hind-right"))...)
	return []Sign{
		{
			ID: GumColour, Kind: KindGrade, Depth: HandsOn, Section: SectionMouth, Methods: byChoice,
			Grades: answers("pink 0, pale-pink 1, yellow 2, white 3, brick-red 3, purple 3, blue 3"),
			Bad:    Upward, Telling: true,
			Cautions: list[CautionID]("alone approach teeth young-bite stand wash-hands"),
			Remarks:  remarks("gums-usual", "gums-pigment"),
		},
		{
			ID: DarkRim, Kind: KindGrade, Depth: HandsOn, Section: SectionMouth, Methods: byChoice,
			Grades:   answers("none 0, present 2"),
			Bad:      Upward,
			Cautions: list[CautionID]("teeth young-bite"),
		},
		{
			ID: GumMoisture, Kind: KindGrade, Depth: HandsOn, Section: SectionMouth, Methods: byChoice,
			Grades:   answers("wet 0, tacky 1, dry 2"),
			Bad:      Upward,
			Remarks:  remarks("gum-moisture-weak"),
			Cautions: list[CautionID]("teeth young-bite wash-hands"),
		},
		{
			ID: CapillaryRefill, Kind: KindTimed, Depth: HandsOn, Section: SectionMouth, Unit: Second, Places: 1,
			Methods: byTimer,
			Span:    span("0.1", "20", "a thumb cannot stop a watch sooner; longer is a forgotten watch"),
			Ranges:  capillaryRefillRanges(),
			Bad:     Upward, Telling: true,
			Cautions: list[CautionID]("teeth young-bite stand"),
			Remarks:  remarks("refill-observers"),
			LOINC:    "44971-0",
		},
		{
			ID: SkinTent, Kind: KindTimed, Depth: HandsOn, Section: SectionSkin, Unit: Second, Places: 1,
			Sites: append(at(HandsOn, "eyelid", "shoulder"), Site{ID: "neck", Depth: HandsOn, Weak: &Provenance{
				Source: "pritchard-2008", Mark: Read,
				Note: "site, side and wet coat all change the result; that the neck is the least reliable is common practice",
			}}),
			PerSite: true, AnySite: true,
			Methods:  byTimer,
			Span:     span("0.1", "60", "a thumb cannot stop a watch sooner; longer is a forgotten watch"),
			Bad:      Upward,
			Remarks:  remarks("skin-tent-weak", "skin-tent-observers", "skin-tent-same-place"),
			Cautions: list[CautionID]("stand approach"),
		},
		{
			ID: HeartRate, Kind: KindRate, Depth: HandsOn, Section: SectionHeart, Unit: PerMinute,
			Sites:   append(at(HandsOn, "jaw", "digital-artery"), with(NeedStethoscope, at(Full, "chest-left"))...),
			Methods: byRate,
			Span: span("10", "260", "colic patients at rest were seen at 18 to 125 (Curtis 2015); "+
				"about 240 at full gallop is from memory"),
			Ranges: heartRateRanges(),
			Bad:    Upward, Telling: true,
			Cautions: list[CautionID]("stand feet"),
			Remarks:  remarks("heart-fit", "heart-count"),
			LOINC:    "8867-4",
		},
		{
			ID: PulseStrength, Kind: KindGrade, Depth: HandsOn, Section: SectionHeart, Methods: byChoice,
			Grades:   answers("usual 0, strong 1, weak 2, not-felt 3"),
			Bad:      Upward,
			Cautions: list[CautionID]("stand"),
			Remarks:  remarks("pulse-weak"),
		},
		{
			ID: LimbWarmth, Kind: KindGrade, Depth: HandsOn, Section: SectionHeart, Methods: byChoice,
			Grades:   answers("usual 0, warm 1, cool 1, cold 2"),
			Bad:      Upward,
			Cautions: list[CautionID]("feet hind-end"),
		},
		{
			ID: DigitalPulse, Kind: KindGrade, Depth: HandsOn, Section: SectionFeet, Methods: byChoice,
			Sites: feet, PerSite: true,
			Grades:   answers("faint 0, easy 1, bounding 2"),
			Bad:      Upward,
			Cautions: list[CautionID]("feet hind-end do-not-walk"),
			Remarks:  remarks("digital-pulse-faint"),
		},
		{
			ID: HoofWarmth, Kind: KindGrade, Depth: HandsOn, Section: SectionFeet, Methods: byChoice,
			Sites: feet, PerSite: true,
			Grades:   answers("cool 0, warm 1, hot 2"),
			Bad:      Upward,
			Cautions: list[CautionID]("feet hind-end"),
		},
		{
			ID: GutSounds, Kind: KindGrade, Depth: HandsOn, Section: SectionGut, Methods: byChoice,
			Sites: append(at(HandsOn, "flank-left", "flank-right"), with(NeedStethoscope,
				at(Full, "gut-upper-left", "gut-lower-left", "gut-upper-right", "gut-lower-right"))...),
			PerSite: true,
			Grades:  answers("none 2, less 1, usual 0, more 1"),
			Bad:     Either, Telling: true,
			Cautions: list[CautionID]("stand flank-ear hind-end"),
			Remarks:  remarks("gut-observers", "gut-waves", "gut-mixing"),
		},
		{
			ID: Udder, Kind: KindGrade, Depth: HandsOn, Section: SectionBody, Methods: byChoice,
			Grades:   answers("usual 0, filling 1, wax 1, dripping 1, full 2, hot 2"),
			Bad:      Upward,
			Cautions: list[CautionID]("stand flank-ear hind-end"),
			Applies:  &Applies{Broodmare: true},
		},
		{
			ID: Navel, Kind: KindChoice, Depth: HandsOn, Section: SectionBody, Methods: byChoice,
			Grades:   answers("only dry 0, wet 2, swollen 2"),
			Bad:      Upward,
			Cautions: list[CautionID]("stand foal-and-mare wash-hands"),
			Applies:  &Applies{Stages: []Stage{Newborn, Neonate, Foal}},
		},
		{
			ID: Joints, Kind: KindChoice, Depth: HandsOn, Section: SectionBody, Methods: byChoice,
			Grades:   answers("only flat 0, full 2, hot 3"),
			Where:    list[SiteID]("knee hock stifle fetlock"),
			Bad:      Upward,
			Cautions: list[CautionID]("stand foal-and-mare"),
			Applies:  &Applies{Stages: []Stage{Newborn, Neonate, Foal}},
		},
	}
}

// fullSigns need a stethoscope, a thermometer or a tape. Ranks as in catalogue_walkup.go (assumed).
func fullSigns() []Sign {
	return []Sign{
		{
			ID: HeartRhythm, Kind: KindGrade, Depth: Full, Section: SectionHeart, Methods: byChoice,
			Grades:   answers("regular 0, pauses 1, irregular 2"),
			Bad:      Upward,
			Needs:    []Need{NeedStethoscope},
			Cautions: list[CautionID]("stand"),
			Remarks:  remarks("dropped-beats"),
			// A LOINC code for rhythm is left out: it was not checked against the source.
		},
		{
			ID: GutOrder, Kind: KindGrade, Depth: Full, Section: SectionGut, Methods: byChoice,
			Grades:   answers("orderly 0, haphazard 1"),
			Bad:      Upward,
			Needs:    []Need{NeedStethoscope},
			Cautions: list[CautionID]("stand flank-ear hind-end"),
		},
		{
			ID: LungSounds, Kind: KindChoice, Depth: Full, Section: SectionBreathing, Methods: byChoice,
			Sites: at(Full, "lung-left", "lung-right"), PerSite: true,
			Grades:   answers("only usual 0, quieter 1, wheeze 2, crackle 2"),
			Bad:      Upward,
			Needs:    []Need{NeedStethoscope},
			Cautions: list[CautionID]("stand"),
		},
		{
			ID: JugularRefill, Kind: KindTimed, Depth: Full, Section: SectionHeart, Unit: Second, Places: 1,
			Methods:  byTimer,
			Span:     span("0.1", "60", "a thumb cannot stop a watch sooner; longer is a forgotten watch"),
			Bad:      Upward,
			Cautions: list[CautionID]("stand"),
			Remarks:  remarks("jugular-several", "jugular-taught", "jugular-waves"),
		},
		{
			ID: RectalTemperature, Kind: KindTemperature, Depth: Full, Section: SectionTemperature, Unit: Celsius, Places: 1,
			Methods: []Method{ByReading},
			Span:    span("30", "44", "a chilled newborn to the worst heat stroke, with room; beyond it the thermometer was misread"),
			Ranges:  temperatureRanges(),
			Bad:     Either, Telling: true,
			Needs:    []Need{NeedThermometer, NeedHelper},
			Cautions: list[CautionID]("thermometer-stand thermometer-string thermometer-never-force thermometer-donkey wash-thermometer wash-hands"),
			Remarks:  remarks("thermometer-makes", "thermometer-depth", "no-contact-low", "evening-warmer", "event-fever"),
			LOINC:    "8332-9",
		},
		{
			ID: Muscle, Kind: KindChoice, Depth: Full, Section: SectionMuscle, Methods: byChoice,
			Sites: at(Full, "back-left", "back-right", "thigh-left", "thigh-right",
				"hindquarter-left", "hindquarter-right", "inner-thigh-left", "inner-thigh-right"),
			PerSite:  true,
			Grades:   answers("only usual 0, soft 1, hard 2, painful 2"),
			Bad:      Upward,
			Needs:    []Need{NeedHelper},
			Cautions: list[CautionID]("hind-end do-not-walk"),
		},
		{
			ID: Weight, Kind: KindWeight, Depth: Full, Section: SectionBody, Unit: Kilogram,
			Methods:  []Method{ByGirth, ByReading},
			Span:     span("5", "1500", "a miniature foal to the heaviest draft horse, with room"),
			Bad:      Either,
			Needs:    []Need{NeedTape},
			Cautions: list[CautionID]("stand"),
			LOINC:    "29463-7",
		},
		{
			ID: BodyCondition, Kind: KindScore, Depth: Full, Section: SectionBody, Unit: One, Places: 1,
			Methods: []Method{ByReading},
			Span: &Span{decimal.New(1, 0), decimal.New(9, 0), Provenance{Source: "henneke-1983", Mark: SecondHand,
				Note: "the scale as Wikipedia tells it"}},
			Bad:      Either,
			Cautions: list[CautionID]("stand"),
		},
	}
}
