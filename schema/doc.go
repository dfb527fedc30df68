// Package schema says how a record travels: the barn file (every horse and exam of one
// device) and the record (one horse, its exams, and the exam to be told), as JSON.
//
// [Decode] and [DecodeRecord] read strictly and report every fault at once, each with its
// code, its place as a JSON Pointer and a sentence. [Encode] and [EncodeRecord] write the
// canonical form: members in the order of the Go types, empty ones left out, no white
// space, floats rounded to [Digits]. Whatever is accepted is written to the same bytes
// again after it has been read back.
//
// # The promise of the format
//
// A file of format n is read by every later version of Whorl. A file of a newer format is
// refused with the code newer-format and nothing else, since its other faults would mean
// nothing. Member names and values never change their meaning.
package schema

//go:generate go run ./generate
