package vitals

import "slices"

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
