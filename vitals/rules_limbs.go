package vitals

// footRules are on weight, stance, walk and feet.
func footRules() []*Alarm {
	fores := []SiteID{"fore-left", "fore-right"}
	bothFores := is(DigitalPulse, "bounding").sites(2, fores...)
	threeFeet := is(DigitalPulse, "bounding").sites(3, "fore-left", "fore-right", "hind-left", "hind-right")
	return []*Alarm{
		now("no-weight", ProblemLimb, is(LimbLoad, "no-weight"), readIn("devereux", "p. 146; unable to bear any weight")),
		soon("pointing", ProblemLimb, is(LimbLoad, "pointing"), readIn("devereux", "p. 147; lame, and none of the emergencies")).of(&olderAnimals),
		now("foal-lame", ProblemFoal, is(Gait, "short", "lame", "stiff"), readIn("devereux", "p. 387; infection until shown otherwise")).of(&foals),
		now("foal-pointing", ProblemFoal, is(LimbLoad, "pointing"), readIn("devereux", "p. 387; infection until shown otherwise")).of(&foals),
		now("rocked-back", ProblemFeet, is(Stance, "rocked-back"), readIn("devereux", "p. 147; immediate")),
		now("will-not-walk", ProblemFeet, is(Gait, "will-not-walk"), readIn("latitude36", "unwilling to move; one practice's page")),
		soon("lame", ProblemLimb, is(Gait, "lame"), readIn("devereux", "p. 147")).of(&olderAnimals),
		soon("short-steps", ProblemFeet, is(Gait, "short"), readIn("devereux", "p. 147")).of(&olderAnimals),
		soon("stiff", ProblemMuscle, is(Gait, "stiff"), practice("")).of(&olderAnimals),
		soon("turn-sore", ProblemFeet, is(Turn, "sore"), derived("devereux", "p. 147; lame in the turn")),
		soon("pulses-bounding", ProblemFeet, bothFores, derived("vet-evidence-253", "the pulse may rise hours before lameness")).unless(fact(Working)),
		now("pulses-bounding-hot", ProblemFeet, bothFores, readIn("devereux", "p. 255; bounding and warm")).
			beside(is(HoofWarmth, "hot"), is(LimbLoad, "pointing", "no-weight"), is(Gait, "short", "lame", "stiff", "will-not-walk"), is(Sway, "shifting"), is(Turn, "sore"),
				is(Stance, "rocked-back"), fact(OffColour)).unless(fact(Working)),
		now("pulses-three", ProblemFeet, threeFeet, readIn("equus-2017-laminitis", "three feet and more")).unless(fact(Working)),
		now("fores-hot-short", ProblemFeet, is(HoofWarmth, "hot").sites(2, fores...), derived("devereux", "p. 255; both fores hot with a changed stance or walk")).
			beside(is(Gait, "short", "lame", "stiff"), is(Sway, "shifting"), is(Turn, "sore"), is(LimbLoad, "pointing")).unless(fact(Working)),
		again("pulse-bounding-one", ProblemFeet, is(DigitalPulse, "bounding"), 120, RingSoon, practice("")).unless(fact(Working)),
		soon("foot-hot-bounding", ProblemFeet, is(DigitalPulse, "bounding"), derived("hampton-abscess", "one foot hot and bounding; one practice's page")).
			with(is(HoofWarmth, "hot")).unless(fact(Working)),
		again("hoof-hot", ProblemFeet, is(HoofWarmth, "hot"), 120, RingSoon, practice("in the shade, or rested, first; hot in the sun with faint pulses is no sign")).
			unless(fact(Working), is(DigitalPulse, "faint").sites(2, fores...)),
	}
}

// muscleRules are on hard or painful muscle.
func muscleRules() []*Alarm {
	hard := is(Muscle, "hard", "painful")
	return []*Alarm{
		soon("muscle", ProblemMuscle, hard, readIn("devereux", "p. 469; the signs")),
		now("muscle-work", ProblemMuscle, hard, derived("devereux", "p. 469; the signs, after work; that one calls at once stands in lay texts only")).
			beside(fact(Worked), is(Coat, "sweating", "cold-sweat"), is(Gait, "stiff", "short", "will-not-walk"), is(Urine, "dark"), fact(OffColour), fact(InPain), fact(OffFeed)),
		now("stiff-work", ProblemMuscle, is(Gait, "stiff"), derived("devereux", "p. 469; stiff after work, or weak with sweat")).
			beside(fact(Working), is(Urine, "dark"), is(Coat, "cold-sweat")),
	}
}

