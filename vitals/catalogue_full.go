package vitals

import "github.com/shopspring/decimal"

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
