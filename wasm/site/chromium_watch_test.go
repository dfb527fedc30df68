package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// keep puts a record into one of the page's stores, as if it had been entered; key is for
// the store of notes, whose records do not hold theirs.
func keep(p *phone, store, key string, record any) {
	p.t.Helper()
	text, err := json.Marshal(record)
	p.must(err)
	args := string(text)
	if key != "" {
		args += ", " + quote(key)
	}
	eval[bool](p, `new Promise((resolve, reject) => {
		const open = indexedDB.open('whorl-barn-book');
		open.onsuccess = () => {
			const t = open.result.transaction(`+quote(store)+`, 'readwrite');
			t.objectStore(`+quote(store)+`).put(`+args+`);
			t.oncomplete = () => { open.result.close(); resolve(true); };
			t.onabort = () => reject(t.error);
		};
	})`)
}

// hear counts the tones and vibrations of the page from here on.
const hear = `(() => {
	window.tones = 0; window.shakes = 0;
	const start = OscillatorNode.prototype.start;
	OscillatorNode.prototype.start = function (...a) { window.tones++; return start.apply(this, a); };
	navigator.vibrate = () => { window.shakes++; return true; };
	return true;
})()`

// dark and light are the themes of a screen; see looks at both.
func (p *phone) see(name string) {
	p.t.Helper()
	p.look(name)
	for _, scheme := range []string{"dark", "light"} {
		_, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		p.must(err)
		if scheme == "dark" {
			p.picture(name + "-dark")
		}
	}
}

// night is an exam of Juniper so many minutes ago, with a fast heart and silent guts.
func night(id string, ago time.Duration) map[string]any {
	return map[string]any{
		"id": id, "horse": "demo-juniper", "at": time.Now().Add(-ago).UTC().Format(time.RFC3339), "depth": "full", "purpose": "concern",
		"state": map[string]any{"condition": "rest"}, "wellness": "unwell", "status": "finished", "holder": "held",
		"findings": []any{
			map[string]any{"sign": "heart-rate", "site": "chest-left", "count": map[string]any{"events": 52, "seconds": 60, "start": "anywhere"}},
			map[string]any{"sign": "gut-sounds", "site": "gut-upper-right", "chosen": []string{"none"}},
			map[string]any{"sign": "gum-colour", "chosen": []string{"pink"}},
		},
	}
}

// exams gives the kept exams that are not of the demo barn.
func exams(p *phone) (out []vitals.Exam) {
	p.t.Helper()
	for _, e := range stored[vitals.Exam](p, "exams") {
		if !strings.HasPrefix(string(e.ID), "demo-") {
			out = append(out, e)
		}
	}
	return out
}

// tapRate taps the pad n times at a rate, by the browser's clock of events.
func (p *phone) tapRate(n int, perMinute float64) {
	p.t.Helper()
	x, y := p.point("#pad")
	start := time.Now()
	for i := range n {
		at := start.Add(time.Duration(float64(i) * float64(time.Minute) / perMinute))
		p.pressAt(x, y, at)
		p.liftAt(at.Add(40 * time.Millisecond))
	}
}

type kept struct {
	First        string
	Next, Begun  int64
	EveryMinutes int
	Signs        []string
	Ended        *int64
	Sound        bool
}

func watchNote(p *phone) (w kept) {
	p.t.Helper()
	for _, note := range stored[any](p, "notes") {
		if n, ok := note.(map[string]any); ok && n["everyMinutes"] != nil {
			text, err := json.Marshal(n)
			p.must(err)
			p.must(json.Unmarshal(text, &w))
		}
	}
	return w
}

