package main

import (
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// flagged is a demo horse of which a flag is offered.
func flagged(f vitals.RedFlag) string {
	switch {
	case slices.Contains(f.Types, vitals.TypePony):
		return "demo-bramble"
	case len(f.Types) > 0:
		return "demo-pim"
	case len(f.Stages) > 0:
		return "demo-teasel"
	case f.InFoal:
		return "in-foal"
	}
	return "demo-juniper"
}

// After each red flag the strip stands at once, with whom to call and, where acting comes first, the act; and it stands
// over the screens of an exam of every depth that holds the flag's answer.
func TestChromiumStripAfterEachFlag(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	strip := "document.querySelector('#strip')"
	stands := func(f vitals.RedFlag) {
		t.Helper()
		p.until(strip + "?.textContent.includes(" + quote(english("page.ring.now")) + ")")
		td.CmpTrue(t, eval[bool](p, "!!document.querySelector('#strip a.dial[href]') && !!document.querySelector('#strip a.said, .screen')"), f.ID)
		if f.First != "" {
			td.Cmp(t, eval[string](p, strip+".textContent"), td.Contains(english("act."+string(f.First))), f.ID)
		}
	}
	// A mare in foal, beside the demo's animals.
	keep(p, "horses", "", vitals.Horse{ID: "in-foal", Name: "Hazel", Type: vitals.TypeHorse, Sex: vitals.Mare, InFoal: true})
	for _, f := range vitals.RedFlags() {
		horse, box := flagged(f), "input[name=flag][value="+string(f.ID)+"]"
		p.visit("#/wrong/" + horse)
		p.until("document.querySelector('" + box + "') && document.querySelector('#strip, .strip-call')")
		p.touch(box)
		stands(f)
		p.touch(box) // taken back: nothing happened
		p.until("!" + strip)
	}
	for _, f := range vitals.RedFlags() {
		for _, depth := range vitals.Depths() {
			exam := vitals.Exam{ID: vitals.ID("flag-" + string(f.ID) + "-" + string(depth)), Horse: vitals.ID(flagged(f)), At: time.Now(), Depth: depth,
				Purpose: vitals.Concern, State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Draft, Holder: vitals.Held,
				Findings: []vitals.Finding{{Sign: f.Sign, Chosen: []vitals.GradeID{f.Grade}}}}
			if f.State != "" {
				exam.State.Condition = f.State
			}
			keep(p, "exams", "", exam)
			p.visit("#/exam/" + string(exam.ID) + "/all")
			p.until("document.querySelector('.screen')?.dataset.at === location.hash")
			stands(f)
		}
	}
	for _, at := range []string{"list", "check", "story/1", "start", "0"} {
		p.visit("#/exam/flag-belly-full/" + at)
		p.until("document.querySelector('.screen')?.dataset.at === location.hash")
		stands(vitals.RedFlag{ID: vitals.FlagID(at)})
	}
}

// "Call your vet now" is remembered: through a kill of the browser, into the backup file, and by another phone that takes it
// in, until a person says what became of it; after a day it stands with its exam alone.
func TestChromiumACallIsRemembered(t *testing.T) {
	t.Parallel()
	url, profile := serve(t), t.TempDir()
	open := func(profile string) *phone {
		b, _ := launch(t, profile, filepath.Join(t.TempDir(), "net.json"))
		p := newPhone(t, b, url)
		p.until("document.querySelector('.horse')")
		return p
	}
	p := open(profile)
	p.visit("#/horse/new")
	p.enter("name", "Marigold")
	p.touch("input[name=type][value=horse]")
	p.touch("#go")
	p.heading("Marigold")
	id := eval[string](p, "location.hash.split('/')[2]")
	p.visit("#/wrong/" + id)
	p.until("document.querySelector('input[name=flag][value=belly]')")
	p.touch("input[name=flag][value=belly]")
	p.until("document.querySelector('#strip')")
	p.until("(async () => { for (const r of await (await caches.open('barn-book')).keys()) if ((await (await caches.match(r)).text()).includes('saidAt')) return true; })()")
	kill(t, profile)

	p = open(profile)
	p.until("document.querySelector('.called')")
	td.Cmp(t, eval[string](p, "document.querySelector('.called').textContent"), td.Contains("Marigold"))
	p.look("said")
	exam := draft(p)
	p.touch("#told-" + string(exam.ID))
	p.until("document.querySelector('.called.told')")
	p.look("told")

	p.visit("#/files")
	dir := p.downloads()
	p.touch("#barn-save")
	text := p.taken(dir, "whorl-barn-*.json")
	file, err := schema.Decode(text)
	td.Require(t).CmpNoError(err)
	var kept *vitals.Call
	for _, e := range file.Exams {
		if e.ID == exam.ID {
			kept = e.Call
		}
	}
	td.Require(t).Cmp(kept, td.NotNil(), "the file has the call")
	td.CmpFalse(t, kept.SaidAt.IsZero() || kept.ToldAt.IsZero())

	other := open(t.TempDir())
	other.visit("#/files")
	other.choose("file", laid(t, "barn.json", text))
	other.until("document.querySelector('p.result')?.textContent.includes('Added')")
	other.visit("#/")
	other.until("document.querySelector('.called.told')")

	p.visit("#/outcome/" + string(exam.ID))
	p.touch("#outcome-came")
	p.touch("#go")
	p.until("location.hash.startsWith('#/horse/')")
	p.visit("#/")
	p.until("document.querySelector('.horse') && !document.querySelector('.called')")
	p.visit("#/horse/" + id)
	p.until("document.querySelector('.called-line')?.textContent.includes(" + quote(english("page.outcome.came")) + ")")

	// Of the day before: no longer at the top of the list, and still asked at its exam on the horse's page.
	exam.Call = &vitals.Call{SaidAt: time.Now().Add(-25 * time.Hour)}
	exam.ID, exam.At = "yesterday", time.Now().Add(-25*time.Hour)
	keep(p, "exams", "", exam)
	p.visit("#/")
	p.until("document.querySelector('.horse') && !document.querySelector('.called')")
	p.visit("#/horse/" + id)
	p.until("document.querySelector('#called-yesterday')")
}

// A rolling horse is never "as usual": in an exam begun because something is wrong nothing is ticked beforehand, and going on
// to the end leaves the reason to call at the top, in both languages.
func TestChromiumARollingHorseIsNeverUsual(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(serve(t))
		p.until("document.querySelector('.face') && !document.querySelector('.face:empty')")
		p.touch("#look-demo-juniper")
		p.touch("input[name=depth][value=walk-up]")
		p.touch("#why-concern")
		p.touch("#state-rest")
		p.until("document.querySelector('.screen.group')")
		td.Cmp(t, eval[int](p, "document.querySelectorAll('.screen.group input:checked').length"), 0, "%s: ticked beforehand", lang)
		p.look("walk-up")
		p.touch("#other-doing")
		p.touch("input[value=rolling]")
		p.touch("#go")
		p.until("document.querySelector('.screen.group') && document.querySelector('#strip')")
		td.CmpFalse(t, eval[bool](p, "!!document.querySelector('#close')"), "%s: nothing to confirm unseen", lang)
		p.look("strip")
		exam := draft(p)
		p.visit("#/exam/" + string(exam.ID) + "/check")
		p.touch("#go")
		p.until("location.hash.endsWith('/result') && document.querySelector('.told')")
		p.until("document.querySelector('#level')")
		p.look("result")
		td.Cmp(t, eval[string](p, "document.querySelector('h1').textContent"), said(lang, "page.ring.now"))
		td.Cmp(t, p.text(), td.All(td.Not(td.Contains(said(lang, "page.level.none"))), td.Contains(said(lang, "alarm.colic-behaviour"))))
	}
}

// Every flag in every language: what is said of it, asked and to be done, how the exam goes on, and what became of it are in words.
func TestChromiumEveryFlagHasItsWords(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(serve(t))
		p.until("document.querySelector('.face') && !document.querySelector('.face:empty')")
		keep(p, "horses", "", vitals.Horse{ID: "in-foal", Name: "Hazel", Type: vitals.TypeHorse, Sex: vitals.Mare, InFoal: true})
		for _, f := range vitals.RedFlags() {
			id := "words-" + string(f.ID)
			exam := anExam(p, vitals.ID(id), vitals.ID(flagged(f)), vitals.Finding{Sign: f.Sign, Chosen: []vitals.GradeID{f.Grade}})
			for _, at := range []string{exam + "/start", "#/say/" + id, "#/outcome/" + id, "#/wrong/" + flagged(f), "#/"} {
				p.show(at)
				td.Cmp(t, keysShown(p), td.Empty(), "%s %s", lang, at)
			}
		}
	}
}
