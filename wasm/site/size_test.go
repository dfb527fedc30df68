package main

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"testing"

	"whorl.example/vitals/words"
	"whorl.example/wasm/site/static"
)

// In bytes under brotli at quality 11: what the first screen of one language waits for; everything else but the core, with
// the other languages, the licences and the drawings; and what the core says in all languages, which goes with
// the core (see core/size_test.go). The last two together stay under 130,000.
const (
	firstBudget = 60_000
	laterBudget = 100_000
	saidBudget  = 27_000
)

// Everything but the core is held to its budget, file by file in the log. The page as one file is a shipment of its own.
func TestPageSize(t *testing.T) {
	t.Parallel()
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	site, err := buildAround([]byte("\x00asm\x01\x00\x00\x00"), root)
	if err != nil {
		t.Fatal(err)
	}
	delete(site.Files, static.OneName)
	site.Compress(static.Thorough)
	index := string(site.Files["index.html"].Data)
	var names []string
	for name := range site.Files {
		names = append(names, name)
	}
	slices.Sort(names)
	var log strings.Builder
	page, said, first := 0, 0, map[words.Lang]int{}
	for _, name := range names {
		size := site.Files[name].Smallest()
		kind := name[:max(0, strings.IndexByte(name, '-'))]
		switch {
		case path.Ext(name) == ".wasm", kind == "picture", kind == "manifest": // the two are for who installs the page
			continue
		case kind == "told" || kind == "keys": // in each language, and by which names
			said += size
		default:
			page += size
		}
		fmt.Fprintf(&log, "%-36s %7d\n", name, size)
		needed := name == "index.html" || kind == "messages" || kind == "demo" ||
			strings.Contains(index, name) && (path.Ext(name) == ".js" || path.Ext(name) == ".css")
		if !needed {
			continue
		}
		for _, lang := range words.Langs() {
			if kind != "messages" || strings.HasPrefix(name, "messages-"+string(lang)+"-") {
				first[lang] += size
			}
		}
	}
	later := page - first[words.English]
	fmt.Fprintf(&log, "after the first screen: %d, budget %d; what the core says: %d, budget %d\n", later, laterBudget, said, saidBudget)
	if later > laterBudget || said > saidBudget {
		t.Errorf("over the budget")
	}
	for _, lang := range words.Langs() {
		fmt.Fprintf(&log, "%s: the first screen waits for %d, budget %d\n", lang, first[lang], firstBudget)
		if first[lang] > firstBudget {
			t.Errorf("%s: the first screen waits for too much", lang)
		}
	}
	t.Logf("\n%s", log.String())
}
