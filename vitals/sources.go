package vitals

import (
	"slices"
)

// sources are the works that figures come from, the general ones first. An entry whose
// text was not opened says so; its figures carry the mark Memory.
var sources = []Source{
	// Handbooks, associations, universities, agencies.
	{"devereux", "Devereux, The Veterinary Care of the Horse", "the pages stand beside the figures; the author's name is from memory"},
	{"anaesthesia-manual", "Manual of Equine Anesthesia and Analgesia (Wiley)", "pp. 128-129 and the chapter on monitoring"},
	{"equine-cardiology", "Patteson, Equine Cardiology", "section 7.7.2; the author's name is from memory"},
	{"texas-agrilife-2009", "Texas AgriLife Extension, Normal Physiological Values for Select Animals, February 2009", ""},
	{"uci-colic-1989", "McLeish and Cecile, Horse Colic data set, University of Guelph, 1989 (UCI Machine Learning Repository 47)", "horse-colic.names"},
	{"penn-vet", "University of Pennsylvania School of Veterinary Medicine, Equine Normals", "perfusion1.htm, pulses1.htm"},
	{"florida-lecture", "University lecture course for horse owners, Assessing key vital signs", "the text read does not name the university; University of Florida from memory"},
	{"florida-hospital", "University of Florida Large Animal Hospital, list of adult normals", "as quoted by a horse-health site"},
	{"merck", "Merck Veterinary Manual, resting heart rates; normal rectal temperature ranges", "heart rates as quoted by a data publisher; the temperature of donkeys from memory, not opened"},
	{"aaep-emergencies", "American Association of Equine Practitioners, Guidelines to follow during equine emergencies", "a repost without its name; the figures of two-year-olds from memory"},
	{"extension-consensus", "Common figures of university extension services for horse owners", "no one text; from memory, not opened"},
	{"malone-2012", "Malone, University of Minnesota Extension, 13 March 2012", "answer on colic"},
	{"ucdavis-vmth", "University of California, Davis, Veterinary Medical Teaching Hospital, frequently asked questions on colic", ""},
	{"react", "British Horse Society and University of Nottingham, REACT colic campaign", ""},
	{"wsvma-2018", "Washington State Veterinary Medical Association, advice on an EHV-1 outbreak, 2018", "as reposted"},
	{"cdfa-2019", "California Department of Food and Agriculture, EHV-1 alert, 6 November 2019", "as reposted"},
	{"nevada-agriculture", "Nevada Department of Agriculture, State Veterinarian, advice on an EHV-1 outbreak", "as quoted in a newspaper"},
	// Donkeys and mules.
	{"donkey-sanctuary", "The Donkey Sanctuary, comparison table (Hazell-Smith)", "as printed in BBC Countryfile"},
	{"donkey-sanctuary-older", "The Donkey Sanctuary, older edition of its table", "as copied by kbrhorse.net; the order of the columns is inferred"},
	{"wvs-donkey", "WVS Academy, quick reference: donkey, clinical parameters", ""},
	{"ukvet-donkey", "UK-Vet Equine, Gastrointestinal disorders in donkeys", ""},
	{"irish-conference", "Irish Equine Veterinary Conference, talk on donkeys", "as reported by The Irish Field"},
	{"ali-anjum-1998", "Ali and Anjum, Pakistan Journal of Biological Sciences 1998;1:271-273", "mules, 7 farms, 15 days"},
	// Foals.
	{"neonatal-outline", "Neonatal examination outline in the style of a handbook", "copied at jjvet.wordpress.com/2015/10/11/1346; the original is not named"},
	{"santa-maria-foals", "Ciencia Rural (Universidade Federal de Santa Maria), clinical values of 52 Thoroughbred foals from birth to six months", ""},
	{"lenz-aqha", "Lenz, American Quarter Horse Association, Keep your foal healthy", "nine signs"},
	{"gerros-osu", "Gerros, Oregon State University, the newborn foal", "as reposted"},
	{"forbes-foals", "Forbes, a veterinarian in a magazine, Foals and foaling", "midsouthhorsereview.com 6038"},
	{"austin-2013", "Austin, Equine Veterinary Education 2013;25:585-589", ""},
	// Practices' and popular pages, read for ages of which no body's text was found.
	{"performance-equine", "One practice's page: Performance Equine, normal vital parameters, 2014", "performanceequinevets.com"},
	{"all-about-equine", "One practice's page: All About Equine, normal equine values", "allaboutequine.com"},
	{"carlisle-equine", "One practice's page: Carlisle Equine, the normal horse", "carlisleequineclinic.com"},
	{"millhouse-vet", "One practice's page: Millhouse, vital statistics", "millhouseveterinary.com"},
	{"pony-magazine", "PONY, a magazine for young riders, temperature, pulse and respiration", "ponymag.com"},
	{"native-ponies", "A page of pony breeders, normal vital signs; not an authority", "nativeponiesonline.co.uk"},
	{"stable-page", "A stable's page, equine vital signs; not an authority", "rainbowacrestables.com"},
	{"hoof-care-page", "A hoof-care page, Keeping your finger on the pulse, 2011; not an authority", "intelligenthorsecare.co.uk"},
	// Studies.
	{"jvim-2022", "Electrocardiographic characteristics of trained and untrained standardbred racehorses, Journal of Veterinary Internal Medicine 2022;36(3)", "abstract"},
	{"hall-2019", "Hall, Carter, Stevenson, Hall, Journal of Equine Veterinary Science 2019;74:51-55", "652 rectal readings, 41 healthy adults"},
	{"piccione-maturation", "Piccione, Caola, Refinetti, Maturation of the daily body temperature rhythm in sheep and horse", "abstract"},
	{"hine-2015", "Hine, Laven, Sahu, New Zealand Veterinary Journal 2015;63:171-173", ""},
	{"easterwood-cohen", "Easterwood and Cohen (Texas A&M University), non-contact thermometers in horses and foals", "abstract"},
	{"vin-thermometer", "Veterinary Information Network, Veterinary Partner 2020", "id 9486389"},
	{"curtis-2015", "Curtis et al., Acta Veterinaria Scandinavica 2015;57:69", "PMC4596518, 1016 first-opinion colics"},
	{"pritchard-2007", "Pritchard et al., Animal Welfare 2007;16:181-183", "220 animals, 8 observers; 4889 working equids"},
	{"pritchard-2008", "Pritchard et al. 2008 (Brooke)", "50 horses; abstract"},
	{"ehrhardt-lowe-1990", "Ehrhardt and Lowe, Equine Veterinary Journal 1990", "doi 10.1111/j.2042-3306.1990.tb04244.x"},
	{"claret", "Claret et al., Journal of the American Veterinary Medical Association", "20 dogs"},
	{"loving-2022", "Loving, Endurance News, April 2022, p. 125", "the publisher's name is inferred"},
	{"naylor", "Naylor et al., Journal of Veterinary Internal Medicine, gut sounds", "as summarised by Equine Science Update"},
	{"vetlexicon", "Vetlexicon Equis, second-degree atrioventricular block", ""},
	{"fei-2019", "FEI Endurance Rules 2019", "article 821.2.3"},
	{"henneke-1983", "Henneke et al., Equine Veterinary Journal 1983;15:371-372", "not opened; as told by Wikipedia, Henneke horse body condition scoring system"},
	{"lightfoot-2020", "Lightfoot et al., PLoS ONE 2020;15(9):e0238874", ""},
	// Instruments.
	{"orbi-warmbloods", "Heart rate variability of 16 resting Warmbloods, University of Liege repository", "hdl.handle.net/2268/293159"},
	{"repp-2005", "Repp, Psychonomic Bulletin and Review 2005;12:969-992", "review of tapping; full text not opened"},
	{"tateno-glass-2001", "Tateno and Glass, Medical and Biological Engineering and Computing 2001;39:664-671", "abstract"},
	{"flethoj-2016", "Flethoj et al., BMC Veterinary Research 2016;12:266", "PMC5126988"},
	{"ajp-2019", "Manual timing in physics experiments, American Journal of Physics 2019;87:110", "abstract; 4304 times of swimming timekeepers"},
	{"astm-e1112", "ASTM E1112-00(2018), electronic thermometers for intermittent determination of patient temperature", "scope read; the table from memory"},
	{"iso-80601-2-56", "ISO 80601-2-56:2017, clinical thermometers", "scope read; the figure from memory"},
	{"carroll-huntington-1988", "Carroll and Huntington, Equine Veterinary Journal 1988;20:41-45", "not opened; as quoted by later studies"},
	{"hucul-weight", "Assessment of methods for determining body weight based on biometric dimensions in Hucul horses, Roczniki Naukowe Polskiego Towarzystwa Zootechnicznego", "abstract; 159 horses"},
	{"catalano-2019", "Catalano et al., Estimation of actual and ideal bodyweight of Miniature, saddle-type and Thoroughbred horses, Journal of Equine Veterinary Science", "abstract"},
	{"extension-horses-heat", "Extension Horses, heat index for horses", "as quoted by a horse magazine"},
	{"endurance-archive", "Archive of an endurance riders' mailing list, 1995-1996", "postings of riders and veterinarians"},
	// Safety.
	{"safe-work-australia-2014", "Safe Work Australia, Guide to managing risks when new and inexperienced persons interact with horses, June 2014", ""},
	{"leighton-staples", "Leighton and Staples, Equine Emergency Rescue", ""},
	{"vin-handling", "Veterinary Information Network, Safe horse handling during treatment or sedation, 2005, revised 2014", "id 4952247"},
	{"horse-safety-16", "Horse safety guidelines, chapter 16 of a youth programme's manual", "publisher not shown"},
	{"ilo-70", "ILO Encyclopaedia of Occupational Health and Safety, chapter 70, horses", "as reposted in Spanish, 2012"},
	{"aphis-2014", "USDA APHIS VS CEAH, Biosecurity practices for horses, August 2014", ""},
	{"business-queensland", "Business Queensland, advice on Hendra virus", ""},
}

