package main

import (
	"maps"
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
	t.Parallel()
	sources, err := pageSources("../page/src")
	if err != nil || len(sources) == 0 {
		t.Fatal("no sources", err)
	}
	named := map[string]bool{}
	var begun []string // 'page.way.' + x
	key := regexp.MustCompile("['\"`]((?:page|absence|wellness|effort|course|ask|depth|purpose|condition|holder)\\.[A-Za-z0-9.-]*)(\\$\\{)?")
	for _, name := range append(sources, "../page/index.html", "build.go", "book.go", "manifest.go") {
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

// A key that begins with a value cannot be found in the sources, so the page would not have its words.
func TestEveryKeyBeginsInTheSource(t *testing.T) {
	t.Parallel()
	sources, err := pageSources("../page/src")
	if err != nil || len(sources) == 0 {
		t.Fatal("no sources", err)
	}
	unknown := regexp.MustCompile("\\b(?:say|sayFirst|optional|hasMessage)\\(\\[?`\\$\\{")
	for _, name := range sources {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range unknown.FindAll(text, -1) {
			t.Errorf("%s: %s", name, m)
		}
	}
	// What a vet asks is named in lists of the source: each has its words.
	text, err := os.ReadFile("../page/src/screens/report/callscript.ts")
	if err != nil {
		t.Fatal(err)
	}
	lists := regexp.MustCompile(`(?s)const general = .*?\n};`).Find(text)
	asked := regexp.MustCompile(`'([a-z-]+)'`).FindAllSubmatch(lists, -1)
	if len(asked) < 60 {
		t.Fatalf("only %d questions read", len(asked))
	}
	for _, m := range asked {
		for _, lang := range words.Langs() {
			if _, ok := allWords(lang)["page.q."+string(m[1])]; !ok {
				t.Errorf("%s: nobody can read the question %s", lang, m[1])
			}
		}
	}
}

// keysShown finds keys of messages among the texts on the screen: a word that the page has not.
func keysShown(p *phone) []string {
	p.t.Helper()
	families := map[string]bool{}
	for key := range allWords(words.English) {
		if family, _, more := strings.Cut(key, "."); more {
			families[family] = true
		}
	}
	return eval[[]string](p, `(() => {
		const found = [], key = /(?:^|[\s"“«(,:·–])((?:`+strings.Join(slices.Sorted(maps.Keys(families)), "|")+`)\.[a-z][\w.-]*)/g;
		const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
		while (walk.nextNode()) if (!walk.currentNode.parentElement.closest('script, noscript')) for (const m of walk.currentNode.textContent.matchAll(key)) found.push(m[1]);
		for (const e of document.querySelectorAll('[aria-label]')) for (const m of e.ariaLabel.matchAll(key)) found.push(m[1]);
		return found;
	})()`)
}

func keysOf(m map[string]string) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	return out
}
