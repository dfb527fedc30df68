// Package vitals holds what is seen, counted and measured in the physical exam of
// a horse, pony, donkey or mule: the catalogue of signs, the exam and its findings,
// and the instruments that turn a count, a series of taps, a timer or a thermometer
// into a measure with its standard uncertainty.
//
// For most uses, fill in a [Finding] in the form in which it was taken (a [Count], [Taps],
// a [Reading]), put findings into an [Exam], and hand that to package
// whorl.example/baseline. [CheckExam] says everything that is wrong with an exam at once,
// [Lookup] and [Catalogue] what can be examined, [Steps] in which order, and [FiredAlarms]
// which rules on when to call an exam sets off.
//
// A single number is had with [Cadence.FromCount], [Cadence.FromTaps] and
// [Finding.Measure]. Each gives a [Measure] with the uncertainty of the way in which it
// was taken: nine beats in 15 seconds is not the same knowledge as 36 in a minute.
//
// The package knows no clock, no network, no file and no random source; the caller passes
// times. Wrong input is an error of type [Faults], never a panic.
//
// It conveys and does not diagnose: nothing here says that a horse is well.
package vitals
