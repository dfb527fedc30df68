// Package words holds every word that a person reads, a list of tables for each language, and puts
// facts into its sentences. A further language is tables with the same keys, and
// its name in [Langs], [Page] and messages (built.go).
//
// A sentence is text with fields in braces:
//
//	{name}               the argument of that name
//	{n:exam|exams}       one form for n = 1, the other for every other number
//	{sex:her|his|its}    by sex: mare, gelding or stallion, not known; of four forms, stallion is the third
//	{sex:...} takes the values "mare", "gelding", "stallion" and "".
//
// A brace that opens no known field stands as it is.
package words

import (
	"maps"
	"slices"
	"strings"
)

// Lang is a BCP 47 language tag that has messages.
type Lang string

const (
	// English is the language of the fault sentences in Go errors, and the default.
	English Lang = "en"
	// Spanish as it is spoken in barns of the United States and Mexico.
	Spanish Lang = "es"
)

// table is messages of one language by key.
type table map[string]string

// tables are what one language says, each key in one of them. They are named by address and put together when they are
// asked for: only so does the linker leave out the words that a program does not use.
type tables []*table

func (all tables) find(key string) (string, bool) {
	for _, t := range all {
		if text, ok := (*t)[key]; ok {
			return text, true
		}
	}
	return "", false
}

func (all tables) together() map[string]string {
	out := map[string]string{}
	for _, t := range all {
		maps.Copy(out, *t)
	}
	return out
}

// Langs lists the languages that have a file, English first.
func Langs() []Lang { return slices.Clone(allLangs) }

var allLangs = []Lang{English, Spanish}

// Page gives the messages that only the page says, by key; none in a language without a
// file. The map is a copy. Nothing else names these tables, so that the linker leaves them
// out of a program that does not call Page, as the core in the browser does not.
func Page(l Lang) map[string]string {
	if all := page(l); all != nil {
		return all.together()
	}
	return nil
}

func page(l Lang) tables {
	switch l {
	case English:
		return pageEnglish
	case Spanish:
		return pageSpanish
	}
	return nil
}

// Known reports whether the language has a file.
func Known(l Lang) bool { _, ok := messages(l); return ok }

// Act says what is done first: before the call, or by itself where nobody calls yet.
func Act(l Lang, act string, calls bool) string {
	if key := "act." + act + ".again"; !calls && Has(l, key) {
		return Say(l, key)
	}
	return Say(l, "act."+act)
}

// Has reports whether a key exists in a language.
func Has(l Lang, key string) bool {
	all, _ := messages(l)
	_, ok := all.find(key)
	return ok
}

// Keys gives the messages of a language by key, as the page takes them. The map is a copy.
func Keys(l Lang) map[string]string {
	all, _ := messages(l)
	return all.together()
}

// Say gives the sentence of key in language l, with args (name, value, name, value) put
// in. A key that the language lacks is said in English; one that English lacks comes back
// as the key itself, so that a gap shows and nothing is lost.
func Say(l Lang, key string, args ...string) string {
	all, _ := messages(l)
	text, ok := all.find(key)
	if !ok {
		all, _ = messages(English)
		if text, ok = all.find(key); !ok {
			return key
		}
	}
	return Fill(text, args...)
}

// Fault gives the sentence of a fault's code, with what may have been meant where the fact "near" names it.
func Fault(l Lang, code string, args ...string) string {
	said := Say(l, "fault."+code, args...)
	for i := 0; i+1 < len(args); i += 2 {
		if args[i] == "near" && args[i+1] != "" {
			said += " " + Say(l, "fault.near", args...)
		}
	}
	return said
}

// Fill puts args into a sentence.
func Fill(text string, args ...string) string {
	if !strings.Contains(text, "{") {
		return text
	}
	var b strings.Builder
	for {
		open := strings.IndexByte(text, '{')
		if open < 0 {
			break
		}
		end := strings.IndexByte(text[open:], '}')
		if end < 0 {
			break
		}
		b.WriteString(text[:open])
		field := text[open+1 : open+end]
		if said, ok := fill(field, args); ok {
			b.WriteString(said)
		} else {
			b.WriteString(text[open : open+end+1])
		}
		text = text[open+end+1:]
	}
	b.WriteString(text)
	return b.String()
}

func fill(field string, args []string) (string, bool) {
	name, forms, choice := strings.Cut(field, ":")
	for i := 0; i+1 < len(args); i += 2 {
		if args[i] != name {
			continue
		}
		if !choice {
			return args[i+1], true
		}
		return choose(strings.Split(forms, "|"), args[i+1]), true
	}
	return "", false
}

// choose picks a form by number (two forms) or by sex (three or four).
func choose(forms []string, value string) string {
	i := len(forms) - 1
	switch {
	case value == "mare", value == "1":
		i = 0
	case value == "stallion" && len(forms) == 4:
		i = 2
	case (value == "gelding" || value == "stallion") && len(forms) > 2:
		i = 1
	}
	return forms[i]
}

// Turns reports whether a character is a command of Unicode's bidirectional algorithm: one that is left open in a
// name turns the figures behind it around, and 56 is read as 65.
func Turns(r rune) bool {
	return r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 || r == 0x200E || r == 0x200F || r == 0x061C
}

// Inside makes the quotation marks of a text apostrophes, so that it stays inside those that are put around it.
func Inside(text string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune("“”«»\"", r) {
			return '\''
		}
		return r
	}, text)
}
