package main

import (
	"encoding/json"
	"image"
	"image/png"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals/words"
	"whorl.example/wasm/site/static"
)

// Chromium finds nothing that keeps it from installing the page, reads the manifest without a fault in the language of the page, and
// takes it for one app in every language and under whatever path of its host it lies.
func TestChromiumInstallable(t *testing.T) {
	t.Parallel()
	site, err := built()
	td.Require(t).CmpNoError(err)
	mux := http.NewServeMux()
	mux.Handle("/one/", http.StripPrefix("/one", site))
	mux.Handle("/two/", http.StripPrefix("/two", site))
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	p := newPhone(t, browser(t), server.URL+"/one/")
	for _, at := range []string{"/one/", "/two/"} {
		p.navigate(server.URL + at)
		p.until("navigator.serviceWorker.ready.then(() => true)")
		errs, err := chromedp.Call(p.ctx, cdppage.GetInstallabilityErrors, cdp.Empty{})
		td.Require(t).CmpNoError(err)
		td.Cmp(t, len(errs.InstallabilityErrors), 0, "%v", errs.InstallabilityErrors)
		id, err := chromedp.Call(p.ctx, cdppage.GetAppID, cdp.Empty{})
		td.Require(t).CmpNoError(err)
		td.Cmp(t, id.AppID, server.URL+appID)
	}
	for _, lang := range words.Langs() {
		if lang != words.English {
			p.visit("#/")
			p.touch("#speak-" + string(lang))
		}
		p.until("document.querySelector('link[rel=manifest]').href.includes('/manifest-" + string(lang) + "-')")
		got, err := chromedp.Call(p.ctx, cdppage.GetAppManifest, cdppage.GetAppManifestParams{})
		td.Require(t).CmpNoError(err)
		td.Cmp(t, len(got.Errors), 0, "%v", got.Errors)
		td.Cmp(t, got.Manifest.ID, server.URL+appID)
		td.Cmp(t, got.Manifest.StartURL, server.URL+"/two/")
		var m struct {
			Lang      string
			Shortcuts []struct{ Name string }
		}
		td.Require(t).CmpNoError(json.Unmarshal([]byte(got.Data), &m))
		td.Cmp(t, m.Lang, string(lang))
		all := allWords(lang)
		td.Cmp(t, m.Shortcuts, []struct{ Name string }{{all["page.wrong"]}, {all["page.quiet"]}})
	}
}

// Whatever a manifest names is there, and as large as it says.
func TestManifestNamesWhatIsThere(t *testing.T) {
	t.Parallel()
	root, err := moduleRoot()
	td.Require(t).CmpNoError(err)
	site, err := buildAround([]byte("\x00asm\x01\x00\x00\x00"), root)
	td.Require(t).CmpNoError(err)
	seen := 0
	for name, f := range site.Files {
		if !strings.HasSuffix(name, ".webmanifest") {
			continue
		}
		seen++
		type picture struct{ Src, Sizes, Type, Purpose string }
		var m struct {
			Icons, Screenshots []picture
		}
		td.Require(t).CmpNoError(json.Unmarshal(f.Data, &m))
		td.Cmp(t, len(m.Icons), 4)
		td.Cmp(t, len(m.Screenshots), len(pictured))
		for _, of := range append(m.Icons, m.Screenshots...) {
			file := site.Files[of.Src]
			td.Require(t).Cmp(file, td.NotNil(), of.Src)
			if of.Type != "image/png" {
				continue
			}
			img, err := png.Decode(strings.NewReader(string(file.Data)))
			td.Require(t).CmpNoError(err)
			td.Cmp(t, strings.ReplaceAll(img.Bounds().Size().String(), ",", "x"), "("+of.Sizes+")")
			if of.Purpose == "maskable" {
				wholeWithin(t, img, 0.4)
			}
		}
		// Pictures are no part of what the worker keeps.
		td.Cmp(t, string(site.Files["sw.js"].Data), td.All(td.Contains(name), td.Not(td.Contains(static.PicturePrefix))))
	}
	td.Cmp(t, seen, len(words.Langs()))
}

