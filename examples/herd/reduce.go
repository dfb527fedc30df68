package main

import (
	"encoding/base64"
	"errors"
	"io"
	"maps"
	"slices"
	"strings"

	"whorl.example/baseline"
	"whorl.example/schema"
	"whorl.example/vitals"
)

// History is a horse and all its exams, oldest first: what a reduce step gives by the
// horse's id, and takes again.
type History struct {
	Horse vitals.Horse  `json:"horse"`
	Exams []vitals.Exam `json:"exams"`
}

// Herd is horses by their ids.
type Herd map[vitals.ID]*baseline.Baseline

// Gather takes the histories of any number of streams into one for each horse, by id.
// Records (with one exam more) are histories too. However the exams were split into
// streams, and in whatever order these come, what is written is the same to the byte.
func Gather(streams ...io.Reader) (Herd, error) {
	herd := Herd{}
	for _, stream := range streams {
		for record, err := range schema.Records(stream) {
			if err != nil {
				return nil, err
			}
			b, err := baseline.Of(record.Horse, append(record.Exams, record.Exam))
			if err != nil {
				return nil, err
			}
			if err := herd.merge(b); err != nil {
				return nil, err
			}
		}
	}
	return herd, nil
}

// Write gives a history a line.
func (herd Herd) Write(out io.Writer) error {
	for _, id := range slices.Sorted(maps.Keys(herd)) {
		text, err := schema.Marshal(History{herd[id].Horse(), herd[id].Exams()})
		if err != nil {
			return err
		}
		if _, err := out.Write(append(text, '\n')); err != nil {
			return err
		}
	}
	return nil
}

// WriteFits gives a line for each horse: its id, a tab, and its fit in base64, worked out for the
// day after its newest exam.
func (herd Herd) WriteFits(out io.Writer) error {
	for _, id := range slices.Sorted(maps.Keys(herd)) {
		exams := herd[id].Exams()
		if len(exams) == 0 {
			continue
		}
		fit := herd[id].Fit().Encode(exams[len(exams)-1].At.AddDate(0, 0, 1))
		line := append([]byte(id), '\t')
		if _, err := out.Write(append(base64.StdEncoding.AppendEncode(line, fit), '\n')); err != nil {
			return err
		}
	}
	return nil
}

// merge takes a baseline into the herd's. Of two descriptions of a horse the one whose text
// is greater stays, so that no order of the streams matters.
func (herd Herd) merge(b *baseline.Baseline) error {
	id := b.Horse().ID
	known := herd[id]
	if known == nil {
		herd[id] = b
		return nil
	}
	here, err := schema.Marshal(known.Horse())
	there, err2 := schema.Marshal(b.Horse())
	if err := errors.Join(err, err2); err != nil {
		return err
	}
	if strings.Compare(string(there), string(here)) > 0 {
		known, b = b, known
	}
	herd[id] = known
	return known.Merge(b)
}
