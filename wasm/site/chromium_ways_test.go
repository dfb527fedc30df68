package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	core "whorl.example/wasm/api"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// Count aloud: the telephone times fifteen seconds, the person types what was counted.
func TestChromiumCountAloud(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	begin(p, "Juniper", "hands-on", vitals.HeartRate, vitals.HandsOn)
	p.touch("#way-count")
	p.until("document.querySelector('#events')")
	p.look("count")
	p.touch("input[name=seconds][value='15']")
	p.press(p.point("#pad"))
	p.lift()
	p.until("document.querySelector('.clock .big')?.textContent === '13'")
	p.look("counting")
	p.until("document.querySelector('#pad')?.textContent.includes(" + quote(english("page.timer.over")) + ")")
	p.enter("events", "ten")
	p.touch("#go")
	p.until("document.activeElement?.classList.contains('summary')")
	p.enter("events", "10")
	p.until("document.querySelector('.result')?.textContent.startsWith(" + quote(shown(t, vitals.Finding{
		Sign: vitals.HeartRate, Site: "jaw", Count: &vitals.Count{Events: 10, Seconds: 15, Start: vitals.OnBeat}})) + ")")
	p.look("counted")
	// The rate, how good it is, and that fifteen seconds are enough or not, are the library's.
	said := library(t, "measure", map[string]any{"sign": vitals.HeartRate, "finding": map[string]any{
		"sign": vitals.HeartRate, "count": map[string]any{"events": 10, "seconds": 15, "start": "on-beat"}}})
	p.until("document.querySelector('.result')?.textContent.startsWith(" + quote(said.Shown+" – "+said.How) + ")")
	// Starting again takes the number and the clock back; undo brings them.
	p.touch("#restart")
	p.until("document.querySelector('#events').value === '' && document.querySelector('.result')?.textContent === ''")
	p.until("document.querySelector('#pad')?.textContent.includes(" + quote(english("page.timer.start")) + ")")
	p.touch("#undo")
	p.until("document.querySelector('#events').value === '10'")
	p.until("document.querySelector('.result')?.textContent.startsWith(" + quote(said.Shown) + ")")
	// A window begun by mistake is taken back as well, and what was counted stays.
	p.press(p.point("#pad"))
	p.lift()
	p.until("document.querySelector('.clock .big')?.textContent === '15'")
	p.touch("#undo")
	p.until("document.querySelector('#pad')?.textContent.includes(" + quote(english("page.timer.over")) + ")")
	td.Cmp(t, eval[string](p, "document.querySelector('#events').value"), "10")
	// A window of another length is typed; one that is no window is refused at its place.
	p.enter("other-seconds", "2")
	p.touch("#go")
	p.until("document.activeElement?.classList.contains('summary')")
	p.enter("other-seconds", "20")
	p.until("!document.querySelector('input[name=seconds]:checked')")
	p.until("document.querySelector('.result')?.textContent.startsWith(" + quote(shown(t, vitals.Finding{
		Sign: vitals.HeartRate, Site: "jaw", Count: &vitals.Count{Events: 10, Seconds: 20, Start: vitals.OnBeat}})) + ")")
	p.look("window")
	here := eval[string](p, "location.hash")
	p.touch("#go")
	p.until("location.hash !== " + quote(here))
	td.Cmp(t, finding(p, vitals.HeartRate).Count, &vitals.Count{Events: 10, Seconds: 20, Start: vitals.OnBeat})
}

// shown is how the library says a finding.
func shown(t *testing.T, f vitals.Finding) string {
	t.Helper()
	text, err := schema.Marshal(map[string]vitals.Finding{"finding": f})
	if err != nil {
		t.Fatal(err)
	}
	var said struct{ Value struct{ Shown string } }
	answer := core.Call("measure", append([]byte(`{"sign":"`+string(f.Sign)+`",`), text[1:]...))
	if err := json.Unmarshal(answer, &said); err != nil || said.Value.Shown == "" {
		t.Fatalf("measure: %s", answer)
	}
	return said.Value.Shown
}

// A horse that is down and thrashing closes the steps with the hands; the exam goes to the call.
func TestChromiumDownGoesToTheCall(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	begin(p, "Juniper", "full", vitals.Attitude, vitals.WalkUp)
	p.touch("input[value=down-thrashing]")
	p.touch("#go")
	p.heading(english("page.closed.title"))
	p.look("closed")
	p.touch("#go")
	p.until("location.hash.endsWith('/call')")
	p.until("document.querySelector('h1')?.textContent !== " + quote(english("page.closed.title")))
	p.look("call")
	for _, e := range stored[vitals.Exam](p, "exams") {
		if strings.HasPrefix(string(e.ID), "demo-") {
			continue
		}
		td.Cmp(t, e.Status, vitals.Finished)
		for _, f := range e.Findings {
			if f.Sign == vitals.GumColour || f.Sign == vitals.RectalTemperature {
				td.Cmp(t, f.Absent, vitals.ClosedOff, "%s", f.Sign)
			}
			if f.Sign == vitals.Coat {
				td.Cmp(t, f.Absent, vitals.NotTried, "%s", f.Sign)
			}
		}
	}
}

// Where nobody holds the horse, the steps that need a helper are not asked.
func TestChromiumAlone(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	start(p, "Pim", "full", "not-held")
	toStep(p, "list")
	p.until("document.querySelector('.screen.list')")
	n := len(stepsAsked(vitals.Full, vitals.NotHeld, false))
	td.Cmp(t, n < len(stepsAsked(vitals.Full, vitals.Held, false)), true)
	td.Cmp(t, eval[int](p, "document.querySelectorAll('.listed').length"), n)
}
