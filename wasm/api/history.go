package api

import (
	"time"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/vitals"
)

// signRequest asks for what a record holds of one sign. Site matters for a sign with a
// normal for each site only.
type signRequest struct {
	historyRequest
	Sign vitals.SignID `json:"sign"`
	Site vitals.SiteID `json:"site,omitempty"`
	At   time.Time     `json:"at"`
}

// Check gives the faults of the record, and of a sign that the catalogue does not have.
func (q *signRequest) Check() vitals.Faults {
	faults := q.historyRequest.Check()
	if _, ok := vitals.Lookup(q.Sign); !ok {
		faults = append(faults, fault(vitals.FaultUnknownSign, "/sign", "sign", string(q.Sign)))
	}
	return faults
}

// historyMost is how many readings a chart of a telephone's width can show. Each costs two fits of the exams before it: of a
// long record fewer are shown, the latest, so that all of it takes as long as historyMost readings of 200 exams.
const (
	historyMost  = 60
	historyLeast = 6
	historyWork  = historyMost * 200
)

func history(q signRequest) (any, error) {
	b, err := q.learned(q.Horse, q.Exams)
	if err != nil {
		return nil, err
	}
	most := min(historyMost, max(historyLeast, historyWork/max(1, len(q.Exams))))
	var now *baseline.Normal
	if n, ok := b.Normal(q.Sign, q.Site, q.At); ok {
		now = &n
	}
	return report.Told(b.Past(q.Sign, q.Site, most), now, q.Horse, q.in()), nil
}

func (q *signRequest) history() (*vitals.Horse, *[]vitals.Exam, **past) {
	return &q.Horse, &q.Exams, &q.past
}

// normal is what a horse's own normal looks like at a time: every sign of the record.
func normal(q knownRequest) (any, error) {
	b, err := q.learned(q.Horse, q.Exams)
	if err != nil {
		return nil, err
	}
	rows := report.Normal(b, b.Known(q.At), q.Horse, q.At, q.in())
	if rows == nil {
		rows = []report.Usual{}
	}
	return struct {
		Rows []report.Usual `json:"rows"`
	}{rows}, nil
}
