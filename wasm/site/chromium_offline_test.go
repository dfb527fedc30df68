package main

import (
	"net/http"
	"net/http/httptest"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/wasm/site/static"
)

// After the first visit the page opens, counts and compares with the server gone.
func TestChromiumOffline(t *testing.T) {
	t.Parallel()
	site, err := built()
	if err != nil {
		t.Fatal(err)
	}
	url, cut := vanishing(t, site)
	p := newPhone(t, browser(t), url)
	p.until("document.querySelector('.horse')")
	eval[bool](p, "navigator.serviceWorker.ready.then(() => true)")
	cut()
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.until("document.querySelector('.horse')")
	begin(p, "Juniper", "hands-on", vitals.HeartRate, vitals.HandsOn)
	p.tapBeats(6, 700*time.Millisecond)
	p.until("/give or take/.test(document.querySelector('.under')?.textContent)")
}

// A core that died is started again under the next call, and the draft stays.
func TestChromiumCoreDies(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), "about:blank")
	// The first instance dies at its third call; every later one lives.
	_, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: `
		let real, instances = 0, calls = 0;
		Object.defineProperty(globalThis, 'whorlCall', {
			set(f) { instances++; const mine = instances; globalThis.instances = instances;
				real = (op, text) => { if (mine === 1 && ++calls > 2) throw new Error('Go program has already exited'); return f(op, text); }; },
			get() { return real; },
		});`})
	p.must(err)
	p.must(chromedp.Do(p.ctx, chromedp.Navigate(serve(t))))
	begin(p, "Juniper", "hands-on", vitals.HeartRate, vitals.HandsOn)
	p.tapBeats(6, 700*time.Millisecond)
	p.until("/give or take/.test(document.querySelector('.under')?.textContent)")
	td.Cmp(t, eval[int](p, "globalThis.instances"), 2)
	td.Cmp(t, len(finding(p, vitals.HeartRate).Taps.AtMS), 6)
}

// vanishing serves a page until it is cut off.
func vanishing(t *testing.T, site *static.Site) (url string, cut func()) {
	t.Helper()
	var gone atomic.Bool
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if gone.Load() {
			panic(http.ErrAbortHandler)
		}
		site.ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	return server.URL, func() { gone.Store(true) }
}
