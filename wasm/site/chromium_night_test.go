package main

import (
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// A rate that was typed is there again after a look at the other ways of entering it, and so is what was counted.
func TestChromiumTypedRateIsKept(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	exam := anExam(p, "typed", "demo-juniper")
	p.visit(exam + "/all")
	p.touch(english("sign.respiratory-rate") + ", " + english("site.afar"))
	p.touch("#way-reading")
	p.enter("value", "44")
	p.touch("#way-count")
	p.touch("#way-taps")
	p.touch("#way-reading")
	p.until("document.querySelector('#value')?.value === '44'")
	p.touch("#way-count")
	p.enter("events", "6")
	p.until("document.querySelector('p.result')?.textContent")
	p.touch("#way-reading")
	p.until("document.querySelector('#value')?.value === '44'")
	p.look("typed")
	p.touch("#way-count")
	p.until("document.querySelector('#events')?.value === '6'")
	p.touch("#way-taps")
	p.touch("#way-reading")
	p.enter("value", "about 40")
	p.touch("#way-taps")
	p.touch("#way-reading")
	p.until("document.querySelector('#value')?.value === 'about 40'")
}

// After the vet was told the card still calls.
func TestChromiumCallAgain(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(serve(t))
		p.until("document.querySelector('.face svg')")
		p.visit("#/wrong/demo-juniper")
		p.touch("input[name=flag][value=belly]")
		p.touch("#say")
		p.touch("#told")
		p.until("document.querySelector('#strip.told')")
		p.visit("#/")
		p.until("document.querySelector('.called.told a.dial[href^=\"tel:\"]')?.textContent.includes(" + quote(said(lang, "page.level.call")) + ")")
		p.look("told")
	}
}

// A closed call of an animal that nobody named stays to be seen, can be opened again, and named.
func TestChromiumClosedCallOfNobody(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.touch("#wrong")
	p.touch("input[name=flag][value=belly]")
	p.until("document.querySelector('#strip a')")
	p.visit("#/")
	p.touch("[id^=outcome-]")
	p.touch("#outcome-came")
	p.touch("#go")
	p.until("document.querySelector('#calls-unnamed') && !document.querySelector('.called')")
	p.touch("#calls-unnamed summary")
	td.Cmp(t, eval[string](p, "document.querySelector('#calls-unnamed .called-line').textContent"),
		td.All(td.Contains(english("flag.belly")), td.Contains(english("page.outcome.came"))))
	p.look("closed")
	p.touch("#calls-unnamed .link")
	p.until("document.querySelector('.called') && !document.querySelector('#calls-unnamed')")
	p.touch("[id^=outcome-]")
	p.touch("#outcome-mistake")
	p.touch("#go")
	p.touch("#calls-unnamed summary")
	p.touch("#calls-unnamed [id^=name-]")
	p.chooses("demo-juniper")
	p.visit("#/horse/demo-juniper")
	p.until("document.querySelector('.called-line')?.textContent.includes(" + quote(english("page.outcome.mistake")) + ")")
	p.visit("#/")
	p.until("document.querySelector('.horse') && !document.querySelector('.called, #calls-unnamed')")
}

// What is to be done before the call goes with the tick that asked for it.
func TestChromiumOrderGoesWithItsTick(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	act := quote(english("act.feed-water-away"))
	p.visit("#/wrong/demo-juniper")
	p.touch("input[name=flag][value=belly]")
	p.touch("input[name=flag][value=swallow]")
	p.until("document.querySelector('#strip')?.textContent.includes(" + act + ")")
	p.touch("#say")
	p.heading(english("page.say"))
	time.Sleep(500 * time.Millisecond) // the core says the same
	eval[bool](p, "(history.back(), true)")
	p.touch("input[name=flag][value=swallow]")
	p.until("document.querySelector('#strip') && !document.querySelector('#strip').textContent.includes(" + act + ")")
	p.look("gone")
}

