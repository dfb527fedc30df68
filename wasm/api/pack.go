package api

import (
	"errors"

	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/schema/fhir"
	"whorl.example/schema/pack"
	"whorl.example/vitals"
)

// exportRequest asks for the document of an exam: a record of this device, or what a link
// carries, as the sender's history had it. Exactly one of the two.
type exportRequest struct {
	spoken
	Horse    *vitals.Horse   `json:"horse,omitempty"`
	Exams    []vitals.Exam   `json:"exams,omitempty"`
	Exam     *vitals.Exam    `json:"exam,omitempty"`
	Fragment schema.Document `json:"fragment,omitempty"`
	Pack     *pack.Pack      `json:"pack,omitempty"`
}

// record is the request as one of a record.
func (q *exportRequest) record() *recordRequest {
	return &recordRequest{q.spoken, schema.Record{Horse: *q.Horse, Exams: q.Exams, Exam: *q.Exam}, q.Pack, ""}
}

// Check gives the faults of the record and of the clinic's file.
func (q *exportRequest) Check() vitals.Faults {
	switch {
	case q.Horse != nil && q.Exam != nil && q.Fragment == "":
		return q.record().Check()
	case q.Horse != nil || q.Exam != nil || q.Exams != nil || q.Fragment == "":
		var faults vitals.Faults
		if q.Horse == nil {
			faults = append(faults, fault(schema.MissingMember, "/horse"))
		}
		if q.Exam == nil {
			faults = append(faults, fault(schema.MissingMember, "/exam"))
		}
		if faults == nil {
			faults = vitals.Faults{fault(schema.UnknownMember, "/fragment")}
		}
		return faults
	}
	return checkPack(q.Pack)
}

func checkPack(p *pack.Pack) vitals.Faults {
	if p == nil {
		return nil
	}
	return p.Check().At("/pack")
}

func exported(q exportRequest) (any, error) {
	var in report.Input
	var err error
	if q.Fragment != "" {
		in, _, err = received(q.Fragment, q.Pack)
	} else {
		in, err = q.record().input()
	}
	if err != nil {
		return nil, err
	}
	text, err := fhir.Write(in, telling(in, q.Pack, q.in()).Report)
	if err != nil {
		return nil, err
	}
	return document{schema.Document(text)}, nil
}

// packRequest holds a clinic's file as the text that was found in it.
type packRequest struct {
	spoken
	Pack schema.Document `json:"pack"`
}

// packed is the clinic's file, or its faults with the line of each: whoever writes the
// file edits it by hand.
type packed struct {
	Pack   *pack.Pack    `json:"pack,omitempty"`
	Faults vitals.Faults `json:"faults"`
	Lines  []int         `json:"lines"`
}

func packs(q packRequest) (any, error) {
	p, err := pack.Decode([]byte(q.Pack))
	if faults, ok := errors.AsType[vitals.Faults](err); ok {
		return packed{Faults: say(q.in(), faults), Lines: pack.Lines([]byte(q.Pack), faults)}, nil
	}
	return packed{Pack: &p}, err
}