// Sources lists every published work that a figure or a rule of the catalogue names.
func Sources() []Source { return slices.Concat(sources, callSources) }

// LookupSource gives the source of an ID.
func LookupSource(id SourceID) (Source, bool) {
	for _, list := range [][]Source{sources, callSources} {
		for _, s := range list {
			if s.ID == id {
				return s, true
			}
		}
	}
	return Source{}, false
}

// callSources are the works that the rules on when to call rest on, besides those that
// figures come from. Unless its entry says more, a page was read at its beginning only,
// seldom to its end. A practice's page is that one practice's opinion, a magazine's is
// what it printed; neither speaks for a body.
var callSources = []Source{
	// Associations, universities, agencies, handbooks.
	{"aaep-when-to-call", "American Association of Equine Practitioners Foundation, When should you call your veterinarian", "as reprinted with permission, saddlehorsereport.com 2374"},
	{"uk-welfare-2005", "Equine Industry Welfare Guidelines for Horses, Ponies and Donkeys, 2nd edition, 2005", "as reposted by a practice, thrumsvet.co.uk"},
	{"purdue-emergency", "Purdue University, College of Veterinary Medicine, equine emergency services", "vet.purdue.edu"},
	{"ucdavis-ehv-2011", "University of California, Davis, teaching hospital, EHV-1 update, 19 May 2011", ""},
	{"ncsu-ehm", "North Carolina State Veterinary Hospital, guidelines on equine herpesvirus myeloencephalopathy", "its Celsius figure for 101.5 F is misprinted"},
	{"uvma-foaling", "Utah Veterinary Medical Association, Foaling tips", ""},
	{"aqha-foaling", "American Quarter Horse Association, AQHA Magazine, September/October 2020", "pp. 33-34"},
	{"umn-urine", "University of Minnesota Extension, Red urine in snow (Martinson)", "as reprinted by a feed maker"},
	{"csu-foal-diarrhoea", "Colorado State University, veterinary teaching hospital, Foal diarrhea", "vetmedbiosci.colostate.edu"},
	{"tennessee-foal-pneumonia", "University of Tennessee, Foal diseases: pneumonia (Harper, Geiser)", "as printed in Small Farmer's Journal"},
	{"aerc-2007", "American Endurance Ride Conference, Veterinary Committee, proposed rule, January 2007", ""},
	{"donkey-sanctuary-colitis", "The Donkey Sanctuary, Colitis in donkeys", "abstract"},
	{"wikivet-donkey", "WikiVet, donkey feeding", ""},
	{"wikivet-tetanus", "WikiVet, tetanus in horses", ""},
	{"vetspecialists-colitis", "American College of Veterinary Internal Medicine, vetspecialists.com, loose droppings of horses, 2020", ""},
	// Journals and reviews.
	{"eaaps-2018", "Equine acute abdominal pain scale of Sutton et al., as printed in BMC Veterinary Research 2018;14, Salivary alpha-amylase activity and cortisol in horses with acute abdominal disease", "doi 10.1186/s12917-018-1482-4, table 1"},
	{"walker-2023", "Walker, Assessment of the neonatal foal in the field, 2023", "table 1"},
	{"brownlow-2023", "Brownlow and Mizzi, Animals 2023;13:610", "abstract and headings"},
	{"verdegaal-2021", "Verdegaal et al., Frontiers in Physiology 2021;12:708737", "abstract"},
	{"rhodococcus-farm", "Farm study of coughing foals, Rhodococcus equi", "abstract, experts.mcmaster.ca 908590; the authors are not shown"},
	{"vet-evidence-253", "Veterinary Evidence, article 253, digital pulse and hoof temperature before laminitis", "its bottom line"},
	{"mcgurrin-2015", "McGurrin, Veterinary Medicine: Research and Reports 2015;6:83", "atrial fibrillation"},
	{"veteriankey-foaling", "veteriankey.com, copy of a handbook's table on foaling", ""},
	// Magazines that quote veterinarians.
	{"the-horse-shipping", "The Horse, article 149919, fever after travel", ""},
	{"the-horse-afterbirth", "The Horse, article 173270, retained afterbirth", ""},
	{"the-horse-foal-2020", "The Horse, February 2020, Save that foal (House, Gough)", "pp. 12-14"},
	{"the-horse-foal-breath", "The Horse, article 14921, Respiratory disease in foals (Bain)", ""},
	{"newborn-foal-2010", "The Newborn Foal, veterinarians in a magazine", "as reposted at mustangalley.org, July 2010"},
	{"equus-2014-painkillers", "EQUUS, October 2014, painkillers", ""},
	{"equus-2015-eye", "EQUUS, January 2015, eyes", ""},
	{"equus-2016-november", "EQUUS, November 2016, swollen legs", ""},
	{"equus-2017-laminitis", "EQUUS, April 2017, sore feet", ""},
	{"equus-2018-colic", "EQUUS, January 2018, belly pain", ""},
	{"equus-2022-heat", "EQUUS, June 2022, heat", ""},
	{"horse-hound-crosscountry", "Horse & Hound, cooling after cross-country (Brown)", ""},
	{"horse-hound-breathing", "Horse & Hound, series on breathing", "preview"},
	{"irish-field-nosebleed", "The Irish Field, nosebleeds", ""},
	// Practice pages: each one practice's page.
	{"latitude36", "One practice's page: Latitude 36, When to call the vet", "lat36vet.com"},
	{"acequine-nervous", "One practice's page: acequine.com, nervous signs", ""},
	{"avon-ridge", "One practice's page: Avon Ridge, emergencies", ""},
	{"newcastle-equine", "One practice's page: Newcastle Equine Centre, belly pain", ""},
	{"keswick-choke", "One practice's page: Keswick, choke", ""},
	{"hampton-abscess", "One practice's page: Hampton, sudden lameness", ""},
	{"chiltern-nervous", "One practice's page: Chiltern, nervous signs", ""},
	{"central-lakes", "One practice's page: Central Lakes, yellow gums", ""},
	{"beh-afterbirth", "One practice's page: beh.com.au, retained afterbirth", ""},
	{"avenel-foals", "One practice's page: Avenel, foals", ""},
	{"foaltimevet", "One practice's page: Foal Time, Neonatal foal behaviors", "foaltimevet.com"},
	{"paradis-foals", "A veterinarian on a popular site (Paradis), the lame foal", "petplace"},
	{"oglesby-colitis", "One practice's page: Oglesby, dark gums and loose droppings", ""},
	{"hvd-nosebleed", "One practice's page: HVD, nosebleeds", ""},
	{"weaver-house-heat", "One practice's page: Weaver House, heat", ""},
	{"coach-house-breathing", "One practice's page: Coach House, breathing", ""},
	{"nfe-eye", "One practice's page: North Florida, eyes", ""},
	{"mwv-vaccine", "One practice's page: MWV, reactions to vaccines", ""},
	{"vch-tetanus", "One practice's page: VCH, stiffness after wounds", ""},
	{"ilv-colic", "One practice's checklist: ILV, belly pain", ""},
}

