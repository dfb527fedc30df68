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
	img := image.NewGray(image.Rect(0, 0, size, size))
	const turns, inner, outer, half = 2.6, 0.05, 0.33, 0.026 // in widths of the icon
	for y := range size {
		for x := range size {
			// Nine samples a pixel smooth the edge.
			dark := 0
			for i := range 9 {
				px := (float64(x)+(float64(i%3)+0.5)/3)/float64(size) - 0.5
				py := (float64(y)+(float64(i/3)+0.5)/3)/float64(size) - 0.5
				if onSpiral(px, py, turns, inner, outer, half) {
					dark++
				}
			}
			img.SetGray(x, y, color.Gray{Y: uint8(255 - dark*238/9)})
		}
	}
	var out bytes.Buffer
	err := png.Encode(&out, img)
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
