package report

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// telling is one language and one animal: everything that the sentences need to agree with.
type telling struct {
	lang words.Lang
	sex  vitals.Sex
	kind string // animals like it: "donkeys"
	name string
}

// nameWords is how many words of a long name a sentence says.
const nameWords = 6

// about is how a horse is spoken of.
func about(horse vitals.Horse, lang words.Lang) telling {
	t := telling{lang: lang, sex: horse.Sex}
	t.kind = t.say("kinds")
	if slices.Contains(vitals.Types(), horse.Type) {
		t.kind = t.say("kinds." + string(horse.Type))
	}
	if t.name, _ = clip(bare(horse.Name), nameWords); t.name == "" {
		t.name = t.say("name.none")
	}
	return t
}

// say gives a sentence with the animal's pronouns, its kind and its name.
func (t telling) say(key string, args ...string) string {
	return words.Say(t.lang, key, append(args, "sex", string(t.sex), "kind", t.kind, "name", t.name)...)
}

// first gives the sentence of the first key that the language has, else id in plain words.
func (t telling) first(id string, keys ...string) string {
	for _, key := range keys {
		if words.Has(t.lang, key) || words.Has(words.English, key) {
			return t.say(key)
		}
	}
	return strings.ReplaceAll(clean(id), "-", " ")
}

// sign names a sign as it is spoken, with its site where each site has its own normal or
// the sign is asked at several in turn.
func (t telling) sign(id vitals.SignID, site vitals.SiteID) string {
	name := t.first(string(id), "sign."+string(id)+".say", "sign."+string(id))
	if site == "" || !t.bySite(id) {
		return name
	}
	return t.say("report.at", "sign", name, "site", t.site(site))
}

// bySite reports whether the site belongs to the sign's name. A sign that the catalogue
// does not have keeps its site.
func (t telling) bySite(id vitals.SignID) bool {
	sign, ok := vitals.Lookup(id)
	return !ok || sign.PerSite || sign.Again
}

func (t telling) site(id vitals.SiteID) string { return t.first(string(id), "site."+string(id)) }

func (t telling) sites(ids []vitals.SiteID) string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = t.site(id)
	}
	return t.list(names)
}

func (t telling) grade(sign vitals.SignID, id vitals.GradeID) string {
	return t.inside(string(id), "grade."+string(sign)+"."+string(id))
}

// answers says the chosen answers of a graded sign and where they were seen.
func (t telling) answers(sign vitals.SignID, chosen []vitals.GradeID, where []vitals.SiteID) string {
	names := make([]string, len(chosen))
	for i, id := range chosen {
		names[i] = t.grade(sign, id)
	}
	said := t.list(names)
	if len(where) > 0 {
		said += " (" + t.sites(where) + ")"
	}
	return said
}

// list joins names with commas and the language's "and".
func (t telling) list(names []string) string {
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	last := len(names) - 1
	and := "list.and"
	if soundsI(names[last]) {
		and = "list.and.i"
	}
	return strings.Join(names[:last], ", ") + t.say(and) + names[last]
}

// soundsI reports whether a word begins with the vowel i, before which Spanish says "e"
// for "y"; "hie" and "hia" begin with a consonant.
func soundsI(word string) bool {
	word = strings.TrimPrefix(strings.ToLower(word), "h")
	if strings.HasPrefix(word, "í") {
		return true
	}
	rest, i := strings.CutPrefix(word, "i")
	return i && !strings.HasPrefix(rest, "e") && !strings.HasPrefix(rest, "a")
}

// number writes small numbers as words.
func (t telling) number(n int) string {
	key := "number." + itoa(n)
	if words.Has(t.lang, key) || words.Has(words.English, key) {
		return t.say(key)
	}
	return itoa(n)
}

// inside gives the words of an answer as they stand inside a sentence. Answers begin with
// a capital, because they stand alone in the form.
func (t telling) inside(id string, keys ...string) string { return lowerFirst(t.first(id, keys...)) }

// lowerFirst gives a text with a small first letter, unless its first word is all capitals.
func lowerFirst(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	next, _ := utf8.DecodeRuneInString(text[n:])
	if n == 0 || r == utf8.RuneError || unicode.IsUpper(next) {
		return text
	}
	return string(unicode.ToLower(r)) + text[n:]
}

// upper gives a text with its first letter as a capital.
func upper(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 || r == utf8.RuneError {
		return text
	}
	return string(unicode.ToUpper(r)) + text[n:]
}
