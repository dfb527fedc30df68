package main

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// The demo barn is a barn file like any other: strictly read, in canonical form, and only
// of animals that are marked as invented.
func TestDemoBarn(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../page/demo/barn.json")
	if err != nil {
		t.Fatal(err)
	}
	file, err := schema.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	again, err := schema.Encode(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(again) != string(text) {
		if os.Getenv("WHORL_UPDATE") == "" {
			t.Fatal("not in canonical form; WHORL_UPDATE=1 writes it so")
		}
		if err := os.WriteFile("../page/demo/barn.json", again, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	exams := map[vitals.ID]int{}
	for _, e := range file.Exams {
		exams[e.Horse]++
	}
	fewest, most := len(file.Exams), 0
	for _, h := range file.Horses {
		if len(h.ID) < 5 || h.ID[:5] != "demo-" {
			t.Errorf("%s is not marked as invented", h.ID)
		}
		fewest, most = min(fewest, exams[h.ID]), max(most, exams[h.ID])
	}
	if len(file.Horses) < 4 || fewest != 0 || most < 12 {
		t.Errorf("%d horses with %d to %d exams: a demo needs four, from none to a dozen", len(file.Horses), fewest, most)
	}
}

// Every text of the demo barn is said in every language; names and numbers stay.
func TestDemoBarnHasItsWords(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../page/demo/barn.json")
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	for key, text := range words.Page(words.English) {
		if strings.HasPrefix(key, "page.demo.text.") {
			said[text] = false
		}
	}
	for _, m := range regexp.MustCompile(`"([^"]*[a-z] [^"]*)"|"role": *"([^"]*)"`).FindAllStringSubmatch(string(text), -1) {
		found := m[1] + m[2]
		if _, ok := said[found]; !ok {
			t.Errorf("%q of the demo barn has no words", found)
		}
		said[found] = true
	}
	for text, used := range said {
		if !used {
			t.Errorf("%q is not of the demo barn", text)
		}
	}
}
