package main

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// task is what a person sets out to do, with the taps and the time that it took by touch.
type task struct {
	name           string
	taps, most     int
	counting       int // taps that are beats, breaths and holds: the counting itself
	seconds, count time.Duration
}

// tasks prints the table of the tasks and holds each to its limit.
func tasks(t *testing.T, list []task) {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "\n%-58s %5s %6s %9s %9s %9s\n", "task", "taps", "limit", "counting", "s", "of them counting")
	for _, k := range list {
		fmt.Fprintf(&b, "%-58s %5d %6d %9d %9.1f %9.1f\n", k.name, k.taps, k.most, k.counting, k.seconds.Seconds(), k.count.Seconds())
		if k.taps > k.most {
			t.Errorf("%s: %d taps, and %d are the limit", k.name, k.taps, k.most)
		}
	}
	t.Log(b.String())
	if file := os.Getenv("WHORL_TASKS"); file != "" {
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Error(err)
		}
	}
}

// timing measures a task from now on; counts are what f taps.
type timing struct {
	p       *phone
	task    task
	from    time.Time
	counted int
}

func (p *phone) begin(name string, most int) *timing {
	return &timing{p: p, task: task{name: name, most: most}, from: time.Now(), counted: p.taps}
}

func (m *timing) counting(f func()) {
	taps, from := m.p.taps, time.Now()
	f()
	m.task.counting += m.p.taps - taps
	m.task.count += time.Since(from)
}

func (m *timing) end() task {
	m.task.taps = m.p.taps - m.counted - m.task.counting
	m.task.seconds = time.Since(m.from)
	return m.task
}

// A usual horse on a quiet day. What is kept is what the lines said; the taps hold the limits.
func TestChromiumTasks(t *testing.T) {
	t.Parallel()
	b, url := browser(t), serve(t)
	var list []task
	// A first visit: nothing was chosen before, the demo barn is there.
	p := newPhone(t, b, "about:blank")
	m := p.begin("first visit to a first counted heart rate (< 60 s)", 6)
	p.open(url)
	p.touch("#look-demo-juniper")
	p.heading("Check Juniper")
	p.touch("input[name=holder][value=held]")
	p.touch("#why-learning")
	p.until("document.querySelector('.screen.group')")
	p.touch("#where")
	p.touch("Heart rate")
	p.heading(asked(vitals.HeartRate, vitals.HandsOn))
	m.counting(func() { p.tapBeats(8, 1500*time.Millisecond) })
	p.until("document.querySelector('#rate')?.textContent === '40'")
	p.until("document.querySelector('.pm')?.textContent.includes(" + quote(english("page.aminute")) + ")")
	one := m.end()
	list = append(list, one)
	td.Cmp(t, one.seconds < time.Minute, true, "a first rate took %v", one.seconds)
	p.touch(english("page.leave"))
	p.until("document.querySelector('.draft')")

	// The depth is that of the last exam, so that the first walk-up has a tap more.
	list = append(list, walkUp(p, "first walk-up of a usual horse, from the barn to the result", 7))
	p.open(url)
	list = append(list, walkUp(p, "walk-up of a usual horse, from the barn to the result", 6))
	p.look("result")
	got := last(p, "demo-corporal")
	td.Cmp(t, got.Status, vitals.Finished)
	td.Cmp(t, []any{got.Purpose, got.State.Condition, got.Wellness}, []any{vitals.Learning, vitals.AtRest, vitals.Well})
	for _, f := range got.Findings {
		// Dry or clear are both usual at the nostrils: which, no line claims, and this horse was not asked.
		if sign, _ := vitals.Lookup(f.Sign); sign.Depth == vitals.WalkUp && f.Sign != vitals.RespiratoryRate && f.Sign != vitals.Nostrils {
			if td.Cmp(t, f.Chosen, td.Len(1), "%s %s", f.Sign, f.Absent) {
				grade, _ := sign.Grade(f.Chosen[0])
				td.Cmp(t, grade.Rank, 0, "%s", f.Sign)
			}
		}
	}

	p.open(url)
	m = p.begin("from the barn to reading the report of a finished exam", 2)
	p.touch("Corporal")
	p.touch("[id^='report-" + string(got.ID) + "']")
	p.heading(english("page.call.tell"))
	p.until("document.querySelectorAll('.call section').length > 3")
	list = append(list, m.end())

	p.open(url)
	m = p.begin("hands-on of a usual horse, from the barn to the result", 22)
	p.touch("#look-demo-juniper")
	p.heading("Check Juniper")
	p.until("document.querySelector('input[name=holder][value=held]').checked") // as in the last exam
	p.until("document.querySelector('input[name=depth][value=hands-on]').checked")
	p.touch("#why-learning")
	usual(p, m)
	p.touch("#go")
	p.until("location.hash.endsWith('/result') && document.querySelector('.told')")
	list = append(list, m.end())
	for _, f := range last(p, "demo-juniper").Findings {
		td.Cmp(t, f.Absent, vitals.Absence(""), "%s %s", f.Sign, f.Site)
	}
	tasks(t, list)
}

