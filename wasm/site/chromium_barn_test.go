package main

import (
	"bytes"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals"
	core "whorl.example/wasm/api"
)

// filed is a barn of one horse with its exams, as a file on the disk.
func filed(t *testing.T, f schema.File) string {
	t.Helper()
	text, err := schema.Encode(f)
	td.Require(t).CmpNoError(err)
	return laid(t, "barn.json", text)
}

// takeIn adds a file and waits for the page to say what came of it.
func (p *phone) takeIn(path, said string) {
	p.t.Helper()
	eval[bool](p, "(document.querySelector('p.result').textContent = '', true)")
	p.choose("file", path)
	p.until("document.querySelector('p.result')?.textContent.includes(" + quote(said) + ")")
}

// inConflict are two barns that differ about one exam of Sorrel.
func inConflict(t *testing.T) (one, other schema.File) {
	t.Helper()
	one = sorrelBarn(t)
	other = one
	other.Exams = append([]vitals.Exam(nil), one.Exams...)
	last := &other.Exams[len(other.Exams)-1]
	last.Findings = append([]vitals.Finding(nil), last.Findings...)
	last.Findings[0].Chosen = []vitals.GradeID{"dull"}
	return one, other
}

func count(p *phone, store string, of vitals.ID) (n int) {
	p.t.Helper()
	for _, x := range stored[struct{ ID, Horse vitals.ID }](p, store) {
		if x.ID == of || x.Horse == of {
			n++
		}
	}
	return n
}

// A horse is deleted while two versions of an exam of it wait: files still come in, and an older one does not bring it back
// unless somebody says so; whatever was done can be undone.
func TestChromiumADeletedHorseStaysDeleted(t *testing.T) {
	t.Parallel()
	one, other := inConflict(t)
	p := withBarn(t, serve(t), one)
	p.takeIn(filed(t, other), "another version")
	remove := func() {
		p.visit("#/horse/sorrel/drop")
		p.heading("Delete Sorrel")
		p.touch(english("page.drop"))
		p.until("location.hash === '#/' && document.querySelector('.horses') && !document.querySelector('#look-sorrel')")
		p.until("document.querySelector('#undo')")
	}
	remove()
	p.look("deleted")
	td.Cmp(t, count(p, "exams", "sorrel"), 0)
	p.touch("#undo")
	p.until("document.querySelector('#look-sorrel')")
	td.Cmp(t, count(p, "exams", "sorrel"), len(one.Exams))
	p.until("document.querySelector('#to-conflicts')")
	remove()

	p.visit("#/files")
	p.heading(english("page.files.title"))
	p.takeIn(filed(t, largeBarn(1)), "1 horse")
	p.takeIn(filed(t, one), "Sorrel")
	p.look("held")
	td.Cmp(t, p.text(), td.Contains("left out: Sorrel"))
	td.Cmp(t, count(p, "horses", "sorrel")+count(p, "exams", "sorrel"), 0)
	dir := p.downloads()
	p.touch("#barn-save")
	got, err := schema.Decode(p.taken(dir, "whorl-barn-*.json"))
	td.Require(t).CmpNoError(err)
	td.Cmp(t, got.Gone, td.Contains(schema.Gone{ID: "sorrel", Name: "Sorrel"}))

	p.takeIn(filed(t, one), "Sorrel")
	p.touch("#bring-back")
	p.until("document.querySelector('p.result')?.textContent.startsWith('Added: 1 horse')")
	td.Cmp(t, count(p, "exams", "sorrel"), len(one.Exams))
	p.touch("#undo")
	p.until("!document.querySelector('#undo')")
	td.Cmp(t, count(p, "horses", "sorrel")+count(p, "exams", "sorrel"), 0)
}

// A horse is deleted in one tab while its exam is answered in another: no exam without a horse is left, and the tab says so.
func TestChromiumAnsweredAfterItsHorseWasDeleted(t *testing.T) {
	t.Parallel()
	b, url := browser(t), serve(t)
	p := newPhone(t, b, url)
	start(p, "Juniper", "walk-up", "held")
	question(p, vitals.Attitude)
	q := newPhone(t, b, url+"/#/horse/demo-juniper/drop")
	q.heading("Delete Juniper")
	q.touch(english("page.drop"))
	q.until("document.querySelector('#undo')")
	eval[bool](p, `(document.querySelector('input[value="bright"]').click(), true)`)
	p.until("document.getElementById('trouble').textContent.includes(" + quote(english("page.trouble.GoneError")) + ")")
	td.Cmp(t, count(p, "exams", "demo-juniper"), 0)
	q.touch("#undo")
	q.until("document.querySelector('#look-demo-juniper')")
	p.until("document.getElementById('trouble').textContent === ''")
	td.Cmp(t, answers(p, vitals.Attitude), []vitals.GradeID{"bright"})
}

