package fingerprint

import (
	"slices"

	"whorl.example/baseline/internal/catalogue"
	"whorl.example/vitals"
)

func Exam(e *vitals.Exam) (p Hash) {
	p.Word(uint64(e.At.UnixNano()))
	p.Text(string(e.Status))
	p.Text(string(e.Wellness))
	p.Text(string(e.State.Condition))
	for _, c := range e.State.Also {
		p.Text(string(c))
	}
	p.Text(e.State.With)
	// What the rules ask for besides: a rule that fires decides whether the exam teaches.
	p.Text(string(e.Purpose))
	p.Bool(e.RecheckOf != "")
	p.Bool(e.Masked())
	p.Int(e.State.SinceMinutes)
	p.Time(e.State.Ended)
	if e.Air != nil {
		for _, r := range [...]*vitals.Reading{e.Air.Temperature, e.Air.Humidity} {
			if p.Bool(r != nil); r != nil {
				p.Decimal(r.Value)
				p.Text(string(r.Unit))
			}
		}
	}
	k, known := 0, false
	signs := catalogue.Signs()
	for i := range e.Findings {
		f := &e.Findings[i]
		if k, known = catalogue.IndexFrom(signs, k, f.Sign); known {
			p.Int(k)
		} else {
			p.Text(string(f.Sign))
		}
		p.finding(f)
	}
	return p
}

func (p *Hash) finding(f *vitals.Finding) {
	way := 0
	for i, there := range [...]bool{f.Count != nil, f.Taps != nil, f.Reading != nil, f.Timed != nil, f.Girth != nil, f.Minutes != 0 || f.Note != ""} {
		if there {
			way |= 1 << i
		}
	}
	p.Ints(way, len(f.Site), len(f.Absent), len(f.Chosen), len(f.Where))
	p.letters(string(f.Site))
	p.letters(string(f.Absent))
	if f.Minutes != 0 || f.Note != "" {
		p.Int(f.Minutes)
		p.Text(f.Note)
	}
	if c := f.Count; c != nil {
		p.Ints(c.Events, c.Seconds, len(c.Start))
		p.letters(string(c.Start))
	}
	if t := f.Taps; t != nil {
		p.Int(len(t.AtMS))
		for _, ms := range t.AtMS {
			p.Int(ms)
		}
	}
	if r := f.Reading; r != nil {
		p.Decimal(r.Value)
		p.Text(string(r.Unit))
		p.Text(string(r.Device))
		p.Text(r.Label)
	}
	if t := f.Timed; t != nil {
		p.Bool(t.Aloud)
		p.Int(len(t.CentiSeconds))
		for _, cs := range t.CentiSeconds {
			p.Int(cs)
		}
	}
	if g := f.Girth; g != nil {
		p.Decimal(g.Girth)
		p.Decimal(g.Length)
		p.Text(string(g.Unit))
	}
	for _, c := range f.Chosen {
		p.Text(string(c))
	}
	for _, w := range f.Where {
		p.Text(string(w))
	}
}

// Alarm takes in whatever decides whether a rule fires.
func (p *Hash) Alarm(a *vitals.Alarm) {
	p.Text(string(a.ID))
	p.Text(string(a.Urgency))
	p.Text(string(a.Then))
	p.Bool(a.Calm)
	p.Ints(len(a.Types), len(a.Stages), len(a.With), len(a.Unless), len(a.Any), a.Need)
	for _, t := range a.Types {
		p.Text(string(t))
	}
	for _, s := range a.Stages {
		p.Text(string(s))
	}
	for _, t := range slices.Concat([]vitals.Test{a.Test}, a.With, a.Unless, a.Any) {
		for _, s := range [...]string{string(t.Sign), string(t.Unit), string(t.Fact), string(t.Clock), t.Above.Decimal.String(), t.Below.Decimal.String()} {
			p.Text(s)
		}
		for _, y := range [...]bool{t.Above.Valid, t.Below.Valid, t.AndEqual, t.AllSites} {
			p.Bool(y)
		}
		p.Ints(len(t.Grades), len(t.Sites), t.AtLeast, t.From, t.To)
		for _, g := range t.Grades {
			p.Text(string(g))
		}
		for _, s := range t.Sites {
			p.Text(string(s))
		}
	}
}
