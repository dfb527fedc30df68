package main

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"whorl.example/vitals/words"
)

// Every word on screen comes from the message files: each key that the page's source names
// is in them, and each page key is named in the source.
func TestEveryWordOfThePageIsInTheFile(t *testing.T) {
	sources, err := pageSources("../page/src")
	if err != nil || len(sources) == 0 {
		t.Fatal("no sources", err)
	}
	named := map[string]bool{}
	var begun []string // 'page.way.' + x
	key := regexp.MustCompile("['\"`]((?:page|absence|wellness|effort|course|ask|depth|purpose|condition|holder)\\.[A-Za-z0-9.-]*)(\\$\\{)?")
	for _, name := range append(sources, "../page/index.html", "build.go", "book.go") {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range key.FindAllStringSubmatch(string(text), -1) {
			if m[2] != "" || strings.HasSuffix(m[1], ".") {
				begun = append(begun, m[1])
			} else {
				named[m[1]] = true
			}
		}
	}
	all := allWords(words.English)
	for k := range named {
		if _, ok := all[k]; !ok {
			t.Errorf("the page says %q, which the English messages lack", k)
		}
	}
	for _, b := range begun {
		if b == "page." {
			continue
		}
		if !slices.ContainsFunc(keysOf(all), func(k string) bool { return strings.HasPrefix(k, b) }) {
			t.Errorf("the page says %q…, and the English messages have none such", b)
		}
	}
	for k := range all {
		if !strings.HasPrefix(k, "page.") || named[k] {
			continue
		}
		if !slices.ContainsFunc(begun, func(b string) bool { return b != "page." && strings.HasPrefix(k, b) }) {
			t.Errorf("%q is in the English messages and nothing says it", k)
		}
	}
}

func keysOf(m map[string]string) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	return out
}
