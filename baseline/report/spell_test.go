package report

import (
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/vitals/words"
)

func spelt(text string, lang words.Lang) string { return Chunk{Pieces: Spell(text, lang)}.Text() }

func TestSpell(t *testing.T) {
	for text, want := range map[string]string{
		"":                                    "",
		"Off her feed.":                       "Off her feed.",
		"Heart rate 44 a minute.":             "Heart rate forty-four a minute.",
		"38.4 °C, digital":                    "thirty-eight point four degrees Celsius, digital",
		"101.3 °F;":                           "one hundred one point three degrees Fahrenheit;",
		"tapped for 30 s; expected 29 to 39.": "tapped for thirty seconds; expected twenty-nine to thirty-nine.",
		"for 1 s":                             "for one second",
		"Fewer than 1 in 1000 of her quiet":   "Fewer than one in one thousand of her quiet",
		"1 in 50":                             "one in fifty",
		"height 60 in, today":                 "height sixty inches, today",
		"Ring back 555 010 0142.":             "Ring back five five five, zero one zero, zero one four two.",
		"+44 20 7946 0812 or 5":               "plus four four, two zero, seven nine four six, zero eight one two or five",
		"(555) 010-0142":                      "(five five five, zero one zero, zero one four two",
		"2:10 am.":                            "two ten am.",
		"at 10:05 pm on Monday":               "at ten oh five pm on Monday",
		"2:00 am":                             "two am",
		"at 14:10":                            "at fourteen ten",
		"gate code 4411":                      "gate code four four one one",
		"code 0142":                           "code zero one four two",
		"3 August 2026, late":                 "three August twenty twenty-six, late",
		"weighs 1240 lb":                      "weighs one thousand two hundred forty pounds",
		"512 kg":                              "five hundred twelve kilos",
		"0.8 to 2.1.":                         "zero point eight to two point one.",
		"29–39":                               "twenty-nine to thirty-nine",
		"-3 °C":                               "minus three degrees Celsius",
		"15s":                                 "fifteen seconds",
		"5th 1.2.3 a1 1/2 2:99 12:5":          "5th 1.2.3 a1 1/2 2:99 12:5",
		"score 5.":                            "score five.",
		"37,8":                                "thirty-seven point eight",
		"“10 ml”":                             "“ten milliliters”",
	} {
		td.Cmp(t, spelt(text, words.English), want, text)
	}
}

// Nothing is lost or put in: figures and plain pieces together are the text.
func TestSpellKeepsTheText(t *testing.T) {
	for _, lang := range words.Langs {
		rapid.Check(t, func(t *rapid.T) {
			text := rapid.OneOf(text, rapid.StringMatching(`[0-9 .,:+()sin–-]{0,30}`)).Draw(t, "text")
			var b strings.Builder
			for _, p := range Spell(text, lang) {
				if p.Say == "" {
					t.Fatalf("%q: a piece that says nothing", text)
				}
				if p.Figure != "" {
					b.WriteString(p.Figure)
				} else {
					b.WriteString(p.Say)
				}
			}
			if want := strings.Join(strings.Fields(text), " "); b.String() != want {
				t.Fatalf("%q became %q", want, b.String())
			}
		})
	}
}

// Everything that is read aloud is read, in the order of the report, under two minutes at
// 150 words a minute (a number in words counts as the words it has), in pieces that fit a screen.
func TestAloudIsTheReport(t *testing.T) {
	check := func(t interface{ Errorf(string, ...any) }, r Report) {
		var told, said []string
		for _, p := range r.Parts {
			for _, l := range p.Lines {
				if p.ID.Aloud() && !l.Blank {
					told = append(told, strings.Fields(l.Text)...)
				}
			}
		}
		spoken := 0
		for _, c := range r.Aloud() {
			if c.Heading == "" || len(c.Pieces) == 0 {
				t.Errorf("an empty chunk")
			}
			if c.Blank {
				continue
			}
			if n := len([]rune(c.Text())); n > 2*chunkLetters && strings.Count(c.Text(), " ") > 2 {
				t.Errorf("%d letters in one breath: %q", n, c.Text())
			}
			spoken += len(strings.Fields(strings.ReplaceAll(c.Text(), "-", " ")))
			var b strings.Builder
			for _, p := range c.Pieces {
				if p.Figure != "" {
					b.WriteString(p.Figure)
				} else {
					b.WriteString(p.Say)
				}
			}
			said = append(said, strings.Fields(b.String())...)
		}
		if strings.Join(said, " ") != strings.Join(told, " ") {
			t.Errorf("%q is read aloud of %q", said, told)
		}
		if spoken > allWords*11/10 {
			t.Errorf("%d words are read aloud", spoken)
		}
	}
	for _, lang := range words.Langs {
		check(t, Call(badNight(), lang))
		check(t, Call(Input{}, lang))
	}
	rapid.Check(t, func(t *rapid.T) { check(t, Call(drawInput(t), words.English)) })
}
