package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// yard is twelve horses in numbered stalls, given in another order than that of the stalls.
func yard() schema.File {
	f := largeBarn(30)
	f.Exams = nil
	f.Horses = f.Horses[:12]
	for i := range f.Horses {
		f.Horses[i].Stands = fmt.Sprintf("Stall %d", 1+(i*5)%12)
	}
	return f
}

// A morning's round of twelve horses: in the order of the stalls, at most four touches a horse beside the reading; who did it
// and who is missing are read from the exams, so that a reload knows as much.
func TestChromiumRound(t *testing.T) {
	t.Parallel()
	text, err := schema.Encode(yard())
	td.Require(t).CmpNoError(err)
	p := newPhone(t, browser(t), serve(t)+"/#/files")
	p.heading(english("page.files.title"))
	p.choose("file", laid(t, "yard.json", text))
	p.until("document.querySelector('p.result')?.textContent.includes('12 horses')")
	p.visit("#/")
	p.until("document.querySelector('#demo-out')")
	p.touch("#demo-out")
	p.until("!document.querySelector('#demo-out')")
	p.touch("#round")
	p.heading(english("page.round.title"))
	p.enter("by", "Wren")
	p.touch("input[name=round-kind][value=temperature]")
	p.until("document.querySelector('input[name=round-kind][value=temperature]')?.checked && document.querySelectorAll('.exams li').length === 12")
	p.look("round")

	m := p.begin("temperatures of twelve horses, from the round to its end", 4*12)
	for n := range 12 {
		p.until(fmt.Sprintf("document.querySelector('#go')?.textContent.includes('%d of 12')", n+1))
		p.touch("#go")
		p.until("document.querySelector('#value')")
		if n == 0 {
			p.touch("input[name=device][value=digital]") // it is remembered
		}
		m.counting(func() { p.enter("value", fmt.Sprintf("37.%d", 1+n%9)) })
		p.until("document.querySelector('p.result')?.textContent.includes('37.')")
		p.touch("#go")
		p.until("location.hash === '#/round'")
	}
	tasks(t, []task{m.end()})
	p.heading(english("page.round.all"))
	p.look("round-done")

	// The order is that of the stalls, and each exam says who did it.
	var stalls []string
	by := map[vitals.ID]vitals.Horse{}
	for _, h := range stored[vitals.Horse](p, "horses") {
		by[h.ID] = h
	}
	exams := stored[vitals.Exam](p, "exams")
	td.Cmp(t, len(exams), 12)
	for i := range 12 {
		for _, e := range exams {
			if by[e.Horse].Stands == fmt.Sprintf("Stall %d", i+1) {
				stalls = append(stalls, by[e.Horse].Stands)
				td.Cmp(t, e.By, "Wren")
				td.Cmp(t, e.Findings[0].Reading.Value.String(), fmt.Sprintf("37.%d", 1+i%9), "stall %d", i+1)
			}
		}
	}
	td.Cmp(t, len(stalls), 12)

	// A look at each: another round, of which nobody is done. The result leads on to the next.
	p.touch("input[name=round-kind][value=look]")
	p.until("document.querySelector('#go')?.textContent.includes('1 of 12')")
	m = p.begin("a look at two horses in a round", 8)
	for _, on := range []string{"#go", "#next"} {
		p.touch(on)
		p.until("document.querySelector('.screen.group')")
		for eval[bool](p, "!!document.querySelector('.choices button')") {
			count := eval[int](p, "document.querySelectorAll('.choices').length")
			m.counting(func() { p.touch(".choices button") })
			p.until(fmt.Sprintf("document.querySelectorAll('.choices').length === %d", count-1))
		}
		p.touch("#close")
		p.heading(asked(vitals.RespiratoryRate, vitals.WalkUp))
		m.counting(func() { p.tapBeats(4, 3*time.Second) })
		p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
		p.touch("#go")
		p.heading(english("page.check.title"))
		p.touch("#go")
		p.until("location.hash.endsWith('/result') && document.querySelector('#next')")
		p.look("round-result")
	}
	tasks(t, []task{m.end()})
	p.visit("#/round")
	p.until("document.querySelector('#go')?.textContent.includes('3 of 12')")
	td.Cmp(t, p.text(), td.Contains("by Wren"))
}
