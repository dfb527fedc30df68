package main

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	core "whorl.example/wasm/api"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/wasm/site/static"
)

// tab is one window of one of the engines. What is clicked or filled in is named by an expression that finds it.
type tab interface {
	visit(url string)
	reload()
	run(js string) (json.RawMessage, error)
	click(js string)
	enter(js, text string)
	choose(js, path string)
	// downloads is where a file goes that the page gives out.
	downloads() string
	quit()
	kill()
}

// engine is a browser that the journey is made in.
type engine struct {
	name string
	// open starts it with clicks as a person makes them; kept, on a profile that outlives it.
	open, kept func(t *testing.T, profile string) tab
}

var engines = []engine{
	{"Chromium", touched, touched},
	{"Firefox", firefox, firefox},
	{"WebKitGTK", webkit, webkitKept},
}

// touched is Chromium as a telephone that is touched.
type finger struct {
	*phone
	profile, dir string
	stop         func()
}

func touched(t *testing.T, profile string) tab {
	t.Helper()
	b, quit := launch(t, profile, filepath.Join(t.TempDir(), "net.json"))
	p := newPhone(t, b, "about:blank")
	return &finger{p, profile, p.downloads(), quit}
}

func (f *finger) visit(url string) { f.t.Helper(); f.navigate(url) }
func (f *finger) reload()          { f.t.Helper(); f.must(chromedp.Do(f.ctx, chromedp.Reload())) }

func (f *finger) run(js string) (json.RawMessage, error) {
	text, err := chromedp.Run(f.ctx, chromedp.Evaluate[string]("(async () => JSON.stringify((await ("+js+")) ?? null))()", chromedp.EvalAwaitPromise))
	return json.RawMessage(text), err
}

// mark gives what an expression finds an id that the touch can name.
func (f *finger) mark(js string) string {
	f.t.Helper()
	return eval[string](f.phone, "(e => e.id ||= 'found-' + Math.random().toString(36).slice(2))("+js+")")
}

func (f *finger) click(js string)        { f.t.Helper(); f.touch("#" + f.mark(js)) }
func (f *finger) enter(js, text string)  { f.t.Helper(); f.phone.enter(f.mark(js), text) }
func (f *finger) choose(js, path string) { f.t.Helper(); f.phone.choose(f.mark(js), path) }
func (f *finger) downloads() string      { return f.dir }
func (f *finger) quit()                  { f.stop() }
func (f *finger) kill()                  { f.t.Helper(); kill(f.t, f.profile) }

// walker goes through the page in some engine, and has words for what a person does.
type walker struct {
	t *testing.T
	tab
}

func value[T any](w walker, js string) (v T) {
	w.t.Helper()
	text, err := w.run(js)
	if err == nil {
		err = json.Unmarshal(text, &v)
	}
	if err != nil {
		w.t.Fatalf("%v\nin %s", err, js)
	}
	return v
}

func (w walker) until(js string) {
	w.t.Helper()
	for end := time.Now().Add(30 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		text, err := w.run("Promise.resolve(" + js + ").then(Boolean)")
		// WebKit says this of a question between two documents.
		if err != nil && !strings.Contains(err.Error(), "Could not parse script result") {
			w.t.Fatalf("%v\nin %s", err, js)
		}
		if string(text) == "true" {
			return
		}
		if time.Now().After(end) {
			w.t.Fatalf("never came true: %s\non the screen:\n%s", js, value[string](w, "document.body.innerText"))
		}
	}
}

// standing waits until a screen of its address is there and what is looked for has stood still for six frames.
func (w walker) standing(js string) string {
	w.t.Helper()
	w.until(js)
	w.until(`(async () => {
		let still = 0, was;
		for (let i = 0; i < 200 && still < 6; i++) {
			const r = (` + js + `)?.getBoundingClientRect();
			still = r && was && r.x === was.x && r.y === was.y ? still + 1 : 0;
			was = r;
			await new Promise(requestAnimationFrame);
		}
		return still >= 6;
	})()`)
	return js
}

func css(selector string) string { return "document.querySelector(" + quote(selector) + ")" }

// press clicks what a selector or its words name; a row of a choice by its label, as it is seen.
func (w walker) press(what string) {
	w.t.Helper()
	js := find(what)
	if strings.HasPrefix(what, "input[") {
		js += "?.closest('label')"
	}
	w.click(w.standing(js))
}

func (w walker) typed(id, text string) { w.t.Helper(); w.enter(w.standing(css("#"+id)), text) }

func (w walker) heading(words string) {
	w.t.Helper()
	w.until("document.querySelector('h1')?.textContent.includes(" + quote(words) + ")")
}

func (w walker) hash(at string) {
	w.t.Helper()
	value[bool](w, "(location.hash = "+quote(at)+", true)")
	w.until("document.querySelector('.screen')?.dataset.at === " + quote(at))
}

