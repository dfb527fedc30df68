package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// checked is what stands chosen under a name.
func (p *phone) checked(name string) []string {
	p.t.Helper()
	return eval[[]string](p, "[...document.querySelectorAll('input[name="+name+"]:checked')].map(e => e.value)")
}

// at waits until the screen of an address stands.
func (p *phone) at(hash string) {
	p.t.Helper()
	p.visit(hash)
	p.until("location.hash === " + quote(hash) + " && document.querySelector('.screen')?.dataset.at === location.hash")
}

// A look from outside says what it leaves out, and the count of signs is that of the list.
func TestChromiumWhatIsLeftOutIsNamed(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	p.touch("#look-demo-corporal")
	p.touch("input[name=depth][value=walk-up]")
	p.touch("#why-learning")
	p.until("document.querySelector('.screen.group')")
	id := string(draft(p).ID)
	p.touch("#close")
	p.until("!location.hash.includes('/g/') && document.querySelector('.screen')?.dataset.at === location.hash")
	p.ends("#/exam/" + id)
	td.Cmp(t, p.text(), td.Contains(said("en", "page.level.left", "signs", "heart rate, temperature, gum color, and gut sounds")))
	p.look("walk-up")

	full := vitals.Exam{ID: "full", Horse: "demo-corporal", At: time.Now().Truncate(time.Second), Depth: vitals.Full, Purpose: vitals.Routine, Holder: vitals.Held,
		State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Draft,
		Findings: []vitals.Finding{{Sign: vitals.HeartRate, Site: "jaw", Count: &vitals.Count{Events: 18, Seconds: 30, Start: vitals.OnBeat}}}}
	keep(p, "exams", "", full)
	p.ends("#/exam/full")
	n := eval[int](p, "document.querySelectorAll('ul.unchecked li').length")
	td.Cmp(t, p.text(), td.All(td.Contains(said("en", "page.level.none.unchecked", "n", fmt.Sprint(n))),
		td.Contains(said("en", "page.level.left", "signs", "temperature, gum color, and gut sounds"))))
	p.look("full")
}

// Where something is wrong nobody is said to hold the horse, no state is said and no horse is called well unasked.
func TestChromiumNothingIsClaimedUnasked(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.face svg')")
	p.touch("#look-demo-corporal")
	p.touch("input[name=depth][value=hands-on]")
	td.Require(t).Cmp(p.checked("holder"), []string{"held"}, "of the days before")
	p.touch("#why-concern")
	p.until("document.querySelector('#holder-fault') && document.activeElement?.name === 'holder'")
	td.Cmp(t, p.checked("holder"), td.Empty())
	p.touch("input[name=holder][value=not-held]")
	p.touch("#why-concern")
	p.touch("#go")
	p.until("document.querySelector('#condition-fault') && document.activeElement?.name === 'condition'")
	p.touch("#state-rest")
	p.until("document.querySelector('.screen.group')")
	td.Cmp(t, draft(p).Holder, vitals.NotHeld)
	p.at("#/exam/" + string(draft(p).ID) + "/check")
	td.Cmp(t, p.checked("wellness"), td.Empty())

	p.visit("#/wrong/demo-juniper")
	p.touch("input[name=flag][value=belly]")
	p.touch("#further")
	p.until("location.hash.endsWith('/start') && document.querySelector('.screen')?.dataset.at === location.hash")
	td.Cmp(t, p.checked("condition"), td.Empty())
	td.Cmp(t, p.checked("holder"), td.Empty())

	// A quiet day is well by its name, until the horse rolls.
	quiet := vitals.Exam{ID: "quiet", Horse: "demo-bramble", At: time.Now().Truncate(time.Second), Depth: vitals.WalkUp, Purpose: vitals.Learning,
		State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Draft, Wellness: vitals.Well}
	keep(p, "exams", "", quiet)
	p.at("#/exam/quiet/check")
	td.Cmp(t, p.checked("wellness"), []string{"well"})
	p.visit("#/exam/quiet/list")
	p.touch("input[value=rolls]")
	p.strip(false, english("page.ring.now"))
	p.ends("#/exam/quiet")
	for _, e := range stored[vitals.Exam](p, "exams") {
		if e.ID == "quiet" {
			td.Cmp(t, e.Wellness, vitals.Wellness(""))
		}
	}
}

