package main

import (
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"whorl.example/vitals/words"
)

// messages are the texts of the page as it loads them: the keys once for all languages, and the
// texts of a language in the order of the keys. What the page itself says comes first, since the first
// screen waits for it; what only the core says comes with the core.
type messages struct{ page, core []string }

// mayBeKey is a literal of the page's source that may be a key, or with "${" or a full stop behind it
// the beginning of one.
var mayBeKey = regexp.MustCompile("['\"`]([a-z][A-Za-z0-9.-]*)(\\$\\{)?")

// readMessages finds out from the page's sources which keys it says.
func readMessages(sources []string) (m messages, err error) {
	named := map[string]bool{}
	var begun []string
	for _, name := range sources {
		text, err := os.ReadFile(name)
		if err != nil {
			return m, err
		}
		for _, literal := range mayBeKey.FindAllStringSubmatch(string(text), -1) {
			if key := literal[1]; literal[2] != "" || strings.HasSuffix(key, ".") {
				begun = append(begun, key)
			} else {
				named[key] = true
			}
		}
	}
	for key := range allWords(words.English) {
		switch {
		case named[key] || slices.ContainsFunc(begun, func(b string) bool { return strings.Contains(b, ".") && strings.HasPrefix(key, b) }):
			m.page = append(m.page, key)
		case !strings.HasPrefix(key, "page."): // the others stand in the HTML
			m.core = append(m.core, key)
		}
	}
	slices.Sort(m.page)
	slices.Sort(m.core)
	return m, nil
}

// texts are what a language says, in the order of keys.
func texts(lang words.Lang, keys []string) []string {
	all := allWords(lang)
	out := make([]string, len(keys))
	for i, key := range keys {
		out[i] = all[key]
	}
	return out
}

// packKeys writes sorted keys line by line: how many parts a key shares with the one before, one digit,
// and the rest of it. words.ts reads that.
func packKeys(keys []string) string {
	var out []string
	var before []string
	for _, key := range keys {
		parts, same := strings.Split(key, "."), 0
		for same < min(len(parts)-1, len(before), 9) && parts[same] == before[same] {
			same++
		}
		out = append(out, strconv.Itoa(same)+strings.Join(parts[same:], "."))
		before = parts
	}
	return strings.Join(out, "\n")
}

// keyed gives the demo barn with the keys of its texts in their place, so that it is said in each language.
func keyed(demo []byte) []byte {
	text := string(demo)
	for key, said := range words.Page(words.English) {
		if strings.HasPrefix(key, "page.demo.text.") {
			text = strings.ReplaceAll(text, quote(said), quote(key))
		}
	}
	return []byte(text)
}
