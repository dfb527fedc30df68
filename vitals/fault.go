package vitals

import (
	"slices"
	"strings"
)

// FaultCode names one kind of fault. A code is never given another meaning.
type FaultCode string

// Fault is one thing wrong with what was entered or sent: a stable code, the place
// as a JSON Pointer (RFC 6901), and the facts that the sentence of each language
// needs. [Fault.Error] is the English sentence.
type Fault struct {
	Code FaultCode `json:"code"`
	Path string    `json:"path"`
	// Args are the facts of the sentence, in the order name, value, name, value.
	Args []string `json:"args,omitempty"`
	// Sentence is what a handler reads, in the language asked for.
	Sentence string `json:"sentence"`
}

// Error gives the place and the sentence.
func (f Fault) Error() string {
	if f.Path == "" {
		return f.Sentence
	}
	return f.Path + ": " + f.Sentence
}

// Is reports whether target is a Fault of the same code, so that
// errors.Is(err, vitals.Fault{Code: vitals.FaultTwoValues}) works.
func (f Fault) Is(target error) bool {
	t, ok := target.(Fault)
	return ok && t.Code == f.Code && (t.Path == "" || t.Path == f.Path)
}

// Faults are all the faults of one input at once. As an error it unwraps to each.
type Faults []Fault

// Error lists the faults, one a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives each fault to errors.Is and errors.As.
func (fs Faults) Unwrap() []error {
	errs := make([]error, len(fs))
	for i, f := range fs {
		errs[i] = f
	}
	return errs
}

// Err is nil when there is no fault, so that a caller never returns a non-nil empty list.
func (fs Faults) Err() error {
	if len(fs) == 0 {
		return nil
	}
	return fs
}

// At gives the faults with prefix put before every path.
func (fs Faults) At(prefix string) Faults {
	out := slices.Clone(fs)
	for i := range out {
		out[i].Path = prefix + out[i].Path
	}
	return out
}
