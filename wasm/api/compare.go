package api

import (
	"strconv"
	"time"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/baseline/watch"
	"whorl.example/schema"
	"whorl.example/schema/link"
	"whorl.example/schema/pack"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// recordRequest holds a horse, its history, and the exam to be compared or told.
type recordRequest struct {
	spoken
	schema.Record
	// Pack is the clinic's file, which adds its own ranges and rules.
	Pack *pack.Pack `json:"pack,omitempty"`
	// Fragment is of the link with which the exam came: what was usual for the horse on the sender's device counts.
	Fragment schema.Document `json:"fragment,omitempty"`
}

// received is what the exam came with; false where it came with nothing that opens, or was changed since.
func (q *recordRequest) received() (link.Sent, bool) {
	if q.Fragment == "" {
		return link.Sent{}, false
	}
	s, err := link.Read(string(q.Fragment))
	if err != nil || s.Exam.ID != q.Exam.ID || s.Horse.ID != q.Horse.ID || !s.Exam.At.Equal(q.Exam.At) {
		return link.Sent{}, false
	}
	was, err1 := schema.Marshal(s.Exam.Findings)
	is, err2 := schema.Marshal(q.Exam.Findings)
	return s, err1 == nil && err2 == nil && string(was) == string(is)
}

// Check gives the faults of the record and of the clinic's file.
func (q *recordRequest) Check() vitals.Faults {
	faults := q.Record.Check()
	if q.Pack != nil {
		faults = append(faults, q.Pack.Check().At("/pack")...)
	}
	return faults
}

func (q *recordRequest) history() (*vitals.Horse, *[]vitals.Exam, **past) {
	return &q.Horse, &q.Exams, &q.past
}

func (q *recordRequest) compare() (baseline.Comparison, error) {
	b, err := q.learned(q.Horse, q.Exams)
	if err != nil {
		return baseline.Comparison{}, err
	}
	return q.compareWith(b)
}

// asRead gives what was watched in the units in which the exam was read.
func asRead(list []watch.Watched, exam vitals.Exam) []watch.Watched {
	for i := range list {
		list[i] = list[i].In(readIn(list[i].Sign, []vitals.Exam{exam}))
	}
	return list
}

func (q *recordRequest) compareWith(b *baseline.Baseline) (baseline.Comparison, error) {
	c, err := baseline.Comparison{}, error(nil)
	if sent, ok := q.received(); ok {
		c, err = sent.Comparison()
	} else {
		c, err = b.Compare(q.Exam)
	}
	if err == nil && q.Pack != nil {
		c, _ = pack.Apply(*q.Pack, q.Horse, c) // its warnings are in the comparison
	}
	return c, within("/exam", err)
}

// input is what a report of the exam tells of.
func (q *recordRequest) input() (report.Input, error) {
	b, err := q.learned(q.Horse, q.Exams)
	if err != nil {
		return report.Input{}, err
	}
	c, err := q.compareWith(b)
	watched := watch.Of(b, q.Exam, q.Exams)
	if sent, ok := q.received(); ok && watched == nil {
		watched = sent.Watched()
	}
	return report.Input{Horse: q.Horse, Exam: q.Exam, Comparison: c, Watched: asRead(watched, q.Exam), Earlier: q.Exams}, err
}

// compared is a comparison as data, and as it is said and drawn. Sentences and rulers are by
// "sign" or "sign/site"; a sign that is not measured has no ruler. Said is the texts of the sentences.
type compared struct {
	Comparison baseline.Comparison          `json:"comparison"`
	Heading    string                       `json:"heading"`
	Remarks    []string                     `json:"remarks"`
	Said       map[string][]string          `json:"said"`
	Sentences  map[string][]report.Sentence `json:"sentences"`
	Rulers     map[string]string            `json:"rulers"`
}

func compare(q recordRequest) (any, error) {
	c, err := q.compare()
	if err != nil {
		return nil, err
	}
	return present(q.Horse, q.Exam, c, q.in()), nil
}

// present says and draws a comparison.
func present(horse vitals.Horse, exam vitals.Exam, c baseline.Comparison, lang words.Lang) compared {
	out := compared{
		Comparison: c,
		Heading:    report.Heading(report.Input{Horse: horse, Exam: exam, Comparison: c}, lang),
		Remarks:    report.Remarks(c, horse, lang),
		Said:       make(map[string][]string, len(c.Signs)),
		Sentences:  make(map[string][]report.Sentence, len(c.Signs)),
		Rulers:     map[string]string{},
	}
	found := exam.Findings
	for _, one := range c.Signs {
		// The comparison has the findings in their order, without those that have no value
		// and those that give no number.
		for len(found) > 0 && (found[0].Absent != "" || found[0].Sign != one.Sign || found[0].Site != one.Site) {
			found = found[1:]
		}
		if len(found) > 0 {
			one = report.AsRead(one, found[0])
			found = found[1:]
		}
		key := string(one.Sign)
		if one.Site != "" {
			key += "/" + string(one.Site)
		}
		out.Sentences[key] = report.Sentences(one, c.Alarms, horse, lang)
		out.Said[key] = report.Texts(out.Sentences[key])
		if one.Measure != nil {
			out.Rulers[key] = report.Ruler(one, lang)
		}
	}
	return out
}

// told is the call report as data, as text, and as it is read aloud.
type told struct {
	Report report.Report   `json:"report"`
	Text   schema.Document `json:"text"`
	Aloud  []report.Chunk  `json:"aloud"`
}

// telling tells what a comparison is of, with what a clinic's file adds to the call.
func telling(in report.Input, p *pack.Pack, lang words.Lang) told {
	r := report.Call(in, lang)
	if p != nil {
		r = p.Into(r, in)
	}
	return told{r, schema.Document(r.Text()), r.Aloud()}
}

func tell(q recordRequest) (any, error) {
	in, err := q.input()
	if err != nil {
		return nil, err
	}
	return telling(in, q.Pack, q.in()), nil
}

// knownRequest asks how well a horse is known at a time.
type knownRequest struct {
	spoken
	Horse vitals.Horse  `json:"horse"`
	Exams []vitals.Exam `json:"exams"`
	At    time.Time     `json:"at"`
}

// Check gives the faults of the horse and of its exams.
func (q *knownRequest) Check() vitals.Faults {
	faults := vitals.CheckHorse(q.Horse).At("/horse")
	for i, e := range q.Exams {
		faults = append(faults, vitals.CheckExam(e, q.Horse).At("/exams/"+strconv.Itoa(i))...)
	}
	return faults
}

func (q *knownRequest) history() (*vitals.Horse, *[]vitals.Exam, **past) {
	return &q.Horse, &q.Exams, &q.past
}

// knownSoFar is how well a horse is known, when it is due, a sentence on it, and the horse's whorl.
type knownSoFar struct {
	baseline.Known
	Due baseline.Due `json:"due"`
	// Stage of life; adult where the birth is not known.
	Stage vitals.Stage `json:"stage"`
	Said  string       `json:"said"`
	Whorl string       `json:"whorl"`
}

// whorlSize is the width of a whorl in the barn's list, in CSS pixels.
const whorlSize = 56

func known(q knownRequest) (any, error) {
	b, err := q.learned(q.Horse, q.Exams)
	if err != nil {
		return nil, err
	}
	k := b.Known(q.At)
	stage, _ := q.Horse.StageAt(q.At)
	key := "said.basis"
	if k.Exams == 0 {
		key = "said.basis.none"
	}
	said := words.Say(q.in(), key, "n", strconv.Itoa(k.Exams), "sex", string(q.Horse.Sex))
	return knownSoFar{k, b.Due(q.At), stage, said, report.Whorl(q.Horse.ID, share(k), whorlSize)}, nil
}

// share is how much exams have taken of the width that they can take from the intervals,
// 0 to 1, on the mean of the signs.
func share(k baseline.Known) float64 {
	sum := 0.0
	for _, s := range k.Signs {
		if can := s.Before - s.Attainable; can > 0 {
			sum += min(1, max(0, (s.Before-s.Now)/can))
		}
	}
	return sum / max(1, float64(len(k.Signs)))
}
