package main

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"whorl.example/vitals"
	"whorl.example/wasm/site/static"
)

// built is the page, built once for all tests of the package.
var built = sync.OnceValues(func() (*static.Site, error) {
	root, err := moduleRoot()
	if err != nil {
		return nil, err
	}
	site, err := Build(root)
	if err != nil {
		return nil, err
	}
	site.Compress(static.Quick)
	return site, nil
})

// chromium gives the browser's program, or skips the test.
func chromium(t *testing.T) string {
	t.Helper()
	for _, name := range []string{os.Getenv("WHORL_CHROMIUM"), "chromium", "chromium-browser", "google-chrome"} {
		if name == "" {
			continue
		}
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("no Chromium here: install it (Debian: apt-get install chromium) or name it in WHORL_CHROMIUM")
	return ""
}

// browser is one Chromium with one profile; its context lives as long as the test.
func browser(t *testing.T) context.Context {
	t.Helper()
	return browserOf(t, t.TempDir())
}

// largeLetters is a browser whose owner has set letters of twice the usual size.
func largeLetters(t *testing.T) context.Context {
	t.Helper()
	profile := t.TempDir()
	set := filepath.Join(profile, "Default", "Preferences")
	if err := os.MkdirAll(filepath.Dir(set), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(set, []byte(`{"webkit":{"webprefs":{"default_font_size":32}}}`), 0o644); err != nil {
		t.Fatal(err)
	}
	return browserOf(t, profile)
}

func browserOf(t *testing.T, profile string) context.Context {
	t.Helper()
	alloc, stop := chromedp.NewExecAllocator(context.Background(), chromiumFlags(chromium(t), profile)...)
	ctx, cancel := chromedp.NewContext(alloc)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal("Chromium does not start: ", err)
	}
	t.Cleanup(func() {
		cancel()
		stop()
	})
	return ctx
}

// chromiumFlags are how Chromium is started on a profile.
func chromiumFlags(path, profile string) []chromedp.ExecAllocatorOption {
	return []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(path), chromedp.UserDataDir(profile),
		chromedp.Flag("headless", true), chromedp.Flag("no-sandbox", true), chromedp.Flag("disable-gpu", true),
		chromedp.Flag("disable-quic", true), chromedp.Flag("no-first-run", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true), chromedp.Flag("lang", "en-GB"),
	}
}

// serve serves the built page.
func serve(t *testing.T) string {
	t.Helper()
	site, err := built()
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(site)
	t.Cleanup(server.Close)
	return server.URL
}

// phone is one tab as a telephone of 360 by 640 that is touched.
type phone struct {
	t     *testing.T
	ctx   context.Context
	close context.CancelFunc
	taps  int
	// shot counts the pictures, which are made only if WHORL_SHOTS names a folder.
	shot int
}

func newPhone(t *testing.T, browser context.Context, url string) *phone {
	t.Helper()
	ctx, cancel := chromedp.NewContext(browser, chromedp.WithNewWindow(true))
	p := &phone{t: t, ctx: ctx, close: cancel}
	t.Cleanup(cancel)
	p.must(chromedp.Do(ctx))
	_, err := chromedp.Call(ctx, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
		Width: 360, Height: 640, DeviceScaleFactor: 2, Mobile: true})
	p.must(err)
	_, err = chromedp.Call(ctx, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true, MaxTouchPoints: 2})
	p.must(err)
	_, err = chromedp.Call(ctx, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	p.must(err)
	p.must(chromedp.Do(ctx, chromedp.Navigate(url)))
	return p
}

func (p *phone) navigate(url string) {
	p.t.Helper()
	p.must(chromedp.Do(p.ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(url)))
}

func (p *phone) must(err error) {
	p.t.Helper()
	if err != nil {
		p.t.Fatal(err)
	}
}

// eval runs an expression in the page and gives its value.
func eval[T any](p *phone, js string) T {
	p.t.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%v\nin %s", err, js)
	}
	return v
}

