package api

import (
	"errors"

	"whorl.example/schema"
	"whorl.example/schema/fhir"
	"whorl.example/schema/pack"
	"whorl.example/vitals"
)

func exported(q recordRequest) (any, error) {
	in, err := q.input()
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
