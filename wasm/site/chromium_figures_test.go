package main

import (
	"encoding/json"
	"strconv"
	"testing"

	"whorl.example/vitals/words"
)

// The page of sources by touch: every row that the library gives is on it, and so is whose software is in the page.
func TestChromiumFigures(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.touch(english("page.figures"))
	p.heading(english("page.figures"))
	var figures struct {
		Parts []struct {
			Heading string
			Rows    []any
		}
		Works []string
	}
	told, err := ask("figures", map[string]any{"lang": words.English})
	p.must(err)
	p.must(json.Unmarshal(told, &figures))
	rows := 0
	for _, part := range figures.Parts {
		rows += len(part.Rows)
	}
	p.until("document.querySelectorAll('ul.figures > li').length === " + strconv.Itoa(rows))
	p.until("document.querySelectorAll('ol.figures > li').length === " + strconv.Itoa(len(figures.Works)))
	p.look("figures")
	p.touch(figures.Parts[0].Heading + " (" + strconv.Itoa(len(figures.Parts[0].Rows)) + ")")
	p.until("document.querySelector('ul.figures').checkVisibility()")
	p.look("figures-open")
	p.touch(english("page.licences"))
	p.until("document.querySelector('.licences').checkVisibility()")
	p.until("['Copyright 2009 The Go Authors', 'Spring, Inc.', 'Evan Wallace', 'Apache License', 'rsc.io/qr'].every(of => document.querySelector('.licences').textContent.includes(of))")
	p.look("licences")
}
