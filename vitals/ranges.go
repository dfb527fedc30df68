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
func within(g Group, low, high string, unit Unit, src SourceID, mark Mark, note string) Range {
	r := Range{Group: g, Unit: unit, Provenance: Provenance{src, mark, note}}
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
		return within(g, low, high, PerMinute, src, mark, note)
	}
	return []Range{
		row(adultHorse, "28", "42", "devereux", Read, "p. 35"),
		row(adultHorse, "28", "40", "merck", SecondHand, ""),
		row(adultHorse, "23", "70", "texas-agrilife-2009", Read, "average 44"),
		row(adultHorse, "30", "40", "uci-colic-1989", Read, "athletic horses may show 20 to 25"),
		row(adultHorse, "22", "44", "penn-vet", Read, "pulse"),
		row(adultHorse, "36", "40", "donkey-sanctuary", SecondHand, "the table's column for horses"),
		row(adultHorse, "28", "48", "florida-hospital", SecondHand, ""),
		row(adultHorse, "30", "42", "aaep-emergencies", Memory, fromMemory),
		row(adultHorse, "28", "44", "aaep-emergencies", SecondHand, "a repost without the guideline's name prints 28 to 44"),
		row(adultHorse, "28", "44", "minnesota-extension", Memory, fromMemory),
		row(adultHorse, "25.7", "35.9", "jvim-2022", Derived, "mean 30.8, SD 2.6, 201 trained Standardbreds by ECG; mean -/+ 1.96 SD"),
		row(adultHorse, "24.7", "41.1", "jvim-2022", Derived, "mean 32.9, SD 4.2, 52 untrained Standardbreds by ECG; mean -/+ 1.96 SD"),
		row(adultPony, "40", "48", "extension-consensus", Memory, fromMemory+"; no text was found"),
		row(firstDay, "40", "80", "koterba-madigan", Memory, fromMemory+"; at birth, over 60 and rising within minutes, 120 to 150 in the first hours"),
		row(firstWeek, "80", "120", "neonatal-outline", SecondHand, "the original is not named"),
		row(firstWeek, "80", "120", "extension-consensus", Memory, fromMemory+"; some print 70 to 100"),
		row(olderFoal, "60", "80", "merck", Memory, fromMemory),
		row(weanling, "45", "60", "extension-consensus", Memory, fromMemory+"; some print 40 to 60"),
		row(yearling, "40", "60", "extension-consensus", Memory, fromMemory+"; some print 45 to 60"),
		row(twoYearOld, "40", "50", "extension-consensus", Memory, fromMemory),
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
		return within(g, low, high, PerMinute, src, mark, note)
	}
	return []Range{
		row(adultHorse, "8", "16", "devereux", Read, "p. 35"),
		row(adultHorse, "8", "18", "florida-lecture", Read, ""),
		row(adultHorse, "8", "15", "donkey-sanctuary", SecondHand, "the table's column for horses"),
		row(adultHorse, "12", "12", "texas-agrilife-2009", Read, "average; no range printed"),
		row(adultHorse, "8", "10", "uci-colic-1989", Read, "the data set's note calls its usefulness doubtful, since it fluctuates greatly"),
		row(adultHorse, "10", "20", "florida-hospital", SecondHand, ""),
		row(adultHorse, "12", "20", "aaep-emergencies", Memory, fromMemory),
		row(adultHorse, "10", "24", "minnesota-extension", Memory, fromMemory+"; low confidence"),
		row(adultPony, "12", "20", "extension-consensus", Memory, fromMemory+"; no text was found"),
		row(firstDay, "60", "80", "koterba-madigan", Memory, fromMemory+"; the first 30 minutes"),
		row(firstDay, "60", "80", "gerros-osu", SecondHand, "the first 15 minutes, then 20 to 40"),
		row(firstWeek, "30", "40", "neonatal-outline", SecondHand, "in moderate weather; 60 to 80 in heat; the original is not named"),
		row(firstWeek, "20", "40", "extension-consensus", Memory, fromMemory),
		row(olderFoal, "20", "40", "merck", Memory, fromMemory),
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
		return within(g, low, high, Celsius, src, mark, note)
	}
	f := func(g Group, low, high string, src SourceID, mark Mark, note string) Range {
		return within(g, low, high, Fahrenheit, src, mark, note)
	}
	return []Range{
		c(adultHorse, "36.0", "38.0", "hall-2019", Read, "measured reference interval, predictive digital thermometer at 5 cm"),
		c(adultHorse, "37", "38", "devereux", Read, "p. 35; printed beside 98.5 to 100.5 F, though 37 C is 98.6 F and 38 C is 100.4 F"),
		f(adultHorse, "99", "101", "texas-agrilife-2009", Read, "printed as 100 -/+ 1 F"),
		c(adultHorse, "37.8", "37.8", "uci-colic-1989", Read, "one figure, no range"),
		c(adultHorse, "37.5", "38.5", "donkey-sanctuary", SecondHand, "the table's column for horses; its Fahrenheit column is garbled"),
		f(adultHorse, "99", "101.5", "florida-hospital", SecondHand, ""),
		c(adultHorse, "37.2", "38.1", "merck", Memory, fromMemory+"; stallions, 99.0 to 100.6 F"),
		c(adultHorse, "37.3", "38.2", "merck", Memory, fromMemory+"; mares, 99.1 to 100.8 F"),
		f(adultHorse, "99.5", "101.5", "aaep-emergencies", Memory, fromMemory),
		c(adultHorse, "37.85", "38.35", "piccione-maturation", Derived, "mean 38.1 C and daily range 0.5 C of adults; mean -/+ half the range"),
		c(firstDay, "37", "39", "koterba-madigan", Memory, fromMemory+"; the first minutes"),
		f(firstWeek, "99", "101.8", "neonatal-outline", SecondHand, "may fall to 98.6 F just after birth; the original is not named"),
		f(firstWeek, "99", "101.5", "lenz-aqha", Read, ""),
		f(firstWeek, "99", "102", "gerros-osu", SecondHand, "the first four days"),
		f(firstWeek, "99", "102", "extension-consensus", Memory, fromMemory),
		c(toSixMonths, "38.2", "38.8", "santa-maria-foals", Read, "52 Thoroughbred foals"),
		f(olderFoal, "", "102", "merck", Memory, fromMemory+"; the upper side only"),
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
		return within(Group{}, low, high, Second, src, mark, note)
	}
	return []Range{
		row("1", "2", "penn-vet", Read, ""),
		row("", "2", "anaesthesia-manual", Read, "under 2 s"),
		row("", "3", "devereux", Read, "p. 720; within three seconds"),
		row("", "3", "uci-colic-1989", Read, "coded as under 3 s or not"),
		row("", "2", "florida-hospital", SecondHand, "under 2 s"),
		row("2", "2", "aaep-emergencies", Memory, fromMemory+"; one figure"),
	}
}