// Two tabs: one shows the two versions, the other takes in a third one; what is chosen in the first undoes nothing of it.
func TestChromiumAStaleListOfVersions(t *testing.T) {
	t.Parallel()
	one, other := inConflict(t)
	third := one
	third.Horses = append([]vitals.Horse(nil), one.Horses...)
	third.Horses[0].Notes = "From the third phone"
	p := withBarn(t, serve(t), one)
	p.takeIn(filed(t, other), "another version")
	url := eval[string](p, "location.origin")
	p.visit("#/conflicts")
	p.until("document.querySelector('#here-night-4')")
	q := newPhone(t, p.ctx, url+"/#/files")
	q.heading(english("page.files.title"))
	q.takeIn(filed(t, third), "another version")
	p.touch("#here-night-4")
	p.until("document.querySelector('#here-sorrel')")
	p.look("two-tabs")
	type version struct {
		Horse, Exam *struct{ ID string }
		Aside       bool
	}
	left := eval[[]version](p, `new Promise(done => { const o = indexedDB.open('whorl-barn-book'); o.onsuccess = () => {
		o.result.transaction('notes').objectStore('notes').get('conflicts').onsuccess = e => { o.result.close(); done(e.target.result); }; }; })`)
	td.Cmp(t, len(left), 2)
	for _, v := range left {
		td.Cmp(t, v.Aside, v.Exam != nil)
	}
	p.touch("#undo")
	p.until("document.querySelector('#here-night-4')")
}

// Records that keep no rule lock nothing: the backup is written, names whose they are, and gives them back as they were.
func TestChromiumABadRecordLocksNothing(t *testing.T) {
	t.Parallel()
	url := serve(t)
	p := withBarn(t, url, sorrelBarn(t))
	eval[bool](p, `new Promise(done => { const o = indexedDB.open('whorl-barn-book'); o.onsuccess = () => {
		const t = o.result.transaction(['horses', 'exams'], 'readwrite'), exams = t.objectStore('exams');
		t.objectStore('horses').put({ id: 'typed', name: 'Bramble', type: 'pony', born: '2014-02-31' });
		const exam = { id: 'of-typed', horse: 'typed', at: '2026-05-03T07:30:00Z', depth: 'walk-up', purpose: 'learning', state: { condition: 'rest' }, status: 'draft' };
		exams.put(exam);
		exams.put({ ...exam, id: 'orphan', horse: 'nobody' });
		exams.put({ ...exam, id: 'half', horse: 'sorrel', findings: [{ sign: 'rectal-temperature', reading: { value: '38.', unit: 'Cel' } }] });
		t.oncomplete = () => { o.result.close(); done(true); };
	}; })`)
	p.visit("#/")
	p.visit("#/files")
	p.heading(english("page.files.title"))
	dir := p.downloads()
	p.touch("#barn-save")
	text := p.taken(dir, "whorl-barn-*.json")
	got, err := schema.Decode(text)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, len(got.Unread), 4)
	td.Cmp(t, len(got.Exams) >= len(sorrelBarn(t).Exams), true)
	p.until("document.querySelectorAll('p.apart').length === 3")
	td.Cmp(t, p.text(), td.All(td.Contains("2 records of Bramble, not understood"), td.Contains("1 record of Sorrel, not understood")))
	p.look("apart")

	// What is here and keeps no rule stays; another version of it waits beside it.
	mended := schema.File{Horses: []vitals.Horse{{ID: "typed", Name: "Bramble", Type: vitals.TypePony, Notes: "from another phone"}}}
	p.takeIn(filed(t, mended), "Added:")
	td.Cmp(t, eval[string](p, `new Promise(done => { const o = indexedDB.open('whorl-barn-book'); o.onsuccess = () => {
		o.result.transaction('notes').objectStore('notes').get('conflicts').onsuccess = e => { o.result.close(); done(JSON.stringify(e.target.result)); }; }; })`), td.Contains("from another phone"))
	p.until("document.querySelector('#to-conflicts')")

	// On another telephone all come back but the exam of nobody, which stands by its text.
	q := newPhone(t, browser(t), url+"/#/files")
	q.heading(english("page.files.title"))
	q.takeIn(laid(t, "barn.json", text), "Added:")
	td.Cmp(t, []int{count(q, "horses", "typed"), count(q, "exams", "of-typed"), count(q, "exams", "half"), count(q, "exams", "orphan")}, []int{1, 1, 1, 0})
	q.until("document.querySelectorAll('p.apart').length === 1")
	q.visit("#/horse/typed")
	q.heading("Bramble")
	q.visit("#/files")
	q.heading(english("page.files.title"))
	again := q.downloads()
	q.touch("#barn-save")
	back, err := schema.Decode(q.taken(again, "whorl-barn-*.json"))
	td.Require(t).CmpNoError(err)
	td.Cmp(t, len(back.Unread), 4)
}

