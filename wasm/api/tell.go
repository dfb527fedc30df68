package api

import (
	"slices"

	"whorl.example/baseline/recovery"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// versions says what is running, what it reads and writes, and what it speaks.
type versions struct {
	Version string       `json:"version"`
	Kind    string       `json:"kind"`
	Format  int          `json:"format"`
	Langs   []words.Lang `json:"langs"`
}

func version(spoken) (any, error) {
	return versions{Version, schema.Kind, schema.Format, words.Langs()}, nil
}

// messages gives every message of a language by key.
func messages(q spoken) (any, error) { return words.Keys(q.in()), nil }

// contents is everything of the catalogue that a form needs: the signs, the rules, what
// they rest on, and every closed list of answers, in the order of a form.
type contents struct {
	Signs      []vitals.Sign      `json:"signs"`
	Sections   []vitals.SectionID `json:"sections"`
	Alarms     []vitals.Alarm     `json:"alarms"`
	Cautions   []vitals.Caution   `json:"cautions"`
	Sources    []vitals.Source    `json:"sources"`
	Depths     []vitals.Depth     `json:"depths"`
	Types      []vitals.Type      `json:"types"`
	Sexes      []vitals.Sex       `json:"sexes"`
	Stages     []vitals.Stage     `json:"stages"`
	Conditions []vitals.Condition `json:"conditions"`
	Efforts    []vitals.Effort    `json:"efforts"`
	Purposes   []vitals.Purpose   `json:"purposes"`
	Wellnesses []vitals.Wellness  `json:"wellnesses"`
	Statuses   []vitals.Status    `json:"statuses"`
	Holders    []vitals.Holder    `json:"holders"`
	Absences   []vitals.Absence   `json:"absences"`
	Starts     []vitals.Start     `json:"starts"`
	Devices    []vitals.Device    `json:"devices"`
	Units      []vitals.Unit      `json:"units"`
	Courses    []vitals.Course    `json:"courses"`
	Asks       []vitals.Ask       `json:"asks"`
	// Of recoveries: the published criteria, the differences after a trot-out, their sources.
	Criteria        []recovery.Criterion      `json:"criteria"`
	Trots           []recovery.TrotDefinition `json:"trots"`
	RecoverySources []vitals.Source           `json:"recoverySources"`
}

func catalogue(spoken) (any, error) {
	return contents{
		Signs: vitals.Catalogue(), Sections: vitals.Sections(), Depths: vitals.Depths(),
		Alarms: vitals.Alarms(), Cautions: vitals.Cautions(), Sources: vitals.Sources(),
		Types: vitals.Types(), Sexes: vitals.Sexes(), Stages: vitals.Stages(),
		Conditions: vitals.Conditions(), Efforts: vitals.Efforts(), Purposes: vitals.Purposes(),
		Wellnesses: vitals.Wellnesses(), Statuses: vitals.Statuses(), Holders: vitals.Holders(),
		Absences: vitals.Absences(), Starts: vitals.Starts(), Devices: vitals.Devices(), Units: vitals.Units(),
		Courses: vitals.Courses(), Asks: vitals.Asks(),
		Criteria: recovery.Criteria(), Trots: recovery.TrotDefinitions(), RecoverySources: recovery.Sources(),
	}, nil
}

// stepsRequest asks for the steps of an exam. Closed: an answer has closed the hands-on steps.
type stepsRequest struct {
	spoken
	Depth  vitals.Depth  `json:"depth"`
	Holder vitals.Holder `json:"holder,omitempty"`
	Closed bool          `json:"closed,omitempty"`
}

// Check refuses a depth or a holder that the catalogue does not know.
func (q *stepsRequest) Check() vitals.Faults {
	var faults vitals.Faults
	if !slices.Contains(vitals.Depths(), q.Depth) {
		faults = append(faults, fault(vitals.FaultUnknownAnswer, "/depth", "name", string(q.Depth)))
	}
	if q.Holder != "" && !slices.Contains(vitals.Holders(), q.Holder) {
		faults = append(faults, fault(vitals.FaultUnknownAnswer, "/holder", "name", string(q.Holder)))
	}
	return faults
}

func steps(q stepsRequest) (any, error) { return vitals.Steps(q.Depth, q.Holder, q.Closed), nil }

// document is a JSON document as text.
type document struct {
	Text schema.Document `json:"text"`
}

func jsonSchema(spoken) (any, error) { return document{schema.JSONSchema()}, nil }
