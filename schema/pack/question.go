package pack

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// questions asks for questions: an order or an amount to give is said by a person, on the telephone.
func (c *check) questions(list []Question) {
	if len(list) > vitals.MaxAsked*len(words.Langs()) {
		c.add(vitals.FaultOutOfRange, "/questions", "low", "0", "high", strconv.Itoa(vitals.MaxAsked*len(words.Langs())), "unit", "")
		return
	}
	type named struct {
		id   vitals.ID
		lang words.Lang
	}
	seen := map[named]bool{}
	several := slices.ContainsFunc(list, func(q Question) bool { return q.Lang != list[0].Lang })
	for i, q := range list {
		at := "/questions/" + strconv.Itoa(i)
		c.lang(at+"/lang", q.Lang)
		text := strings.TrimSpace(q.Text)
		if c.line(at+"/text", text, vitals.MaxQuestion) && (!strings.HasSuffix(text, "?") || dosed(text)) {
			c.add(NoAsking, at+"/text")
		}
		if q.Answer != "" && !slices.Contains(vitals.AnswerKinds(), q.Answer) {
			c.add(vitals.FaultUnknownAnswer, at+"/answer", "name", string(q.Answer), near, join(vitals.AnswerKinds()))
		}
		if q.At != "" {
			c.sign(at+"/at", q.At)
		}
		switch of := (named{q.ID, q.Lang}); {
		case q.ID == "" && several:
			c.add(NoID, at)
		case q.ID == "":
		case !isID(q.ID):
			c.add(vitals.FaultBadID, at+"/id")
		case seen[of]:
			c.add(schema.DuplicateID, at+"/id", "id", string(q.ID))
		default:
			seen[of] = true
		}
	}
}

func isID(id vitals.ID) bool {
	return len(id) <= vitals.MaxID && !strings.ContainsFunc(string(id), func(r rune) bool {
		return r > 'z' || r != '-' && r != '_' && r != '.' && !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
}

// amounts are the units in which something is given that is not fed.
var amounts = []string{"ml", "cc", "mg", "mcg", "µg", "iu", "ui"}

// dosed reports whether a text has a number of such a unit: "10 ml", "10ml".
func dosed(text string) bool {
	fields := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.' && r != ','
	})
	for i, f := range fields {
		f = strings.Trim(f, ".,")
		unit := strings.TrimLeft(f, "0123456789.,")
		number := unit != f || i > 0 && strings.Trim(fields[i-1], "0123456789.,") == ""
		if number && slices.Contains(amounts, unit) {
			return true
		}
	}
	return false
}
