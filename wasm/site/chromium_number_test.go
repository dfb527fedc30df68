package main

import (
	"strconv"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// ends finishes the exam on the screen of its last check.
func (p *phone) ends(exam string) {
	p.t.Helper()
	p.visit(exam + "/check")
	p.until("document.querySelector('#wellness') && document.querySelector('.screen')?.dataset.at === location.hash")
	p.touch("#go")
	p.until("location.hash === '" + exam + "/result' && document.querySelector('#level, #level-again')")
}

// oneLine holds that each number that can be called stands on one line.
func (p *phone) oneLine() {
	p.t.Helper()
	td.Cmp(p.t, eval[[]string](p, `[...document.querySelectorAll('a[href^="tel:"]')].flatMap(a => {
		const walk = document.createTreeWalker(a, NodeFilter.SHOW_TEXT), range = document.createRange(), broken = [];
		while (walk.nextNode()) for (const m of walk.currentNode.textContent.matchAll(/[+\d(][\d\s()\u2011-]{5,}\d/g)) {
			range.setStart(walk.currentNode, m.index); range.setEnd(walk.currentNode, m.index + m[0].length);
			if (new Set([...range.getClientRects()].filter(r => r.width > 0).map(r => Math.round(r.top))).size > 1) broken.push(m[0]);
		}
		return broken;
	})`), td.Empty(), "a number is broken")
}

// Where one is about to call, the number is in the bar or over it: on the words to say, also of a named animal; on the card of
// the list; on the result of every level.
func TestChromiumTheNumberIsAtHand(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	foot := "document.querySelector('.foot a[href^=\"tel:\"]')"
	at := func(name string) {
		t.Helper()
		p.until(foot)
		td.CmpTrue(t, eval[bool](p, "new Promise(r => setTimeout(() => r(!!"+foot+"), 700))"), "%s: it stays", name)
		p.oneLine()
		p.look(name)
	}
	p.visit("#/wrong/demo-juniper")
	p.touch("input[name=flag][value=belly]")
	at("ticked")
	p.touch("#say")
	p.heading(english("page.say"))
	at("say")
	p.visit("#/")
	p.until("document.querySelector('.called a[href^=\"tel:\"]')")
	p.oneLine()
	p.look("list")
	for name, f := range map[string]vitals.Finding{
		"soon":  {Sign: vitals.Feed, Chosen: []vitals.GradeID{"less"}},
		"again": {Sign: vitals.Sway, Chosen: []vitals.GradeID{"shifting"}},
		"none":  {Sign: vitals.Attitude, Chosen: []vitals.GradeID{"bright"}},
	} {
		exam := anExam(p, vitals.ID(name), "demo-corporal", f)
		p.ends(exam)
		at("result-" + name)
		p.visit("#/say/" + name)
		p.heading(english("page.say"))
		at("say-" + name)
	}
}

// Where no number is known for an animal, those on the cards of the others are offered.
func TestChromiumNumbersOfOtherHorses(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	keep(p, "horses", "", vitals.Horse{ID: "tansy", Name: "Tansy", Type: vitals.TypeHorse})
	keep(p, "horses", "", vitals.Horse{ID: "sorrel", Name: "Sorrel", Type: vitals.TypeHorse, Contacts: []vitals.Contact{{Name: "Low Field Practice", Phone: "+1 (202) 555-0177"}}})
	p.visit("#/wrong/tansy")
	p.touch("input[name=flag][value=belly]")
	p.touch("#strip .dial")
	p.until("document.querySelector('.ring[href=\"tel:+12025550177\"]')")
	td.Cmp(t, p.text(), td.Contains("Low Field Practice"))
	p.oneLine()
	p.look("number")
}

// What must be done first is said at once where the rules only ask to check again, and the result gives one order.
func TestChromiumOneOrder(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(serve(t))
		p.until("document.querySelector('.face svg')")
		exam := anExam(p, "choke", "demo-corporal")
		p.visit(exam + "/list")
		p.touch("input[value=feed-at-nose]")
		want := words.Say(lang, "act.feed-water-away.again") + " " + said(lang, "page.level.again.to.now", "n", strconv.Itoa(10))
		p.until("document.querySelector('#order')?.textContent === " + quote(want))
		p.look("order")
		p.ends(exam)
		td.Cmp(t, eval[string](p, "document.querySelector('h1').textContent"), want)
		td.Cmp(t, p.text(), td.Not(td.Contains(words.Say(lang, "act.feed-water-away"))), "no second order")
		td.CmpTrue(t, eval[bool](p, "!!document.querySelector('.foot a[href^=\"tel:\"]')"), "and the number")
		p.look("result")
	}
}

// What is done first has words without the call for each rule that does not yet say to call.
func TestEveryActBeforeACheckHasItsWords(t *testing.T) {
	t.Parallel()
	n := 0
	for _, a := range vitals.Alarms() {
		if a.First == "" || a.Urgency == vitals.RingNow {
			continue
		}
		n++
		for _, lang := range words.Langs() {
			td.CmpTrue(t, words.Has(lang, "act."+string(a.First)+".again"), "%s: %s", lang, a.First)
		}
	}
	td.CmpGt(t, n, 0)
}
