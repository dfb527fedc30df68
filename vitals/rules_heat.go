package vitals

// temperatureRules are on the temperature at rest. The thresholds are printed in Fahrenheit.
func temperatureRules() []*Alarm {
	t := func(limit string) *Test { return above(RectalTemperature, limit, Fahrenheit) }
	atLeast := func(limit string) *Test { return from(RectalTemperature, limit, Fahrenheit) }
	older := Group{horsesMules, pastFoal}
	donkeys := Group{[]Type{TypeDonkey}, grown}
	return []*Alarm{
		now("fever", ProblemFever, atLeast("102.5"), readIn("latitude36", "over 102.5 F; a reposted notice of a state's veterinary association prints 102.5 F and over (WSVMA 2018)")).
			of(&Group{Stages: pastWeek}).unless(fact(Working)).calm(),
		soon("fever-mild", ProblemFever, t("101.5"), readIn("vetspecialists-colitis", "over 101.5 F; others begin at 102, 102.5 and 103 F")).
			of(&Group{horsesMules, []Stage{Yearling, TwoYearOld, Adult, Senior}}).unless(fact(Working), fact(HotDay), is(Lately, "vaccine"), minutes(SinceWork, 0, 120)).calm(),
		soon("weanling-fever-mild", ProblemFever, t("102"), derived("performance-equine", "weanlings are printed up to 102 F")).
			of(&Group{horsesMules, []Stage{Weanling}}).unless(fact(Working), fact(HotDay), is(Lately, "vaccine")).calm(),
		again("fever-mild-hot", ProblemFever, t("101.5"), 30, RingSoon, ours("on a hot day, in the shade first")).of(&older).with(fact(HotDay)).unless(fact(Working)),
		again("fever-vaccine", ProblemFever, t("101.5"), 720, RingSoon, practice("a mild fever within two days of a vaccine; lay copies print it")).
			of(&older).with(is(Lately, "vaccine")).unless(fact(Working)),
		now("fever-and-ill", ProblemFever, atLeast("102"), readIn("purdue-emergency", "over 102 F with dullness or off feed")).
			of(&older).unless(fact(Working)).beside(fact(OffColour), fact(OffFeed), is(Attitude, "quiet")),
		now("fever-and-swelling", ProblemFever, warm(), derived("equus-2016-november", "foot to hock, fever and lame; with any hot swelling it is ours")).
			beside(is(Swelling, "hot", "hot-large"), is(Swallowing, "drools", "cannot", "gulps"), is(Vulva, "discharge", "blood"), is(Udder, "hot")).unless(fact(Working)),
		now("fever-journey", ProblemFever, warm(), readIn("the-horse-shipping", "fever after a long journey, with other signs")).
			of(&older).with(is(Lately, "journey")).beside(is(Cough, "few", "often"), fact(OffColour), fact(OffFeed), is(Gait, "stiff", "short", "will-not-walk"), is(Attitude, "quiet"), above(RespiratoryRate, "20", PerMinute)),
		now("fever-contact", ProblemFever, warm(), &Provenance{"cdfa-2019", SecondHand, "101.5 F once after contact; isolate"}).with(is(Lately, "contact")),
		now("fever-contact-masked", ProblemFever, atLeast("101"), readIn("ncsu-ehm", "101 F where a painkiller was given")).with(is(Lately, "contact"), fact(MedicineGiven)),
		soon("donkey-fever", ProblemFever, above(RectalTemperature, "38.4", Celsius), derived("wvs-donkey", "healthy to 37.8 C, another table to 38.4 C; no threshold to call was found")).
			of(&donkeys).unless(fact(Working), fact(HotDay)).calm(),
		now("donkey-fever-and-ill", ProblemFever, above(RectalTemperature, "37.8", Celsius), derived("wvs-donkey", "over 37.8 C with another sign; no threshold to call was found")).
			of(&donkeys).unless(fact(Working), fact(HotDay)).beside(fact(OffColour), fact(OffFeed), is(Cough, "few", "often"), is(Nostrils, "coloured"), is(Droppings, "loose")),
		soon("young-donkey-fever", ProblemFever, t("102.1"), derived("donkey-sanctuary-older", "under two years to 102.1 F")).
			of(&Group{[]Type{TypeDonkey}, []Stage{Foal, Weanling, Yearling}}).unless(fact(Working), fact(HotDay)),
		now("foal-fever", ProblemFoal, t("102"), &Provenance{"gerros-osu", SecondHand, "outside 99 to 102 F in the first four days: call"}).of(&Group{Stages: firstDays}),
		now("foal-cold", ProblemFoal, below(RectalTemperature, "37.2", Celsius), readIn("lenz-aqha", "outside 99 to 101.5 F; 37.2 C is a hair under 99 F, and printed too")).of(&Group{Stages: firstDays}),
		soon("older-foal-warm", ProblemFoal, t("102"), readIn("csu-foal-diarrhoea", "99 to 102 F")).of(&Group{horsesMules, []Stage{Foal}}),
		now("older-foal-fever-and-more", ProblemFoal, from(RectalTemperature, "39.0", Celsius), derived("rhodococcus-farm", "over 39 C with a fast breath; with a cough, lameness or poor nursing it is ours")).
			of(&Group{horsesMules, []Stage{Foal}}).beside(above(RespiratoryRate, "40", PerMinute), is(Cough, "few", "often"), is(Gait, "short", "lame", "stiff", "will-not-walk"), is(LimbLoad, "pointing"), fact(OffFeed), fact(OffColour), is(Droppings, "loose")),
		again("older-foal-cold", ProblemFoal, below(RectalTemperature, "99", Fahrenheit), 10, RingNow, derived("csu-foal-diarrhoea", "99 to 102 F; a thermometer that is not in far enough reads low")).
			of(&Group{horsesMules, []Stage{Foal}}),
		again("cold", ProblemCirculation, below(RectalTemperature, "36.0", Celsius), 10, RingSoon,
			derived("hall-2019", "below the measured reference interval, 36.0 to 38.0 C; a thermometer that is not in far enough reads low")).of(&olderAnimals),
		now("cold-and-more", ProblemCirculation, below(RectalTemperature, "98", Fahrenheit), readIn("latitude36", "under 98 F; one practice's page; the other sign is ours")).
			of(&olderAnimals).beside(fact(OffColour), fact(InPain), is(LimbWarmth, "cold"), is(PulseStrength, "weak", "not-felt"), is(Muscle, "hard", "painful"), is(Urine, "dark")),
	}
}

