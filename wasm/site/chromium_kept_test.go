package main

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// do answers the stop on the screen as a usual horse would have it, and gives its address.
// It does not go on, unless the answer itself does.
func (p *phone) do() (here string, on bool) {
	p.t.Helper()
	p.until("document.querySelector('.screen')?.dataset.at === location.hash")
	here = eval[string](p, "location.hash")
	has := func(css string) bool { return eval[bool](p, "!!document.querySelector("+quote(css)+")") }
	answered := func() {
		p.t.Helper()
		p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
	}
	switch {
	case has(".screen.group"):
		for has(".choices button") {
			n := eval[int](p, "document.querySelectorAll('.choices').length")
			p.touch(".choices button")
			p.until(fmt.Sprintf("document.querySelectorAll('.choices').length === %d", n-1))
		}
		p.touch("#close")
		return here, true
	case has("#everywhere"):
		p.touch("#everywhere")
		return here, true
	case has("#way-taps"):
		p.tapBeats(5, 1200*time.Millisecond)
		answered()
	case has("#girth"):
		p.enter("girth", "186,5")
		p.enter("length", "172.0")
		answered()
	case has("#pad"):
		x, y := p.point("#pad")
		p.press(x, y)
		time.Sleep(1300 * time.Millisecond)
		p.lift()
		answered()
	case has("#value"):
		p.enter("value", "37,9")
		p.touch("input[name=device]")
		answered()
	default:
		choice := "input[name=answer]"
		if has("input[name=answer][value='5']") {
			choice += "[value='5']"
		}
		p.touch(choice)
		answered()
	}
	return here, false
}

// A full exam, stop by stop, at night; every screen of it is looked at.
func TestChromiumFullAtNight(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	p.touch("#night")
	p.until("getComputedStyle(document.body).backgroundColor === 'rgb(0, 0, 0)'")
	p.look("barn")
	start(p, "Juniper", "full", "held")
	drawn := 0
	for range 40 {
		if eval[bool](p, "location.hash.endsWith('/check')") {
			break
		}
		p.until("document.querySelector('.screen')?.dataset.at === location.hash")
		p.look(strings.ReplaceAll(eval[string](p, "document.querySelector('h1').textContent"), " ", "-"))
		if eval[bool](p, "!!document.querySelector('.drawn summary')") {
			p.touch(".drawn summary")
			p.until("document.querySelector('.where-on')?.getBoundingClientRect().height > 100")
			p.look("drawn")
			drawn++
			p.touch(".drawn summary")
		}
		here, on := p.do()
		if !on {
			p.look("answered")
			p.touch("#go")
		}
		p.until("location.hash !== " + quote(here))
	}
	p.heading(english("page.check.title"))
	td.Cmp(t, drawn > 9, true, "%d steps show where on the horse", drawn)
	p.look("check")
	for page := range 3 {
		toStep(p, fmt.Sprintf("story/%d", page+1))
		p.heading(english(fmt.Sprintf("page.story.title.%d", page+1)))
		p.look("story")
	}
	toStep(p, "all")
	p.heading(english("page.all.title"))
	p.look("all")
	toStep(p, "check")
	p.heading(english("page.check.title"))
	p.touch("[value=well]")
	p.touch("#go")
	p.until("location.hash.endsWith('/result') && document.querySelector('.told')")
	p.look("result")
	p.visit("#/exam/" + string(last(p, "demo-juniper").ID) + "/call") // the first answer of each is not that of a well horse
	p.heading(english("page.call.tell"))
	p.look("call")
	e := last(p, "demo-juniper")
	for _, s := range stepsAsked(vitals.Full, vitals.Held, false) {
		sign, _ := vitals.Lookup(s.Sign)
		found := false
		for _, f := range e.Findings {
			found = found || f.Sign == s.Sign && f.Absent == ""
		}
		td.Cmp(t, found, true, "%s", sign.ID)
	}
	for _, f := range e.Findings {
		switch f.Sign { // a comma was typed, and a point
		case vitals.RectalTemperature:
			td.Cmp(t, f.Reading.Value.String(), "37.9")
		case vitals.Weight:
			td.Cmp(t, []string{f.Girth.Girth.String(), f.Girth.Length.String()}, []string{"186.5", "172"})
		}
	}
}

// Interrupted after the answer of every stop: the page is loaded anew, the tab closed, the
// browser killed. Each time the barn offers to go on, at the same place, and nothing is lost. It takes minutes, since each
// of some thirty stops loads the page anew; the hands-on exam, whose stops are among those of the full one, is walked
// with WHORL_LONG=1 only.
func TestChromiumInterruptedAtEveryStop(t *testing.T) {
	t.Parallel()
	for _, depth := range vitals.Depths() {
		if depth == vitals.HandsOn && os.Getenv("WHORL_LONG") == "" {
			continue
		}
		t.Run(string(depth), func(t *testing.T) { interrupted(t, depth) })
	}
}

