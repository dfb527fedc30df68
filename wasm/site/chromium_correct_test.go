package main

import (
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// A finished exam can be corrected, backdated, moved and taken back. What it was stays, set aside, with when and by whom it
// was changed; undoing brings it back.
func TestChromiumAFinishedExamIsMended(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	first := last(p, "demo-juniper")
	correct := func() {
		t.Helper()
		p.visit("#/exam/" + string(first.ID) + "/correct")
		p.heading(english("page.correct.title"))
	}
	kept := func() vitals.Exam {
		for _, e := range stored[vitals.Exam](p, "exams") {
			if e.ID == first.ID {
				return e
			}
		}
		t.Fatal("the exam is gone")
		return vitals.Exam{}
	}
	// Another time and another animal.
	correct()
	p.look("correct")
	p.enter("by", "Wren")
	eval[bool](p, "(() => { const e = document.querySelector('#at'); e.value = '2026-11-20T07:05'; e.dispatchEvent(new Event('input')); return true; })()")
	p.touch("input[name=of][value=demo-pim]")
	p.touch("#go")
	p.until("location.hash.endsWith('/result')")
	e := kept()
	td.Cmp(t, e.Horse, vitals.ID("demo-pim"))
	td.Cmp(t, e.At.Format("2006-01-02T15:04"), "2026-11-20T07:05")
	if td.Cmp(t, e.Corrected != nil, true) {
		td.Cmp(t, e.Corrected.By, "Wren")
	}
	td.Cmp(t, e.Findings, first.Findings)
	p.until("document.body.innerText.includes('by Wren')")

	// Its answers: the exam is open again, and finished again.
	correct()
	td.Cmp(t, p.text(), td.Contains(english("page.correct.first")))
	p.touch("#answers")
	p.until("location.hash.endsWith('/all')")
	td.Cmp(t, kept().Status, vitals.Draft)
	p.visit("#/exam/" + string(first.ID) + "/check")
	p.heading(english("page.check.title"))
	p.touch("#go")
	p.until("location.hash.endsWith('/result')")
	td.Cmp(t, kept().Status, vitals.Finished)

	// Taken back: it is nowhere to be seen, and comes back by undo.
	correct()
	p.touch("#withdraw")
	p.until("location.hash === '#/horse/demo-pim'")
	p.until("document.querySelector('#undo')")
	p.look("withdrawn")
	td.Cmp(t, eval[int](p, "document.querySelectorAll('[id=\"report-"+string(first.ID)+"\"]').length"), 0)
	td.Cmp(t, kept().Status, vitals.Withdrawn)
	td.Cmp(t, len(kept().Findings), 0)
	// The file that others get has every version.
	before := eval[string](p, strings.Replace(storedJS("notes"), "getAll()", "get('conflicts')", 1)+".then(JSON.stringify)")
	td.Cmp(t, strings.Count(before, `"aside":true`), 3, before)
	p.touch("#undo")
	p.until("document.querySelector('[id=\"report-" + string(first.ID) + "\"]')")
	td.Cmp(t, kept().Status, vitals.Finished)
}
