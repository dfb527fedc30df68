package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// faulty stands between the page and IndexedDB. arm(n, kind, always) makes the n-th operation
// on a store of a writing transaction fail, once or from then on; ops is how many there were.
const faulty = `
const fault = globalThis.fault = { ops: 0, at: 0, kind: '', always: false };
globalThis.arm = (at, kind, always) => { Object.assign(fault, { ops: 0, at, kind, always }); return true; };
for (const name of ['put', 'get', 'delete', 'getAllKeys']) {
	for (const proto of [IDBObjectStore.prototype, IDBIndex.prototype]) {
		const real = proto[name];
		if (!real) continue;
		proto[name] = function (...args) {
			const t = this.transaction ?? this.objectStore.transaction;
			if (t.mode !== 'readwrite' || !fault.at) return real.apply(this, args);
			fault.ops++;
			if (fault.always ? fault.ops < fault.at : fault.ops !== fault.at) return real.apply(this, args);
			if (fault.kind === 'throws') throw new DOMException('', 'InvalidStateError');
			const request = real.apply(this, args);
			if (fault.kind === 'silent') {
				// Neither completes nor fails, and nothing of it is kept.
				t.oncomplete = t.onabort = null;
				Object.defineProperty(t, 'oncomplete', { set() {} });
				Object.defineProperty(t, 'onabort', { set() {} });
				t.abort();
				return request;
			}
			if (fault.kind !== 'AbortError') Object.defineProperty(t, 'error', { get: () => new DOMException('', fault.kind) });
			t.abort();
			return request;
		};
	}
}`

// armed opens the page with the faulty store between, in an exam.
func armed(t *testing.T) *phone {
	t.Helper()
	p := newPhone(t, browser(t), "about:blank")
	_, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: faulty})
	p.must(err)
	p.must(chromedp.Do(p.ctx, chromedp.Navigate(serve(t))))
	start(p, "Juniper", "walk-up", "held")
	return p
}

// choose answers the question on the screen and waits for what the screen makes of it: false if it
// says, within a time, that the answer is not kept.
func choose(p *phone, grade vitals.GradeID, within time.Duration) bool {
	p.t.Helper()
	eval[bool](p, `(document.querySelector('input[value="`+string(grade)+`"]').click(), true)`)
	return eval[string](p, `new Promise(done => {
		const go = document.getElementById('go');
		const look = () => {
			if (document.getElementById('trouble').textContent) done('trouble');
			else if (go.textContent === `+quote(english("page.next"))+` && document.querySelector('input[value="`+string(grade)+`"]').checked) done('kept');
			else setTimeout(look, 10);
		};
		const end = performance.now() + `+fmt.Sprint(within.Milliseconds())+`;
		const wait = () => document.getElementById('trouble').textContent || performance.now() > end ? look() : setTimeout(wait, 5);
		wait();
	})`) == "kept"
}

const shortly = 150 * time.Millisecond

// question goes to the step of a sign in the exam in hand.
func question(p *phone, sign vitals.SignID) {
	p.t.Helper()
	for i, s := range stepsAsked(vitals.WalkUp, vitals.Held, false) {
		if s.Sign == sign {
			toStep(p, fmt.Sprint(i))
			p.heading(title(s))
			p.until("document.querySelector('input[type=radio], input[type=checkbox]')")
			return
		}
	}
	p.t.Fatalf("no step of %s", sign)
}

func answers(p *phone, sign vitals.SignID) []vitals.GradeID {
	if f := finding(p, sign); f != nil {
		return f.Chosen
	}
	return nil
}

// The n-th operation on the store fails, n = 1, 2, 3 … until an answer is kept without a failure:
// once and from then on, in each way in which a browser fails. What the screen shows as kept is kept, what is not kept
// is said, nothing that was answered is gone once the store works again, and no other answer is touched.
func TestChromiumEachStorageFault(t *testing.T) {
	t.Parallel()
	p := armed(t)
	question(p, vitals.Attitude)
	td.Require(t).True(choose(p, "bright", shortly))
	lost, tried, refused := 0, 0, 0
	grades := []vitals.GradeID{"usual", "low"}
	for _, kind := range []string{"QuotaExceededError", "AbortError", "UnknownError", "throws", "silent"} {
		for _, always := range []bool{false, true} {
			for n := 1; ; n++ {
				question(p, vitals.HeadCarriage)
				grade := grades[tried%2]
				tried++
				eval[bool](p, fmt.Sprintf("arm(%d, %q, %v)", n, kind, always))
				within := shortly
				if kind == "silent" {
					within = 5 * time.Second // the page gives the store four
				}
				kept := choose(p, grade, within)
				failed := eval[bool](p, "fault.ops >= fault.at")
				if !kept {
					refused++
				}
				stored := fmt.Sprint(answers(p, vitals.HeadCarriage)) == fmt.Sprint([]vitals.GradeID{grade})
				if kept && !stored {
					lost++
					t.Errorf("%s, always %v, operation %d: the screen says kept, the store has %v", kind, always, n, answers(p, vitals.HeadCarriage))
				}
				if failed && kept && !stored || !failed && !kept {
					t.Errorf("%s, always %v, operation %d: failed %v, kept %v", kind, always, n, failed, kept)
				}
				// The store works again: the answer comes through, whatever is done next, and the warning goes.
				eval[bool](p, "arm(0, '', false)")
				question(p, vitals.Coat)
				eval[bool](p, `(document.querySelector('input[value="smooth"]').click(), true)`)
				p.until("document.getElementById('trouble').textContent === ''")
				end := time.Now().Add(10 * time.Second)
				for fmt.Sprint(answers(p, vitals.HeadCarriage)) != fmt.Sprint([]vitals.GradeID{grade}) {
					if time.Now().After(end) {
						lost++
						t.Errorf("%s, always %v, operation %d: %s was answered, and the store has %v with no word on the screen", kind, always, n, grade, answers(p, vitals.HeadCarriage))
						break
					}
					time.Sleep(50 * time.Millisecond)
				}
				td.Cmp(t, answers(p, vitals.Attitude), []vitals.GradeID{"bright"}, "another answer")
				if !failed {
					break
				}
				if n > 20 {
					t.Fatal("a save has no end of operations")
				}
			}
		}
	}
	t.Logf("%d saves with a fault of storage; the screen refused %d; acknowledged and lost: %d", tried, refused, lost)
	if refused == 0 {
		t.Error("no fault reached the screen")
	}
}

