package pack

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// broken are slips: what stands in the example's place, the fault with its place and line, and part of its sentence.
var broken = []struct{ old, new, at, suggests string }{
	{`"low": "37.0", "high": "38.4"`, `"low": "99", "high": "101"`, "out-of-range /ranges/0/low 15", "between 30 and 44 °C. Try: [degF]."},
	{`"low": "37.0", "high": "38.4", "unit": "Cel"`, `"low": "37", "high": "38.4", "unit": "[degF]"`, "out-of-range /ranges/0/low 15", "Try: Cel."},
	{`"low": "37.0"`, `"low": "39"`, "pack-limit /ranges/0 14", "low one is not below"},
	{`"low": "37.0", "high": "38.4", `, ``, "pack-limit /ranges/0 14", "A limit is missing"},
	{`"low": "37.0"`, `"low": "-37.0"`, "out-of-range /ranges/0/low 15", "between 30 and 44"},
	{`"low": "37.0"`, `"low": "37,0"`, "bad-decimal /ranges/0/low 15", "such as 38.4"},
	{`"low": "37.0"`, `"low": 37.0`, "not-text /ranges/0/low 15", "quotation marks"},
	{`"low": "37.0"`, `"low": ""`, "bad-decimal /ranges/0/low 15", "such as 38.4"},
	{`"unit": "Cel"`, `"unit": "C"`, "wrong-unit /ranges/0/unit 15", "Try: Cel, [degF]."},
	{`"setBy": "the practice's own list, 2026"}`, `"setBy": " "}`, "missing-text /ranges/0/setBy 15", "must be written"},
	{`"above": "52"`, `"above": "560"`, "out-of-range /thresholds/0/above 19", "between 10 and 260"},
	{`"above": "52"`, `"below": "2"`, "out-of-range /thresholds/0/below 19", "between 10 and 260"},
	{`"unit": "/min"`, `"unit": "bpm"`, "wrong-unit /thresholds/0/unit 19", "Try: /min."},
	{`"heart-rate", "types"`, `"hart-rate", "types"`, "unknown-sign /thresholds/0/sign 18", "Try: heart-rate."},
	{`"heart-rate", "types"`, `"Heart rate", "types"`, "unknown-sign /thresholds/0/sign 18", "Try: heart-rate."},
	{`"rectal-temperature", "types"`, `"temperature", "types"`, "unknown-sign /ranges/0/sign 14", "Try: rectal-temperature."},
	{`"gum-colour", "cap`, `"gum-color", "cap`, "unknown-sign /ask/3 25", "Try: gum-colour."},
	{`"urgency": "now"`, `"urgency": "urgent"`, "unknown-answer /thresholds/0/urgency 19", "Try: now, soon."},
	{`"types": ["horse", "pony"], "stages": ["adult", "senior"],
     "urgency"`, `"types": ["horses"], "urgency"`, "unknown-answer /thresholds/0/types/0 18", "Try: horse."},
	{`"stages": ["adult", "senior"],
     "low"`, `"stages": ["adults"], "low"`, "unknown-answer /ranges/0/stages/0 14", "Try: adult."},
	{`"+44 20 7946 0100"`, `""`, "missing-text /clinic/numbers/0/phone 7", "must be written"},
	{`"+44 20 7946 0100"`, `"*21*07700900123#"`, "bad-phone /clinic/numbers/0/phone 7", "one number, in digits"},
	{`"+44 20 7946 0100"`, `"+44 20 7946 0100 / 0999 123456"`, "bad-phone /clinic/numbers/0/phone 7", "one number, in digits"},
	{`"+44 20 7946 0100"`, `"+44 20 7946 0100 ext. 4"`, "bad-phone /clinic/numbers/0/phone 7", "an extension"},
	{`"+44 20 7946 0100"`, `"ask for Jo"`, "bad-phone /clinic/numbers/0/phone 7", "one number, in digits"},
	{`"langs": ["en"]`, `"langs": ["en", "de"]`, "unknown-lang /langs/1 11", "Try: en, es"},
	{`"lang": "en"`, `"lang": "english"`, "unknown-lang /questions/0/lang 22", "Try: en, es"},
	{`"units": ["Cel"`, `"units": ["Celsius"`, "wrong-unit /units/0 12", "Cel, [degF]"},
	{`"thresholds"`, `"treshold"`, "unknown-member /treshold 17", "Try: thresholds."},
	{`"hours"`, `"opening hours"`, "unknown-member /clinic/numbers/0/opening hours 7", "Try: hours"},
	{`"numbers": [`, `"page": "clinic.example", "numbers": [`, "bad-page /clinic/page 6", "https://"},
	{`"windle-brook-heart"`, `"heart-high"`, "duplicate-id /thresholds/0/id 18", "twice"},
	{`"name": "Windle Brook Equine Practice (invented)"`, `"name": ""`, "missing-text /clinic/name 5", "must be written"},
	{`{"id": "ate", "lang": "en", "text": "When did she last eat up everything?"`, `{"lang": "en", "text": "Give 10 ml of it now."`, "pack-asks /questions/0/text 22", "on the phone"},
	{`"text": "When did she last eat up everything?"`, `"text": "Give 10 ml of it now, will you?"`, "pack-asks /questions/0/text 22", "no amount to give"},
	{`"text": "When did she last eat up everything?"`, `"text": "Was it 10ml, or 20 mg?"`, "pack-asks /questions/0/text 22", "no amount to give"},
	{`"text": "When did she last eat up everything?"`, `"text": "` + strings.Repeat("a", 200) + `?"`, "too-long /questions/0/text 22", "200"},
	{`"text": "When did she last eat up everything?"`, `"text": "a\nb?"`, "control-character /questions/0/text 22", "line break"},
	{`"id": "vehicle", "lang": "en"`, `"lang": "es"`, "pack-id /questions/1 23", "such as q1"},
	{`"id": "ate", "lang": "en", "text": "When`, `"answer": "yes/no", "id": "ate", "lang": "en", "text": "When`, "unknown-answer /questions/0/answer 22", "Try: yes-no, number."},
	{`"id": "ate", "lang": "en", "text": "When`, `"at": "hart-rate", "id": "ate", "lang": "en", "text": "When`, "unknown-sign /questions/0/at 22", "Try: heart-rate."},
	{`"id": "ate", "lang": "en", "text": "When`, `"id": "q 1", "lang": "en", "text": "When`, "bad-id /questions/0/id 22", "letters"},
	{`"name": "Windle`, `"name": "` + strings.Repeat("W", 80) + `Windle`, "too-long /clinic/name 5", "100"},
	{`"format": 1,`, `"format": 1`, "bad-json  4", "line 4"},
	{`"whorl-pack"`, `"whorl-barn"`, "not-pack /kind 2", "clinic"},
}

