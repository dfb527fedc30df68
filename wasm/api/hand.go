package api

import (
	"errors"
	"strconv"
	"strings"
	"time"

	"whorl.example/baseline/report"
	"whorl.example/baseline/watch"
	"whorl.example/schema"
	"whorl.example/schema/calendar"
	"whorl.example/schema/link"
	"whorl.example/schema/pack"
	"whorl.example/schema/sheet"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// Codes of the faults of handing over.
const (
	LinkForeign vitals.FaultCode = "link-foreign"
	LinkNewer   vitals.FaultCode = "link-newer"
	LinkCut     vitals.FaultCode = "link-cut"
	LinkLarge   vitals.FaultCode = "link-large"
	BadPage     vitals.FaultCode = "bad-page" // no address of a page
	BadEvent    vitals.FaultCode = "bad-event"
)

// linkRequest asks for the link and the code of an exam. Page is the address at which
// they open, without '#'.
type linkRequest struct {
	recordRequest
	Page string `json:"page"`
}

// Check gives the faults of the record and of the address.
func (q *linkRequest) Check() vitals.Faults {
	return append(q.recordRequest.Check(), checkPage(q.Page)...)
}

func checkPage(page string) vitals.Faults {
	scheme, rest, _ := strings.Cut(page, "://")
	plain := !strings.ContainsFunc(page, func(r rune) bool { return r <= ' ' || r >= 0x7f || r == '#' })
	if scheme != "https" && scheme != "http" || rest == "" || !plain || len(page) > 200 {
		return vitals.Faults{fault(BadPage, "/page")}
	}
	return nil
}

// linked is the link of an exam, and its code unless it is too long for one.
type linked struct {
	Fragment string `json:"fragment"`
	Link     string `json:"link"`
	Code     *code  `json:"code,omitempty"`
	// Shorter: the code leaves out where the rechecks went, for which it has no room.
	Shorter bool `json:"shorter,omitempty"`
}

type code struct {
	Text    string          `json:"text"`
	Version int             `json:"version"`
	Level   string          `json:"level"`
	SVG     schema.Document `json:"svg"`
}

func handOver(q linkRequest) (any, error) {
	// What the clinic's file adds does not travel: whoever opens the link has a file of their own, or none.
	b, err := q.learned(q.Horse, q.Exams)
	if err != nil {
		return nil, err
	}
	c, err := b.Compare(q.Exam)
	if err != nil {
		return nil, within("/exam", err)
	}
	sent := link.New(q.Horse, q.Exam.Carrying(q.Exams), &c).With(watch.Of(b, q.Exam, q.Exams))
	if came, ok := q.received(); ok {
		sent = came // sent on, it is what it was
	}
	fragment, err := sent.Fragment()
	if errors.Is(err, link.ErrLarge) {
		err = vitals.Faults{fault(LinkLarge, "/exam")}
	}
	if err != nil {
		return nil, err
	}
	out := linked{Fragment: fragment, Link: q.Page + "#" + fragment}
	out.Code, out.Shorter, err = drawCode(sent, q.Page, q.in())
	return out, err
}

// drawCode gives the code of what is sent; nil where it is too long for one. Shorter: it
// has no room for where the rechecks went. The exam is worth more.
func drawCode(sent link.Sent, page string, lang words.Lang) (drawn *code, shorter bool, err error) {
	for {
		dense, err := sent.Code()
		if err != nil {
			return nil, false, err
		}
		d, err := link.Draw(page, dense)
		switch {
		case err == nil:
			title := words.Say(lang, "code.title", "name", sent.Horse.Name)
			return &code{d.Text, d.Version, d.Level, schema.Document(d.SVG(title))}, shorter, nil
		case !errors.Is(err, link.ErrTooLong):
			return nil, false, err
		}
		less, more := sent.Shorter()
		if !more {
			return nil, false, nil
		}
		sent, shorter = less, less.Course == nil
	}
}

// openRequest holds the fragment of an address, with or without '#'.
type openRequest struct {
	spoken
	Fragment schema.Document `json:"fragment"`
	// Pack is the file of the clinic that opens it, which adds its own ranges and rules.
	Pack *pack.Pack `json:"pack,omitempty"`
	// Page is the address at which a code opens, for sending it on; none: no code is asked for.
	Page string `json:"page,omitempty"`
}

// Check gives the faults of the clinic's file and of the address.
func (q *openRequest) Check() vitals.Faults {
	faults := checkPack(q.Pack)
	if q.Page != "" {
		faults = append(faults, checkPage(q.Page)...)
	}
	return faults
}

// opened is an exam that was sent, compared as the sender's history had it, and told.
type opened struct {
	Horse vitals.Horse `json:"horse"`
	Exam  vitals.Exam  `json:"exam"`
	compared
	told
	Watched []watched `json:"watched"`
	Code    *code     `json:"code,omitempty"`
}

// received is what a report of a link tells of.
func received(fragment schema.Document, p *pack.Pack) (report.Input, link.Sent, error) {
	sent, err := link.Read(string(fragment))
	if err != nil {
		return report.Input{}, sent, unopened(err)
	}
	c, err := sent.Comparison()
	if err != nil {
		return report.Input{}, sent, within("/exam", err)
	}
	if p != nil {
		c, _ = pack.Apply(*p, sent.Horse, c)
	}
	return report.Input{Horse: sent.Horse, Exam: sent.Exam, Comparison: c, Watched: asRead(sent.Watched(), sent.Exam)}, sent, nil
}

// unopened is why a fragment does not open, as faults.
func unopened(err error) error {
	for _, e := range []struct {
		err  error
		code vitals.FaultCode
	}{{link.ErrForeign, LinkForeign}, {link.ErrNewer, LinkNewer}, {link.ErrCut, LinkCut}, {link.ErrLarge, LinkLarge}} {
		if errors.Is(err, e.err) {
			return vitals.Faults{fault(e.code, "/fragment")}
		}
	}
	return err
}

func open(q openRequest) (any, error) {
	in, sent, err := received(q.Fragment, q.Pack)
	if err != nil {
		return nil, err
	}
	c := in.Comparison
	out := opened{in.Horse, in.Exam, present(in.Horse, in.Exam, c, q.in()), telling(in, q.Pack, q.in()), []watched{}, nil}
	if q.Page != "" {
		if out.Code, _, err = drawCode(sent, q.Page, q.in()); err != nil {
			return nil, err
		}
	}
	for _, w := range in.Watched {
		for _, x := range c.Signs {
			if x.Sign == w.Sign && (w.Site == "" || x.Site == w.Site) && x.Measure != nil && x.Own != nil && w.Unit == x.Measure.Unit {
				w.Own = x.Own
			}
		}
		out.Watched = append(out.Watched, watched{w, w.Say(q.in()), schema.Document(report.Course(w, q.in())), w.Why(q.in())})
	}
	return out, nil
}

// answerRequest asks for the link and the code of an answer. Page is the address at which they open.
type answerRequest struct {
	spoken
	Answer link.Answer `json:"answer"`
	Page   string      `json:"page"`
}

// Check gives the faults of the answer and of the address.
func (q *answerRequest) Check() vitals.Faults {
	return append(q.Answer.Check().At("/answer"), checkPage(q.Page)...)
}

func answer(q answerRequest) (any, error) {
	fragment, err := q.Answer.Fragment()
	if err != nil {
		return nil, err
	}
	dense, err := q.Answer.Code()
	if err != nil {
		return nil, err
	}
	out := linked{Fragment: fragment, Link: q.Page + "#" + fragment}
	if d, err := link.Draw(q.Page, dense); err == nil {
		out.Code = &code{d.Text, d.Version, d.Level, schema.Document(d.SVG(words.Say(q.in(), "code.answer")))}
	}
	return out, nil
}

// answeredRequest holds the fragment of an answer, with or without '#'.
type answeredRequest struct {
	spoken
	Fragment schema.Document `json:"fragment"`
}

func answered(q answeredRequest) (any, error) {
	a, err := link.ReadAnswer(string(q.Fragment))
	if err != nil {
		return nil, unopened(err)
	}
	return struct {
		Answer link.Answer `json:"answer"`
	}{a}, nil
}

func table(q historyRequest) (any, error) {
	return document{schema.Document(sheet.Write(q.Horse, q.Exams, q.in()))}, nil
}

// calendarRequest holds entries for the calendar of a phone; stamp is the time of writing.
type calendarRequest struct {
	spoken
	Stamp  time.Time `json:"stamp"`
	Events []event   `json:"events"`
}

// event is an entry; RemindMinutes before Start the phone reminds, if it is there.
type event struct {
	UID           vitals.ID `json:"uid"`
	Start         time.Time `json:"start"`
	Minutes       int       `json:"minutes,omitempty"`
	EveryDays     int       `json:"everyDays,omitempty"`
	Times         int       `json:"times,omitempty"`
	Summary       string    `json:"summary"`
	Description   string    `json:"description,omitempty"`
	RemindMinutes *int      `json:"remindMinutes,omitempty"`
}

// Check gives a fault for each entry that no calendar could hold.
func (q *calendarRequest) Check() vitals.Faults {
	var faults vitals.Faults
	for i, e := range q.Events {
		fits := func(n, most int) bool { return n >= 0 && n <= most }
		remind := e.RemindMinutes == nil || fits(*e.RemindMinutes, 40_320)
		if !fits(e.Minutes, 1440) || !fits(e.EveryDays, 366) || !fits(e.Times, 366) || !remind || strings.TrimSpace(e.Summary) == "" {
			faults = append(faults, fault(BadEvent, "/events/"+strconv.Itoa(i)))
		}
	}
	return faults
}

func diary(q calendarRequest) (any, error) {
	var events []calendar.Event
	for _, e := range q.Events {
		remind := -1
		if e.RemindMinutes != nil {
			remind = *e.RemindMinutes
		}
		events = append(events, calendar.Event{UID: string(e.UID), Start: e.Start, Minutes: e.Minutes, EveryDays: e.EveryDays,
			Times: e.Times, Summary: e.Summary, Description: e.Description, RemindMinutes: remind})
	}
	return document{schema.Document(calendar.Write(events, q.Stamp))}, nil
}

// mergeRequest holds two barn files, as data.
type mergeRequest struct {
	spoken
	A schema.File `json:"a"`
	B schema.File `json:"b"`
}

// Check gives the faults of both.
func (q *mergeRequest) Check() vitals.Faults {
	return append(q.A.Check().At("/a"), q.B.Check().At("/b")...)
}

// merged is one file of both, and the conflicts that neither had.
type merged struct {
	File  schema.File       `json:"file"`
	Fresh []schema.Conflict `json:"fresh"`
}

func merge(q mergeRequest) (any, error) {
	file, fresh, err := schema.Merge(q.A, q.B)
	if err != nil {
		return nil, err
	}
	return merged{file, fresh}, file.Check().Err()
}
