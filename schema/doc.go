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
// Ids and members that are added make a newer minor format, and the file says of which it is ("minor"). An older version
// reads it all the same: what it does not understand (a sign, an answer, a member, an exam, a horse) it keeps to the byte,
// within bounds, as [vitals.Unknown] of the object where it stood, and [Encode] writes it where it was, of a list at its
// end. It concludes nothing from it, and every comparison says how many entries of the exam were not understood. Whatever
// else is wrong (a number beyond what can be, an id used twice) is a fault in every minor format.
//
// What may change: a later version may write a newer format, read more of what was
// refused, and list a fault in other words.
//
// # The promise of the API
//
// As in package baseline: until 1.0 CHANGELOG.md names each exported name that changed;
// from 1.0 on a program goes on compiling within a major version. Codes of faults are
// never given another meaning.
package schema

//go:generate go run ./generate
