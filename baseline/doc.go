// Package baseline says what is normal for one horse, and how far an exam is from it.
//
// For most uses there are three calls: [New] with the horse, [Baseline.Learn] with each
// exam of its history, [Baseline.Compare] with the exam of today. Compare works from the
// first exam on; its answer says on how many exams it rests. Package
// whorl.example/baseline/report turns the [Comparison] into words.
//
// A Baseline remembers what it has worked out: the second Compare costs a tenth of a millisecond. To keep that
// between runs, there is [Baseline.Fit].
//
// What is assumed before the first exam can be learned from one's own horses: [Herd].
//
// Further: [Baseline.Normal] for the interval of one sign, [Baseline.Known] for how well a
// horse is known, [Baseline.Merge] for two phones that examined the same horse,
// package whorl.example/baseline/watch for the direction over rechecks, whorl.example/baseline/recovery for the time
// after work.
//
// The same exams give the same answer, bytes for bytes through whorl.example/schema,
// whatever the order in which they were learned and whatever the processor. The package
// knows no clock, no network, no file and no random source. Outside the standard library
// it imports github.com/shopspring/decimal and nothing else.
//
// # The promise of the API
//
// Until version 1.0 an exported name may change, and CHANGELOG.md names each that does.
// From 1.0 on a program that compiles goes on compiling within a major version (struct
// literals with field names; fields and constants may be added).
//
// What may change in any version, and is not an API: the figures. A better formula or a
// published range that was read again gives another interval for the same exams, and
// CHANGELOG.md says so. Store exams, never a Comparison in their place.
//
// What never changes: the meaning of a [Statement], of a key of advice, warning or lesson,
// and of a fault's code. A key may be retired; it is not given another meaning. A sign that
// was not checked is never stated to be as usual, and Compare never says that a horse is
// well.
package baseline
