// Package vitals holds what is seen, counted and measured in the physical exam of
// a horse, pony, donkey or mule: the catalogue of signs, the exam and its findings,
// and the instruments that turn a count, a series of taps, a timer or a thermometer
// into a measure with its standard uncertainty.
package vitals
