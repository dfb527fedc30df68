package main

import (
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm/internal/naughty"

	"whorl.example/vitals"
)

// watchful notes whatever runs that is not the page's: a dialog, a fault of a script, a breach of the policy, an element
// that no screen makes.
const watchful = `
globalThis.hits = [];
for (const name of ['alert', 'confirm', 'prompt', 'open']) globalThis[name] = (...a) => { hits.push(name + ' ' + a); };
addEventListener('error', e => hits.push('error ' + (e.message ?? e.target?.src)), true);
addEventListener('securitypolicyviolation', e => hits.push('policy ' + e.violatedDirective + ' ' + e.blockedURI));
globalThis.wrong = () => {
	const out = hits.splice(0);
	for (const e of document.querySelectorAll('#app script, #app iframe, #app img, #app object, #app embed, #app video, #app audio, #app link, #app style, #app form, #app base, #app meta'))
		out.push('an element ' + e.outerHTML.slice(0, 80));
	for (const e of document.querySelectorAll('#app *')) for (const a of e.attributes) {
		if (a.name.startsWith('on')) out.push('a handler ' + a.name);
		if (/^(href|src|action)$/.test(a.name) && !/^(tel:|blob:|#|https?:)/.test(a.value)) out.push('an address ' + a.value.slice(0, 80));
	}
	if (document.documentElement.scrollWidth > innerWidth) out.push('wider than the screen: ' + document.documentElement.scrollWidth);
	if (!document.querySelector('h1')?.textContent || !document.querySelector('.foot, .aloud')) out.push('no screen');
	const trouble = document.getElementById('trouble').textContent;
	if (trouble) out.push('trouble: ' + trouble);
	return out;
};`

type text struct {
	Input    string `json:"input"`
	Textarea string `json:"textarea"`
}

// joined are strings put together, a line's worth and a note's worth at a time, so that every one of them is in some field.
func joined(list []string) (out []text) {
	pack := func(most int) (out []string) {
		for _, s := range list {
			if n := len(out); n > 0 && len([]rune(out[n-1]))+1+len([]rune(s)) <= most {
				out[n-1] += " " + s
			} else {
				out = append(out, s)
			}
		}
		return out
	}
	lines, notes := pack(vitals.MaxName), pack(vitals.MaxNote)
	for i := range max(len(lines), len(notes)) {
		out = append(out, text{lines[i%len(lines)], notes[i%len(notes)]})
	}
	return out
}

func hostile(t *testing.T, b *phone) {
	t.Helper()
	_, err := chromedp.Call(b.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: watchful})
	b.must(err)
	b.must(chromedp.Listen(b.ctx, func(event any) {
		if e, ok := event.(*page.EventJavascriptDialogOpening); ok {
			t.Errorf("a dialog opened: %s", e.Message)
		}
	}))
}

// What was typed is read again where it is shown: a horse and an exam made of hostile strings on every screen that tells
// of them, opened from a link by another, and on paper.
func TestHostileStringsAreOnlyRead(t *testing.T) {
	t.Parallel()
	file := sorrelBarn(t)
	fits := func(s string, most int) bool {
		h := vitals.Horse{ID: "h", Name: "x", Type: vitals.TypeHorse, Breed: s}
		if most == vitals.MaxNote {
			h.Breed, h.Notes = "", s
		}
		return len(vitals.CheckHorse(h)) == 0 && strings.TrimSpace(s) == s && s != ""
	}
	var lines []string
	for _, x := range joined(naughty.Strings()) {
		if fits(x.Input, vitals.MaxName) {
			lines = append(lines, x.Input)
		}
	}
	td.Require(t).Cmp(len(lines), td.Gt(50))
	n := 0
	next := func() string { n++; return lines[(n*7)%len(lines)] }
	rounds := 2
	if os.Getenv("WHORL_LONG") != "" {
		rounds = len(lines) / 7
	}
	url := serve(t)
	for range rounds {
		f := file
		h := &f.Horses[0]
		h.Name, h.Breed, h.Markings, h.Notes, h.Stands = next(), next(), next(), next(), next()
		h.Contacts = []vitals.Contact{{Name: next(), Phone: next(), Role: next()}}
		e := &f.Exams[len(f.Exams)-1]
		e.By = next()
		e.Story = &vitals.Story{Noticed: next(), Passed: next(), Intake: next(), Changed: next(), History: next(), Stands: next(), Callback: next(),
			Given: []vitals.Given{{What: next(), Dose: next(), By: next()}}}
		for i := range e.Findings {
			e.Findings[i].Note = next()
		}
		p := withBarn(t, url, f)
		hostile(t, p)
		p.must(chromedp.Do(p.ctx, chromedp.Reload()))
		p.until("document.querySelector('.screen') && globalThis.wrong")
		at := "#/exam/" + string(e.ID)
		id := string(h.ID)
		for _, hash := range []string{"#/", "#/files", "#/horse/" + id, "#/horse/" + id + "/edit", "#/horse/" + id + "/history", "#/horse/" + id + "/stall", "#/horse/" + id + "/pair",
			at + "/result", at + "/send", at + "/aloud", at + "/call"} {
			p.show(hash)
			for _, w := range eval[[]string](p, "wrong()") {
				t.Errorf("%s of %q: %s", hash, h.Name, w)
			}
		}
		p.heading(english("page.call.tell"))
		pages := rasters(t, "hostile", p.pdf(papers["a4"]), "30")
		td.Cmp(t, len(pages), td.Between(1, 6), "pages of the report of %q", h.Name)
		p.show(at + "/send")
		eval[bool](p, "(navigator.clipboard.writeText = t => { globalThis.copied = t; return Promise.resolve(); }, document.getElementById('copy').click(), true)")
		p.until("globalThis.copied")
		p.visit("#" + strings.SplitN(eval[string](p, "copied"), "#", 2)[1])
		p.until("document.querySelector('.opened')")
		for _, w := range eval[[]string](p, "wrong()") {
			t.Errorf("opened of %q: %s", h.Name, w)
		}
		p.close()
	}
	t.Logf("%d strings on the screens and on paper", n)
}