// kept reads a store of the page.
func (w walker) kept(store string) []json.RawMessage {
	w.t.Helper()
	return value[[]json.RawMessage](w, storedJS(store))
}

func (w walker) exams() (out []vitals.Exam) {
	w.t.Helper()
	for _, text := range w.kept("exams") {
		var e vitals.Exam
		td.Require(w.t).CmpNoError(json.Unmarshal(text, &e))
		out = append(out, e)
	}
	return out
}

// addHorse fills in the form of a new horse, and gives the id that it got.
func (w walker) addHorse(name string) string {
	w.t.Helper()
	w.hash("#/horse/new")
	w.typed("name", name)
	w.press("input[name=type][value=horse]")
	w.press("#go")
	w.heading(name)
	return value[string](w, "location.hash.split('/')[2]")
}

// begins begins a walk-up of a horse, and gives the id of the exam.
func (w walker) begins(horse string) string {
	w.t.Helper()
	w.hash("#/new/" + horse)
	w.press("input[name=depth][value=walk-up]")
	w.press("#why-routine")
	w.press("#state-rest")
	w.until("location.hash.startsWith('#/exam/') && document.querySelector('.screen.group')")
	return value[string](w, "location.hash.split('/')[2]")
}

// walksUp answers a walk-up stop by stop, up to the report.
func (w walker) walksUp() {
	w.t.Helper()
	for range 20 {
		w.until("document.querySelector('.screen')?.dataset.at === location.hash")
		here := value[string](w, "location.hash")
		has := func(selector string) bool { return value[bool](w, "!!"+css(selector)) }
		switch {
		case strings.HasSuffix(here, "/check"):
			w.press("input[name=wellness][value=unwell]")
			w.press("#go")
			w.until("location.hash.endsWith('/result') && document.querySelector('.told')")
			w.press("#tell")
			w.heading(english("page.call.tell"))
			return
		case has(".screen.group"):
			for has(".choices button") {
				n := value[int](w, "document.querySelectorAll('.choices').length")
				w.press(".choices button")
				w.until(fmt.Sprintf("document.querySelectorAll('.choices').length === %d", n-1))
			}
			w.press("#close")
		case has("#way-taps"):
			pad := w.standing(css("#pad"))
			for range 5 {
				w.click(pad)
				time.Sleep(1200 * time.Millisecond)
			}
			w.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
			w.press("#go")
		default:
			w.press("input[name=answer]")
			w.until("document.querySelector('#go')?.textContent === " + quote(english("page.next")))
			w.press("#go")
		}
		w.until("location.hash !== " + quote(here))
	}
	w.t.Fatal("the exam has no end")
}

// report reads what the screen tells, line by line.
func (w walker) report() []string {
	w.t.Helper()
	w.heading(english("page.call.tell"))
	w.until("document.querySelectorAll('.report section').length > 3")
	return value[[]string](w, "[...document.querySelectorAll('.report section h2, .report section p')].map(e => e.textContent)")
}

// libraryReport is what the library, run here and not in a browser, tells of what the page keeps.
func (w walker) libraryReport(exam string) (lines []string) {
	w.t.Helper()
	id := func(text json.RawMessage) (x struct{ ID, Horse string }) {
		td.Require(w.t).CmpNoError(json.Unmarshal(text, &x))
		return x
	}
	var it, horse json.RawMessage
	past := []json.RawMessage{}
	for _, e := range w.kept("exams") {
		if id(e).ID == exam {
			it = e
		}
	}
	if it == nil {
		w.t.Fatal("the exam is not in the store")
	}
	for _, e := range w.kept("exams") {
		if id(e).Horse == id(it).Horse && id(e).ID != exam {
			past = append(past, e)
		}
	}
	for _, h := range w.kept("horses") {
		if id(h).ID == id(it).Horse {
			horse = h
		}
	}
	request, err := json.Marshal(map[string]any{"horse": horse, "exams": past, "exam": it, "lang": "en"})
	td.Require(w.t).CmpNoError(err)
	var said struct {
		OK    bool
		Value struct {
			Report struct {
				Parts []struct {
					Heading string
					Lines   []reportLine
				}
			}
		}
	}
	answer := core.Call("report", request)
	td.Require(w.t).CmpNoError(json.Unmarshal(answer, &said))
	td.Require(w.t).True(said.OK, string(answer))
	for _, part := range said.Value.Report.Parts {
		lines = append(lines, part.Heading)
		for _, line := range part.Lines {
			lines = append(lines, line.shown())
		}
	}
	return lines
}

