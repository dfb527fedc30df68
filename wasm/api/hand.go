package api

import (
	"errors"
	"strconv"
	"strings"
	"time"

	"whorl.example/baseline/report"
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
	faults := q.recordRequest.Check()
	scheme, rest, _ := strings.Cut(q.Page, "://")
	plain := !strings.ContainsFunc(q.Page, func(r rune) bool { return r <= ' ' || r >= 0x7f || r == '#' })
	if scheme != "https" && scheme != "http" || rest == "" || !plain || len(q.Page) > 200 {
		faults = append(faults, fault(BadPage, "/page"))
	}
	return faults
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
	b := learned(q.Horse, q.Exams)
	c, err := b.Compare(q.Exam)
	if err != nil {
		return nil, within("/exam", err)
	}
	sent := link.New(q.Horse, q.Exam, &c).With(q.watched(b))
	fragment, err := sent.Fragment()
	if err != nil {
		return nil, err
	}
	out := linked{Fragment: fragment, Link: q.Page + "#" + fragment}
	drawn, err := drawCode(sent, q.Page)
	if errors.Is(err, link.ErrTooLong) && sent.Course != nil {
		// The exam is worth more than where the rechecks went.
		sent.Course = nil
		out.Shorter = true
		drawn, err = drawCode(sent, q.Page)
	}
	if errors.Is(err, link.ErrTooLong) {
		out.Shorter = false
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	title := words.Say(q.in(), "code.title", "name", q.Horse.Name)
	out.Code = &code{drawn.Text, drawn.Version, drawn.Level, schema.Document(drawn.SVG(title))}
	return out, nil
}

func drawCode(sent link.Sent, page string) (link.Drawing, error) {
	dense, err := sent.Code()
	if err != nil {
		return link.Drawing{}, err
	}
	return link.Draw(page, dense)
}

// openRequest holds the fragment of an address, with or without '#'.
type openRequest struct {
	spoken
	Fragment schema.Document `json:"fragment"`
	// Pack is the file of the clinic that opens it, which adds its own ranges and rules.
	Pack *pack.Pack `json:"pack,omitempty"`
}

// Check gives the faults of the clinic's file.
func (q *openRequest) Check() vitals.Faults {
	if q.Pack == nil {
		return nil
	}
	return q.Pack.Check().At("/pack")
}

// opened is an exam that was sent, compared as the sender's history had it, and told.
type opened struct {
	Horse vitals.Horse `json:"horse"`
	Exam  vitals.Exam  `json:"exam"`
	compared
	told
	Watched []watched `json:"watched"`
}

func open(q openRequest) (any, error) {
	sent, err := link.Read(string(q.Fragment))
	for _, e := range []struct {
		err  error
		code vitals.FaultCode
	}{{link.ErrForeign, LinkForeign}, {link.ErrNewer, LinkNewer}, {link.ErrCut, LinkCut}, {link.ErrLarge, LinkLarge}} {
		if errors.Is(err, e.err) {
			return nil, vitals.Faults{fault(e.code, "/fragment")}
		}
	}
	if err != nil {
		return nil, err
	}
	c, err := sent.Comparison()
	if err != nil {
		return nil, within("/exam", err)
	}
	if q.Pack != nil {
		c, _ = pack.Apply(*q.Pack, sent.Horse, c)
	}
	in := report.Input{Horse: sent.Horse, Exam: sent.Exam, Comparison: c, Watched: asRead(sent.Watched(), sent.Exam)}
	out := opened{sent.Horse, sent.Exam, present(sent.Horse, sent.Exam, c, q.in()), telling(in, q.Pack, q.in()), []watched{}}
	for _, w := range in.Watched {
		for _, x := range c.Signs {
			if x.Sign == w.Sign && (w.Site == "" || x.Site == w.Site) && x.Own != nil && w.Unit == x.Measure.Unit {
				w.Own = x.Own
			}
		}
		out.Watched = append(out.Watched, watched{w, w.Say(q.in()), schema.Document(report.Course(w, q.in()))})
	}
	return out, nil
}

// horseRequest holds a horse and its exams.
type horseRequest struct {
	spoken
	Horse vitals.Horse  `json:"horse"`
	Exams []vitals.Exam `json:"exams"`
}

// Check gives the faults of the horse and of its exams.
func (q *horseRequest) Check() vitals.Faults {
	faults := vitals.CheckHorse(q.Horse).At("/horse")
	for i, e := range q.Exams {
		faults = append(faults, vitals.CheckExam(e, q.Horse).At("/exams/"+strconv.Itoa(i))...)
	}
	return faults
}

func table(q horseRequest) (any, error) {
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
