package vitals

import "github.com/shopspring/decimal"

// Published resting ranges. Every row that was found stands here, in the unit of its
// source; where sources disagree the form shows them side by side and nobody averages them.
// A source that prints one figure has Low equal to High.

// horses are the types that sources mean by "horse".
var horses = []Type{TypeHorse, TypePony, TypeDraft}

var (
	adultHorse  = Group{horses, []Stage{Adult, Senior}}
	adultPony   = Group{[]Type{TypePony}, []Stage{Adult, Senior}}
	firstDay    = Group{horses, []Stage{Newborn}}
	firstWeek   = Group{horses, []Stage{Newborn, Neonate}}
	toSixMonths = Group{horses, []Stage{Newborn, Neonate, Foal}}
	olderFoal   = Group{horses, []Stage{Foal}}
	neonate     = Group{horses, []Stage{Neonate}}
	pastDayOne  = Group{horses, []Stage{Neonate, Foal}}
	weanling    = Group{horses, []Stage{Weanling}}
	yearling    = Group{horses, []Stage{Yearling}}
	twoYearOld  = Group{horses, []Stage{TwoYearOld}}
	donkey      = Group{[]Type{TypeDonkey}, []Stage{TwoYearOld, Adult, Senior}}
	youngDonkey = Group{[]Type{TypeDonkey}, []Stage{Foal, Weanling, Yearling}}
	donkeyFoal  = Group{[]Type{TypeDonkey}, []Stage{Newborn, Neonate}}
	mule        = Group{[]Type{TypeMule}, []Stage{Adult, Senior}}
)

const fromMemory = "from memory, not checked against the source"

// within makes a row; an empty low or high is a side that the source does not give.
func within(g Group, low, high string, unit Unit, from Provenance) Range {
	r := Range{Group: g, Unit: unit, Provenance: from}
	if low != "" {
		r.Low = decimal.NewNullDecimal(decimal.RequireFromString(low))
	}
	if high != "" {
		r.High = decimal.NewNullDecimal(decimal.RequireFromString(high))
	}
	return r
}

func heartRateRanges() []Range {
	row := func(g Group, low, high string, src SourceID, mark Mark, note string) Range {
		return within(g, low, high, PerMinute, Provenance{src, mark, note})
	}
	return []Range{
		row(adultHorse, "28", "42", "devereux", Read, "p. 35"),
		row(adultHorse, "28", "40", "merck", SecondHand, ""),
		row(adultHorse, "23", "70", "texas-agrilife-2009", Read, "average 44"),
		row(adultHorse, "30", "40", "uci-colic-1989", Read, "athletic horses may show 20 to 25"),
		row(adultHorse, "22", "44", "penn-vet", Read, "pulse"),
		row(adultHorse, "36", "40", "donkey-sanctuary", SecondHand, "the table's column for horses"),
		row(adultHorse, "28", "48", "florida-hospital", SecondHand, ""),
		row(adultHorse, "28", "44", "aaep-emergencies", SecondHand, "a repost without the guideline's name prints 28 to 44"),
		row(adultHorse, "25.7", "35.9", "jvim-2022", Derived, "mean 30.8, SD 2.6, 201 trained Standardbreds by ECG; mean -/+ 1.96 SD"),
		row(adultHorse, "24.7", "41.1", "jvim-2022", Derived, "mean 32.9, SD 4.2, 52 untrained Standardbreds by ECG; mean -/+ 1.96 SD"),
		row(adultPony, "28", "44", "pony-magazine", Read, "ponies"),
		row(adultPony, "40", "48", "extension-consensus", Memory, fromMemory+"; no text was found"),
		row(firstDay, "60", "", "foaltimevet", Read, "over 60 from 1 to 5 minutes after birth"),
		row(firstDay, "70", "80", "newborn-foal-2010", Read, "at first; it rises by steps to about 150 at 12 hours"),
		row(firstDay, "80", "140", "foaltimevet", Read, "10 to 60 minutes after birth"),
		row(firstWeek, "80", "120", "neonatal-outline", SecondHand, "the original is not named"),
		row(neonate, "80", "120", "foaltimevet", Read, "24 hours to 5 days"),
		row(neonate, "90", "120", "newborn-foal-2010", Read, "where it settles over 24 to 48 hours"),
		row(neonate, "70", "100", "forbes-foals", Read, "from 24 hours on"),
		row(olderFoal, "60", "80", "performance-equine", Read, "foals, no age given"),
		row(olderFoal, "70", "90", "stable-page", Read, "2 to 4 weeks"),
		row(weanling, "40", "60", "performance-equine", Read, ""),
		row(weanling, "45", "60", "stable-page", Read, "6 to 12 months"),
		row(yearling, "40", "60", "all-about-equine", Read, ""),
		row(twoYearOld, "40", "50", "stable-page", Read, "2 to 3 years"),
		row(donkey, "31", "53", "donkey-sanctuary", SecondHand, ""),
		row(donkey, "36", "68", "donkey-sanctuary-older", SecondHand, "median 44"),
		row(donkey, "38", "48", "wvs-donkey", Read, ""),
		row(donkey, "41", "41", "irish-conference", SecondHand, "one figure"),
		row(youngDonkey, "44", "80", "donkey-sanctuary-older", SecondHand, "under two years, median 60"),
		row(youngDonkey, "40", "80", "wvs-donkey", Read, "young"),
		row(donkeyFoal, "80", "120", "wvs-donkey", Read, "foal"),
		row(mule, "32.3", "34.1", "ali-anjum-1998", Read, "morning and noon means, SEM about 1, not a range of animals; the evening mean is misprinted as 3.20"),
	}
}

