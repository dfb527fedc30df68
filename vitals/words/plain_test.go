package words

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/maxatome/go-testdeep/td"
)

// The words are held to four rules that a program can check. None of them shows that a text is understood; each has found one
// that was not.

// unread are no sentences: words that are looked for in what somebody told, and the names of figures.
func unread(key string) bool {
	family, _, _ := strings.Cut(key, ".")
	return family == "given" || family == "spell"
}

// never are phrases that a reader had to be told the meaning of, and those that soothe, by language. Why: another word is used
// for the same thing everywhere, or nobody who reads "fine" calls.
var never = map[Lang][]string{
	English: {
		`looked at`, `look again`, `rests? on`, `for want of`, `assumed`, `(to|let) ring (you|your|him|her|the|up|back|now)`, `rung`, `rings? (you|your|him|her|the) vet`,
		`veterinarians?`, `telephones?`, `put away`, `take away`, `take in`, `afar`, `minds you`, `fenced`, `anew`, `shall`, `other than`, `goes by`, `as told`,
		`in bouts`, `quiet exams?`, `quiet readings?`, `expected of`, `lies? within`, `lies? between`, `so steep`, `so straight`, `is called higher`, `tells? (what|how|whether|that)`,
		`fine`, `healthy`, `ok`, `okay`, `normal(ly)?`, `all clear`, `nothing wrong`, `no problems?`, `any cause`, `do(es)? not worry`, `no need to worry`, `harmless`, `all is well`, `nothing to worry about`,
	},
	Spanish: {
		`se apoya en (lo|los|las|la|el|rangos|lecturas|revisiones)`, `esto se apoya`, `supuestos?`, `a falta de`, `lo propio`, `se miró`, `miradas?`, `decir lo que`, `no se sabe nada`, `hembras?`, `vigilar`,
		`salir por azar`, `normal(es|mente)?`, `reportes?`, `sin problemas?`, `no se preocupe`, `todo (está )?bien`, `nada malo`, `no hay de qué`, `inofensiv[oa]s?`, `tranquilícese`, `ok`,
	},
}

// meant are messages in which one of them means what it should.
var meant = map[string]string{
	"remark.digital-pulse-faint": "healthy", // of feet as such: what is compared with
	"sex.mare":                   "hembra",  // of a form that asks it of donkeys and mules too
	"fault.in-foal-not-mare":     "hembra",
	"page.unanswered.on":         "let it ring",
}

// \b of package regexp knows ASCII letters alone.
func phrase(p string) *regexp.Regexp {
	return regexp.MustCompile(`(?i)(?:^|[^\pL])(` + p + `)(?:$|[^\pL])`)
}

func TestNeverSaid(t *testing.T) {
	t.Parallel()
	for lang, list := range never {
		for _, p := range list {
			re := phrase(p)
			for key, text := range all(lang) {
				if m := re.FindStringSubmatch(text); m != nil && !unread(key) && !strings.EqualFold(meant[key], m[1]) {
					t.Errorf("%s %s says %q: %s", lang, key, m[1], text)
				}
			}
		}
	}
}

var conversion = regexp.MustCompile(` \([^()]*\d[^()]*\)`)

// spoken is a message as it is read, with something in its fields: the last form of a choice, a number, or a name.
func spoken(text string) string {
	text = field.ReplaceAllStringFunc(text, func(f string) string {
		name, forms, choice := strings.Cut(strings.Trim(f, "{}"), ":")
		switch {
		case choice:
			return forms[1+strings.LastIndexByte("|"+forms, '|')-1:]
		case len(name) <= 2, slices.Contains([]string{"low", "high", "from", "value", "range", "of"}, name):
			return "12"
		}
		return "Sorrel"
	})
	return conversion.ReplaceAllString(text, "")
}

// spelt are the words of a text. A figure with its unit is one.
func spelt(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("’'-.,/", r)
	})
}

var ends = regexp.MustCompile(`[.!?…:;]+["”»)]*(\s|$)`)

// sentences gives the words of each sentence of a message.
func sentences(text string) (all [][]string) {
	for line := range strings.SplitSeq(spoken(text), "\n") {
		for _, s := range ends.Split(line, -1) {
			var words []string
			for _, w := range spelt(s) {
				if w = strings.Trim(w, "'-.,/"); strings.ContainsFunc(w, unicode.IsLetter) && !slices.Contains([]string{"C", "F", "kg", "cm", "h", "min"}, w) {
					words = append(words, w)
				}
			}
			if len(words) > 0 {
				all = append(all, words)
			}
		}
	}
	return all
}

// kinds of messages: how long their sentences may be, and how hard to read they may be on the whole.
type kind struct {
	name           string
	begins         []string
	words          int     // of a sentence
	grade, fluency float64 // Flesch-Kincaid at most, Fernández Huerta at least
}

// The first that fits. What is read with a hand on the horse is the shortest.
var kinds = []kind{
	{"why", []string{"why.", "source.", "figures.", "plan.", "mark."}, 25, 5, 80},
	{"steps", []string{"sign.", "caution.", "wait.", "act.", "alarm.", "first.", "grade.", "flag."}, 14, 3, 85},
	{"all else", []string{""}, 20, 4, 80},
}

func kindOf(key string) kind {
	return kinds[slices.IndexFunc(kinds, func(k kind) bool {
		return slices.ContainsFunc(k.begins, func(b string) bool { return strings.HasPrefix(key, b) })
	})]
}

