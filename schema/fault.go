package schema

import (
	"strings"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Codes of the faults of a document's structure. The faults of what it says (values out
// of range, two values in a finding) have the codes of package vitals.
const (
	BadJSON         vitals.FaultCode = "bad-json"          // not JSON, or cut off; with line and column
	TrailingText    vitals.FaultCode = "trailing-text"     // something stands after the document
	TooLarge        vitals.FaultCode = "too-large"         // over MaxBytes
	TooDeep         vitals.FaultCode = "too-deep"          // over MaxDepth
	TooMany         vitals.FaultCode = "too-many"          // over MaxItems
	TooLong                          = vitals.FaultTooLong // over MaxText
	BadText                          = vitals.FaultBadText // not UTF-8, half a surrogate pair, or NUL
	DuplicateMember vitals.FaultCode = "duplicate-member"  // a member name used twice in an object
	UnknownMember   vitals.FaultCode = "unknown-member"
	MissingMember   vitals.FaultCode = "missing-member"
	NotObject       vitals.FaultCode = "not-object"
	NotList         vitals.FaultCode = "not-list"
	NotText         vitals.FaultCode = "not-text"
	Empty           vitals.FaultCode = "empty" // "" for an id or an answer
	NotBoolean      vitals.FaultCode = "not-boolean"
	NotNumber       vitals.FaultCode = "not-number"
	NotWhole        vitals.FaultCode = "not-whole"      // a whole number was wanted
	NumberTooBig    vitals.FaultCode = "number-too-big" // 2^53 or more, which JSON does not carry exactly
	BadDecimal      vitals.FaultCode = "bad-decimal"    // a reading that is not in plain decimal digits
	BadTime         vitals.FaultCode = "bad-time"       // not RFC 3339 with an offset, or outside 1900..2199
	BadDate         vitals.FaultCode = "bad-date"       // not YYYY-MM-DD, or no such day, or outside 1900..2199
	NotWhorl        vitals.FaultCode = "not-whorl"      // the file is of another kind
	NewerFormat     vitals.FaultCode = "newer-format"   // made by a newer version
	BadFormat       vitals.FaultCode = "bad-format"     // a format that never was
	DuplicateID     vitals.FaultCode = "duplicate-id"
	UnknownHorse    vitals.FaultCode = "unknown-horse" // an exam of a horse that is not there
	NotFinite       vitals.FaultCode = "not-finite"    // NaN or an infinity cannot be written
)

// fault makes a fault with its English sentence.
func fault(code vitals.FaultCode, path string, args ...string) vitals.Fault {
	return vitals.Fault{
		Code: code, Path: path, Args: args,
		Sentence: words.Say(words.English, "fault."+string(code), args...),
	}
}

// merge adds to the faults of a document's structure those of what it says, without the
// ones that only follow from the structure: a count that was not a number would also be
// a finding without a value.
func merge(structure, said vitals.Faults) vitals.Faults {
	out := structure
	for _, s := range said {
		if s.Code == NotWhorl || s.Code == NewerFormat {
			// Nothing else about a foreign or newer file means anything.
			return vitals.Faults{s}
		}
		if !touches(structure, s.Path) {
			out = append(out, s)
		}
	}
	return out
}

// touches reports whether one of the faults lies at path, inside it or around it.
func touches(faults vitals.Faults, path string) bool {
	for _, f := range faults {
		if inside(f.Path, path) || inside(path, f.Path) {
			return true
		}
	}
	return false
}

func inside(path, of string) bool {
	return strings.HasPrefix(path, of) && (len(path) == len(of) || path[len(of)] == '/')
}
