// Package fhir writes an exam as a FHIR R4 (4.0.1) document bundle: the animal as a
// Patient with the patient-animal extension, the handler as a RelatedPerson, each finding as an Observation, what was given as a
// MedicationStatement, each reason to call as a DetectedIssue, and the call
// report as the narrative of the Composition.
//
// Heart rate, breathing rate, temperature and weight follow the vital signs profile, with
// LOINC codes and UCUM units; the signs that LOINC does not have are in the code system
// [CodeSystem], under the ids of the catalogue. An interpretation (H, L) is relative to
// this animal's own interval and to nothing else, and there is none before its first exam.
//
// The ids are made from the ids of the exam and the sign, so that the same exam gives the
// same bytes, and a second export of it the same resources.
package fhir

import (
	"encoding/hex"
	"errors"
	"hash/fnv"
	"math"
	"strconv"
	"strings"
	"time"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// The systems of the codes.
const (
	CodeSystem = "https://whorl.example/fhir/CodeSystem/sign"
	AnswerSet  = "https://whorl.example/fhir/CodeSystem/answer"
	SiteSet    = "https://whorl.example/fhir/CodeSystem/site"
	AlarmSet   = "https://whorl.example/fhir/CodeSystem/alarm"
	horseID    = "https://whorl.example/fhir/horse"

	loinc       = "http://loinc.org"
	ucum        = "http://unitsofmeasure.org"
	snomed      = "http://snomed.info/sct"
	category    = "http://terminology.hl7.org/CodeSystem/observation-category"
	absent      = "http://terminology.hl7.org/CodeSystem/data-absent-reason"
	interpreted = "http://terminology.hl7.org/CodeSystem/v3-ObservationInterpretation"
	animal      = "http://hl7.org/fhir/StructureDefinition/patient-animal"
	neutering   = "http://hl7.org/fhir/animal-genderstatus"
	vitalSigns  = "http://hl7.org/fhir/StructureDefinition/vitalsigns"
)

// Write gives the document of an exam as JSON. The comparison and the report are those of
// the exam. The error is the [vitals.Faults] of [Check], or of what JSON cannot carry.
func Write(in report.Input, told report.Report) ([]byte, error) {
	b := Build(in, told)
	if err := Check(b).Err(); err != nil {
		return nil, err
	}
	return schema.Marshal(b)
}

// Build gives the document as data.
func Build(in report.Input, told report.Report) Bundle {
	w := writer{in, told.Lang}
	patient := Reference{Reference: w.url("patient")}
	composition := Resource{
		ResourceType: "Composition", ID: w.uuid("composition"), Status: status(in.Exam), Subject: &patient,
		Type: &Concept{Coding: []Coding{{CodeSystem, "exam"}}, Text: told.Title}, Date: moment(in.Exam.At, 0),
		Author: []Reference{w.author()}, Title: told.Title,
	}
	rest := []Entry{
		w.entry("patient", w.patient()),
		w.entry("device", Resource{ResourceType: "Device", ID: w.uuid("device"), DeviceName: []DeviceName{{"Whorl", "user-friendly-name"}}}),
	}
	section := Section{Title: told.Title, Text: Narrative{"generated", narrative(told)}}
	next := 0
	signs := in.Comparison.Signs
	for i, f := range in.Exam.Findings {
		var c *baseline.Compared
		if f.Absent == "" && next < len(signs) && signs[next].Sign == f.Sign && signs[next].Site == f.Site {
			c = &signs[next]
			next++
		}
		name := "finding-" + strconv.Itoa(i)
		rest = append(rest, w.entry(name, w.observation(name, f, c, patient)))
		section.Entry = append(section.Entry, Reference{Reference: w.url(name)})
	}
	for _, e := range w.besides(patient) {
		rest = append(rest, e)
		section.Entry = append(section.Entry, Reference{Reference: e.FullURL})
	}
	if w.handled() {
		rest = append(rest, w.entry("handler", w.handler(patient)))
	}
	composition.Section = []Section{section}
	return Bundle{
		ResourceType: "Bundle", Identifier: Identifier{"urn:ietf:rfc:3986", w.url("bundle")}, Type: "document",
		Timestamp: moment(in.Exam.At, 0), Entry: append([]Entry{w.entry("composition", composition)}, rest...),
	}
}

type writer struct {
	in   report.Input
	lang words.Lang
}

// uuid is made of the ids of the horse and the exam and a name (RFC 9562, version 8).
func (w writer) uuid(name string) string {
	h := fnv.New128a()
	exam := string(w.in.Exam.ID)
	if name == "patient" {
		exam = "" // the same animal in every export
	}
	h.Write([]byte("whorl\x00" + string(w.in.Horse.ID) + "\x00" + exam + "\x00" + name))
	b := h.Sum(nil)
	b[6], b[8] = b[6]&0x0f|0x80, b[8]&0x3f|0x80
	s := hex.EncodeToString(b)
	return s[:8] + "-" + s[8:12] + "-" + s[12:16] + "-" + s[16:20] + "-" + s[20:]
}

func (w writer) url(name string) string { return "urn:uuid:" + w.uuid(name) }

func (w writer) entry(name string, r Resource) Entry { return Entry{w.url(name), r} }

func (w writer) say(key, id string) string {
	if said := words.Say(w.lang, key+id); said != key+id {
		return said
	}
	return id
}

func status(e vitals.Exam) string {
	if e.Status == vitals.Draft {
		return "preliminary"
	}
	return "final"
}

// moment is a FHIR dateTime or instant: RFC 3339 with an offset.
func moment(t time.Time, minutes int) string {
	return t.Add(time.Duration(minutes) * time.Minute).Format("2006-01-02T15:04:05Z07:00")
}

// species are the codes of the value set animal-species; its code for a horse is that of
// the genus Equus, of which ponies and draft horses are too.
var species = map[vitals.Type]string{
	vitals.TypeHorse: "388445009", vitals.TypePony: "388445009", vitals.TypeDraft: "388445009",
	vitals.TypeDonkey: "85626006", vitals.TypeMule: "132950000",
}

func (w writer) patient() Resource {
	h := w.in.Horse
	ext := Extension{URL: animal, Extension: []Extension{{URL: "species", ValueCodeableConcept: &Concept{
		Coding: []Coding{{snomed, species[h.Type]}}, Text: w.say("type.", string(h.Type))}}}}
	if h.Breed != "" {
		ext.Extension = append(ext.Extension, Extension{URL: "breed", ValueCodeableConcept: &Concept{Text: h.Breed}})
	}
	// Nobody says of a mare whether she is spayed.
	if code := map[vitals.Sex]string{vitals.Gelding: "neutered", vitals.Stallion: "intact"}[h.Sex]; code != "" {
		ext.Extension = append(ext.Extension, Extension{URL: "genderStatus", ValueCodeableConcept: &Concept{
			Coding: []Coding{{neutering, code}}, Text: w.say("sex.", string(h.Sex))}})
	}
	r := Resource{ResourceType: "Patient", ID: w.uuid("patient"), Extension: []Extension{ext},
		Identifier: []Identifier{{horseID, string(h.ID)}}, Name: []Name{{h.Name}}}
	switch h.Sex {
	case vitals.Mare:
		r.Gender = "female"
	case vitals.Gelding, vitals.Stallion:
		r.Gender = "male"
	}
	if !h.Born.IsZero() {
		if r.BirthDate = h.Born.String(); h.BornYearOnly {
			r.BirthDate = r.BirthDate[:4]
		}
	}
	return r
}

func (w writer) observation(name string, f vitals.Finding, c *baseline.Compared, patient Reference) Resource {
	sign, _ := vitals.Lookup(f.Sign)
	r := Resource{
		ResourceType: "Observation", ID: w.uuid(name), Status: status(w.in.Exam), Subject: &patient,
		Code:              &Concept{Coding: codes(sign), Text: w.say("sign.", string(f.Sign))},
		EffectiveDateTime: moment(w.in.Exam.At, f.Minutes),
	}
	if vital(sign) {
		r.Meta = &Meta{[]string{vitalSigns}}
		r.Category = []Concept{{Coding: []Coding{{category, "vital-signs"}}}}
	} else {
		r.Category = []Concept{{Coding: []Coding{{category, "exam"}}}}
	}
	if w.handled() {
		r.Performer = []Reference{w.author()}
	}
	r.BodySite = w.site(f)
	if f.Note != "" {
		r.Note = append(r.Note, Annotation{f.Note})
	}
	switch {
	case f.Absent != "":
		r.DataAbsentReason = &Concept{Coding: []Coding{{absent, reason(f.Absent)}}, Text: w.say("absence.", string(f.Absent))}
	case sign.Kind.Measured():
		w.measured(&r, sign, f, c)
	default:
		w.chosen(&r, f)
	}
	return r
}

// reason is the code for why there is no value; its text says more.
func reason(a vitals.Absence) string {
	if a == vitals.Unsure {
		return "unknown"
	}
	return "not-performed"
}

// codes are the LOINC code, where there is one, and our own. The vital signs profile asks
// for 8310-5 beside the code of the rectal temperature.
func codes(sign vitals.Sign) []Coding {
	var out []Coding
	if sign.ID == vitals.RectalTemperature {
		out = append(out, Coding{loinc, "8310-5"})
	}
	if sign.LOINC != "" {
		out = append(out, Coding{loinc, sign.LOINC})
	}
	return append(out, Coding{CodeSystem, string(sign.ID)})
}

// vital reports whether the sign has a vital signs profile.
func vital(sign vitals.Sign) bool { return profiled[sign.ID] != "" }

// profiled are the signs with a vital signs profile and its LOINC code.
var profiled = map[vitals.SignID]string{
	vitals.HeartRate: "8867-4", vitals.RespiratoryRate: "9279-1", vitals.RectalTemperature: "8310-5", vitals.Weight: "29463-7",
}

func (w writer) chosen(r *Resource, f vitals.Finding) {
	answer := func(g vitals.GradeID) *Concept {
		return &Concept{Coding: []Coding{{AnswerSet, string(f.Sign) + "." + string(g)}}, Text: w.say("grade."+string(f.Sign)+".", string(g))}
	}
	if len(f.Chosen) == 1 {
		r.ValueCodeableConcept = answer(f.Chosen[0])
		return
	}
	// Several codings of one concept would all mean the same thing.
	for _, g := range f.Chosen {
		r.Component = append(r.Component, Component{Code: *r.Code, ValueCodeableConcept: answer(g)})
	}
}

func (w writer) measured(r *Resource, sign vitals.Sign, f vitals.Finding, c *baseline.Compared) {
	stage, _ := w.in.Horse.StageAt(w.in.Exam.At)
	m, err := f.MeasureFor(sign, w.in.Horse.Type, stage)
	if err != nil {
		said := err.Error()
		if faults, ok := errors.AsType[vitals.Faults](err); ok {
			said = words.Say(w.lang, "fault."+string(faults[0].Code), faults[0].Args...)
		}
		r.DataAbsentReason = &Concept{Coding: []Coding{{absent, "error"}}, Text: said}
		return
	}
	unit, value := m.Unit, round(m.Value, sign.Places+1)
	if f.Reading != nil {
		unit, value = f.Reading.Unit, f.Reading.Value.InexactFloat64()
		r.Note = append(r.Note, Annotation{vitals.AsRead(f.Reading.Value) + " " + string(unit)})
	}
	in, _ := m.Unit.To(unit)
	r.ValueQuantity = w.quantity(value, unit)
	if _, how := report.Taken(f, m, w.lang); how != "" {
		r.Method = &Concept{Text: how}
	}
	if c == nil || c.Own == nil {
		return
	}
	key := "fhir.own"
	if c.Basis.Exams == 0 {
		key = "fhir.own.0"
	}
	text := words.Say(w.lang, key, "n", strconv.Itoa(c.Basis.Exams), "sex", string(w.in.Horse.Sex))
	r.ReferenceRange = []ReferenceRange{{
		Low:  w.quantity(round(in.Value(c.Own.Low), sign.Places+1), unit),
		High: w.quantity(round(in.Value(c.Own.High), sign.Places+1), unit),
		Type: &Concept{Text: text}, Text: text,
	}}
	if code := map[baseline.Statement]string{baseline.Higher: "H", baseline.Lower: "L"}[c.Statement]; code != "" && c.Basis.Exams > 0 {
		r.Interpretation = []Concept{{Coding: []Coding{{interpreted, code}}, Text: words.Say(w.lang, "fhir."+string(c.Statement))}}
	}
}

func (w writer) quantity(v float64, unit vitals.Unit) *Quantity {
	return &Quantity{v, w.say("unit.", string(unit)), ucum, unit}
}

func round(v float64, places int) float64 {
	scale := math.Pow10(places)
	return math.Round(v*scale) / scale
}

// narrative is the report as XHTML.
func narrative(r report.Report) string {
	var b strings.Builder
	b.WriteString(`<div xmlns="http://www.w3.org/1999/xhtml"><h1>` + escape(r.Title) + "</h1>")
	for _, p := range r.Parts {
		b.WriteString("<h2>" + escape(p.Heading) + "</h2>")
		for _, l := range p.Lines {
			b.WriteString("<p>" + escape(l.Text) + "</p>")
		}
	}
	b.WriteString("</div>")
	return b.String()
}

// escape writes a text in XML, without the characters that XML 1.0 has no place for.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' || r == 0xfffe || r == 0xffff {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	s = strings.ReplaceAll(strings.ReplaceAll(s, "&", "&amp;"), "<", "&lt;")
	return strings.ReplaceAll(s, ">", "&gt;")
}
