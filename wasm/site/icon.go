package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
)

// How far from the middle the whorl goes, in widths of the icon: a system may cut off what lies further out than .4 of one that it masks.
const (
	safeOuter  = 0.33
	wholeOuter = 0.45
)

// drawIcon draws the whorl, black on white, as a PNG of size by size pixels: some systems
// take no SVG for the Home Screen.
func drawIcon(size int, outer float64) ([]byte, error) {
	// Two colours: a bit a pixel is a fifth of the size of a picture of 256 greys, and no screen shows a pixel of it larger than its own.
	img := image.NewPaletted(image.Rect(0, 0, size, size), color.Palette{color.White, color.Gray{Y: 17}})
	const turns = 2.6
	for y := range size {
		for x := range size {
			if onSpiral((float64(x)+0.5)/float64(size)-0.5, (float64(y)+0.5)/float64(size)-0.5, turns, outer) {
				img.SetColorIndex(x, y, 1)
			}
		}
	}
	var out bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	err := encoder.Encode(&out, img)
	return out.Bytes(), err
}

// onSpiral reports whether a point, in widths of the icon from its middle, lies on the line r = inner + t(outer-inner).
func onSpiral(x, y, turns, outer float64) bool {
	inner, half := outer*0.15, outer*0.08
	r, turn := math.Hypot(x, y), math.Atan2(y, x)/(2*math.Pi)
	for k := -1.0; k <= turns+1; k++ {
		t := (turn + k) / turns
		if t < 0 || t > 1 {
			continue
		}
		if math.Abs(r-(inner+t*(outer-inner))) < half {
			return true
		}
	}
	return false
}