// exports saves the barn, as a download, and gives its path.
func (w walker) exports() string {
	w.t.Helper()
	old, _ := filepath.Glob(filepath.Join(w.downloads(), "whorl-barn-*"))
	for _, f := range old {
		_ = os.Remove(f)
	}
	w.hash("#/files")
	w.press("#barn-save")
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		found, _ := filepath.Glob(filepath.Join(w.downloads(), "whorl-barn-*.json"))
		if len(found) != 1 {
			continue
		}
		text, err := os.ReadFile(found[0])
		td.Require(w.t).CmpNoError(err)
		// Whole once it is a barn file to the strict reader.
		if _, err := schema.Decode(text); err == nil {
			return laid(w.t, "barn.json", text)
		}
	}
	w.t.Fatalf("no barn file in %s; on the screen:\n%s", w.downloads(), value[string](w, "document.body.innerText"))
	return ""
}

// imports takes a barn file in, and gives what the screen says of it.
func (w walker) imports(path string) string {
	w.t.Helper()
	w.hash("#/files")
	value[bool](w, "(document.querySelector('p.result').textContent = '', true)")
	w.choose(w.standing(css("#file")), path)
	w.until("document.querySelector('p.result')?.textContent")
	return value[string](w, "document.querySelector('p.result').textContent")
}

// notes writes into a horse's card.
func (w walker) notes(horse, text string) {
	w.t.Helper()
	w.hash("#/horse/" + horse + "/edit")
	w.typed("notes", text)
	w.press("#go")
	w.until("location.hash === " + quote("#/horse/"+horse) + " && document.body.textContent.includes(" + quote(text) + ")")
}

func barnOf(t *testing.T, path string) schema.File {
	t.Helper()
	text, err := os.ReadFile(path)
	td.Require(t).CmpNoError(err)
	file, err := schema.Decode(text)
	td.Require(t).CmpNoError(err)
	return file
}

// The core flows in three engines, by the same steps: a first visit, a horse, a walk-up by clicks, its report, which
// is the library's; all of it again with the server gone; out as a barn file, into another telephone, both changed
// and merged; what is kept over a restart and over kills; and the page as one file from a disk.
//
// WebKitGTK is not Safari, and no telephone is among them; WebKitGTK's profile that stays is tried without real clicks.
func TestEngines(t *testing.T) {
	t.Parallel()
	site, err := built()
	td.Require(t).CmpNoError(err)
	for _, e := range engines {
		t.Run(e.name, func(t *testing.T) {
			t.Parallel()
			var table strings.Builder
			defer func() { t.Log("\n" + table.String()) }()
			at := time.Now()
			done := func(step, result string) {
				fmt.Fprintf(&table, "%-10s %-24s %5.1f s  %s\n", e.name, step, time.Since(at).Seconds(), result)
				at = time.Now()
			}
			defer func() {
				if t.Failed() {
					done("", "FAILED")
				}
			}()
			e.journey(t, site, done)
			e.persists(t, site, done)
			e.fromDisk(t, site, done)
		})
	}
}

func (e engine) journey(t *testing.T, site *static.Site, done func(step, result string)) {
	var gone atomic.Bool
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if gone.Load() {
			panic(http.ErrAbortHandler)
		}
		site.ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	one := walker{t, e.open(t, t.TempDir())}
	visit := func(w walker) {
		w.visit(server.URL)
		w.until("document.querySelector('.horse')")
		value[bool](w, "navigator.serviceWorker.ready.then(() => true)")
		w.press("#demo-out")
		w.until("!document.querySelector('.horse')")
	}
	visit(one)
	done("first visit", value[string](one, "navigator.userAgent"))

	horse := one.addHorse("Marigold")
	exam := one.begins(horse)
	one.walksUp()
	told := one.report()
	td.Cmp(t, told, one.libraryReport(exam), "the page tells what the library says")
	done("walk-up, report", fmt.Sprintf("%d lines, as the library has them", len(told)))

	gone.Store(true)
	one.reload()
	td.Cmp(t, one.report(), told)
	td.Cmp(t, value[string](one, "fetch('sw.js?x', { cache: 'reload' }).then(r => 'status ' + r.status, () => 'gone')"), td.Any("gone", "status 200"))
	done("reload, server gone", "the report stands")

	out := one.exports()
	barn := barnOf(t, out)
	td.Cmp(t, []int{len(barn.Horses), len(barn.Exams)}, []int{1, 1})
	done("export, server gone", "read by the strict decoder")

	gone.Store(false)
	two := walker{t, e.open(t, t.TempDir())}
	visit(two)
	td.Cmp(t, two.imports(out), td.HasPrefix(strings.NewReplacer("{horses}", "1", "{horses:horse|horses}", "horse", "{exams}", "1", "{exams:exam|exams}", "exam").Replace(english("page.files.in.done"))))
	two.hash("#/exam/" + exam + "/call")
	td.Cmp(t, two.report(), told)
	done("import, another phone", "the same report")

	two.notes(horse, "Written on the second telephone")
	second := two.addHorse("Thistle")
	one.notes(horse, "Written on the first telephone")
	td.Cmp(t, one.imports(two.exports()), td.Contains("Added"))
	one.until("document.querySelector('#to-conflicts')")
	one.hash("#/conflicts")
	one.until("document.querySelector('.versions')")
	td.Cmp(t, value[string](one, "document.querySelector('.versions').textContent"), td.All(td.Contains("on the first"), td.Contains("on the second")))
	td.Cmp(t, two.imports(one.exports()), td.Contains("Added"))
	a, b := barnOf(t, one.exports()), barnOf(t, two.exports())
	ids := func(f schema.File) (out []string) {
		for _, h := range f.Horses {
			out = append(out, string(h.ID))
		}
		slices.Sort(out)
		return out
	}
	td.Cmp(t, ids(a), td.Bag(horse, second))
	td.Cmp(t, ids(b), ids(a))
	td.Cmp(t, b.Exams, a.Exams)
	td.Cmp(t, len(a.Conflicts), 1)
	td.Cmp(t, b.Conflicts, a.Conflicts)
	done("merge", "both changes in both")
	one.quit()
	two.quit()
}

