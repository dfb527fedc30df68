// Package schema says how a record travels: the barn file (every horse and exam of one
// device) and the record (one horse, its exams, and the exam to be told), as JSON.
//
// For most uses, [Decode] reads a barn file and [Encode] writes one; [DecodeRecord] and
// [Records] read what whorl.example/baseline is to compare; [Marshal] writes a comparison
// or a report.
//
// Decode and DecodeRecord read strictly and report every fault at once, each with its
// code, its place as a JSON Pointer and a sentence. Encode and [EncodeRecord] write the
// canonical form: members in the order of the Go types, empty ones left out, no white
// space, floats rounded to [Digits]. Whatever is accepted is written to the same bytes
// again after it has been read back.
//
// # The promise of the format
//
// A file of format n is read by every later version of Whorl. A file of a newer format is
// refused with the code newer-format and nothing else, since its other faults would mean
// nothing. Member names and values never change their meaning. An id of the catalogue
// (sign, site, answer, device, unit) is never removed and never reused.
//
// What may change: a later version may write a newer format, read more of what was
// refused, and list a fault in other words. Ids may be added to the catalogue within a
// format, so that an older version may refuse a file that names a newer sign: it says
// which, and the file is not touched.
//
// # The promise of the API
//
// As in package baseline: until 1.0 CHANGELOG.md names each exported name that changed;
// from 1.0 on a program goes on compiling within a major version. Codes of faults are
// never given another meaning.
package schema

//go:generate go run ./generate
