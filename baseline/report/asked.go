package report

import (
	"slices"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// asked tells what a clinic asked and the handler answered, as far as there is room; the rest is told whole in [PartWords]. What
// nobody answered is left open, to be asked.
func (c *caller) asked(l level) []Line {
	var lines []Line
	room := l.list
	for _, a := range c.in.Exam.Asked {
		line := Line{Text: Question(c.lang, a), Blank: a.Answer == ""}
		if !line.Blank {
			if room -= aloud(line.Text); room < 0 {
				if !slices.Contains(c.words, line) {
					c.words = append(c.words, line)
				}
				continue
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// Question tells a question of a clinic as its own words, and the answer, or that there is none. Neither leaves its quotation marks.
func Question(lang words.Lang, a vitals.ClinicQuestion) string {
	said := func(key string, args ...string) string { return words.Say(lang, key, args...) }
	quoted := func(text string) string { return words.Inside(clean(text)) }
	asks := said("pack.question", "clinic", bare(a.By), "text", quoted(a.Text))
	switch {
	case a.Answer == "":
		return asks + " " + said("pack.unanswered")
	case a.Kind == vitals.YesNo:
		return asks + " " + said("pack.answer."+a.Answer)
	}
	return asks + " " + said("pack.answer", "answer", quoted(a.Answer))
}
