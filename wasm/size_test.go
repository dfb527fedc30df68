package wasm_test

import (
	"bytes"
	"compress/gzip"
	"sync"
	"testing"

	"github.com/andybalholm/brotli"

	"whorl.example/vitals/words"
	"whorl.example/wasm"
)

const (
	// goal is the most that a phone on a bad line should have to fetch of the core, in bytes
	// under brotli at quality 11: 7 s at 1 Mbit/s, once.
	goal = 850_000
	// budget is what it weighs today with a little room, so that it does not grow unseen.
	budget = 950_000
)

// core is the page's, built once for all tests.
var core = sync.OnceValues(func() ([]byte, error) { return wasm.BuildPageCore(root) })

// The core is built as the page ships it, measured, and held to its budget.
func TestCoreSize(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the core and compresses it: about 15 s")
	}
	raw, err := core()
	if err != nil {
		t.Fatal(err)
	}
	var gz, br bytes.Buffer
	zip, err := gzip.NewWriterLevel(&gz, gzip.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	squeeze := brotli.NewWriterLevel(&br, brotli.BestCompression)
	for _, err := range []error{write(zip, raw), zip.Close(), write(squeeze, raw), squeeze.Close()} {
		if err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("core.wasm: %d bytes, gzip %d, brotli %d; budget %d, goal %d", len(raw), gz.Len(), br.Len(), budget, goal)
	if br.Len() > budget {
		t.Errorf("the core is %d bytes over its budget", br.Len()-budget)
	}
}

func write(w interface{ Write([]byte) (int, error) }, data []byte) error {
	_, err := w.Write(data)
	return err
}

// A language is one file, and the linker leaves out what only the page says.
func TestTheCoreDoesNotCarryTheWordsOfThePage(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the core")
	}
	raw, err := core()
	if err != nil {
		t.Fatal(err)
	}
	if text := words.Say(words.English, "fault.bad-text"); !bytes.Contains(raw, []byte(text)) {
		t.Fatalf("the core lacks %q, so that this test shows nothing", text)
	}
	for _, lang := range words.Langs {
		said := map[string]bool{}
		for _, text := range words.Keys(lang) {
			said[text] = true
		}
		for key, text := range words.Page(lang) {
			if len(text) > 25 && !said[text] && bytes.Contains(raw, []byte(text)) {
				t.Errorf("the core carries %s %s: %s", lang, key, text)
			}
		}
	}
}
