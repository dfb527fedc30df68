package link

import (
	"whorl.example/baseline"
	"whorl.example/baseline/watch"
	"whorl.example/schema"
	"whorl.example/vitals"
)

// Sent is what travels in a link or a code: one exam, the card of the horse, and what the
// sender's comparison with the horse's history gave, so that whoever opens it sees the
// same rulers and the same report without that history.
type Sent struct {
	Horse vitals.Horse `json:"horse"`
	Exam  vitals.Exam  `json:"exam"`
	// Rests is the sender's comparison; without it the exam alone travels.
	Rests *Rests `json:"rests,omitempty"`
	// Course is where the rechecks before the exam went; nil where there were none.
	Course *Course `json:"course,omitempty"`
}

// New puts together what is sent of an exam. Contacts stay on the device: the
// veterinarian needs the number to ring back, which the exam's story holds, and the numbers of other
// people need not travel. So do the answers to "is this the new usual?": what they
// changed is in the comparison, and its warnings tell of them. A nil comparison sends the exam alone.
func New(horse vitals.Horse, exam vitals.Exam, c *baseline.Comparison) Sent {
	horse.Contacts, horse.NewUsual = nil, nil
	s := Sent{Horse: horse, Exam: exam}
	if c != nil {
		s.Rests = restsOf(horse, exam, *c)
	}
	return s
}

// With gives what is sent with the direction of the rechecks of which the exam is the last.
func (s Sent) With(watched []watch.Watched) Sent {
	s.Course = courseOf(s.Exam.At, watched)
	return s
}

// Watched gives the direction of the rechecks, as sent.
func (s Sent) Watched() []watch.Watched {
	if s.Course == nil {
		return nil
	}
	return s.Course.watched(s.Exam.At)
}

// Fragment gives the link's fragment, without '#'. The error is what [Read] would refuse it
// with: the faults of what is sent, or [ErrLarge].
func (s Sent) Fragment() (string, error) { return s.write(Fragment) }

// Code gives the fragment in the characters of a QR code, without '#'; the error as in
// [Sent.Fragment].
func (s Sent) Code() (string, error) { return s.write(Code) }

func (s Sent) write(spell func([]byte) string) (string, error) {
	record, err := schema.Marshal(s)
	if err != nil {
		return "", err
	}
	if len(record) > MaxRecord {
		return "", ErrLarge
	}
	if err := schema.Unmarshal(record, &Sent{}); err != nil {
		return "", err
	}
	return spell(record), nil
}

// Read opens a fragment in either spelling. The error is one of this package's, or the
// [vitals.Faults] of a record that is whole and not in order.
func Read(fragment string) (Sent, error) {
	record, err := Open(fragment)
	if err != nil {
		return Sent{}, err
	}
	var s Sent
	if err := schema.Unmarshal(record, &s); err != nil {
		return Sent{}, err
	}
	return s, nil
}

// Check gives what is wrong beyond the structure: the faults of the horse and the exam,
// and a comparison that does not belong to the exam.
func (s *Sent) Check() vitals.Faults {
	faults := vitals.CheckHorse(s.Horse).At("/horse")
	faults = append(faults, vitals.CheckExam(s.Exam, s.Horse).At("/exam")...)
	if s.Rests != nil && len(faults) == 0 {
		faults = append(faults, s.Rests.check(s.Exam).At("/rests")...)
	}
	if s.Course != nil {
		faults = append(faults, s.Course.check().At("/course")...)
	}
	return faults
}

// Comparison gives the sender's comparison. What follows from the exam itself (measures,
// alarms, published ranges, what was not checked) is computed here; what rests on the
// history is as sent, and the first of its warnings, [baseline.WarnSent], says so. Lessons are as many as were sent, without the ids of their exams.
// Nothing sent to rest on: the comparison of a horse of which no exam is known.
//
// The error is the [vitals.Faults] of [baseline.Baseline.Compare].
func (s Sent) Comparison() (baseline.Comparison, error) {
	b, err := baseline.New(s.Horse)
	if err != nil {
		return baseline.Comparison{}, err
	}
	c, err := b.Compare(s.Exam)
	if err != nil || s.Rests == nil {
		return c, err
	}
	here, err := schema.Marshal(restsOf(s.Horse, s.Exam, c))
	if err != nil {
		return c, err
	}
	if sent, err := schema.Marshal(s.Rests); err != nil || string(sent) == string(here) {
		return c, err // nothing that rests on a history
	}
	s.Rests.onto(s.Horse, s.Exam, &c)
	c.Warnings = append([]baseline.Warning{{Key: baseline.WarnSent, Args: []string{"by", s.Exam.By}}}, c.Warnings...)
	c.OwnAlarms(s.Exam)
	return c, nil
}
