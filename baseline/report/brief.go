package report

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

	"whorl.example/baseline"
	"whorl.example/baseline/internal/stable"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// asked is the order in which a veterinarian asks for the signs of some problems (common practice, no source); the first is for
// everything else.
var asked = []struct{ problems, signs string }{
	{"", "heart-rate heart-rhythm pulse-strength rectal-temperature attitude feed water droppings respiratory-rate gum-colour capillary-refill gut-sounds"},
	{"belly gut circulation", "pain-signs doing heart-rate gum-colour gum-moisture capillary-refill dark-rim gut-sounds droppings feed water coat pulse-strength limb-warmth rectal-temperature respiratory-rate stance attitude"},
	{"breath nose", "respiratory-effort nostrils respiratory-rate cough gum-colour lung-sounds rectal-temperature heart-rate"},
	{"feet limb muscle", "gait limb-load stance digital-pulse hoof-warmth sway turn muscle urine swelling heart-rate rectal-temperature coat"},
	{"wound bleeding skin", "wound-place limb-load gait swelling wounds gum-colour heart-rate capillary-refill rectal-temperature"},
	{"eye", "eye wound-place wounds attitude"},
	{"nerves", "sway gait turn attitude head-carriage swallowing rectal-temperature urine stance"},
	{"heat", "sway attitude rectal-temperature cooling heart-rate respiratory-rate coat urine gum-colour capillary-refill"},
	{"swallow", "swallowing nostrils cough head-carriage respiratory-effort respiratory-rate rectal-temperature attitude heart-rate"},
	{"foal", "first-hours attitude feed rectal-temperature droppings urine navel joints heart-rate respiratory-rate gum-colour limb-warmth udder"},
	{"foaling mare", "foaling afterbirth vulva udder pain-signs rectal-temperature gum-colour heart-rate"},
}

// orderOf gives the order of those problems about which most rules of the strongest level fired, of equal ones the later.
func orderOf(fired []vitals.Fired) []string {
	level, best, most := vitals.Strongest(fired), 0, 0
	for i, o := range asked {
		n := 0
		for _, f := range fired {
			if f.Urgency == level && slices.Contains(strings.Fields(o.problems), string(f.Problem)) {
				n++
			}
		}
		if n > 0 && n >= most {
			best, most = i, n
		}
	}
	return strings.Fields(asked[best].signs)
}

// rank is the place of a sign in the order of the problem; all others come last.
func (c *caller) rank(id vitals.SignID) int {
	if i := slices.Index(c.order, string(id)); i >= 0 {
		return i
	}
	return len(c.order)
}

// place is where a reason comes: what is grave whatever the problem, then the order of the problem.
func (c *caller) place(id vitals.SignID) int {
	plain := vitals.Gravity(vitals.HeartRate, vitals.Found{})
	gums := vitals.Gravity(vitals.GumColour, found(c.in.Comparison.Signs, vitals.GumColour)) < plain
	if g := vitals.Gravity(id, found(c.in.Comparison.Signs, id)); g < plain && !(id == vitals.DarkRim && gums) { // the color has said it
		return g
	}
	return plain + c.rank(id)
}

// byRank puts groups in the order of the problem.
func (c *caller) byRank(gs []group) []group {
	stable.Sort(gs, func(a, b group) int { return cmp.Compare(c.rank(a.of[0].Sign), c.rank(b.of[0].Sign)) })
	return gs
}

// twins are answers to two questions that say the same.
var twins = map[vitals.GradeID]vitals.GradeID{"rolling": "rolls", "pawing": "paws", "watching-flank": "watches-flank"}

// ofGums is told in one phrase with the color of the gums, as far as there is room.
var ofGums = []vitals.SignID{vitals.GumMoisture, vitals.DarkRim, vitals.CapillaryRefill}

func (c *caller) withGums(id vitals.SignID) bool {
	return id == vitals.GumMoisture || c.leaves < leaveGums && slices.Contains(ofGums, id)
}

// phrases says what was found of the signs that rules rest on, each once, and once what says the same.
func (c *caller) phrases(fired []vitals.Fired) []string {
	all := c.reasons(fired)
	has := func(id vitals.SignID) bool {
		return slices.ContainsFunc(all, func(r reason) bool { return r.sign == id })
	}
	pain := found(c.in.Comparison.Signs, vitals.PainSigns).Chosen
	var out []string
	for _, r := range all {
		of := c.foundBy(r.sign)
		switch {
		case r.said != "":
			out = append(out, r.said)
			continue
		case r.sign == vitals.DoingUsual && (has(vitals.Doing) || has(vitals.PainSigns)), c.withGums(r.sign) && has(vitals.GumColour),
			r.sign == vitals.Wounds && has(vitals.WoundPlace) && slices.IndexFunc(of, func(s baseline.Compared) bool { return badness(s) > 1 }) < 0:
			continue
		case r.sign == vitals.Doing && has(vitals.PainSigns) && len(of) == 1:
			of[0].Chosen = slices.DeleteFunc(slices.Clone(of[0].Chosen), func(g vitals.GradeID) bool { return slices.Contains(pain, twins[g]) })
			if len(of[0].Chosen) == 0 {
				continue
			}
		}
		said := c.phrase(r.sign, of)
		for _, id := range ofGums {
			switch with := c.foundBy(id); {
			case r.sign != vitals.GumColour || !has(id) || len(with) == 0 || !c.withGums(id):
			case id == vitals.GumMoisture:
				said += c.say("list.and") + c.answers(id, with[0].Chosen, nil)
			default:
				said += ", " + c.phrase(id, with)
			}
		}
		out = append(out, said)
	}
	return out
}

