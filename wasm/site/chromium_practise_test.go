package main

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// A lesson of one sign, interrupted in the middle: it ends in a counted reading that is kept
// as an exam that teaches.
func TestChromiumLesson(t *testing.T) {
	t.Parallel()
	b, url := browser(t), serve(t)
	p := newPhone(t, b, url)
	p.until("[...document.querySelectorAll('.due-note')].some(e => e.textContent.includes('learned from'))")
	p.see("barn")
	p.touch("Juniper")
	p.heading("Juniper")
	p.until("document.querySelector('main').textContent.includes('Not known yet')")
	p.see("horse")
	p.touch("#practise")
	p.heading("Practice with Juniper")
	p.until("/Quiet-day exam due|Next quiet-day exam/.test(document.querySelector('#due-line').textContent)")
	p.see("practise")
	p.touch("#lesson-heart-rate")
	p.heading("Heart rate")
	td.Cmp(t, strings.Contains(p.text(), english("caution.stand")), true, p.text())
	p.see("lesson")
	p.touch("#go")
	p.heading(title(vitals.Step{Sign: vitals.HeartRate, Depth: vitals.HandsOn}))
	p.tapRate(8, 38)
	p.until("document.querySelector('#pad')?.textContent.includes('8 taps')")
	time.Sleep(300 * time.Millisecond)
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.until("document.querySelector('#rate')?.textContent === '38'")
	p.touch("#go")
	p.heading(english("page.lesson.kept"))
	p.until("document.querySelector('.figure').textContent.includes('38')")
	p.see("learned")
	mine := exams(p)
	td.Require(t).Cmp(mine, td.Len(1))
	e := mine[0]
	td.Cmp(t, []any{e.Purpose, e.State.Condition, e.Wellness, e.Status}, []any{vitals.Learning, vitals.AtRest, vitals.Well, vitals.Finished})
	td.Cmp(t, e.Findings, td.Len(1))
	td.Cmp(t, e.Findings[0].Taps.AtMS, td.Len(8))

	// The plan takes the core its time, and says so meanwhile.
	p.touch(english("page.lesson.all"))
	p.heading("Practice with Juniper")
	p.touch("#plan summary")
	p.until("document.querySelector('#plan').textContent.includes('teach within 10 % of all that exams can teach')")
	td.Cmp(t, strings.Contains(p.text(), "a quiet-day exam a week from now") || strings.Contains(p.text(), "a quiet-day exam today"), true, p.text())
	p.see("plan")
	p.touch("#calendar")
	p.until("document.querySelector('#saved')?.textContent.startsWith('Saved a calendar file')")
}

// The card of a horse: its stage of life, notes, and whom to ring, several and in order.
func TestChromiumHorseCard(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.touch("Add a horse")
	p.heading("A new horse")
	p.enter("name", "Sorrel")
	p.touch("input[name=type][value=pony]")
	p.enter("notes", "Kicks at the tape.")
	p.enter("contact", "Clinic on the hill")
	p.enter("phone", "202-555-0142")
	p.touch("#contact-add")
	p.enter("contact-1", "Ines")
	p.enter("phone-1", "202-555-0143")
	p.enter("role-1", "owner")
	p.see("form")
	p.touch("#go")
	p.heading("Sorrel")
	p.until("document.body.innerText.includes('Age not known, so compared as adult.')")
	text := p.text()
	for _, want := range []string{"Kicks at the tape.", "Call Clinic on the hill", "202-555-0143 · owner"} {
		td.Cmp(t, strings.Contains(text, want), true, want+" in\n"+text)
	}
	td.Cmp(t, eval[[]string](p, "[...document.querySelectorAll('a.ring')].map(a => a.getAttribute('href'))"), []string{"tel:2025550142", "tel:2025550143"})
	p.see("card")
	// Changed, and one taken away: what was not touched stays.
	p.touch("Edit")
	p.heading("Edit Sorrel")
	p.touch("Remove contact 1")
	p.touch("#go")
	p.heading("Sorrel")
	for _, h := range stored[vitals.Horse](p, "horses") {
		if h.Name == "Sorrel" {
			td.Cmp(t, h.Contacts, []vitals.Contact{{Name: "Ines", Phone: "202-555-0143", Role: "owner"}})
			td.Cmp(t, h.Notes, "Kicks at the tape.")
		}
	}
}

// What is known of a horse comes from the core after its screen; nothing below it moves then.
func TestChromiumHorseScreenStands(t *testing.T) {
	t.Parallel()
	url := serve(t)
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(url)
		p.heading(said(lang, "page.barn.title"))
		moved := eval[[]float64](p, `(async () => {
			location.hash = '#/horse/demo-juniper';
			const until = async f => { while (!f()) await new Promise(requestAnimationFrame); };
			await until(() => document.querySelector('#practise'));
			const at = () => document.querySelector('#practise').getBoundingClientRect().top;
			const before = at();
			await until(() => document.querySelector('#known-due').textContent);
			return [before, at()]; })()`)
		td.Cmp(t, moved[1], moved[0], "%s", lang)
	}
}
