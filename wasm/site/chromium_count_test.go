package main

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	core "whorl.example/wasm/api"

	"whorl.example/vitals"
)

// start goes from the barn into an exam of a demo horse, on a routine look at rest.
func start(p *phone, horse, depth, holder string) {
	p.t.Helper()
	p.until("document.querySelector('.face') && !document.querySelector('.face:empty')") // the list has come to rest
	p.touch("#look-demo-" + strings.ToLower(horse))
	p.heading("Check " + horse)
	p.touch("input[name=depth][value=" + depth + "]")
	if depth != "walk-up" {
		p.touch("input[name=holder][value=" + holder + "]")
	}
	p.touch("#why-routine")
	p.touch("#state-rest")
	p.until("location.hash.startsWith('#/exam/') && document.querySelector('.screen.group')")
}

// begin begins an exam of a demo horse and goes to the step of a sign.
func begin(p *phone, horse, depth string, sign vitals.SignID, at vitals.Depth) {
	p.t.Helper()
	start(p, horse, depth, "held")
	for i, s := range stepsAsked(vitals.Depth(depth), vitals.Held, false) {
		if s.Sign == sign && s.Depth == at {
			toStep(p, strconv.Itoa(i))
			p.heading(title(s))
			return
		}
	}
	p.t.Fatal("no such step")
}

// toStep goes to a screen of the exam in hand by its address.
func toStep(p *phone, parts string) {
	p.t.Helper()
	eval[bool](p, "(location.hash = location.hash.split('/').slice(0, 3).join('/') + '/"+parts+"', true)")
}

// draft is the unfinished exam that the page keeps.
func draft(p *phone) vitals.Exam {
	p.t.Helper()
	for _, e := range stored[vitals.Exam](p, "exams") {
		if e.Status == vitals.Draft {
			return e
		}
	}
	p.t.Fatal("no draft in the store")
	return vitals.Exam{}
}

// finding is what the draft has of a sign.
func finding(p *phone, sign vitals.SignID) *vitals.Finding {
	p.t.Helper()
	for _, f := range draft(p).Findings {
		if f.Sign == sign {
			return &f
		}
	}
	return nil
}

// Taps at known moments, through the browser's own touch events: the page keeps these
// moments and shows the rate that the library gives for them. The series is of rr intervals
// about 1.67 s, as of a heart at 36 a minute.
func TestChromiumTapPad(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	begin(p, "Juniper", "hands-on", vitals.HeartRate, vitals.HandsOn)
	want := []int{0, 1700, 3310, 5020, 6660, 8350, 9980, 11700}
	x, y := p.point("#pad")
	start := time.Now()
	for _, ms := range want {
		at := start.Add(time.Duration(ms) * time.Millisecond)
		p.pressAt(x, y, at)
		p.liftAt(at.Add(80 * time.Millisecond))
	}
	p.until("document.querySelector('.strip path')?.getAttribute('d').match(/V6/g).length === 8")
	p.picture("taps")
	kept := func() []int {
		p.until("true")
		if f := finding(p, vitals.HeartRate); f != nil && f.Taps != nil {
			return f.Taps.AtMS
		}
		return nil
	}
	for i, ms := range kept() {
		td.Cmp(t, ms, td.Between(want[i]-1, want[i]+1), "tap %d", i)
	}
	shows := func() {
		t.Helper()
		request, _ := json.Marshal(map[string]any{"sign": vitals.HeartRate, "atMs": kept(), "lang": "en"})
		var said struct {
			OK    bool
			Value struct {
				Measure vitals.Measure
				How     string
			}
		}
		answer := core.Call("taps", request)
		if err := json.Unmarshal(answer, &said); err != nil || !said.OK {
			t.Fatalf("taps: %s", answer)
		}
		rate := fmt.Sprintf("%.0f", said.Value.Measure.Value)
		p.until("document.querySelector('#rate')?.textContent === " + quote(rate))
		p.until("document.querySelector('.under')?.textContent === " + quote(said.Value.How))
	}
	shows()
	// Undo takes the last tap away, and the rate follows.
	p.touch("#undo")
	p.until("document.querySelector('.strip path')?.getAttribute('d').match(/V6/g).length === 7")
	td.Cmp(t, len(kept()), 7)
	shows()
	// Space and Enter are beats too, once each, however long they are held.
	p.touch("#restart")
	p.until("!document.querySelector('.strip path')")
	td.CmpNil(t, finding(p, vitals.HeartRate))
	for i := range 6 {
		p.key(" ", i == 2)
		time.Sleep(300 * time.Millisecond)
	}
	p.until("document.querySelector('.strip path')?.getAttribute('d').match(/V6/g).length === 6")
}

