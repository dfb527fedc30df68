package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"image"
	_ "image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	download "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/schema/fhir"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
	"whorl.example/wasm/site/static"
)

// choose puts a file into a file field, as a person who picks it does.
func (p *phone) choose(id, path string) {
	p.t.Helper()
	p.until("document.getElementById(" + quote(id) + ")")
	got, err := chromedp.Call(p.ctx, runtime.Evaluate, runtime.EvaluateParams{Expression: "document.getElementById(" + quote(id) + ")"})
	p.must(err)
	_, err = chromedp.Call(p.ctx, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: []string{path}, ObjectID: got.Result.ObjectID})
	p.must(err)
}

// downloads sends what is saved into a folder; taken waits for a file and gives its text.
func (p *phone) downloads() string {
	p.t.Helper()
	dir := p.t.TempDir()
	_, err := chromedp.Call(p.ctx, download.SetDownloadBehavior, download.SetDownloadBehaviorParams{
		Behavior: download.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir})
	p.must(err)
	return dir
}

func (p *phone) taken(dir, pattern string) []byte {
	p.t.Helper()
	end := time.Now().Add(20 * time.Second)
	for {
		found, _ := filepath.Glob(filepath.Join(dir, pattern))
		if len(found) > 0 && !strings.HasSuffix(found[0], ".crdownload") {
			// The file has its name before it has all its text.
			text, err := os.ReadFile(found[0])
			p.must(err)
			time.Sleep(50 * time.Millisecond)
			again, err := os.ReadFile(found[0])
			p.must(err)
			if len(text) > 0 && bytes.Equal(text, again) {
				p.must(os.Remove(found[0]))
				return text
			}
		}
		if time.Now().After(end) {
			p.picture("no-download")
			p.t.Fatalf("no file %s; on the screen:\n%s", pattern, p.text())
		}
		time.Sleep(30 * time.Millisecond)
	}
}

// withBarn is a telephone whose barn is that of a file.
func withBarn(t *testing.T, url string, file schema.File) *phone {
	t.Helper()
	text, err := schema.Encode(file)
	td.Require(t).CmpNoError(err)
	p := newPhone(t, browser(t), url+"/#/files")
	p.heading(english("page.files.title"))
	p.choose("file", laid(t, "barn.json", text))
	p.until("document.querySelector('p.result')?.textContent.includes('Added')")
	return p
}

// checkWords are the words by which caller and vet agree that they see the same, worked out here with Go's own SHA-256.
func checkWords(sent string) string {
	sum := sha256.Sum256([]byte(sent))
	n := binary.BigEndian.Uint64(sum[:8])
	var out []string
	for range 7 {
		out = append(out, strings.Fields("Alfa Bravo Charlie Delta Echo Foxtrot Golf Hotel India Juliett Kilo Lima Mike November Oscar Papa " +
			"Quebec Romeo Sierra Tango Uniform Victor Whiskey X-ray Yankee Zulu")[n%26])
		n /= 26
	}
	return strings.Join(out, " ")
}

