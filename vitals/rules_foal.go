package vitals

// mareRules are on foaling and the days after.
func mareRules() []*Alarm {
	fever := warm()
	return []*Alarm{
		now("red-bag", ProblemFoaling, is(Foaling, "red-bag"), readIn("aqha-foaling", "pp. 33-34; no time to wait; Devereux p. 956")).first(ActCutBag),
		now("foal-wrong", ProblemFoaling, is(Foaling, "wrong"), readIn("aqha-foaling", "pp. 33-34; one foot, soles up, no nose")),
		now("foaling-stuck", ProblemFoaling, is(Foaling, "stuck"), readIn("uvma-foaling", "20 minutes; others print 30")),
		again("waters-broken", ProblemFoaling, is(Foaling, "waters"), 5, RingNow, readIn("aqha-foaling", "pp. 33-34; white bag or a foot within 5 minutes")),
		again("foal-coming", ProblemFoaling, is(Foaling, "white-bag", "feet-and-nose"), 20, RingNow, readIn("uvma-foaling", "20 minutes; others print 30")),
		again("foaling-restless", ProblemFoaling, is(Foaling, "restless"), 60, RingNow, derived("veteriankey-foaling", "2 to 5 hours; that without progress one calls after an hour is ours")),
		again("afterbirth-hanging", ProblemMare, is(Afterbirth, "hanging"), 60, RingNow, readIn("the-horse-afterbirth", "3 hours; others print 4 and 6")),
		now("afterbirth-hanging-late", ProblemMare, is(Afterbirth, "hanging"), readIn("the-horse-afterbirth", "3 hours; others print 4 and 6")).with(minutes(SinceFoaling, 180, 0)),
		now("afterbirth-late", ProblemMare, is(Afterbirth, "late"), readIn("the-horse-afterbirth", "3 hours; others print 4 and 6")),
		now("afterbirth-torn", ProblemMare, is(Afterbirth, "torn"), readIn("devereux", "p. 962; a piece left behind")),
		now("mare-ill-after", ProblemMare, fact10Days(), readIn("devereux", "p. 962; dull, feverish or sore-footed after foaling; ten days are ours")).
			beside(fever, fact(OffColour), is(Vulva, "discharge"), is(DigitalPulse, "bounding"), is(Gait, "short", "stiff", "will-not-walk"), fact(InPain), is(GumColour, "pale-pink")).anySign(),
		soon("vulva-discharge", ProblemMare, is(Vulva, "discharge"), practice("")),
		now("vulva-discharge-ill", ProblemMare, is(Vulva, "discharge"), derived("beh-afterbirth", "with fever or dullness; one practice's page")).beside(fever, fact(OffColour), fact(OffFeed)),
		now("vulva-blood", ProblemMare, is(Vulva, "blood"), derived("devereux", "p. 957")),
		soon("vulva-tear", ProblemMare, is(Vulva, "tear"), practice("")),
		soon("milk-running", ProblemMare, is(Udder, "dripping"), readIn("uvma-foaling", "milk that runs before the birth is lost to the foal")),
		now("udder-full", ProblemFoal, is(Udder, "full"), derived("the-horse-foal-2020", "a full udder: the foal does not suck")),
		soon("udder-hot", ProblemMare, is(Udder, "hot"), practice("")),
	}
}

func fact10Days() *Test { return minutes(SinceFoaling, 0, 10*24*60) }

// anySign turns a rule that begins with a clock into one that fires at the first sign beside it.
func (a *Alarm) anySign() *Alarm { a.With, a.Test = append(a.With, a.Test), Test{}; return a }

