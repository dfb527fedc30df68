package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm/checks"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// screens lists the addresses of the page's screens, given a draft and a finished exam of a horse.
func screens(draft, finished, other, horse string) []string {
	list := []string{"#/", "#/settings", "#/files", "#/figures", "#/horse/new", "#/horse/" + horse, "#/horse/" + horse + "/edit", "#/horse/" + horse + "/drop",
		"#/horse/" + horse + "/history", "#/horse/" + horse + "/history/heart-rate", "#/horse/" + horse + "/history/gum-colour",
		"#/horse/" + horse + "/pair", "#/horse/" + horse + "/pair/" + finished + "/" + other,
		"#/new/" + horse, "#/new/" + horse + "/concern/full/held", "#/new/" + horse + "/recovery/full/held",
		"#/drop/" + draft, "#/exam/" + finished + "/result", "#/exam/" + finished + "/call",
		"#/exam/" + finished + "/aloud", "#/exam/" + finished + "/send", "#/open", "#/conflicts", "#/blank/full", "#/horse/" + horse + "/stall",
		"#/watch/" + finished, "#/watch/" + other, "#/recovery/horses", "#/recovery/board", "#/recovery/one/" + horse, "#/recovery/trot/" + horse,
		"#/practise/" + horse, "#/lesson/" + horse + "/heart-rate",
		"#/round", "#/exam/" + finished + "/correct", "#/wrong", "#/wrong/" + horse, "#/say/" + finished, "#/number"}
	for _, at := range []string{"start", "all", "list", "check", "story/1", "story/2", "story/3", "closed"} {
		list = append(list, "#/exam/"+draft+"/"+at)
	}
	for i, s := range stepsAsked(vitals.Full, vitals.Held, false) {
		sign, _ := vitals.Lookup(s.Sign)
		if i == 0 || !sign.Kind.Measured() {
			list = append(list, fmt.Sprintf("#/exam/%s/g/%d", draft, i)) // the groups, and what is none
		}
		list = append(list, fmt.Sprintf("#/exam/%s/%d", draft, i))
	}
	return list
}

// running puts into the store what the screens of a watch and of recovery show: an exam whose next
// look is not due yet, and horses that came in from work.
func running(p *phone, exam string, horses ...string) {
	p.t.Helper()
	now := time.Now().UnixMilli()
	keep(p, "notes", "watch:"+exam, map[string]any{"first": exam, "horse": horses[0], "signs": []string{"heart-rate", "rectal-temperature"},
		"everyMinutes": 15, "next": now + 3_600_000, "begun": now - 600_000})
	var runners []map[string]any
	for i, h := range horses {
		runners = append(runners, map[string]any{"horse": h, "ended": now - int64(i+1)*240_000})
	}
	keep(p, "notes", "recovery", map[string]any{"begun": now - 600_000, "runners": runners})
}

