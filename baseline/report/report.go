// Package report turns a comparison into what is told: the call report as data and as
// text in every language of whorl.example/vitals/words, and the drawings that go with it
// (the ruler of a sign, the whorl of a horse) as SVG.
//
// For most uses, [Call] with an exam and its comparison, then [Report.Text] for a page to
// print or [Report.Parts] for a screen. [Said] has the sentences of one sign, [Heading] the
// first words of a result. The order of the parts is fixed, the words may change.
package report

import (
	"slices"
	"strings"
	"unicode/utf8"

	"whorl.example/baseline"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// PartID names a part of the call report.
type PartID string

// The parts, in the order in which they are told. The order follows the practice of
// telephone triage: the number first in case the call drops, the one sentence, danger,
// then the animal and the findings. [PartBasis] is for reading only.
const (
	PartWho       PartID = "who"       // call-back number, name, horse, who it is, where it stands
	PartWhat      PartID = "what"      // the one sentence: what, since when, which way it goes
	PartDanger    PartID = "danger"    // how soon: what says to call now, or today; what was given
	PartAnimal    PartID = "animal"    // the state in which it was looked at
	PartDiffers   PartID = "differs"   // what is not as usual: number, how taken, usual, how sure
	PartWatch     PartID = "watch"     // where the rechecks go
	PartNoted     PartID = "noted"     // recorded without a comparison
	PartUsual     PartID = "usual"     // what is as usual
	PartStory     PartID = "story"     // droppings, intake, changed, history
	PartUnchecked PartID = "unchecked" // what was not checked, and why
	PartAsk       PartID = "ask"       // come, advise, ring back; read the number back
	PartWords     PartID = "words"     // what somebody told in words that is too long for where it belongs, whole
	PartBasis     PartID = "basis"     // every finding in full, what it rests on, and sources
)

// Parts lists the parts in the order in which they are told.
func Parts() []PartID { return slices.Clone(allParts) }

var allParts = []PartID{PartWho, PartWhat, PartDanger, PartAnimal, PartDiffers, PartWatch, PartNoted,
	PartUsual, PartStory, PartUnchecked, PartAsk, PartWords, PartBasis}

// Aloud reports whether the part is read aloud on the telephone.
func (p PartID) Aloud() bool { return p != PartBasis }

// Line is one line of a report.
type Line struct {
	Text string `json:"text"`
	// Strong lines are underlined heavily on screen and in print.
	Strong bool `json:"strong,omitempty"`
	// Blank marks a line to be asked or filled in on the telephone, because nothing was entered.
	Blank bool `json:"blank,omitempty"`
}

// Part is one part of a report. It has at least one line.
type Part struct {
	ID      PartID `json:"id"`
	Heading string `json:"heading"`
	Lines   []Line `json:"lines"`
}

// Report is a report in one language.
type Report struct {
	Lang  words.Lang `json:"lang"`
	Title string     `json:"title"`
	// First is what is done before the call, and is not told.
	First []string `json:"first,omitempty"`
	Parts []Part   `json:"parts"`
	// Message is the call as a short text to send: at most [MessageLetters], unless what is never cut is longer.
	Message string `json:"message"`
}

// Input is what a report tells of: an exam of a horse, and its comparison with the
// horse's own normal.
type Input struct {
	Horse      vitals.Horse
	Exam       vitals.Exam
	Comparison baseline.Comparison
	// Watched is the direction of the rechecks of which the exam is the last; nil where it is none.
	Watched []watch.Watched
	// Earlier are the exams before it; from the first of its rechecks come onset, number, place and what was given.
	Earlier []vitals.Exam
}

// columns is the width of the text report: it fits a page of 12 point type with margins
// and the body of an electronic letter.
const columns = 72

// Text gives the report as plain text for print, lines of at most 72 columns (a longer
// word keeps its line). Strong lines begin with "* ", blank ones end in a rule to write on.
func (r Report) Text() string {
	var b strings.Builder
	wrap(&b, "", Line{Text: r.Title})
	b.WriteString(strings.Repeat("=", min(columns, utf8.RuneCountInString(r.Title))) + "\n")
	for _, act := range r.First {
		wrap(&b, "* ", Line{Text: act})
	}
	for _, part := range r.Parts {
		b.WriteString("\n" + strings.ToUpper(part.Heading) + "\n")
		for _, line := range part.Lines {
			lead := "  "
			if line.Strong {
				lead = "* "
			}
			wrap(&b, lead, line)
		}
	}
	return b.String()
}

// wrap writes one line broken at spaces, later lines indented under the first.
func wrap(b *strings.Builder, lead string, line Line) {
	b.WriteString(lead)
	at := utf8.RuneCountInString(lead)
	for i, word := range strings.Fields(line.Text) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case at+1+n > columns:
			b.WriteString("\n    ")
			at = 4
		default:
			b.WriteString(" ")
			at++
		}
		b.WriteString(word)
		at += n
	}
	if line.Blank {
		if at > columns-14 {
			b.WriteString("\n   ")
			at = 3
		}
		b.WriteString(" " + strings.Repeat("_", columns-at-1))
	}
	b.WriteString("\n")
}
