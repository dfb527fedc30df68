package main

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/wasm/site/static"
)

// launch starts Chromium on a profile that outlives it; quit ends it as a person does.
func launch(t *testing.T, profile, netLog string) (browser context.Context, quit func()) {
	t.Helper()
	options := append(chromiumFlags(chromium(t), profile), chromedp.Flag("log-net-log", netLog), chromedp.Flag("net-log-capture-mode", "Default"))
	alloc, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(alloc)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal("Chromium does not start: ", err)
	}
	done := false
	quit = func() {
		if !done {
			done = true
			chromedp.Cancel(ctx)
			cancel()
			stop()
		}
	}
	t.Cleanup(quit)
	return ctx, quit
}

// requested lists the addresses that pages asked Chromium's network for, from its own log.
// What the browser asks for itself (its clock, its updates) has no origin as its initiator.
func requested(t *testing.T, netLog string) []string {
	t.Helper()
	text, err := os.ReadFile(netLog)
	if err != nil {
		t.Fatal(err)
	}
	var log struct {
		Constants struct {
			LogEventTypes map[string]int `json:"logEventTypes"`
		} `json:"constants"`
		Events []struct {
			Type   int `json:"type"`
			Params struct {
				URL       string `json:"url"`
				Initiator string `json:"initiator"`
			} `json:"params"`
		} `json:"events"`
	}
	if err := json.Unmarshal(text, &log); err != nil {
		// A browser that was killed leaves the list open.
		cut := strings.TrimRight(strings.TrimSpace(string(text)), ",")
		if err := json.Unmarshal([]byte(cut+"]}"), &log); err != nil {
			t.Fatalf("the log of the network: %v", err)
		}
	}
	kind, ok := log.Constants.LogEventTypes["URL_REQUEST_START_JOB"]
	if !ok {
		t.Fatal("the log of the network knows no requests")
	}
	var urls []string
	for _, e := range log.Events {
		if e.Type == kind && e.Params.URL != "" && e.Params.Initiator != "not an origin" {
			urls = append(urls, e.Params.URL)
		}
	}
	return urls
}

// otherHost is a server that answers, and that nobody may ask: what a host that is not there refuses proves nothing.
func otherHost(t *testing.T) (address string, reached func() int) {
	t.Helper()
	var n atomic.Int64
	server := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { n.Add(1) }))
	t.Cleanup(server.Close)
	return server.URL, func() int { return int(n.Load()) }
}