func interrupted(t *testing.T, depth vitals.Depth) {
	url, profile := serve(t), t.TempDir()
	b := browserOf(t, profile)
	p := newPhone(t, b, url)
	p.until("document.querySelector('.horse')")
	start(p, "Juniper", string(depth), "held")
	var kept []vitals.Finding
	for n := 0; ; n++ {
		if eval[bool](p, "location.hash.endsWith('/check')") {
			break
		}
		here, on := p.do()
		if on {
			p.until("location.hash !== " + quote(here))
			p.until("document.querySelector('.screen')?.dataset.at === location.hash")
			here = eval[string](p, "location.hash")
		}
		before := draft(p).Findings
		td.Cmp(t, len(before) > len(kept), true, "stop %s kept nothing", here)
		kept = before
		switch n % 3 {
		case 0:
			p.must(chromedp.Do(p.ctx, chromedp.Reload()))
		case 1:
			p.close()
			p = newPhone(t, b, url)
			p.until("document.querySelector('.draft')")
			p.touch("#go")
		case 2:
			if err := chromedp.FromContext(b).Browser.Process().Kill(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(200 * time.Millisecond)
			// What a killed browser leaves, the next one would take for a running one.
			for _, lock := range []string{"SingletonLock", "SingletonCookie", "SingletonSocket"} {
				_ = os.Remove(filepath.Join(profile, lock))
			}
			b = browserOf(t, profile)
			p = newPhone(t, b, url)
			p.until("document.querySelector('.draft')")
			p.touch("#go")
		}
		p.until("location.hash === " + quote(here) + " && document.querySelector('.screen')?.dataset.at === location.hash")
		after := draft(p).Findings
		td.Require(t).Cmp(after, td.Len(len(kept)), "after stop %s", here)
		for i := range after {
			// What was typed is written once more as the page is left, perhaps a minute later.
			if late := after[i].Minutes - kept[i].Minutes; late == 1 {
				after[i].Minutes--
			}
		}
		td.Cmp(t, after, kept, "after stop %s", here)
		if !on {
			p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
			p.touch("#go")
			p.until("location.hash !== " + quote(here))
		}
		if n > 40 {
			t.Fatal("the exam has no end")
		}
	}
	// "None seen" of wounds has answered the one after it, where they are.
	td.Cmp(t, len(kept), td.Gte(len(stepsAsked(depth, vitals.Held, false))-1))
}

// Two tabs with one exam, both answering: each says so, and neither undoes the other's entries.
func TestChromiumTwoTabs(t *testing.T) {
	t.Parallel()
	b, url := browser(t), serve(t)
	one := newPhone(t, b, url)
	begin(one, "Juniper", "hands-on", vitals.GumColour, vitals.HandsOn)
	two := newPhone(t, b, url)
	two.until("document.querySelector('.draft')")
	two.touch("#go")
	two.heading(asked(vitals.GumColour, vitals.HandsOn))
	for _, p := range []*phone{one, two} {
		p.until("document.querySelector('#tabs')?.textContent.includes(" + quote(english("page.tabs")) + ")")
	}
	one.look("told")
	two.touch(english("page.back"))
	two.until("document.querySelector('.screen.group')")
	one.touch("[value=pink]")
	one.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
	// The other tab shows it, where nothing is being entered.
	two.until("document.querySelector('#other-gum-colour')?.textContent === " + quote(english("page.change")) + " || document.querySelector('.claim.kept')")
	// Both write at the same moment, each from what it has in hand.
	for i := range 4 {
		sign, grade := []string{"gum-moisture", "dark-rim", "nostrils", "pulse-strength"}[i], []string{"tacky", "present", "clear", "strong"}[i]
		p := []*phone{one, two}[i%2]
		other := []*phone{two, one}[i%2]
		id := vitals.SignID(sign)
		for n, s := range stepsAsked(vitals.HandsOn, vitals.Held, false) {
			if s.Sign == id {
				toStep(p, fmt.Sprint(n))
				p.heading(title(s))
			}
			if s.Sign == vitals.RespiratoryEffort {
				toStep(other, fmt.Sprint(n))
				other.heading(title(s))
			}
		}
		effort := []string{"easy", "flared", "easy", "flared"}[i]
		eval[bool](p, "(document.querySelector('input[value="+grade+"]').click(), true)")
		eval[bool](other, "(document.querySelector('input[value="+effort+"]').click(), true)")
		p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
		other.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
	}
	want := map[vitals.SignID]vitals.GradeID{vitals.GumColour: "pink", vitals.GumMoisture: "tacky", vitals.DarkRim: "present",
		vitals.Nostrils: "clear", vitals.PulseStrength: "strong", vitals.RespiratoryEffort: "flared"}
	got := map[vitals.SignID]vitals.GradeID{}
	for _, f := range draft(one).Findings {
		got[f.Sign] = f.Chosen[0]
	}
	td.Cmp(t, got, want)
	// One finishes; what the other enters then is kept with it, and it says so.
	for n, s := range stepsAsked(vitals.HandsOn, vitals.Held, false) {
		if s.Sign == vitals.Attitude {
			toStep(two, fmt.Sprint(n))
			two.heading(title(s))
		}
	}
	toStep(one, "check")
	one.heading(english("page.check.title"))
	one.touch("#go")
	one.until("location.hash.endsWith('/result')")
	two.until("document.querySelector('#tabs')?.textContent.includes(" + quote(english("page.tabs.finished")) + ")")
	two.touch("[value=quiet]")
	two.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
	e := last(one, "demo-juniper")
	td.Cmp(t, e.Status, vitals.Finished)
	for _, f := range e.Findings {
		if f.Sign == vitals.Attitude {
			td.Cmp(t, f.Chosen, []vitals.GradeID{"quiet"})
		}
	}
}

// The form is filled in and finished before the core has come; it is compared when it has.
func TestChromiumBeforeTheCore(t *testing.T) {
	t.Parallel()
	site, err := built()
	if err != nil {
		t.Fatal(err)
	}
	var come atomic.Bool
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.Contains(r.URL.Path, "core-") && !come.Load() {
			http.Error(w, "not yet", http.StatusServiceUnavailable)
			return
		}
		site.ServeHTTP(w, r)
	}))
	defer server.Close()
	p := newPhone(t, browser(t), server.URL)
	p.until("document.querySelector('.horse')")
	p.look("barn")
	p.touch("#look-demo-juniper")
	p.heading("Check Juniper")
	p.touch("input[name=depth][value=walk-up]")
	p.touch("#why-learning")
	p.until("document.querySelector('.screen.group')")
	for {
		if eval[bool](p, "location.hash.endsWith('/check')") {
			break
		}
		here, on := p.do()
		if !on {
			p.look("without-core")
			p.touch("#go")
		}
		p.until("location.hash !== " + quote(here))
	}
	p.heading(english("page.check.title"))
	p.touch("#go")
	p.heading(english("page.nocore.title"))
	p.look("kept")
	td.Cmp(t, last(p, "demo-juniper").Status, vitals.Finished)
	come.Store(true)
	p.touch("#go")
	p.until("document.querySelector('.told')")
}

