package baseline

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"sync"

	"github.com/shopspring/decimal"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/baseline/internal/normal"
	"whorl.example/baseline/internal/whole"
	"whorl.example/vitals"
)

// contribution is what one finding adds to the statement on the exam as a whole.
type contribution struct {
	ok    bool          // it was compared
	index int           // of Comparison.Signs
	sign  int           // of the catalogue
	site  vitals.SiteID // of a sign with a normal for each site
	// p is the two-sided probability, 1 for the answer of a healthy animal, and found how rare it could have been.
	p     float64
	found whole.Finding
	// toward is the probability towards the side on which the sign is bad news; of a graded
	// sign the mid-p.
	toward float64
	sd     float64
}

// evidence is the pieces of one exam, one for each normal: where a sign was taken twice in an
// exam, the more precise finding speaks.
type evidence struct{ contributions []contribution }

func (e *evidence) add(p contribution) {
	if !p.ok {
		return
	}
	for i := range e.contributions {
		q := &e.contributions[i]
		if q.sign == p.sign && q.site == p.site {
			if p.sd < q.sd || p.sd == q.sd && p.p < q.p {
				e.contributions[i] = p
			}
			return
		}
	}
	e.contributions = append(e.contributions, p)
}

// bySign gives one probability for each sign: the sites of a sign (eight muscles, four
// feet) are looks at one thing, combined among themselves first.
func (e evidence) bySign(of func(contribution) float64) []float64 {
	ps := make([]float64, 0, len(e.contributions))
	var sites []float64
	for i := range e.contributions {
		p := &e.contributions[i]
		again := false
		for j := 0; j < i && !again; j++ {
			again = e.contributions[j].sign == p.sign
		}
		if again {
			continue
		}
		sites = append(sites[:0], of(*p))
		for j := i + 1; j < len(e.contributions); j++ {
			if q := &e.contributions[j]; q.sign == p.sign {
				sites = append(sites, of(*q))
			}
		}
		ps = append(ps, cauchy(sites))
	}
	return ps
}

// overall combines them, beside what was said of other well exams of the horse.
func (e evidence) overall(wells []float64) Overall {
	towards := e.bySign(func(p contribution) float64 { return p.toward })
	o := Overall{Signs: len(towards), P: 1, Level: alpha}
	if o.Signs == 0 {
		return o
	}
	found := append(make([]whole.Finding, 0, 32), make([]whole.Finding, len(e.contributions))...)
	for i := range e.contributions {
		found[i] = e.contributions[i].found
	}
	p, rarer := whole.Rarest(found), 0
	for _, w := range wells {
		if w <= p {
			rarer++
		}
	}
	o.P = whole.Counted(p, len(wells), rarer)
	o.Unusual = o.P < alpha
	o.Far = far(towards)
	return o
}

// ManyLittle reports whether the signs are altogether farther to the bad side than on 19 of 20 well days, though none
// need stand out alone.
func (o Overall) ManyLittle() bool { return o.Signs >= 3 && o.Far > normal.Z95 }

const (
	// farCorrelation is how far the signs of one exam are assumed to move together in well horses.
	farCorrelation = .3
	// farMost is the most that one sign counts, in standard deviations: how improbable a
	// reading is beyond that rests on nothing but the shape of the model's tail.
	farMost = 8
)

// far adds up the signs. Each probability towards the side on which the sign is bad news
// becomes a normal deviate, and their sum is divided by its SD on well days,
// sqrt(m + m(m-1) rho): Stouffer's sum with an equal correlation. Against the other ways
// to put probabilities together: it grows with every further sign that is a little out
// (the Cauchy combination sees the farthest only), a sign that is far out does not drown the others
// (Fisher's sum of logarithms grows with the square), and a sign not checked neither
// raises nor lowers it.
func far(ps []float64) float64 {
	sum := 0.
	for _, p := range ps {
		sum += max(-farMost, min(farMost, -normal.Quantile(p)))
	}
	m := float64(len(ps))
	return sum / math.Sqrt(m+m*(m-1)*farCorrelation)
}

