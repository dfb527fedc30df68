package pack

import (
	"slices"
	"strings"
	"unicode"

	"whorl.example/baseline/report"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Into gives a report with what the clinic wants told: its questions in its own
// words and marked as such, to be answered, but for those that the exam holds, which the report tells already; and the signs that it
// asks for and that have no value. Nothing is taken
// out of the report. Questions are those of the report's language, or all where there are none of it.
func (p Pack) Into(r report.Report, in report.Input) report.Report {
	r.Parts = slices.Clone(r.Parts)
	var asked []report.Line
	has := false
	for _, own := range []bool{true, false} {
		for _, q := range p.Questions {
			if (q.Lang == r.Lang) == own {
				has = true
				if a := p.asks(q); !told(in.Exam.Asked, a) {
					asked = append(asked, report.Line{Blank: true, Text: report.Question(r.Lang, a)})
				}
			}
		}
		if has {
			break
		}
	}
	put(&r, report.PartStory, asked)
	var names []string
	for _, id := range p.missing(in) {
		key := "sign." + string(id)
		if words.Has(words.English, key+".say") {
			key += ".say"
		}
		names = append(names, words.Say(r.Lang, key))
	}
	if len(names) > 0 {
		put(&r, report.PartUnchecked, []report.Line{{
			Text: words.Say(r.Lang, "pack.asks", "clinic", line(p.Clinic.Name), "list", strings.Join(names, ", ")), Strong: true}})
	}
	return r
}

// asks is a question as an exam holds it.
func (p Pack) asks(q Question) vitals.ClinicQuestion {
	return vitals.ClinicQuestion{By: p.Clinic.Name, Text: q.Text, ID: q.ID, Kind: q.Answer}
}

// told reports whether a question is among those that an exam holds: of one clinic the same words, or the same one in
// another language.
func told(list []vitals.ClinicQuestion, a vitals.ClinicQuestion) bool {
	return slices.ContainsFunc(list, func(o vitals.ClinicQuestion) bool {
		return line(o.By) == line(a.By) && (o.ID != "" && o.ID == a.ID || line(o.Text) == line(a.Text))
	})
}

// put sets lines before those of a part.
func put(r *report.Report, id report.PartID, lines []report.Line) {
	for i := range r.Parts {
		if part := &r.Parts[i]; part.ID == id {
			part.Lines = append(lines, part.Lines...)
		}
	}
}

// missing are the signs that the clinic asks for and of which the exam has no value.
func (p Pack) missing(in report.Input) []vitals.SignID {
	var out []vitals.SignID
	for _, id := range p.Ask {
		has := slices.ContainsFunc(in.Exam.Findings, func(f vitals.Finding) bool { return f.Sign == id && f.Absent == "" })
		if !has && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}

// line makes a text of a file one line that is read in one direction.
func line(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), words.Turns(r):
			return -1
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}