// "Something is wrong" keeps its size beside an unfinished check, and is one tap from every question of an ordinary one.
func TestChromiumSomethingIsWrongFromEveryQuestion(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), "about:blank")
		p.speaks(string(lang))
		p.open(serve(t))
		p.until("document.querySelector('.face svg')")
		routine := vitals.Exam{ID: "routine", Horse: "demo-corporal", At: time.Now().Truncate(time.Second), Depth: vitals.Full, Purpose: vitals.Routine,
			Holder: vitals.Held, State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Draft}
		keep(p, "exams", "", routine)
		p.at("#/files")
		p.at("#/")
		p.until("document.querySelector('.draft #go')")
		td.CmpTrue(t, eval[bool](p, "document.querySelector('#wrong').getBoundingClientRect().width > 350"))
		p.look("barn")
		for _, at := range []string{"0", "g/0", "all", "list", "check", "story/1", fmt.Sprint(len(stepsAsked(vitals.Full, vitals.Held, false)) - 1)} {
			p.at("#/exam/routine/" + at)
			td.Cmp(t, eval[[]string](p, cut), td.Empty(), at)
			p.look(strings.ReplaceAll(at, "/", "-"))
			p.touch("#wrong")
			p.until("location.hash === '#/wrong/demo-corporal'")
			td.Cmp(t, tickedOn(p), td.Empty())
		}
		p.touch("input[name=flag][value=belly]")
		p.until("document.querySelector('#strip')")
		p.at("#/")
		td.Cmp(t, concerns(p, "demo-corporal"), [][]vitals.SignID{{vitals.PainSigns}}, "an exam of its own")
	}
}

// Small things that an owner tripped over at night.
func TestChromiumSmallThings(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), "about:blank")
	p.speaks("es-MX")
	p.open(serve(t))
	p.until("document.querySelector('.face svg')")
	// The flags of one kind of animal stand first; of a foal none is of foaling, and it is called a foal.
	first := func(horse string) string {
		p.at("#/wrong/" + horse)
		return tickedAll(p)[0]
	}
	td.Cmp(t, first("demo-pim"), "donkey-feed")
	td.Cmp(t, first("demo-teasel"), "foal-nursing")
	td.Cmp(t, tickedAll(p), td.Not(td.Any(td.Contains("red-bag"), td.Contains("afterbirth"))))
	p.at("#/horse/demo-teasel")
	td.Cmp(t, p.text(), td.Contains(spanish("page.horse.foal.mare")))
	// One sentence, one full stop, one capital.
	p.at("#/wrong/demo-juniper")
	p.touch("input[name=flag][value=belly]")
	p.touch("input[name=flag][value=swallow]")
	p.at("#/")
	p.until("document.querySelector('.called')")
	td.Cmp(t, eval[string](p, "document.querySelector('.called').textContent"), td.All(td.Contains("y no puede tragar"), td.Not(td.Contains(".."))))
	p.visit(eval[string](p, "'#/outcome/' + document.querySelector('.called').id.slice(7)"))
	p.heading(spanish("page.outcome"))
	td.Cmp(t, eval[string](p, "document.querySelector('.where').textContent"), td.Contains(spanish("page.call.outcome")))
	// A number that nobody told is nobody's: who has counted says for how long.
	keep(p, "exams", "", vitals.Exam{ID: "rate", Horse: "demo-corporal", At: time.Now().Truncate(time.Second), Depth: vitals.Full, Purpose: vitals.Routine,
		Holder: vitals.Held, State: vitals.State{Condition: vitals.AtRest}, Status: vitals.Draft})
	for i, s := range stepsAsked(vitals.Full, vitals.Held, false) {
		switch {
		case s.Sign == vitals.RectalTemperature:
			p.at(fmt.Sprintf("#/exam/rate/%d", i))
			td.Cmp(t, eval[string](p, "document.querySelector('h1').textContent"), td.Contains("recto"))
		case s.Sign == vitals.HeartRate && s.Depth == vitals.Full, s.Sign == vitals.RespiratoryRate:
			p.at(fmt.Sprintf("#/exam/rate/%d", i))
			p.touch("#way-reading")
			p.until("document.querySelector('input[name=device]')")
			td.Cmp(t, p.checked("device"), td.Empty())
			p.enter("value", "40")
			p.touch("#go")
			p.until("document.querySelector('#device-fault')")
			p.touch("input[name=device][value=mine]")
			p.until("document.querySelector('#events')")
		}
	}
}

// tickedAll are the flags that are offered, in their order.
func tickedAll(p *phone) []string {
	p.t.Helper()
	tickedOn(p)
	return eval[[]string](p, "[...document.querySelectorAll('input[name=flag]')].map(e => e.value)")
}
