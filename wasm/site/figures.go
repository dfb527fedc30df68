package main

import (
	"strconv"
	"strings"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Figures is the page of sources: every number that decides or says something, and where
// it is from. It is made from the tables that the library itself computes with.
type Figures struct {
	Parts []FigurePart `json:"parts"`
	// Works are the sources that the rows name, numbered from 1 in the rows.
	Works []string `json:"works"`
}

// FigurePart is the rows of one kind of number.
type FigurePart struct {
	Heading string      `json:"heading"`
	Rows    []FigureRow `json:"rows"`
}

// FigureRow is one number with its provenance.
type FigureRow struct {
	What   string `json:"what"`
	Figure string `json:"figure,omitempty"`
	For    string `json:"for,omitempty"` // animals
	Mark   string `json:"mark"`
	// Doubt: from memory, or assumed by us.
	Doubt bool   `json:"doubt,omitempty"`
	Work  int    `json:"work,omitempty"`
	Note  string `json:"note,omitempty"` // in English
}

type figureMaker struct {
	lang    words.Lang
	figures Figures
	works   map[vitals.SourceID]int
}

func makeFigures(lang words.Lang) Figures {
	m := &figureMaker{lang: lang, works: map[vitals.SourceID]int{}}
	m.published()
	m.thresholds()
	m.instruments()
	m.starting()
	m.recoveries()
	m.beside()
	return m.figures
}

func (m *figureMaker) say(key string, args ...string) string {
	if !words.Has(m.lang, key) {
		if text, ok := words.Page(m.lang)[key]; ok {
			return words.Fill(text, args...)
		}
	}
	return words.Say(m.lang, key, args...)
}

func (m *figureMaker) part(id string) {
	m.figures.Parts = append(m.figures.Parts, FigurePart{Heading: m.say("page.figures." + id)})
}

func (m *figureMaker) row(what, figure string, group vitals.Group, from vitals.Provenance) {
	part := &m.figures.Parts[len(m.figures.Parts)-1]
	part.Rows = append(part.Rows, FigureRow{
		What: what, Figure: figure, For: m.animals(group), Mark: m.say("mark." + string(from.Mark)),
		Doubt: from.Mark == vitals.Memory || from.Mark == vitals.Assumed, Work: m.work(from.Source), Note: from.Note,
	})
}

// work numbers a source in the order in which the rows name it.
func (m *figureMaker) work(id vitals.SourceID) int {
	if id == "" {
		return 0
	}
	if n, ok := m.works[id]; ok {
		return n
	}
	source, ok := vitals.LookupSource(id)
	for _, s := range baseline.RecoverySources() {
		if !ok && s.ID == id {
			source, ok = s, true
		}
	}
	cite := source.Cite
	if source.Where != "" {
		cite += " (" + source.Where + ")"
	}
	m.figures.Works = append(m.figures.Works, cite)
	m.works[id] = len(m.figures.Works)
	return m.works[id]
}

func (m *figureMaker) animals(g vitals.Group) string {
	var out []string
	for _, t := range g.Types {
		out = append(out, m.say("type."+string(t)))
	}
	animals := strings.Join(out, ", ")
	out = nil
	for _, s := range g.Stages {
		out = append(out, m.say("stage."+string(s)))
	}
	if stages := strings.Join(out, ", "); stages != "" && animals != "" {
		return animals + ": " + stages
	} else if stages != "" {
		return stages
	}
	return animals
}

func (m *figureMaker) sign(id vitals.SignID) string { return m.say("sign." + string(id)) }

func (m *figureMaker) unit(figure string, u vitals.Unit) string {
	return strings.TrimSpace(figure + " " + m.say("unit."+string(u)))
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', 3, 64) }

// between writes a range; a side that is not given is open.
func between(low, high string) string {
	switch {
	case low == high:
		return low
	case low == "":
		return "≤ " + high
	case high == "":
		return "≥ " + low
	}
	return low + " – " + high
}

func (m *figureMaker) published() {
	m.part("ranges")
	for _, s := range vitals.Catalogue() {
		for _, r := range s.Ranges {
			var low, high string
			if r.Low.Valid {
				low = vitals.AsRead(r.Low.Decimal)
			}
			if r.High.Valid {
				high = vitals.AsRead(r.High.Decimal)
			}
			m.row(m.sign(s.ID), m.unit(between(low, high), r.Unit), r.Group, r.Provenance)
		}
	}
}

func (m *figureMaker) thresholds() {
	m.part("alarms")
	for _, a := range vitals.Alarms() {
		sign, _ := vitals.Lookup(a.Sign)
		unit := a.Unit
		if unit == "" {
			unit = sign.Unit
		}
		figure := ""
		switch {
		case a.Above.Valid && a.AndEqual:
			figure = m.unit("≥ "+vitals.AsRead(a.Above.Decimal), unit)
		case a.Above.Valid:
			figure = m.unit("> "+vitals.AsRead(a.Above.Decimal), unit)
		case a.Below.Valid && a.AndEqual:
			figure = m.unit("≤ "+vitals.AsRead(a.Below.Decimal), unit)
		case a.Below.Valid:
			figure = m.unit("< "+vitals.AsRead(a.Below.Decimal), unit)
		default:
			var grades []string
			for _, g := range a.Grades {
				grades = append(grades, m.grade(a.Sign, g))
			}
			figure = strings.Join(grades, "; ")
		}
		m.row(m.sign(a.Sign), figure, a.Group, a.Provenance)
	}
	m.part("spans")
	for _, s := range vitals.Catalogue() {
		if s.Span != nil {
			m.row(m.sign(s.ID), m.unit(between(vitals.AsRead(s.Span.Low), vitals.AsRead(s.Span.High)), s.Unit), vitals.Group{}, s.Span.Provenance)
		}
	}
}

func (m *figureMaker) grade(sign vitals.SignID, g vitals.GradeID) string {
	if key := "grade." + string(sign) + "." + string(g); words.Has(m.lang, key) {
		return m.say(key)
	}
	return m.say("grade." + string(g))
}

func (m *figureMaker) instruments() {
	m.part("devices")
	for _, t := range vitals.Tolerances() {
		figure := "± " + m.unit(plain(t.Limit), t.Unit)
		if t.Share > 0 {
			figure = "± " + plain(100*t.Share) + " %"
		}
		what := m.say("device." + string(t.Device))
		switch {
		case t.High > 0:
			what += " (" + m.unit(between(plain(t.Low), plain(t.High)), t.Unit) + ")"
		case t.Low > 0:
			what += " (" + m.unit("≥ "+plain(t.Low), t.Unit) + ")"
		}
		m.row(what, figure, vitals.Group{}, t.Provenance)
	}
	m.part("counting")
	for _, c := range []struct {
		sign vitals.SignID
		vitals.Cadence
	}{{vitals.HeartRate, vitals.Heart()}, {vitals.RespiratoryRate, vitals.Breath()}} {
		m.row(m.sign(c.sign)+": "+m.say("page.figures.variation"), plain(100*c.Variation)+" %", vitals.Group{}, c.Variations)
		m.row(m.sign(c.sign)+": "+m.say("page.figures.jitter"), "± "+plain(c.Jitter)+" s", vitals.Group{}, c.Jitters)
	}
	told, from := vitals.ToldRateSD()
	m.row(m.say("device.told"), "± "+m.unit(plain(told), vitals.PerMinute), vitals.Group{}, from)
	score, from := vitals.ScoreSD()
	m.row(m.sign(vitals.BodyCondition), "± "+plain(score), vitals.Group{}, from)
	m.row(m.say("page.figures.reaction"), "± "+plain(vitals.ReactionSD().SD)+" s", vitals.Group{}, vitals.ReactionSD().Provenance)
	m.row(m.say("page.figures.aloud"), "± "+plain(vitals.AloudSD().SD)+" s", vitals.Group{}, vitals.AloudSD().Provenance)
	for _, f := range vitals.Figures() {
		m.row(m.say("page.figures."+f.ID), plain(f.Figure), vitals.Group{}, f.Provenance)
	}
	girth := vitals.Girths()
	m.row(m.say("page.figures.girth"), "÷ "+strconv.FormatFloat(girth.Divisor, 'f', -1, 64), girth.Group, girth.From)
	m.row(m.say("page.figures.girth.error"), "± "+plain(100*girth.SD)+" %", girth.Group, girth.SDFrom)
}

func (m *figureMaker) starting() {
	m.part("start")
	for _, s := range baseline.AssumedSpans() {
		sign, _ := vitals.Lookup(s.Sign)
		what := m.sign(s.Sign)
		if !s.OnlyAge {
			what += ", " + m.say("page.figures.age", "n", plain(s.Days))
		}
		m.row(what, m.unit(between(plain(s.Low), plain(s.High)), sign.Unit), vitals.Group{Types: s.Types}, s.Level)
	}
	m.part("spread")
	told := map[string]bool{}
	for _, s := range baseline.AssumedSpans() {
		if key := string(s.Sign) + s.Spread.Note; !told[key] {
			told[key] = true
			m.row(m.sign(s.Sign), "", vitals.Group{}, s.Spread)
		}
	}
	m.part("method")
	for _, f := range baseline.AssumedFigures() {
		m.row(m.say("page.figures."+f.ID), plain(f.Figure), vitals.Group{}, f.Provenance)
	}
}

func (m *figureMaker) recoveries() {
	m.part("recovery")
	for _, c := range baseline.Criteria() {
		figure := m.unit("≤ "+plain(c.AtMost), vitals.PerMinute)
		if c.WithinMinutes > 0 {
			figure += ", " + strconv.Itoa(c.WithinMinutes) + " min"
		}
		m.row(m.say("recovery.criterion."+string(c.ID)), figure, vitals.Group{}, c.Provenance)
	}
	for _, d := range baseline.TrotDefinitions() {
		figure := "2 × " + plain(d.OutMetres) + " m"
		if d.Seconds > 0 {
			figure += ", " + strconv.Itoa(d.Seconds) + " s"
		}
		if d.Above != nil {
			figure += ", > " + m.unit(plain(*d.Above), vitals.PerMinute)
		}
		m.row(m.say("page.figures.trot"), figure, vitals.Group{}, d.Provenance)
	}
}

// beside are the facts that stand beside signs and the cautions.
func (m *figureMaker) beside() {
	m.part("remarks")
	told := map[vitals.RemarkID]bool{}
	for _, s := range vitals.Catalogue() {
		for _, r := range s.Remarks {
			if !told[r.ID] {
				told[r.ID] = true
				m.row(m.say("remark."+string(r.ID)), "", r.Group, r.Provenance)
			}
		}
	}
	for _, s := range vitals.Catalogue() {
		for _, site := range s.Sites {
			if site.Weak != nil {
				m.row(m.sign(s.ID)+", "+m.say("site."+string(s.ID)+"."+string(site.ID)), "", vitals.Group{}, *site.Weak)
			}
		}
	}
	m.part("cautions")
	for _, c := range vitals.Cautions() {
		m.row(m.say("caution."+string(c.ID)), "", c.Group, c.Provenance)
	}
}