// Malformed entries are refused on the page, at the top and at the field, and stay as typed.
func TestChromiumFaults(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	begin(p, "Juniper", "full", vitals.RectalTemperature, vitals.Full)
	p.picture("temperature")
	for _, typed := range []string{"38..1", "warm", "3 8", "-38", "１２"} {
		p.enter("value", typed)
		p.touch("#go")
		p.until("document.activeElement?.classList.contains('summary')")
		td.Cmp(t, eval[string](p, "document.querySelector('#value').value"), typed)
		top := eval[string](p, "document.querySelector('.summary .link').textContent")
		td.Cmp(t, eval[string](p, "document.querySelector('#value-fault').textContent"), top)
		td.Cmp(t, eval[string](p, "document.title"), td.HasPrefix(english("page.fault.title")))
	}
	p.picture("faults")
	// A comma is a point; a unit typed behind the number is its unit.
	p.enter("value", "37,80 C")
	p.touch("input[name=device][value=digital]")
	p.until("document.querySelector('input[name=device][value=digital]').checked")
	here := eval[string](p, "location.hash")
	p.touch("#go")
	p.until("location.hash !== " + quote(here))
	reading := finding(p, vitals.RectalTemperature).Reading
	td.Cmp(t, reading.Value.StringFixed(-reading.Value.Exponent()), "37.80")
	td.Cmp(t, reading.Unit, vitals.Celsius)

	// Degrees that no animal has in the unit chosen are of the other one, and the page says so.
	begin2(p, vitals.RectalTemperature)
	p.enter("value", "101.2")
	p.until("document.querySelector('input[name=unit][value=\"[degF]\"]').checked")
	p.until("document.querySelector('p.result').textContent.includes('taken as')")
	td.Cmp(t, finding(p, vitals.RectalTemperature).Reading.Unit, vitals.Fahrenheit)
	p.enter("value", "38.1")
	p.until("document.querySelector('input[name=unit][value=Cel]').checked")

	// What no animal can have is a slip of the finger: the core says so in the same place.
	begin2(p, vitals.RectalTemperature)
	p.enter("value", "87,8 C")
	p.touch("#go")
	p.until("document.activeElement?.classList.contains('summary')")
	p.picture("impossible")
	td.Cmp(t, strings.TrimSpace(eval[string](p, "document.querySelector('#value-fault').textContent")), td.NotEmpty())
}

// begin2 goes to another step of the exam in hand.
func begin2(p *phone, sign vitals.SignID) {
	p.t.Helper()
	for i, s := range stepsAsked(vitals.Full, vitals.Held, false) {
		if s.Sign == sign {
			eval[bool](p, fmt.Sprintf("(location.hash = location.hash.replace(/[a-z0-9]+$/, '%d'), true)", i))
			p.heading(title(s))
			return
		}
	}
}

// library is what the core says of a request to an op.
func library(t *testing.T, op string, request map[string]any) (said struct {
	Measure vitals.Measure
	Shown   string
	How     string
	Advice  string
}) {
	t.Helper()
	request["lang"] = "en"
	text, err := json.Marshal(request)
	td.CmpNoError(t, err)
	var answer struct {
		OK    bool
		Value any
	}
	answer.Value = &said
	raw := core.Call(op, text)
	if err := json.Unmarshal(raw, &answer); err != nil || !answer.OK {
		t.Fatalf("%s: %s", op, raw)
	}
	return said
}