// A file of a newer minor format: what this page does not understand is kept, whole horses and lists of the file too, and goes into the next
// file, to the byte.
func TestChromiumANewerFileIsKept(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../schema/testdata/newer/barn-1.9.json")
	td.Require(t).CmpNoError(err)
	p := newPhone(t, browser(t), serve(t)+"/#/files")
	p.heading(english("page.files.title"))
	p.choose("file", laid(t, "newer.json", text))
	p.until("document.querySelector('p.result')?.textContent.startsWith('Added: 2 horses, 2 exams')")
	p.until("document.body.innerText.includes('4 entries of a newer version of this page are kept unread')")
	p.look("newer-file")
	p.choose("file", laid(t, "again.json", text))
	p.until("document.querySelector('p.result')?.textContent.startsWith('Added: 0 horses, 0 exams')")
	p.visit("#/")
	p.visit("#/files")
	dir := p.downloads()
	p.touch("#barn-save")
	out := string(p.taken(dir, "whorl-barn-*.json"))
	for _, part := range []string{
		`"yard":{"name":"Lower barn","boxes":12}`, `"reminders":[{"every":7,"what":"weigh"}]`, `{"id":"zebedee","name":"Zebedee","type":"zebra"}`,
		`"microchip":"985000000000000"`, `{"sign":"gum-colour","chosen":["marbled"]}`, `"footing":"sand"`, `"samples":["blood"]`, `"id":"e4"`,
	} {
		td.Cmp(t, strings.Count(out, part), 1, part)
	}
}

// What comes in is in the second copy when it is said to be; what the copy alone holds is offered, whatever was written since the loss.
func TestChromiumTheSecondCopyIsWhole(t *testing.T) {
	t.Parallel()
	f := largeBarn(3)
	p := withBarn(t, serve(t), f)
	p.until("document.body.innerText.includes(" + quote(english("page.copy.whole")) + ")")
	p.look("copied")
	// A copy that lost an entry is mended by the next start.
	eval[bool](p, "(async () => { const c = await caches.open('barn-book'); for (const r of await c.keys()) if (r.url.includes('/all/')) await c.delete(r); return true; })()")
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.heading(english("page.files.title"))
	p.until("document.body.innerText.includes(" + quote(english("page.copy.whole")) + ")")
	eval[bool](p, `new Promise(done => { const o = indexedDB.open('whorl-barn-book'); o.onsuccess = () => {
		const t = o.result.transaction(['horses', 'exams'], 'readwrite');
		t.objectStore('horses').clear(); t.objectStore('exams').clear();
		t.oncomplete = () => { o.result.close(); done(true); };
	}; })`)
	td.Cmp(t, count(p, "horses", "horse-1"), 0)
	p.navigate(eval[string](p, "location.origin"))
	p.until("document.querySelector('#take-copy')")
	p.look("offered")
	p.touch("#take-copy")
	p.until("document.querySelector('#look-horse-1')")
	td.Cmp(t, len(stored[struct{ ID string }](p, "exams")) >= len(f.Exams), true)
}

// Two copies of the page on one host, of two versions: each opens without the network.
func TestChromiumTwoCopiesOnOneHost(t *testing.T) {
	t.Parallel()
	first, err := built()
	td.Require(t).CmpNoError(err)
	second := first.Copied()
	worker := *second.Files["sw.js"]
	worker.Data, worker.Br, worker.Gz = bytes.ReplaceAll(worker.Data, []byte(core.Version+"-"), []byte(core.Version+"-other-")), nil, nil
	second.Files["sw.js"] = &worker
	mux := http.NewServeMux()
	mux.Handle("/one/", http.StripPrefix("/one", first))
	mux.Handle("/two/", http.StripPrefix("/two", second))
	var gone atomic.Bool
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if gone.Load() {
			panic(http.ErrAbortHandler)
		}
		mux.ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	b := browser(t)
	var open []*phone
	for _, at := range []string{"/one/", "/two/"} {
		p := newPhone(t, b, server.URL+at)
		p.until("document.querySelector('.horse')")
		p.until("navigator.serviceWorker.getRegistration().then(r => r?.active?.state === 'activated')")
		open = append(open, p)
	}
	gone.Store(true)
	for _, p := range open {
		p.must(chromedp.Do(p.ctx, chromedp.Reload()))
		p.until("document.querySelector('.horse')")
	}
}

// Where the browser forbids every storage, the page says that nothing would be kept, and a link that was sent opens all the same.
func TestChromiumNothingMayBeKept(t *testing.T) {
	t.Parallel()
	url, barn := serve(t), sorrelBarn(t)
	p := newPhone(t, browser(t), "about:blank")
	_, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
		Source: "for (const f of [IDBFactory, CacheStorage]) for (const n of ['open', 'has']) if (f.prototype[n]) f.prototype[n] = () => { throw new DOMException('', 'SecurityError'); };"})
	p.must(err)
	p.must(chromedp.Do(p.ctx, chromedp.Navigate(url)))
	p.until("document.body.innerText.includes(" + quote(english("page.nostore")) + ")")
	p.look("forbidden")
	request, err := schema.Marshal(struct {
		schema.Record
		Page string `json:"page"`
	}{schema.Record{Horse: barn.Horses[0], Exams: barn.Exams[:12], Exam: barn.Exams[15]}, url + "/"})
	p.must(err)
	var got struct{ Value struct{ Link string } }
	p.must(json.Unmarshal(core.Call("link", request), &got))
	p.navigate(got.Value.Link)
	p.heading(strings.ReplaceAll(english("page.open.from"), "{name}", "Sorrel"))
}
