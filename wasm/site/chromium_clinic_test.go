package main

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm/site/static"
)

// clinicHost is a host whose clinic's file somebody changes by hand: the page and its worker stay as they are.
type clinicHost struct {
	*static.Site
	lock sync.Mutex
	text string
	held chan bool // until it is closed nobody gets the file
}

func (h *clinicHost) put(text string) {
	h.lock.Lock()
	defer h.lock.Unlock()
	h.text = text
}

func (h *clinicHost) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.URL.Path != "/"+static.ClinicName {
		h.Site.ServeHTTP(w, r)
		return
	}
	<-h.held
	h.lock.Lock()
	defer h.lock.Unlock()
	if h.text == "" {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write([]byte(h.text))
}

// A clinic's file that comes after the report stood on the screen is applied to it. A changed one reaches the telephone at the next
// visit, though its worker is the old one; a broken one does not put away the one that works; one taken away is gone; and without
// the host the last one counts.
func TestChromiumTheClinicsFileArrives(t *testing.T) {
	t.Parallel()
	plain, err := built()
	td.Require(t).CmpNoError(err)
	text, err := static.ReadClinic("../../examples/clinic/pack.json")
	td.Require(t).CmpNoError(err)
	site := plain.Copied()
	td.Require(t).CmpNoError(site.AddClinic(text))
	host := &clinicHost{Site: site, text: string(text), held: make(chan bool)}
	server := httptest.NewServer(host)
	t.Cleanup(server.Close)
	p := withBarn(t, server.URL, sorrelBarn(t))
	dial := func(digits string) string {
		return "document.querySelector('a[href=\"tel:" + digits + "\"]')"
	}
	p.visit("#/exam/night-4/call")
	p.heading(english("page.call.tell"))
	td.Cmp(t, p.text(), td.Not(td.Contains("Windle Brook")))
	close(host.held)
	p.until(dial("+442079460101"))
	td.Cmp(t, p.text(), td.Contains("asks, in its own words: “When did she last eat up everything?”"), "the report is told anew")

	again := func() {
		eval[bool](p, "navigator.serviceWorker.ready.then(() => true)")
		p.must(chromedp.Do(p.ctx, chromedp.Reload()))
		p.heading(english("page.call.tell"))
	}
	again()
	p.until("navigator.serviceWorker.controller")
	host.put(strings.Replace(string(text), "7946 0101", "7946 0199", 1))
	again()
	p.until(dial("+442079460199"))
	td.CmpFalse(t, eval[bool](p, "!!"+dial("+442079460101")))

	host.put(`{"kind":"whorl-pack"}`)
	for range 2 {
		again()
		p.until(dial("+442079460199"))
	}

	host.put("")
	again()
	p.until("!" + dial("+442079460199"))
	again()
	td.Cmp(t, p.text(), td.Not(td.Contains("Windle Brook")))

	host.put(string(text))
	again()
	p.until(dial("+442079460101"))
	server.CloseClientConnections()
	server.Close()
	again()
	p.until(dial("+442079460101"))
}
