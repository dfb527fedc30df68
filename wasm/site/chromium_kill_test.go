package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// answering answers question after question, as fast as the page takes them, and says each that
// the screen shows as kept: the way on reads "Next" and no warning stands.
const answering = `(async () => {
	const id = location.hash.split('/')[2];
	const until = async f => { while (!f()) await new Promise(r => setTimeout(r, 1)); };
	for (const [step, title, value] of %s) {
		location.hash = '#/exam/' + id + '/' + step;
		await until(() => document.querySelector('h1')?.textContent === title && document.querySelector('input[value="' + value + '"]'));
		document.querySelector('input[value="' + value + '"]').click();
		await until(() => document.getElementById('go').textContent === %s || document.getElementById('trouble').textContent);
		if (document.getElementById('trouble').textContent) throw new Error(document.getElementById('trouble').textContent);
		console.log('KEPT ' + id + ' ' + step);
	}
	console.log('DONE');
})()`

// Chromium is killed, without a chance to tidy up, at random moments while an exam is filled in,
// and started again on the same profile: every answer that the screen had shown as kept is there. A kill
// of the process is no loss of power; what the operating system does then is not tested here.
func TestChromiumKilled(t *testing.T) {
	kills := 3
	if os.Getenv("WHORL_LONG") != "" {
		kills = 200
	}
	const seed = 5
	chance := rand.New(rand.NewPCG(seed, 0))
	profile, url := t.TempDir(), serve(t)

	type question struct{ step, title, value string }
	var questions []question
	for i, s := range vitals.Steps(vitals.WalkUp, vitals.Held, false) {
		for _, sign := range vitals.Catalogue() {
			if sign.ID == s.Sign && len(sign.Grades) > 0 {
				questions = append(questions, question{strconv.Itoa(i), title(s), string(sign.Grades[0].ID)})
			}
		}
	}
	list := make([][3]string, len(questions))
	for i, q := range questions {
		list[i] = [3]string{q.step, q.title, q.value}
	}
	script := fmt.Sprintf(answering, quote(list), quote(english("page.next")))

	var mu sync.Mutex
	kept := map[vitals.ID]map[string]bool{} // by exam, the steps that were shown as kept
	acknowledged, lost, done := 0, 0, 0
	check := func(p *phone) {
		mu.Lock()
		defer mu.Unlock()
		exams := map[vitals.ID]vitals.Exam{}
		for _, e := range stored[vitals.Exam](p, "exams") {
			exams[e.ID] = e
		}
		steps := vitals.Steps(vitals.WalkUp, vitals.Held, false)
		for id, answers := range kept {
			has := map[vitals.SignID]bool{}
			for _, f := range exams[id].Findings {
				has[f.Sign] = len(f.Chosen) > 0
			}
			for step := range answers {
				n, _ := strconv.Atoi(step)
				if !has[steps[n].Sign] {
					lost++
					t.Errorf("exam %s: %s was shown as kept and is gone", id, steps[n].Sign)
				}
			}
		}
		clear(kept)
	}
	for range kills {
		b, _ := launch(t, profile, filepath.Join(t.TempDir(), "net.json"))
		p := newPhone(t, b, url)
		p.until("document.querySelector('.horse')")
		check(p)
		start(p, "Juniper", "walk-up", "held")
		err := chromedp.Listen(p.ctx, func(event any) {
			e, ok := event.(*runtime.EventConsoleAPICalled)
			if !ok || len(e.Args) == 0 {
				return
			}
			mu.Lock()
			defer mu.Unlock()
			switch said := strings.Fields(strings.Trim(string(e.Args[0].Value), `"`)); {
			case len(said) == 3 && said[0] == "KEPT":
				id := vitals.ID(said[1])
				if kept[id] == nil {
					kept[id] = map[string]bool{}
				}
				kept[id][said[2]] = true
				acknowledged++
			case len(said) == 1 && said[0] == "DONE":
				done++
			}
		})
		p.must(err)
		eval[bool](p, "("+script+", true)")
		time.Sleep(time.Duration(20+chance.IntN(1200)) * time.Millisecond)
		kill(t, profile)
	}
	b, _ := launch(t, profile, filepath.Join(t.TempDir(), "net.json"))
	p := newPhone(t, b, url)
	p.until("document.querySelector('.horse')")
	check(p)
	t.Logf("%d kills (seed %d), of which %d after the last answer; answers shown as kept: %d; lost: %d", kills, seed, done, acknowledged, lost)
	if acknowledged == 0 {
		t.Error("nothing was shown as kept before a kill: the moments are too early to tell anything")
	}
}

