package baseline

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// yard are invented horses that breathe more unevenly from day to day than is assumed, each with some quiet exams, one now and then within an hour of another.
func yard(n int, seed uint64) []*Baseline {
	rng := rand.New(rand.NewPCG(seed, 4))
	out := make([]*Baseline, n)
	for i := range out {
		h := vitals.Horse{ID: vitals.ID(fmt.Sprint("y", i)), Name: "Wren", Type: vitals.TypeHorse}
		b := must(New(h))
		mean := 11 + rng.IntN(6)
		for k := range 3 + rng.IntN(8) {
			e := quiet(7*float64(k), counted(vitals.RespiratoryRate, mean-4+rng.IntN(9), 60), heart(30+rng.IntN(8)))
			e.Horse = h.ID
			must(b.Learn(e))
		}
		out[i] = b
	}
	return out
}

func herdOf(bs []*Baseline, at time.Time) *Herd {
	h := new(Herd)
	for _, b := range bs {
		h.Merge(b.Share(at))
	}
	return h
}

// shared and whole are the two forms of a herd as text.
func shared(h *Herd) string     { return string(must(json.Marshal(h.Tables()))) }
func everything(h *Herd) string { return string(must(json.Marshal(h.AllTables()))) }

func opened(text []byte) (*Herd, error) {
	var tables []HerdTable
	if err := json.Unmarshal(text, &tables); err != nil {
		return nil, err
	}
	return HerdOf(tables)
}

var yardDay = spring.AddDate(0, 4, 0)

// The same horses give the same bytes, whatever the order, in one sum or in several, and taking one out is as if it had never been in.
func TestHerdIsASum(t *testing.T) {
	t.Parallel()
	bs := yard(9, 1)
	all := herdOf(bs, yardDay)
	other := new(Herd)
	for _, b := range append(bs[5:len(bs):len(bs)], bs[:5]...) {
		part := new(Herd)
		part.Merge(b.Share(yardDay))
		part.Merge(other)
		other = part
	}
	left, err := HerdOf(herdOf(bs[:3], yardDay).AllTables())
	td.Require(t).CmpNoError(err)
	left.Merge(herdOf(bs[3:], yardDay))
	want := shared(all)
	td.Cmp(t, shared(other), want)
	td.Cmp(t, shared(left), want)
	td.Cmp(t, everything(left), everything(all))

	read, err := HerdOf(all.Tables())
	td.Require(t).CmpNoError(err)
	td.Cmp(t, shared(read), want)

	more := all.Clone()
	share := yard(10, 3)[9].Share(yardDay)
	more.Merge(share)
	td.CmpTrue(t, more.Without(share))
	td.Cmp(t, everything(more), everything(all))
	td.CmpFalse(t, new(Herd).Without(share))
	for _, b := range bs {
		td.CmpTrue(t, more.Without(b.Share(yardDay)))
	}
	td.Cmp(t, everything(more), everything(new(Herd)))
}

// Of fewer than five horses nothing is shown, sent or used, and no name, date or exam is in what is sent.
func TestHerdOfFewTellsNothing(t *testing.T) {
	t.Parallel()
	bs := yard(5, 1)
	four, five := herdOf(bs[:4], yardDay), herdOf(bs, yardDay)
	td.Cmp(t, shared(four), "[]")
	td.Cmp(t, four.Signs(), td.Empty())
	td.Cmp(t, five.Signs(), td.Len(2))
	text := shared(five)
	for _, own := range []string{"y1", "Wren", "2026-", "e-"} {
		td.CmpFalse(t, strings.Contains(text, own), own)
	}
	day := 60.0
	of := func(h *Herd) Compared {
		c, err := must(New(aHorse(), LearnedFrom(h))).Compare(tonight(day, counted(vitals.RespiratoryRate, 20, 60)))
		td.Require(t).CmpNoError(err)
		return c.Signs[0]
	}
	none, err := must(New(aHorse())).Compare(tonight(day, counted(vitals.RespiratoryRate, 20, 60)))
	td.Require(t).CmpNoError(err)
	td.Cmp(t, of(four), none.Signs[0])
	td.CmpNot(t, of(five), none.Signs[0])
	td.Cmp(t, of(five).Basis.Prior[0], vitals.Provenance{Mark: vitals.Derived, Note: "learned from 5 horses of this yard"})
}

