package vitals

// attitudeRules are on how the animal seems. Donkeys, and mules that are dull, hide illness.
func attitudeRules() []*Alarm {
	mules := Group{Types: []Type{TypeMule}, Stages: pastFoal}
	return []*Alarm{
		now("down-not-rising", ProblemOther, is(Attitude, "down-not-rising"),
			readIn("lightfoot-2020", "recumbency, the sign receptionists most often named critical")),
		now("down-thrashing", ProblemBelly, is(Attitude, "down-thrashing"), readIn("devereux", "pp. 759-760")),
		now("odd-temper", ProblemNerves, is(Attitude, "odd"), readIn("aaep-when-to-call", "aggressive or unusual behaviour")),
		soon("dull", ProblemOther, is(Attitude, "dull"), readIn("react", "any change in behaviour")).of(&Group{notDonkeys, pastFoal}),
		now("dull-and-more", ProblemOther, is(Attitude, "dull"), derived("purdue-emergency", "dull with a fever or off feed; with any other rule is ours")).
			of(&Group{notDonkeys, pastFoal}).with(fact(OtherRule)),
		now("donkey-dull", ProblemFeed, is(Attitude, "dull"), readIn("ukvet-donkey", "potentially an emergency")).of(&anyDonkey),
		now("mule-dull", ProblemFeed, is(Attitude, "dull"), derived("ukvet-donkey", "printed for donkeys; a dull mule is taken as one")).of(&mules),
		now("foal-dull", ProblemFoal, is(Attitude, "dull"), readIn("lenz-aqha", "")).of(&Group{horsesMules, foalStages}),
		again("foal-quiet", ProblemFoal, is(Attitude, "quiet"), 30, RingNow,
			derived("gerros-osu", "any foal that looks ill; that a quiet one is roused and checked again is ours")).of(&foals),
		again("donkey-quiet", ProblemFeed, is(Attitude, "quiet"), 60, RingSoon, derived("ukvet-donkey", "donkeys hide illness; one that stays quiet is told of")).
			of(&Group{[]Type{TypeDonkey}, pastFoal}),
		again("anxious", ProblemOther, is(Attitude, "anxious"), 30, RingSoon, practice("")).unless(fact(Unquiet), fact(Working)),
		soon("quiet-and-more", ProblemOther, is(Attitude, "quiet"), ours("quieter than bright, with another rule")).
			of(&Group{horsesMules, pastFoal}).with(fact(OtherRule)),
		again("unusual-here", ProblemOther, is(DoingUsual, "unusual"), 30, RingSoon, derived("react", "any change in behaviour")),
	}
}

// nerveRules are on balance, head and walk.
func nerveRules() []*Alarm {
	cannotControl := []*Test{is(Sway, "sways", "falls"), is(Gait, "staggers"), is(Turn, "crosses"), is(HeadCarriage, "tilted"),
		is(Swallowing, "drools", "cannot"), is(Urine, "strains")}
	return []*Alarm{
		now("staggers", ProblemNerves, is(Gait, "staggers"), readIn("latitude36", "staggering, uncoordinated; one practice's page")),
		now("crosses", ProblemNerves, is(Turn, "crosses"), derived("latitude36", "uncoordinated; one practice's page")),
		now("sways", ProblemNerves, is(Sway, "sways", "falls"), readIn("latitude36", "staggering, falling; one practice's page")),
		now("straddled", ProblemNerves, is(Stance, "straddled"), readIn("latitude36", "stands like a saw-horse; one practice's page")),
		soon("head-tilted", ProblemNerves, is(HeadCarriage, "tilted"), derived("chiltern-nervous", "a common sign; that it may wait for the day is ours")),
		severalOf("tilted-and-more", ProblemNerves, 1, readIn("acequine-nervous", "tilt with a changed attitude or walk: immediately; one practice's page"),
			is(Attitude, "dull", "quiet", "anxious"), is(Sway, "shifting"), is(Gait, "stiff", "short", "will-not-walk"),
			is(Turn, "sore"), is(Swallowing, "drops-feed", "drools", "gulps", "cannot"), is(Eye, "half-shut", "shut", "swollen"), is(Stance, "straddled")).
			about(is(HeadCarriage, "tilted")),
		soon("head-low", ProblemOther, is(HeadCarriage, "low"), ours("a low head with another rule")).with(fact(OtherRule)),
		again("head-stretched", ProblemSwallow, is(HeadCarriage, "stretched"), 15, RingSoon, practice("")),
		again("shifts-feet", ProblemFeet, is(Sway, "shifting"), 60, RingSoon, practice("")),
		now("fever-and-nerves", ProblemNerves, warm(),
			readIn("chiltern-nervous", "over 38.5 C in a horse with such signs; infection is likelier")).beside(cannotControl...),
		now("third-eyelid", ProblemNerves, is(Eye, "third-eyelid"), readIn("vch-tetanus", "one practice's page")),
		now("stiff-all-over", ProblemNerves, is(Gait, "stiff"), derived("wikivet-tetanus", "stiff walk with jaw, ears or tail; the combination is ours")).
			beside(is(Swallowing, "drools", "cannot", "drops-feed"), is(Stance, "straddled"), is(HeadCarriage, "stretched")),
	}
}

