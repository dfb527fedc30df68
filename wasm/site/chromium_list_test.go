package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// The list of a yard: six horses are whole on a screen of 360 by 640; who was not seen today stands before who was, and one's own
// before the invented ones; from eight horses on a name is looked for.
func TestChromiumHorsesInOrder(t *testing.T) {
	t.Parallel()
	f := yard()
	today := sorrelExam("seen-today", time.Now().Add(-time.Minute), vitals.Learning, 32, "pink")
	today.Horse = f.Horses[0].ID
	f.Exams = append(f.Exams, today)
	p := withBarn(t, serve(t), f)
	p.visit("#/")
	for _, lang := range words.Langs() {
		if lang != words.English {
			p.touch("#speak-" + string(lang))
		}
		p.heading(said(lang, "page.barn.title"))
		p.until("document.querySelector('#find')?.ariaLabel === " + quote(said(lang, "page.barn.find")))
		names := eval[[]string](p, "[...document.querySelectorAll('.horses button.horse')].map(e => e.nextSibling.id)")
		td.Cmp(t, names[0], "look-horse-9", "the first by name of those whom nobody saw") // Horse 10
		td.Cmp(t, names[11], "look-horse-0", "seen today")
		for _, id := range names[12:] {
			td.Cmp(t, id, td.HasPrefix("look-demo-"))
		}
		whole := eval[int](p, `(() => {
			const foot = document.querySelector('.foot').getBoundingClientRect().top;
			return [...document.querySelectorAll('.horses li')].filter(e => e.getBoundingClientRect().bottom <= foot).length;
		})()`)
		p.look("horses-" + string(lang))
		td.Cmp(t, whole, td.Gte(6), fmt.Sprintf("%s: horses on a screen", lang))
		cut := eval[[]string](p, "[...document.querySelectorAll('.horses .note')].filter(e => e.scrollWidth > e.clientWidth || e.offsetHeight > 50).map(e => e.textContent)")
		td.Cmp(t, cut, td.Empty(), "lines that are cut or take three")
		p.enter("find", "horse 7")
		p.until("[...document.querySelectorAll('.horses li')].filter(e => e.offsetHeight > 0).length === 1")
		td.Cmp(t, eval[bool](p, "document.querySelector('#look-horse-6').offsetHeight > 0"), true)
	}
}
