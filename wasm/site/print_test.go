package main

import (
	"fmt"
	"image"
	_ "image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// papers are the two sizes of paper, in inches.
var papers = map[string][2]float64{"a4": {8.27, 11.69}, "letter": {8.5, 11}}

// pdf prints the page.
func (p *phone) pdf(paper [2]float64) []byte {
	p.t.Helper()
	// What the browser does before it prints.
	eval[bool](p, "(window.dispatchEvent(new Event('beforeprint')), true)")
	got, err := chromedp.Call(p.ctx, page.PrintToPDF, page.PrintToPDFParams{
		PaperWidth: paper[0], PaperHeight: paper[1], PreferCSSPageSize: ptr(false)})
	p.must(err)
	return []byte(got.Data)
}

func ptr[T any](v T) *T { return &v }

// tool gives a program of poppler, or skips the test.
func tool(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("no %s here: install poppler-utils to read what is printed", name)
	}
	return path
}

// rasters gives the pages of a document as pictures of so many points an inch; they are kept
// where WHORL_SHOTS says.
func rasters(t *testing.T, name string, pdf []byte, perInch string) []image.Image {
	t.Helper()
	in := laid(t, name+".pdf", pdf)
	dir := filepath.Dir(in)
	if out, err := exec.Command(tool(t, "pdftoppm"), "-r", perInch, "-png", in, filepath.Join(dir, name)).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v\n%s", err, out)
	}
	files, err := filepath.Glob(filepath.Join(dir, name+"*.png"))
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(files)
	var pages []image.Image
	for i, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if shots := os.Getenv("WHORL_SHOTS"); shots != "" {
			if err := os.WriteFile(filepath.Join(shots, fmt.Sprintf("print-%s-%d.png", name, i+1)), data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		r, err := os.Open(f)
		if err != nil {
			t.Fatal(err)
		}
		img, _, err := image.Decode(r)
		r.Close()
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, img)
	}
	return pages
}

// pdfText gives the words of a document.
func pdfText(t *testing.T, pdf []byte) string {
	t.Helper()
	out, err := exec.Command(tool(t, "pdftotext"), "-layout", laid(t, "text.pdf", pdf), "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// coloured counts the points of a picture that are not grey.
func coloured(img image.Image) int {
	n := 0
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r, g, bl, _ := img.At(x, y).RGBA()
			if max(r, g, bl)-min(r, g, bl) > 0x1000 {
				n++
			}
		}
	}
	return n
}
