package main

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// strip waits until the strip of the call says something, white or red.
func (p *phone) strip(told bool, text string) {
	p.t.Helper()
	look := ":not(.told)"
	if told {
		look = ".told"
	}
	p.until("document.querySelector('#strip" + look + "')?.textContent.includes(" + quote(text) + ")")
}

// anExam keeps an exam of a demo horse, begun because something is wrong, with one answer or none.
func anExam(p *phone, id, horse vitals.ID, findings ...vitals.Finding) string {
	p.t.Helper()
	keep(p, "exams", "", vitals.Exam{ID: id, Horse: horse, At: time.Now().Truncate(time.Second), Depth: vitals.WalkUp, Purpose: vitals.Concern,
		State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Draft, Findings: findings})
	return "#/exam/" + string(id)
}

// What comes after the vet was told is said anew, with what is new, and is covered by telling again: a tick, an answer in the
// exam, an answer of which only the rules know that it is a reason to call.
func TestChromiumNewDangerAfterTelling(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')") // the core is there
	told := said("en", "page.call.told.at", "at", "")
	fresh := func(what string) string { return said("en", "page.call.new", "what", what) }
	p.visit("#/wrong/demo-juniper")
	p.touch("input[name=flag][value=belly]")
	p.touch("#say")
	p.touch("#told")
	p.strip(true, told)
	eval[bool](p, "(history.back(), true)")
	p.strip(true, told)
	id := draft(p).ID
	exam := "#/exam/" + string(id)
	p.visit(exam + "/all")
	p.until("document.querySelector('.screen')?.dataset.at === location.hash")
	time.Sleep(500 * time.Millisecond) // the rules have said of the told tick what they say of it
	p.strip(true, told)

	p.visit("#/wrong/demo-juniper")
	p.touch("input[name=flag][value=swallow]")
	p.strip(false, fresh(english("flag.swallow")))
	td.Cmp(t, eval[string](p, "document.querySelector('#strip').textContent"), td.Contains(english("act.feed-water-away")))
	p.look("new")
	p.visit("#/")
	p.until("document.querySelector('.called:not(.told)')?.textContent.includes(" + quote(fresh(english("flag.swallow"))) + ")")
	p.look("list")
	p.touch("#told-" + string(id))
	p.until("document.querySelector('.called.told')")

	p.visit(exam + "/list")
	p.strip(true, told)
	p.touch("input[value=will-not-walk]")
	p.strip(false, fresh(english("flag.will-not-walk")))
	p.touch("#say")
	p.touch("#told")
	p.strip(true, told)
	p.visit(exam + "/list")
	p.strip(true, told)
	p.touch("input[value=pushing]") // no flag: the rules know
	p.strip(false, fresh(english("alarm.pushing-breath")))
	p.look("rule")
}

// A tick that is taken back in an exam leaves a call of which the reason is gone: it says so, and a mistake closes it. Ticked again,
// it is open again.
func TestChromiumTakenBack(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	exam := anExam(p, "back", "demo-corporal")
	p.visit(exam + "/list")
	p.touch("input[value=rolls]")
	p.strip(false, english("page.ring.now"))
	p.visit("#/")
	p.until("document.querySelector('.called')?.textContent.includes(" + quote(english("flag.belly")) + ")")
	p.visit(exam + "/list")
	p.touch("input[value=rolls]")
	gone := said("en", "page.call.gone", "what", english("flag.belly"))
	p.strip(false, gone)
	p.look("gone")
	p.visit("#/")
	p.until("document.querySelector('.called')?.textContent.includes(" + quote(gone) + ")")
	p.look("list")
	p.visit(exam + "/list")
	p.touch("#mistake")
	p.heading(english("page.outcome"))
	p.touch("#go")
	p.until("location.hash === '" + exam + "/list' && document.querySelector('.listed') && !document.querySelector('#strip')")
	p.touch("input[value=rolls]")
	p.strip(false, english("page.ring.now"))
}

// A card of the list names its reason where it is no flag: a number that was counted in the exam.
func TestChromiumTheCardNamesItsReason(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	p.visit(anExam(p, "fast", "demo-corporal", vitals.Finding{Sign: vitals.HeartRate, Count: &vitals.Count{Events: 45, Seconds: 30, Start: vitals.OnBeat}}) + "/all")
	p.strip(false, english("page.ring.now"))
	p.visit("#/")
	of := vitals.FiredAlarms(vitals.Horse{Type: vitals.TypeHorse}, draft(p))
	td.Require(t).Cmp(of, td.NotEmpty())
	p.until("document.querySelector('.called')?.textContent.includes(" + quote(english("alarm."+string(of[0].Alarm))) + ")")
}

// A recheck that only counted the heart still says to call now where the horse rolled an hour before and nobody looked again: in the
// result's level, its words and the report.
func TestChromiumHeldUntilLookedAtAgain(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	first := vitals.Exam{ID: "rolled", Horse: "demo-juniper", At: time.Now().Add(-time.Hour).Truncate(time.Second), Depth: vitals.WalkUp, Purpose: vitals.Concern,
		Wellness: vitals.Unwell, State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Finished,
		Findings: []vitals.Finding{{Sign: vitals.PainSigns, Chosen: []vitals.GradeID{"rolls"}}}}
	again := first
	again.ID, again.At, again.RecheckOf, again.Purpose = "counted", time.Now().Truncate(time.Second), first.ID, vitals.Recheck
	again.Findings = []vitals.Finding{{Sign: vitals.HeartRate, Count: &vitals.Count{Events: 34, Seconds: 60, Start: vitals.Anywhere}}}
	keep(p, "exams", "", first)
	keep(p, "exams", "", again)
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.until("document.querySelector('.face svg')")
	p.visit("#/exam/counted/result")
	held := strings.SplitN(english("page.ring.held"), "{at}", 2)[0]
	p.until("document.querySelector('#level.urgent li')?.textContent.startsWith(" + quote(held) + ")")
	p.look("held")
	p.visit("#/exam/counted/call")
	p.heading(english("page.call.tell"))
	p.until("document.body.textContent.includes('not checked again')")
	td.Cmp(t, p.text(), td.Not(td.Contains(said("en", "page.call.gone", "what", ""))), "nobody took it back")
	p.look("held-call")
}
