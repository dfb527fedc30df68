package main

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

func spanish(key string) string { return allWords(words.Spanish)[key] }

// The language of the page is changed over at a touch, and stays so; the report's is chosen
// apart from it, and its parts say which language they are in.
func TestChromiumLanguages(t *testing.T) {
	t.Parallel()
	url := serve(t)
	p := newPhone(t, browser(t), url)
	p.until("document.querySelector('.horse')")
	p.touch("#speak-es")
	p.heading(spanish("page.barn.title"))
	p.until("document.documentElement.lang === 'es'")
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.heading(spanish("page.barn.title"))
	p.touch("#settings")
	p.heading(spanish("page.settings"))
	td.Cmp(t, p.text(), td.Contains(spanish("page.translation")))
	p.touch("input[name=report-lang][value=en]")
	p.touch("input[name=unit-temperature][value='[degF]']")
	p.touch("#go")
	p.heading(spanish("page.barn.title"))
	p.touch("Juniper")
	p.heading("Juniper")
	p.touch("[id^=report-]")
	p.heading(spanish("page.call.tell"))
	p.until("[...document.querySelectorAll('.body [lang=en] h2')].some(h => h.textContent === " + quote(english("report.who")) + ")")
	p.look("call-in-english")
	p.touch("#report-es")
	p.until("[...document.querySelectorAll('.body [lang=es] h2')].some(h => h.textContent === " + quote(spanish("report.who")) + ")")
	p.look("call-in-spanish")
	p.navigate(url + "#/settings")
	p.heading(spanish("page.settings"))
	p.until("document.querySelector('input[name=report-lang][value=es]').checked")
	p.until("document.querySelector(\"input[name=unit-temperature][value='[degF]']\").checked")
	p.touch("input[name=lang][value=en]")
	p.heading(english("page.settings"))
	p.until("document.documentElement.lang === 'en'")
	td.CmpFalse(t, strings.Contains(p.text(), spanish("page.translation")))
}

// In a language whose sentence begins with a field, as English is made to be here, who published a range stands behind
// the button and everything else before it: the page goes by what a sentence is about, not by how it begins.
func TestChromiumSentencesGoByTheirKind(t *testing.T) {
	t.Parallel()
	site, err := built()
	td.Require(t).CmpNoError(err)
	was, is := "Published ranges: {ranges}.", "{ranges} have been published."
	td.Require(t).Cmp(english("said.printed"), was)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !strings.HasSuffix(r.URL.Path, ".json") {
			site.ServeHTTP(w, r)
			return
		}
		r.Header.Del("Accept-Encoding")
		got := httptest.NewRecorder()
		site.ServeHTTP(got, r)
		w.Header().Set("Content-Type", got.Header().Get("Content-Type"))
		_, _ = w.Write(bytes.ReplaceAll(got.Body.Bytes(), []byte(was), []byte(is)))
	}))
	t.Cleanup(server.Close)
	p := newPhone(t, browser(t), server.URL)
	p.until("document.querySelector('.horse')")
	p.navigate(server.URL + "#/exam/" + string(last(p, "demo-juniper").ID) + "/result")
	sources := "[...document.querySelectorAll('.found > details')].filter(e => e.querySelector('summary').textContent === " + quote(english("page.result.sources")) + ")"
	p.until(sources + ".length")
	for _, of := range eval[[]struct{ Behind, Before []string }](p, sources+`.map(e => ({
		Behind: [...e.querySelectorAll('p')].map(p => p.textContent),
		Before: [...e.parentElement.querySelectorAll(':scope > p')].map(p => p.textContent) }))`) {
		td.Cmp(t, of.Behind, td.All(td.NotEmpty(), td.ArrayEach(td.HasSuffix("have been published."))))
		td.Cmp(t, of.Before, td.All(td.NotEmpty(), td.ArrayEach(td.Not(td.Contains("have been published")))))
	}
}