func respiratoryRateRanges() []Range {
	row := func(g Group, low, high string, src SourceID, mark Mark, note string) Range {
		return within(g, low, high, PerMinute, Provenance{src, mark, note})
	}
	return []Range{
		row(adultHorse, "8", "16", "devereux", Read, "p. 35"),
		row(adultHorse, "8", "18", "florida-lecture", Read, ""),
		row(adultHorse, "8", "15", "donkey-sanctuary", SecondHand, "the table's column for horses"),
		row(adultHorse, "12", "12", "texas-agrilife-2009", Read, "average; no range printed"),
		row(adultHorse, "8", "10", "uci-colic-1989", Read, "the data set's note calls its usefulness doubtful, since it fluctuates greatly"),
		row(adultHorse, "10", "20", "florida-hospital", SecondHand, ""),
		row(adultHorse, "12", "20", "carlisle-equine", Read, ""),
		row(adultHorse, "12", "24", "millhouse-vet", Read, ""),
		row(adultPony, "8", "12", "native-ponies", Read, "horses and ponies"),
		row(firstDay, "60", "90", "tennessee-foal-pneumonia", Read, "at birth"),
		row(firstDay, "60", "80", "newborn-foal-2010", Read, "the first 30 minutes, then 30 to 40"),
		row(firstDay, "60", "80", "gerros-osu", SecondHand, "the first 15 minutes"),
		row(firstWeek, "20", "40", "gerros-osu", SecondHand, "after the first 15 minutes"),
		row(firstWeek, "30", "45", "tennessee-foal-pneumonia", Read, "from one or two hours after birth"),
		row(firstWeek, "30", "40", "neonatal-outline", SecondHand, "in moderate weather; 60 to 80 in heat; the original is not named"),
		row(toSixMonths, "30", "40", "the-horse-foal-breath", Read, "foals; 60 to 80 in hot weather"),
		row(olderFoal, "20", "40", "performance-equine", Read, "foals, no age given"),
		row(weanling, "8", "16", "performance-equine", Read, ""),
		row(weanling, "10", "25", "extension-consensus", Memory, fromMemory),
		row(yearling, "10", "20", "extension-consensus", Memory, fromMemory),
		row(twoYearOld, "12", "20", "aaep-emergencies", Memory, fromMemory+"; extension services give the adult figures at two years"),
		row(donkey, "13", "31", "donkey-sanctuary", SecondHand, ""),
		row(donkey, "12", "44", "donkey-sanctuary-older", SecondHand, "median 20"),
		row(donkey, "20", "20", "irish-conference", SecondHand, "one figure"),
		row(youngDonkey, "16", "48", "donkey-sanctuary-older", SecondHand, "under two years, median 28"),
		row(mule, "11.6", "13.2", "ali-anjum-1998", Read, "lowest and highest of three daily means, not a range of animals"),
	}
}

