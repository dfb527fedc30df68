package main

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"testing"

	"whorl.example/vitals/words"
)

// In bytes under brotli at quality 11: what a visitor of one language may have to fetch besides the core, what
// of it the first screen waits for, and what all languages together weigh today with a little room.
const (
	budget      = 90_000
	firstBudget = 56_000
	allBudget   = 110_000
)

// Everything but the core is held to its budget, file by file in the log. The page as one file is a shipment of its own.
func TestPageSize(t *testing.T) {
	root, err := moduleRoot()
	if err != nil {
		t.Fatal(err)
	}
	site, err := buildAround([]byte("any core"), root)
	if err != nil {
		t.Fatal(err)
	}
	delete(site.files, oneName)
	site.compress(thorough)
	index := string(site.files["index.html"].data)
	var names []string
	for name := range site.files {
		names = append(names, name)
	}
	slices.Sort(names)
	var log strings.Builder
	sizes, first, all := map[words.Lang]int{}, map[words.Lang]int{}, 0
	for _, name := range names {
		if path.Ext(name) == ".wasm" {
			continue
		}
		size := site.files[name].smallest()
		fmt.Fprintf(&log, "%-36s %7d\n", name, size)
		all += size
		ofWhom := words.Langs
		for _, lang := range words.Langs {
			if strings.HasPrefix(name, "messages-"+string(lang)+"-") || strings.HasPrefix(name, "told-"+string(lang)+"-") {
				ofWhom = []words.Lang{lang}
			}
		}
		needed := name == "index.html" || strings.HasPrefix(name, "messages-") || strings.HasPrefix(name, "demo-") ||
			strings.Contains(index, name) && (path.Ext(name) == ".js" || path.Ext(name) == ".css")
		for _, lang := range ofWhom {
			sizes[lang] += size
			if needed {
				first[lang] += size
			}
		}
	}
	for _, lang := range words.Langs {
		fmt.Fprintf(&log, "%s: %d, budget %d; the first screen waits for %d, budget %d\n", lang, sizes[lang], budget, first[lang], firstBudget)
		if sizes[lang] > budget || first[lang] > firstBudget {
			t.Errorf("%s is over its budget", lang)
		}
	}
	if all > allBudget {
		t.Errorf("all languages together are over their budget")
	}
	t.Logf("\n%sall languages: %d, budget %d", log.String(), all, allBudget)
}