// A whole hand-over: the owner's telephone makes the link, the clinic's browser, with the
// clinic's own file, opens it with no network, computes, adds its own rules and says so,
// prints, and exports.
func TestChromiumHandOver(t *testing.T) {
	t.Parallel()
	p := withBarn(t, serve(t), sorrelBarn(t))
	p.look("files")
	p.visit("#/exam/night-4/call")
	p.heading(english("page.call.tell"))
	p.look("call")
	p.touch(english("page.call.send"))
	p.heading(english("page.send.title"))
	p.until("document.querySelector('#copy')")
	p.look("send")
	p.touch("#code")
	p.until("document.querySelector('.code svg')")
	p.look("send-code")
	shown := scan(t, p.shoot())
	td.Cmp(t, shown, td.Contains("/#W1:"), "the code is read from the picture of a screen of 360 px")
	_, code, _ := strings.Cut(shown, "#")
	td.Cmp(t, eval[string](p, "document.querySelector('.code .check').textContent"), td.Contains(checkWords(code)+"."), "the words of the code")

	// The clipboard is refused here: the link is laid out to be copied by hand.
	eval[bool](p, "(navigator.clipboard.writeText = () => Promise.reject(new Error('no')), true)")
	p.touch("#copy")
	p.until("document.activeElement?.className === 'copying'")
	sent := eval[string](p, "document.querySelector('.copying').value")
	_, fragment, _ := strings.Cut(sent, "#")
	td.Cmp(t, fragment, td.HasPrefix("w1="))
	td.CmpLt(t, len(sent), 2000)
	td.Cmp(t, eval[string](p, "[...document.querySelectorAll('.check')].at(0).textContent"), td.Contains(checkWords(fragment)+"."), "the words of the link")
	dir := p.downloads()
	p.touch("#rechecks-save")
	td.Cmp(t, string(p.taken(dir, "*.ics")), td.All(td.HasPrefix("BEGIN:VCALENDAR\r\n"), td.Contains("SUMMARY:Recheck Sorrel (1 of 4)")))

	// The clinic: another profile, another copy of the page, with its own file beside it.
	plain, err := built()
	td.Require(t).CmpNoError(err)
	site := plain.Copied()
	text, err := static.ReadClinic("../../examples/clinic/pack.json")
	td.Require(t).CmpNoError(err)
	td.Require(t).CmpNoError(site.AddClinic(text))
	there, cut := vanishing(t, site)
	v := newPhone(t, browser(t), there)
	v.until("document.querySelector('.horse')")
	eval[bool](v, "navigator.serviceWorker.ready.then(() => true)")
	cut()
	before := len(stored[json.RawMessage](v, "exams"))
	v.visit("#" + fragment)
	v.heading(strings.ReplaceAll(english("page.open.from"), "{name}", "Sorrel"))
	v.look("opened")
	on := v.text()
	td.Cmp(t, on, td.Contains(checkWords(fragment)+"."), "the clinic sees the words that the caller sees")
	for _, want := range []string{
		"Windle Brook Equine Practice (invented). Its own ranges",   // recomputed with the clinic's own file
		"Heart rate: 46, 53, 60, 68 a minute in 60 minutes, rising", // the rechecks' course
		english("page.open.notkept"),                                // nothing is kept
		"16 taps, seconds between them: 0.9",                        // the taps themselves
		"4 in 20 s",                                                 // the count itself
		"1.5 s, 1.4 s, 1.6 s",                                       // the tries
		"Windle Brook Equine Practice (invented) asks for these",    // what it asks for and was not looked at
		"Is there a vehicle that could take her in tonight?",        // its own first question
	} {
		td.Cmp(t, on, td.Contains(want))
	}
	td.Cmp(t, eval[int](v, "document.querySelectorAll('.found svg').length") > 4, true, "rulers")
	eval[bool](v, "(document.querySelector('.part-basis details').open = true)")
	td.Cmp(t, v.text(), td.Contains("its own rule says to call at this heart rate, above 52 a minute (the practice's own list, 2026)"))
	td.Cmp(t, len(stored[json.RawMessage](v, "exams")), before, "nothing is kept unless somebody says so")

	// Export and print.
	dir = v.downloads()
	v.touch("#fhir-save")
	var bundle fhir.Bundle
	td.Require(t).CmpNoError(json.Unmarshal(v.taken(dir, "*fhir.json"), &bundle))
	td.Cmp(t, fhir.Check(bundle), td.Empty())
	td.Cmp(t, bundle.Entry[1].Resource.Name[0].Text, "Sorrel")
	v.touch("#csv-save")
	td.Cmp(t, string(v.taken(dir, "*.csv")), td.HasPrefix("\ufeff"))
	for name, paper := range papers {
		pdf := v.pdf(paper)
		pages := rasters(t, "hand-over-"+name, pdf, "300")
		read := ""
		for _, img := range pages {
			if text, err := scanned(img); err == nil {
				read = text
			}
		}
		td.Cmp(t, read, td.Contains("#W1:"), "the code is read from the printed %s page", name)
		td.Cmp(t, pdfText(t, pdf), td.All(td.Contains("Sorrel"), td.Contains("Please come"), td.Not(td.Contains(english("page.open.keep")))))
	}

	// What a camera reads opens the same.
	v.visit("#/")
	v.until("document.querySelector('.horse')")
	v.visit("#" + code)
	v.until("document.querySelector('.opened')")
	td.Cmp(t, v.text(), td.All(td.Contains("heart rate 68 a minute, tapped for 13 s"), td.Contains(checkWords(code)+".")))

	// She says so: it is kept, once.
	v.touch("#keep")
	v.until("document.querySelector('p.result')?.textContent.includes('Saved')")
	td.Cmp(t, len(stored[json.RawMessage](v, "exams")), before+1)
	// Kept, what was usual for the horse stays the sender's, and says so.
	v.visit("#/exam/night-4/result")
	v.until("document.body.innerText.includes('was sent, by “')")

	// On the clinic's copy the call has its numbers, with their hours, to be rung at a touch.
	v.visit("#/exam/night-4/call")
	v.until("document.querySelector('a.ring[href=\"tel:+442079460101\"]')?.textContent.includes('nights and weekends')")
	v.look("call-with-clinic")

	// A link that was cut says so, and nothing else is shown.
	v.visit("#" + fragment[:len(fragment)-7])
	v.until("document.querySelector('.caution')?.textContent.includes(" + quote(english("fault.link-cut")) + ")")
	v.look("cut")
	v.enter("pasted", "see https://yard.example/#"+fragment[:40]+"\n"+fragment[40:])
	v.touch("#go")
	v.heading("Sorrel")
}

