package vitals

// gumRules are on gums, pulse, limbs and how fast colour and water come back.
func gumRules() []*Alarm {
	malone := func(note string) *Provenance { return readIn("malone-2012", note) }
	slow := above(CapillaryRefill, "2.5", Second)
	pale := is(GumColour, "pale-pink", "yellow")
	return []*Alarm{
		now("gum-colour", ProblemCirculation, is(GumColour, "white", "brick-red", "blue"), readIn("ucdavis-vmth", "red, white or blue")),
		now("gum-purple", ProblemCirculation, is(GumColour, "purple"), readIn("uci-colic-1989", "dark cyanotic")),
		again("gum-pale", ProblemCirculation, is(GumColour, "pale-pink"), 60, RingSoon, practice("")),
		soon("gum-pale-tacky", ProblemCirculation, is(GumColour, "pale-pink"), ours("two gum signs together")).with(is(GumMoisture, "tacky", "dry")),
		now("gum-pale-and-more", ProblemCirculation, is(GumColour, "pale-pink"), readIn("devereux", "p. 957, after foaling; bleeding and a fast heart are ours")).
			beside(is(Wounds, "heavy"), from(HeartRate, "100", PerMinute), minutes(SinceFoaling, 0, 48*60), is(Nostrils, "blood-flows"), is(Vulva, "blood"),
				fact(OffColour), slow, is(PulseStrength, "weak", "not-felt")),
		now("gum-pale-heart", ProblemCirculation, is(GumColour, "pale-pink"), derived("devereux", "p. 957; the heart beside it is ours")).
			of(&grownHorses).with(from(HeartRate, "60", PerMinute)).unless(fact(Working)),
		again("gum-yellow", ProblemCirculation, is(GumColour, "yellow"), 720, RingSoon, readIn("central-lakes", "half a day unfed commonly yellows; one practice's page")).of(&olderAnimals),
		now("gum-yellow-and-more", ProblemCirculation, is(GumColour, "yellow"), practice("a lay page names jaundice with weakness")).
			of(&olderAnimals).beside(fact(OffColour), fact(OffFeed), is(Urine, "dark"), is(Attitude, "quiet")),
		now("foal-gum-yellow", ProblemFoal, is(GumColour, "yellow"), readIn("lenz-aqha", "white or yellow")).of(&foals),
		now("gum-colour-pain", ProblemBelly, pale, malone("off colour, with signs of colic")).with(fact(InPain)),
		now("dark-rim-pain", ProblemBelly, is(DarkRim, "present"), malone("off colour, with signs of colic; that the rim is off colour is our reading")).with(fact(InPain)),
		again("dark-rim", ProblemCirculation, is(DarkRim, "present"), 60, RingSoon, practice("old horses with sore gums have one too")),
		now("dark-rim-and-more", ProblemGut, is(DarkRim, "present"), practice("a dark rim with a sign of the gut or the blood; popular veterinary pages name it")).
			beside(is(Droppings, "loose"), warm(), fact(OffColour), fact(OffFeed), slow, is(Attitude, "quiet")),
		now("dark-rim-heart", ProblemGut, is(DarkRim, "present"), readIn("oglesby-colitis", "an early rise of the heart rate; the limit is ours")).
			of(&grownHorses).with(from(HeartRate, "48", PerMinute)).unless(fact(Working)),
		now("gum-moisture-pain", ProblemBelly, is(GumMoisture, "tacky", "dry"), malone("tacky, with signs of colic")).with(fact(InPain)),
		again("gum-dry", ProblemCirculation, is(GumMoisture, "dry"), 60, RingSoon, practice("")),
		now("gum-dry-and-more", ProblemCirculation, is(GumMoisture, "dry"), ours("dry gums with no water, loose droppings or dullness")).
			beside(is(Water, "none"), is(Droppings, "loose"), fact(OffColour)),
		soon("refill-slow", ProblemCirculation, slow, readIn("curtis-2015", "odds ratio 3.21 (1.02 to 10.1) of a critical colic")),
		now("refill-slow-pain", ProblemBelly, slow, readIn("curtis-2015", "the threshold; that a long refill with signs of colic is for now is Malone 2012")).with(fact(InPain)),
		now("refill-very-slow", ProblemCirculation, above(CapillaryRefill, "3", Second), readIn("latitude36", "over 3 s; one practice's page; Devereux p. 720 prints within three seconds")),
		now("pulse-weak-pain", ProblemBelly, is(PulseStrength, "weak", "not-felt"), readIn("curtis-2015", "a weak pulse, odds ratio 2.90 (1.39 to 5.99) of a critical colic")).with(fact(InPain)),
		soon("pulse-weak", ProblemCirculation, is(PulseStrength, "weak"), derived("curtis-2015", "a weak pulse without other signs is told")),
		again("pulse-not-felt", ProblemCirculation, is(PulseStrength, "not-felt"), 2, RingSoon, practice("the artery is often only missed; feel at another place first")),
		now("pulse-not-felt-and-more", ProblemCirculation, is(PulseStrength, "not-felt"), practice("")).
			beside(is(LimbWarmth, "cold"), is(GumColour, "pale-pink", "yellow", "white", "brick-red", "purple", "blue"), fact(OffColour), slow),
		now("pulse-not-felt-heart", ProblemCirculation, is(PulseStrength, "not-felt"), practice("")).
			of(&grownHorses).with(from(HeartRate, "48", PerMinute)).unless(fact(Working)),
		again("limbs-cold", ProblemCirculation, is(LimbWarmth, "cold"), 30, RingSoon, practice("")).unless(fact(ColdDay)),
		severalOf("circulation", ProblemCirculation, 2, practice("two signs of failing circulation together"),
			is(PulseStrength, "weak"), is(Coat, "cold-sweat"), pale, slow, is(LimbWarmth, "cool", "cold"), is(GumMoisture, "dry")).
			unless(fact(ColdDay)),
		severalOf("circulation-heart", ProblemCirculation, 1, practice("a fast heart with a sign of failing circulation"),
			is(PulseStrength, "weak"), is(Coat, "cold-sweat"), slow, is(LimbWarmth, "cold")).
			of(&grownHorses).with(from(HeartRate, "56", PerMinute)).unless(fact(Working)),
		again("cold-sweat", ProblemCirculation, is(Coat, "cold-sweat"), 10, RingNow, practice("")),
		now("sweating-and-more", ProblemBelly, is(Coat, "sweating"), practice("sweat at rest in cool air, with another sign of distress")).
			unless(fact(Worked), fact(HotDay), fact(Unquiet), is(Foaling, "restless")).
			beside(is(Attitude, "anxious", "dull"), fact(OffFeed), is(Stance, "tucked-up"), is(Droppings, "few", "none"), is(DoingUsual, "unusual")),
		again("sweating-rest", ProblemOther, is(Coat, "sweating"), 15, RingSoon, practice("")).unless(fact(Worked), fact(HotDay), fact(Unquiet), is(Foaling, "restless")),
	}
}

