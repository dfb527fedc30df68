package report

import (
	"strconv"
	"strings"
	"unicode"

	"whorl.example/vitals/words"
)

// Piece is a part of a sentence as it is said. Figure is what is written where that
// differs: "fifty-two" is said, "52" is written.
type Piece struct {
	Say    string `json:"say"`
	Figure string `json:"figure,omitempty"`
}

// Spell writes a text as it is said on the telephone: numbers in words ("thirty-eight
// point four"), telephone numbers and codes digit by digit, the hour as an hour, units in
// full. What it does not know stays as it is written. It gives nothing up: the figures and
// the other pieces, put together, are the text with each white space run as one space.
func Spell(text string, lang words.Lang) []Piece {
	s := speller{lang: lang, tokens: strings.Fields(text)}
	for s.at < len(s.tokens) {
		s.next()
	}
	return s.out
}

// speller reads a text token by token.
type speller struct {
	lang   words.Lang
	tokens []string
	at     int
	out    []Piece
}

func (s *speller) say(key string, args ...string) string { return words.Say(s.lang, key, args...) }

// plain adds what is said as it is written.
func (s *speller) plain(text string) {
	if text == "" {
		return
	}
	if n := len(s.out); n > 0 && s.out[n-1].Figure == "" {
		s.out[n-1].Say += text
		return
	}
	s.out = append(s.out, Piece{Say: text})
}

func (s *speller) gap() {
	if s.at > 0 {
		s.plain(" ")
	}
}

// next takes one token, or several that are one number.
func (s *speller) next() {
	before, core, after := bare3(s.tokens[s.at])
	if n := s.phone(); n > 0 {
		first, _, _ := bare3(s.tokens[s.at])
		_, _, last := bare3(s.tokens[s.at+n-1])
		s.gap()
		s.plain(first)
		written := strings.TrimSuffix(strings.TrimPrefix(strings.Join(s.tokens[s.at:s.at+n], " "), first), last)
		s.out = append(s.out, Piece{s.digits(written), written})
		s.plain(last)
		s.at += n
		return
	}
	s.gap()
	said, taken := s.number(core, after == "")
	if said == "" {
		s.plain(s.tokens[s.at])
		s.at++
		return
	}
	written := core
	for i := 1; i < taken; i++ {
		var more string
		_, more, after = bare3(s.tokens[s.at+i])
		written += " " + more
	}
	s.plain(before)
	s.out = append(s.out, Piece{said, written})
	s.plain(after)
	s.at += taken
}

// bare3 parts a token from the punctuation around it.
func bare3(token string) (before, core, after string) {
	core = strings.TrimLeft(token, `("“‘'«¿¡[`)
	before = token[:len(token)-len(core)]
	trimmed := strings.TrimRight(core, `.,;:!?)"”’'»…]`)
	return before, trimmed, core[len(trimmed):]
}

// phone gives how many of the next tokens are a telephone number: groups of digits that
// begin with a plus sign or a zero, or have seven digits and more together.
func (s *speller) phone() int {
	digits, n := 0, 0
	begins := false
	for i, token := range s.tokens[s.at:] {
		_, core, after := bare3(token)
		plain := strings.Map(func(r rune) rune {
			if strings.ContainsRune("+-–()./", r) {
				return -1
			}
			return r
		}, core)
		if plain == "" || !allDigits(plain) || strings.ContainsAny(core, "./") && len(plain) < 7 || isDecimal(core) {
			break
		}
		if i == 0 {
			begins = strings.HasPrefix(core, "+")
		}
		digits += len(plain)
		n = i + 1
		if strings.Trim(after, `)`) != "" {
			break
		}
	}
	if digits >= 7 && digits <= 17 || begins && digits >= 4 {
		return n
	}
	return 0
}

// isDecimal tells a number with one or two places from a telephone number parted by a point.
func isDecimal(core string) bool {
	whole, places, ok := strings.Cut(core, ".")
	return ok && allDigits(whole) && allDigits(places) && len(places) <= 2
}

func allDigits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}

