package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals/words"
	"whorl.example/wasm/api"
)

// sentNight is the link of the last look of the bad night, without a page to make it.
func sentNight(t *testing.T) string {
	t.Helper()
	file := sorrelBarn(t)
	last := len(file.Exams) - 1
	var got struct{ Value struct{ Fragment string } }
	request := must(json.Marshal(map[string]any{"horse": file.Horses[0], "exams": file.Exams[:last], "exam": file.Exams[last], "page": "https://yard.example/"}))
	td.Require(t).CmpNoError(json.Unmarshal(api.Call("link", request), &got))
	return got.Value.Fragment
}

// The case as it is received: at 1280 px the reasons to call, what was given, every look of every sign and the course stand on one screen;
// at 360 px the table goes sideways by itself, with the names in sight.
func TestChromiumTheCaseOnOneScreen(t *testing.T) {
	fragment := sentNight(t)
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.desktop()
		p.navigate(serve(t) + "/#" + fragment)
		p.until("document.querySelector('.looks')")
		p.look("desktop-" + string(lang))
		rows := eval[map[string][]string](p, "Object.fromEntries([...document.querySelectorAll('.looks tr')].map(r => [r.firstChild.textContent, [...r.children].slice(1).map(c => c.textContent)]))")
		heart := said(lang, "sign.heart-rate") + ", " + said(lang, "site.jaw") + " (/min)"
		td.Cmp(t, rows[heart], []string{"32\u201336", "46", "53", "60", "68"})
		pale := said(lang, "grade.gum-colour.pale-pink")
		td.Cmp(t, rows[said(lang, "sign.gum-colour")], []string{said(lang, "grade.gum-colour.pink"), pale, pale, pale, pale}, "what stayed as it was is there at every look")
		td.Cmp(t, eval[int](p, "document.querySelectorAll('.looks td.off strong').length"), 9, "four heart rates, four gums, the pain")
		below := eval[[]string](p, "[...document.querySelectorAll('.looks, .case-alarms, .part-who, .part-what, .case .part-danger, .case-given, .curves .found:first-child svg')].filter(e => e.getBoundingClientRect().bottom > document.querySelector('.foot').getBoundingClientRect().top).map(e => e.className.baseVal ?? e.className)")
		td.Cmp(t, below, td.Empty(), "all of it is on the first screen")
		td.Cmp(t, eval[string](p, "document.querySelector('.case-told').textContent"), td.Contains(said(lang, "page.case.before", "hours", map[words.Lang]string{words.English: "1 hour", words.Spanish: "1 hora"}[lang])))

		// On paper how urgent it is stands first, in a frame, and once.
		pdf := p.pdf(papers["a4"])
		td.CmpLte(t, len(rasters(t, "case-"+string(lang), pdf, "80")), 3)
		td.Cmp(t, strings.Count(pdfText(t, pdf), said(lang, "report.danger")), 1)
		td.CmpTrue(t, strings.Index(pdfText(t, pdf), said(lang, "report.danger")) < strings.Index(pdfText(t, pdf), said(lang, "report.who")))

		p.narrow()
		p.until("document.querySelector('.swipe').scrollWidth > document.querySelector('.swipe').clientWidth + 40")
		eval[bool](p, "(document.querySelector('.swipe').scrollLeft = 9999, document.querySelector('.swipe').scrollIntoView(), true)")
		td.Cmp(t, eval[float64](p, "document.querySelector('.looks tbody th').getBoundingClientRect().left"), td.Between(-1.0, 20.0), "the name stays in sight")
		p.look("phone-" + string(lang))
	}
}