// Breaths are tapped on the same pad, at moments of their own, some uneven: the page shows
// what the library gives for breaths, which have no rhythm.
func TestChromiumBreathTaps(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	begin(p, "Juniper", "hands-on", vitals.RespiratoryRate, vitals.WalkUp)
	want := []int{0, 4900, 10300, 14800, 20100, 25400, 29900}
	x, y := p.point("#pad")
	start := time.Now()
	for _, ms := range want {
		at := start.Add(time.Duration(ms) * time.Millisecond)
		p.pressAt(x, y, at)
		p.liftAt(at.Add(200 * time.Millisecond))
	}
	p.until("document.querySelector('.strip path')")
	p.until("document.querySelector('#pad small')?.textContent.startsWith('7 ')")
	shows := func(n int) {
		t.Helper()
		p.until("true")
		kept := finding(p, vitals.RespiratoryRate).Taps.AtMS
		td.Cmp(t, len(kept), n)
		for i, ms := range kept {
			td.Cmp(t, ms, td.Between(want[i]-1, want[i]+1), "tap %d", i)
		}
		said := library(t, "taps", map[string]any{"sign": vitals.RespiratoryRate, "atMs": kept})
		p.until("document.querySelector('#rate')?.textContent === " + quote(fmt.Sprintf("%.0f", said.Measure.Value)))
		p.until("document.querySelector('.under')?.textContent === " + quote(said.How))
	}
	shows(7)
	p.picture("breaths")
	p.touch("#undo")
	p.until("document.querySelector('#pad small')?.textContent.startsWith('6 ')")
	shows(6)
	// What was started anew by mistake comes back.
	p.touch("#restart")
	p.until("document.querySelector('#restore')")
	p.touch("#restore")
	p.until("document.querySelector('#pad small')?.textContent.startsWith('6 ')")
	shows(6)
}

// Press and release, at known moments through the browser's own touch events: the tries
// are kept to the hundredth, their mean is the library's; undo and restart take back.
func TestChromiumPressAndRelease(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	begin(p, "Juniper", "hands-on", vitals.CapillaryRefill, vitals.HandsOn)
	x, y := p.point("#pad")
	start := time.Now()
	hold := func(from, ms int) {
		t.Helper()
		at := start.Add(time.Duration(from) * time.Millisecond)
		p.pressAt(x, y, at)
		p.liftAt(at.Add(time.Duration(ms) * time.Millisecond))
	}
	shows := func(want ...int) {
		t.Helper()
		p.until(fmt.Sprintf("document.querySelectorAll('.tries li').length === %d", len(want)))
		if len(want) == 0 {
			p.until("document.querySelector('.result')?.textContent === ''")
			td.CmpNil(t, finding(p, vitals.CapillaryRefill))
			return
		}
		var kept []int
		for range 100 { // the finding is written after the list is drawn
			if f := finding(p, vitals.CapillaryRefill); f != nil && f.Timed != nil {
				if kept = f.Timed.CentiSeconds; len(kept) == len(want) {
					break
				}
			}
			time.Sleep(20 * time.Millisecond)
		}
		td.Cmp(t, len(kept), len(want))
		for i, cs := range kept {
			td.Cmp(t, cs, td.Between(want[i]-1, want[i]+1), "try %d", i)
		}
		said := library(t, "measure", map[string]any{"sign": vitals.CapillaryRefill,
			"finding": map[string]any{"sign": vitals.CapillaryRefill, "timed": map[string]any{"centiSeconds": kept}}})
		p.until("document.querySelector('.result')?.textContent === " + quote(said.Shown+" – "+said.How))
	}
	hold(0, 1630)
	shows(163)
	hold(3000, 50) // a touch by mistake
	shows(163)
	hold(4000, 1480)
	hold(7000, 1720)
	shows(163, 148, 172)
	p.look("tries")
	hold(10000, 1900) // takes the place of the first
	shows(148, 172, 190)
	p.touch("#undo")
	shows(163, 148, 172)
	p.touch("#restart")
	shows()
	p.touch("#undo")
	shows(163, 148, 172)
}