// A browser that speaks Spanish gets the page in Spanish at the first visit, with dates as
// in its own country; and by touch from the barn to the report.
func TestChromiumSpanishByTouch(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), "about:blank")
	p.speaks("es-MX")
	p.open(serve(t))
	p.heading(spanish("page.barn.title"))
	p.until("document.documentElement.lang === 'es'")
	p.look("barn")
	p.touch("Juniper")
	p.heading("Juniper")
	p.look("horse")
	p.touch("#go")
	p.heading(said(words.Spanish, "page.start.title", "name", "Juniper"))
	p.look("start")
	p.touch("input[name=depth][value=walk-up]")
	p.touch("#why-concern")
	p.heading(spanish("page.start.condition"))
	p.look("state")
	p.touch("#state-rest")
	p.until("document.querySelector('.screen.group')")
	p.look("group")
	p.touch("#other-attitude")
	p.heading(spanish("sign.attitude.ask"))
	p.touch(spanish("grade.attitude.dull"))
	p.look("attitude")
	p.touch("#go")
	p.until("document.querySelector('.screen.group')")
	p.touch("#take-doing-standing")
	p.until("document.querySelector('#other-doing')?.textContent === " + quote(spanish("page.change")))
	// Something is wrong: nothing was claimed, and what was not answered stays open.
	td.CmpFalse(t, eval[bool](p, "!!document.querySelector('#close')"))
	p.touch("#go")
	p.heading(spanish("sign.respiratory-rate.ask"))
	p.tapBeats(8, 2500*time.Millisecond)
	p.until("document.querySelector('.pm')?.textContent.includes(" + quote(spanish("page.aminute")) + ")")
	p.look("respiratory-rate")
	p.touch("#go")
	p.heading(spanish("page.story.title.1"))
	p.enter("noticed", "No quiere comer")
	p.look("story")
	for range 3 {
		p.touch("#go")
	}
	p.heading(spanish("page.check.title"))
	p.touch("[value=unwell]")
	p.look("check")
	p.touch("#go")
	p.until("location.hash.endsWith('/result') && document.querySelector('.told')")
	p.look("result")
	// A rule says to tell the vet today: first the words to say, and behind them the whole report.
	p.touch("#say")
	p.touch(spanish("page.call.tell"))
	p.heading(spanish("page.call.tell"))
	p.until("document.querySelectorAll('.call section').length > 3")
	p.look("call")
	got := p.text()
	for _, key := range []string{"who", "what", "danger", "animal", "differs", "unchecked", "ask"} {
		td.Cmp(t, got, td.Contains(spanish("report."+key)))
	}
	td.Cmp(t, got, td.Contains("No quiere comer"))
	td.Cmp(t, strings.ToLower(got), td.Contains(strings.ToLower(spanish("grade.attitude.dull"))))
	// No sentence of the screen was left in the other language.
	for key, text := range allWords(words.English) {
		if len(text) > 11 && text != spanish(key) && !strings.ContainsAny(text, "{\n") {
			td.CmpFalse(t, strings.Contains(got, text), "%s is in English: %s", key, text)
		}
	}
}

// speaks makes the tab's browser one of that language.
func (p *phone) speaks(lang string) {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, emulation.SetUserAgentOverride, emulation.SetUserAgentOverrideParams{
		UserAgent: eval[string](p, "navigator.userAgent"), AcceptLanguage: lang})
	p.must(err)
}

func said(l words.Lang, key string, args ...string) string {
	return words.Fill(allWords(l)[key], args...)
}