// walkUp is the look from outside at a horse as it usually is, on a quiet day.
func walkUp(p *phone, name string, most int) task {
	p.t.Helper()
	m := p.begin(name, most)
	p.touch("#look-demo-corporal")
	p.heading("Check Corporal")
	if !eval[bool](p, "document.querySelector('input[name=depth][value=walk-up]').checked") {
		p.touch("input[name=depth][value=walk-up]")
	}
	p.touch("#why-learning")
	p.until("document.querySelector('.screen.group')")
	p.look("walk-up")
	p.point("#take-doing-standing")
	before := eval[float64](p, "scrollY")
	p.touch("#take-doing-standing")
	p.until("document.querySelector('#other-doing')?.textContent === " + quote(english("page.change")))
	// Nothing jumps: what was under the thumb is still there.
	td.Cmp(p.t, eval[float64](p, "scrollY"), td.Between(before-2, before+2))
	p.touch("#close")
	p.heading(asked(vitals.RespiratoryRate, vitals.WalkUp))
	m.counting(func() { p.tapBeats(4, 3*time.Second) })
	p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
	p.touch("#go")
	p.heading(english("page.check.title"))
	p.look("check")
	td.Cmp(p.t, eval[bool](p, "document.querySelector('input[name=wellness][value=well]').checked"), true)
	p.touch("#go")
	p.until("location.hash.endsWith('/result') && document.querySelector('.told')")
	return m.end()
}

// usual goes through a hands-on exam of a usual horse, stop by stop, up to the check.
func usual(p *phone, m *timing) {
	p.t.Helper()
	for range 30 {
		p.until("/[/](g[/][0-9]+|[0-9]+|check)$/.test(location.hash) && document.querySelector('.screen')?.dataset.at === location.hash")
		here := eval[string](p, "location.hash")
		switch {
		case strings.HasSuffix(here, "/check"):
			p.heading(english("page.check.title"))
			return
		case eval[bool](p, "!!document.querySelector('.screen.group')"):
			for eval[bool](p, "!!document.querySelector('.choices button')") {
				n := eval[int](p, "document.querySelectorAll('.choices').length")
				p.touch(".choices button")
				p.until(fmt.Sprintf("document.querySelectorAll('.choices').length === %d", n-1))
			}
			p.look("group")
			p.touch("#close")
		case eval[bool](p, "!!document.querySelector('#everywhere')"):
			p.touch("#everywhere")
		case eval[bool](p, "!!document.querySelector('.counting, #way-taps')"):
			beat := 1500 * time.Millisecond
			if eval[bool](p, "document.querySelector('#pad').textContent.includes('breath')") {
				beat = 3 * time.Second
			}
			m.counting(func() { p.tapBeats(6, beat) })
			p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
			p.touch("#go")
		default: // timed by hold
			m.counting(func() {
				for range 2 {
					x, y := p.point("#pad")
					p.press(x, y)
					time.Sleep(1400 * time.Millisecond)
					p.lift()
				}
			})
			p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
			p.touch("#go")
		}
		p.until("location.hash !== " + quote(here))
	}
	p.t.Fatal("the exam has no end")
}

// last is the last exam of a horse that is kept.
func last(p *phone, horse vitals.ID) vitals.Exam {
	p.t.Helper()
	var out vitals.Exam
	for _, e := range stored[vitals.Exam](p, "exams") {
		if e.Horse == horse && e.At.After(out.At) {
			out = e
		}
	}
	return out
}

// open goes to an address as anew.
func (p *phone) open(url string) {
	p.t.Helper()
	p.navigate(url)
	p.until("document.querySelector('.horse, .draft')")
}