// foundBy gives what was found of a sign at the sites where rules fired, and of that what is not usual.
func (c *caller) foundBy(id vitals.SignID) []baseline.Compared {
	var sites []vitals.SiteID
	for _, f := range c.in.Comparison.Alarms {
		if f.Sign == id {
			sites = append(sites, f.Sites...)
		}
	}
	var of, off []baseline.Compared
	for _, s := range c.in.Comparison.Signs {
		if s.Sign != id || len(sites) > 0 && s.Site != "" && !slices.Contains(sites, s.Site) {
			continue
		}
		if of = append(of, s); offUsual(s) {
			off = append(off, s)
		}
	}
	if len(off) > 0 { // of different answers the worst, with its places
		bad := slices.MaxFunc(off, func(a, b baseline.Compared) int { return cmp.Compare(badness(a), badness(b)) })
		return slices.DeleteFunc(off, func(s baseline.Compared) bool { return !slices.Equal(s.Chosen, bad.Chosen) })
	}
	// Of readings at several places the highest, which is what rules go by.
	stable.Sort(of, func(a, b baseline.Compared) int {
		if a.Measure == nil || b.Measure == nil {
			return 0
		}
		return cmp.Compare(b.Measure.Value, a.Measure.Value)
	})
	if len(of) > 0 && of[0].Measure != nil {
		return of[:1]
	}
	return of
}

// badness is the highest rank of a finding's answers.
func badness(s baseline.Compared) (rank int) {
	sign, _ := vitals.Lookup(s.Sign)
	for _, id := range s.Chosen {
		g, _ := sign.Grade(id)
		rank = max(rank, g.Rank)
	}
	return rank
}

// phrase says findings of one sign as one says them to somebody who knows: "gums purple", "heart rate 88".
func (c *caller) phrase(id vitals.SignID, of []baseline.Compared) string {
	if len(of) == 0 {
		return c.sign(id, "")
	}
	s := told(of[0], c.finding(of[0]))
	value := c.value(s)
	if s.Measure != nil && s.Measure.Unit == vitals.PerMinute && finite(s.Measure.Value) {
		value = write(s.Measure.Value, s.Own, s.Measure.Unit).value
	}
	for _, w := range c.in.Watched {
		if n := len(w.Points); w.Sign == id && (w.Site == s.Site || !c.bySite(id)) && n > 1 && (w.Moved() || w.Way() != 0) && s.Measure != nil && w.Unit == s.Measure.Unit && c.leaves < leaveCourse {
			key := "report.up"
			if w.Points[n-1].Value < w.Points[0].Value {
				key = "report.down"
			}
			value = c.say(key, "value", value, "first", written(w.Points[0].Value, w.Unit), "time", c.ago(w.To.Sub(w.From)))
		}
	}
	sites := func(name string) string {
		switch {
		case s.Measure != nil || s.Site == "" || c.leaves >= leaveSites || !c.bySite(id):
			return name
		case len(of) > 2:
			return c.say("report.places", "text", name, "n", itoa(len(of)))
		}
		names := make([]vitals.SiteID, len(of))
		for i, x := range of {
			names[i] = x.Site
		}
		return c.say("report.at", "sign", name, "site", c.sites(names))
	}
	if brief := "brief." + string(id); words.Has(c.lang, brief) {
		return sites(c.say(brief, "value", value))
	}
	return c.say(oneKey(s), "sign", sites(c.sign(id, "")), "value", value)
}

// MessageLetters is how long a message is at most: three parts of a concatenated SMS hold 459 letters of its alphabet, and a
// screen shows so much without a "more" (assumed).
const MessageLetters = 400

// message gives the call as a short text: who and where, what, what makes it urgent, what was given. What the opening may
// leave gives way first, then when and in what state it was checked; the rest is never cut.
func (c *caller) message() string {
	defer func(was leaving, full, words []Line, moved []fact) {
		c.leaves, c.full, c.words, c.moved = was, full, words, moved
	}(c.leaves, c.full, c.words, c.moved)
	text := ""
	c.before = len(c.in.Comparison.Signs)
	for c.leaves = 0; c.leaves <= leaveNoticed; c.leaves++ {
		parts := [][]Line{c.who(), nil, c.danger(), nil}
		if noticed := bare(c.story_().Noticed); aloud(noticed) <= noticedLeast || c.leaves < leaveNoticed && aloud(noticed) <= noticedWords {
			parts[1] = c.what()
		}
		if c.leaves == 0 {
			parts[3] = c.ask()[:1]
		}
		if e := c.in.Exam; c.leaves < leaveSites && !e.At.IsZero() {
			parts[3] = append(parts[3], Line{Text: c.say("report.checked", "when", c.when(e.At, e.At), "state", c.state())})
		}
		var lines []string
		for _, p := range parts {
			for _, l := range p {
				if !l.Blank {
					lines = append(lines, l.Text)
				}
			}
		}
		if text = strings.Join(lines, "\n"); utf8.RuneCountInString(text) <= MessageLetters {
			break
		}
	}
	return text
}