// Files as a practice writes them by hand, each with one slip: each is refused at its line and place, and the sentence says what to
// write instead, in every language.
func TestBrokenFilesAreRefusedWithASuggestion(t *testing.T) {
	t.Parallel()
	text := example(t)
	for _, c := range broken {
		spoilt := strings.Replace(text, c.old, c.new, 1)
		td.Require(t).Cmp(spoilt != text, true, c.old)
		_, err := Decode([]byte(spoilt))
		faults, _ := errors.AsType[vitals.Faults](err)
		lines := Lines([]byte(spoilt), faults)
		said := ""
		for i, f := range faults {
			if string(f.Code)+" "+f.Path+" "+strconv.Itoa(lines[i]) == c.at {
				said = f.Sentence
				for _, lang := range words.Langs() {
					td.Cmp(t, words.Fault(lang, string(f.Code), f.Args...), td.Not(td.HasPrefix("fault.")), c.at)
				}
			}
		}
		td.Cmp(t, said, td.All(td.NotEmpty(), td.Contains(c.suggests)), "%s: %v", c.at, faults)
	}
}

// An editor that sets a byte-order mark spoils nothing, and lines are counted as before.
func TestAByteOrderMarkIsNoFault(t *testing.T) {
	t.Parallel()
	text := "\ufeff" + example(t)
	td.Cmp(t, listed(text), td.Empty())
	td.Cmp(t, listed(strings.Replace(text, `"name": "W`, `"nmae": "W`, 1)), td.Contains("unknown-member /clinic/nmae 5"))
}