// longer is by how much more words the same takes in a language than in English: counted over all messages that both have.
func longer(lang Lang) float64 {
	n := map[Lang]int{}
	english := all(English)
	for key, text := range all(lang) {
		if unread(key) {
			continue
		}
		for l, text := range map[Lang]string{lang: text, "": english[key]} {
			for _, s := range sentences(text) {
				n[l] += len(s)
			}
		}
	}
	return float64(n[lang]) / float64(n[""])
}

func TestSentencesAreShort(t *testing.T) {
	t.Parallel()
	for _, lang := range allLangs {
		more := longer(lang)
		td.Cmp(t, more, td.Between(0.9, 1.3), string(lang))
		for key, text := range all(lang) {
			most := int(float64(kindOf(key).words)*more + .5)
			for _, s := range sentences(text) {
				if len(s) > most && !unread(key) {
					t.Errorf("%s %s: %d words, more than %d: %s", lang, key, len(s), most, strings.Join(s, " "))
				}
			}
		}
	}
}

// Each word is in a list that is changed by hand, so that a word that only we use is seen when it is written.
func TestEveryWordIsKnown(t *testing.T) {
	t.Parallel()
	for _, lang := range allLangs {
		name := "testdata/known_" + string(lang) + ".txt"
		file, err := os.ReadFile(name)
		if err != nil {
			t.Errorf("%s: write every word that the language may say into vitals/words/%s, in order", lang, name)
			continue
		}
		list := strings.Fields(string(file))
		td.CmpTrue(t, slices.IsSorted(list), "%s is in order", name)
		known, used := map[string]bool{}, map[string]bool{}
		for _, w := range list {
			known[w] = true
		}
		for key, text := range all(lang) {
			if unread(key) || strings.HasPrefix(key, "source.") {
				continue
			}
			// All forms of a choice are read by somebody; the names of fields by nobody.
			text = field.ReplaceAllStringFunc(text, func(f string) string {
				_, forms, _ := strings.Cut(strings.Trim(f, "{}"), ":")
				return strings.ReplaceAll(forms, "|", " ")
			})
			for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && r != '’' }) {
				if used[w] = true; !known[w] {
					t.Errorf("%s %s: %q is not in %s: if everybody knows the word, add it there, in order", lang, key, w, name)
				}
			}
		}
		for w := range known {
			td.CmpTrue(t, used[w], "%s: nobody says %q", name, w)
		}
	}
}

// syllables counts the groups of vowels; of English an e at the end is silent. It is a rule of thumb, as in every program for it.
func syllables(lang Lang, word string) int {
	word = strings.ToLower(word)
	n, before := 0, ' '
	for _, r := range word {
		const vowels, alone = "aeiouyáéíóúü", "íú" // í and ú beside another vowel are syllables of their own
		within := strings.ContainsRune(vowels, before)
		if strings.ContainsRune(vowels, r) && (!within || strings.ContainsRune(alone, r) || strings.ContainsRune(alone, before)) {
			n++
		}
		before = r
	}
	if lang == English && n > 1 && strings.HasSuffix(word, "e") && !strings.HasSuffix(word, "le") {
		n--
	}
	return max(1, n)
}

// reading gives the grade of Flesch and Kincaid for English (0.39 words a sentence + 11.8 syllables a word - 15.59: Kincaid, Fishburne, Rogers and
// Chissom 1975, Naval Technical Training Command, Research Branch Report 8-75; from memory), and the ease of Fernández Huerta for Spanish
// (206.84 - 60 syllables a word - 1.02 words a sentence: Fernández Huerta 1959; from memory).
func reading(lang Lang, all [][]string) float64 {
	words, parts := 0, 0
	for _, s := range all {
		words += len(s)
		for _, w := range s {
			parts += syllables(lang, w)
		}
	}
	perSentence, perWord := float64(words)/float64(len(all)), float64(parts)/float64(words)
	if lang == Spanish {
		return 206.84 - 60*perWord - 1.02*perSentence
	}
	return 0.39*perSentence + 11.8*perWord - 15.59
}

// hard are messages of long words that have no shorter ones.
var hard = []string{"advice.heat-dangerous", "plan.fewest", "recovery.trot.again", "warning.medicated", "page.story.changed.hint"}

func TestReadingGrade(t *testing.T) {
	t.Parallel()
	td.Cmp(t, reading(English, [][]string{strings.Fields("The cat sat on the mat")}), td.Between(-1.46, -1.44), "a textbook's example: grade -1.45")
	td.Cmp(t, syllables(English, "temperature"), 4)
	td.Cmp(t, syllables(Spanish, "todavía"), 4)
	for _, lang := range allLangs {
		by := map[string][][]string{}
		for key, text := range all(lang) {
			s := sentences(text)
			if unread(key) {
				continue
			}
			n := 0
			for _, x := range s {
				n += len(x)
			}
			// A label of few words has no grade.
			if got := reading(lang, s); n >= 8 && !slices.Contains(hard, key) && !strings.HasPrefix(key, "figures.") && (lang == English && got > 10 || lang == Spanish && got < 45) {
				t.Errorf("%s %s is too hard to read (%.1f): %s", lang, key, got, text)
			}
			if n >= 4 {
				by[kindOf(key).name] = append(by[kindOf(key).name], s...)
			}
		}
		for _, k := range kinds {
			got := reading(lang, by[k.name])
			t.Logf("%s %s: %d sentences, %.1f", lang, k.name, len(by[k.name]), got)
			if lang == English && got > k.grade || lang == Spanish && got < k.fluency {
				t.Errorf("%s %s is too hard to read: %.1f", lang, k.name, got)
			}
		}
	}
}