// Mark says how far a figure can be trusted: how it came from its source into the
// catalogue. Every figure that ships carries one.
type Mark string

const (
	// Read: the figure was read in the source named.
	Read Mark = "read"
	// SecondHand: read in a copy or quotation that names the original.
	SecondHand Mark = "second-hand"
	// Memory: from memory, not checked against the source.
	Memory Mark = "memory"
	// Derived: by arithmetic from figures that carry their own marks.
	Derived Mark = "derived"
	// CommonPractice: a fact of the trade without a published source.
	CommonPractice Mark = "common-practice"
	// Assumed: chosen by us because no source was found.
	Assumed Mark = "assumed"
)

// SourceID names one entry of [Sources].
type SourceID string

// Source is a published work that figures of the catalogue come from.
type Source struct {
	ID SourceID `json:"id"`
	// Cite is the citation as a reader would look for it.
	Cite string `json:"cite"`
	// Where is a page, article or identifier inside the work, or an address.
	Where string `json:"where,omitempty"`
}

// Provenance is where one figure comes from.
type Provenance struct {
	Source SourceID `json:"source,omitempty"`
	Mark   Mark     `json:"mark"`
	// Note says what a reader must know besides: the derivation, a doubt, what was assumed.
	Note string `json:"note,omitempty"`
}

