package vitals

// breathRules are on rate, effort, cough and lungs, at rest.
func breathRules() []*Alarm {
	rate := func(limit string) *Test { return from(RespiratoryRate, limit, PerMinute) }
	older := Group{horsesMules, pastFoal}
	fever := warm()
	ill := []*Test{fever, fact(InPain), fact(EarlyPain), fact(OffColour), fact(OffFeed), is(RespiratoryEffort, "flared", "pushing", "struggling"),
		is(Cough, "often"), is(LungSounds, "wheeze", "crackle"), is(GumColour, "pale-pink", "white", "brick-red", "purple", "blue"),
		is(Nostrils, "coloured", "froth", "bloody", "blood-flows")}
	return []*Alarm{
		now("struggling-breath", ProblemBreath, is(RespiratoryEffort, "struggling"), readIn("aaep-when-to-call", "difficulty breathing")),
		now("pushing-breath", ProblemBreath, is(RespiratoryEffort, "pushing"), readIn("coach-house-breathing", "belly push and flared nostrils; one practice's page")).unless(fact(Working), fact(HotDay)),
		again("pushing-breath-hot", ProblemBreath, is(RespiratoryEffort, "pushing"), 10, RingNow, derived("coach-house-breathing", "in the heat, moved to the shade first")).
			with(fact(HotDay)).unless(fact(Working)),
		soon("flared-breath", ProblemBreath, is(RespiratoryEffort, "flared"), derived("horse-hound-breathing", "flared at rest in cool air")).unless(fact(Working), fact(HotDay), fact(Unquiet)),
		again("flared-breath-hot", ProblemBreath, is(RespiratoryEffort, "flared"), 30, RingSoon, derived("horse-hound-breathing", "in the heat, or excited, checked again when quiet")).
			beside(fact(HotDay), fact(Unquiet)).unless(fact(Working)),
		now("flared-and-more", ProblemBreath, is(RespiratoryEffort, "flared"), derived("coach-house-breathing", "with a fast breath, a cough or a fever")).
			beside(fever, is(Cough, "often"), above(RespiratoryRate, "60", PerMinute), fact(OffColour), is(GumColour, "pale-pink")).unless(fact(Working)),
		now("flared-fast", ProblemBreath, is(RespiratoryEffort, "flared"), derived("coach-house-breathing", "with a fast breath")).
			of(&older).with(above(RespiratoryRate, "24", PerMinute)).unless(fact(Working), fact(HotDay)),
		now("flared-donkey", ProblemBreath, is(RespiratoryEffort, "flared"), derived("coach-house-breathing", "with a breath over what is printed of donkeys")).
			of(&Group{[]Type{TypeDonkey}, pastFoal}).with(above(RespiratoryRate, "44", PerMinute)).unless(fact(Working), fact(HotDay)),
		now("breathing-very-fast", ProblemBreath, rate("60"), ours("far over every printed range at rest")).of(&older).unless(fact(Working), fact(HotDay)).calm(),
		again("breathing-fast", ProblemBreath, rate("40"), 10, RingNow, ours("a checklist for colic calls over 40 severe; counted twice, cool and calm")).
			of(&older).unless(fact(Working), fact(HotDay)),
		now("breathing-fast-and-more", ProblemBreath, rate("40"), derived("ilv-colic", "over 40 severe; beside another sign")).
			of(&older).unless(fact(Working)).beside(ill...),
		again("breathing-fast-hot", ProblemBreath, above(RespiratoryRate, "30", PerMinute), 30, RingSoon, derived("the-horse-foal-breath", "printed for foals; in the shade first")).
			of(&older).with(fact(HotDay)).unless(fact(Working)),
		again("breathing-raised", ProblemBreath, above(RespiratoryRate, "24", PerMinute), 15, RingSoon,
			derived("horse-hound-breathing", "over 20 at rest is raised; over 24, counted twice, is ours")).
			of(&Group{horsesMules, []Stage{Yearling, TwoYearOld, Adult, Senior}}).unless(fact(Working), fact(HotDay)),
		again("weanling-breathing-raised", ProblemBreath, above(RespiratoryRate, "30", PerMinute), 15, RingSoon, ours("over the printed top of 25")).
			of(&Group{horsesMules, []Stage{Weanling}}).unless(fact(Working), fact(HotDay)),
		now("breathing-raised-and-more", ProblemBreath, above(RespiratoryRate, "24", PerMinute), derived("horse-hound-breathing", "raised at rest, with effort, fever or pain")).
			of(&Group{horsesMules, grown}).unless(fact(Working), fact(HotDay), fact(Unquiet)).
			beside(fever, fact(InPain), is(LungSounds, "wheeze", "crackle"), fact(OffColour), is(Cough, "often")),
		again("donkey-breathing", ProblemBreath, above(RespiratoryRate, "44", PerMinute), 15, RingNow, derived("donkey-sanctuary-older", "healthy donkeys to 44; that beyond it one calls is ours")).
			of(&grownDonkeys).unless(fact(Working), fact(HotDay)),
		again("young-donkey-breathing", ProblemBreath, above(RespiratoryRate, "48", PerMinute), 15, RingSoon, derived("donkey-sanctuary-older", "under two years to 48")).
			of(&Group{[]Type{TypeDonkey}, []Stage{Foal, Weanling, Yearling}}).unless(fact(Working), fact(HotDay)),
		again("newborn-breathing", ProblemFoal, above(RespiratoryRate, "60", PerMinute), 15, RingNow, derived("newborn-foal-2010", "30 to 45 after the first half hour")).
			of(&Group{Stages: []Stage{Newborn}}).with(minutes(SinceBirth, 60, 0)).unless(fact(HotDay)),
		again("newborn-breathing-unknown", ProblemFoal, above(RespiratoryRate, "90", PerMinute), 15, RingNow, derived("tennessee-foal-pneumonia", "60 to 90 at birth")).
			of(&Group{Stages: []Stage{Newborn}}).unless(minutes(SinceBirth, 60, 0), fact(HotDay)),
		again("foal-breathing", ProblemFoal, above(RespiratoryRate, "60", PerMinute), 15, RingNow, readIn("the-horse-foal-breath", "60 to 80 only in heat")).
			of(&Group{horsesMules, []Stage{Neonate, Foal}}).unless(fact(HotDay)),
		now("foal-breathing-and-more", ProblemFoal, above(RespiratoryRate, "60", PerMinute), derived("the-horse-foal-breath", "60 to 80 only in heat; that a foal with another sign is not counted again is ours")).
			of(&Group{horsesMules, []Stage{Neonate, Foal}}).unless(fact(HotDay)).beside(is(Attitude, "quiet", "dull"), fact(OffFeed), is(Cough, "few", "often"), is(Nostrils, "coloured")),
		now("foal-breathing-fever", ProblemFoal, above(RespiratoryRate, "40", PerMinute), readIn("rhodococcus-farm", "over 40 a minute and over 39 C")).
			of(&Group{horsesMules, foalStages}).with(from(RectalTemperature, "39.0", Celsius)).unless(minutes(SinceBirth, 0, 60)),
		now("donkey-foal-breathing-fever", ProblemFoal, above(RespiratoryRate, "48", PerMinute), derived("rhodococcus-farm", "printed of horses' foals; young donkeys are printed up to 48")).
			of(&Group{[]Type{TypeDonkey}, foalStages}).with(from(RectalTemperature, "39.0", Celsius)).unless(minutes(SinceBirth, 0, 60)),
		now("foal-breathing-hard", ProblemFoal, is(RespiratoryEffort, "flared", "pushing"), readIn("the-horse-foal-breath", "difficult breathing or cough with a fever")).
			of(&foals).unless(fact(HotDay), minutes(SinceBirth, 0, 60)),
		again("cough-few", ProblemBreath, is(Cough, "few"), 720, RingSoon, practice("")).of(&olderAnimals),
		soon("cough-often", ProblemBreath, is(Cough, "often"), readIn("uk-welfare-2005", "cough, nose or glands: within 48 hours")),
		soon("foal-cough", ProblemFoal, is(Cough, "few", "often"), derived("the-horse-foal-breath", "a cough in a foal is told")).of(&foals),
		now("cough-and-fever", ProblemBreath, is(Cough, "few", "often"), derived("the-horse-foal-breath", "printed for foals; in others with dullness or a fast breath")).
			with(fever).beside(fact(OffColour), fact(OffFeed), above(RespiratoryRate, "24", PerMinute), is(Lately, "journey")),
		now("foal-cough-fever", ProblemFoal, is(Cough, "few", "often"), readIn("the-horse-foal-breath", "cough with a fever")).of(&foals).
			with(above(RectalTemperature, "102", Fahrenheit)),
		soon("cough-fever", ProblemBreath, is(Cough, "few", "often"), readIn("uk-welfare-2005", "within 48 hours")).with(fever),
		soon("lungs", ProblemBreath, is(LungSounds, "wheeze", "crackle", "quieter"), practice("")),
		now("lungs-and-more", ProblemBreath, is(LungSounds, "wheeze", "crackle", "quieter"), derived("the-horse-shipping", "with fever, effort or a fast breath")).
			beside(fever, is(RespiratoryEffort, "pushing", "struggling", "flared"), fact(OffColour)).unless(fact(Working)),
		now("lungs-fast", ProblemBreath, is(LungSounds, "wheeze", "crackle", "quieter"), derived("the-horse-shipping", "with a fast breath")).
			of(&older).with(above(RespiratoryRate, "24", PerMinute)).unless(fact(Working), fact(HotDay)),
		now("foal-lungs", ProblemFoal, is(LungSounds, "wheeze", "crackle", "quieter"), derived("tennessee-foal-pneumonia", "changed lung sounds in a foal are not left for the day")).of(&foals),
	}
}

