package fhir

import (
	"strconv"
	"strings"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// What stands beside the findings: who examined and told, what was given, the reasons to call, and a pregnancy.

// handled reports whether it is known who examined, or where one can be called back.
func (w writer) handled() bool {
	return strings.TrimSpace(w.in.Exam.By) != "" || w.in.Exam.Story != nil && strings.TrimSpace(w.in.Exam.Story.Callback) != ""
}

// author is the handler; the program where nobody is named.
func (w writer) author() Reference {
	if w.handled() {
		return Reference{Reference: w.url("handler"), Display: w.in.Exam.By}
	}
	return Reference{Reference: w.url("device")}
}

func (w writer) handler(patient Reference) Resource {
	r := Resource{ResourceType: "RelatedPerson", ID: w.uuid("handler"), Patient: &patient, Relationship: []Concept{{Text: words.Say(w.lang, "fhir.handler")}}}
	if by := w.in.Exam.By; strings.TrimSpace(by) != "" {
		r.Name = []Name{{by}}
	}
	if s := w.in.Exam.Story; s != nil && strings.TrimSpace(s.Callback) != "" {
		r.Telecom = []ContactPoint{{"phone", s.Callback}}
	}
	return r
}

// site is where a finding was taken, or seen. Codings of one concept would all mean the same place, so that several places are text.
func (w writer) site(f vitals.Finding) *Concept {
	var codes []Coding
	var said []string
	for _, s := range append([]vitals.SiteID{f.Site}, f.Where...) {
		if s != "" {
			codes, said = append(codes, Coding{SiteSet, string(s)}), append(said, w.say("site.", string(s)))
		}
	}
	if len(codes) > 1 {
		codes = nil
	}
	if said == nil {
		return nil
	}
	return &Concept{Coding: codes, Text: strings.Join(said, "; ")}
}

// besides gives the other resources of an exam.
func (w writer) besides(patient Reference) []Entry {
	var out []Entry
	if w.in.Horse.InFoal {
		out = append(out, w.entry("pregnancy", w.pregnancy(patient)))
	}
	if s := w.in.Exam.Story; s != nil {
		for i, g := range s.Given {
			name := "given-" + strconv.Itoa(i)
			out = append(out, w.entry(name, w.given(name, g, patient)))
		}
	}
	if with := w.in.Exam.State.With; strings.TrimSpace(with) != "" {
		r := w.given("with", vitals.Given{What: with}, patient)
		r.Status = "unknown" // begun, over or still on: nobody was asked
		out = append(out, w.entry("with", r))
	}
	for i, a := range w.in.Comparison.Alarms {
		if a.Urgency == vitals.CheckAgain {
			continue
		}
		name := "alarm-" + strconv.Itoa(i)
		out = append(out, w.entry(name, w.alarm(name, a, patient)))
	}
	return out
}

// pregnancy is coded as the vital records of people are (LOINC 82810-3, SNOMED CT 77386006; both from memory, not checked against the
// sources but for the check digit).
func (w writer) pregnancy(patient Reference) Resource {
	said := words.Say(w.lang, "fhir.pregnant")
	return Resource{
		ResourceType: "Observation", ID: w.uuid("pregnancy"), Status: status(w.in.Exam), Subject: &patient,
		Code: &Concept{Coding: []Coding{{loinc, "82810-3"}}, Text: said}, Category: []Concept{{Coding: []Coding{{category, "exam"}}}},
		EffectiveDateTime: moment(w.in.Exam.At, 0), ValueCodeableConcept: &Concept{Coding: []Coding{{snomed, "77386006"}}, Text: said},
	}
}

// given is something that was given before the call, as told.
func (w writer) given(name string, g vitals.Given, patient Reference) Resource {
	r := Resource{
		ResourceType: "MedicationStatement", ID: w.uuid(name), Status: "completed", Subject: &patient,
		MedicationCodeableConcept: &Concept{Text: g.What},
	}
	if !g.At.IsZero() {
		r.EffectiveDateTime = moment(g.At, 0)
	}
	if w.handled() {
		source := w.author()
		r.InformationSource = &source
	}
	if g.Dose != "" {
		r.Dosage = []Dosage{{g.Dose}}
	}
	if g.By != "" {
		r.Note = []Annotation{{words.Say(w.lang, "report.given.by", "by", g.By)}}
	}
	return r
}

// alarm is a rule on when to call that fires in the exam. It has no diagnosis, and names the findings that made it.
func (w writer) alarm(name string, a vitals.Fired, patient Reference) Resource {
	severity := "moderate"
	if a.Urgency == vitals.RingNow {
		severity = "high"
	}
	said := w.say("alarm.", string(a.Alarm))
	r := Resource{
		ResourceType: "DetectedIssue", ID: w.uuid(name), Status: status(w.in.Exam), Patient: &patient, Severity: severity,
		Code: &Concept{Coding: []Coding{{AlarmSet, string(a.Alarm)}}, Text: said}, IdentifiedDateTime: moment(w.in.Exam.At, 0), Detail: said,
	}
	of := append([]vitals.SignID{a.Sign}, a.With...)
	for i, f := range w.in.Exam.Findings {
		for _, s := range of {
			if f.Sign == s && f.Absent == "" {
				r.Implicated = append(r.Implicated, Reference{Reference: w.url("finding-" + strconv.Itoa(i))})
				break
			}
		}
	}
	return r
}