// woundRules are on wounds, bleeding, swellings and eyes.
func woundRules() []*Alarm {
	lame := []*Test{is(Gait, "lame", "will-not-walk"), is(LimbLoad, "pointing", "no-weight")}
	return []*Alarm{
		now("heavy-bleeding", ProblemBleeding, is(Wounds, "heavy"), readIn("aaep-when-to-call", "uncontrolled bleeding")).first(ActPress),
		now("wound-place", ProblemWound, is(WoundPlace, "joint", "tendon", "eye", "chest-belly", "foot", "fluid", "object"),
			readIn("purdue-emergency", "near a joint or tendon, however small; Devereux p. 146 and the AAEP Foundation name the others")),
		now("wound-deep", ProblemWound, is(WoundPlace, "deep"), readIn("devereux", "p. 99; through the skin and over 2.5 cm")),
		soon("wound-unplaced", ProblemWound, is(Wounds, "slight"), derived("devereux", "p. 116; whether it is near a joint was not answered, and tetanus cover is asked of every wound")).
			unless(is(WoundPlace, "none")),
		now("wound-lame", ProblemWound, is(Wounds, "slight"), readIn("devereux", "p. 99; lamer than the wound looks")).beside(append(lame, is(Swelling, "hot", "hot-large"))...),
		again("wound-watch", ProblemWound, is(Wounds, "slight"), 720, RingSoon, readIn("devereux", "p. 116; every wound: ask about tetanus cover")).with(is(WoundPlace, "none")),
		soon("swelling-cool", ProblemSkin, is(Swelling, "cool"), readIn("avon-ridge", "away from vital parts: the same or the next day; one practice's page")),
		soon("swelling-hot", ProblemLimb, is(Swelling, "hot"), derived("avon-ridge", "one practice's page")),
		now("swelling-large", ProblemLimb, is(Swelling, "hot-large"), readIn("devereux", "p. 146; severe swelling of a limb")),
		now("swelling-throat", ProblemBreath, is(Swelling, "cool", "hot", "hot-large").sites(1, "throat", "face"), readIn("avon-ridge", "round the throat; one practice's page; beside noisy or hard breathing")).
			beside(is(RespiratoryEffort, "flared", "pushing", "struggling"), is(Coat, "bumps"), is(Swallowing, "gulps", "drools", "cannot", "feed-at-nose")),
		now("swelling-lame", ProblemLimb, is(Swelling, "hot"), readIn("devereux", "p. 146; swelling with severe lameness; p. 99")).beside(lame...),
		now("foal-swelling", ProblemFoal, is(Swelling, "hot"), derived("devereux", "p. 387; hot swelling in a foal")).of(&foals),
		again("bumps", ProblemSkin, is(Coat, "bumps"), 60, RingSoon, practice("bumps alone; they may come before a swollen face or hard breathing")),
		now("bumps-and-more", ProblemSkin, is(Coat, "bumps"), readIn("mwv-vaccine", "hives with a swollen face, hard breathing, pain or collapse; one practice's page")).
			beside(is(Swelling, "cool", "hot", "hot-large").sites(1, "face", "throat"), is(RespiratoryEffort, "flared", "pushing", "struggling"), fact(InPain), fact(OffColour),
				from(RespiratoryRate, "40", PerMinute), is(Lately, "vaccine")),
		now("after-injection", ProblemSkin, is(Lately, "vaccine"), readIn("mwv-vaccine", "call immediately; one practice's page")).
			beside(is(RespiratoryEffort, "pushing", "struggling"), fact(InPain), is(Swelling, "cool", "hot", "hot-large").sites(1, "face", "throat"), is(Attitude, "down-not-rising")),
		now("eye", ProblemEye, is(Eye, "half-shut", "shut", "swollen", "cloudy", "injured"), readIn("purdue-emergency", "any sign of the eye: do not wait a day")),
		soon("eye-weeping", ProblemEye, is(Eye, "weeping"), readIn("nfe-eye", "that day; one practice's page; Purdue would call at once")).
			unless(is(Eye, "weeping").sites(2, "eye-left", "eye-right")),
		again("eyes-weeping", ProblemEye, is(Eye, "weeping").sites(2, "eye-left", "eye-right"), 720, RingSoon, derived("equus-2015-eye", "both, open and clear: flies, wind or a blocked duct")),
	}
}

// swallowRules are on feed and slobber at mouth and nose.
func swallowRules() []*Alarm {
	blocked := is(Swallowing, "feed-at-nose", "gulps")
	ill := []*Test{is(RespiratoryEffort, "flared", "pushing", "struggling"), warm(), fact(OffColour), fact(MedicineGiven),
		is(Attitude, "anxious"), is(Coat, "sweating", "cold-sweat"), is(Nostrils, "bloody", "blood-flows", "froth"), from(RespiratoryRate, "40", PerMinute)}
	return []*Alarm{
		now("cannot-swallow", ProblemSwallow, is(Swallowing, "cannot"), practice("")).first(ActFeedWaterAway),
		again("swallow-blocked", ProblemSwallow, blocked, 10, RingNow, readIn("devereux", "p. 745; clears in 5 to 10 minutes; others print 15 minutes and hours")).
			of(&Group{horsesMules, pastFoal}).first(ActFeedWaterAway),
		now("swallow-distressed", ProblemSwallow, blocked, readIn("devereux", "p. 745; if distressed: call")).beside(ill...).first(ActFeedWaterAway),
		now("swallow-donkey-foal", ProblemSwallow, blocked, ours("a donkey, or a foal, is not left for ten minutes")).of(&anyDonkey).first(ActFeedWaterAway),
		now("swallow-foal", ProblemFoal, blocked, ours("a foal is not left for ten minutes")).of(&foals),
		now("milk-at-nose", ProblemFoal, is(Swallowing, "milk-at-nose"), readIn("the-horse-foal-2020", "wrong swallowing; the lungs are at risk")),
		soon("drools", ProblemSwallow, is(Swallowing, "drools", "drops-feed"), practice("")),
		now("drools-and-more", ProblemNerves, is(Swallowing, "drools", "drops-feed"), practice("")).
			beside(fact(OffColour), is(Gait, "stiff", "staggers"), is(HeadCarriage, "stretched", "tilted"), warm(), is(Attitude, "odd", "anxious")),
		again("coughs-stretched", ProblemSwallow, is(HeadCarriage, "stretched"), 10, RingNow, derived("devereux", "pp. 744-745; stretched neck and cough")).
			with(is(Cough, "few", "often")).of(&olderAnimals).first(ActFeedWaterAway),
	}
}