// persists answers, restarts, kills at random moments and looks what is there.
func (e engine) persists(t *testing.T, site *static.Site, done func(step, result string)) {
	server := httptest.NewServer(site)
	t.Cleanup(server.Close)
	kills := 3
	if os.Getenv("WHORL_LONG") != "" {
		kills = 40
	}
	const seed = 6
	chance := rand.New(rand.NewPCG(seed, 0))
	profile := t.TempDir()
	w := walker{t, e.kept(t, profile)}
	w.visit(server.URL)
	w.until("document.querySelector('.horse')")
	horse := w.addHorse("Marigold")
	exam := w.begins(horse)
	w.walksUp()
	told := w.report()
	w.quit()
	w = walker{t, e.kept(t, profile)}
	w.visit(server.URL + "/#/exam/" + exam + "/call")
	td.Cmp(t, w.report(), told)
	done("restart of the browser", "the report stands")

	script, _ := answeringWalkUp()
	shown, lost := 0, 0
	for n := range kills {
		w.visit(server.URL)
		w.until("document.querySelector('.horse')")
		draft := vitals.ID(w.begins(horse))
		value[bool](w, "("+script+".catch(e => { document.documentElement.dataset.kept += ' ' + e; }), true)")
		// How far it was is read until the kill: what was read as kept must be there.
		kept := ""
		if n > 0 { // one kill may come before the first answer; on a busy machine all would
			w.until("document.documentElement.dataset.kept?.trim()")
		}
		for end := time.Now().Add(time.Duration(50+chance.IntN(700)) * time.Millisecond); time.Now().Before(end); {
			kept = value[string](w, "document.documentElement.dataset.kept")
		}
		w.kill()
		time.Sleep(200 * time.Millisecond)
		w = walker{t, e.kept(t, profile)}
		w.visit(server.URL)
		w.until("document.querySelector('.draft')")
		has := map[vitals.SignID]bool{}
		for _, x := range w.exams() {
			if x.ID == draft {
				for _, f := range x.Findings {
					has[f.Sign] = true
				}
			}
		}
		steps := stepsAsked(vitals.WalkUp, vitals.Held, false)
		for step := range strings.FieldsSeq(kept) {
			i, err := strconv.Atoi(step)
			td.Require(t).CmpNoError(err, kept)
			shown++
			if !has[steps[i].Sign] {
				lost++
				t.Errorf("%s was shown as kept and is gone", steps[i].Sign)
			}
		}
	}
	td.Cmp(t, shown, td.Gt(0))
	done("SIGKILL", fmt.Sprintf("%d kills (seed %d), %d answers shown as kept, %d lost", kills, seed, shown, lost))
	w.quit()
}

// fromDisk opens the page as one file, answers in it, and finds that again after a restart.
func (e engine) fromDisk(t *testing.T, site *static.Site, done func(step, result string)) {
	path := laid(t, static.OneName, site.Files[static.OneName].Data)
	address := (&url.URL{Scheme: "file", Path: path}).String()
	profile := t.TempDir()
	w := walker{t, e.kept(t, profile)}
	w.visit(address)
	w.until("document.querySelector('.horse')")
	horse := w.addHorse("Marigold")
	exam := w.begins(horse)
	w.walksUp()
	told := w.report()
	td.Cmp(t, told, w.libraryReport(exam))
	w.quit()
	w = walker{t, e.kept(t, profile)}
	w.visit(address + "#/exam/" + exam + "/call")
	td.Cmp(t, w.report(), told)
	w.quit()
	done("one file, restart", "the report stands, as the library has it")
}
