package main

import (
	"bufio"
	"bytes"
	"container/list"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"slices"
	"sync"

	"whorl.example/baseline"
	"whorl.example/schema"
	"whorl.example/vitals"
)

// open is how many fits a shelf holds ready. A horse's exams that come one after the other open its fit
// once.
const open = 256

// Shelf is a file of kept fits, of which the places are held, and those last asked for.
type Shelf struct {
	file  io.ReaderAt
	where map[vitals.ID]section

	mu    sync.Mutex
	ready map[vitals.ID]*list.Element // of *held
	order *list.List                  // last asked for first
}

type section struct {
	at int64
	n  int
}

type held struct {
	id  vitals.ID
	fit *baseline.Fit
}

// NewShelf finds the places of the fits in what [Herd.WriteFits] wrote.
func NewShelf(file io.ReaderAt) (*Shelf, error) {
	s := &Shelf{file: file, where: map[vitals.ID]section{}, ready: map[vitals.ID]*list.Element{}, order: list.New()}
	in, at := bufio.NewReader(io.NewSectionReader(file, 0, 1<<62)), int64(0)
	for {
		line, err := in.ReadSlice('\n')
		id, _, ok := bytes.Cut(line, []byte{'\t'})
		start := at
		at += int64(len(line))
		// The fit is longer than the reader's room: its end is looked for, and it is not held.
		for err == bufio.ErrBufferFull {
			id = slices.Clone(id)
			line, err = in.ReadSlice('\n')
			at += int64(len(line))
		}
		if ok {
			from := start + int64(len(id)) + 1
			s.where[vitals.ID(id)] = section{from, int(at - from)}
		}
		switch {
		case err == io.EOF:
			return s, nil
		case err != nil:
			return nil, err
		case !ok:
			return nil, fmt.Errorf("byte %d: no fit", start)
		}
	}
}

// Answer is [Answer] where a record has no history but the shelf has its horse's fit.
func (s *Shelf) Answer(line []byte) []byte {
	return answer(line, func(record schema.Record) (baseline.Comparison, error) {
		if len(record.Exams) == 0 {
			fit, err := s.fit(record.Horse)
			if err != nil {
				return baseline.Comparison{}, err
			}
			return fit.Compare(record.Exam)
		}
		b, err := baseline.Of(record.Horse, record.Exams)
		if err != nil {
			return baseline.Comparison{}, err
		}
		return b.Compare(record.Exam)
	})
}

// fit gives the fit of a horse: an empty one where there is none.
func (s *Shelf) fit(horse vitals.Horse) (*baseline.Fit, error) {
	s.mu.Lock()
	if e := s.ready[horse.ID]; e != nil {
		fit := e.Value.(*held).fit
		s.order.MoveToFront(e)
		s.mu.Unlock()
		if same(fit.Horse(), horse) {
			return fit, nil
		}
	} else {
		s.mu.Unlock()
	}
	at, ok := s.where[horse.ID]
	if !ok {
		return baseline.NewFit(horse)
	}
	text := make([]byte, at.n)
	if _, err := s.file.ReadAt(text, at.at); err != nil && err != io.EOF {
		return nil, err
	}
	text = bytes.TrimSpace(text)
	data, err := base64.StdEncoding.AppendDecode(nil, text)
	if err != nil {
		return nil, errors.Join(err, vitals.Faults{{Code: baseline.FaultBadFit}})
	}
	fit, err := baseline.OpenFit(horse, data)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if e := s.ready[horse.ID]; e != nil {
		e.Value.(*held).fit = fit
		return fit, nil
	}
	s.ready[horse.ID] = s.order.PushFront(&held{horse.ID, fit})
	if s.order.Len() > open {
		delete(s.ready, s.order.Remove(s.order.Back()).(*held).id)
	}
	return fit, nil
}

// same reports whether a fit made for a horse is good for another description of it.
func same(a, b vitals.Horse) bool {
	return a.Type == b.Type && a.Born == b.Born && a.BornYearOnly == b.BornYearOnly && slices.Equal(a.NewUsual, b.NewUsual)
}
