// Command herd compares a stream of records on every core, in the order in which they
// come, with memory that does not grow with the stream; and takes the exams of two
// shards into one baseline for each horse.
//
//	herd [-fits FITS] [-state FILE -o OUT] IN    records, one a line; comparisons, one a line
//	herd -reduce IN...                           barns' exams by horse: one record of history a line
//	herd -reduce -fits FITS IN...                the same, and the fit of each horse
//
// With -fits a record without a history is compared with the horse's kept fit: nothing is worked
// out that was worked out before. A fit that is stale is answered with that fault.
//
// A line that is no record is answered with its faults and does not end the stream. With
// -state the place reached is written down, so that a run that was killed goes on from
// there and ends with the same bytes.
package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"runtime"

	"whorl.example/baseline"
	"whorl.example/schema"
	"whorl.example/vitals"
)

// batch is how many lines go to a core at a time; there are at most two batches a core in
// flight, and that is all that is held.
const batch = 64

// work is lines that go in and answers that come out.
type work struct {
	lines [][]byte
	bytes int64 // of the input, with the ends of lines
	done  chan []byte
}

// Compare answers each line of in with a line of out by answer. After each batch it calls reached
// with the bytes of the input that are answered and the bytes written; an error of reached
// ends the run, as a kill would.
func Compare(in io.Reader, out io.Writer, answer func(line []byte) []byte, reached func(read, written int64) error) error {
	cores := runtime.GOMAXPROCS(0)
	queue, order := make(chan *work), make(chan *work, 2*cores)
	stop := make(chan struct{})
	defer close(stop)
	for range cores {
		go func() {
			for w := range queue {
				var answers []byte
				for _, line := range w.lines {
					answers = append(answers, answer(line)...)
				}
				w.done <- answers
			}
		}()
	}
	var readErr error
	go func() {
		defer close(order)
		defer close(queue)
		reader := bufio.NewReaderSize(in, 1<<20)
		for readErr == nil {
			w := &work{done: make(chan []byte, 1)}
			for len(w.lines) < batch && w.bytes < 1<<20 && readErr == nil {
				var line []byte
				line, readErr = reader.ReadBytes('\n')
				w.bytes += int64(len(line))
				if len(bytes.TrimSpace(line)) > 0 {
					w.lines = append(w.lines, line)
				}
			}
			select {
			case order <- w:
			case <-stop:
				return
			}
			select {
			case queue <- w:
			case <-stop:
				return
			}
		}
	}()
	var read, written int64
	for w := range order {
		n, err := out.Write(<-w.done)
		if err != nil {
			return err
		}
		read, written = read+w.bytes, written+int64(n)
		if err := reached(read, written); err != nil {
			return err
		}
	}
	if readErr != io.EOF {
		return readErr
	}
	return nil
}

// Answer compares the record of a line, and gives a line: the comparison, or the faults.
func Answer(line []byte) []byte {
	return answer(line, func(record schema.Record) (baseline.Comparison, error) {
		b, err := baseline.Of(record.Horse, record.Exams)
		if err != nil {
			return baseline.Comparison{}, err
		}
		return b.Compare(record.Exam)
	})
}

func answer(line []byte, compare func(schema.Record) (baseline.Comparison, error)) []byte {
	record, err := schema.DecodeRecord(line)
	if err == nil {
		var c baseline.Comparison
		if c, err = compare(record); err == nil {
			var text []byte
			if text, err = schema.Marshal(c); err == nil {
				return append(text, '\n')
			}
		}
	}
	faults, _ := errors.AsType[vitals.Faults](err)
	text, err := schema.Marshal(struct {
		Faults vitals.Faults `json:"faults"`
	}{faults})
	if err != nil {
		return []byte("{\"faults\":[]}\n")
	}
	return append(text, '\n')
}
