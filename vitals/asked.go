package vitals

import (
	"slices"
	"strconv"

	"github.com/shopspring/decimal"
)

// AnswerKind is how a question is answered.
type AnswerKind string

const (
	YesNo  AnswerKind = "yes-no" // "yes" or "no"
	Number AnswerKind = "number" // as it was written: "12", "0.5"
)

// AnswerKinds lists every kind; a question without one is answered in words.
func AnswerKinds() []AnswerKind { return slices.Clone(allAnswerKinds) }

var allAnswerKinds = []AnswerKind{YesNo, Number}

// Reply is the answer to a question of [YesNo]; none is not known.
type Reply string

const (
	Yes Reply = "yes"
	No  Reply = "no"
)

var allReplies = []Reply{Yes, No}

// ClinicQuestion is a question that a clinic asks in its own words, and what the handler answered. No rule goes by it.
type ClinicQuestion struct {
	// By is the clinic that asks.
	By   string `json:"by"`
	Text string `json:"text"`
	// ID is that of the question in the clinic's file, the same in every language.
	ID   ID         `json:"id,omitempty"`
	Kind AnswerKind `json:"kind,omitempty"`
	// Answer is empty where nobody answered.
	Answer string `json:"answer,omitempty"`
}

// Limits of the questions of a clinic.
const (
	MaxAsked    = 40  // questions of an exam
	MaxQuestion = 200 // characters of one
)

func (c *check) asked(list []ClinicQuestion) {
	if len(list) > MaxAsked {
		c.add(FaultOutOfRange, "/asked", "low", "0", "high", strconv.Itoa(MaxAsked), "unit", "")
		return
	}
	for i, a := range list {
		at := "/asked/" + strconv.Itoa(i)
		c.line(at+"/by", a.By, true)
		if blank(a.Text) {
			c.add(FaultMissingText, at+"/text")
		}
		c.text(at+"/text", a.Text, MaxQuestion, "")
		oneOf(c, at+"/kind", a.Kind, allAnswerKinds, false)
		if a.ID != "" {
			c.id(at+"/id", a.ID)
		}
		switch {
		case a.Answer == "":
		case a.Kind == YesNo:
			oneOf(c, at+"/answer", Reply(a.Answer), allReplies, true)
		case a.Kind == Number:
			if x, err := decimal.NewFromString(a.Answer); err != nil || !plausible(x) {
				c.add(FaultBadNumber, at+"/answer")
			}
		default:
			c.note(at+"/answer", a.Answer)
		}
	}
}
