package report

import (
	"math"
	"slices"
	"time"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Usual is one line of a horse's own normal: a sign, what is usual of it, and the latest finding.
type Usual struct {
	Sign vitals.SignID `json:"sign"`
	Site vitals.SiteID `json:"site,omitempty"`
	// Name, Usual and Value are said in the language; Usual is empty where nothing of the horse's own says it.
	Name  string    `json:"name"`
	Usual string    `json:"usual"`
	Value string    `json:"value"`
	At    time.Time `json:"at"` // of Value
	// Exams is how many quiet-day exams Usual rests on.
	Exams int `json:"exams"`
	// Lane is SVG: the latest findings, left to right, on a scale on which every sign's usual lies in the same place; empty
	// for a sign that is chosen from a list.
	Lane string `json:"lane,omitempty"`
}

// laneMost is how many findings a lane shows.
const laneMost = 9

// Normal is a horse's own normal as a page shows it: the signs that the record holds, what is measured first, each in the
// catalogue's order.
func Normal(b *baseline.Baseline, known baseline.Known, horse vitals.Horse, at time.Time, lang words.Lang) []Usual {
	t := about(horse, lang)
	var measured, graded []Usual
	for _, sign := range vitals.Catalogue() {
		sites := []vitals.SiteID{""}
		if sign.PerSite {
			sites = sites[:0]
			for _, s := range sign.Sites {
				sites = append(sites, s.ID)
			}
		}
		for _, site := range sites {
			past := b.Latest(sign.ID, site, laneMost)
			if len(past) == 0 {
				continue
			}
			last := past[len(past)-1]
			u := Usual{Sign: sign.ID, Site: site, Name: upper(t.sign(sign.ID, site)), At: last.At}
			if sign.Kind.Measured() {
				t.measuredLine(&u, known, past)
				measured = append(measured, u)
				continue
			}
			u.Value = t.answers(sign.ID, last.Compared.Chosen, last.Compared.Where)
			answers, seen, of := b.UsualAnswer(sign.ID, site, at)
			if u.Exams = of; len(answers) > 0 {
				u.Usual = t.say("normal.answer", "answer", t.answers(sign.ID, answers, nil), "seen", itoa(seen), "n", itoa(of))
			}
			graded = append(graded, u)
		}
	}
	return append(measured, graded...)
}

// measuredLine fills in what is usual of a measured sign, in the unit in which it was last read, and draws it.
func (t telling) measuredLine(u *Usual, known baseline.Known, past []baseline.Past) {
	last := past[len(past)-1]
	unit := last.Finding.Unit(last.Compared.Measure.Unit)
	to, _ := last.Compared.Measure.Unit.To(unit)
	u.Value = t.amount(last.Compared.Measure.In(unit).Value, unit)
	var own *baseline.Interval
	if i := slices.IndexFunc(known.Signs, func(k baseline.KnownSign) bool { return k.Sign == u.Sign && k.Site == u.Site }); i >= 0 {
		if k := known.Signs[i]; k.Exams > 0 && finite(k.Own.Low, k.Own.High) {
			u.Exams = k.Exams
			in := k.Own.In(to)
			own = &in
			u.Usual = t.span(&in.Low, &in.High, unit)
		}
	}
	u.Lane = lane(past, unit, own)
}

// A lane's measures, in CSS pixels.
const (
	laneWidth, laneHeight = 120.0, 44.0
	laneTop, laneBottom   = 14.0, 30.0 // of what is usual
	laneEdge              = 6.0
)

// lane draws findings in the order of time, what is usual as the hatched middle; what lies far outside is drawn at the edge.
// Without anything usual there is a broken line, and the findings lie on a scale of their own.
func lane(past []baseline.Past, unit vitals.Unit, own *baseline.Interval) string {
	values := make([]float64, len(past))
	for i, p := range past {
		values[i] = p.Compared.Measure.In(unit).Value
	}
	var c chart
	c.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ` + px(laneWidth) + ` ` + px(laneHeight) + `" aria-hidden="true" fill="currentColor">`)
	low, high := slices.Min(values), slices.Max(values)
	if own != nil {
		low, high = own.Low, own.High
		c.hatch(0, laneTop, laneWidth, laneBottom-laneTop, 6)
	} else {
		c.dashed("M0 " + px((laneTop+laneBottom)/2) + "H" + px(laneWidth))
	}
	if high-low < 1e-9 {
		low, high = low-1, high+1
	}
	step := (laneWidth - 4*laneEdge) / math.Max(1, float64(len(past)-1))
	for i, p := range past {
		y := laneBottom - (values[i]-low)/(high-low)*(laneBottom-laneTop)
		if !finite(y) {
			continue
		}
		x, y := laneWidth-2*laneEdge-float64(len(past)-1-i)*step, clamp(y, laneEdge, laneHeight-laneEdge)
		c.glyph(markOf(p), x, y)
		if i == len(past)-1 {
			c.WriteString(`<circle cx="` + px(x) + `" cy="` + px(y) + `" r="8" fill="none" stroke="currentColor" stroke-width="1.5"/>`)
		}
	}
	c.WriteString(`</svg>`)
	return c.String()
}
