// Package report turns a comparison into what is told: the call report as data and as
// text in every language of whorl.example/vitals/words, and the drawings that go with it
// (the ruler of a sign, the whorl of a horse) as SVG.
package report

import "whorl.example/vitals/words"

// PartID names a part of the call report, in the order in which it is told.
type PartID string

const (
	PartWho       PartID = "who"       // call-back number, name, horse, where it stands
	PartWhat      PartID = "what"      // the one sentence: what, since when, which way it goes
	PartDanger    PartID = "danger"    // is anyone or the horse in danger now; fired alarms
	PartAnimal    PartID = "animal"    // age, sex, type, in foal
	PartDiffers   PartID = "differs"   // what is not as usual: number, how taken, usual, how sure
	PartUsual     PartID = "usual"     // what is as usual
	PartNoted     PartID = "noted"     // recorded without a comparison
	PartStory     PartID = "story"     // droppings, intake, given, changed, history
	PartUnchecked PartID = "unchecked" // what was not checked, and why
	PartAsk       PartID = "ask"       // come, advise, ring back; read the number back
	PartBasis     PartID = "basis"     // what the comparison rests on, and sources
)

// Line is one sentence of a report.
type Line struct {
	Text string `json:"text"`
	// Strong lines are underlined heavily on screen and in print.
	Strong bool `json:"strong,omitempty"`
	// Blank marks a line to be asked or filled in on the telephone, because nothing was entered.
	Blank bool `json:"blank,omitempty"`
}

// Part is one part of a report.
type Part struct {
	ID      PartID `json:"id"`
	Heading string `json:"heading"`
	Lines   []Line `json:"lines"`
}

// Report is a report in one language.
type Report struct {
	Lang  words.Lang `json:"lang"`
	Title string     `json:"title"`
	Parts []Part     `json:"parts"`
}
