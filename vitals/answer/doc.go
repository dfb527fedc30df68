// Package answer names every answer of every graded sign, so that none has to be written as text:
//
//	vitals.Finding{Sign: vitals.GumColour, Chosen: []vitals.GradeID{answer.GumColourWhite}}
//
// The names are those of the catalogue, the sign first. Where the sign can be taken and seen is in
// package whorl.example/vitals/site.
package answer
