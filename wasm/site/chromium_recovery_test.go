package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// ofHorse gives the kept exams of a demo horse that are not of the demo barn.
func ofHorse(p *phone, horse string) (out []vitals.Exam) {
	p.t.Helper()
	for _, e := range exams(p) {
		if e.Horse == vitals.ID(horse) {
			out = append(out, e)
		}
	}
	return out
}

// Three horses come in from work: a clock for each, counts by taps, a reload and a killed
// browser in the middle; then the criteria, and a trot in hand by one of its definitions.
func TestChromiumRecoveryOfThree(t *testing.T) {
	t.Parallel()
	url, profile := serve(t), t.TempDir()
	b := browserOf(t, profile)
	p := newPhone(t, b, url)
	p.until("document.querySelector('.horse')")
	p.until("[...document.querySelectorAll('.due-note')].filter(e => e.textContent).length >= 2")
	p.touch("#recovery")
	p.heading("Which horses?")
	p.touch("#go")
	p.until("document.activeElement?.classList.contains('summary')")
	three := []string{"demo-bramble", "demo-corporal", "demo-juniper"}
	for _, id := range three {
		p.touch("input[value=" + id + "]")
	}
	p.see("who")
	p.touch("#go")
	p.heading("After work")
	p.see("board")
	for _, id := range three {
		p.touch("#end-" + id)
		p.until("/^0:\\d\\d$/.test(document.querySelector('#clock-" + id + "')?.textContent)")
	}
	p.see("clocks")

	// The tab goes and comes again: the clocks went on.
	time.Sleep(1200 * time.Millisecond)
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.until("document.querySelector('#clock-demo-juniper')?.textContent > '0:00'")

	p.touch("#count-demo-juniper")
	p.heading(title(vitals.Step{Sign: vitals.HeartRate, Depth: vitals.HandsOn}))
	p.until("/^Juniper: 0:\\d\\d after work$/.test(document.querySelector('#after')?.textContent)")
	before := time.Now()
	p.tapRate(10, 90)
	p.until("document.querySelector('#rate')?.textContent === '90'")
	p.until("document.querySelector('#pad')?.textContent.includes('10 taps')")
	time.Sleep(300 * time.Millisecond)
	p.see("counting")
	// Killed in the middle of the count: the taps and the clocks are there.
	kill(t, profile)
	b = browserOf(t, profile)
	p = newPhone(t, b, url)
	p.until("document.querySelector('#recovery')")
	time.Sleep(time.Second) // what was killed with the browser is worked out anew, and rows move
	p.touch("#recovery")
	p.until("document.querySelector('#count-demo-juniper')?.textContent === " + quote(english("page.recovery.goon")))
	p.touch("#count-demo-juniper")
	p.until("document.querySelector('#rate')?.textContent === '90'")
	p.touch("#go")
	p.until("document.querySelector('#last-demo-juniper')?.textContent.startsWith('90 a minute at 0 min.')")
	p.see("counted")
	mine := ofHorse(p, "demo-juniper")
	td.Require(t).Cmp(mine, td.Len(1))
	e := mine[0]
	td.Cmp(t, []any{e.Purpose, e.Status, e.State.Condition, e.Wellness}, []any{vitals.Recovery, vitals.Finished, vitals.AfterWork, vitals.Wellness("")})
	td.Cmp(t, e.State.Ended.IsZero(), false)
	td.Cmp(t, e.At.Sub(before).Abs() < 15*time.Second, true, "the exam is of the moment of its first tap")
	td.Cmp(t, ofHorse(p, "demo-bramble"), td.Empty())

	// The others by other ways: a count that is given up is no exam.
	p.touch("#count-demo-corporal")
	p.heading(title(vitals.Step{Sign: vitals.HeartRate, Depth: vitals.HandsOn}))
	p.touch("#go")
	p.heading("After work")
	td.Cmp(t, ofHorse(p, "demo-corporal"), td.Empty())

	// Twelve minutes later, by the record: down to 60.
	later := func(id string, ended time.Time, minutes, beats int) {
		keep(p, "exams", "", map[string]any{"id": id, "horse": "demo-juniper", "at": ended.Add(time.Duration(minutes) * time.Minute).UTC().Format(time.RFC3339), "depth": "hands-on", "purpose": "recovery",
			"state": map[string]any{"condition": "after-work", "ended": ended.UTC().Format(time.RFC3339), "sinceMinutes": minutes}, "status": "finished",
			"findings": []any{map[string]any{"sign": "heart-rate", "count": map[string]any{"events": beats, "seconds": 60, "start": "anywhere"}}}})
	}
	ended := time.Now().Add(-20 * time.Minute).Truncate(time.Second)
	keep(p, "notes", "recovery", map[string]any{"begun": 1, "runners": []any{map[string]any{"horse": "demo-juniper", "ended": ended.UnixMilli()}}})
	later("r1", ended, 2, 96)
	later("r2", ended, 10, 68)
	later("r3", ended, 14, 56)
	for day := 1; day <= 3; day++ {
		for i, beats := range []int{92, 60, 48} {
			later(fmt.Sprintf("past-%d-%d", day, i), ended.AddDate(0, 0, -7*day), []int{2, 10, 18}[i], beats)
		}
	}
	eval[bool](p, "(location.hash = '#/recovery/horse/demo-juniper', true)")
	p.heading("Juniper")
	p.until("document.querySelectorAll('.recovery svg circle').length === 3")
	text := p.text()
	for _, want := range []string{"Down to 64 a minute", "about 11 minutes after work", "These counts do not replace the vet check", "Earlier recoveries: 4", "similar work"} {
		td.Cmp(t, strings.Contains(text, want), true, want+" in\n"+text)
	}
	p.see("juniper")

	// A trot in hand by the definition with its own clock.
	p.touch("#trot")
	p.heading("By which definition?")
	p.touch("#go")
	p.until("document.activeElement?.classList.contains('summary')")
	p.touch("input[value=aerc]")
	p.see("definitions")
	p.touch("#go")
	p.until("document.querySelector('#trotting')?.textContent === " + quote(english("page.recovery.trot.ready")))
	p.touch("#go")
	p.until("/^Count again in (1:00|0:5\\d)$/.test(document.querySelector('#trotting')?.textContent)")
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.until("/^Count again in 0:/.test(document.querySelector('#trotting')?.textContent)")
	p.see("trot")
	// The minute is over, by the clock that was kept.
	note := eval[map[string]any](p, notesJS("recovery"))
	runner := note["runners"].([]any)[0].(map[string]any)
	runner["trot"].(map[string]any)["started"] = float64(time.Now().Add(-60 * time.Second).UnixMilli())
	keep(p, "notes", "recovery", note)
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.until("document.querySelector('#trotting')?.textContent.startsWith('Count now')")
	p.touch("#go")
	p.heading(title(vitals.Step{Sign: vitals.HeartRate, Depth: vitals.HandsOn}))
	p.tapRate(8, 60)
	p.until("document.querySelector('#pad')?.textContent.includes('8 taps')")
	time.Sleep(300 * time.Millisecond)
	p.touch("#go")
	p.until("document.querySelector('.trot')?.textContent.startsWith('After the trot-out the heart beat 4 a minute faster (56, then 60')")
	p.see("trotted")
	var trot *vitals.Trot
	for _, e := range ofHorse(p, "demo-juniper") {
		if e.Trot != nil {
			trot = e.Trot
		}
	}
	td.Require(t).Cmp(trot, td.NotNil())
	td.Cmp(t, []any{trot.Before, trot.OutMetres.String(), trot.Clock}, []any{vitals.ID("r3"), "38.1", vitals.FromTrotStart})
	td.Cmp(t, trot.Seconds, td.Between(60, 75))
}

func notesJS(key string) string {
	return `new Promise((resolve, reject) => {
		const open = indexedDB.open('whorl-barn-book');
		open.onsuccess = () => {
			const get = open.result.transaction('notes').objectStore('notes').get(` + quote(key) + `);
			get.onsuccess = () => { open.result.close(); resolve(get.result); };
			get.onerror = () => reject(get.error);
		};
	})`
}