// day24 is a day in minutes.
const day24 = 24 * 60

// about gives a rule of several signs the one that it fires at.
func (a *Alarm) about(t *Test) *Alarm { a.Test = *t; return a }

// bellyRules are on pain, and on what masks it.
func bellyRules() []*Alarm {
	colic := readIn("ucdavis-vmth", "signs of colic: call at once")
	return []*Alarm{
		now("colic-behaviour", ProblemBelly, is(Doing, "rolling", "pawing", "watching-flank"), colic).with(fact(InPain)),
		now("pain-signs", ProblemBelly, is(PainSigns, "lip-curl", "plays-in-water", "watches-flank", "paws", "stretches-out", "kicks-belly",
			"bites-belly", "groans", "bloated", "up-and-down", "rolls", "sits-like-a-dog", "on-its-back"), colic),
		now("eased-suddenly", ProblemBelly, is(PainSigns, "eased-suddenly"), readIn("devereux", "p. 759; the last stage may turn quiet")),
		soon("early-pain-signs", ProblemBelly, is(PainSigns, "lies-more", "leaves-feed"), readIn("react", "")).of(&Group{horsesMules, pastFoal}),
		now("early-pain-donkey", ProblemBelly, is(PainSigns, "lies-more", "leaves-feed"), readIn("ukvet-donkey", "dull, lying, off feed")).of(&anyDonkey),
		now("early-pain-foal", ProblemFoal, is(PainSigns, "lies-more", "leaves-feed"), derived("gerros-osu", "any foal that looks ill")).of(&foals),
		now("early-pain-heart", ProblemBelly, is(PainSigns, "lies-more", "leaves-feed"), readIn("newcastle-equine", "over 48 where colic is suspected; one practice's page")).
			of(&grownHorses).with(from(HeartRate, "48", PerMinute)).unless(fact(Working)),
		severalOf("early-pain-more", ProblemBelly, 1, ours("two early signs together"),
			is(Droppings, "few", "none"), is(GutSounds, "none"), is(Stance, "tucked-up"), is(GumMoisture, "tacky", "dry")).
			about(is(PainSigns, "lies-more", "leaves-feed")),
		soon("tucked-up", ProblemBelly, is(Stance, "tucked-up"), practice("")).unless(fact(Working)),
		again("parked-out", ProblemOther, is(Stance, "parked-out"), 60, RingSoon, practice("")),
		again("lies-unusual", ProblemBelly, is(Doing, "lying"), 30, RingSoon, derived("react", "lies down more than usual")).
			of(&olderAnimals).with(is(DoingUsual, "unusual")),
		// Something given may mask pain and fever: it adds rules and takes none away.
		severalOf("masked-pain", ProblemBelly, 1, readIn("equus-2018-colic", "painkillers mask how severe it is; that early signs then count is ours"),
			is(Feed, "less", "none"), is(Droppings, "few", "none"), is(PainSigns, "lies-more", "leaves-feed"), is(Stance, "tucked-up"),
			is(GutSounds, "none"), is(Doing, "pawing", "rolling")).with(fact(MedicineGiven)),
		now("masked-heart", ProblemBelly, from(HeartRate, "48", PerMinute), derived("equus-2014-painkillers", "the count is Newcastle Equine's for a suspected colic")).
			of(&grownHorses).with(fact(MedicineGiven)).unless(fact(Working)),
		soon("masked-warm", ProblemFever, from(RectalTemperature, "101", Fahrenheit), derived("ncsu-ehm", "101 F with a painkiller where 101.5 F is a fever without")).
			of(&Group{horsesMules, pastFoal}).with(fact(MedicineGiven)).unless(fact(Working)),
		now("gut-silent", ProblemBelly, &Test{Sign: GutSounds, Grades: ids[GradeID]("none"), AllSites: true}, readIn("devereux", "p. 760; Curtis 2015 keeps absence too")),
		soon("gut-part-silent", ProblemBelly, is(GutSounds, "none"), derived("devereux", "p. 760; silence at one place is told")),
		now("gut-silent-pain", ProblemBelly, is(GutSounds, "none"), derived("curtis-2015", "absent sounds with signs of pain or a fast heart")).
			beside(fact(InPain), fact(EarlyPain), fact(OffColour), is(Feed, "none")),
		now("gut-silent-heart", ProblemBelly, is(GutSounds, "none"), derived("curtis-2015", "absent sounds with a fast heart")).
			of(&grownHorses).with(from(HeartRate, "48", PerMinute)).unless(fact(Working), fact(Unquiet)),
		again("gut-less", ProblemBelly, &Test{Sign: GutSounds, Grades: ids[GradeID]("less", "none"), AllSites: true}, 60, RingSoon, practice("")),
	}
}

