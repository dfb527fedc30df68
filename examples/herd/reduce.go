package main

import (
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

// Reduce takes the histories of any number of streams into one for each horse, by id.
// Records (with one exam more) are histories too. However the exams were split into
// streams, and in whatever order these come, the bytes are the same.
func Reduce(out io.Writer, streams ...io.Reader) error {
	herd := map[vitals.ID]*baseline.Baseline{}
	for _, stream := range streams {
		for record, err := range schema.Records(stream) {
			if err != nil {
				return err
			}
			b := baseline.New(record.Horse)
			for _, e := range append(record.Exams, record.Exam) {
				b.Learn(e)
			}
			if err := merge(herd, b); err != nil {
				return err
			}
		}
	}
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

// merge takes a baseline into the herd's. Of two descriptions of a horse the one whose text
// is greater stays, so that no order of the streams matters.
func merge(herd map[vitals.ID]*baseline.Baseline, b *baseline.Baseline) error {
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
