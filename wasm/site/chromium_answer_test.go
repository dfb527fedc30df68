package main

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/schema/link"
	"whorl.example/vitals"
)

// desktop makes the tab as wide as a clinic's screen.
func (p *phone) desktop() {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
		Width: 1280, Height: 900, DeviceScaleFactor: 1})
	p.must(err)
}

// narrow makes it a telephone again.
func (p *phone) narrow() {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
		Width: 360, Height: 640, DeviceScaleFactor: 2, Mobile: true})
	p.must(err)
}

// copied is the link that a button laid out, where the clipboard is refused.
func (p *phone) copied() string {
	p.t.Helper()
	eval[bool](p, "(navigator.clipboard.writeText = () => Promise.reject(new Error('no')), true)")
	p.touch("#copy")
	p.until("document.activeElement?.className === 'copying'")
	return eval[string](p, "document.querySelector('.copying').value")
}

// openFragment opens a link as a telephone does that has the page in a tab already.
func (p *phone) openFragment(fragment string) {
	p.t.Helper()
	p.visit("#/")
	p.until("document.querySelector('.horse')")
	p.visit("#" + fragment)
}

// noteOf is a note as it is kept.
func noteOf[T any](p *phone, key string) T {
	p.t.Helper()
	return eval[T](p, `new Promise((resolve, reject) => {
		const open = indexedDB.open('whorl-barn-book');
		open.onsuccess = () => {
			const got = open.result.transaction('notes').objectStore('notes').get(`+quote(key)+`);
			got.onsuccess = () => { open.result.close(); resolve(got.result ?? null); };
			got.onerror = reject;
		};
	})`)
}

