package report

import (
	"cmp"
	"strings"
	"unicode"

	"whorl.example/vitals/words"
)

// Adults read English aloud at 183 words a minute (Brysbaert, J Mem Lang 2019;109:104047, 77 studies; its abstract was read).
// Spanish at 218 (Trauzettel-Klosinski and Dietz, IOVS 2012;53:5452-61, read aloud by young adults; the abstract was read, the
// figure of its table is from memory). The order of the call asks that who and where, matter, danger and what was given
// be told in 20 s and everything in 2 minutes.
const (
	allWords = 366 // 2 minutes of English: every part that is read aloud
	reserve  = 10  // of those for hours, which are said with more words than are counted ("at night")
)

// paces are words a minute by language.
var paces = map[words.Lang]int{words.English: 183, words.Spanish: 218}

// firstWords is how many words are told in 20 seconds.
func firstWords(lang words.Lang) int { return cmp.Or(paces[lang], paces[words.English]) / 3 }

// aloud counts the words of a text as they are spoken: a number of more than two digits
// counts a word for each digit (a telephone number is read digit by digit), so do the
// digits after a decimal point; "2:10" is two, "38.4" three.
func aloud(text string) int {
	n := 0
	for _, token := range strings.Fields(text) {
		n += spoken(token)
	}
	return n
}

func spoken(token string) int {
	digits, groups, run := 0, 0, 0
	letters := false
	for _, r := range token {
		switch {
		case unicode.IsDigit(r):
			digits++
			if run++; run == 1 {
				groups++
			}
			continue
		case unicode.IsLetter(r):
			letters = true
		}
		run = 0
	}
	whole, decimals, point := strings.Cut(strings.TrimRight(token, ".,;:)"), ".")
	switch {
	case digits == 0 && !letters:
		if strings.ContainsAny(token, "°%") {
			return 1
		}
		return 0 // punctuation only
	case digits == 0:
		return 1
	case digits <= 2 && !point:
		return groups + word(letters)
	case strings.Contains(token, ":") && digits <= 4: // 2:10, 10:05
		return groups + word(letters)
	case point && len(whole) <= 2: // 38.4
		return 2 + len(decimals)
	case point:
		return digits + 1
	}
	return digits + word(letters)
}

func word(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// clip gives as much of a text as can be read aloud in limit words; cut says that
// something is missing, which "…" shows.
func clip(text string, limit int) (short string, cut bool) {
	if aloud(text) <= limit {
		return text, false
	}
	n := 0
	var kept []string
	for _, token := range strings.Fields(text) {
		if n += spoken(token); n > limit {
			break
		}
		kept = append(kept, token)
	}
	return strings.TrimRight(strings.Join(kept, " "), ".,;:") + "…", true
}

// clean makes free text one line: white space runs become one space; control characters,
// line separators and marks that turn the direction of writing are left out.
func clean(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), r == 0xFEFF, r == 0xFFFD, words.Turns(r):
			return -1
		}
		return r
	}, text)
	return strings.Join(strings.Fields(text), " ")
}

// bare is clean without a full stop at the end, for text that a sentence goes on after.
func bare(text string) string { return strings.TrimRight(clean(text), ".;, ") }