// Thirty horses that breathe more unevenly than is assumed widen what is usual of the next after two exams; a pony and a foal are not touched, and the horse's fit
// goes to bytes only for the same herd.
func TestLearnedFromTheYard(t *testing.T) {
	t.Parallel()
	h := herdOf(yard(30, 2), yardDay)
	width := func(horse vitals.Horse, options ...Option) float64 {
		b := must(New(horse, options...))
		for i, n := range []int{14, 13} {
			must(b.Learn(quiet(7*float64(i), counted(vitals.RespiratoryRate, n, 60))))
		}
		c, err := b.Compare(tonight(60, counted(vitals.RespiratoryRate, 14, 60)))
		td.Require(t).CmpNoError(err)
		return c.Signs[0].Own.High - c.Signs[0].Own.Low
	}
	pony, foal := aHorse(), aHorse()
	pony.Type, foal.Born = vitals.TypePony, vitals.DateOf(spring.AddDate(0, -8, 0))
	before, after := width(aHorse()), width(aHorse(), LearnedFrom(h))
	t.Logf("%.1f wide, with the herd %.1f", before, after)
	if after < 1.15*before {
		t.Errorf("%.2f wide, with the herd %.2f", before, after)
	}
	td.Cmp(t, width(pony, LearnedFrom(h)), width(pony))
	td.Cmp(t, width(foal, LearnedFrom(h)), width(foal))
	td.Cmp(t, must(New(foal)).Share(spring), new(Herd))

	b := must(New(aHorse(), LearnedFrom(h)))
	must(b.Learn(quiet(1, heart(33))))
	data := b.Fit().Encode(yardDay)
	_, err := OpenFit(aHorse(), data)
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultStaleFit})
	f, err := OpenFit(aHorse(), data, LearnedFrom(h))
	td.Require(t).CmpNoError(err)
	night := tonight(60, heart(44))
	td.Cmp(t, must(f.Compare(night)), must(b.Compare(night)))
}

// What is no herd is refused, and so are sums of other rules and sums that so many horses cannot make.
func TestHerdOfRefuses(t *testing.T) {
	t.Parallel()
	good := shared(herdOf(yard(5, 1), yardDay))
	first := good[strings.Index(good, `"sums":[`)+len(`"sums":[`):]
	number := first[:strings.Index(first, ",")]
	for name, text := range map[string]string{
		"no sums":      `[{}]`,
		"too large":    strings.Replace(good, number, "9000000000000000000", 1),
		"no integer":   strings.Replace(good, number, "1.5", 1),
		"one too few":  strings.Replace(good, number+",", "", 1),
		"no horse":     strings.Replace(good, `"horses":5`, `"horses":0`, 1),
		"another type": strings.Replace(good, `"type":"horse"`, `"type":"camel"`, 1),
		"weight":       strings.Replace(good, `"sign":"heart-rate"`, `"sign":"weight"`, 1),
		"twice":        strings.Replace(good, `"heart-rate"`, `"respiratory-rate"`, 1),
	} {
		_, err := opened([]byte(text))
		td.Cmp(t, err, td.NotNil(), name)
	}
	_, err := opened([]byte(strings.Replace(good, `"rules":"`, `"rules":"0`, 1)))
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultStaleHerd})
}

// An option that is not there changes nothing, and neither does a herd that is not there.
func TestNoOption(t *testing.T) {
	t.Parallel()
	horse := vitals.Horse{ID: "h", Name: "Wren", Type: vitals.TypeHorse, Sex: vitals.Mare}
	plain, err := New(horse)
	td.Require(t).CmpNoError(err)
	with, err := New(horse, nil, LearnedFrom(nil))
	td.Require(t).CmpNoError(err)
	at := time.Date(2026, 5, 1, 8, 0, 0, 0, time.UTC)
	td.Cmp(t, with.Known(at), plain.Known(at))
}