// A practitioner finds in the report, in both languages: which horse, since when, what
// differs, how it was measured, what was given, what was not checked, where to drive, whom to ring.
func TestChromiumAPractitionerReadsTheReport(t *testing.T) {
	t.Parallel()
	p := withBarn(t, serve(t), sorrelBarn(t))
	for lang, want := range map[words.Lang]map[string][2]string{
		words.English: {
			"who":       {"which horse, where to drive, whom to ring", `Call back: \+1 202 555 0142.*Sorrel.*Harrow Lane, second yard, gate code 4411`},
			"what":      {"since when", `(?i)left half the evening hay, since 9:10 pm`},
			"differs":   {"what differs and how it was measured", `(?i)heart rate 6\d a minute, tapped for 1\d s`},
			"watch":     {"where it goes", `rising`},
			"danger":    {"what was given", `Given: nothing by mouth, at 1:10 am`},
			"story":     {"what else", `Manure and urine`},
			"unchecked": {"what was not checked", `Could not: gut sounds, upper right`},
		},
		words.Spanish: {
			"who":       {"which horse, where to drive, whom to ring", `\+1 202 555 0142.*Sorrel.*Harrow Lane, second yard, gate code 4411`},
			"what":      {"since when", `(?i)left half the evening hay, desde`},
			"differs":   {"what differs and how it was measured", `6\d por minuto`},
			"watch":     {"where it goes", `(?i)sub`},
			"danger":    {"what was given", `nothing by mouth, a la 1:10 am`},
			"unchecked": {"what was not checked", `(?i)intestin|panza|borborigmos`},
		},
	} {
		p.visit("#/")
		p.visit("#/exam/night-4/call")
		p.until("document.querySelector('#report-" + string(lang) + "')")
		p.touch("#report-" + string(lang))
		for part, x := range want {
			heading := words.Say(lang, "report."+part)
			p.until("[...document.querySelectorAll('.report section')].some(s => s.querySelector('h2').textContent === " + quote(heading) + ")")
			got := eval[string](p, "[...document.querySelectorAll('.report section')].find(s => s.querySelector('h2').textContent === "+quote(heading)+").innerText.replace(/\\s+/g, ' ')")
			td.Cmp(t, got, td.Re(x[1]), "%s: %s", lang, x[0])
		}
		p.look("read-" + string(lang))
		// The same, aloud, a breath at a time, large, with the numbers as they are said.
		p.touch("#go")
		p.until("document.querySelector('.breath')?.textContent.length > 10")
		p.look("aloud-" + string(lang))
		var said []string
		for range 60 {
			said = append(said, eval[string](p, "document.querySelector('.breath').textContent"))
			td.Cmp(t, eval[bool](p, "document.documentElement.scrollHeight <= innerHeight + 1"), true, "fits the screen: %s", said[len(said)-1])
			at := eval[string](p, "document.querySelector('.count').textContent")
			if eval[string](p, "document.querySelector('#go').textContent") == english("page.aloud.done") {
				break
			}
			p.touch("#go")
			p.until("document.querySelector('.count').textContent !== " + quote(at))
		}
		all := strings.Join(said, " ")
		say := map[words.Lang][]string{
			words.English: {"plus one, two zero two, five five five, zero one four two", "sixty-", "gate code four four one one"},
			words.Spanish: {"dos cero dos", "sesenta y ", "cuatro cuatro uno uno"},
		}[lang]
		for _, x := range say {
			td.Cmp(t, all, td.Contains(x))
		}
		p.look("aloud-last-" + string(lang))
	}
}

