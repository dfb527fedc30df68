package report

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals/words"
)

// English numerals where their form changes, the hours where the part of the day does, and the shortest
// telephone number.
func TestSpellAtTheLimits(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"29 kg": "twenty-nine kilos", "30 kg": "thirty kilos", "31 kg": "thirty-one kilos", "99 kg": "ninety-nine kilos",
		"100 kg": "one hundred kilos", "101 kg": "one hundred one kilos", "999 kg": "nine hundred ninety-nine kilos",
		"1000 kg": "one thousand kilos", "1001 kg": "one thousand one kilos", "1999 kg": "one thousand nine hundred ninety-nine kilos", "2000 kg": "two thousand kilos",
		"999999 kg":    "nine hundred ninety-nine thousand nine hundred ninety-nine kilos",
		"1000000.5 kg": "one million point five kilos", "1000001.5 kg": "one million one point five kilos", "1999999.5 kg": "one million nine hundred ninety-nine thousand nine hundred ninety-nine point five kilos",
		"2000000.5 kg": "two million point five kilos", "2000005.25 kg": "two million five point two five kilos",
		"101": "one hundred one", "1100": "one thousand one hundred", "1101": "one one zero one", "07": "zero seven", "0": "zero", "9": "nine",
		"May 2000": "May two thousand", "May 2009": "May two thousand nine", "May 2010": "May twenty ten", "December 2026": "December twenty twenty-six", "January 1999": "January nineteen ninety-nine",
		"0:00": "zero o’clock", "24:00": "twenty-four o’clock", "25:00": "25:00", "7:59": "seven fifty-nine", "7:60": "7:60", "7:09": "seven oh nine", "7:10": "seven ten", "x:10": "x:10", "7:x0": "7:x0", "7:123": "7:123",
		"555000": "five hundred fifty-five thousand", "5550100": "five five five zero one zero zero", "+123": "+123", "+1234": "plus one two three four",
		"29–x": "29–x", "x–39": "x–39", "60 in 5 minutes": "sixty in five minutes", "60 in 9 minutes": "sixty in nine minutes", "60 in 0 minutes": "sixty in zero minutes",
	} {
		td.Cmp(t, spelt(text, words.English), want, text)
	}
	for text, part := range map[string]string{
		"7:59 pm": "spell.pm", "8:00 pm": "spell.pm.late", "11:59 pm": "spell.pm.late", "12:00 pm": "spell.pm",
		"5:59 am": "spell.am.early", "6:00 am": "spell.am", "11:59 am": "spell.am", "12:30 am": "spell.am.early",
	} {
		for _, lang := range words.Langs() {
			td.Cmp(t, spelt(text, lang), td.HasSuffix(words.Say(lang, part)), "%s %s", lang, text)
		}
	}
}