// intakeRules are on feed, water, droppings and urine.
func intakeRules() []*Alarm {
	off := is(Feed, "less", "none")
	adults := Group{horsesMules, pastFoal}
	fever := warm()
	// A mare leaves her feed in the hours of birth; the rules on foaling hold then.
	foaling := is(Foaling, "restless", "waters", "white-bag", "feet-and-nose")
	foalsWell := []*Test{is(Feed, "less", "none"), is(Attitude, "dull", "quiet")}
	return []*Alarm{
		soon("eats-less", ProblemFeed, off, readIn("react", "eating less")).of(&adults).unless(foaling),
		now("eats-nothing-and-more", ProblemFeed, is(Feed, "none"), derived("purdue-emergency", "off feed with a fever or dull; with any other rule is ours")).
			of(&adults).with(fact(OtherRule)),
		now("donkey-eats-less", ProblemFeed, off, readIn("ukvet-donkey", "inappetence is potentially an emergency")).of(&anyDonkey),
		now("foal-nurses-less", ProblemFoal, off, readIn("lenz-aqha", "nurses 4 to 5 times an hour in its first week; in the months after it is the practice's word")).
			of(&Group{horsesMules, foalStages}),
		now("breeding-eats-less", ProblemFeed, off, readIn("devereux", "p. 792; pregnant and milking females are most at risk")).of(&Group{horsesMules, grown}).with(fact(Breeding)).unless(foaling),
		now("overweight-eats-less", ProblemFeed, off, readIn("devereux", "p. 792; overweight ponies")).of(&Group{[]Type{TypePony}, pastFoal}).with(fact(Overweight)),
		now("pony-eats-nothing", ProblemFeed, is(Feed, "none"), derived("devereux", "pp. 792-794; that a pony off feed altogether is not left for the day is ours")).
			of(&Group{[]Type{TypePony}, pastFoal}),
		soon("no-droppings", ProblemBelly, is(Droppings, "none"), readIn("react", "fewer droppings")).of(&olderAnimals),
		soon("few-droppings", ProblemBelly, is(Droppings, "few"), readIn("react", "fewer droppings")),
		again("dry-droppings", ProblemBelly, is(Droppings, "dry"), 240, RingSoon, practice("")),
		now("no-droppings-and-more", ProblemBelly, is(Droppings, "none"), derived("newcastle-equine", "none in 12 hours with any other sign; one practice's page")).
			beside(fact(InPain), fact(EarlyPain), fact(OffColour), is(Feed, "none"), from(HeartRate, "60", PerMinute)),
		now("foal-no-droppings", ProblemFoal, is(Droppings, "none"), derived("gerros-osu", "any foal that looks ill")).of(&Group{Stages: []Stage{Newborn, Neonate, Foal}}),
		again("loose", ProblemGut, is(Droppings, "loose"), 720, RingSoon, readIn("devereux", "p. 779; more than a day or two")).of(&adults),
		soon("donkey-loose", ProblemGut, is(Droppings, "loose"), derived("donkey-sanctuary-colitis", "not common in donkeys")).of(&Group{[]Type{TypeDonkey}, pastFoal}),
		now("loose-and-ill", ProblemGut, is(Droppings, "loose"), readIn("devereux", "p. 779; off colour or with a temperature: immediately")).
			of(&olderAnimals).beside(fever, fact(OffColour), is(Attitude, "quiet"), fact(OffFeed), is(GumMoisture, "dry"), from(HeartRate, "60", PerMinute)),
		again("foal-loose", ProblemFoal, is(Droppings, "loose"), 720, RingSoon,
			derived("csu-foal-diarrhoea", "days 4 to 14, bright and sucking, temperature 99 to 102 F: watched twice a day")).
			of(&Group{Stages: []Stage{Neonate, Foal}}).with(is(Attitude, "bright"), is(Feed, "usual"), minutes(SinceBirth, 4*day24, 15*day24)),
		now("foal-loose-age", ProblemFoal, is(Droppings, "loose"), derived("csu-foal-diarrhoea", "outside days 4 to 14 it is not the loose dung of that age")).
			of(&Group{Stages: []Stage{Neonate, Foal}}).unless(minutes(SinceBirth, 4*day24, 15*day24)),
		now("loose-heart", ProblemGut, is(Droppings, "loose"), derived("oglesby-colitis", "an early rise to the mid fifties; one practice's page")).
			of(&grownHorses).with(from(HeartRate, "52", PerMinute)).unless(fact(Working), fact(Unquiet)),
		now("foal-loose-and-ill", ProblemFoal, is(Droppings, "loose"), readIn("devereux", "p. 779; foals with loose droppings: urgently")).of(&foals).
			beside(append(foalsWell, above(RectalTemperature, "102", Fahrenheit), below(RectalTemperature, "99", Fahrenheit), is(Swallowing, "milk-at-nose"))...),
		now("foal-loose-unknown", ProblemFoal, is(Droppings, "loose"), readIn("devereux", "p. 779; foals with loose droppings: urgently")).of(&foals).
			unless(is(Attitude, "bright")),
		now("foal-loose-nursing-unknown", ProblemFoal, is(Droppings, "loose"), readIn("devereux", "p. 779; foals with loose droppings: urgently")).of(&foals).
			unless(is(Feed, "usual")),
		now("newborn-loose", ProblemFoal, is(Droppings, "loose"), derived("csu-foal-diarrhoea", "before the fourth day it is not the loose dung of that age")).
			of(&Group{Stages: []Stage{Newborn}}),
		again("drinks-nothing", ProblemOther, is(Water, "none"), 240, RingSoon, practice("sources print 6 hours to 4 days")),
		again("drinks-less", ProblemOther, is(Water, "less"), 720, RingSoon, practice("")),
		soon("drinks-more", ProblemOther, is(Water, "more"), practice("")).unless(fact(HotDay), fact(Worked)),
		severalOf("drinks-nothing-and-more", ProblemOther, 1, practice("no water with pain, heat or dry gums"),
			is(GumMoisture, "dry"), fact(InPain), fact(HotDay), fact(Worked), fact(OffColour)).about(is(Water, "none")),
		now("urine-dark", ProblemMuscle, is(Urine, "dark"), readIn("umn-urine", "red, brown or orange as it is passed: immediately")),
		soon("urine-strains", ProblemOther, is(Urine, "strains"), readIn("umn-urine", "frequent or straining")).of(&olderAnimals),
		now("urine-strains-foal", ProblemFoal, is(Urine, "strains"), derived("umn-urine", "for foals it is ours")).of(&foals),
		soon("urine-none", ProblemOther, is(Urine, "none"), practice("")).of(&olderAnimals),
		now("urine-none-pain", ProblemOther, is(Urine, "none", "strains"), derived("umn-urine", "with pain, or dull, it is not left for the day")).
			of(&olderAnimals).beside(fact(InPain), fact(OffColour)),
		now("urine-none-foal", ProblemFoal, is(Urine, "none"), derived("walker-2023", "over 12 hours; watched for hours in a foal is taken so")).of(&foals),
	}
}