// Where a wound is, nobody is asked who saw none; of an exam without a wound it is answered by that.
func TestChromiumWoundPlaceOfAWound(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	exam := anExam(p, "hurt", "demo-juniper")
	place := "document.querySelector('#claim-wound-place')"
	p.visit(exam + "/g/0")
	p.touch("#claim-wounds")
	p.until("document.querySelector('#claim-wounds:checked') && !" + place)
	p.touch("#other-wounds")
	p.touch("input[value=slight]")
	p.touch("#go")
	p.until(place)
	p.look("wounded")
	p.touch("#other-wounds")
	p.touch("input[value=none]")
	p.touch("#go")
	p.until("document.querySelector('#claim-wounds') && !" + place)
	p.visit(exam + "/check")
	p.heading(english("page.check.title"))
	td.Cmp(t, p.text(), td.Not(td.Contains(english("sign.wound-place"))))
	p.touch("#go")
	p.until("location.hash.endsWith('/result') && document.querySelector('.told')")
	for _, f := range last(p, "demo-juniper").Findings {
		if f.Sign == vitals.WoundPlace {
			td.Cmp(t, f.Chosen, []vitals.GradeID{"none"})
			return
		}
	}
	t.Error("nothing is said of the wound's place")
}

// What is to be said aloud does not look like a field to type into; on paper it is a line to write on.
func TestChromiumWordsAreNoFields(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(serve(t))
		p.visit("#/wrong/demo-juniper")
		p.touch("input[name=flag][value=belly]")
		p.touch("#say")
		p.heading(said(lang, "page.say"))
		p.until("document.querySelector('.blank')")
		td.Cmp(t, eval[[]string](p, "[...document.querySelectorAll('.blank')].map(e => getComputedStyle(e).borderBottomStyle + getComputedStyle(e, '::before').content)"),
			td.ArrayEach("none\""+said(lang, "page.say.aloud")+" \""))
		p.look("words")
	}
}

// "Tell your vet today" is remembered until a person says what became of it: quieter than "call now", and apart from it in shape and words.
func TestChromiumTodayIsRemembered(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(serve(t))
		p.until("document.querySelector('.face svg')")
		exam := anExam(p, "soon", "demo-corporal", vitals.Finding{Sign: "droppings", Chosen: []vitals.GradeID{"few"}})
		p.visit(exam + "/check")
		p.touch("#go")
		p.heading(said(lang, "page.ring.soon"))
		p.visit("#/")
		p.until("document.querySelector('#called-soon.today')?.textContent.includes(" + quote(said(lang, "alarm.few-droppings")) + ")")
		td.Cmp(t, eval[string](p, "document.querySelector('#called-soon').textContent"),
			td.All(td.Contains(said(lang, "page.ring.soon")[:10]), td.Not(td.Contains(said(lang, "page.ring.now")[:10]))))
		td.CmpTrue(t, eval[bool](p, "!!document.querySelector('#called-soon .dial') && !document.querySelector('#strip')"))
		p.look("barn")
		p.open(eval[string](p, "location.href")) // it is kept
		p.visit("#/say/soon")
		p.until("document.querySelectorAll('.report section').length > 3 || (document.querySelector('#whole')?.click(), false)") // the core tells it
		td.Cmp(t, eval[string](p, "document.querySelector('#calling').textContent"), td.All(td.Contains(said(lang, "page.ring.soon")), td.Not(td.Contains(said(lang, "page.ring.now")))))
		p.visit("#/")
		p.touch("#told-soon")
		p.until("document.querySelector('#called-soon.today.told')")
		p.visit("#/horse/demo-corporal")
		p.until("document.querySelector('#called-soon.today.told')")
		p.look("horse")
		p.touch("#outcome-soon")
		p.touch("#outcome-advised")
		p.touch("#go")
		p.until("location.hash === '#/horse/demo-corporal' && document.querySelector('#call-line-soon')?.textContent.includes(" + quote(said(lang, "page.outcome.advised")) + ")")
		td.CmpFalse(t, eval[bool](p, "!!document.querySelector('.called')"))
		p.visit("#/horse/demo-corporal")
		for _, e := range stored[vitals.Exam](p, "exams") {
			td.Cmp(t, e.Call, td.Nil(), "%s: the record says nothing of now", e.ID)
		}
	}
}

