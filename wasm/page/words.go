// Package page holds the words that only the page says: its buttons, questions about the
// exam as a whole, and faults of typing. They stand here and not in whorl.example/vitals/words,
// so that the core does not carry what it never says. The sentences have the same fields.
package page

import (
	"maps"

	"whorl.example/vitals/words"
)

var tables = map[words.Lang]map[string]string{words.English: english}

// Words gives the page's own messages of a language by key; the map is the caller's own.
// A key that the language lacks is in English.
func Words(l words.Lang) map[string]string {
	out := maps.Clone(english)
	maps.Copy(out, tables[l])
	return out
}
