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
// texts of a language in the order of the keys. What the screens of the first script say comes first, since
// the first screen waits for it; then what the other screens say; what only the core says comes with the core.
type messages struct{ page, later, core []string }

// mayBeKey is a literal of the page's source that may be a key, or with "${" or a full stop behind it
// the beginning of one.
var mayBeKey = regexp.MustCompile("['\"`]([a-z][A-Za-z0-9.-]*)(\\$\\{)?")

// sayers are sources, and which keys they say.
type sayers struct {
	named map[string]bool
	begun []string
}

func readSayers(sources []string) (s sayers, err error) {
	s.named = map[string]bool{}
	for _, name := range sources {
		text, err := os.ReadFile(name)
		if err != nil {
			return s, err
		}
		for _, literal := range mayBeKey.FindAllStringSubmatch(string(text), -1) {
			if key := literal[1]; literal[2] != "" || strings.HasSuffix(key, ".") {
				s.begun = append(s.begun, key)
			} else {
				s.named[key] = true
			}
		}
	}
	return s, nil
}

func (s sayers) say(key string) bool {
	return s.named[key] || slices.ContainsFunc(s.begun, func(b string) bool { return strings.Contains(b, ".") && strings.HasPrefix(key, b) })
}

// readMessages finds out from the page's sources which keys it says; first are those of the first script.
func readMessages(sources, first []string) (m messages, err error) {
	every, err := readSayers(sources)
	if err != nil {
		return m, err
	}
	early, err := readSayers(first)
	if err != nil {
		return m, err
	}
	for key := range allWords(words.English) {
		switch {
		case early.say(key):
			m.page = append(m.page, key)
		case every.say(key):
			m.later = append(m.later, key)
		case !strings.HasPrefix(key, "page."): // the others stand in the HTML
			m.core = append(m.core, key)
		}
	}
	for _, list := range [][]string{m.page, m.later, m.core} {
		slices.Sort(list)
	}
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
