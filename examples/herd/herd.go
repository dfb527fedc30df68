// Package herd takes the exams of any number of horses through the library in two steps, each of them a pure function of one horse:
// [Join] takes its records into one, and [Compare] sets each of its exams beside those before it. An engine that
// groups by a key (examples/herd/beam is on one) needs nothing else of this package. Without an engine, [Gather] does the grouping of
// streams that are sorted by horse, and holds one horse of each at a time.
package herd

import (
	"context"
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"

	"whorl.example/baseline"
	"whorl.example/schema"
	"whorl.example/vitals"
)

// Records is a stream of records, as [schema.Records] gives it: a line that is none comes as an error with its
// [vitals.Faults], and the stream goes on.
type Records = iter.Seq2[schema.Record, error]

// ErrOrder is the error of a stream whose records are not in the order of their horses' ids.
var ErrOrder = errors.New("the records are not sorted by horse")

// Join takes records of one horse into one: every exam once, the newest as the exam, those before it as the history. However the exams
// were divided among records, in whatever order these come, and whatever was joined before, the answer is the same to the
// byte, so that an engine may combine as it likes. Of two descriptions of the horse the one whose text is greater stays.
func Join(records ...schema.Record) (schema.Record, error) {
	var all *baseline.Baseline
	var described, minor = "", 0
	for _, r := range records {
		b, err := baseline.Of(r.Horse, append(slices.Clip(r.Exams), r.Exam))
		if err != nil {
			return schema.Record{}, err
		}
		h := r.Horse
		h.NewUsual = nil // of which the two have all
		text, err := schema.Marshal(h)
		if err != nil {
			return schema.Record{}, err
		}
		minor = max(minor, r.Minor)
		switch {
		case all == nil:
			all, described = b, string(text)
			continue
		case strings.Compare(string(text), described) > 0:
			all, b, described = b, all, string(text)
		}
		if err := all.Merge(b); err != nil {
			return schema.Record{}, err
		}
	}
	if all == nil {
		return schema.Record{}, errors.New("no record to join")
	}
	exams := all.Exams()
	last := len(exams) - 1
	return schema.Record{Minor: minor, Horse: all.Horse(), Exams: exams[:last], Exam: exams[last]}, nil
}

// Compare sets each exam of a record, oldest first, beside those before it.
func Compare(record schema.Record) iter.Seq2[baseline.Comparison, error] {
	return func(yield func(baseline.Comparison, error) bool) {
		b, err := baseline.Of(record.Horse, append(slices.Clip(record.Exams), record.Exam))
		if err != nil {
			yield(baseline.Comparison{}, err)
			return
		}
		for _, exam := range b.Exams() {
			if !yield(b.Compare(exam)) {
				return
			}
		}
	}
}

// Gather takes streams that are sorted by horse into one with a record for each horse, by [Join]. What is no record is passed on as
// its fault; [ErrOrder], an error of a reader and the end of ctx end it.
func Gather(ctx context.Context, streams ...Records) Records {
	return func(yield func(schema.Record, error) bool) {
		var one []schema.Record // all of one horse
		going := true
		give := func() bool {
			if len(one) == 0 {
				return true
			}
			going = yield(Join(one...))
			one = one[:0]
			return going
		}
		for record, err := range inOrder(ctx, streams) {
			switch {
			case err != nil:
				going = yield(schema.Record{}, err)
				if _, faulty := errors.AsType[vitals.Faults](err); !faulty {
					return // what was gathered of a horse may not be all of it
				}
			case len(one) > 0 && one[0].Horse.ID != record.Horse.ID:
				give()
			}
			if !going {
				return
			}
			if err == nil {
				one = append(one, record)
			}
		}
		give()
	}
}

// inOrder makes one sorted stream of several.
func inOrder(ctx context.Context, streams []Records) Records {
	return func(yield func(schema.Record, error) bool) {
		heads := make([]*head, 0, len(streams))
		for _, s := range streams {
			next, stop := iter.Pull2(s)
			defer stop()
			h := &head{next: next}
			if heads = append(heads, h); !h.advance(yield) {
				return
			}
		}
		for {
			if err := ctx.Err(); err != nil {
				yield(schema.Record{}, err)
				return
			}
			heads = slices.DeleteFunc(heads, func(h *head) bool { return h.ended })
			if len(heads) == 0 {
				return
			}
			first := slices.MinFunc(heads, func(a, b *head) int { return strings.Compare(string(a.record.Horse.ID), string(b.record.Horse.ID)) })
			if !yield(first.record, nil) || !first.advance(yield) {
				return
			}
		}
	}
}

// head is the next record of a stream.
type head struct {
	next   func() (schema.Record, error, bool)
	record schema.Record
	ended  bool
}

// advance goes to the next record, and passes on what is none. False: it is over for all streams.
func (h *head) advance(yield func(schema.Record, error) bool) bool {
	for {
		record, err, more := h.next()
		if !more {
			h.ended = true
			return true
		}
		before := h.record.Horse.ID
		switch {
		case err != nil:
			if !yield(schema.Record{}, err) {
				return false
			}
			continue
		case record.Horse.ID < before:
			yield(schema.Record{}, fmt.Errorf("horse %s comes after %s: %w", record.Horse.ID, before, ErrOrder))
			return false
		}
		h.record = record
		return true
	}
}
