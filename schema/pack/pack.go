// Package pack reads the file that a clinic lays beside the page: its name and numbers,
// its languages and units, its own ranges and call-now thresholds with who set them, the
// first questions in its own words, and the signs that it asks for.
//
// A pack adds. It cannot take away a published threshold, nor a published range: what it
// adds is marked as the clinic's and told as a warning, so that nobody takes it for what is published.
package pack

import (
	"bytes"
	"errors"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"whorl.example/schema"
	"whorl.example/schema/internal/lex"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Kind and Format tell a pack from any other JSON file.
const (
	Kind   = "whorl-pack"
	Format = 1
)

// SetByClinic is the mark of a figure of a pack.
const SetByClinic vitals.Mark = "clinic"

// Codes of the faults of a pack, besides those of package schema and package vitals.
const (
	NotPack  vitals.FaultCode = "not-pack"
	BadPage  vitals.FaultCode = "bad-page"   // no address that begins with https://, or one with '#'
	BadPhone vitals.FaultCode = "bad-phone"  // not one number that can be dialled
	BadLimit vitals.FaultCode = "pack-limit" // no limit, or low above high, or grades of a measured sign
	NoAsking vitals.FaultCode = "pack-asks"  // a question that does not end as one, or that names an amount to give
	NoID     vitals.FaultCode = "pack-id"    // a question of several languages without what holds them together
)

// Pack is a clinic's file.
type Pack struct {
	Kind   string `json:"kind"`
	Format int    `json:"format"`
	Clinic Clinic `json:"clinic"`
	// Langs are offered in this order, Units asked for first.
	Langs      []words.Lang  `json:"langs,omitempty"`
	Units      []vitals.Unit `json:"units,omitempty"`
	Ranges     []Range       `json:"ranges,omitempty"`
	Thresholds []Threshold   `json:"thresholds,omitempty"`
	// Questions are asked in the clinic's words and marked as such, each where it belongs.
	Questions []Question `json:"questions,omitempty"`
	// Ask are the signs that the clinic wants looked at for every call.
	Ask []vitals.SignID `json:"ask,omitempty"`
}

// Clinic is who is rung.
type Clinic struct {
	Name    string   `json:"name"`
	Numbers []Number `json:"numbers"`
	// Page is the address of the clinic's copy of the page, at which links open; none: the
	// copy that made the link.
	Page string `json:"page,omitempty"`
}

// Number is a telephone number and when it is answered, as free text.
type Number struct {
	Phone string `json:"phone"`
	Hours string `json:"hours"`
}

// Question is a question of the clinic's in one language.
type Question struct {
	// ID is the same in every language; a file that asks in several needs it.
	ID   vitals.ID  `json:"id,omitempty"`
	Lang words.Lang `json:"lang"`
	Text string     `json:"text"`
	// Answer is how it is answered; none: in words.
	Answer vitals.AnswerKind `json:"answer,omitempty"`
	// At is the sign at whose step it is asked; none: with the story.
	At vitals.SignID `json:"at,omitempty"`
}

// Range is what the clinic counts as usual for a kind of animal.
type Range struct {
	Sign vitals.SignID `json:"sign"`
	vitals.Group
	Low  *decimal.Decimal `json:"low,omitempty"`
	High *decimal.Decimal `json:"high,omitempty"`
	Unit vitals.Unit      `json:"unit"`
	// SetBy is who answers for the figure.
	SetBy string `json:"setBy"`
}

// Threshold is a rule of the clinic to ring, beside the published ones. Exactly one of
// Above, Below and Grades; Above and Below fire beyond the limit, not at it.
type Threshold struct {
	ID   vitals.AlarmID `json:"id"`
	Sign vitals.SignID  `json:"sign"`
	vitals.Group
	Urgency vitals.Urgency   `json:"urgency"`
	Above   *decimal.Decimal `json:"above,omitempty"`
	Below   *decimal.Decimal `json:"below,omitempty"`
	Unit    vitals.Unit      `json:"unit,omitempty"`
	Grades  []vitals.GradeID `json:"grades,omitempty"`
	SetBy   string           `json:"setBy"`
}

// mark is what an editor may have set before the text: the byte-order mark.
var mark = []byte("\ufeff")

// Decode reads a pack strictly. The error is a [vitals.Faults] with every fault; [Lines]
// says on which line each stands.
func Decode(data []byte) (Pack, error) {
	var p Pack
	if err := schema.Unmarshal(bytes.TrimPrefix(data, mark), &p); err != nil {
		if faults, ok := errors.AsType[vitals.Faults](err); ok {
			err = suggest(faults)
		}
		return Pack{}, err
	}
	return p, nil
}

// Lines gives the line, from 1, on which each fault stands in the file, so that whoever
// edits it by hand finds the place. What is missing has the line where its object begins.
func Lines(data []byte, faults vitals.Faults) []int {
	var root place
	for _, f := range faults {
		root.at(f.Path)
	}
	data = bytes.TrimPrefix(data, mark)
	l := liner{in: lex.NewReader(data), data: data, line: 1}
	l.walk(&root)
	root.line = 1
	lines := make([]int, len(faults))
	for i, f := range faults {
		for path := f.Path; lines[i] == 0; path = lex.Parent(path) {
			lines[i] = root.at(path).line
		}
		for j := 0; j+1 < len(f.Args); j += 2 {
			if n, err := strconv.Atoi(f.Args[j+1]); f.Code == schema.BadJSON && f.Args[j] == "line" && err == nil {
				lines[i] = n
			}
		}
	}
	return lines
}

// place is a value of the file that a fault stands at, or in which another is.
type place struct {
	line  int // where it begins, from 1; 0 if it is not there
	under map[string]*place
}

// at gives the place of a JSON Pointer.
func (p *place) at(path string) *place {
	for name := range strings.SplitSeq(strings.TrimPrefix(path, "/"), "/") {
		if path == "" {
			break
		}
		if p.under == nil {
			p.under = map[string]*place{}
		}
		if p.under[name] == nil {
			p.under[name] = &place{}
		}
		p = p.under[name]
	}
	return p
}

// liner finds the lines of places in one pass over the file.
type liner struct {
	in   *lex.Reader
	data []byte
	at   int // the line is that of this byte
	line int
}

// next reads a token; false at the end, or where there is no JSON from here on.
func (l *liner) next() (token []byte, ok bool) {
	token, err := l.in.Next()
	if err != nil {
		return nil, false
	}
	l.line += bytes.Count(l.data[l.at:l.in.Offset()], []byte{'\n'})
	l.at = l.in.Offset()
	return token, true
}

// walk reads a value of which a place is wanted, nil for none; false when it cannot go on.
func (l *liner) walk(p *place) bool {
	token, ok := l.next()
	if !ok {
		return false
	}
	if p != nil && p.line == 0 {
		p.line = l.line
	}
	depth := l.in.Depth()
	switch {
	case token[0] == '{' && p != nil:
		for {
			token, ok := l.next()
			if !ok || token[0] == '}' {
				return ok
			}
			name, _ := lex.Unquote(token)
			below := p.under[strings.TrimPrefix(string(lex.AppendPointer(nil, name)), "/")]
			if below != nil && below.line == 0 {
				below.line = l.line // a member begins at its name
			}
			if !l.walk(below) {
				return false
			}
		}
	case token[0] == '[' && p != nil:
		for i := 0; l.in.Peek() != lex.EndList; i++ {
			if !l.walk(p.under[strconv.Itoa(i)]) {
				return false
			}
		}
		_, ok = l.next()
		return ok
	case token[0] == '{' || token[0] == '[':
		for l.in.Depth() >= depth {
			if _, ok := l.next(); !ok {
				return false
			}
		}
	}
	return true
}

// Check gives what is wrong with the pack beyond its structure.
func (p *Pack) Check() vitals.Faults {
	var c check
	switch {
	case p.Kind != Kind:
		c.add(NotPack, "/kind")
		return c.faults
	case p.Format > Format:
		c.add(schema.NewerFormat, "/format", "format", strconv.Itoa(p.Format), "known", strconv.Itoa(Format))
		return c.faults
	case p.Format != Format:
		c.add(schema.BadFormat, "/format", "known", strconv.Itoa(Format))
		return c.faults
	}
	c.line("/clinic/name", p.Clinic.Name, vitals.MaxName)
	if len(p.Clinic.Numbers) == 0 {
		c.add(vitals.FaultMissingText, "/clinic/numbers")
	}
	for i, n := range p.Clinic.Numbers {
		c.phone("/clinic/numbers/"+strconv.Itoa(i)+"/phone", n.Phone)
	}
	if page := p.Clinic.Page; page != "" && (!strings.HasPrefix(page, "https://") || strings.ContainsAny(page, "# \"<>\n") || len(page) > 200) {
		c.add(BadPage, "/clinic/page")
	}
	for i, l := range p.Langs {
		c.lang("/langs/"+strconv.Itoa(i), l)
	}
	for i, u := range p.Units {
		if !slices.Contains(vitals.Units(), u) {
			c.add(vitals.FaultWrongUnit, "/units/"+strconv.Itoa(i), "unit", string(u), near, join(vitals.Units()))
		}
	}
	for i, r := range p.Ranges {
		at := "/ranges/" + strconv.Itoa(i)
		c.text(at+"/setBy", r.SetBy)
		c.group(at, r.Group)
		if sign, ok := c.sign(at+"/sign", r.Sign); ok {
			c.unit(at+"/unit", r.Unit, sign)
			c.limit(at+"/low", r.Low, r.Unit, sign)
			c.limit(at+"/high", r.High, r.Unit, sign)
			if !sign.Kind.Measured() || r.Low == nil && r.High == nil || r.Low != nil && r.High != nil && r.Low.Cmp(*r.High) >= 0 {
				c.add(BadLimit, at)
			}
		}
	}
	seen := map[vitals.AlarmID]bool{}
	for _, a := range vitals.Alarms() {
		seen[a.ID] = true // a rule of the clinic must not pass for a published one
	}
	for i, t := range p.Thresholds {
		at := "/thresholds/" + strconv.Itoa(i)
		if seen[t.ID] {
			c.add(schema.DuplicateID, at+"/id", "id", string(t.ID))
		}
		seen[t.ID] = true
		c.threshold(at, t)
	}
	c.questions(p.Questions)
	for i, s := range p.Ask {
		c.sign("/ask/"+strconv.Itoa(i), s)
	}
	return c.faults
}

type check struct {
	faults vitals.Faults
	signs  []vitals.SignID // once one is asked for that does not exist
}

// all are the signs that can be named.
func (c *check) all() []vitals.SignID {
	if c.signs == nil {
		for _, s := range vitals.Catalogue() {
			c.signs = append(c.signs, s.ID)
		}
	}
	return c.signs
}

func answers(sign vitals.Sign) (ids []vitals.GradeID) {
	for _, g := range sign.Grades {
		ids = append(ids, g.ID)
	}
	return ids
}

func (c *check) add(code vitals.FaultCode, path string, args ...string) {
	if len(c.faults) == 5*schema.MaxFaults { // nobody reads so many
		return
	}
	c.faults = append(c.faults, vitals.Fault{Code: code, Path: path, Args: args,
		Sentence: words.Fault(words.English, string(code), args...)})
}

func (c *check) text(path, text string) {
	if strings.TrimSpace(text) == "" {
		c.add(vitals.FaultMissingText, path)
	}
}

// line asks for a text of one line, since an exam holds it as one.
func (c *check) line(path, text string, most int) bool {
	c.text(path, text)
	if utf8.RuneCountInString(text) > most {
		c.add(vitals.FaultTooLong, path, "most", strconv.Itoa(most))
		return false
	}
	if strings.ContainsFunc(text, unicode.IsControl) {
		c.add(vitals.FaultControl, path)
		return false
	}
	return strings.TrimSpace(text) != ""
}

func (c *check) lang(path string, l words.Lang) {
	if !words.Known(l) {
		c.add("unknown-lang", path, "lang", string(l), near, join(words.Langs()))
	}
}

func (c *check) sign(path string, id vitals.SignID) (vitals.Sign, bool) {
	sign, ok := vitals.Lookup(id)
	if !ok {
		c.add(vitals.FaultUnknownSign, path, "sign", string(id), near, nearest(string(id), c.all()))
	}
	return sign, ok
}

func (c *check) unit(path string, u vitals.Unit, sign vitals.Sign) {
	if sign.Kind.Measured() && !slices.Contains(vitals.UnitsOf(sign.Unit), u) {
		c.add(vitals.FaultWrongUnit, path, "unit", string(u), near, join(vitals.UnitsOf(sign.Unit)))
	}
}

func (c *check) group(at string, g vitals.Group) {
	for i, t := range g.Types {
		if !slices.Contains(vitals.Types(), t) {
			c.add(vitals.FaultUnknownAnswer, at+"/types/"+strconv.Itoa(i), "name", string(t), near, nearest(string(t), vitals.Types()))
		}
	}
	for i, s := range g.Stages {
		if !slices.Contains(vitals.Stages(), s) {
			c.add(vitals.FaultUnknownAnswer, at+"/stages/"+strconv.Itoa(i), "name", string(s), near, nearest(string(s), vitals.Stages()))
		}
	}
}

func (c *check) threshold(at string, t Threshold) {
	c.text(at+"/setBy", t.SetBy)
	c.group(at, t.Group)
	if t.Urgency != vitals.RingNow && t.Urgency != vitals.RingSoon {
		c.add(vitals.FaultUnknownAnswer, at+"/urgency", "name", string(t.Urgency), near, join([]vitals.Urgency{vitals.RingNow, vitals.RingSoon}))
	}
	sign, ok := c.sign(at+"/sign", t.Sign)
	if !ok {
		return
	}
	limits := 0
	for _, there := range []bool{t.Above != nil, t.Below != nil, len(t.Grades) > 0} {
		if there {
			limits++
		}
	}
	if limits != 1 || sign.Kind.Measured() == (len(t.Grades) > 0) {
		c.add(BadLimit, at)
		return
	}
	c.unit(at+"/unit", t.Unit, sign)
	c.limit(at+"/above", t.Above, t.Unit, sign)
	c.limit(at+"/below", t.Below, t.Unit, sign)
	for i, g := range t.Grades {
		if _, known := sign.Grade(g); !known {
			c.add(vitals.FaultUnknownGrade, at+"/grades/"+strconv.Itoa(i), "grade", string(g), near, nearest(string(g), answers(sign)))
		}
	}
}
