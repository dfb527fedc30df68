package main

import (
	"testing"

	"github.com/chromedp/chromedp"

	"whorl.example/vitals/words"
)

func spanish(key string) string { return allWords(words.Spanish)[key] }

// The language of the page is changed over at a touch, and stays so; the report's is chosen
// apart from it, and its parts say which language they are in.
func TestChromiumLanguages(t *testing.T) {
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.touch("#speak-es")
	p.heading(spanish("page.barn.title"))
	p.until("document.documentElement.lang === 'es'")
	p.look("barn-es")
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.heading(spanish("page.barn.title"))
	p.touch("#settings")
	p.heading(spanish("page.settings"))
	p.look("settings-es")
	p.touch("input[name=report-lang][value=en]")
	p.touch("input[name=unit-temperature][value='[degF]']")
	p.touch("#go")
	p.heading(spanish("page.barn.title"))
	p.touch("Juniper")
	p.heading("Juniper")
	p.touch(".exams .exam")
	p.until("location.hash.endsWith('/result') && document.querySelector('#go')")
	p.touch("#go")
	p.heading(spanish("page.call.title"))
	p.until("document.querySelector('.body > [lang=en] h2')?.textContent === " + quote(english("report.who")))
	p.look("call-in-english")
	p.touch("#report-es")
	p.until("document.querySelector('.body > [lang=es] h2')?.textContent === " + quote(spanish("report.who")))
	p.look("call-in-spanish")
}