// kill ends every process of Chromium on a profile at once, as the system does when it is out of
// memory, and takes away the lock that a killed one leaves.
func kill(t *testing.T, profile string) {
	t.Helper()
	want := []byte("--user-data-dir=" + profile + "\x00")
	processes, err := filepath.Glob("/proc/[0-9]*/cmdline")
	if err != nil || len(processes) == 0 {
		t.Skip("no list of processes here")
	}
	hit := 0
	for _, p := range processes {
		line, err := os.ReadFile(p)
		if err != nil || !bytes.Contains(append(line, 0), want) {
			continue
		}
		if pid, err := strconv.Atoi(strings.Split(p, "/")[2]); err == nil && syscall.Kill(pid, syscall.SIGKILL) == nil {
			hit++
		}
	}
	if hit == 0 {
		t.Fatal("no Chromium to kill")
	}
	time.Sleep(100 * time.Millisecond)
	for _, name := range []string{"SingletonLock", "SingletonCookie", "SingletonSocket"} {
		os.Remove(filepath.Join(profile, name))
	}
}

// The space is at its end, with bytes that do not compress: the answer is not shown as kept, the
// screen says what to do, and once there is room the answer is there.
func TestChromiumQuota(t *testing.T) {
	url := serve(t)
	p := newPhone(t, browser(t), "about:blank")
	// Before the store is first used: Chromium remembers for half a minute how much room there is.
	quota := func(bytes float64) {
		_, err := chromedp.Call(p.ctx, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: url, QuotaSize: &bytes})
		p.must(err)
	}
	quota(6e6)
	p.must(chromedp.Do(p.ctx, chromedp.Navigate(url)))
	start(p, "Juniper", "walk-up", "held")
	question(p, vitals.Attitude)
	// Noise, which the store cannot pack, in a database of its own: the space of the origin is one.
	td.Cmp(t, eval[string](p, `(async () => {
		const db = await new Promise(done => { const o = indexedDB.open('noise'); o.onupgradeneeded = () => o.result.createObjectStore('n', { autoIncrement: true }); o.onsuccess = () => done(o.result); });
		let name = '';
		for (const size of [262144, 16384, 1024, 64]) {
			name = '';
			for (let i = 0; i < 200 && !name; i++) {
				name = await new Promise(done => {
					const t = db.transaction('n', 'readwrite', { durability: 'strict' });
					const noise = new Uint8Array(size);
					for (let at = 0; at < size; at += 65536) crypto.getRandomValues(noise.subarray(at, at + 65536));
					t.objectStore('n').put(noise);
					t.oncomplete = () => done('');
					t.onabort = () => done(t.error?.name ?? 'AbortError');
				});
			}
		}
		return name;
	})()`), "QuotaExceededError")
	td.Cmp(t, choose(p, "bright", 2*time.Second), false, "with no room")
	p.until("document.getElementById('trouble').textContent.includes(" + quote(english("page.trouble.QuotaExceededError")) + ")")
	p.look("full")
	td.CmpNil(t, finding(p, vitals.Attitude))
	// Going on does not take the warning away, nor the answer.
	question(p, vitals.HeadCarriage)
	p.until("document.getElementById('trouble').textContent !== ''")
	question(p, vitals.Attitude)
	p.until(`document.querySelector('input[value="bright"]').checked`)
	quota(1e9)
	for end := time.Now().Add(time.Minute); p.trouble() && time.Now().Before(end); {
		time.Sleep(100 * time.Millisecond)
	}
	td.Cmp(t, p.trouble(), false)
	td.Cmp(t, finding(p, vitals.Attitude), td.Struct(&vitals.Finding{}, td.StructFields{"Chosen": []vitals.GradeID{"bright"}, "=*": td.Ignore()}))
}

// trouble reports whether the screen says that something is not kept.
func (p *phone) trouble() bool {
	p.t.Helper()
	return eval[bool](p, "document.getElementById('trouble').textContent !== ''")
}

// A tab that the system freezes under a count and wakes again has kept what it had, and goes on.
func TestChromiumFrozen(t *testing.T) {
	p := newPhone(t, browser(t), serve(t))
	begin(p, "Juniper", "hands-on", vitals.HeartRate, vitals.HandsOn)
	p.tapBeats(6, 700*time.Millisecond)
	p.until("/give or take/.test(document.querySelector('.under')?.textContent)")
	before := finding(p, vitals.HeartRate).Taps.AtMS
	state := func(s page.SetWebLifecycleStateState) {
		_, err := chromedp.Call(p.ctx, page.SetWebLifecycleState, page.SetWebLifecycleStateParams{State: s})
		p.must(err)
	}
	state(page.SetWebLifecycleStateStateFrozen)
	time.Sleep(2 * time.Second)
	state(page.SetWebLifecycleStateStateActive)
	td.Cmp(t, finding(p, vitals.HeartRate).Taps.AtMS, before)
	p.tapBeats(2, 700*time.Millisecond)
	p.until("document.getElementById('trouble').textContent === ''")
	td.Cmp(t, len(finding(p, vitals.HeartRate).Taps.AtMS), td.Gte(6))
}