// The page as one file, opened from a disk: it counts, compares, keeps what was entered over a
// restart of the browser, and asks the network for nothing.
func TestChromiumOneFile(t *testing.T) {
	t.Parallel()
	site, err := built()
	if err != nil {
		t.Fatal(err)
	}
	dir, profile := t.TempDir(), t.TempDir()
	path := filepath.Join(dir, static.OneName)
	td.Require(t).CmpNoError(os.WriteFile(path, site.Files[static.OneName].Data, 0o644))
	address := (&url.URL{Scheme: "file", Path: path}).String()
	logs := []string{filepath.Join(dir, "net-1.json"), filepath.Join(dir, "net-2.json")}

	b, quit := launch(t, profile, logs[0])
	p := newPhone(t, b, address)
	p.until("document.querySelector('.horse')")
	p.until("/Nothing leaves|leaves this device/i.test(document.querySelector('.version')?.textContent)")
	td.Cmp(t, eval[string](p, "document.querySelector('.version').textContent"), td.Re(`0\.1\.0\+[0-9a-f]{7}`))
	p.picture("barn")
	// What the policy says holds: nothing can be fetched, not even from where the page lies.
	elsewhere, reached := otherHost(t)
	for _, js := range []string{
		"fetch('" + elsewhere + "', { mode: 'no-cors' }).then(() => 'went', () => 'refused')",
		"new Promise(r => { const i = new Image(); i.onload = i.onerror = () => r('refused'); i.src = '" + elsewhere + "/x.png'; })",
		"fetch('https://whorl.example/').then(() => 'went', () => 'refused')",
		"fetch('data:,x').then(() => 'went', () => 'refused')",
		"new Promise(r => { const i = new Image(); i.onload = () => r('went'); i.onerror = () => r('refused'); i.src = 'https://whorl.example/x.png'; })",
		"new Promise(r => { try { const s = new WebSocket('wss://whorl.example/'); s.onopen = () => r('went'); s.onerror = () => r('refused'); } catch { r('refused'); } })",
		"Promise.resolve(navigator.sendBeacon('https://whorl.example/', 'x')).then(() => 'refused', () => 'refused')",
		"new Promise(r => { const s = document.createElement('script'); s.onload = () => r('went'); s.onerror = () => r('refused'); s.src = 'https://whorl.example/x.js'; document.head.append(s); })",
		"new Promise(r => { window.ran = 0; const s = document.createElement('script'); s.textContent = 'ran = 1'; document.head.append(s); r(ran ? 'went' : 'refused'); })",
	} {
		td.Cmp(t, eval[string](p, js), "refused", js)
	}
	td.Cmp(t, reached(), 0, "another host was reached")
	begin(p, "Juniper", "hands-on", vitals.HeartRate, vitals.HandsOn)
	p.tapBeats(6, 700*time.Millisecond)
	p.until("/give or take/.test(document.querySelector('.under')?.textContent)")
	kept := finding(p, vitals.HeartRate).Taps.AtMS
	td.Cmp(t, kept, td.Len(6))
	quit()

	b, quit = launch(t, profile, logs[1])
	p = newPhone(t, b, address)
	p.until("document.querySelector('.horse')")
	td.Cmp(t, finding(p, vitals.HeartRate).Taps.AtMS, kept, "after a restart of the browser")
	// A finished exam is told, from what the core in the file says.
	told := stored[vitals.Exam](p, "exams")
	for i := range told {
		if told[i].Status == vitals.Finished {
			eval[bool](p, "(location.hash = '#/exam/"+string(told[i].ID)+"/call', true)")
			break
		}
	}
	p.heading(english("page.call.tell"))
	p.until("document.querySelectorAll('.body h2').length > 2")
	p.picture("call")
	quit()
	for _, log := range logs {
		for _, u := range requested(t, log) {
			t.Errorf("the network was asked for %s", u)
		}
	}
}

// The hosted page asks for its own files while it loads, and from then on for nothing: not while an
// exam is filled in, compared, told, exported. The service worker's look for a newer version is
// the host's own sw.js, at the start screen.
func TestChromiumHostedAsksForNothing(t *testing.T) {
	t.Parallel()
	log := filepath.Join(t.TempDir(), "net.json")
	b, quit := launch(t, t.TempDir(), log)
	url := serve(t)
	p := newPhone(t, b, url)
	p.until("document.querySelector('.horse')")
	eval[bool](p, "navigator.serviceWorker.ready.then(() => true)")
	// Which of the files it was after that a mark in the log tells: a request of ours.
	eval[bool](p, "fetch('mark').then(() => true)")
	elsewhere, reached := otherHost(t)
	td.Cmp(t, eval[string](p, "fetch('"+elsewhere+"', { mode: 'no-cors' }).then(() => 'went', () => 'refused')"), "refused")
	td.Cmp(t, reached(), 0, "another host was reached")
	begin(p, "Juniper", "hands-on", vitals.HeartRate, vitals.HandsOn)
	p.tapBeats(6, 700*time.Millisecond)
	p.until("/give or take/.test(document.querySelector('.under')?.textContent)")
	for _, e := range stored[vitals.Exam](p, "exams") {
		if e.Status == vitals.Finished {
			eval[bool](p, "(location.hash = '#/exam/"+string(e.ID)+"/call', true)")
			break
		}
	}
	p.heading(english("page.call.tell"))
	p.until("document.querySelectorAll('.body h2').length > 2")
	eval[bool](p, "(location.hash = '#/files', true)")
	p.heading(english("page.files"))
	quit()
	asked := requested(t, log)
	marked := false
	for _, u := range asked {
		switch {
		case !strings.HasPrefix(u, url+"/"):
			t.Errorf("another host was asked: %s", u)
		case u == url+"/mark":
			marked = true
		case marked && u != url+"/sw.js":
			t.Errorf("asked for after the page was there: %s", u)
		}
	}
	if !marked {
		t.Errorf("the log lacks a request that was made; it has %q", asked)
	}
}
