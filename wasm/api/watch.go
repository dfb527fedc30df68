package api

import (
	"slices"
	"strconv"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/baseline/watch"
	"whorl.example/schema"
	"whorl.example/schema/pack"
	"whorl.example/vitals"
)

// NoSuchExam: the exam named is not among those given.
const NoSuchExam vitals.FaultCode = "unknown-exam"

// historyRequest holds a horse and its exams.
type historyRequest struct {
	spoken
	Horse vitals.Horse  `json:"horse"`
	Exams []vitals.Exam `json:"exams"`
}

// Check gives the faults of the horse and of its exams.
func (q *historyRequest) Check() vitals.Faults {
	faults := vitals.CheckHorse(q.Horse).At("/horse")
	for i, e := range q.Exams {
		faults = append(faults, vitals.CheckExam(e, q.Horse).At("/exams/"+strconv.Itoa(i))...)
	}
	return faults
}

// watchRequest asks for the course since an exam: First is its id.
type watchRequest struct {
	historyRequest
	First vitals.ID `json:"first"`
	// Pack is the clinic's file: its rules fire too, and the signs it asks for are named.
	Pack *pack.Pack `json:"pack,omitempty"`
}

// Check gives the faults of the record and of the clinic's file.
func (q *watchRequest) Check() vitals.Faults {
	faults := q.historyRequest.Check()
	if !slices.ContainsFunc(q.Exams, func(e vitals.Exam) bool { return e.ID == q.First }) {
		faults = append(faults, fault(NoSuchExam, "/first"))
	}
	if q.Pack != nil {
		faults = append(faults, q.Pack.Check().At("/pack")...)
	}
	return faults
}

// whyAsked: the clinic's file asks for the sign.
const whyAsked baseline.TellingWhy = "asked"

// watching is the course of each sign since the first exam, what to look at again, and
// the rules to ring that fired in the newest exam.
type watching struct {
	Series  []watched          `json:"series"`
	Telling []baseline.Telling `json:"telling"`
	Alarms  []vitals.Fired     `json:"alarms"`
	// Latest is the newest exam of the series.
	Latest vitals.ID `json:"latest"`
}

// watched is the course of one sign as data, as it is said, the direction first, and as
// it is drawn; a graded sign is not drawn.
type watched struct {
	watch.Watched
	Said    []string        `json:"said"`
	Drawing schema.Document `json:"drawing,omitempty"`
	Why     []string        `json:"why"`
}

func recheckSeries(q watchRequest) (any, error) {
	b, err := baseline.Of(q.Horse, q.Exams)
	if err != nil {
		return nil, err
	}
	out := watching{Series: []watched{}, Telling: []baseline.Telling{}, Alarms: []vitals.Fired{}, Latest: q.First}
	for _, w := range watch.From(b, q.First, q.Exams) {
		w = w.In(readIn(w.Sign, q.Exams))
		out.Series = append(out.Series, watched{w, w.Say(q.in()), schema.Document(report.Course(w, q.in())), w.Why(q.in())})
		for _, p := range w.Points {
			out.Latest = later(q.Exams, out.Latest, p.Exam)
		}
		for _, a := range w.Answers {
			out.Latest = later(q.Exams, out.Latest, a.Exam)
		}
	}
	for i, e := range q.Exams {
		if e.ID != q.First && e.ID != out.Latest {
			continue
		}
		c, err := b.Compare(e)
		if err != nil {
			return nil, within("/exams/"+strconv.Itoa(i), err)
		}
		if q.Pack != nil {
			c, _ = pack.Apply(*q.Pack, q.Horse, c)
		}
		if e.ID == q.First {
			out.Telling = append(out.Telling, c.Telling()...)
		}
		if e.ID == out.Latest {
			out.Alarms = append(out.Alarms, c.Alarms...)
		}
	}
	if q.Pack != nil {
		for _, sign := range q.Pack.Ask {
			if !slices.ContainsFunc(out.Telling, func(t baseline.Telling) bool { return t.Sign == sign }) {
				out.Telling = append(out.Telling, baseline.Telling{Sign: sign, Why: whyAsked})
			}
		}
	}
	return out, nil
}

// later is the later of two exams; the first where they are of one moment.
func later(exams []vitals.Exam, a, b vitals.ID) vitals.ID {
	find := func(id vitals.ID) vitals.Exam {
		i := slices.IndexFunc(exams, func(e vitals.Exam) bool { return e.ID == id })
		return exams[i]
	}
	if find(b).At.After(find(a).At) {
		return b
	}
	return a
}

// readIn is the unit in which a sign was last read, by the time of the exams.
func readIn(sign vitals.SignID, exams []vitals.Exam) (unit vitals.Unit) {
	var last vitals.Exam
	for _, e := range exams {
		for _, f := range e.Findings {
			if f.Sign == sign && f.Reading != nil && !e.At.Before(last.At) {
				unit, last = f.Reading.Unit, e
			}
		}
	}
	return unit
}
