package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	core "whorl.example/wasm/api"

	"whorl.example/vitals"
)

// The record of a sign: the chart and the table are what the library gives of the exams that the page keeps.
func TestChromiumHistory(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.touch("Juniper")
	p.heading("Juniper")
	p.touch("#history")
	p.heading(strings.ReplaceAll(english("page.usual.title"), "{name}", "Juniper"))
	p.look("signs")
	p.touch("Heart rate")
	p.until("document.querySelector('.chart svg')")
	p.look("history")
	got := eval[[]string](p, "[...document.querySelectorAll('.record tbody tr')].map(r => r.querySelector('th button').textContent + '|' + r.querySelector('td').firstChild.textContent)")
	var exams []json.RawMessage
	for _, e := range stored[json.RawMessage](p, "exams") {
		if strings.Contains(string(e), `"horse":"demo-juniper"`) {
			exams = append(exams, e)
		}
	}
	var horse json.RawMessage
	for _, h := range stored[json.RawMessage](p, "horses") {
		if strings.Contains(string(h), `"demo-juniper"`) {
			horse = h
		}
	}
	request, err := json.Marshal(map[string]any{"horse": horse, "exams": exams, "sign": vitals.HeartRate, "at": "2099-01-01T10:00:00Z"})
	p.must(err)
	var said struct {
		OK    bool
		Value struct{ Rows []struct{ Day, Value string } }
	}
	p.must(json.Unmarshal(core.Call("history", request), &said))
	var want []string
	for _, r := range said.Value.Rows {
		want = append(want, r.Day+"|"+r.Value)
	}
	td.Cmp(t, len(want) > 3, true)
	td.Cmp(t, got, want)
	// The screen reader gets a title and a sentence of the chart.
	td.Cmp(t, eval[string](p, "document.querySelector('.chart svg[role=img] title').textContent"), td.Contains("readings"))
	// A row leads to its exam.
	p.touch(".record tbody button")
	p.until("document.querySelector('.found, .told h2, .told details')")
	p.look("result")
	// Of a graded sign there is a table.
	toSign(p, "gum-colour")
	p.until("document.querySelector('.record tbody tr')")
	td.Cmp(t, eval[bool](p, "!document.querySelector('.chart svg')"), true)
	p.look("history-graded")
}

func toSign(p *phone, sign string) {
	eval[bool](p, "(location.hash = '#/horse/demo-juniper/history/"+sign+"', true)")
	p.until("document.querySelector('.screen').dataset.at.endsWith('" + sign + "')")
}

// Any two exams of a horse stand side by side; what one of them did not look at says so.
func TestChromiumPair(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.touch("Juniper")
	p.heading("Juniper")
	p.touch("#pair")
	p.heading(english("page.pair.which"))
	p.touch("#go")
	p.until("document.activeElement?.classList.contains('summary')")
	var mine []vitals.Exam
	for _, e := range stored[vitals.Exam](p, "exams") {
		if e.Horse == "demo-juniper" {
			mine = append(mine, e)
		}
	}
	a, b := mine[0], mine[len(mine)-1]
	p.look("which")
	p.touch("[value='" + string(b.ID) + "']")
	p.touch("[value='" + string(a.ID) + "']")
	p.touch("#go")
	p.heading(english("page.pair.title"))
	p.until("document.querySelector('.pair .record tbody tr')")
	p.look("pair")
	if a.At.After(b.At) {
		a, b = b, a
	}
	value := func(e vitals.Exam) string {
		for _, f := range e.Findings {
			if f.Sign == vitals.HeartRate {
				return shown(t, f)
			}
		}
		return english("page.unchecked")
	}
	got := eval[[]string](p, `(() => { const row = [...document.querySelectorAll('.record tbody tr')].find(r => r.querySelector('th').firstChild.textContent === 'Heart rate');
		return [...row.querySelectorAll('td')].map(d => (d.querySelector('strong, .value') ?? d).textContent); })()`)
	td.Cmp(t, got, []string{value(a), value(b)})
}
