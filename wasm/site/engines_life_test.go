package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/png"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/wasm/site/static"
)

// newVersion is the same page with another number.
func newVersion(t *testing.T, site *static.Site, from, to string) *static.Site {
	t.Helper()
	s := site.Copied()
	// The scripts name each other: each gets a new name, and so does each mention of it.
	renamed := []string{from, to}
	said := 0
	for name, f := range site.Files {
		if kind, _, hashed := strings.Cut(name, "-"); hashed && strings.HasSuffix(name, ".js") {
			said += bytes.Count(f.Data, []byte(from))
			renamed = append(renamed, name, kind+fmt.Sprintf("-NEWER%03d.js", len(renamed)))
		}
	}
	td.Require(t).Cmp(said, td.Gt(0))
	anew := strings.NewReplacer(renamed...)
	for name, f := range site.Files {
		if strings.HasSuffix(name, ".js") || name == "index.html" {
			delete(s.Files, name)
			s.Files[anew.Replace(name)] = &static.File{Data: []byte(anew.Replace(string(f.Data)))}
		}
	}
	td.Require(t).CmpNoError(s.RenewWorker())
	return s
}

// A new version of the page comes while an exam is open: the old one goes on until the person takes the new one, at the start
// screen; nothing of the exam is lost, and the line of the version says which one runs.
func TestChromiumNewVersionUnderAnExam(t *testing.T) {
	t.Parallel()
	old, err := built()
	td.Require(t).CmpNoError(err)
	var now atomic.Pointer[static.Site]
	now.Store(old)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { now.Load().ServeHTTP(w, r) }))
	t.Cleanup(server.Close)
	p := newPhone(t, browser(t), server.URL)
	p.until("document.querySelector('.horse')")
	eval[bool](p, "navigator.serviceWorker.ready.then(() => true)")
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.until("navigator.serviceWorker.controller && document.querySelector('.version')")
	version := func() string {
		return eval[string](p, `/[0-9.]+[+][0-9a-z]+/.exec(document.querySelector('.version').textContent)[0]`)
	}
	was := version()
	start(p, "Juniper", "walk-up", "held")
	question(p, vitals.Attitude)
	td.Require(t).True(choose(p, "bright", shortly))

	next := strings.Split(was, "+")[0] + "+newer00"
	now.Store(newVersion(t, old, was, next))
	question(p, vitals.HeadCarriage)
	td.Require(t).True(choose(p, "usual", shortly))
	p.visit("#/")
	p.until(find(english("page.newer.take")))
	td.Cmp(t, version(), was)
	p.look("newer")
	p.touch("#go") // on with the exam: the new version waits
	p.until("location.hash.startsWith('#/exam/') && document.querySelector('.screen')?.dataset.at === location.hash")
	question(p, vitals.Coat)
	td.Require(t).True(choose(p, "smooth", shortly))
	p.visit("#/")
	p.touch(english("page.newer.take"))
	p.until("document.querySelector('.version')?.textContent.includes(" + quote(next) + ")")
	for sign, grade := range map[vitals.SignID]vitals.GradeID{vitals.Attitude: "bright", vitals.HeadCarriage: "usual", vitals.Coat: "smooth"} {
		td.Cmp(t, answers(p, sign), []vitals.GradeID{grade})
	}
	p.touch("#go")
	p.until("location.hash.startsWith('#/exam/')")
	td.Cmp(t, eval[int](p, "caches.keys().then(k => k.filter(n => n.startsWith('whorl ')).length)"), 1)
}

// With the server gone a report is told and printed.
func TestChromiumPrintsOffline(t *testing.T) {
	t.Parallel()
	site, err := built()
	td.Require(t).CmpNoError(err)
	url, cut := vanishing(t, site)
	p := newPhone(t, browser(t), url)
	p.until("document.querySelector('.horse')")
	eval[bool](p, "navigator.serviceWorker.ready.then(() => true)")
	cut()
	p.must(chromedp.Do(p.ctx, chromedp.Reload()))
	p.until("document.querySelector('.horse')")
	p.visit("#/exam/" + string(last(p, "demo-juniper").ID) + "/call")
	p.heading(english("page.call.tell"))
	p.until("document.querySelectorAll('.report section').length > 3")
	lines := eval[[]string](p, "[...document.querySelectorAll('.report h2')].map(e => e.textContent)")
	text := pdfText(t, p.pdf(papers["a4"]))
	for _, want := range append(lines, "Juniper") {
		td.Cmp(t, text, td.Contains(want))
	}
}

// The page can be put on the home screen: Chromium finds no fault, and the icons are what the manifest says.
func TestChromiumCanBeInstalled(t *testing.T) {
	t.Parallel()
	at := serve(t)
	p := newPhone(t, browser(t), at)
	p.until("document.querySelector('.horse')")
	eval[bool](p, "navigator.serviceWorker.ready.then(() => true)")
	faults, err := chromedp.Call(p.ctx, page.GetInstallabilityErrors, cdp.Empty{})
	p.must(err)
	for _, f := range faults.InstallabilityErrors {
		if f.ErrorID != "in-incognito" {
			t.Errorf("%s %v", f.ErrorID, f.ErrorArguments)
		}
	}
	got, err := chromedp.Call(p.ctx, page.GetAppManifest, page.GetAppManifestParams{})
	p.must(err)
	td.Cmp(t, got.Errors, td.Empty())
	var manifest struct {
		Name, Display string
		Start         string `json:"start_url"`
		Icons         []struct{ Src, Sizes, Type string }
	}
	p.must(json.Unmarshal([]byte(got.Data), &manifest))
	td.Cmp(t, []string{manifest.Name, manifest.Display, manifest.Start}, []string{english("page.name"), "standalone", "./"})
	base, err := url.Parse(got.URL)
	p.must(err)
	sizes := map[string]bool{}
	for _, icon := range manifest.Icons {
		src, err := base.Parse(icon.Src)
		p.must(err)
		answer, err := http.Get(src.String())
		p.must(err)
		data, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		p.must(err)
		td.Cmp(t, answer.Header.Get("Content-Type"), icon.Type)
		if icon.Type == "image/png" {
			config, err := png.DecodeConfig(bytes.NewReader(data))
			p.must(err)
			td.Cmp(t, icon.Sizes, fmt.Sprintf("%dx%d", config.Width, config.Height))
		} else {
			td.Cmp(t, string(data), td.Contains("<svg"))
		}
		sizes[icon.Sizes] = true
	}
	td.Cmp(t, sizes, map[string]bool{"any": true, "192x192": true, "512x512": true})
}

// A clinic's file built into the page as one file holds when that is opened from a disk.
func TestChromiumOneFileWithAClinic(t *testing.T) {
	t.Parallel()
	plain, err := built()
	td.Require(t).CmpNoError(err)
	text, err := static.ReadClinic("../../examples/clinic/pack.json")
	td.Require(t).CmpNoError(err)
	site := plain.Copied()
	td.Require(t).CmpNoError(site.AddClinic(text))
	p := newPhone(t, browser(t), "file://"+laid(t, static.OneName, site.Files[static.OneName].Data))
	p.until("document.querySelector('.horse')")
	p.visit("#/files")
	p.heading(english("page.files.title"))
	p.until("document.body.textContent.includes('Windle Brook Equine Practice')")
	p.visit("#/exam/" + string(last(p, "demo-juniper").ID) + "/call")
	p.heading(english("page.call.tell"))
	p.until("document.querySelector('a.ring')")
	td.Cmp(t, eval[string](p, "document.querySelector('a.ring').href"), "tel:+442079460100")
	p.look("call")
}
