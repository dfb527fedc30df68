package report

import (
	"hash/fnv"
	"math"
	"strings"

	"whorl.example/vitals"
)

// Whorl draws an animal's own spiral as SVG, its face in the barn's list: the way it
// turns, its turns, its lean and its waver follow from the id and never change. known,
// 0 to 1, is how much is known of what is usual: at 0 the ring is dashed and the spiral
// only dotted; the spiral is inked from its heart outwards as known grows. size is the
// width and height in CSS pixels. The name stands beside it, so readers of the screen
// aloud are not told of it.
func Whorl(id vitals.ID, known float64, size int) string {
	if !(known > 0) { // NaN too
		known = 0
	}
	known = math.Min(known, 1)
	points := spiral(id)
	inked := int(math.Round(known * float64(len(points)-1)))
	if known > 0 {
		inked = max(inked, len(points)/6)
	}
	var d drawing
	side := itoa(max(size, 1))
	d.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 56 56" width="` + side + `" height="` + side +
		`" aria-hidden="true" fill="none" stroke="currentColor" stroke-linecap="round" stroke-linejoin="round">`)
	d.WriteString(`<circle cx="28" cy="28" r="26" stroke-width="2"`)
	if known == 0 {
		d.WriteString(` stroke-dasharray="4 5.07"`) // 18 dashes round
	}
	d.WriteString(`/>`)
	if inked < len(points)-1 {
		d.WriteString(`<path d="` + smooth(points[inked:]) + `" stroke-width="1.6" stroke-dasharray="0.1 3.6"/>`)
	}
	if inked > 0 {
		d.WriteString(`<path d="` + smooth(points[:inked+1]) + `" stroke-width="2.6"/>`)
	}
	d.WriteString(`</svg>`)
	return d.String()
}

type point struct{ x, y float64 }

// spiral gives the points of an animal's spiral from its heart outwards, inside the ring.
func spiral(id vitals.ID) []point {
	h := fnv.New64a()
	h.Write([]byte(id))
	bits := mix(h.Sum64())
	// take gives the next few bits as a number from 0 to 1.
	take := func(n uint) float64 {
		v := bits & (1<<n - 1)
		bits >>= n
		return float64(v) / float64(uint64(1)<<n-1)
	}
	way := 1.0
	if take(1) > 0 {
		way = -1
	}
	turns := 2 + 1.75*take(4)      // 2 to 3.75
	begin := 2 * math.Pi * take(6) // direction of the heart
	tight := 0.75 + 0.75*take(5)   // how the turns widen
	squash := 0.72 + 0.28*take(4)  // the smaller axis
	lean := math.Pi * take(5)      // its direction
	waver := 0.05 * take(4)        // of the radius
	lobes := 2 + math.Round(3*take(2))
	offX, offY := 4*(take(5)-0.5), 4*(take(5)-0.5) // the heart is seldom in the middle
	const steps = 72
	points := make([]point, steps+1)
	for i := range points {
		part := float64(i) / steps
		angle := begin + way*2*math.Pi*turns*part
		r := 2 + 20*math.Pow(part, tight)
		r *= 1 + float64(waver*math.Sin(lobes*angle))
		sin, cos := math.Sincos(angle - lean)
		u, v := r*cos, r*squash*sin
		sinL, cosL := math.Sincos(lean)
		away := 1 - part
		points[i] = point{
			28 + float64(u*cosL) - float64(v*sinL) + float64(away*offX),
			28 + float64(u*sinL) + float64(v*cosL) + float64(away*offY),
		}
	}
	return points
}

// mix spreads the bits of a hash, so that ids that differ in one letter look different
// (the finalizer of SplitMix64; Steele, Lea and Flood 2014).
func mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// smooth draws a curve through the points (Catmull-Rom as Bézier curves).
func smooth(p []point) string {
	if len(p) == 0 {
		return ""
	}
	at := func(i int) point { return p[min(max(i, 0), len(p)-1)] }
	var b strings.Builder
	b.WriteString("M" + px(p[0].x) + " " + px(p[0].y))
	for i := 0; i+1 < len(p); i++ {
		a, q, r, z := at(i-1), at(i), at(i+1), at(i+2)
		b.WriteString("C" + px(q.x+(r.x-a.x)/6) + " " + px(q.y+(r.y-a.y)/6) +
			" " + px(r.x-(z.x-q.x)/6) + " " + px(r.y-(z.y-q.y)/6) +
			" " + px(r.x) + " " + px(r.y))
	}
	return b.String()
}