// cut finds text that its box does not show whole, and what reaches out of the screen.
const cut = `(() => {
	const wrong = [];
	for (const e of document.querySelectorAll('body *')) {
		if (!e.offsetParent || e.closest('.heard, svg, noscript')) continue;
		const own = [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
		if (!own) continue;
		// A sheet of paper is wider than a telephone, and is moved under the thumb.
		let scrolls = e;
		while (scrolls && !/auto|scroll/.test(getComputedStyle(scrolls).overflowX)) scrolls = scrolls.parentElement;
		if (scrolls) continue;
		const range = document.createRange();
		// A word that is broken over two lines has no room, unless it is longer than a line of the
		// screen. Addresses of sources and licenses break anywhere.
		for (const n of e.childNodes) {
			if (n.nodeType !== 3) continue;
			for (const word of n.textContent.matchAll(/[\p{L}\d]{2,}/gu)) {
				range.setStart(n, word.index);
				range.setEnd(n, word.index + word[0].length);
				const parts = [...range.getClientRects()].filter(r => r.width > 0);
				if (parts.reduce((sum, r) => sum + r.width, 0) > 280 || e.closest('.figures, .licences')) continue;
				if (new Set(parts.map(r => Math.round(r.top))).size > 1) wrong.push('a broken word: ' + word[0]);
			}
		}
		range.selectNodeContents(e);
		for (const t of range.getClientRects()) {
			if (t.right > innerWidth + 1 || t.left < -1) wrong.push('out of the screen: ' + e.textContent);
			for (let box = e; box && box !== document.body; box = box.parentElement) {
				const look = getComputedStyle(box);
				if (look.display === 'inline') continue;
				const b = box.getBoundingClientRect();
				const clips = look.overflowX !== 'visible' || box.matches('button, a, label, h1, h2, .row');
				if (clips && (t.right > b.right + 1 || t.left < b.left - 1)) wrong.push('wider than its ' + box.tagName + ': ' + e.textContent);
				if (clips && look.overflowY !== 'auto' && (t.bottom > b.bottom + 6 || t.top < b.top - 6)) wrong.push('higher than its ' + box.tagName + ': ' + e.textContent);
			}
		}
	}
	return [...new Set(wrong)];
})()`

// Every screen in every language, at the usual size of letters and at twice that: nothing is cut.
func TestChromiumEveryScreenInEveryLanguage(t *testing.T) {
	t.Parallel()
	url := serve(t)
	for _, lang := range words.Langs() {
		t.Run(string(lang), func(t *testing.T) { everyScreen(t, newPhone(t, browser(t), "about:blank"), url, lang) })
		t.Run(string(lang)+"-large", func(t *testing.T) {
			p := newPhone(t, largeLetters(t), "about:blank")
			td.Require(t).Cmp(eval[string](p, "getComputedStyle(document.documentElement).fontSize"), "32px")
			everyScreen(t, p, url, lang)
		})
	}
}

func everyScreen(t *testing.T, p *phone, url string, lang words.Lang) {
	p.speaks(string(lang))
	p.open(url)
	p.heading(said(lang, "page.barn.title"))
	// A full exam, unfinished; and one that is finished.
	p.touch("Corporal")
	p.heading("Corporal")
	p.touch("#go")
	p.touch("input[name=depth][value=full]")
	p.touch("input[name=holder][value=held]")
	p.touch("#why-concern")
	p.heading(said(lang, "page.start.condition"))
	p.touch("#state-rest")
	p.until("/exam/.test(location.hash)")
	id := strings.Split(eval[string](p, "location.hash"), "/")[2]
	var done []string
	for _, e := range stored[vitals.Exam](p, "exams") {
		if e.Horse == "demo-juniper" && e.Status == vitals.Finished {
			done = append(done, string(e.ID))
		}
	}
	running(p, done[0], "demo-juniper", "demo-corporal")
	for _, at := range screens(id, done[len(done)-1], done[0], "demo-juniper") {
		p.show(at)
		for _, key := range keysShown(p) {
			t.Errorf("%s: a key in the place of words: %s", at, key)
		}
		name := strings.NewReplacer("#/", "", "/", "-", id, "draft", done[len(done)-1], "finished").Replace(at)
		for _, wrong := range eval[[]string](p, cut) {
			t.Errorf("%s: %s", name, wrong)
		}
		p.look(name)
	}
}
