package vitals

import (
	"math"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"
)

// finding checks a finding.
func (c *check) finding(f *Finding) {
	i, known := signFrom(c.sign, f.Sign)
	c.sign = i
	if !known {
		c.add(FaultUnknownSign, "/sign", "sign", string(f.Sign))
	}
	c.within("/minutes", f.Minutes, 0, MaxMinutes, "min")
	c.note("/note", f.Note)
	c.unknown("", f.Unknown)
	oneOf(c, "/absent", f.Absent, allAbsences, false)

	ways := f.ways(make([]Method, 0, 6))
	switch {
	case len(ways) == 0 && f.Absent == "":
		c.add(FaultNoValue, "")
	case len(ways) > 1, len(ways) == 1 && f.Absent != "":
		c.add(FaultTwoValues, "")
	}
	if len(f.Where) > 0 && len(f.Chosen) == 0 {
		c.add(FaultWhereAlone, "/where")
	}
	if !known {
		return
	}
	sign := &catalogue[i]
	if f.Site != "" {
		if _, ok := sign.Site(f.Site); !ok {
			c.add(FaultUnknownSite, "/site", "site", string(f.Site))
		}
	} else if sign.PerSite {
		c.add(FaultSiteMissing, "/site")
	}
	for _, way := range ways {
		if !slices.Contains(sign.Methods, way) {
			c.add(FaultWrongKind, "/"+member[way])
			continue
		}
		switch way {
		case ByCount:
			c.count(f.Count, sign)
		case ByTaps:
			c.taps(f.Taps, sign)
		case ByReading:
			c.reading(f.Reading, sign)
		case ByTimer:
			c.timed(f.Timed, sign)
		case ByGirth:
			c.girth(f.Girth)
		case ByChoice:
			c.chosen(f.Chosen, sign)
		}
	}
	c.where(f.Where, sign)
}

// member is the JSON member that holds each way of entering.
var member = map[Method]string{ByCount: "count", ByTaps: "taps", ByReading: "reading", ByTimer: "timed", ByGirth: "girth", ByChoice: "chosen"}

// ways lists how the finding's value was entered: one way, in a finding that is in order.
func (f *Finding) ways(room []Method) []Method {
	for _, w := range [...]struct {
		there bool
		way   Method
	}{
		{f.Count != nil, ByCount}, {f.Taps != nil, ByTaps}, {f.Reading != nil, ByReading},
		{f.Timed != nil, ByTimer}, {f.Girth != nil, ByGirth}, {len(f.Chosen) > 0, ByChoice},
	} {
		if w.there {
			room = append(room, w.way)
		}
	}
	return room
}

func (c *check) count(n *Count, sign *Sign) {
	oneOf(c, "/count/start", n.Start, allStarts, true)
	if n.Seconds < MinCountWindow || n.Seconds > MaxCountWindow {
		c.within("/count/seconds", n.Seconds, MinCountWindow, MaxCountWindow, "s")
		return
	}
	if n.Events < 0 {
		c.add(FaultOutOfRange, "/count/events", "low", "0", "high", strconv.Itoa(int(sign.Span.High.IntPart())*n.Seconds/60), "unit", "")
		return
	}
	// A short window may miss one event at its edge: the rate is taken as it could be at most
	// and at least.
	perEvent := 60 / float64(n.Seconds)
	c.span(place{"/count/events", -1}, float64(n.Events+1)*perEvent, float64(n.Events-1)*perEvent, sign, sign.Unit)
}

func (c *check) taps(t *Taps, sign *Sign) {
	n := len(t.AtMS)
	if n < 2 {
		c.add(FaultFewTaps, "/taps/atMs")
		return
	}
	for i, ms := range t.AtMS {
		if i == 0 && ms != 0 || i > 0 && ms <= t.AtMS[i-1] {
			c.add(FaultTapOrder, "/taps/atMs/"+strconv.Itoa(i))
			return
		}
	}
	last := t.AtMS[n-1]
	if n > MaxTaps || last > MaxTapMinutes*60_000 {
		c.add(FaultManyTaps, "/taps/atMs", "most", strconv.Itoa(MaxTaps), "minutes", strconv.Itoa(MaxTapMinutes))
		return
	}
	rate := float64(n-1) * 60_000 / float64(last)
	c.span(place{"/taps/atMs", -1}, rate, rate, sign, sign.Unit)
}

func (c *check) reading(r *Reading, sign *Sign) {
	c.line("/reading/label", r.Label, false)
	oneOf(c, "/reading/device", r.Device, allDevices, false)
	if r.Device != "" && slices.Contains(allDevices, r.Device) && !slices.Contains(devicesOf(sign.Kind), r.Device) {
		c.add(FaultWrongDevice, "/reading/device")
	}
	if !c.number("/reading/value", r.Value) || !c.unit("/reading/unit", r.Unit, sign.Unit) {
		return
	}
	x := nearest(r.Value)
	c.span(place{"/reading/value", -1}, x, x, sign, r.Unit)
}