// What goes on stays open and calls again; a clinic closes; of a horse that has died nothing more is asked, nothing is deleted, and that can be undone.
func TestChromiumOutcomes(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(serve(t))
		p.until("document.querySelector('.face svg')")
		p.visit("#/wrong/demo-juniper")
		p.touch("input[name=flag][value=belly]")
		p.touch("#say")
		p.touch("#told")
		p.strip(true, said(lang, "page.call.told.at", "at", ""))
		id := string(draft(p).ID)
		for _, again := range []string{"worse", "unreached"} {
			p.visit("#/outcome/" + id)
			p.until("document.querySelector('#outcome-" + again + "')")
			if again == "worse" {
				p.look("outcomes")
			}
			p.touch("#outcome-" + again)
			p.heading(said(lang, "page.say"))
			p.strip(false, said(lang, "page.outcome."+again))
			td.Cmp(t, eval[bool](p, "document.querySelector('#unanswered').open"), again == "unreached")
			if again == "worse" { // it is told, not only shown
				_, since, _ := strings.Cut(words.Say(lang, "page.say.worse"), "{at}")
				td.Cmp(t, eval[string](p, "document.querySelector('main').innerText"), td.Contains(strings.TrimLeft(since, ". ")))
			}
			if again == "unreached" {
				td.Cmp(t, eval[string](p, "document.querySelector('#unanswered').textContent"), td.All(td.Contains(said(lang, "page.unanswered.next")), td.Contains("555\u00a00142")))
				p.look("unanswered")
			}
			p.visit("#/")
			p.until("document.querySelector('.called:not(.told)')?.textContent.includes(" + quote(said(lang, "page.outcome."+again)) + ")")
			p.touch("#told-" + id)
			p.until("document.querySelector('.called.told')")
		}
		p.touch("#unanswered-" + id)
		p.until("document.querySelector('#unanswered')?.open")

		exams := len(stored[vitals.Exam](p, "exams"))
		p.visit("#/outcome/" + id)
		p.touch("#outcome-died")
		p.until("document.querySelector('main')?.textContent.includes(" + quote(said(lang, "page.outcome.died.how", "name", "Juniper")) + ")")
		p.look("died")
		p.touch("#go")
		p.until("location.hash.startsWith('#/horse/') && document.querySelector('#died')")
		td.CmpFalse(t, eval[bool](p, "!!document.querySelector('#practise')"))
		p.look("horse")
		p.visit("#/")
		p.until("document.querySelector('#look-demo-corporal') && !document.querySelector('#look-demo-juniper, .called, .draft')")
		p.look("barn")
		p.visit("#/round")
		p.until("document.querySelector('#round-demo-corporal') && !document.querySelector('#round-demo-juniper')")
		td.Cmp(t, len(stored[vitals.Exam](p, "exams")), exams)
		p.visit("#/horse/demo-juniper")
		p.touch("#died .link")
		p.until("document.querySelector('#practise') && !document.querySelector('#died')")

		p.visit("#/outcome/" + id)
		p.touch("#outcome-clinic")
		p.touch("#go")
		p.until("location.hash.startsWith('#/horse/')")
		p.visit("#/")
		p.until("document.querySelector('#look-demo-juniper') && !document.querySelector('.called')")
	}
}

// Of a mare in foal or in milk that does not eat three touches come to the words; of a pony too. A mare that is neither is not asked.
func TestChromiumOffFeed(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(serve(t))
		p.until("document.querySelector('.face svg')")
		keep(p, "horses", "", vitals.Horse{ID: "hazel", Name: "Hazel", Type: vitals.TypeHorse, Sex: vitals.Mare, Born: vitals.Date{Year: 2015, Month: 5, Day: 2}, InFoal: true})
		for horse, flag := range map[string]string{"hazel": "in-foal-feed", "demo-bramble": "pony-feed"} {
			p.visit("#/horse/" + horse)
			p.until("document.querySelector('#wrong')")
			p.taps = 0
			p.touch("#wrong")
			p.touch("input[name=flag][value=" + flag + "]")
			p.strip(false, said(lang, "page.ring.now"))
			p.look(flag)
			p.touch("#say")
			p.heading(said(lang, "page.say"))
			td.Cmp(t, p.text(), td.Contains(said(lang, "flag."+flag)))
			td.Cmp(t, p.taps, 3)
			p.visit("#/")
			p.until("document.querySelector('.called')?.textContent.includes(" + quote(said(lang, "flag."+flag)) + ")")
			td.Cmp(t, eval[int](p, "[...document.querySelectorAll('.called')].filter(e => e.textContent.includes("+quote(said(lang, "page.call.gone", "what", ""))+")).length"), 0)
		}
		p.visit("#/wrong/demo-juniper")
		p.until("document.querySelector('input[name=flag]')")
		td.CmpFalse(t, eval[bool](p, "!!document.querySelector('input[value=in-foal-feed], input[value=pony-feed]')"))
	}
}