// heartRules are on rate and rhythm. Rates are at rest; after work the rules of heat hold.
func heartRules() []*Alarm {
	rate := func(limit string) *Test { return above(HeartRate, limit, PerMinute) }
	youngDonkeys := Group{[]Type{TypeDonkey}, []Stage{Foal, Weanling, Yearling}}
	horseFoals := Group{horsesMules, []Stage{Foal}}
	return []*Alarm{
		now("heart-pain", ProblemBelly, from(HeartRate, "45", PerMinute), readIn("malone-2012", "over 45 to 50, with signs of colic; fired at the lower edge")).
			of(&grownHorses).with(fact(InPain)).unless(fact(Working)),
		now("heart-high", ProblemHeart, from(HeartRate, "60", PerMinute), readIn("devereux", "p. 760; stays above 60 between bouts; one practice's page says over 60 at rest")).
			of(&grownHorses).unless(fact(Working)).calm(),
		again("heart-raised", ProblemHeart, rate("48"), 10, RingSoon,
			derived("newcastle-equine", "over 48 where colic is suspected; one practice's page; counted twice is ours")).
			of(&Group{[]Type{TypeHorse, TypeDraft, TypeMule}, []Stage{Adult, Senior}}).unless(fact(Working)),
		again("two-year-old-heart", ProblemHeart, rate("50"), 10, RingSoon, ours("over the printed top of two-year-olds")).
			of(&Group{[]Type{TypeHorse, TypeDraft, TypeMule}, []Stage{TwoYearOld}}).unless(fact(Working)),
		again("pony-heart-raised", ProblemHeart, above(HeartRate, "52", PerMinute), 10, RingSoon, ours("ponies' own usual is printed up to 48")).
			of(&Group{[]Type{TypePony}, grown}).unless(fact(Working)),
		now("heart-raised-and-more", ProblemBelly, from(HeartRate, "48", PerMinute), derived("newcastle-equine", "over 48 where colic is suspected; one practice's page")).
			of(&grownHorses).unless(fact(Working), fact(Unquiet)).
			beside(fact(OffFeed), is(Droppings, "few", "none"), fact(OffColour), is(Attitude, "anxious"), is(Coat, "sweating", "cold-sweat")),
		soon("donkey-heart-high", ProblemHeart, rate("68"), derived("wvs-donkey", "sustained above 60 to 80; healthy donkeys are printed up to 68")).
			of(&grownDonkeys).unless(fact(Working)).calm(),
		soon("donkey-heart-sustained", ProblemHeart, rate("60"), readIn("wvs-donkey", "sustained above 60 to 80: here, at a recheck")).
			of(&grownDonkeys).with(fact(Rechecked)).unless(fact(Working)).calm(),
		now("donkey-heart-very-high", ProblemHeart, rate("80"), readIn("wvs-donkey", "sustained above 60 to 80")).
			of(&grownDonkeys).unless(fact(Working)).calm(),
		again("yearling-heart", ProblemHeart, rate("70"), 10, RingNow, ours("ten over the printed top")).of(&Group{horsesMules, []Stage{Yearling}}).unless(fact(Working)),
		again("weanling-heart", ProblemHeart, rate("80"), 10, RingNow, ours("twenty over the printed top")).of(&Group{horsesMules, []Stage{Weanling}}).unless(fact(Working)),
		again("young-donkey-heart", ProblemHeart, rate("80"), 10, RingSoon, derived("wvs-donkey", "young donkeys are printed up to 80")).of(&youngDonkeys).unless(fact(Working)),
		again("newborn-heart-high", ProblemFoal, rate("150"), 10, RingNow, derived("newborn-foal-2010", "up to 150 by twelve hours")).of(&Group{Stages: []Stage{Newborn}}),
		again("neonate-heart-high", ProblemFoal, rate("120"), 10, RingNow, derived("foaltimevet", "80 to 120 in the first week; one practice's page; counted twice is ours")).of(&Group{Stages: []Stage{Neonate}}),
		now("young-heart-low", ProblemFoal, below(HeartRate, "60", PerMinute), derived("foaltimevet", "over 60 from birth; one practice's page")).of(&Group{Stages: []Stage{Neonate}}),
		now("newborn-heart-low", ProblemFoal, below(HeartRate, "60", PerMinute), derived("foaltimevet", "over 60 from birth; one practice's page")).
			of(&Group{Stages: []Stage{Newborn}}).with(minutes(SinceBirth, 5, 0)),
		again("newborn-heart-low-unknown", ProblemFoal, below(HeartRate, "60", PerMinute), 5, RingNow, derived("foaltimevet", "over 60 from birth; one practice's page")).
			of(&Group{Stages: []Stage{Newborn}}).unless(minutes(SinceBirth, 5, 0)),
		again("foal-heart-raised", ProblemFoal, rate("100"), 10, RingSoon, practice("a lay page prints 60 to 90 in these months")).of(&horseFoals),
		again("foal-heart-high", ProblemFoal, rate("120"), 10, RingNow, ours("over every row printed for foals after the first day")).of(&horseFoals),
		now("foal-heart-and-more", ProblemFoal, rate("100"), practice("")).of(&horseFoals).with(fact(OtherRule)),
		now("foal-heart-breath", ProblemFoal, rate("120"), derived("foaltimevet", "both rates over every printed row")).
			of(&Group{Stages: []Stage{Neonate, Foal}}).with(above(RespiratoryRate, "60", PerMinute)),
		again("heart-low", ProblemHeart, below(HeartRate, "20", PerMinute), 10, RingSoon, derived("uci-colic-1989", "athletic horses may show 20 to 25")).of(&grownHorses),
		now("heart-low-weak", ProblemHeart, below(HeartRate, "24", PerMinute), derived("uci-colic-1989", "20 to 25 in athletes, who are neither weak nor dull")).
			of(&grownHorses).beside(is(PulseStrength, "weak", "not-felt"), fact(OffColour), is(Sway, "sways", "falls"), is(GumColour, "pale-pink", "white")),
		soon("rhythm-irregular", ProblemHeart, is(HeartRhythm, "irregular"), readIn("mcgurrin-2015", "irregular without pattern at a usual rate; not ridden until checked")),
		now("rhythm-and-more", ProblemHeart, is(HeartRhythm, "irregular", "pauses"), readIn("latitude36", "a weak or irregular rhythm; one practice's page")).
			beside(is(PulseStrength, "weak", "not-felt"), fact(OffColour), is(Sway, "sways", "falls"), is(RespiratoryEffort, "flared", "pushing", "struggling")),
		now("rhythm-fast", ProblemHeart, is(HeartRhythm, "irregular"), derived("mcgurrin-2015", "irregular with a fast heart or breath")).
			of(&grownHorses).beside(from(HeartRate, "60", PerMinute), above(RespiratoryRate, "24", PerMinute)).unless(fact(Working)),
	}
}
