package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
)

// drawIcon draws the whorl, black on white, as a PNG of size by size pixels: some systems
// take no SVG for the Home Screen.
func drawIcon(size int) ([]byte, error) {
	// Four greys take two bits a pixel: less than a third of the size of a picture of 256.
	greys := make(color.Palette, 4)
	for dark := range greys {
		greys[dark] = color.Gray{Y: uint8(255 - dark*238/3)}
	}
	img := image.NewPaletted(image.Rect(0, 0, size, size), greys)
	const turns, inner, outer, half = 2.6, 0.05, 0.33, 0.026 // in widths of the icon
	for y := range size {
		for x := range size {
			// Four samples a pixel smooth the edge.
			dark := 0
			for i := range 4 {
				px := (float64(x)+(float64(i%2)+0.5)/2)/float64(size) - 0.5
				py := (float64(y)+(float64(i/2)+0.5)/2)/float64(size) - 0.5
				if onSpiral(px, py, turns, inner, outer, half) {
					dark++
				}
			}
			img.SetColorIndex(x, y, uint8(dark*3/4))
		}
	}
	var out bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	err := encoder.Encode(&out, img)
	return out.Bytes(), err
}

// onSpiral reports whether a point lies within half of the line r = inner + t(outer-inner).
func onSpiral(x, y, turns, inner, outer, half float64) bool {
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