// Figure is one number that decides what is said of a measurement or an exam; its words are
// under "figures.ID".
type Figure struct {
	ID     string
	Figure float64
	Provenance
}

// Figures lists the figures of the instruments that no other table holds.
func Figures() []Figure {
	assumed := func(note string) Provenance { return Provenance{Mark: Assumed, Note: note} }
	return []Figure{
		{"settled-minutes", settledMinutes, assumed("an alarm on a resting rate waits until an hour after work")},
		{"settled-easy", settledEasy, assumed("the same after easy work")},
		{"counts-within", countsWithin, assumed("a rule that is checked again within so many minutes counts beside others")},
		{"excited-minutes", againExcited, assumed("an excited horse is counted again after so long")},
		{"rising-looks", risingLooks, assumed("two looks differ by chance; three that rise one after the other seldom do")},
		{"rising-heart", risingHeart, assumed("36 to 44 a minute")},
		{"rising-breath", risingBreath, assumed("breathing scatters more than a heart")},
		{"rising-warmth", risingWarmth, assumed("more than the hours of a half day do")},
		{"held-hours", heldHours, assumed("one night: for so long a rule to call now holds at a sign that was not looked at again")},
		{"masked-hours", maskedHours, assumed("for so long something given may hide pain or fever; medicines differ")},
		{"hot-air", hotAir, assumed("°C of the air from which fast breathing waits for shade, beside a heat sum over 150")},
		{"cold-air", coldAir, assumed("°C of the air under which cold legs say little")},
		{"violent-pain", ViolentPain, assumed("severity from which pain is called violent: on the side, rolling; that it stops from one look to the next is then not called better")},
		{"most-years", mostYears, assumed("older than any horse is known to have become; a date beyond it cannot be right")},
		{"rhythm-pairs", rhythmFrom, assumed("with fewer pairs of intervals a third of them is two or three")},
		{"rhythm-irregular", irregularFrom, Provenance{"flethoj-2016", Derived,
			"halfway, by ratio, between 6 % in sinus rhythm at rest and 24 % in fibrillation, the latter after Tateno and Glass 2001 from memory"}},
		{"rhythm-pauses", pausesFrom, assumed("one gap may be a missed tap")},
		{"aloud-pace", AloudPace, assumed("how far a second counted in the head is off, as a share; more tries of one person do not mend it")},
		{"taps-uneven", unevenness, Provenance{Mark: Derived, Note: "chosen by simulation, with how many may be uneven: one in twenty"}},
		{"taps-shortest", shortest, assumed("300 a minute; a finger or a screen that bounces makes shorter intervals")},
	}
}

