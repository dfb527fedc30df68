package herd

import (
	"whorl.example/baseline"
	"whorl.example/vitals"
)

// Told is what a comparison says of one sign, in few columns: a comparison whole is some thousands of bytes, most of them the reasons,
// which are worked out again for the exams that somebody looks at. A sign without a row was not checked.
type Told struct {
	Horse     vitals.ID          `json:"horse"`
	Exam      vitals.ID          `json:"exam"`
	Sign      vitals.SignID      `json:"sign"`
	Site      vitals.SiteID      `json:"site,omitempty"`
	Statement baseline.Statement `json:"statement"`
	// Exams is how many of the horse's own exams it rests on.
	Exams int `json:"exams"`
	// Tail is the probability of a reading as far out on the same side, or farther, on a well day.
	Tail float64 `json:"tail"`
	// Alarms is how many rules on when to call fired in the whole exam.
	Alarms int `json:"alarms"`
}

// Narrow gives the rows of a comparison, in the order of its signs.
func Narrow(c baseline.Comparison) []Told {
	rows := make([]Told, 0, len(c.Signs))
	for _, s := range c.Signs {
		rows = append(rows, Told{c.Horse, c.Exam, s.Sign, s.Site, s.Statement, s.Basis.Exams, s.Tail, len(c.Alarms)})
	}
	return rows
}