// heatRules hold during and after work, with the minutes since it ended.
func heatRules() []*Alarm {
	t := func(limit string) *Test { return from(RectalTemperature, limit, Celsius) }
	hr := func(limit string) *Test { return from(HeartRate, limit, PerMinute) }
	rr := func(limit string) *Test { return from(RespiratoryRate, limit, PerMinute) }
	work := fact(Worked)
	first := func(a *Alarm) *Alarm { return a.with(work).first(ActCool) }
	return []*Alarm{
		first(now("heat-41", ProblemHeat, t("41.0"), readIn("horse-hound-crosscountry", "over 41 C at risk"))),
		first(again("heat-40.6", ProblemHeat, t("40.6"), 10, RingNow, practice("riders' pages name 105 F an alarm"))).with(minutes(SinceWork, 0, 30)),
		first(again("heat-40-early", ProblemHeat, t("40.0"), 10, RingNow, derived("equus-2022-heat", "over 104 F and stays so"))).with(minutes(SinceWork, 10, 30)),
		first(now("heat-40", ProblemHeat, t("40.0"), readIn("equus-2022-heat", "104 F and over; that half an hour is too long is ours"))).with(minutes(SinceWork, 30, 0)),
		first(again("heat-39.4", ProblemHeat, t("39.4"), 10, RingNow, practice("a seller and a lay page name 103 F that stays"))).with(minutes(SinceWork, 30, settledMinutes)),
		again("fever-mild-work", ProblemHeat, above(RectalTemperature, "101.5", Fahrenheit), 30, RingSoon,
			derived("verdegaal-2021", "core temperature is back by 60 minutes in one discipline, still over 39 C in a third of another; two hours are ours")).
			of(&Group{horsesMules, []Stage{Yearling, TwoYearOld, Adult, Senior}}).with(work, minutes(SinceWork, settledMinutes, 120)).unless(fact(HotDay)),
		first(now("heat-nerves", ProblemHeat, t("40.0"), readIn("brownlow-2023", "signs of the brain are the main criterion"))).
			beside(is(Attitude, "dull", "anxious", "odd", "down-not-rising"), is(HeadCarriage, "low"), is(Gait, "staggers", "will-not-walk"), is(Sway, "sways", "falls")),
		first(now("heat-behaviour", ProblemHeat, is(Attitude, "dull"), derived("brownlow-2023", "begins as irritability or dullness; in the heat, without a thermometer"))).with(fact(HotDay), fact(Working)),
		first(now("heat-down", ProblemHeat, is(Attitude, "down-not-rising"), readIn("brownlow-2023", "signs of the brain are the main criterion"))).with(fact(Working)),
		first(now("heat-stagger", ProblemHeat, is(Gait, "staggers"), readIn("brownlow-2023", "signs of the brain are the main criterion"))).with(fact(Working)),
		first(again("heart-stays-80", ProblemHeat, hr("80"), 10, RingNow, derived("weaver-house-heat", "over 80 after two minutes of rest; one practice's page"))).with(minutes(SinceWork, 10, 30)),
		first(again("heart-80-early", ProblemHeat, hr("80"), 10, RingNow, derived("weaver-house-heat", "over 80 after two minutes of rest, unless it is seen to fall; one practice's page"))).
			with(minutes(SinceWork, 2, 10)).unless(is(Cooling, "recovering")),
		first(now("heart-80", ProblemHeat, hr("80"), derived("aerc-2007", "a fit horse is down within 30 minutes"))).with(minutes(SinceWork, 30, 0)),
		first(again("heart-stays-64", ProblemHeat, above(HeartRate, "64", PerMinute), 10, RingNow, readIn("fei-2019", "article 821.2.3; 64 within 20 to 30 minutes"))).
			of(&grownHorses).with(minutes(SinceWork, 20, settledMinutes)),
		first(now("heart-64-dull", ProblemHeat, above(HeartRate, "64", PerMinute), derived("fei-2019", "64 within 20 to 30 minutes; that a dull horse does not wait for another count is ours"))).
			of(&grownHorses).with(minutes(SinceWork, 20, settledMinutes)).beside(is(Attitude, "dull"), is(HeadCarriage, "low"), is(Cooling, "slow")),
		first(now("breath-60-low", ProblemHeat, rr("60"), readIn("equus-2022-heat", "60 to 80 with head low and blank"))).
			beside(is(HeadCarriage, "low"), is(Attitude, "dull", "odd")),
		first(now("breath-60", ProblemHeat, rr("60"), derived("equus-2022-heat", "still 60 after half an hour, with a fast heart or a high temperature"))).
			with(minutes(SinceWork, 30, 0)).beside(above(HeartRate, "64", PerMinute), t("39.4"), is(RespiratoryEffort, "pushing", "struggling")),
		first(again("breath-stays-60", ProblemHeat, rr("60"), 10, RingNow, derived("equus-2022-heat", "still 60 after half an hour"))).with(minutes(SinceWork, 30, 0)),
		first(now("hot-no-sweat", ProblemHeat, is(Coat, "hot-dry"), readIn("equus-2022-heat", "sweat fails and the temperature climbs"))).with(t("39.4")),
		first(again("hot-dry-work", ProblemHeat, is(Coat, "hot-dry"), 10, RingNow, derived("equus-2022-heat", "sweat fails; before the temperature is taken"))),
		soon("hot-dry", ProblemHeat, is(Coat, "hot-dry"), practice("")).unless(work),
		now("hot-dry-hot-day", ProblemHeat, is(Coat, "hot-dry"), derived("equus-2022-heat", "sweat fails in the heat")).with(fact(HotDay)).first(ActCool),
		again("pushing-work", ProblemHeat, is(RespiratoryEffort, "pushing"), 10, RingNow, practice("")).with(minutes(SinceWork, 0, 30)).unless(fact(HotDay)),
		first(now("pushing-work-late", ProblemHeat, is(RespiratoryEffort, "pushing"), practice("belly pushing half an hour after work"))).with(minutes(SinceWork, 30, 0)),
		first(again("cooling-slow", ProblemHeat, is(Cooling, "slow"), 10, RingNow, derived("aerc-2007", "not down by 30 minutes"))),
		first(now("cooling-not", ProblemHeat, is(Cooling, "not-recovering"), derived("equus-2022-heat", "stays hot"))),
		again("flared-work-late", ProblemHeat, is(RespiratoryEffort, "flared"), 15, RingSoon, practice("")).with(work, minutes(SinceWork, 30, settledMinutes)),
	}
}
