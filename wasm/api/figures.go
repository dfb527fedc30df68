package api

import (
	"slices"
	"strconv"
	"strings"

	"whorl.example/baseline"
	"whorl.example/baseline/recovery"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// sourced is the page of sources: every number that decides or says something, and where
// it is from. It is made from the tables that the library itself computes with.
type sourced struct {
	Parts []figurePart `json:"parts"`
	// Works are the sources that the rows name, numbered from 1 in the rows.
	Works []string `json:"works"`
}

// figurePart is the rows of one kind of number.
type figurePart struct {
	Heading string      `json:"heading"`
	Rows    []figureRow `json:"rows"`
}

// figureRow is one number with its provenance.
type figureRow struct {
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
	figures sourced
	signs   []*vitals.Sign
	sources []vitals.Source
	works   []vitals.SourceID
}

func figures(q spoken) (any, error) { return makeFigures(q.in()), nil }

func makeFigures(lang words.Lang) sourced {
	m := &figureMaker{lang: lang, sources: slices.Concat(vitals.Sources(), recovery.Sources())}
	signs := vitals.Catalogue()
	for i := range signs {
		m.signs = append(m.signs, &signs[i])
	}
	m.published()
	m.thresholds()
	m.instruments()
	m.starting()
	m.recoveries()
	m.beside()
	return m.figures
}

func (m *figureMaker) say(key string, args ...string) string {
	return words.Say(m.lang, key, args...)
}

func (m *figureMaker) part(id string) {
	m.figures.Parts = append(m.figures.Parts, figurePart{Heading: m.say("figures." + id)})
}

// row adds a number; group is nil where it holds for every animal.
func (m *figureMaker) row(what, figure string, group *vitals.Group, from *vitals.Provenance) {
	part := &m.figures.Parts[len(m.figures.Parts)-1]
	part.Rows = append(part.Rows, figureRow{
		What: what, Figure: figure, For: m.animals(group), Mark: m.say("mark." + string(from.Mark)),
		Doubt: from.Mark == vitals.Memory || from.Mark == vitals.Assumed, Work: m.work(from.Source), Note: from.Note,
	})
}

// work numbers a source in the order in which the rows name it.
func (m *figureMaker) work(id vitals.SourceID) int {
	if id == "" {
		return 0
	}
	n := slices.Index(m.works, id)
	if n < 0 {
		n = len(m.works)
		m.works = append(m.works, id)
		i := slices.IndexFunc(m.sources, func(s vitals.Source) bool { return s.ID == id })
		cite := m.sources[i].Cite
		if where := m.sources[i].Where; where != "" {
			cite += " (" + where + ")"
		}
		m.figures.Works = append(m.figures.Works, cite)
	}
	return n + 1
}

func (m *figureMaker) animals(g *vitals.Group) string {
	if g == nil {
		return ""
	}
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
	for _, s := range m.signs {
		for i := range s.Ranges {
			r := &s.Ranges[i]
			var low, high string
			if r.Low.Valid {
				low = vitals.AsRead(r.Low.Decimal)
			}
			if r.High.Valid {
				high = vitals.AsRead(r.High.Decimal)
			}
			m.row(m.sign(s.ID), m.unit(between(low, high), r.Unit), &r.Group, &r.Provenance)
		}
	}
}

func (m *figureMaker) thresholds() {
	m.part("alarms")
	alarms := vitals.Alarms()
	for i := range alarms {
		a := &alarms[i]
		m.row(m.sign(a.Sign), m.limit(a), &a.Group, &a.Provenance)
	}
	m.part("severity")
	severities := vitals.Severities()
	for i := range severities {
		s := &severities[i]
		m.row(m.sign(s.Sign)+": "+m.grade(s.Sign, s.Grade), strconv.Itoa(s.Severity), &s.Group, &s.Provenance)
	}
	m.part("spans")
	for _, s := range m.signs {
		if s.Span != nil {
			m.row(m.sign(s.ID), m.unit(between(vitals.AsRead(s.Span.Low), vitals.AsRead(s.Span.High)), s.Unit), nil, &s.Span.Provenance)
		}
	}
}

// limit writes what fires a rule: a number beyond a limit, or one of the answers.
func (m *figureMaker) limit(a *vitals.Alarm) string {
	limit, mark, equal := a.Above, "> ", "≥ "
	if a.Below.Valid {
		limit, mark, equal = a.Below, "< ", "≤ "
	}
	if !limit.Valid {
		var grades []string
		for _, g := range a.Grades {
			grades = append(grades, m.grade(a.Sign, g))
		}
		return strings.Join(grades, "; ")
	}
	if a.AndEqual {
		mark = equal
	}
	unit := a.Unit
	if unit == "" {
		unit = m.unitOf(a.Sign)
	}
	return m.unit(mark+vitals.AsRead(limit.Decimal), unit)
}

func (m *figureMaker) unitOf(id vitals.SignID) vitals.Unit {
	for _, s := range m.signs {
		if s.ID == id {
			return s.Unit
		}
	}
	return ""
}

func (m *figureMaker) grade(sign vitals.SignID, g vitals.GradeID) string {
	if key := "grade." + string(sign) + "." + string(g); words.Has(m.lang, key) {
		return m.say(key)
	}
	return m.say("grade." + string(g))
}

func (m *figureMaker) instruments() {
	m.part("devices")
	tolerances := vitals.Tolerances()
	for i := range tolerances {
		t := &tolerances[i]
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
		m.row(what, figure, nil, &t.Provenance)
	}
	m.part("counting")
	m.cadence(vitals.HeartRate, vitals.Heart())
	m.cadence(vitals.RespiratoryRate, vitals.Breath())
	told, from := vitals.ToldRateSD()
	m.row(m.say("device.told"), "± "+m.unit(plain(told), vitals.PerMinute), nil, &from)
	score, from := vitals.ScoreSD()
	m.row(m.sign(vitals.BodyCondition), "± "+plain(score), nil, &from)
	reaction, aloud := vitals.ReactionSD(), vitals.AloudSD()
	m.row(m.say("figures.reaction"), "± "+plain(reaction.SD)+" s", nil, &reaction.Provenance)
	m.row(m.say("figures.aloud"), "± "+plain(aloud.SD)+" s", nil, &aloud.Provenance)
	m.plainly(vitals.Figures())
	girth := vitals.Girths()
	m.row(m.say("figures.girth"), "÷ "+strconv.FormatFloat(girth.Divisor, 'f', -1, 64), &girth.Group, &girth.From)
	m.row(m.say("figures.girth.error"), "± "+plain(100*girth.SD)+" %", &girth.Group, &girth.SDFrom)
}

func (m *figureMaker) cadence(sign vitals.SignID, c vitals.Cadence) {
	m.row(m.sign(sign)+": "+m.say("figures.variation"), plain(100*c.Variation)+" %", nil, &c.Variations)
	m.row(m.sign(sign)+": "+m.say("figures.jitter"), "± "+plain(c.Jitter)+" s", nil, &c.Jitters)
}

func (m *figureMaker) plainly(figures []vitals.Figure) {
	for i := range figures {
		f := &figures[i]
		m.row(m.say("figures."+f.ID), plain(f.Figure), nil, &f.Provenance)
	}
}

func (m *figureMaker) starting() {
	m.part("start")
	spans := baseline.AssumedSpans()
	for i := range spans {
		s := &spans[i]
		what := m.sign(s.Sign)
		if !s.OnlyAge {
			what += ", " + m.say("figures.age", "n", plain(s.Days))
		}
		m.row(what, m.unit(between(plain(s.Low), plain(s.High)), m.unitOf(s.Sign)), &vitals.Group{Types: s.Types}, &s.Level)
	}
	m.part("spread")
	var told []string
	for i := range spans {
		s := &spans[i]
		if key := string(s.Sign) + s.Spread.Note; !slices.Contains(told, key) {
			told = append(told, key)
			m.row(m.sign(s.Sign), "", nil, &s.Spread)
		}
	}
	m.part("method")
	assumed := baseline.AssumedFigures()
	at := slices.IndexFunc(assumed, func(f vitals.Figure) bool { return f.ID == "own-fever" })
	m.plainly(slices.Insert(assumed, at, watch.AssumedFigures()...))
}

func (m *figureMaker) recoveries() {
	m.part("recovery")
	criteria := recovery.Criteria()
	for i := range criteria {
		c := &criteria[i]
		figure := m.unit("≤ "+plain(c.AtMost), vitals.PerMinute)
		if c.WithinMinutes > 0 {
			figure += ", " + strconv.Itoa(c.WithinMinutes) + " min"
		}
		m.row(m.say("recovery.criterion."+string(c.ID)), figure, nil, &c.Provenance)
	}
	trots := recovery.TrotDefinitions()
	for i := range trots {
		d := &trots[i]
		figure := "2 × " + plain(d.OutMetres) + " m"
		if d.Seconds > 0 {
			figure += ", " + strconv.Itoa(d.Seconds) + " s"
		}
		if d.Above != nil {
			figure += ", > " + m.unit(plain(*d.Above), vitals.PerMinute)
		}
		m.row(m.say("figures.trot"), figure, nil, &d.Provenance)
	}
}

// beside are the facts that stand beside signs and the cautions.
func (m *figureMaker) beside() {
	m.part("remarks")
	var told []string
	for _, s := range m.signs {
		for i := range s.Remarks {
			r := &s.Remarks[i]
			if key := "remark." + string(r.ID); !slices.Contains(told, key) {
				told = append(told, key)
				m.row(m.say(key), "", &r.Group, &r.Provenance)
			}
		}
	}
	for _, s := range m.signs {
		for i := range s.Sites {
			if site := &s.Sites[i]; site.Weak != nil {
				m.row(m.sign(s.ID)+", "+m.say("site."+string(site.ID)), "", nil, site.Weak)
			}
		}
	}
	m.part("cautions")
	cautions := vitals.Cautions()
	for i := range cautions {
		c := &cautions[i]
		m.row(m.say("caution."+string(c.ID)), "", &c.Group, &c.Provenance)
	}
}