// devicesOf lists what a sign of a kind can be read with.
func devicesOf(k Kind) []Device {
	switch k {
	case KindTemperature:
		// Infrared is let in so that it is kept and named; the measure refuses it.
		return []Device{Digital, Predictive, Glass, Infrared, Told}
	case KindWeight:
		return []Device{Scale, WeighTape, Told}
	case KindRate:
		return []Device{Monitor, Told}
	}
	return []Device{Told}
}

func (c *check) timed(t *Timed, sign *Sign) {
	switch n := len(t.CentiSeconds); {
	case n == 0:
		c.add(FaultNoTry, "/timed/centiSeconds")
	case n > MaxTries:
		c.add(FaultManyTries, "/timed/centiSeconds", "most", strconv.Itoa(MaxTries))
	}
	for i, cs := range t.CentiSeconds[:min(len(t.CentiSeconds), MaxTries)] {
		s := float64(cs) / 100
		c.span(place{"/timed/centiSeconds/", i}, s, s, sign, Second)
	}
}

// Limits of a girth and a body length in cm (assumed): a miniature foal to the largest draft horse.
var minGirth, maxGirth = decimal.New(30, 0), decimal.New(300, 0)

func (c *check) girth(g *Girth) {
	if !c.unit("/girth/unit", g.Unit, Centimetre) {
		return
	}
	low, high := inUnit(minGirth, Centimetre, g.Unit), inUnit(maxGirth, Centimetre, g.Unit)
	for _, m := range []struct {
		path  string
		value decimal.Decimal
	}{{"/girth/girth", g.Girth}, {"/girth/length", g.Length}} {
		if !c.number(m.path, m.value) {
			continue
		}
		if x := nearest(m.value); x < low || x > high {
			c.add(FaultBeyondSpan, m.path, "low", short(low), "high", short(high), "unit", symbol(g.Unit))
		}
	}
}

func (c *check) chosen(chosen []GradeID, sign *Sign) {
	if sign.Kind == KindGrade && len(chosen) > 1 {
		c.add(FaultOneGrade, "/chosen")
	}
	for i, id := range chosen {
		g, ok := sign.Grade(id)
		switch {
		case !ok:
			c.add(FaultUnknownGrade, "/chosen/"+strconv.Itoa(i), "grade", string(id))
		case slices.Contains(chosen[:i], id):
			c.add(FaultGradeTwice, "/chosen/"+strconv.Itoa(i), "grade", string(id))
		case g.Alone && len(chosen) > 1:
			c.add(FaultExclusive, "/chosen/"+strconv.Itoa(i), "grade", string(id))
		}
	}
}

func (c *check) where(where []SiteID, sign *Sign) {
	for i, id := range where {
		if !slices.Contains(sign.Where, id) || slices.Contains(where[:i], id) {
			c.add(FaultUnknownWhere, "/where/"+strconv.Itoa(i), "site", string(id))
		}
	}
}

// number refuses a number that no instrument shows, before any arithmetic with it: a huge
// exponent would fill the memory.
func (c *check) number(path string, x decimal.Decimal) bool {
	if !plausible(x) {
		c.add(FaultBadNumber, path)
		return false
	}
	return true
}

func plausible(x decimal.Decimal) bool {
	return x.Exponent() >= -6 && x.Exponent() <= 6 && x.NumDigits() <= 12
}

// unit checks that a reading's unit is one of the units of a sign.
func (c *check) unit(path string, u, of Unit) bool {
	if u == of || slices.Contains(UnitsOf(of), u) {
		return true
	}
	c.add(FaultWrongUnit, path, "unit", string(u))
	return false
}

// place is where a value stands: a path, and its item if what stands there is a list, else -1. The path of an item is put together
// only for a fault.
type place struct {
	path string
	item int
}

// span checks that a value, between atLeast and atMost in a unit, can lie within what the
// sign can be at all.
func (c *check) span(at place, atMost, atLeast float64, sign *Sign, unit Unit) {
	if sign.Span == nil {
		return
	}
	low, high := inUnit(sign.Span.Low, sign.Unit, unit), inUnit(sign.Span.High, sign.Unit, unit)
	if atMost < low || atLeast > high {
		if at.item >= 0 {
			at.path += strconv.Itoa(at.item)
		}
		c.add(FaultBeyondSpan, at.path, "low", short(low), "high", short(high), "unit", symbol(unit))
	}
}

// inUnit gives a limit of the catalogue in another unit of the same quantity.
func inUnit(limit decimal.Decimal, from, to Unit) float64 {
	if from == to {
		return nearest(limit)
	}
	x, err := Convert(limit, from, to, maxShown)
	if err != nil {
		return math.NaN() // nothing lies beyond it
	}
	return x.InexactFloat64()
}