// noseRules are on what comes from the nostrils.
func noseRules() []*Alarm {
	both := is(Nostrils, "bloody").sites(2, "nostril-left", "nostril-right")
	return []*Alarm{
		now("blood-flows", ProblemNose, is(Nostrils, "blood-flows"), readIn("devereux", "p. 705; pouring: at once")),
		now("nose-froth", ProblemBreath, is(Nostrils, "froth"), practice("")),
		again("nose-blood", ProblemNose, is(Nostrils, "bloody"), 15, RingNow, readIn("devereux", "pp. 704-705; stops within 15 minutes; others print 20 and 30")).unless(fact(Working)),
		now("nose-blood-both", ProblemNose, both, derived("avon-ridge", "bleeding that goes on; that both sides at rest are for now is ours")).unless(fact(Worked)),
		again("nose-blood-work", ProblemNose, is(Nostrils, "bloody"), 15, RingSoon, readIn("irish-field-nosebleed", "both nostrils after fast work")).with(fact(Working)),
		now("nose-blood-work-and-more", ProblemNose, is(Nostrils, "bloody"), derived("irish-field-nosebleed", "with effort or weakness")).
			with(fact(Worked)).beside(is(RespiratoryEffort, "pushing", "struggling"), fact(OffColour), is(Gait, "staggers", "will-not-walk"),
			is(GumColour, "pale-pink", "white"), from(RespiratoryRate, "60", PerMinute)),
		now("nose-blood-and-more", ProblemNose, is(Nostrils, "bloody"), derived("hvd-nosebleed", "a second bleed or one with other signs; one practice's page")).
			unless(fact(Working)).beside(is(GumColour, "pale-pink", "white"), is(PulseStrength, "weak"), fact(OffColour), from(HeartRate, "60", PerMinute)),
		soon("nose-coloured", ProblemBreath, is(Nostrils, "coloured"), readIn("uk-welfare-2005", "within 48 hours")),
		now("nose-coloured-foal", ProblemFoal, is(Nostrils, "coloured"), derived("tennessee-foal-pneumonia", "with a fever or fast breath")).of(&foals).
			beside(above(RectalTemperature, "102", Fahrenheit), above(RespiratoryRate, "60", PerMinute), fact(OffColour), fact(OffFeed)),
	}
}
