package main

import (
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// tickedOn is what stands ticked on "What do you see?".
func tickedOn(p *phone) []string {
	p.t.Helper()
	p.until("document.querySelector('input[name=flag]') && document.querySelector('.screen')?.dataset.at === location.hash")
	return eval[[]string](p, "[...document.querySelectorAll('input[name=flag]:checked')].map(e => e.value)")
}

// chooses says on that screen which animal it is.
func (p *phone) chooses(horse string) {
	p.t.Helper()
	p.touch("#who")
	p.touch("input[name=horse][value=" + quote(horse) + "]")
	p.until("location.hash === '#/wrong/" + horse + "' && document.querySelector('.screen')?.dataset.at === location.hash")
}

// concerns are the exams of an animal that were begun because something is wrong, with the signs that have an answer.
func concerns(p *phone, horse vitals.ID) (out [][]vitals.SignID) {
	p.t.Helper()
	for _, e := range stored[vitals.Exam](p, "exams") {
		if e.Horse == horse && e.Purpose == vitals.Concern && e.Status == vitals.Draft {
			var signs []vitals.SignID
			for _, f := range e.Findings {
				signs = append(signs, f.Sign)
			}
			out = append(out, signs)
		}
	}
	return out
}

// A second emergency is of its own animal: from the list nothing is ticked and nobody chosen, what is not named yet is offered
// to go on with, and what was ticked of an animal stays with it whoever is chosen next.
func TestChromiumASecondEmergency(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.visit("#/horse/demo-juniper")
	p.until("document.querySelector('.screen')?.dataset.at === location.hash")
	p.touch("#wrong")
	td.Cmp(t, tickedOn(p), td.Empty())
	p.touch("input[name=flag][value=belly]")
	p.until("document.querySelector('#strip')")

	p.visit("#/")
	p.touch("#wrong")
	td.Cmp(t, tickedOn(p), td.Empty(), "from the list nothing is ticked")
	td.Cmp(t, eval[string](p, "document.querySelector('#who').textContent"), td.Contains(english("page.wrong.later")))
	p.touch("input[name=flag][value=breath]")
	p.touch("#say")
	p.heading(english("page.say"))
	eval[bool](p, "(history.back(), true)")
	p.until("location.hash.startsWith('#/unnamed/')")
	td.Cmp(t, tickedOn(p), []string{"breath"}, "Back comes to what was ticked")
	td.Cmp(t, concerns(p, "demo-juniper"), [][]vitals.SignID{{vitals.PainSigns}}, "Juniper's is hers")

	p.visit("#/")
	p.touch("#wrong")
	td.Cmp(t, tickedOn(p), td.Empty())
	td.Cmp(t, p.text(), td.Contains(english("flag.breath")))
	p.look("offered")
	p.touch("[id^=on-]")
	p.until("location.hash.startsWith('#/unnamed/')")
	td.Cmp(t, tickedOn(p), []string{"breath"})
	p.chooses("demo-corporal")
	td.Cmp(t, tickedOn(p), []string{"breath"}, "it is Corporal")
	p.chooses("demo-juniper")
	td.Cmp(t, tickedOn(p), []string{"belly"}, "Juniper has what was ticked of her")
	td.Cmp(t, p.text(), td.Contains(said("en", "page.wrong.stays", "name", "Corporal", "flags", english("flag.breath"))))
	p.look("stays")
	td.Cmp(t, concerns(p, "demo-corporal"), [][]vitals.SignID{{vitals.RespiratoryEffort}})

	p.visit("#/horse/demo-corporal")
	p.touch("#wrong")
	p.until("location.hash === '#/wrong/demo-corporal'")
	td.Cmp(t, tickedOn(p), []string{"breath"}, "the same event is found again")

	// What nobody had named is added to the animal's own.
	p.visit("#/wrong")
	td.Cmp(t, tickedOn(p), td.Empty())
	p.touch("input[name=flag][value=bleeding]")
	p.until("location.hash.startsWith('#/unnamed/')")
	p.chooses("demo-juniper")
	td.Cmp(t, tickedOn(p), td.Bag("belly", "bleeding"))
	p.until(storedJS("notes") + ".then(all => !all.some(n => n.flags && n.exam?.horse === ''))")
	td.Cmp(t, concerns(p, "demo-juniper"), [][]vitals.SignID{{vitals.Wounds, vitals.PainSigns}})
}

// Who adds the animal in the middle of a call comes back to the call; and of an animal that nobody named yet, no line tells to feed it
// beside signs of belly pain.
func TestChromiumAddedInTheMiddleOfACall(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.visit("#/")
	p.touch("#wrong")
	p.touch("input[name=flag][value=belly]")
	p.touch("input[name=flag][value=in-foal-feed]")
	p.touch("#say")
	p.heading(english("page.say"))
	td.Cmp(t, p.text(), td.Not(td.Contains(said("en", "wait.tempt"))))
	eval[bool](p, "(history.back(), true)")
	p.until("location.hash.startsWith('#/unnamed/')")
	p.touch("#who")
	p.touch("#add")
	p.heading(english("page.horse.adding"))
	p.enter("name", "Moth")
	p.touch("input[name=type][value=horse]")
	p.touch("input[name=sex][value=mare]")
	p.touch("#go")
	p.until("location.hash.startsWith('#/unnamed/')")
	td.Cmp(t, tickedOn(p), []string{"belly", "in-foal-feed"})
	p.until("document.querySelector('#strip')")
	p.touch("#who")
	td.Cmp(t, p.text(), td.Contains("Moth"))
}