// unchecked lists the signs of the exam's depth that have no value, and why, and after
// them what was tried without success beyond that depth.
func unchecked(horse vitals.Horse, exam vitals.Exam) []Unchecked {
	wanted := wantedIn(exam)
	out := make([]Unchecked, 0, len(wanted)/2)
	add := func(sign vitals.SignID, site vitals.SiteID, reason vitals.Absence) {
		if u := (Unchecked{sign, site, reason}); !slices.Contains(out, u) {
			out = append(out, u)
		}
	}
	// The findings of a sign, from the last to the first, each as its place plus one.
	signs := catalogue.Signs()
	last := append(make([]int32, 0, 128), make([]int32, len(signs))...)
	before := append(make([]int32, 0, 64), make([]int32, len(exam.Findings))...)
	k, ok := 0, false
	for i := range exam.Findings {
		if k, ok = catalogue.IndexFrom(signs, k, exam.Findings[i].Sign); ok {
			before[i], last[k] = last[k], int32(i+1)
		}
	}
	for _, w := range wanted {
		if sign := &signs[w.index]; sign.Applies != nil && !sign.For(horse, exam) {
			continue
		}
		reason, shown := vitals.Absence(""), false
		for i := last[w.index]; i > 0 && !shown; i = before[i-1] {
			if f := &exam.Findings[i-1]; w.site == "" || f.Site == w.site {
				reason, shown = cmp.Or(reason, f.Absent), f.Absent == ""
			}
		}
		if !shown {
			add(w.sign, w.site, cmp.Or(reason, vitals.NotTried))
		}
	}
	for i := range exam.Findings {
		f := &exam.Findings[i]
		if f.Absent == "" {
			continue
		}
		listed := slices.ContainsFunc(out, func(u Unchecked) bool {
			return u.Sign == f.Sign && (u.Site == f.Site || u.Site == "")
		})
		if listed {
			continue
		}
		reason, shown := f.Absent, false
		for j := range exam.Findings {
			if o := &exam.Findings[j]; o.Sign == f.Sign && (f.Site == "" || o.Site == f.Site) {
				reason, shown = o.Absent, shown || o.Absent == ""
			}
		}
		if !shown {
			add(f.Sign, f.Site, reason)
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// wanted is a sign that an exam asks for, at a site or, for "", at any.
type wanted struct {
	place
	index int // of the catalogue
}

// wantedIn are the signs, and where each place counts the places, of an exam as deep as this.
func wantedIn(exam vitals.Exam) []wanted {
	key := wantedKey{exam.Depth, exam.Holder == vitals.NotHeld, vitals.Closed(exam)}
	if known, ok := wantedKnown.Load(key); ok {
		return known.([]wanted)
	}
	var out []wanted
	for _, step := range vitals.Steps(exam.Depth, exam.Holder, key.closed) {
		i, ok := catalogue.Index()[step.Sign]
		if !ok {
			continue
		}
		if sign := &catalogue.Signs()[i]; !sign.PerSite || sign.AnySite {
			out = append(out, wanted{place{step.Sign, ""}, i})
			continue
		}
		for _, site := range step.Sites {
			out = append(out, wanted{place{step.Sign, site}, i})
		}
	}
	if slices.Contains(vitals.Depths(), exam.Depth) {
		wantedKnown.Store(key, out)
	}
	return out
}

type wantedKey struct {
	depth         vitals.Depth
	alone, closed bool
}

var wantedKnown sync.Map // wantedKey: []wanted

// warnings are the "buts" of the exam as a whole.
func warnings(horse vitals.Horse, exam vitals.Exam, ageKnown bool) []Warning {
	var out []Warning
	add := func(key string, args ...string) { out = append(out, Warning{Key: key, Args: args}) }
	if n := exam.NotUnderstood(); n > 0 {
		add(WarnNewer, "n", itoa(n))
	}
	if exam.State.In(vitals.AfterWork) {
		add(WarnAfterWork, "minutes", itoa(exam.State.SinceMinutes))
	}
	if exam.State.In(vitals.Excited) {
		add(WarnExcited)
	}
	if exam.State.In(vitals.Medicated) {
		add(WarnMedicated, "with", exam.State.With)
	}
	if exam.Masked() {
		add(WarnMasked)
	}
	for _, p := range vitals.Contrary(horse, exam) {
		add(WarnContrary, "sign", string(p[0]), "other", string(p[1]))
	}
	if exam.Status == vitals.Draft {
		add(WarnDraft)
	}
	switch doubt := horse.DateDoubt(exam.At); {
	case doubt != vitals.DateSound:
		add(prefixWarning+string(doubt), "born", horse.Born.String())
	case !ageKnown:
		add(WarnAgeUnknown)
	}
	advise := func(a vitals.Advice) { add(prefixAdvice+a.ID, sourced(a.Provenance, a.Args...)...) }
	if a, yes := vitals.Inversion(exam); yes {
		advise(a)
	}
	if exam.Air != nil {
		// A horse that rests in mild air is told nothing of it.
		working := exam.State.In(vitals.AfterWork) || exam.Purpose == vitals.Recovery
		if h, known := vitals.HeatOf(*exam.Air); known && (working || h.Band != vitals.HeatEasy) {
			advise(h.Advice())
		}
	}
	return out
}

// sourced puts where a figure is from behind the facts of its sentence.
func sourced(p vitals.Provenance, args ...string) []string {
	return append(slices.Clip(args), "source", string(p.Source), "mark", string(p.Mark))
}

// printed are the published ranges for a type and stage, in the sign's unit.
func printed(sign vitals.Sign, t vitals.Type, stage vitals.Stage) []Printed {
	key := printedKey{sign.ID, t, stage}
	known, ok := printedKnown.Load(key)
	if !ok {
		out := []Printed{}
		for _, r := range sign.RangesFor(t, stage) {
			out = append(out, Printed{
				Low: edge(r.Low, r.Unit, sign.Unit), High: edge(r.High, r.Unit, sign.Unit), Provenance: r.Provenance,
			})
		}
		known = out
		if slices.Contains(vitals.Types(), t) { // a type that is none is not remembered
			printedKnown.Store(key, out)
		}
	}
	// What leaves is the caller's own.
	ranges := known.([]Printed)
	if len(ranges) == 0 {
		return nil
	}
	out := slices.Clone(ranges)
	edges := make([]float64, 0, 2*len(ranges))
	own := func(x *float64) *float64 {
		if x == nil {
			return nil
		}
		edges = append(edges, *x)
		return &edges[len(edges)-1]
	}
	for i := range out {
		out[i].Low, out[i].High = own(out[i].Low), own(out[i].High)
	}
	return out
}

type printedKey struct {
	sign  vitals.SignID
	t     vitals.Type
	stage vitals.Stage
}

// printedKnown has the ranges that were asked for: they are decimals in several units.
var printedKnown sync.Map // printedKey: []Printed

// edge is a printed edge in the sign's unit, or nil where none is printed.
func edge(x decimal.NullDecimal, from, to vitals.Unit) *float64 {
	if !x.Valid {
		return nil
	}
	if from != "" {
		// Two places: a printed 99 F is 37.22 C. The catalogue's units are of the sign's quantity.
		if y, err := vitals.Convert(x.Decimal, from, to, 2); err == nil {
			x.Decimal = y
		}
	}
	v := x.Decimal.InexactFloat64()
	return &v
}

// otherSides warns at a finding that is out of the usual at a place whose other side is not so.
func otherSides(signs []Compared) {
	for i := range signs {
		c := &signs[i]
		other := opposite(c.Site)
		if other == "" || len(c.Chosen) == 0 || c.Statement == AsUsual {
			continue
		}
		for j := range signs {
			o := &signs[j]
			if o.Sign == c.Sign && o.Site == other && len(o.Chosen) > 0 && !slices.Equal(o.Chosen, c.Chosen) {
				c.warn(WarnOtherSide, "site", string(o.Site), "grade", string(o.Chosen[0]))
			}
		}
	}
}

// opposite names the place on the other side of the body, "" for a place that has none.
func opposite(site vitals.SiteID) vitals.SiteID {
	s := string(site)
	switch {
	case strings.Contains(s, "left"):
		return vitals.SiteID(strings.Replace(s, "left", "right", 1))
	case strings.Contains(s, "right"):
		return vitals.SiteID(strings.Replace(s, "right", "left", 1))
	}
	return ""
}
