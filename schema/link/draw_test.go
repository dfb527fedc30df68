package link

import (
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/maxatome/go-testdeep/td"
)

const page = "https://yard.example/whorl/"

// raster draws the SVG's own path at so many pixels of width, as a screen would.
func raster(t *testing.T, svg string, width int) image.Image {
	t.Helper()
	box := regexp.MustCompile(`viewBox="0 0 (\d+) \d+"`).FindStringSubmatch(svg)
	td.Require(t).Cmp(len(box), 2)
	side, _ := strconv.Atoi(box[1])
	dark := make([]bool, side*side)
	for _, m := range regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-\d+z`).FindAllStringSubmatch(svg, -1) {
		x, _ := strconv.Atoi(m[1])
		y, _ := strconv.Atoi(m[2])
		run, _ := strconv.Atoi(m[3])
		for i := range run {
			dark[y*side+x+i] = true
		}
	}
	img := image.NewGray(image.Rect(0, 0, width, width))
	for y := range width {
		for x := range width {
			shade := color.Gray{Y: 255}
			if dark[(2*y+1)*side/(2*width)*side+(2*x+1)*side/(2*width)] {
				shade.Y = 0
			}
			img.SetGray(x, y, shade)
		}
	}
	return img
}

// scan reads a code; found: the reader is told that nothing else is in the picture.
func scan(img image.Image, found bool) (string, error) {
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		return "", err
	}
	hint := gozxing.DecodeHintType_TRY_HARDER
	if found {
		hint = gozxing.DecodeHintType_PURE_BARCODE
	}
	got, err := qrcode.NewQRCodeReader().Decode(bitmap, map[gozxing.DecodeHintType]any{hint: true})
	if err != nil {
		return "", err
	}
	return got.GetText(), nil
}

// A bad night is read by a decoder that is not ours from a raster of 360 pixels, as wide
// as a small phone, and opens.
func TestABadNightIsReadFromAPhone(t *testing.T) {
	t.Parallel()
	for _, exams := range []int{0, 3, 12} {
		exam, c := compared(t, exams)
		sent := New(bramble, exam, &c)
		code, err := sent.Code()
		td.Require(t).CmpNoError(err)
		d, err := Draw(page, code)
		td.Require(t).CmpNoError(err)
		svg := d.SVG("code of an exam")
		t.Logf("after %d exams: %d characters, version %d-%s, %d bytes of SVG", exams, len(d.Text), d.Version, d.Level, len(svg))
		td.Cmp(t, d.Version <= MaxVersion, true)
		text, err := scan(raster(t, svg, 360), false)
		if err != nil {
			// Its search for the finder patterns took a chance one, see TestEveryVersionIsRead.
			t.Logf("after %d exams the reader does not find the code in the picture: %v", exams, err)
			text, err = scan(raster(t, svg, 360), true)
		}
		td.CmpNoError(t, err)
		td.Cmp(t, text, d.Text)
		_, fragment, _ := strings.Cut(text, "#")
		got, err := Read(fragment)
		td.CmpNoError(t, err)
		td.Cmp(t, got.Exam.ID, exam.ID)
	}
}

// Every version from the least to the greatest, at four pixels a module. The picture
// holds nothing but the code, and the reader is told so: at version 20 its own search for the finder
// patterns takes chance ones for them in one picture of ten.
func TestEveryVersionIsRead(t *testing.T) {
	t.Parallel()
	seen := map[int]bool{}
	for n := 1; ; n += 7 {
		record := make([]byte, n)
		for i := range record {
			record[i] = byte(i*i*31 + i*7 + n)
		}
		d, err := Draw(page, prefixCode+encode43(record))
		if errors.Is(err, ErrTooLong) {
			break
		}
		td.Require(t).CmpNoError(err)
		if seen[d.Version] {
			continue
		}
		seen[d.Version] = true
		text, err := scan(raster(t, d.SVG(""), 4*(d.Size+2*quiet)), true)
		td.CmpNoError(t, err, "version %d-%s", d.Version, d.Level)
		td.Cmp(t, text, d.Text)
	}
	td.Cmp(t, len(seen) >= 16 && seen[MaxVersion], true, "%v", seen)
}

func TestWhatIsNotDrawn(t *testing.T) {
	t.Parallel()
	_, err := Draw(page, prefixCode+strings.Repeat("A", 1300))
	td.Cmp(t, errors.Is(err, ErrTooLong), true)
	for _, fragment := range []string{"", "w1=abc", "W1:abc", "W1:A B"} {
		_, err := Draw(page, fragment)
		td.Cmp(t, errors.Is(err, ErrForeign), true, fragment)
	}
}

// The drawing is XML with presentation attributes only.
func TestTheDrawingNeedsNoPermission(t *testing.T) {
	t.Parallel()
	d, err := Draw(page, Code(example))
	td.Require(t).CmpNoError(err)
	svg := d.SVG(`<script>&"`)
	in := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := in.Token()
		if err == io.EOF {
			break
		}
		td.Require(t).CmpNoError(err)
		if e, ok := token.(xml.StartElement); ok {
			td.Cmp(t, e.Name.Local, td.Any("svg", "title", "path"))
			for _, a := range e.Attr {
				td.Cmp(t, a.Name.Local, td.Any("xmlns", "viewBox", "shape-rendering", "role", "fill", "d"))
			}
		}
	}
}
