package fhir

import "whorl.example/vitals"

// Bundle is a FHIR R4 document bundle, as far as an exam needs one.
type Bundle struct {
	ResourceType string     `json:"resourceType"`
	Identifier   Identifier `json:"identifier"`
	Type         string     `json:"type"`
	Timestamp    string     `json:"timestamp"`
	Entry        []Entry    `json:"entry"`
}

// Entry is one resource with its address inside the bundle.
type Entry struct {
	FullURL  string   `json:"fullUrl"`
	Resource Resource `json:"resource"`
}

// Resource is a Composition, a Patient, a Device, a RelatedPerson, an Observation, a MedicationStatement or a DetectedIssue: the members
// that one of them has and this package uses.
type Resource struct {
	ResourceType string `json:"resourceType"`
	ID           string `json:"id"`
	Meta         *Meta  `json:"meta,omitempty"`
	// Of a Patient.
	Extension  []Extension  `json:"extension,omitempty"`
	Identifier []Identifier `json:"identifier,omitempty"`
	Name       []Name       `json:"name,omitempty"`
	Gender     string       `json:"gender,omitempty"`
	BirthDate  string       `json:"birthDate,omitempty"`
	// Of a Device.
	DeviceName []DeviceName `json:"deviceName,omitempty"`
	// Of a RelatedPerson and a DetectedIssue.
	Patient      *Reference     `json:"patient,omitempty"`
	Relationship []Concept      `json:"relationship,omitempty"`
	Telecom      []ContactPoint `json:"telecom,omitempty"`
	// Of a DetectedIssue.
	Severity           string      `json:"severity,omitempty"`
	IdentifiedDateTime string      `json:"identifiedDateTime,omitempty"`
	Implicated         []Reference `json:"implicated,omitempty"`
	Detail             string      `json:"detail,omitempty"`
	// Of a MedicationStatement.
	MedicationCodeableConcept *Concept   `json:"medicationCodeableConcept,omitempty"`
	InformationSource         *Reference `json:"informationSource,omitempty"`
	Dosage                    []Dosage   `json:"dosage,omitempty"`
	// Of a Composition and an Observation.
	Status  string     `json:"status,omitempty"`
	Subject *Reference `json:"subject,omitempty"`
	// Of a Composition.
	Type    *Concept    `json:"type,omitempty"`
	Date    string      `json:"date,omitempty"`
	Author  []Reference `json:"author,omitempty"`
	Title   string      `json:"title,omitempty"`
	Section []Section   `json:"section,omitempty"`
	// Of an Observation.
	Category             []Concept        `json:"category,omitempty"`
	Code                 *Concept         `json:"code,omitempty"`
	EffectiveDateTime    string           `json:"effectiveDateTime,omitempty"`
	Performer            []Reference      `json:"performer,omitempty"`
	ValueQuantity        *Quantity        `json:"valueQuantity,omitempty"`
	ValueCodeableConcept *Concept         `json:"valueCodeableConcept,omitempty"`
	DataAbsentReason     *Concept         `json:"dataAbsentReason,omitempty"`
	Interpretation       []Concept        `json:"interpretation,omitempty"`
	Note                 []Annotation     `json:"note,omitempty"`
	BodySite             *Concept         `json:"bodySite,omitempty"`
	Method               *Concept         `json:"method,omitempty"`
	ReferenceRange       []ReferenceRange `json:"referenceRange,omitempty"`
	Component            []Component      `json:"component,omitempty"`
}

// The data types, with the members that are used.
type (
	Meta struct {
		Profile []string `json:"profile"`
	}
	Extension struct {
		URL                  string      `json:"url"`
		Extension            []Extension `json:"extension,omitempty"`
		ValueCodeableConcept *Concept    `json:"valueCodeableConcept,omitempty"`
	}
	Identifier struct {
		System string `json:"system"`
		Value  string `json:"value"`
	}
	Name struct {
		Text string `json:"text"`
	}
	DeviceName struct {
		Name string `json:"name"`
		Type string `json:"type"`
	}
	Reference struct {
		Reference string `json:"reference,omitempty"`
		Display   string `json:"display,omitempty"`
	}
	Concept struct {
		Coding []Coding `json:"coding,omitempty"`
		Text   string   `json:"text,omitempty"`
	}
	Coding struct {
		System string `json:"system"`
		Code   string `json:"code"`
	}
	// Quantity: the value is a number with nine significant digits at most; how many places
	// were read stands in the note.
	Quantity struct {
		Value  float64     `json:"value"`
		Unit   string      `json:"unit"`
		System string      `json:"system"`
		Code   vitals.Unit `json:"code"`
	}
	ContactPoint struct {
		System string `json:"system"`
		Value  string `json:"value"`
	}
	Dosage struct {
		Text string `json:"text"`
	}
	Annotation struct {
		Text string `json:"text"`
	}
	ReferenceRange struct {
		Low  *Quantity `json:"low,omitempty"`
		High *Quantity `json:"high,omitempty"`
		Type *Concept  `json:"type,omitempty"`
		Text string    `json:"text,omitempty"`
	}
	Component struct {
		Code                 Concept  `json:"code"`
		ValueCodeableConcept *Concept `json:"valueCodeableConcept,omitempty"`
	}
	Section struct {
		Title string      `json:"title"`
		Text  Narrative   `json:"text"`
		Entry []Reference `json:"entry,omitempty"`
	}
	Narrative struct {
		Status string `json:"status"`
		Div    string `json:"div"`
	}
)