// List mode: the whole depth on one page, by touch, with the same findings as step by step. A
// number that is none is refused at its field; what was left empty is not checked.
func TestChromiumList(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t))
	p.until("document.querySelector('.horse')")
	start(p, "Juniper", "full", "held")
	p.touch("#where")
	p.touch("#to-list")
	p.until("document.querySelector('.screen.list')")
	p.look("list")
	steps := stepsAsked(vitals.Full, vitals.Held, false)
	td.Cmp(t, eval[int](p, "document.querySelectorAll('.listed').length"), len(steps))
	index := func(sign vitals.SignID) int {
		n := -1
		for i, s := range steps {
			if s.Sign == sign {
				n = i
			}
		}
		return n
	}
	id := func(sign vitals.SignID, rest string) string { return fmt.Sprintf("list-%d%s", index(sign), rest) }
	p.touch("[name=" + id(vitals.Attitude, "") + "][value=quiet]")
	p.touch("[name=" + id(vitals.GumColour, "") + "][value=pale-pink]")
	p.touch("#" + id(vitals.GutSounds, "everywhere"))
	p.until("document.querySelector('[name=" + id(vitals.GutSounds, "-gut-lower-right") + "]:checked')")
	p.enter(id(vitals.CapillaryRefill, "-value"), "2,5")
	p.enter(id(vitals.HeartRate, "-value"), "many")
	p.touch("#go")
	p.until("document.activeElement?.classList.contains('summary')")
	p.look("list-fault")
	p.enter(id(vitals.HeartRate, "-value"), "11")
	p.touch("[name=" + id(vitals.HeartRate, "-seconds") + "][value='15']")
	p.until("document.querySelector('#check-" + fmt.Sprint(index(vitals.HeartRate)) + " .value')?.textContent.includes('44')")
	p.look("list-filled")
	// What needs an instrument opens its step, and comes back here.
	p.touch("#" + id(vitals.RectalTemperature, "-there"))
	p.enter("value", "38.1")
	p.touch("input[name=device]")
	p.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
	p.touch("#go")
	p.until("document.querySelector('.screen.list')")
	got := map[vitals.SignID]int{}
	for _, f := range draft(p).Findings {
		got[f.Sign]++
		switch f.Sign {
		case vitals.CapillaryRefill:
			td.Cmp(t, f.Timed, &vitals.Timed{CentiSeconds: []int{250}, Aloud: true})
		case vitals.HeartRate:
			td.Cmp(t, f.Count, &vitals.Count{Events: 11, Seconds: 15, Start: vitals.Anywhere})
		case vitals.RectalTemperature:
			td.Cmp(t, f.Reading.Value.String(), "38.1")
		}
	}
	td.Cmp(t, got, map[vitals.SignID]int{vitals.Attitude: 1, vitals.GumColour: 1, vitals.GutSounds: 4, vitals.CapillaryRefill: 1, vitals.HeartRate: 1, vitals.RectalTemperature: 1})
	p.touch("#go")
	p.heading(english("page.check.title"))
	td.Cmp(t, eval[int](p, "document.querySelectorAll('.checked .unchecked').length") > 20, true)
}