func temperatureRanges() []Range {
	c := func(g Group, low, high string, src SourceID, mark Mark, note string) Range {
		return within(g, low, high, Celsius, Provenance{src, mark, note})
	}
	f := func(g Group, low, high string, src SourceID, mark Mark, note string) Range {
		return within(g, low, high, Fahrenheit, Provenance{src, mark, note})
	}
	return []Range{
		c(adultHorse, "36.0", "38.0", "hall-2019", Read, "measured reference interval, predictive digital thermometer at 5 cm"),
		c(adultHorse, "37", "38", "devereux", Read, "p. 35; printed beside 98.5 to 100.5 F, though 37 C is 98.6 F and 38 C is 100.4 F"),
		f(adultHorse, "99", "101", "texas-agrilife-2009", Read, "printed as 100 -/+ 1 F"),
		c(adultHorse, "37.8", "37.8", "uci-colic-1989", Read, "one figure, no range"),
		c(adultHorse, "37.5", "38.5", "donkey-sanctuary", SecondHand, "the table's column for horses; its Fahrenheit column is garbled"),
		f(adultHorse, "99", "101.5", "florida-hospital", SecondHand, ""),
		f(adultHorse, "99.5", "101.5", "all-about-equine", Read, "horses, no age given"),
		c(adultHorse, "37.85", "38.35", "piccione-maturation", Derived, "mean 38.1 C and daily range 0.5 C of adults; mean -/+ half the range"),
		c(adultPony, "37.2", "38.3", "pony-magazine", Read, "ponies"),
		c(firstDay, "37.2", "38.6", "avenel-foals", Read, "towards the lower edge at birth, rising to the fourth day"),
		f(firstWeek, "99.5", "102", "newborn-foal-2010", Read, "to about 48 hours"),
		f(firstWeek, "99", "101.8", "neonatal-outline", SecondHand, "may fall to 98.6 F just after birth; the original is not named"),
		f(firstWeek, "99", "101.5", "lenz-aqha", Read, ""),
		f(firstWeek, "99", "102", "gerros-osu", SecondHand, "the first four days"),
		f(firstWeek, "99", "102", "forbes-foals", Read, ""),
		f(pastDayOne, "99", "102", "csu-foal-diarrhoea", Read, "printed of foals of 5 to 15 days that are otherwise well"),
		c(toSixMonths, "38.2", "38.8", "santa-maria-foals", Read, "52 Thoroughbred foals"),
		f(olderFoal, "99.5", "102", "performance-equine", Read, "foals, no age given"),
		f(weanling, "99.5", "102", "performance-equine", Read, ""),
		f(weanling, "99", "101.5", "extension-consensus", Memory, fromMemory),
		f(yearling, "99", "101.5", "extension-consensus", Memory, fromMemory),
		f(twoYearOld, "99.5", "101.5", "aaep-emergencies", Memory, fromMemory+"; extension services give the adult figures at two years"),
		c(donkey, "36.5", "37.7", "donkey-sanctuary", SecondHand, "97.7 to 99.9 F"),
		f(donkey, "97.2", "100", "donkey-sanctuary-older", SecondHand, "median 98.8 F"),
		c(donkey, "36.5", "37.8", "wvs-donkey", Read, "printed beside 97.2 to 100.0 F, though 36.5 C is 97.7 F"),
		c(donkey, "36.4", "38.4", "merck", Memory, fromMemory+"; 97.5 to 101.1 F"),
		c(donkey, "37.1", "37.1", "irish-conference", SecondHand, "one figure"),
		f(youngDonkey, "97.8", "102.1", "donkey-sanctuary-older", SecondHand, "under two years, median 99.6 F"),
		c(youngDonkey, "36.2", "38.9", "wvs-donkey", Read, "young"),
		c(donkeyFoal, "37.5", "38.5", "wvs-donkey", Read, "newborn"),
		f(mule, "99.7", "100.1", "ali-anjum-1998", Read, "lowest and highest of three daily means, SEM 0.15 F, not a range of animals"),
	}
}

func capillaryRefillRanges() []Range {
	row := func(low, high string, src SourceID, mark Mark, note string) Range {
		return within(Group{}, low, high, Second, Provenance{src, mark, note})
	}
	return []Range{
		row("1", "2", "penn-vet", Read, ""),
		row("", "2", "anaesthesia-manual", Read, "under 2 s"),
		row("", "3", "devereux", Read, "p. 720; within three seconds"),
		row("", "3", "uci-colic-1989", Read, "coded as under 3 s or not"),
		row("", "2", "florida-hospital", SecondHand, "under 2 s"),
	}
}