// A bad night is watched by touch: the telling signs are proposed, the clock holds over a
// reload and over a killed browser, the look that is due is an exam linked to the first,
// and three looks give a direction.
func TestChromiumWatch(t *testing.T) {
	t.Parallel()
	url, profile := serve(t), t.TempDir()
	b := browserOf(t, profile)
	p := newPhone(t, b, url)
	p.until("document.querySelector('.horse')")
	keep(p, "exams", "", night("night", 30*time.Minute))
	p.must(chromedp.Do(p.ctx, chromedp.Navigate(url+"#/exam/night/result")))
	eval[bool](p, hear)
	p.touch("#watch")
	p.heading("What will you recheck on Juniper?")
	p.until("document.querySelector('input[value=heart-rate]')?.checked && document.querySelector('input[value=gut-sounds]')?.checked")
	td.Cmp(t, eval[bool](p, "!!document.querySelector('input[value=gum-colour]')?.checked"), false, "what is as usual is not proposed")
	p.see("choose")
	// Without a sign there is nothing to watch.
	p.touch("input[value=heart-rate]")
	p.touch("input[value=gut-sounds]")
	p.touch("#go")
	p.until("document.activeElement?.classList.contains('summary')")
	p.touch("input[value=heart-rate]")
	p.touch("input[name=every][value='10']")
	td.Cmp(t, eval[int](p, "window.tones"), 0, "silent unless chosen")
	p.touch("input[value=sound]")
	p.until("window.tones === 3 && window.shakes > 0")
	p.touch("#go")
	p.heading("Rechecks: Juniper")
	p.until("/^Next check in (10:00|9:5\\d)$/.test(document.querySelector('#due')?.textContent)")
	p.until("[" + quote(english("page.watch.awake")) + ", " + quote(english("page.watch.sleeps")) + "].includes(document.querySelector('#awake').textContent)")
	p.see("watching")
	w := watchNote(p)
	td.Cmp(t, w.Signs, []string{"heart-rate"})
	td.Cmp(t, w.Next-w.Begun, int64(10*60_000))

	// The other screens say it too.
	p.must(chromedp.Do(p.ctx, chromedp.Navigate(url+"#/")))
	p.until("document.querySelector('#watching')?.textContent.startsWith('Juniper: next check in 9:')")
	p.see("barn-watching")

	// Killed, and opened again four minutes after the look was due.
	kill(t, profile)
	b = browserOf(t, profile)
	p = newPhone(t, b, url)
	p.until("document.querySelector('#watching')")
	w.Next = time.Now().Add(-4*time.Minute - 10*time.Second).UnixMilli()
	keep(p, "notes", "watch:night", map[string]any{"first": "night", "horse": "demo-juniper", "signs": w.Signs, "everyMinutes": 10, "next": w.Next, "begun": w.Begun, "sound": true})
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.until("document.querySelector('#watching')?.textContent === 'Juniper: check again now, due for 4 minutes'")
	p.touch("#watching")
	p.until("document.querySelector('#due')?.textContent === 'Due for 4 minutes'")
	eval[bool](p, hear)
	p.see("due")
	// A browser sounds nothing after it was opened anew until it was touched: the page says so.
	p.touch("#arm")
	p.until("window.tones >= 3 && !document.querySelector('#arm')")

	p.touch("#go")
	p.heading(title(vitals.Step{Sign: vitals.HeartRate, Depth: vitals.HandsOn}))
	p.tapRate(6, 58)
	p.until("document.querySelector('#rate')?.textContent === '58'")
	// The tab goes in the middle of the taps.
	p.until("document.querySelector('#pad')?.textContent.includes('6 taps')")
	time.Sleep(300 * time.Millisecond)
	p.close()
	p = newPhone(t, b, url)
	p.until("document.querySelector('#watching')")
	p.touch("#watching")
	p.until("document.querySelector('#go')?.textContent === " + quote(english("page.watch.goon")))
	p.touch("#go")
	p.until("document.querySelector('#rate')?.textContent === '58'")
	p.see("recheck")
	p.touch("#go")
	p.until("document.querySelector('#due')?.textContent.startsWith('Next check in')")
	all := exams(p)
	td.Require(t).Cmp(all, td.Len(2))
	look := all[0]
	if look.ID == "night" {
		look = all[1]
	}
	td.Cmp(t, []any{look.RecheckOf, look.Purpose, look.Status, look.Wellness}, []any{vitals.ID("night"), vitals.Recheck, vitals.Finished, vitals.Wellness("")})
	td.Cmp(t, look.Findings, td.Len(1), "only the telling sign")
	td.Cmp(t, look.Findings[0].Taps.AtMS, td.Len(6))
	td.Cmp(t, strings.Contains(p.text(), "Too few to show a direction"), true, p.text())

	// Two more looks, at times of the record, and the direction is told and drawn.
	for i, beat := range []int{64, 70} {
		e := night(fmt.Sprint("look", i), time.Duration(20-10*i)*time.Minute)
		e["purpose"], e["recheckOf"] = "recheck", "night"
		e["findings"] = []any{map[string]any{"sign": "heart-rate", "count": map[string]any{"events": beat, "seconds": 60, "start": "anywhere"}}}
		keep(p, "exams", "", e)
	}
	look.At = time.Now().UTC().Truncate(time.Second)
	look.Findings[0] = vitals.Finding{Sign: vitals.HeartRate, Count: &vitals.Count{Events: 75, Seconds: 60, Start: vitals.Anywhere}}
	keep(p, "exams", "", look)
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.heading("Heart rate: rising")
	p.until("document.querySelectorAll('.found svg circle').length === 4")
	td.Cmp(t, p.text(), td.Contains("Call your vet now."))
	td.Cmp(t, p.text(), td.Re(`rising by about \d a minute every 10 minutes`))
	p.see("rising")
	// Stopped, and kept.
	p.touch("Stop")
	p.until("document.querySelector('#due')?.textContent.startsWith('Stopped')")
	p.must(chromedp.Do(p.ctx, chromedp.Navigate(url+"#/")))
	p.until("document.querySelector('.horses') && !document.querySelector('#watching')")
	td.Cmp(t, watchNote(p).Ended, td.NotNil())
}

// A rule to ring that fires at a look is shown before the next sign.
func TestChromiumWatchRingsAtOnce(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	keep(p, "exams", "", night("night", 30*time.Minute))
	keep(p, "notes", "watch:night", map[string]any{"first": "night", "horse": "demo-juniper", "signs": []string{"gum-colour", "heart-rate"}, "everyMinutes": 15,
		"next": time.Now().UnixMilli(), "begun": time.Now().UnixMilli()})
	eval[bool](p, "(location.hash = '#/watch/night', true)")
	p.heading("Rechecks: Juniper")
	p.touch("#go")
	p.heading(title(vitals.Step{Sign: vitals.GumColour, Depth: vitals.HandsOn}))
	p.touch("input[name=answer][value=purple]")
	p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
	p.touch("#go")
	// The strip stands over every further screen, and keeps nobody from going on.
	p.until("document.querySelector('#strip')?.textContent.includes(" + quote(english("page.ring.now")) + ")")
	p.see("strip")
	td.Cmp(t, eval[string](p, "document.querySelector('#strip a.dial').getAttribute('href')"), td.HasPrefix("tel:"))
	p.heading(title(vitals.Step{Sign: vitals.HeartRate, Depth: vitals.HandsOn}))
	p.touch("#go") // not counted this time
	p.until("document.querySelector('#due')")
	td.Cmp(t, p.text(), td.Contains(english("page.ring.now")), "and it stays on the watch")
}