// foalRules are on the first hours, navel and joints.
func foalRules() []*Alarm {
	newborn := Group{Stages: []Stage{Newborn}}
	weak := []*Test{fact(OffColour), is(FirstHours, "no-suck-reflex")}
	// Late: tell the vet at any hour; later, or at once without a suck reflex or dull: call now.
	clock := func(id AlarmID, grade GradeID, late, later int, why *Provenance) []*Alarm {
		t := is(FirstHours, grade)
		return []*Alarm{
			again(id, ProblemFoal, t, late/2, RingNow, why).of(&newborn).with(minutes(SinceBirth, 0, late)),
			soon(id+"-late", ProblemFoal, t, why).of(&newborn).with(minutes(SinceBirth, late, later)),
			now(id+"-later", ProblemFoal, t, why).of(&newborn).unless(minutes(SinceBirth, 0, later)),
			now(id+"-weak", ProblemFoal, t, why).of(&newborn).beside(weak...).unless(minutes(SinceBirth, 0, 15)),
		}
	}
	rules := []*Alarm{
		now("not-on-chest", ProblemFoal, is(FirstHours, "not-on-chest"), readIn("walker-2023", "table 1; over 10 minutes")).of(&newborn).unless(minutes(SinceBirth, 0, 10)),
		again("not-on-chest-yet", ProblemFoal, is(FirstHours, "not-on-chest"), 5, RingNow, readIn("walker-2023", "table 1; over 10 minutes")).of(&newborn).with(minutes(SinceBirth, 0, 10)),
		now("no-suck-reflex", ProblemFoal, is(FirstHours, "no-suck-reflex"), readIn("walker-2023", "table 1; over 15 minutes")).of(&newborn).unless(minutes(SinceBirth, 0, 15)),
		again("no-suck-reflex-yet", ProblemFoal, is(FirstHours, "no-suck-reflex"), 10, RingNow, readIn("walker-2023", "table 1; over 15 minutes")).of(&newborn).with(minutes(SinceBirth, 0, 15)),
	}
	rules = append(rules, clock("not-standing", "not-standing", 60, 120, readIn("austin-2013", "1 hour; Devereux p. 957 and Walker 2023 print 2"))...)
	rules = append(rules, clock("not-nursed", "not-nursed", 120, 180, readIn("austin-2013", "2 hours; another page prints 3, Walker 2023 over 4"))...)
	return append(rules,
		again("no-dung", ProblemFoal, is(FirstHours, "no-dung"), 60, RingSoon, readIn("walker-2023", "table 1; within 3 hours")).of(&newborn).with(minutes(SinceBirth, 0, 180)),
		soon("no-dung-late", ProblemFoal, is(FirstHours, "no-dung"), readIn("walker-2023", "table 1; 3 to 6 hours")).of(&newborn).with(minutes(SinceBirth, 180, 360)),
		now("no-dung-later", ProblemFoal, is(FirstHours, "no-dung"), readIn("walker-2023", "table 1; over 6 hours")).of(&newborn).unless(minutes(SinceBirth, 0, 360)),
		again("no-urine", ProblemFoal, is(FirstHours, "no-urine"), 120, RingNow, readIn("walker-2023", "table 1; 6 to 10 hours; another page prints up to 18")).of(&newborn).with(minutes(SinceBirth, 0, 600)),
		soon("no-urine-late", ProblemFoal, is(FirstHours, "no-urine"), readIn("walker-2023", "table 1; 10 to 12 hours are a concern")).of(&newborn).with(minutes(SinceBirth, 600, 720)),
		now("no-urine-later", ProblemFoal, is(FirstHours, "no-urine"), readIn("walker-2023", "table 1; over 12 hours")).of(&newborn).unless(minutes(SinceBirth, 0, 720)),
		now("navel", ProblemFoal, is(Navel, "wet", "swollen"), readIn("paradis-foals", "half of infected joints have an infected navel")),
		now("joints", ProblemFoal, is(Joints, "full", "hot"), readIn("devereux", "p. 387; infection until shown otherwise")),
	)
}

// latelyRules are on what happened in the days before.
func latelyRules() []*Alarm {
	return []*Alarm{
		soon("others-ill", ProblemOther, is(Lately, "others-ill"), derived("aaep-when-to-call", "several animals ill at once; one other is told")),
		now("others-ill-and-more", ProblemOther, is(Lately, "others-ill"), readIn("aaep-when-to-call", "several animals ill at once")).with(fact(OtherRule)),
		again("contact", ProblemFever, is(Lately, "contact"), 720, RingSoon, readIn("ucdavis-ehv-2011", "temperature twice a day for 14 days")),
	}
}
