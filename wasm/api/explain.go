package api

import (
	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/vitals"
)

// explained is what stands behind a comparison, as data and in sentences: Said by "sign" or
// "sign/site", Exam of the exam as a whole, Known of how well each measured sign is known.
type explained struct {
	Explanation baseline.Explanation `json:"explanation"`
	Said        map[string][]string  `json:"said"`
	Exam        []string             `json:"exam"`
	Known       map[string][]string  `json:"known"`
}

func explain(q recordRequest) (any, error) {
	b, err := baseline.Of(q.Horse, q.Exams)
	if err != nil {
		return nil, err
	}
	x, err := b.Explain(q.Exam)
	if err != nil {
		return nil, within("/exam", err)
	}
	out := explained{Explanation: x, Said: map[string][]string{}, Exam: report.WhyExam(x, q.Horse, q.in()), Known: map[string][]string{}}
	found := q.Exam.Findings
	for _, w := range x.Signs {
		// As in present.
		for len(found) > 0 && (found[0].Absent != "" || found[0].Sign != w.Sign || found[0].Site != w.Site) {
			found = found[1:]
		}
		var f vitals.Finding
		if len(found) > 0 {
			f, found = found[0], found[1:]
		}
		out.Said[place(w.Sign, w.Site)] = report.Why(w, f, q.Horse, q.in())
	}
	for _, k := range b.Known(q.Exam.At).Signs {
		out.Known[place(k.Sign, k.Site)] = report.WhyKnown(k, readIn(k.Sign, append(q.Exams, q.Exam)), q.Horse, q.in())
	}
	return out, nil
}

// place is how a finding is named in an answer.
func place(sign vitals.SignID, site vitals.SiteID) string {
	if site == "" {
		return string(sign)
	}
	return string(sign) + "/" + string(site)
}
