package api

import (
	"errors"
	"strings"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// checkRequest asks what is wrong with a horse, an exam, or an exam of that horse.
type checkRequest struct {
	spoken
	Horse *vitals.Horse `json:"horse,omitempty"`
	Exam  *vitals.Exam  `json:"exam,omitempty"`
}

// Check gives the faults of the horse and of the exam.
func (q *checkRequest) Check() vitals.Faults {
	var faults vitals.Faults
	var horse vitals.Horse
	if q.Horse != nil {
		horse = *q.Horse
		faults = vitals.CheckHorse(horse).At("/horse")
	}
	if q.Exam != nil {
		if q.Horse == nil {
			horse.ID = q.Exam.Horse // nobody said which horse it should be
		}
		faults = append(faults, vitals.CheckExam(*q.Exam, horse).At("/exam")...)
	}
	return faults
}

// checked is the answer: no faults, or all of them.
type checked struct {
	Faults vitals.Faults `json:"faults"`
}

// check answers with the faults of the horse and the exam, in structure as in content. Only
// what is wrong with the request itself is an error.
func check(data []byte) (any, words.Lang, error) {
	var q checkRequest
	err := schema.Unmarshal(data, &q)
	faults, _ := errors.AsType[vitals.Faults](err)
	faults = append(q.known(), faults...)
	for _, f := range faults {
		if f.Code == schema.BadJSON || !under(f.Path, "/horse") && !under(f.Path, "/exam") {
			return nil, q.in(), faults
		}
	}
	return checked{say(q.in(), faults)}, q.in(), nil
}

// under reports whether a place is a member or inside it.
func under(path, member string) bool {
	return path == member || strings.HasPrefix(path, member+"/")
}

// carried is how long a request may be that carries files: two, of which each character may be escaped.
const carried = 4 * schema.MaxBytes

// MaxBytes makes room for the file.
func (readRequest) MaxBytes() int { return carried }

// MaxBytes makes room for the file.
func (writeRequest) MaxBytes() int { return carried }

// MaxBytes makes room for both files.
func (mergeRequest) MaxBytes() int { return carried }

// MaxBytes makes room for the file.
func (packRequest) MaxBytes() int { return carried }

// readRequest holds a barn file as the text that was found in it.
type readRequest struct {
	spoken
	File schema.Document `json:"file"`
}

// read opens a barn file. The places of its faults are places in the file.
func read(q readRequest) (any, error) {
	file, err := schema.Decode([]byte(q.File))
	if err != nil {
		return nil, err
	}
	return file, nil
}

// writeRequest holds a barn file as data.
type writeRequest struct {
	spoken
	File schema.File `json:"file"`
}

// Check gives the faults of the file.
func (q *writeRequest) Check() vitals.Faults { return q.File.Check().At("/file") }

func write(q writeRequest) (any, error) {
	text, err := schema.Encode(q.File)
	if err != nil {
		return nil, err
	}
	return document{schema.Document(text)}, nil
}