// until waits for an expression to be true.
func (p *phone) until(js string) {
	p.t.Helper()
	end := time.Now().Add(time.Minute) // a machine with other work too
	for {
		// A promise is true before it is kept.
		is, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool]("Promise.resolve("+js+").then(Boolean)", chromedp.EvalAwaitPromise))
		switch {
		case err == nil && is:
			return
		case err != nil && !betweenPages(err):
			p.t.Fatalf("%v\nin %s", err, js)
		}
		if time.Now().After(end) {
			p.picture("failed")
			p.t.Fatalf("never came true: %s\non the screen:\n%s", js, p.text())
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// betweenPages reports whether an expression could not be asked since one page gives way to another.
func betweenPages(err error) bool {
	return strings.Contains(err.Error(), "navigated or closed") || strings.Contains(err.Error(), "context was destroyed") ||
		strings.Contains(err.Error(), "Cannot find context")
}

func (p *phone) text() string { return eval[string](p, "document.body.innerText") }

// heading waits for a screen by the words of its title.
func (p *phone) heading(words string) {
	p.t.Helper()
	if words == "" {
		p.t.Fatal("no words to wait for")
	}
	p.until("document.querySelector('h1')?.textContent.includes(" + quote(words) + ")")
}

// find is the element that a person would touch: by the selector, or else by its words.
func find(what string) string {
	if strings.HasPrefix(what, "#") || strings.HasPrefix(what, ".") || strings.Contains(what, "[") {
		return "document.querySelector(" + quote(what) + ")"
	}
	return "[...document.querySelectorAll('button, a, summary, label.row')].find(e => e.offsetParent && (e.querySelector('.answer, .name') ?? e).firstChild?.textContent?.trim() === " + quote(what) + ")"
}

// point brings an element into view and gives its middle, as long as nothing covers it.
func (p *phone) point(what string) (x, y float64) {
	p.t.Helper()
	p.until(find(what))
	// As a person does: what is still moving is not touched, until it has stood for six frames.
	got := eval[[]float64](p, `(async () => { let e, r, still = 0;
		const frame = () => new Promise(requestAnimationFrame);
		const hit = () => { const at = document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2); return at && (e === at || e.contains(at) || at.contains(e) && at.closest('label') === e); };
		for (let i = 0; i < 1800 && (still < 6 || !hit()); i++) {
			const now = `+find(what)+`, was = r;
			if (!now) { still = 0; await frame(); continue; }
			r = now.getBoundingClientRect();
			still = now === e && was && was.x === r.x && was.y === r.y ? still + 1 : 0;
			e = now;
			if (!hit()) { e.scrollIntoView({block: 'center'}); still = 0; }
			await frame();
		}
		return e ? [r.x + r.width / 2, r.y + r.height / 2, hit() ? 1 : 0] : [0, 0, 0]; })()`)
	if got[2] != 1 {
		p.picture("covered")
		p.t.Fatalf("%q is covered or out of view", what)
	}
	return got[0], got[1]
}

// press puts a finger down; lift takes it up.
func (p *phone) press(x, y float64) { p.pressAt(x, y, time.Now()) }

// pressAt puts it down at a moment of the browser's clock of events.
func (p *phone) pressAt(x, y float64, at time.Time) {
	p.t.Helper()
	stamp := input.TimeSinceEpoch(float64(at.UnixMicro()) / 1e6)
	_, err := chromedp.Call(p.ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{
		Type: input.DispatchTouchEventTypeTouchStart, TouchPoints: []*input.TouchPoint{{X: x, Y: y}}, Timestamp: stamp})
	p.must(err)
}

func (p *phone) lift() { p.liftAt(time.Now()) }

func (p *phone) liftAt(at time.Time) {
	p.t.Helper()
	stamp := input.TimeSinceEpoch(float64(at.UnixMicro()) / 1e6)
	_, err := chromedp.Call(p.ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{
		Type: input.DispatchTouchEventTypeTouchEnd, TouchPoints: []*input.TouchPoint{}, Timestamp: stamp})
	p.must(err)
	p.taps++
}

// touch touches what a person sees, once.
func (p *phone) touch(what string) {
	p.t.Helper()
	p.press(p.point(what))
	p.lift()
}

// enter touches a field and types into it, in place of what it held.
func (p *phone) enter(id, text string) {
	p.t.Helper()
	p.touch("#" + id)
	p.until("document.activeElement?.id === " + quote(id))
	eval[bool](p, "(document.activeElement.select?.(), true)")
	_, err := chromedp.Call(p.ctx, input.InsertText, input.InsertTextParams{Text: text})
	p.must(err)
}

// look holds a screen to the rules of the look: nothing wider than the screen, targets of
// 48 px, text of 18 px, every field with a name, one title. Then it keeps a picture.
func (p *phone) look(name string) {
	p.t.Helper()
	for _, wrong := range eval[[]string](p, `(() => {
		const wrong = [];
		if (document.documentElement.scrollWidth > innerWidth) wrong.push('wider than the screen: ' + document.documentElement.scrollWidth);
		if (document.querySelectorAll('h1').length !== 1) wrong.push('not one title');
		for (const e of document.querySelectorAll('button, a, summary, label.row, input:not([type=radio]):not([type=checkbox]), textarea')) {
			const r = e.getBoundingClientRect();
			if (r.width && (r.height < 47.9 || r.width < 47.9)) wrong.push('a target of ' + Math.round(r.width) + ' by ' + Math.round(r.height) + ': ' + e.textContent + e.id);
		}
		for (const e of document.querySelectorAll('input, textarea')) if (!e.labels?.length && !e.ariaLabel) wrong.push('no label: ' + e.id);
		const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
		while (walk.nextNode()) {
			const e = walk.currentNode.parentElement;
			if (!walk.currentNode.textContent.trim() || e.closest('svg, noscript, script') || !e.offsetParent) continue;
			const size = parseFloat(getComputedStyle(e).fontSize);
			if (size < 18) wrong.push('text of ' + size + ' px: ' + e.textContent);
		}
		return wrong;
	})()`) {
		p.t.Errorf("%s: %s", name, wrong)
	}
	p.picture(name)
}

// picture keeps a picture of the screen for a person to look at, if WHORL_SHOTS is set.
func (p *phone) picture(name string) {
	dir := os.Getenv("WHORL_SHOTS")
	if dir == "" {
		return
	}
	p.t.Helper()
	p.shot++
	got, err := chromedp.Call(p.ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{})
	p.must(err)
	p.must(os.MkdirAll(dir, 0o755))
	file := fmt.Sprintf("%s-%02d-%s.png", strings.ReplaceAll(p.t.Name(), "/", "-"), p.shot, name)
	p.must(os.WriteFile(filepath.Join(dir, file), []byte(got.Data), 0o644))
}

// storedJS reads every record of one of the page's stores.
func storedJS(store string) string {
	return `new Promise((resolve, reject) => {
		const open = indexedDB.open('whorl-barn-book');
		open.onerror = () => reject(open.error);
		open.onsuccess = () => {
			const all = open.result.transaction(` + quote(store) + `).objectStore(` + quote(store) + `).getAll();
			all.onsuccess = () => { open.result.close(); resolve(all.result); };
		};
	})`
}

func stored[T any](p *phone, store string) []T {
	p.t.Helper()
	text := eval[string](p, storedJS(store)+".then(JSON.stringify)")
	var out []T
	p.must(json.Unmarshal([]byte(text), &out))
	return out
}

// key presses a key down and lets it go; held ones repeat in between.
func (p *phone) key(name string, repeats bool) {
	p.t.Helper()
	down := input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyDown, Key: name, Code: "Space", Text: name}
	_, err := chromedp.Call(p.ctx, input.DispatchKeyEvent, down)
	p.must(err)
	if repeats {
		repeated := true
		down.AutoRepeat = &repeated
		for range 3 {
			_, err = chromedp.Call(p.ctx, input.DispatchKeyEvent, down)
			p.must(err)
		}
	}
	_, err = chromedp.Call(p.ctx, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeKeyUp, Key: name, Code: "Space"})
	p.must(err)
}

// stepsAsked are the steps of a grown horse at rest: what is only of a foal, of foaling or of work is left out.
func stepsAsked(depth vitals.Depth, holder vitals.Holder, closed bool) []vitals.Step {
	return slices.DeleteFunc(vitals.Steps(depth, holder, closed), func(s vitals.Step) bool {
		sign, _ := vitals.Lookup(s.Sign)
		return sign.Applies != nil
	})
}