// A store of a newer version: the page says so, shows nothing as if it were empty, and leaves it alone.
func TestChromiumOlderPageOnANewerStore(t *testing.T) {
	t.Parallel()
	b := browser(t)
	url := serve(t)
	p := newPhone(t, b, url)
	p.until("document.querySelector('.horse')")
	before := len(stored[vitals.Exam](p, "exams"))
	td.Require(t).Cmp(before, td.Gt(3))
	// The upgrade of a newer page in another tab: this page gives way, and then says what is the matter.
	q := newPhone(t, b, url+"/manifest-of-another-page")
	td.Cmp(t, eval[string](q, `new Promise(done => {
		const open = indexedDB.open('whorl-barn-book', 999);
		open.onblocked = () => done('blocked');
		open.onsuccess = () => { open.result.close(); done('upgraded'); };
	})`), "upgraded")
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.heading(english("page.broken"))
	p.until("document.body.innerText.includes(" + quote(english("page.trouble.VersionError")) + ")")
	p.look("newer-store")
	td.Cmp(t, len(stored[vitals.Exam](p, "exams")), before)
}

// The clock is set back and forward, the night ends summer time, midnight passes: an exam begun before keeps its
// answers, their order, and the moments at which they were given; nothing of it turns negative.
func TestChromiumClockJumps(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), "about:blank")
	_, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
		const Real = Date;
		globalThis.shift = 0;
		globalThis.Date = class extends Real {
			constructor(...args) { super(...(args.length ? args : [Real.now() + globalThis.shift])); }
			static now() { return Real.now() + globalThis.shift; }
		};`})
	p.must(err)
	_, err = chromedp.Call(p.ctx, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: "America/Chicago"})
	p.must(err)
	p.must(chromedp.Do(p.ctx, chromedp.Navigate(serve(t))))
	p.until("document.querySelector('.horse')")
	// One minute to two in the night in which the clocks go back: Chicago, 1 November 2026, 01:59 CDT.
	eval[bool](p, "(shift = Date.UTC(2026, 10, 1, 6, 59) - Date.now(), true)")
	start(p, "Juniper", "walk-up", "held")
	begun := draft(p)
	td.Cmp(t, begun.At.UTC().Format(time.RFC3339), td.HasPrefix("2026-11-01T06:59"))
	given := []struct {
		minutes int
		sign    vitals.SignID
		grade   vitals.GradeID
		keeps   int
	}{
		{0, vitals.Attitude, "bright", 0},
		{3, vitals.HeadCarriage, "usual", 3},          // the clock on the wall reads 01:02 again
		{-240, vitals.Coat, "smooth", 0},              // set back by four hours
		{60 * 24 * 400, vitals.Stance, "square", 0},   // a wild clock, a year ahead
		{22*60 + 5, vitals.Wounds, "none", 22*60 + 5}, // past midnight
	}
	for _, g := range given {
		eval[bool](p, fmt.Sprintf("(shift = %d + %d * 60000 - (Date.now() - shift), true)", begun.At.UnixMilli(), g.minutes))
		question(p, g.sign)
		td.Cmp(t, choose(p, g.grade, shortly), true, string(g.sign))
	}
	exam := draft(p)
	td.Cmp(t, exam.At.Equal(begun.At), true)
	for _, g := range given {
		f := finding(p, g.sign)
		if f == nil || fmt.Sprint(f.Chosen) != fmt.Sprint([]vitals.GradeID{g.grade}) {
			t.Errorf("%s is gone: %v", g.sign, f)
			continue
		}
		if int(f.Minutes) < g.keeps || int(f.Minutes) > g.keeps+1 {
			t.Errorf("%s was given at minute %v, kept is %v", g.sign, g.keeps, f.Minutes)
		}
	}
	horse := vitals.Horse{ID: exam.Horse}
	for _, h := range stored[vitals.Horse](p, "horses") {
		if h.ID == exam.Horse {
			horse = h
		}
	}
	if faults := vitals.CheckExam(exam, horse); len(faults) > 0 {
		t.Errorf("the library refuses the exam: %v", faults)
	}
}