// Damaged, foreign and newer files are refused with their reason and change nothing; a file
// that conflicts keeps both, and the person chooses.
func TestChromiumFiles(t *testing.T) {
	t.Parallel()
	file := sorrelBarn(t)
	p := withBarn(t, serve(t), file)
	all := func() string {
		return strings.Join([]string{string(must(json.Marshal(stored[json.RawMessage](p, "exams")))), string(must(json.Marshal(stored[json.RawMessage](p, "horses"))))}, "")
	}
	text, err := schema.Encode(file)
	td.Require(t).CmpNoError(err)
	before := all()
	for name, bad := range map[string]string{
		"cut":     string(text[:len(text)/2]),
		"foreign": `{"kind":"recipes","format":1}`,
		"newer":   strings.Replace(string(text), `"format":1`, `"format":2`, 1),
		"damaged": strings.Replace(string(text), `"seconds":20`, `"seconds":-20`, 1),
		"empty":   "",
		"binary":  "\x00\xff\xfe",
	} {
		eval[bool](p, "(document.getElementById('faults').replaceChildren(), document.querySelector('p.result').textContent = '', true)")
		p.choose("file", laid(t, name+".json", []byte(bad)))
		p.until("document.querySelector('.summary')")
		p.until("document.querySelector('p.result').textContent === " + quote(english("page.files.in.not")))
		td.Cmp(t, all() == before, true, "%s changed something", name)
	}
	p.look("refused")

	// A telephone whose demo barn was put in on another day: its invented exams are nothing new, and no conflict.
	demo := schema.File{Horses: stored[vitals.Horse](p, "horses"), Exams: stored[vitals.Exam](p, "exams")}
	days := 0
	for i := range demo.Exams {
		if strings.HasPrefix(string(demo.Exams[i].ID), "demo-") {
			demo.Exams[i].At = demo.Exams[i].At.AddDate(0, 0, -3)
			days++
		}
	}
	td.CmpGt(t, days, 5)
	for i := range demo.Horses {
		if strings.HasPrefix(string(demo.Horses[i].ID), "demo-") {
			demo.Horses[i].Notes = "put in on another day"
		}
	}
	shifted, err := schema.Encode(demo)
	td.Require(t).CmpNoError(err)
	p.choose("file", laid(t, "demo.json", shifted))
	p.until("document.querySelector('p.result')?.textContent.includes('0 horses, 0 exams')")
	td.Cmp(t, all() == before, true)
	eval[bool](p, "(document.querySelector('p.result').textContent = '', true)")

	// The same file again: nothing new. Then one from another telephone that differs.
	p.choose("file", laid(t, "same.json", text))
	p.until("document.querySelector('p.result')?.textContent.includes('0 horses, 0 exams')")
	td.Cmp(t, all() == before, true)
	other := file
	other.Exams = append([]vitals.Exam(nil), file.Exams...)
	last := &other.Exams[len(other.Exams)-1]
	last.Findings = append([]vitals.Finding(nil), last.Findings...)
	last.Findings[0].Chosen = []vitals.GradeID{"dull"}
	text, err = schema.Encode(other)
	td.Require(t).CmpNoError(err)
	p.choose("file", laid(t, "other.json", text))
	p.until("document.querySelector('#to-conflicts')")
	p.look("conflict-said")
	p.touch("#to-conflicts")
	p.heading(english("page.conflict.title"))
	p.until("document.querySelector('.versions td')")
	p.look("conflict")
	on := p.text()
	td.Cmp(t, on, td.All(td.Contains("Bright"), td.Contains("Dull"), td.Contains("Attitude")))
	shown := eval[string](p, "document.querySelector('.versions td').textContent")
	p.touch("#other-night-4")
	p.until("!document.querySelector('.conflict')")
	var now string
	for _, e := range stored[vitals.Exam](p, "exams") {
		if e.ID == "night-4" {
			now = string(e.Findings[0].Chosen[0])
		}
	}
	td.Cmp(t, now, map[bool]string{true: "dull", false: "bright"}[strings.HasPrefix(shown, "Bright")])
	// Nothing was dropped: the barn file has the other version, put aside.
	p.visit("#/files")
	p.heading(english("page.files.title"))
	dir := p.downloads()
	p.touch("#barn-save")
	got, err := schema.Decode(p.taken(dir, "whorl-barn-*.json"))
	td.Require(t).CmpNoError(err)
	td.Cmp(t, got.Conflicts, td.Len(1))
	td.CmpTrue(t, got.Conflicts[0].Aside)
	p.until("document.body.innerText.includes(" + quote(english("page.files.allfiled")) + ")")
	p.touch("#table-save")
	p.touch("#practice-save")
	td.Cmp(t, string(p.taken(dir, "*.ics")), td.Contains("RRULE:FREQ=DAILY;INTERVAL=7;COUNT=8"))
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// The sheets of paper, printed on both sizes, in black and white, and looked at.
func TestChromiumSheets(t *testing.T) {
	t.Parallel()
	p := withBarn(t, serve(t), sorrelBarn(t))
	for _, s := range []struct {
		name, at string
		pages    int
		want     []string
	}{
		{"stall", "#/horse/sorrel/stall", 1, []string{"Sorrel", "Heart rate", "12 quiet-day exams", english("page.stall.week")}},
		{"blank-full", "#/blank/full", 3, []string{"Heart rate", "thermometer", "☐ Pink"}},
		{"blank-walk-up", "#/blank/walk-up", 2, []string{"Attitude"}},
	} {
		p.visit(s.at)
		p.until("document.querySelector('.sheetpaper .sheet')")
		p.look(s.name)
		for size, paper := range papers {
			pdf := p.pdf(paper)
			pages := rasters(t, s.name+"-"+size, pdf, "150")
			td.Cmp(t, len(pages) >= 1 && len(pages) <= s.pages, true, "%s on %s: %d pages", s.name, size, len(pages))
			text := pdfText(t, pdf)
			for _, want := range s.want {
				td.Cmp(t, text, td.Contains(want), "%s on %s", s.name, size)
			}
			for i, img := range pages {
				td.Cmp(t, coloured(img), 0, "%s page %d: points that are neither grey nor black", s.name, i+1)
			}
		}
	}
}

// scan reads the code in a picture by a decoder that is not ours.
func scan(t *testing.T, img image.Image) string {
	t.Helper()
	text, err := scanned(img)
	td.Require(t).CmpNoError(err)
	return text
}

func scanned(img image.Image) (string, error) {
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		return "", err
	}
	got, err := qrcode.NewQRCodeReader().Decode(bitmap, map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true})
	if err != nil {
		return "", err
	}
	return got.GetText(), nil
}

// shoot gives the picture of the screen.
func (p *phone) shoot() image.Image {
	p.t.Helper()
	got, err := chromedp.Call(p.ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{})
	p.must(err)
	img, _, err := image.Decode(bytes.NewReader([]byte(got.Data)))
	p.must(err)
	return img
}

// visit goes to an address within the page.
func (p *phone) visit(hash string) {
	p.t.Helper()
	eval[bool](p, "(location.hash = "+quote(hash)+", true)")
}
