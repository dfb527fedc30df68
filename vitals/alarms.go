package vitals

import (
	"slices"

	"github.com/shopspring/decimal"
)

var (
	horsesMules = []Type{TypeHorse, TypePony, TypeDraft, TypeMule}
	foalStages  = []Stage{Newborn, Neonate, Foal}
	pastFoal    = []Stage{Weanling, Yearling, TwoYearOld, Adult, Senior}
	pastWeek    = []Stage{Foal, Weanling, Yearling, TwoYearOld, Adult, Senior}
	grown       = []Stage{TwoYearOld, Adult, Senior}
	firstDays   = []Stage{Newborn, Neonate}
)

func number(s string) decimal.NullDecimal {
	return decimal.NewNullDecimal(decimal.RequireFromString(s))
}

// alarms are the rules, sign by sign. Where two sources speak of one threshold the one
// that was read stands. A row of common practice has no published number behind it and
// is a sign that no call should wait for.
var alarms = []Alarm{
	// Attitude.
	{ID: "down-not-rising", Sign: Attitude, Urgency: RingNow, Grades: ids[GradeID]("down-not-rising"),
		Provenance: Provenance{"lightfoot-2020", Read, "recumbency, the sign receptionists most often named critical"}},
	{ID: "down-thrashing", Sign: Attitude, Urgency: RingNow, Grades: ids[GradeID]("down-thrashing"),
		Provenance: Provenance{"devereux", Read, "pp. 759-760"}},
	{ID: "dull", Sign: Attitude, Group: Group{horsesMules, pastFoal}, Urgency: RingSoon, Grades: ids[GradeID]("dull"),
		Provenance: Provenance{"react", Read, "any change in behaviour"}},
	{ID: "donkey-dull", Sign: Attitude, Group: anyDonkey, Urgency: RingNow, Grades: ids[GradeID]("dull"),
		Provenance: Provenance{"ukvet-donkey", Read, "potentially an emergency"}},
	{ID: "foal-dull", Sign: Attitude, Group: Group{horsesMules, foalStages}, Urgency: RingNow, Grades: ids[GradeID]("dull"),
		Provenance: Provenance{"lenz-aqha", Read, ""}},

	// What no call should wait for, though no published text at hand gives a threshold.
	{ID: "no-weight", Sign: LimbLoad, Urgency: RingNow, Grades: ids[GradeID]("no-weight"),
		Provenance: Provenance{Mark: CommonPractice, Note: "no association, government or university text was found"}},
	{ID: "heavy-bleeding", Sign: Wounds, Urgency: RingNow, Grades: ids[GradeID]("heavy"),
		Provenance: Provenance{Mark: CommonPractice}},
	{ID: "struggling-breath", Sign: RespiratoryEffort, Urgency: RingNow, Grades: ids[GradeID]("struggling"),
		Provenance: Provenance{Mark: CommonPractice}},
	{ID: "rocked-back", Sign: Stance, Urgency: RingSoon, Grades: ids[GradeID]("rocked-back"),
		Provenance: Provenance{Mark: CommonPractice}},

	// Signs of belly pain.
	{ID: "colic-behaviour", Sign: Doing, Urgency: RingNow, WithPain: true,
		Grades:     ids[GradeID]("rolling", "pawing", "watching-flank"),
		Provenance: Provenance{"ucdavis-vmth", Read, "signs of colic: call at once"}},
	{ID: "pain-signs", Sign: PainSigns, Urgency: RingNow,
		Grades: ids[GradeID]("lip-curl", "plays-in-water", "watches-flank", "paws", "stretches-out", "kicks-belly",
			"bites-belly", "groans", "bloated", "up-and-down", "rolls", "sits-like-a-dog", "on-its-back"),
		Provenance: Provenance{"ucdavis-vmth", Read, "signs of colic: call at once"}},
	{ID: "early-pain-signs", Sign: PainSigns, Urgency: RingSoon, Grades: ids[GradeID]("lies-more", "leaves-feed"),
		Provenance: Provenance{"react", Read, ""}},

	// Feed and droppings.
	{ID: "eats-less", Sign: Feed, Group: Group{horsesMules, pastWeek}, Urgency: RingSoon,
		Grades: ids[GradeID]("less", "none"), Provenance: Provenance{"react", Read, "eating less"}},
	{ID: "donkey-eats-less", Sign: Feed, Group: anyDonkey, Urgency: RingNow, Grades: ids[GradeID]("less", "none"),
		Provenance: Provenance{"ukvet-donkey", Read, "inappetence is potentially an emergency"}},
	{ID: "foal-nurses-less", Sign: Feed, Group: Group{horsesMules, firstDays}, Urgency: RingNow, Grades: ids[GradeID]("less", "none"),
		Provenance: Provenance{"lenz-aqha", Read, "nurses 4 to 5 times an hour in its first week"}},
	{ID: "few-droppings", Sign: Droppings, Urgency: RingSoon, Grades: ids[GradeID]("few", "none"),
		Provenance: Provenance{"react", Read, "fewer droppings"}},

	// Gums.
	{ID: "gum-colour", Sign: GumColour, Urgency: RingNow, Grades: ids[GradeID]("white", "brick-red", "blue"),
		Provenance: Provenance{"ucdavis-vmth", Read, "red, white or blue"}},
	{ID: "gum-purple", Sign: GumColour, Urgency: RingNow, Grades: ids[GradeID]("purple"),
		Provenance: Provenance{"uci-colic-1989", Read, "dark cyanotic"}},
	{ID: "foal-gum-yellow", Sign: GumColour, Group: Group{Stages: foalStages}, Urgency: RingNow, Grades: ids[GradeID]("yellow"),
		Provenance: Provenance{"lenz-aqha", Read, "white or yellow"}},
	{ID: "gum-colour-pain", Sign: GumColour, Urgency: RingNow, WithPain: true, Grades: ids[GradeID]("pale-pink", "yellow"),
		Provenance: Provenance{"malone-2012", Read, "off colour, with signs of colic"}},
	{ID: "dark-rim-pain", Sign: DarkRim, Urgency: RingNow, WithPain: true, Grades: ids[GradeID]("present"),
		Provenance: Provenance{"malone-2012", Read, "off colour, with signs of colic; that the rim is off colour is our reading"}},
	{ID: "gum-moisture-pain", Sign: GumMoisture, Urgency: RingNow, WithPain: true, Grades: ids[GradeID]("tacky", "dry"),
		Provenance: Provenance{"malone-2012", Read, "tacky, with signs of colic"}},
	{ID: "refill-slow", Sign: CapillaryRefill, Urgency: RingSoon, Above: number("2.5"), Unit: Second,
		Provenance: Provenance{"curtis-2015", Read, "odds ratio 3.21 (1.02 to 10.1) of a critical colic"}},
	{ID: "refill-slow-pain", Sign: CapillaryRefill, Urgency: RingNow, WithPain: true, Above: number("2.5"), Unit: Second,
		Provenance: Provenance{"curtis-2015", Read, "the threshold; that a long refill with signs of colic is for now is Malone 2012"}},
	{ID: "refill-very-slow", Sign: CapillaryRefill, Urgency: RingNow, Above: number("3"), Unit: Second,
		Provenance: Provenance{"devereux", Derived, "p. 720; beyond the widest printed range, within three seconds"}},

	// Heart rate.
	{ID: "heart-pain", Sign: HeartRate, Group: Group{horsesMules, []Stage{Adult, Senior}}, Urgency: RingNow, WithPain: true, AtRest: true,
		Above: number("45"), AndEqual: true, Unit: PerMinute,
		Provenance: Provenance{"malone-2012", Read, "over 45 to 50, with signs of colic; fired at the lower edge"}},
	{ID: "heart-high", Sign: HeartRate, Group: Group{horsesMules, grown}, Urgency: RingNow, AtRest: true,
		Above: number("60"), AndEqual: true, Unit: PerMinute,
		Provenance: Provenance{"devereux", Read, "p. 760; stays above 60 between bouts"}},
	{ID: "donkey-heart-high", Sign: HeartRate, Group: Group{[]Type{TypeDonkey}, grown}, Urgency: RingSoon, AtRest: true,
		Above: number("60"), Unit: PerMinute,
		Provenance: Provenance{"wvs-donkey", Read, "sustained above 60 to 80; healthy donkeys are printed up to 68"}},
	{ID: "donkey-heart-very-high", Sign: HeartRate, Group: Group{[]Type{TypeDonkey}, grown}, Urgency: RingNow, AtRest: true,
		Above: number("80"), Unit: PerMinute,
		Provenance: Provenance{"wvs-donkey", Read, "sustained above 60 to 80"}},

	{ID: "pulse-weak-pain", Sign: PulseStrength, Urgency: RingNow, WithPain: true, Grades: ids[GradeID]("weak", "not-felt"),
		Provenance: Provenance{"curtis-2015", Read, "a weak pulse, odds ratio 2.90 (1.39 to 5.99) of a critical colic"}},

	// Gut sounds.
	{ID: "gut-silent", Sign: GutSounds, Urgency: RingNow, Grades: ids[GradeID]("none"), AllSites: true,
		Provenance: Provenance{"devereux", Read, "p. 760; Curtis 2015 keeps absence too"}},

	// Temperature. The thresholds are printed in Fahrenheit.
	{ID: "fever", Sign: RectalTemperature, Group: Group{Stages: pastWeek}, Urgency: RingNow, AtRest: true,
		Above: number("102.5"), AndEqual: true, Unit: Fahrenheit,
		Provenance: Provenance{"latitude36", Read, "over 102.5 F; a reposted notice of a state's veterinary association prints 102.5 F and over (WSVMA 2018)"}},
	{ID: "foal-warm", Sign: RectalTemperature, Group: Group{Stages: firstDays}, Urgency: RingSoon,
		Above: number("101.5"), Unit: Fahrenheit,
		Provenance: Provenance{"lenz-aqha", Read, "outside 99 to 101.5 F; 52 healthy foals reached 38.8 C (101.8 F)"}},
	{ID: "foal-fever", Sign: RectalTemperature, Group: Group{Stages: firstDays}, Urgency: RingNow,
		Above: number("102"), Unit: Fahrenheit,
		Provenance: Provenance{"gerros-osu", SecondHand, "outside 99 to 102 F in the first four days: call"}},
	{ID: "foal-cold", Sign: RectalTemperature, Group: Group{Stages: firstDays}, Urgency: RingNow,
		Below: number("99"), Unit: Fahrenheit,
		Provenance: Provenance{"lenz-aqha", Read, "outside 99 to 101.5 F"}},
	{ID: "older-foal-cold", Sign: RectalTemperature, Group: Group{horsesMules, []Stage{Foal}}, Urgency: RingSoon,
		Below: number("99"), Unit: Fahrenheit,
		Provenance: Provenance{"csu-foal-diarrhoea", Derived, "below 99 to 102 F, printed of foals of 5 to 15 days that are otherwise well"}},
	{ID: "cold", Sign: RectalTemperature, Group: Group{Stages: pastFoal}, Urgency: RingSoon,
		Below: number("36.0"), Unit: Celsius,
		Provenance: Provenance{"hall-2019", Derived, "below the measured reference interval, 36.0 to 38.0 C; the 98 F of one practice (Latitude 36) lies inside it"}},
}

// Alarms lists every rule. The entries are the caller's own copies.
func Alarms() []Alarm {
	out := slices.Clone(alarms)
	for i := range out {
		out[i].Group = out[i].Group.clone()
		out[i].Grades = slices.Clone(out[i].Grades)
	}
	return out
}