var (
	anyDonkey = Group{Types: []Type{TypeDonkey}}
	anyMule   = Group{Types: []Type{TypeDonkey, TypeMule}}
	newFoal   = Group{Stages: []Stage{Newborn, Neonate}}
	anyYoung  = Group{Stages: []Stage{Foal, Weanling, Yearling, TwoYearOld}}
)

// remarkTable holds the published facts that stand beside signs.
var remarkTable = []Remark{
	{"donkey-hides", anyDonkey, Provenance{"ukvet-donkey", Read, ""}},
	{"foal-milestones", newFoal, Provenance{"austin-2013", Read, "the earlier of two published sets; Lenz gives 20 min to suck and 3 h to stand and nurse"}},
	{"offer-water", Group{}, Provenance{"pritchard-2008", Read, ""}},
	{"breathing-first", Group{}, Provenance{"florida-lecture", Read, ""}},
	{"breathing-scatter", Group{}, Provenance{"uci-colic-1989", Read, ""}},
	{"gums-usual", Group{}, Provenance{"penn-vet", Read, ""}},
	{"gums-pigment", Group{}, Provenance{"devereux", Read, "p. 35"}},
	{"gum-moisture-weak", Group{}, Provenance{"pritchard-2008", Read, ""}},
	{"refill-observers", Group{}, Provenance{"claret", Read, "dogs, trained observers with a watch; not horses"}},
	{"skin-tent-weak", Group{}, Provenance{"pritchard-2008", Read, "no association with plasma osmolality or water intake, 50 horses"}},
	{"skin-tent-observers", Group{}, Provenance{"pritchard-2007", Read, "agreement with the reference observer 40 to 99 %"}},
	{"skin-tent-same-place", Group{}, Provenance{"pritchard-2008", Read, ""}},
	{"heart-fit", Group{}, Provenance{"uci-colic-1989", Read, "athletic horses 20 to 25"}},
	{"heart-count", Group{}, Provenance{"fei-2019", Read, "article 821.2.3"}},
	{"pulse-weak", Group{}, Provenance{"curtis-2015", Read, "odds ratio 2.90, 95 % interval 1.39 to 5.99"}},
	{"digital-pulse-faint", Group{}, Provenance{"hoof-care-page", Read, "none, or barely to be felt, in a healthy hoof; no body's text was found"}},
	{"gut-observers", Group{}, Provenance{"ehrhardt-lowe-1990", Read, "kappa between observers 0.37, for absent 0.55"}},
	{"gut-waves", Group{}, Provenance{"loving-2022", Read, "2 or 3 waves a minute in each quadrant"}},
	{"gut-mixing", Group{}, Provenance{"naylor", SecondHand, "2 to 5 a minute, each 2 to 5 s long"}},
	{"dropped-beats", Group{}, Provenance{"equine-cardiology", Read, "up to 30 % of fit horses; Vetlexicon Equis prints up to 50 %"}},
	{"jugular-several", Group{}, Provenance{"penn-vet", Read, ""}},
	{"jugular-taught", Group{}, Provenance{Mark: CommonPractice, Note: "1 to 2 s; no text was found that prints it"}},
	{"jugular-waves", Group{}, Provenance{"anaesthesia-manual", Read, "pp. 128-129"}},
	{"thermometer-makes", Group{}, Provenance{"hine-2015", Read, "the same four horses read 36.3 to 38.9 C; thermometer and person were confounded"}},
	{"thermometer-depth", Group{}, Provenance{"vin-thermometer", Read, ""}},
	{"no-contact-low", Group{}, Provenance{"easterwood-cohen", Read, "nearly 2 F low in adults, over 3 F in foals"}},
	{"evening-warmer", Group{}, Provenance{"piccione-maturation", Read, "daily range 0.5 C"}},
	{"event-fever", Group{}, Provenance{"cdfa-2019", SecondHand, "101.5 F; Nevada Department of Agriculture prints 102 F"}},
	{"colic-signs-late", Group{}, Provenance{"react", Read, ""}},
}

// remarks picks remarks for a sign; one that is not in the table comes without a mark,
// which the tests refuse.
func remarks(names ...RemarkID) []Remark {
	out := make([]Remark, len(names))
	for i, id := range names {
		out[i].ID = id
		for _, r := range remarkTable {
			if r.ID == id {
				out[i] = r
			}
		}
	}
	return out
}