// Every screen, in both themes and every language: no violation under axe-core by WCAG 2.2 A and
// AA and by enhanced contrast; targets, text and width by measure; and, at text of twice the
// size, nothing wider than the screen and nothing cut off.
func TestChromiumAxe(t *testing.T) {
	t.Parallel()
	axe, err := os.ReadFile(filepath.Join(checks.NPM(t, "axe-core@4.14.1"), "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	p := newPhone(t, browser(t), serve(t))
	begin(p, "Juniper", "full", vitals.Nostrils, vitals.WalkUp)
	p.touch("[value=bloody]")
	p.until("document.querySelector('#answer-where, [name=answer-where]') || document.querySelector('#go')?.textContent === " + quote(english("page.next")))
	d := draft(p).ID
	var done []string
	for _, e := range stored[vitals.Exam](p, "exams") {
		if e.Horse == "demo-juniper" && e.Status == vitals.Finished {
			done = append(done, string(e.ID))
		}
	}
	running(p, done[0], "demo-juniper", "demo-corporal")
	list := screens(string(d), done[len(done)-1], done[0], "demo-juniper")
	eval[bool](p, string(axe)+"\n;true")
	for _, lang := range words.Langs() {
		eval[bool](p, `new Promise(done => { const open = indexedDB.open('whorl-barn-book'); open.onsuccess = () => {
			const t = open.result.transaction('notes', 'readwrite'); const s = t.objectStore('notes'); const got = s.get('prefs');
			got.onsuccess = () => s.put({...got.result, lang: `+quote(lang)+`}, 'prefs'); t.oncomplete = () => { open.result.close(); done(true); }; }; })`)
		p.must(chromedp.Do(p.ctx, chromedp.Reload()))
		p.until("document.documentElement.lang === " + quote(lang) + " && document.querySelector('h1')")
		eval[bool](p, string(axe)+"\n;true")
		for _, theme := range []string{"paper", "night"} {
			eval[bool](p, "(localStorage.setItem('whorl-theme', '"+theme+"'), document.documentElement.dataset.theme = '"+theme+"', true)")
			for _, at := range list {
				p.show(at)
				name := fmt.Sprintf("%s %s %s", lang, theme, strings.NewReplacer(string(d), "draft", done[len(done)-1], "finished").Replace(at))
				p.axe(name)
				p.look(strings.ReplaceAll(strings.Trim(name, "#/"), "/", "_"))
				if theme == "paper" {
					p.large(name)
				}
			}
		}
	}
}

// show goes to an address and waits until its screen stands.
func (p *phone) show(at string) {
	p.t.Helper()
	eval[bool](p, "(location.hash = "+quote(at)+", true)")
	p.until("document.querySelector('.screen')?.dataset.at === location.hash && (location.hash === " + quote(at) + " || location.hash.length > 2)")
	eval[bool](p, "new Promise(r => setTimeout(() => r(true), 60))")
}

// axe reports what axe-core finds on the screen.
func (p *phone) axe(name string) {
	p.t.Helper()
	// What lies under the bar at the fold is scrolled out from under it: the bar is put at the end for this.
	text := eval[string](p, `(document.querySelector('.foot').style.position = 'static', 1) && axe.run(document, {runOnly: {type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']},
		rules: {'color-contrast-enhanced': {enabled: true}}, resultTypes: ['violations']})
		.then(r => JSON.stringify(r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.html.slice(0, 140) + ' – ' + (n.any[0]?.message ?? n.all[0]?.message ?? n.none[0]?.message)).join('; '))))`)
	var found []string
	p.must(json.Unmarshal([]byte(text), &found))
	for _, f := range found {
		p.t.Errorf("%s: %s", name, f)
	}
}

// large sets the text at twice the size: it must stay inside the screen, none of it cut off.
func (p *phone) large(name string) {
	p.t.Helper()
	for _, wrong := range eval[[]string](p, `(() => {
		document.documentElement.style.fontSize = '200%';
		const wrong = [];
		if (document.documentElement.scrollWidth > innerWidth) wrong.push('wider than the screen: ' + document.documentElement.scrollWidth);
		for (const e of document.querySelectorAll('button, a, summary, label, legend, p, h1, h2, h3, td, th, .words')) {
			const s = getComputedStyle(e);
			if (!e.offsetParent || e.closest('.heard, .where') || e.classList.contains('heard')) continue;
			if (e.scrollWidth > e.clientWidth + 1 && s.overflowX !== 'visible' && s.display !== 'inline') wrong.push('cut off: ' + e.textContent.slice(0, 60));
			// A sheet of paper is wider than a telephone, and is moved under the thumb.
			let scrolls = e;
			while (scrolls && !/auto|scroll/.test(getComputedStyle(scrolls).overflowX)) scrolls = scrolls.parentElement;
			const r = e.getBoundingClientRect();
			if (!scrolls && r.width && r.right > innerWidth + 1) wrong.push('outside: ' + e.textContent.slice(0, 60) + ' ' + Math.round(r.right));
		}
		document.documentElement.style.fontSize = '';
		return wrong;
	})()`) {
		p.t.Errorf("%s at 200%%: %s", name, wrong)
	}
}

// press1 presses a key by its name, once.
func (p *phone) press1(key, code string, text string) {
	p.t.Helper()
	for _, typ := range []input.DispatchKeyEventType{input.DispatchKeyEventTypeKeyDown, input.DispatchKeyEventTypeKeyUp} {
		e := input.DispatchKeyEventParams{Type: typ, Key: key, Code: code}
		switch key {
		case "Tab":
			e.WindowsVirtualKeyCode = 9
		case "Enter":
			e.WindowsVirtualKeyCode = 13
		case " ":
			e.WindowsVirtualKeyCode = 32
		}
		if typ == input.DispatchKeyEventTypeKeyDown {
			e.Text = text
		}
		_, err := chromedp.Call(p.ctx, input.DispatchKeyEvent, e)
		p.must(err)
	}
}

// tabTo tabs on to an element, and holds that the focus can be seen there.
func (p *phone) tabTo(css string) {
	p.t.Helper()
	p.until("document.querySelector(" + quote(css) + ")")
	for range 120 {
		p.press1("Tab", "Tab", "")
		if eval[bool](p, "document.activeElement?.matches("+quote(css)+")") {
			seen := eval[bool](p, `(() => { const e = document.activeElement; const s = getComputedStyle(e.closest('label.row') ?? e); return s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2; })()`)
			td.Cmp(p.t, seen, true, "the focus at %s cannot be seen", css)
			return
		}
	}
	p.t.Fatalf("the keyboard does not reach %s", css)
}

func (p *phone) pressEnter() { p.press1("Enter", "Enter", "\r") }
func (p *phone) pressSpace() { p.press1(" ", "Space", " ") }

// countByKey counts four beats by the space bar, too few a minute for a rule to ring, and goes on.
func (p *phone) countByKey(sign vitals.SignID) {
	p.t.Helper()
	p.heading(asked(sign, vitals.HandsOn))
	for range 4 {
		p.pressSpace()
		eval[bool](p, "new Promise(r => setTimeout(() => r(true), 1500))")
	}
	p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
	p.tabTo("#go")
	p.pressEnter()
}

// A walk-up by the keyboard alone: Tab to what is wanted, Enter or Space; the focus is always to be seen.
func TestChromiumKeyboard(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.until("!document.querySelector('.face:empty')") // the list has come to rest
	to, enter, space := p.tabTo, p.pressEnter, p.pressSpace
	to("#look-demo-corporal")
	enter()
	p.heading("Check Corporal")
	to("input[name=depth]")
	eval[bool](p, "(document.querySelector('input[name=depth][value=walk-up]').focus(), true)") // the arrows of a group of radios are the browser's own
	space()
	to("#why-learning")
	enter()
	p.until("document.querySelector('.screen.group')")
	to("#claim-coat")
	space()
	p.until("document.querySelector('#claim-coat:not(:checked)') && document.activeElement.id === 'claim-coat'")
	to("#take-doing-eating")
	enter()
	p.until("document.querySelector('#other-doing')?.textContent === " + quote(english("page.change")))
	to("#close")
	enter()
	p.heading(asked(vitals.RespiratoryRate, vitals.WalkUp))
	for range 4 {
		space()
		eval[bool](p, "new Promise(r => setTimeout(() => r(true), 900))")
	}
	p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
	to("#go")
	enter()
	p.heading(english("page.check.title"))
	to("#go")
	enter()
	p.until("location.hash.endsWith('/result') && document.querySelector('.told')")
	got := last(p, "demo-corporal")
	for _, f := range got.Findings {
		want := vitals.Absence("")
		if f.Sign == vitals.Coat || f.Sign == vitals.Nostrils {
			// The coat was taken out; dry and clear are both usual at the nostrils, and no line claims one of them.
			want = vitals.NotTried
		}
		if sign, _ := vitals.Lookup(f.Sign); sign.Depth == vitals.WalkUp {
			td.Cmp(t, f.Absent, want, "%s", f.Sign)
		}
	}
	td.Cmp(t, slices.ContainsFunc(got.Findings, func(f vitals.Finding) bool { return f.Sign == vitals.RespiratoryRate && f.Taps != nil }), true)
}

// A lesson, a recovery and a watch by the keyboard alone.
func TestChromiumKeyboardBesidesTheExam(t *testing.T) {
	t.Parallel()
	url := serve(t)
	p := newPhone(t, browser(t), url)
	begin := func(at string) {
		t.Helper()
		p.navigate(url + at)
		p.until("document.querySelector('h1') && !document.querySelector('.face:empty')")
	}
	begin("")
	p.tabTo("li:has(#look-demo-juniper) button.horse")
	p.pressEnter()
	p.heading("Juniper")
	p.tabTo("#practise")
	p.pressEnter()
	p.tabTo("#lesson-heart-rate")
	p.pressEnter()
	p.heading("Heart rate")
	p.tabTo("#go")
	p.pressEnter()
	p.countByKey(vitals.HeartRate)
	p.heading(english("page.lesson.kept"))

	begin("")
	p.tabTo("#recovery")
	p.pressEnter()
	p.heading("Which horses?")
	p.tabTo("input[value=demo-juniper]")
	p.pressSpace()
	p.tabTo("#go")
	p.pressEnter()
	p.heading("After work")
	p.tabTo("#end-demo-juniper")
	p.pressEnter()
	p.until("/^0:\\d\\d$/.test(document.querySelector('#clock-demo-juniper')?.textContent)")
	p.tabTo("#count-demo-juniper")
	p.pressEnter()
	p.countByKey(vitals.HeartRate)
	p.until("document.querySelector('#last-demo-juniper')?.textContent.includes('a minute at 0 min.')")

	keep(p, "exams", "", night("night", 30*time.Minute))
	begin("#/exam/night/result")
	p.tabTo("#watch")
	p.pressEnter()
	p.heading("What will you recheck on Juniper?")
	p.until("document.querySelector('input[value=gut-sounds]')?.checked")
	p.tabTo("input[value=gut-sounds]")
	p.pressSpace()
	p.until("!document.querySelector('input[value=gut-sounds]').checked")
	p.tabTo("#go")
	p.pressEnter()
	p.heading("Rechecks: Juniper")
	p.tabTo("#go")
	p.pressEnter()
	p.countByKey(vitals.HeartRate)
	p.until("document.querySelector('#due')?.textContent.startsWith('Next check in')")
}

// Nothing on the page moves by itself, so that there is nothing to reduce.
func TestNoMotion(t *testing.T) {
	t.Parallel()
	css, err := os.ReadFile("../page/style.css")
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"animation", "transition", "@keyframes", "scroll-behavior"} {
		if strings.Contains(string(css), word) {
			t.Errorf("the style has %s: hold it to prefers-reduced-motion and say so here", word)
		}
	}
}
