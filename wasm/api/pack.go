package api

import (
	"errors"

	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/schema/fhir"
	"whorl.example/schema/pack"
	"whorl.example/vitals"
)

func exported(q recordRequest) (any, error) {
	c, err := q.compare()
	if err != nil {
		return nil, err
	}
	in := report.Input{Horse: q.Horse, Exam: q.Exam, Comparison: c}
	text, err := fhir.Write(in, report.Call(in, q.in()))
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