// wholeWithin holds that nothing is drawn further from the middle than a share of the width: a mask may cut it off
// (W3C, Web Application Manifest, icon masks: a circle of 40 % of the width).
func wholeWithin(t *testing.T, img image.Image, share float64) {
	t.Helper()
	size := float64(img.Bounds().Dx())
	ink := 0
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			if r, _, _, _ := img.At(x, y).RGBA(); r > 0x8000 {
				continue
			}
			ink++
			dx, dy := float64(x)+.5-size/2, float64(y)+.5-size/2
			if dx*dx+dy*dy > share*share*size*size {
				t.Fatalf("drawn at %d, %d", x, y)
			}
		}
	}
	td.Cmp(t, ink, td.Gt(1000))
}

// The addresses of the shortcuts lead to their screens.
func TestChromiumShortcuts(t *testing.T) {
	t.Parallel()
	p := newPhone(t, browser(t), serve(t)+"/#/wrong")
	p.heading(english("page.wrong.title"))
	p.visit("#/quiet")
	p.heading(english("page.wrong.who"))
	p.look("quiet")
	p.touch("#quiet-demo-juniper")
	p.heading("Check Juniper")
	p.touch("input[name=holder][value=held]")
	p.touch("#why-learning")
	p.until("/^#[/]exam[/]/.test(location.hash)")
	exam := draft(p)
	td.Cmp(t, string(exam.Purpose), "learning")
	td.Cmp(t, string(exam.Wellness), "well")
}

// A file that the system opens with the page, and one that another app shares, wait on the screen of files until a person adds them.
// A shared link opens what was sent.
func TestChromiumFilesOpenedAndShared(t *testing.T) {
	t.Parallel()
	barn, err := schema.Encode(sorrelBarn(t))
	td.Require(t).CmpNoError(err)
	p := newPhone(t, browser(t), "about:blank")
	// What the system does: it hands files to whoever has said that it takes them.
	_, err = chromedp.Call(p.ctx, cdppage.AddScriptToEvaluateOnNewDocument, cdppage.AddScriptToEvaluateOnNewDocumentParams{Source: `
		Object.defineProperty(window, 'launchQueue', { value: { setConsumer(take) { window.openWith = (name, text) => take({ files: text === null ? [] : [{ getFile: async () => new File([text], name) }] }); } } });`})
	td.Require(t).CmpNoError(err)
	p.navigate(serve(t))
	p.until("window.openWith && document.querySelector('.horse')")
	eval[bool](p, "(openWith('', null), true)")
	eval[bool](p, "(openWith('barn.json', "+quote(string(barn))+"), true)")
	p.heading(english("page.files.title"))
	p.until("document.body.innerText.includes(" + quote(strings.ReplaceAll(english("page.files.arrived"), "{name}", "barn.json")) + ")")
	p.look("arrived")
	before := len(stored[any](p, "horses"))
	p.touch(english("page.files.arrived.take"))
	p.until("document.querySelector('p.result')?.textContent.includes('Added')")
	td.Cmp(t, len(stored[any](p, "horses")), before+1)
	p.until("![...document.querySelectorAll('button')].some(b => b.textContent === " + quote(english("page.files.arrived.take")) + ")")

	clinic, err := static.ReadClinic("../../examples/clinic/pack.json")
	td.Require(t).CmpNoError(err)
	p.until("navigator.serviceWorker.controller || navigator.serviceWorker.ready.then(() => (location.reload(), false))")
	// A form of another site would come the same way, so that the file waits.
	eval[bool](p, "(async () => { const f = new FormData(); f.append('file', new File(["+quote(string(clinic))+"], 'our clinic.json')); return (await fetch('share', { method: 'POST', body: f })).ok; })()")
	p.visit("#/")
	p.visit("#/files")
	p.until("document.body.innerText.includes('our clinic.json')")
	td.Cmp(t, p.text(), td.Not(td.Contains("Windle Brook")))
	p.touch(english("page.files.arrived.take"))
	p.until("document.body.innerText.includes('Windle Brook')")
	td.Cmp(t, p.text(), td.Not(td.Contains("our clinic.json")), "a file arrives once")
	at := eval[string](p, "new URL('share', location.href).href")
	for text, hash := range map[string]string{"Sent: https://a.example/x/#w1=abc and more": "#w1=abc", "nothing of ours": "#/files"} {
		p.must(chromedp.Do(p.ctx, chromedp.Navigate("about:blank")))
		eval[bool](p, "(document.body.innerHTML = '<form method=post enctype=multipart/form-data action="+at+"><input name=text></form>', document.querySelector('input').value = "+quote(text)+", document.querySelector('form').submit(), true)")
		p.until("location.hash === " + quote(hash))
	}
}