// The way there and back: an owner's telephone, the clinic's desktop and a third device, three profiles, and nothing but the page's own
// files over the network. The answer is asked about, kept beside the exam through a reload, shown as its writer's, and takes nothing back.
func TestChromiumAnswerRoundTrip(t *testing.T) {
	url := serve(t)
	file := sorrelBarn(t)
	for i := range file.Exams {
		if file.Exams[i].ID == "night-4" {
			file.Exams[i].Call = &vitals.Call{SaidAt: nightAt}
		}
	}
	text, err := schema.Encode(file)
	td.Require(t).CmpNoError(err)
	var logs []string
	var quits []func()
	device := func() *phone {
		log := filepath.Join(t.TempDir(), "net.json")
		b, quit := launch(t, t.TempDir(), log)
		logs, quits = append(logs, log), append(quits, quit)
		return newPhone(t, b, url)
	}
	owner := device()
	owner.until("document.querySelector('.horse')")
	owner.visit("#/files")
	owner.choose("file", laid(t, "barn.json", text))
	owner.until("document.querySelector('p.result')?.textContent.includes('Added')")
	owner.visit("#/exam/night-4/send")
	owner.heading(english("page.send.title"))
	_, fragment, _ := strings.Cut(owner.copied(), "#")
	td.Cmp(t, fragment, td.HasPrefix("w1="))

	clinic := device()
	clinic.desktop()
	clinic.until("document.querySelector('.horse')")
	clinic.visit("#" + fragment)
	clinic.touch("#answer")
	clinic.heading(said("en", "page.answer.title", "name", "Sorrel"))
	clinic.touch("#go")
	clinic.until("document.querySelector('#advice-fault') && document.querySelector('#by-fault')") // neither is left out
	const advice = "Walk her in hand, ten minutes in each hour. <b>No feed</b>.\nI am on my way."
	clinic.enter("advice", advice)
	clinic.enter("again", "she rolls, or sweats")
	clinic.enter("by", "Dr. Amalia Fern")
	next := time.Now().Add(90 * time.Minute).Truncate(time.Minute)
	eval[bool](clinic, `(() => { const e = document.getElementById('next'); e.value = `+quote(next.Format("2006-01-02T15:04"))+`; e.dispatchEvent(new Event('input')); return true; })()`)
	clinic.touch("#go")
	clinic.until("document.querySelector('.sending .code svg')")
	clinic.look("written")
	back := clinic.copied()
	_, answer, _ := strings.Cut(back, "#")
	td.Cmp(t, answer, td.HasPrefix("a1="))
	td.Cmp(t, clinic.text(), td.Contains(checkWords(answer)+"."))
	a, err := link.ReadAnswer(answer)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, a.Advice, advice)
	td.Cmp(t, a.Next.Equal(next), true, a.Next)
	initials := ""
	for _, w := range strings.Fields(checkWords(fragment)) {
		initials += w[:1]
	}
	td.Cmp(t, a.Words, initials, "of what was received")
	// The code says the same, to a reader that is not ours.
	eval[bool](clinic, "(document.querySelector('.sending .code').scrollIntoView({block: 'center'}), true)")
	shown := scan(t, clinic.shoot())
	fromCode, err := link.ReadAnswer(shown[strings.IndexByte(shown, '#'):])
	td.Require(t).CmpNoError(err)
	td.Cmp(t, fromCode, a)

	// A device that sent nothing shows nothing of it, though the horse is there: by the clinic's link.
	third := device()
	third.until("document.querySelector('.horse')")
	third.openFragment(fragment)
	third.touch("#keep")
	third.until("document.querySelector('p.result')?.textContent.includes('Saved')")
	third.openFragment(answer)
	third.heading(english("page.answered.refused"))
	td.Cmp(t, third.text(), td.All(td.Contains(english("page.answered.unknown")), td.Not(td.Contains("Amalia")), td.Not(td.Contains("Walk her"))))
	third.look("refused")

	// The owner is asked first; nothing of it is kept until then.
	before, prefs := stored[vitals.Exam](owner, "exams"), noteOf[map[string]any](owner, "prefs")
	owner.openFragment(answer)
	owner.heading(said("en", "page.answered.title", "name", "Sorrel"))
	for _, want := range []string{"Dr. Amalia Fern", advice, "she rolls, or sweats", english("page.answered.unchecked"), english("page.answered.call"), checkWords(answer) + "."} {
		td.Cmp(t, owner.text(), td.Contains(want))
	}
	td.Cmp(t, eval[int](owner, "document.querySelectorAll('.answer-of a, .answer-of b, .answer-of img').length"), 0, "text, and nothing else")
	owner.look("asked")
	owner.touch(english("page.answered.leave"))
	owner.heading("Sorrel")
	td.Cmp(t, noteOf[any](owner, "answers:night-4"), nil)
	owner.openFragment(answer)
	owner.touch(english("page.answered.take"))
	owner.until("document.querySelector('.back-answers')?.textContent.includes('Walk her in hand')")
	owner.look("horse")
	td.Cmp(t, stored[vitals.Exam](owner, "exams"), before, "no exam and no call is changed")
	td.Cmp(t, noteOf[map[string]any](owner, "prefs"), prefs, "nor any number")

	// After a reload it is there, in the call and with the horse; the call is as open as it was.
	eval[bool](owner, "(location.reload(), true)")
	owner.until("document.querySelector('.back-answers')?.textContent.includes('Walk her in hand')")
	for _, at := range []string{"#/say/night-4", "#/exam/night-4/call", "#/say/night-1"} {
		owner.visit(at)
		owner.until("document.querySelector('.back-answers')?.innerText.includes(" + quote(english("page.answered.unchecked")) + ")")
		owner.look("kept")
	}
	owner.visit("#/horse/" + string(sorrel.ID))
	owner.until("document.querySelector('#called-night-4:not(.told)')")
	dir := owner.downloads()
	owner.touch("#next-save")
	td.Cmp(t, string(owner.taken(dir, "*.ics")), td.All(td.Contains("DTSTART:"+next.UTC().Format("20060102T150405Z")), td.Contains("SUMMARY:Check Sorrel again")))

	// The same once more is said to be there already; one about another sending, or cut, is not shown.
	owner.openFragment(answer)
	owner.until("document.body.innerText.includes(" + quote(english("page.answered.twice")) + ")")
	td.Cmp(t, eval[bool](owner, "[...document.querySelectorAll('button')].some(b => b.textContent === "+quote(english("page.answered.take"))+")"), false)
	forge := func(change func(*link.Answer)) string {
		other := a
		change(&other)
		f, err := other.Fragment()
		td.Require(t).CmpNoError(err)
		return f
	}
	owner.openFragment(forge(func(o *link.Answer) { o.Words = "ZZZZZZZ" }))
	owner.heading(english("page.answered.refused"))
	td.Cmp(t, owner.text(), td.All(td.Contains(said("en", "page.answered.other", "words", "Zulu Zulu Zulu Zulu Zulu Zulu Zulu")), td.Not(td.Contains("Walk her"))))
	owner.openFragment(answer[:len(answer)-5])
	owner.until("document.querySelector('.caution')?.textContent.includes(" + quote(english("fault.link-cut")) + ")")
	owner.openFragment(forge(func(o *link.Answer) { o.At, o.Next = nightAt.Add(-time.Hour), time.Time{} }))
	owner.until("document.querySelectorAll('.body > .caution').length === 3") // a later one is here, it is old, and it is before the exam
	owner.look("stale")
	owner.openFragment(forge(func(o *link.Answer) {
		o.By, o.Advice, o.Again = strings.Repeat("W", 100), "<img src=x onerror='document.title=1'> tel:+19005550100 "+strings.Repeat("W", 400), strings.Repeat("g\u0301\u0301\u0301", 50)
	}))
	owner.until("document.querySelector('.answer-of')")
	td.Cmp(t, eval[int](owner, "document.querySelectorAll('.answer-of a, .answer-of img').length"), 0)
	owner.look("hostile")
	owner.speaks("es-MX")
	owner.navigate(url + "#" + answer)
	owner.until("document.body.innerText.includes(" + quote(spanish("page.answered.unchecked")) + ")")
	owner.look("es")

	for _, quit := range quits {
		quit()
	}
	for _, log := range logs {
		for _, u := range requested(t, log) {
			if !strings.HasPrefix(u, url+"/") || strings.Contains(u, "a1=") || strings.Contains(u, "w1=") {
				t.Errorf("the network was asked for %s", u)
			}
		}
	}
}
