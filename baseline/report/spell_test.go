package report

import (
	"strings"
	"testing"
	"unicode"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/vitals/words"
)

func spelt(text string, lang words.Lang) string { return Chunk{Pieces: Spell(text, lang)}.Text() }

func TestSpell(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"":                                    "",
		"Off her feed.":                       "Off her feed.",
		"Heart rate 44 a minute.":             "Heart rate forty-four a minute.",
		"38.4 °C, digital":                    "thirty-eight point four Celsius, digital",
		"101.3 °F;":                           "one hundred one point three Fahrenheit;",
		"tapped for 30 s; expected 29 to 39.": "tapped for thirty seconds; expected twenty-nine to thirty-nine.",
		"for 1 s":                             "for one second",
		"Fewer than 1 in 1000 of her quiet":   "Fewer than one in one thousand of her quiet",
		"1 in 50":                             "one in fifty",
		"height 60 in, today":                 "height sixty inches, today",
		"Call back: 555 010 0142.":            "Call back: five five five, zero one zero, zero one four two.",
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
		"-3 °C":                               "minus three Celsius",
		"15s":                                 "fifteen seconds",
		"5th 1.2.3 a1 1/2 2:99 12:5":          "5th 1.2.3 a1 1/2 2:99 12:5",
		"score 5.":                            "score five.",
		"37,8":                                "thirty-seven point eight",
		"“10 ml”":                             "“ten milliliters”",
	} {
		td.Cmp(t, spelt(text, words.English), want, text)
	}
}

// The forms of numbers in Spanish are those of the Ortografía de la lengua española (Real
// Academia Española, 2010, chapter VIII): un, veintiún before a noun, una before a feminine
// one, cien and ciento, punto read out; the hours by the parts of the day.
func TestSpellSpanish(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"Frecuencia cardíaca 44 por minuto.":     "Frecuencia cardíaca cuarenta y cuatro por minuto.",
		"1 por minuto":                           "uno por minuto",
		"101.3 °F;":                              "ciento uno punto tres grados Fahrenheit;",
		"1 °C":                                   "un grado Celsius",
		"100 kg, 121 lb":                         "cien kilos, ciento veintiuna libras",
		"toques durante 30 s; habitual 29 a 39.": "toques durante treinta segundos; habitual veintinueve a treinta y nueve.",
		"en 1 revisión en calma":                 "en una revisión en calma",
		"en 21 revisiones":                       "en veintiuna revisiones",
		"31 latidos, 21 latidos, 1 latido":       "treinta y un latidos, veintiún latidos, un latido",
		"1 día, 21 días, 1 semana, 1 vez":        "un día, veintiún días, una semana, una vez",
		"Menos de 1 de cada 1000 de sus":         "Menos de uno de cada mil de sus",
		"1 de cada 500 lecturas":                 "uno de cada quinientas lecturas",
		"desde las 2:10 am del lunes":            "desde las dos y diez de la madrugada del lunes",
		"desde la 1:05 pm":                       "desde la una y cinco de la tarde",
		"a las 10:45 pm":                         "a las diez y cuarenta y cinco de la noche",
		"a las 7:00 am, 12:30 am, 12:30 pm":      "a las siete de la mañana, doce y treinta de la madrugada, doce y treinta de la tarde",
		"martes 11 de agosto de 2026":            "martes once de agosto de dos mil veintiséis",
		"Llamar al 555 010 0142. Sobre Juniper.": "Llamar al cinco cinco cinco, cero uno cero, cero uno cuatro dos. Sobre Juniper.",
		"512 kg; 2100 kg; 21000 lb":              "quinientos doce kilos; dos mil cien kilos; veintiún mil libras",
		"-3 °C":                                  "menos tres grados Celsius",
		"38,4 °C":                                "treinta y ocho punto cuatro grados Celsius",
	} {
		td.Cmp(t, spelt(text, words.Spanish), want, text)
	}
}

// Nothing is lost or put in: figures and plain pieces together are the text.
func TestSpellKeepsTheText(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
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
// 150 words a minute ("fifty-two" is one), in pieces that fit a screen.
func TestAloudIsTheReport(t *testing.T) {
	t.Parallel()
	check := func(t interface{ Errorf(string, ...any) }, in Input, lang words.Lang) {
		r := Call(in, lang)
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
			for _, w := range strings.Fields(c.Text()) {
				if c.Part != PartWords && strings.ContainsFunc(w, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
					spoken++ // a dash alone is not said
				}
			}
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
		if spoken > allWords+neverCut(in, r) {
			t.Errorf("%d words are read aloud", spoken)
		}
	}
	for _, lang := range words.Langs() {
		check(t, badNight(), lang)
		check(t, Input{}, lang)
	}
	rapid.Check(t, func(t *rapid.T) { check(t, drawInput(t), words.English) })
}