// digits says a telephone number or a code digit by digit, with a breath where it is parted.
func (s *speller) digits(text string) string {
	var b strings.Builder
	breath := false
	for _, r := range text {
		switch {
		case r == '+':
			b.WriteString(s.say("spell.plus"))
			breath = false
		case r >= '0' && r <= '9':
			switch {
			case b.Len() == 0:
			case breath:
				b.WriteString(", ")
			default:
				b.WriteString(" ")
			}
			breath = false
			b.WriteString(s.small(int(r - '0')))
		default:
			breath = true
		}
	}
	return b.String()
}

// number says a number with its unit or as an hour, and how many tokens it took; "" for
// what is no number. open: nothing parts the token from the next.
func (s *speller) number(core string, open bool) (said string, taken int) {
	if low, high, ok := strings.Cut(core, "–"); ok {
		a, _ := s.number(low, false)
		if b, _ := s.number(high, false); a != "" && b != "" {
			return a + s.say("list.to") + b, 1
		}
		return "", 0
	}
	if hour, minute, ok := strings.Cut(core, ":"); ok {
		return s.clock(hour, minute, open)
	}
	sign := strings.TrimPrefix(strings.TrimPrefix(core, "-"), "−")
	minus := sign != core
	figures := strings.TrimLeft(sign, "0123456789.,")
	figures, suffix := sign[:len(sign)-len(figures)], figures
	if figures == "" || figures[0] < '0' || figures[0] > '9' {
		return "", 0
	}
	unit, taken := suffix, 1
	if unit == "" && open {
		unit = s.unit()
		if unit != "" {
			taken = 2
		}
	} else if unit != "" && !s.isUnit(unit) {
		return "", 0
	}
	said, one := s.amount(figures, unit != "")
	if said == "" {
		return "", 0
	}
	if minus {
		said, one = s.say("spell.minus", "n", said), false
	}
	if unit != "" {
		form := "2"
		if one {
			form = "1"
		}
		name := strings.TrimSpace(s.say("spell.unit."+unit, "v", "", "n", form))
		return s.say("spell.unit."+unit, "v", s.before(said, name), "n", form), taken
	}
	if open {
		said = s.before(said, s.peek(1))
	}
	return said, 1
}

func (s *speller) peek(n int) string {
	if s.at+n >= len(s.tokens) {
		return ""
	}
	_, core, _ := bare3(s.tokens[s.at+n])
	return core
}

func (s *speller) isUnit(text string) bool { return words.Has(words.English, "spell.unit."+text) }

// unit gives the unit in the next token. "in" is one only where no number follows: it is
// a word as well.
func (s *speller) unit() string {
	next := s.peek(1)
	if s.at+1 < len(s.tokens) && !strings.HasPrefix(s.tokens[s.at+1], next) {
		return "" // a mark stands before it
	}
	if !s.isUnit(next) || next == "in" && (s.peek(2) == "" || s.peek(2)[0] >= '0' && s.peek(2)[0] <= '9') {
		return ""
	}
	return next
}

// amount says figures; one: it is exactly one.
func (s *speller) amount(figures string, unit bool) (said string, one bool) {
	mark := strings.IndexAny(figures, ".,")
	whole, places := figures, ""
	if mark >= 0 {
		whole, places = figures[:mark], figures[mark+1:]
		if !allDigits(places) {
			return "", false // 1.2.3, 1,000.5
		}
	}
	n, err := strconv.Atoi(whole)
	if err != nil || len(whole) > 9 {
		return s.digits(figures), false
	}
	if places != "" {
		return s.say("spell.point", "whole", s.whole(n), "places", s.digits(places)), false
	}
	switch {
	case len(whole) > 1 && whole[0] == '0', len(whole) > 3 && n%100 != 0 && !unit:
		if len(whole) == 4 && s.afterMonth() {
			return s.say("spell.year", "whole", s.whole(n), "pairs", s.pairs(n)), false
		}
		return s.digits(whole), false
	}
	return s.whole(n), n == 1
}

// pairs says a year as two numbers.
func (s *speller) pairs(year int) string {
	if year%100 < 10 {
		return s.whole(year)
	}
	return s.whole(year/100) + " " + s.whole(year%100)
}

