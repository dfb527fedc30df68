package link

import (
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// Limits of an answer, common practice, no source: what is read on a telephone at night, and a date for which nobody needs a reminder of an
// exam.
const (
	MaxAdvice  = 500 // characters of the advice
	MaxAgain   = 200 // characters of the reason to call again
	maxLines   = 20
	maxNext    = 60 * 24 * time.Hour
	maxAnswer  = 16 << 10 // bytes of its fragment
	checkCount = 7
)

// Answer is what a clinic sends back of an exam that it received: a text of its own, which this library only carries. Like every link it
// can be written by anybody; its check code finds damage.
//
//	a1=…   base64url, for links
//	A1:…   the characters of a QR code
type Answer struct {
	// Exam is the one that is answered.
	Exam vitals.ID `json:"exam"`
	// Words has the first letters of the check words of what was received, as the page showed them; empty where it could not.
	Words string    `json:"words,omitempty"`
	At    time.Time `json:"at"`
	// By is who says it.
	By     string `json:"by"`
	Advice string `json:"advice"`
	// Again is at what to call again, Next when the next exam is due.
	Again string    `json:"again,omitempty"`
	Next  time.Time `json:"next,omitzero"`
}

// Fragment gives the link's fragment, without '#'; the error is the faults of the answer.
func (a Answer) Fragment() (string, error) { return a.write(Fragment) }

// Code gives the fragment in the characters of a QR code, without '#'; the error as in [Answer.Fragment].
func (a Answer) Code() (string, error) { return a.write(Code) }

func (a Answer) write(spell func([]byte) string) (string, error) {
	record, err := schema.Marshal(a)
	if err != nil {
		return "", err
	}
	if err := schema.Unmarshal(record, &Answer{}); err != nil {
		return "", err
	}
	text := spell(record)
	return answerLetter(text[:1]) + text[1:], nil
}

// answerLetter is the first letter of an answer where an exam has w or W.
func answerLetter(exam string) string { return string(exam[0] - 'w' + 'a') }

// ReadAnswer opens the fragment of an answer in either spelling. The error is one of this package's, or the
// [vitals.Faults] of an answer that is whole and not in order.
func ReadAnswer(fragment string) (Answer, error) {
	fragment = strings.TrimPrefix(fragment, "#")
	if fragment == "" || fragment[0]|0x20 != 'a' {
		return Answer{}, ErrForeign
	}
	if len(fragment) > maxAnswer {
		return Answer{}, ErrLarge
	}
	record, err := Open(string(fragment[0]-'a'+'w') + fragment[1:])
	if err != nil {
		return Answer{}, err
	}
	var a Answer
	if err := schema.Unmarshal(record, &a); err != nil {
		return Answer{}, err
	}
	return a, nil
}

// Check gives everything that is wrong with an answer.
func (a *Answer) Check() vitals.Faults {
	var faults vitals.Faults
	add := func(code vitals.FaultCode, path string, args ...string) {
		faults = append(faults, vitals.Fault{Code: code, Path: path, Args: args})
	}
	text := func(path, text string, most, lines int) {
		if strings.TrimSpace(text) == "" {
			add(vitals.FaultMissingText, path)
		}
		if utf8.RuneCountInString(text) > most {
			add(vitals.FaultTooLong, path, "most", strconv.Itoa(most))
		}
		if strings.Count(text, "\n") >= lines || strings.ContainsFunc(text, unseen) {
			add(vitals.FaultControl, path)
		}
	}
	if len(a.Exam) > vitals.MaxID || strings.ContainsFunc(string(a.Exam), notOfID) {
		add(vitals.FaultBadID, "/exam")
	}
	if a.Words != "" && (len(a.Words) != checkCount || strings.Trim(a.Words, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != "") {
		add(vitals.FaultUnknownAnswer, "/words", "name", a.Words)
	}
	text("/by", a.By, vitals.MaxName, 1)
	text("/advice", a.Advice, MaxAdvice, maxLines)
	if a.Again != "" {
		text("/again", a.Again, MaxAgain, maxLines)
	}
	if !a.Next.IsZero() && (!a.Next.After(a.At) || a.Next.Sub(a.At) > maxNext) {
		add(vitals.FaultBadMoment, "/next")
	}
	return faults
}

// unseen reports what has no place in a text that is shown: control characters and ends of lines but the plain one, and what turns the order of
// letters around, by which a text can be read otherwise than it is written.
func unseen(r rune) bool {
	return r != '\n' && unicode.IsControl(r) || unicode.In(r, unicode.Bidi_Control, unicode.Zl, unicode.Zp)
}

func notOfID(r rune) bool {
	return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' || r == '.')
}
