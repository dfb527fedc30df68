package main

import (
	"bytes"
	"cmp"
	"image"
	"image/color"
	"image/png"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

const pictures = "../page/pictures"

// The pictures of the README, which a browser shows too before the page is installed. WHORL_PICTURES=1 takes them anew from the running
// page: go there, look at them, hand them in. They show the demo barn.
func TestPictures(t *testing.T) {
	t.Parallel()
	if os.Getenv("WHORL_PICTURES") != "" {
		takePictures(t)
	}
	readme, err := os.ReadFile("../../README.md")
	td.Require(t).CmpNoError(err)
	var want []string
	for _, screen := range pictured {
		for _, lang := range words.Langs() {
			name := pictureName(screen, lang)
			want = append(want, name)
			data, err := os.ReadFile(filepath.Join(pictures, name))
			td.Require(t).CmpNoError(err)
			img, err := png.Decode(bytes.NewReader(data))
			td.Require(t).CmpNoError(err)
			td.Cmp(t, img.Bounds(), image.Rect(0, 0, 720, 1280), "what a browser takes: %s", name)
			td.CmpLt(t, len(data), 60_000, name)
			td.Cmp(t, len(colours(img)), td.Gt(8), "%s shows something", name)
		}
		td.Cmp(t, string(readme), td.Contains("wasm/page/pictures/"+pictureName(screen, words.English)))
	}
	slices.Sort(want)
	var got []string
	entries, err := os.ReadDir(pictures)
	td.Require(t).CmpNoError(err)
	for _, e := range entries {
		got = append(got, e.Name())
	}
	td.Cmp(t, got, want)
}

func takePictures(t *testing.T) {
	for _, lang := range words.Langs() {
		p := newPhone(t, browser(t), serve(t))
		speak := func(lang words.Lang) {
			p.visit("#/")
			p.until("document.querySelector('.horse')")
			if eval[string](p, "document.documentElement.lang") != string(lang) {
				p.touch("#speak-" + string(lang))
			}
			p.until("document.documentElement.lang === " + quote(lang))
		}
		speak(lang)
		p.until("document.querySelectorAll('.horses .face svg').length === document.querySelectorAll('.horses li').length") // what the core works out
		take(t, p, pictureName("barn", lang))
		p.touch("#wrong")
		p.touch("input[name=flag][value=belly]")
		p.until("document.querySelector('#strip a')")
		p.touch("#say")
		p.until("location.hash.startsWith('#/say')")
		take(t, p, pictureName("call", lang))
		speak(words.English)
		begin(p, "Juniper", "hands-on", vitals.HeartRate, vitals.HandsOn)
		p.tapBeats(8, 1500*time.Millisecond)
		p.until("/give or take/.test(document.querySelector('.under')?.textContent)")
		exam := eval[string](p, "location.hash")
		speak(lang)
		p.visit(exam)
		p.until("document.querySelector('.under')?.textContent")
		take(t, p, pictureName("exam", lang))
	}
}

// take keeps what is on the screen, in so few colours that it is small.
func take(t *testing.T, p *phone, name string) {
	t.Helper()
	time.Sleep(time.Second) // what is filled in later is there
	got, err := chromedp.Call(p.ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{})
	td.Require(t).CmpNoError(err)
	img, err := png.Decode(strings.NewReader(string(got.Data)))
	td.Require(t).CmpNoError(err)
	counted := colours(img)
	kept := slices.SortedFunc(maps.Keys(counted), func(a, b color.RGBA) int {
		return cmp.Or(counted[b]-counted[a], int(a.R)-int(b.R), int(a.G)-int(b.G), int(a.B)-int(b.B))
	})
	var palette color.Palette
	for _, c := range kept[:min(len(kept), 64)] {
		palette = append(palette, c)
	}
	small := image.NewPaletted(img.Bounds(), palette)
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			small.Set(x, y, img.At(x, y))
		}
	}
	var out bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	td.Require(t).CmpNoError(encoder.Encode(&out, small))
	td.Require(t).CmpNoError(os.WriteFile(filepath.Join(pictures, name), out.Bytes(), 0o644))
}

// colours are those of a picture, and how many pixels have each.
func colours(img image.Image) map[color.RGBA]int {
	all := map[color.RGBA]int{}
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			all[color.RGBAModel.Convert(img.At(x, y)).(color.RGBA)]++
		}
	}
	return all
}