// afterMonth reports whether the name of a month stands before, with "de" between or not.
func (s *speller) afterMonth() bool {
	if s.at == 0 {
		return false
	}
	_, before, _ := bare3(s.tokens[s.at-1])
	if before == "de" && s.at > 1 {
		_, before, _ = bare3(s.tokens[s.at-2])
	}
	for m := range 12 {
		if strings.EqualFold(before, s.say("month."+itoa(m+1))) {
			return true
		}
	}
	return false
}

// list gives one of the entries of a message that is a list, "_" for a space.
func (s *speller) list(key string, i int) string {
	all := strings.Fields(s.say(key))
	if i < 0 || i >= len(all) {
		return itoa(i)
	}
	return strings.ReplaceAll(all[i], "_", " ")
}

func (s *speller) small(n int) string { return s.list("spell.small", n) }

// whole says a whole number below a thousand million.
func (s *speller) whole(n int) string {
	switch {
	case n < 30:
		return s.small(n)
	case n < 100:
		tens := s.list("spell.tens", n/10-3)
		if n%10 == 0 {
			return tens
		}
		return s.say("spell.tens.one", "tens", tens, "one", s.small(n%10))
	case n == 100:
		return s.say("spell.hundred")
	case n < 1000:
		return s.after(s.list("spell.hundreds", n/100-1), n%100)
	case n < 2000:
		return s.after(s.say("spell.thousand"), n%1000)
	case n < 1_000_000:
		return s.after(s.say("spell.thousands", "n", s.before(s.whole(n/1000), "s")), n%1000)
	case n < 2_000_000:
		return s.after(s.say("spell.million"), n%1_000_000)
	}
	return s.after(s.say("spell.millions", "n", s.before(s.whole(n/1_000_000), "s")), n%1_000_000)
}

func (s *speller) after(said string, rest int) string {
	if rest == 0 {
		return said
	}
	return said + " " + s.whole(rest)
}

// before gives a number as it stands before a word: Spanish says "un examen" and
// "veintiún latidos" where it counts "uno", "veintiuno". The message has "number form of
// most words, form of feminine words"; it is empty in a language without such forms.
func (s *speller) before(said, next string) string {
	r, _ := first(next)
	if !unicode.IsLetter(r) {
		return said
	}
	forms := strings.Fields(s.say("spell.before"))
	for _, w := range strings.Fields(s.say("spell.before.not")) {
		if next == w {
			return said
		}
	}
	for i := 0; i+2 < len(forms); i += 3 {
		stem, ends := strings.CutSuffix(said, forms[i])
		if !ends {
			continue
		}
		for _, w := range strings.Fields(s.say("spell.before.as")) {
			if next == w {
				return stem + forms[i+1]
			}
		}
		for _, end := range strings.Fields(s.say("spell.before.ends")) {
			if strings.HasSuffix(next, end) {
				return stem + forms[i+2]
			}
		}
		return stem + forms[i+1]
	}
	return said
}

func first(text string) (rune, bool) {
	for _, r := range text {
		return r, true
	}
	return 0, false
}

// clock says an hour; the half of the day follows as a token of its own.
func (s *speller) clock(hour, minute string, open bool) (string, int) {
	h, err := strconv.Atoi(hour)
	m, err2 := strconv.Atoi(minute)
	if err != nil || err2 != nil || h < 0 || h > 24 || len(minute) != 2 || m < 0 || m > 59 {
		return "", 0
	}
	key := "spell.clock"
	switch {
	case m == 0:
		key = "spell.clock.0"
	case m < 10:
		key = "spell.clock.1"
	}
	// The hour is an hour, which is feminine in Spanish: "la una y diez".
	args := []string{"h", s.before(s.whole(h), strings.TrimSpace(s.say("spell.unit.h", "v", "", "n", "2"))), "m", s.whole(m)}
	half := strings.ToLower(strings.ReplaceAll(s.peek(1), ".", ""))
	if open && (half == "am" || half == "pm") {
		part := "spell." + half
		switch {
		case half == "pm" && h >= 8 && h < 12:
			part = "spell.pm.late"
		case half == "am" && (h < 6 || h == 12):
			part = "spell.am.early"
		}
		key += ".half"
		return s.say(key, append(args, "half", s.say(part))...), 2
	}
	return s.say(key, args...), 1
}
