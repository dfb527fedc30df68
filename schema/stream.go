package schema

import (
	"bufio"
	"bytes"
	"io"
	"iter"
	"strconv"
)

// LineError is what is wrong with one line of a stream of records. Err is a
// [vitals.Faults] with the faults of the line, or the error of the reader.
type LineError struct {
	Line int // the first is 1
	Err  error
}

// Error gives the line and what is wrong with it.
func (e *LineError) Error() string { return "line " + strconv.Itoa(e.Line) + ": " + e.Err.Error() }

// Unwrap gives what is wrong with the line.
func (e *LineError) Unwrap() error { return e.Err }

// Records reads a stream of records, one a line. A line that is no record comes with a
// [LineError] and the stream goes on; an error of the reader ends it. Empty lines are
// passed over.
func Records(r io.Reader) iter.Seq2[Record, error] {
	return func(yield func(Record, error) bool) {
		in := bufio.NewReader(r)
		for line := 1; ; line++ {
			text, err := readLine(in)
			if len(bytes.TrimSpace(text)) > 0 {
				record, bad := DecodeRecord(text)
				if bad != nil {
					bad = &LineError{line, bad}
				}
				if !yield(record, bad) {
					return
				}
			}
			if err == io.EOF {
				return
			}
			if err != nil {
				yield(Record{}, &LineError{line, err})
				return
			}
		}
	}
}

// readLine reads a line, of which no more than MaxBytes and one byte are kept: enough for
// the decoder to refuse it.
func readLine(in *bufio.Reader) ([]byte, error) {
	var text []byte
	for {
		part, err := in.ReadSlice('\n')
		if room := MaxBytes + 1 - len(text); len(part) > room {
			part = part[:room]
		}
		text = append(text, part...)
		if err != bufio.ErrBufferFull {
			return text, err
		}
	}
}