// The walk-up of a foal asks whether it nurses.
func TestChromiumAFoalNurses(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(serve(t))
		p.until("document.querySelector('.face svg')")
		exam := anExam(p, "foal", "demo-teasel")
		p.visit(exam + "/g/0")
		p.until("document.querySelector('#claim-feed')")
		td.Cmp(t, eval[string](p, "document.querySelector('.claim:has(#claim-feed)').textContent"), td.All(td.Contains(said(lang, "page.nurses")), td.Contains(said(lang, "page.nurses.usual"))))
		eval[bool](p, "(document.querySelector('#claim-feed').scrollIntoView({block: 'center'}), true)")
		p.look("row")
		p.touch("#other-feed")
		p.heading(said(lang, "page.nurses.ask"))
		p.look("asked")
		p.touch("input[value=none]")
		p.strip(false, said(lang, "page.ring.now"))
		p.touch("#go")
		p.until("document.querySelector('.claims')?.textContent.includes(" + quote(said(lang, "page.nurses.none")) + ")")
	}
}

// What is known is said: since when in the owner's own words, and the number of the contact who checks.
func TestChromiumWhatIsKnownIsSaid(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	keep(p, "horses", "", vitals.Horse{ID: "hazel", Name: "Hazel", Type: vitals.TypeHorse, Sex: vitals.Mare,
		Contacts: []vitals.Contact{{Name: "Long Meadow Equine (invented)", Phone: "+1 202 555 0142"}, {Name: "Ana", Phone: "+1 202 555 0177", Role: "owner"}}})
	exam := vitals.Exam{ID: "known", Horse: "hazel", At: time.Now().Truncate(time.Second), Depth: vitals.WalkUp, Purpose: vitals.Concern, By: "Ana",
		State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Draft, Story: &vitals.Story{Noticed: "Off her hay since noon."},
		Findings: []vitals.Finding{{Sign: vitals.PainSigns, Chosen: []vitals.GradeID{"paws"}}}}
	keep(p, "exams", "", exam)
	p.visit("#/say/known")
	p.until("document.querySelector('.report')?.textContent.includes('since noon')")
	td.Cmp(t, p.text(), td.All(td.Contains("555\u00a00177"), td.Not(td.Contains(english("page.say.since.ask"))), td.Not(td.Contains(english("page.say.phone.ask")))))
	p.look("say")
	p.visit("#/exam/known/story/3")
	p.until("document.querySelector('#callback')?.value.includes('0177')")
	exam.Status, exam.ID = vitals.Finished, "told"
	keep(p, "exams", "", exam)
	p.visit("#/exam/told/call")
	p.until("document.querySelector('.report')?.textContent.includes('since noon')")
	td.Cmp(t, p.text(), td.All(td.Contains("555 0177"), td.Not(td.Contains(strings.TrimSuffix(english("report.since.ask"), ":"))), td.Not(td.Contains(strings.TrimSuffix(english("report.callback.ask"), ":")))))
	p.look("report")
}

// Beside a call the pad leaves in sight how else the rate can be entered.
func TestChromiumWaysBesideACall(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	exam := anExam(p, "pad", "demo-juniper", vitals.Finding{Sign: vitals.PainSigns, Chosen: []vitals.GradeID{"paws"}})
	p.visit(exam + "/all")
	p.touch(english("sign.respiratory-rate") + ", " + english("site.afar"))
	p.until("document.querySelector('#pad')")
	p.strip(false, english("page.ring.now"))
	p.look("pad")
	td.CmpTrue(t, eval[bool](p, `(() => { const e = document.querySelector('#way-reading'), r = e.getBoundingClientRect();
		return scrollY === 0 && [r.top + 2, r.bottom - 2].every(y => e.contains(document.elementFromPoint(r.x + r.width / 2, y))); })()`))
	p.touch("#way-reading")
	p.until("document.querySelector('#value')")
}
