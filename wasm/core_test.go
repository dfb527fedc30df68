package wasm_test

import (
	"bytes"
	"sync"
	"testing"

	"whorl.example/vitals/words"
	"whorl.example/wasm"
)

// core is the page's, built once for all tests.
var core = sync.OnceValues(func() ([]byte, error) {
	c, err := wasm.BuildPageCore(root)
	if err != nil {
		return nil, err
	}
	return c.Module, nil
})

// The page has the words and hands them over: its core carries those of no language.
func TestTheCoreOfThePageCarriesNoWords(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("left out by -short: builds the core")
	}
	raw, err := core()
	if err != nil {
		t.Fatal(err)
	}
	looked := 0
	for _, lang := range words.Langs() {
		for _, said := range []map[string]string{words.Keys(lang), words.Page(lang)} {
			for key, text := range said {
				switch {
				case len(text) <= 25:
					continue // it may be something else
				case key == "fault.internal", key == "mark.memory":
					continue // package browser says the one where nothing else can; notes of figures say the other
				}
				looked++
				if bytes.Contains(raw, []byte(text)) {
					t.Errorf("the core carries %s %s: %s", lang, key, text)
				}
			}
		}
	}
	if looked < 500 {
		t.Errorf("only %d messages looked for", looked)
	}
}
