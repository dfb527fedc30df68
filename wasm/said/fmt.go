// Package fmt stands in for the standard library's in the core for the browser, where
// [whorl.example/wasm.BuildCore] lays it over: it has what the libraries that the core links need to compile, and
// writes nothing of values. They format only texts of errors and panics, of which the core
// shows none: what it says to a person is in whorl.example/vitals/words. Formatting by reflection,
// with the files that it may print to, would be a tenth of the core.
package fmt

import (
	"errors"
	"io"
)

// State is as in the standard library; nothing here makes one.
type State interface {
	Write(b []byte) (n int, err error)
	Width() (wid int, ok bool)
	Precision() (prec int, ok bool)
	Flag(c int) bool
}

// ScanState is as in the standard library; nothing here makes one.
type ScanState interface {
	ReadRune() (r rune, size int, err error)
	UnreadRune() error
	SkipSpace()
	Token(skipSpace bool, f func(rune) bool) (token []byte, err error)
	Width() (wid int, ok bool)
	Read(buf []byte) (n int, err error)
}

// Stringer is as in the standard library.
type Stringer interface{ String() string }

// Formatter is as in the standard library.
type Formatter interface{ Format(f State, verb rune) }

// Scanner is as in the standard library.
type Scanner interface {
	Scan(state ScanState, verb rune) error
}

// Errorf gives an error whose text is the format, with no values in it.
func Errorf(format string, _ ...any) error { return errors.New(format) }

// Sprintf gives the format, with no values in it.
func Sprintf(format string, _ ...any) string { return format }

// Fprintf writes the format, with no values in it.
func Fprintf(w io.Writer, format string, _ ...any) (int, error) { return io.WriteString(w, format) }

// Fprint writes the values that are texts.
func Fprint(w io.Writer, values ...any) (int, error) {
	n := 0
	for _, v := range values {
		if s, ok := v.(string); ok {
			m, err := io.WriteString(w, s)
			if n += m; err != nil {
				return n, err
			}
		}
	}
	return n, nil
}
