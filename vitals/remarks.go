package vitals

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
	{"pulse-weak", Group{}, Provenance{"curtis-2015", Read, "95 % interval 1.39 to 5.99"}},
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
