package baseline

import (
	"encoding/binary"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
	"whorl.example/vitals/site"
)

// A history long enough that states are kept, with bad days among the heart rates, a daily rhythm of temperature and
// three days at a new level at its end: through the bytes and back everything asked has the same answer.
func TestLongFitThroughBytes(t *testing.T) {
	t.Parallel()
	var exams []vitals.Exam
	for i := range 29 {
		rate := 34 + i%5
		if i == 7 || i == 15 {
			rate = 62
		}
		warmth := []string{"37.4", "37.5", "37.6", "37.5"}[i%4]
		if i >= 26 {
			warmth = "38.4"
		}
		exams = append(exams, quiet(2*float64(i)+float64(i%3)/4, heart(rate), degrees(warmth)))
	}
	b := learned(aHorse(), exams...)
	night := tonight(60, heart(41), degrees("38.4"))
	models := b.models(night.At)
	td.Require(t).Cmp(len(models), 2)
	td.CmpTrue(t, models[0].odd != models[1].odd, "one with bad days and one without")
	td.CmpTrue(t, models[0].question != nil || models[1].question != nil, "a question is open")
	data := b.Fit().Encode(night.At)
	opened, err := OpenFit(aHorse(), data)
	td.Require(t).CmpNoError(err)
	for i, m := range opened.b.models(night.At) {
		td.Cmp(t, m.question, models[i].question)
		td.Cmp(t, m.trend, models[i].trend)
		td.Cmp(t, m.level.BadDayProbabilities(), models[i].level.BadDayProbabilities())
		td.Cmp(t, m.level.Belief(), models[i].level.Belief())
	}
	if got, want := answers(t, opened, night), answers(t, b, night); got != want {
		t.Errorf("through bytes:\n%s\nbaseline:\n%s", got, want)
	}
	td.CmpTrue(t, slices.Equal(opened.Encode(night.At), data))
	more := quiet(58, heart(40), degrees("38.3"))
	must(opened.Learn(more))
	must(b.Learn(more))
	if got, want := answers(t, opened, night), answers(t, b, night); got != want {
		t.Errorf("one more after the bytes:\n%s\nbaseline:\n%s", got, want)
	}
}

// What the reader takes ends exactly where the bytes, the texts told and the stated ranges end.
func TestFitReaderEnds(t *testing.T) {
	t.Parallel()
	varint := func(n uint64, more int) *fitReader {
		return &fitReader{in: append(binary.AppendUvarint(nil, n), make([]byte, more)...)}
	}
	bad := func(what string, r *fitReader, want bool) {
		t.Helper()
		td.Cmp(t, r.bad, want, what)
	}
	r := &fitReader{in: []byte("abc")}
	td.Cmp(t, r.raw(3), "abc")
	bad("all the bytes", r, false)
	td.Cmp(t, r.raw(0), "")
	bad("none of none", r, false)
	r.raw(1)
	bad("one of none", r, true)
	r = &fitReader{in: []byte("abc")}
	r.raw(-1)
	bad("a negative length", r, true)

	r = varint(1<<40, 0)
	td.Cmp(t, r.int(), 1<<40)
	bad("2 to the 40th", r, false)
	r = varint(1<<40+1, 0)
	r.int()
	bad("above", r, true)
	r = &fitReader{}
	r.int()
	bad("no number", r, true)
	r = &fitReader{in: []byte{0x80, 0x80}}
	r.int()
	bad("half a number", r, true)

	r = varint(2, 17)
	td.Cmp(t, r.count(8), 2)
	bad("two of eight bytes in seventeen", r, false)
	r = varint(3, 17)
	td.Cmp(t, r.count(8), 0)
	bad("three", r, true)

	w := &fitWriter{}
	for _, s := range []string{"near", "off", "near", "off", ""} {
		w.text(s)
	}
	r = &fitReader{in: w.out}
	td.Cmp(t, []string{r.text(), r.text(), r.text(), r.text(), r.text()}, []string{"near", "off", "near", "off", ""})
	td.Cmp(t, len(r.in), 0)
	bad("texts", r, false)
	r = &fitReader{in: []byte{2}, told: []string{"near"}}
	td.Cmp(t, r.text(), "")
	bad("the second of one", r, true)

	r = &fitReader{in: []byte{1, 2, 0, 0, 0, 0, 0, 0}}
	td.Cmp(t, r.word(), uint64(513))
	bad("eight bytes", r, false)
	r = &fitReader{in: make([]byte, 7)}
	r.word()
	bad("seven", r, true)

	for _, at := range []time.Time{
		spring, spring.UTC(), time.Date(1969, 7, 20, 20, 17, 40, 123456789, time.FixedZone("", -5*3600)),
		time.Date(2030, 1, 1, 0, 0, 0, 0, time.FixedZone("", 14*3600)),
	} {
		w := &fitWriter{}
		w.time(at)
		got := (&fitReader{in: w.out}).time()
		td.CmpTrue(t, got.Equal(at))
		td.Cmp(t, got.Format(time.RFC3339Nano), at.Format(time.RFC3339Nano))
	}
	w = &fitWriter{}
	w.time(spring.UTC())
	td.CmpTrue(t, (&fitReader{in: w.out}).time().Location() == time.UTC)

	for sd, want := range map[float64]bool{0: false, .5: false, math.Inf(1): false, -.5: true, math.NaN(): true} {
		w := &fitWriter{}
		w.floats(1, sd, .5, 30, 34, 36)
		w.num(7)
		r := &fitReader{in: w.out}
		s := r.slope()
		bad("a slope's SD", r, want)
		if !want {
			td.Cmp(t, []float64{s.PerDay, s.SD, s.P, s.Days, s.From, s.To, float64(s.N)}, []float64{1, sd, .5, 30, 34, 36, 7})
		}
	}
	for x, want := range map[float64]bool{1.5: false, math.Inf(-1): true, math.NaN(): true} {
		w := &fitWriter{}
		w.floats(x)
		r := &fitReader{in: w.out}
		r.float()
		bad("a figure", r, want)
	}
}

// States are kept of more than 24 readings, and of any with bad days.
func TestWhichStatesAreKept(t *testing.T) {
	t.Parallel()
	td.CmpFalse(t, model{n: 24}.stored())
	td.CmpTrue(t, model{n: 25}.stored())
	td.CmpTrue(t, model{n: 3, odd: true}.stored())
	size := func(n int) int { return len(learned(aHorse(), longHeart(n)...).Fit().Encode(spring.AddDate(0, 2, 0))) }
	td.CmpTrue(t, size(25)-size(24) > 4*(size(24)-size(23)), "the states are what takes room")
}

// A fit holds for the horse as it was described, down to each answer about its new usual.
func TestFitOfAnotherDescription(t *testing.T) {
	t.Parallel()
	h := aHorse()
	h.Born, h.BornYearOnly = vitals.Date{Year: 2015, Month: 1, Day: 1}, false
	h.NewUsual = []vitals.NewUsual{{Sign: vitals.SkinTent, Site: site.SkinTentNeck, From: spring, Said: spring.AddDate(0, 0, 3), By: "Ana"}}
	data := learned(h, quiet(0, heart(36))).Fit().Encode(spring.AddDate(0, 1, 0))
	_, err := OpenFit(h, data)
	td.CmpNoError(t, err)
	for name, change := range map[string]func(*vitals.Horse){
		"another id":    func(h *vitals.Horse) { h.ID = "h2" },
		"its type":      func(h *vitals.Horse) { h.Type = vitals.TypePony },
		"its birth":     func(h *vitals.Horse) { h.Born.Day++ },
		"the year only": func(h *vitals.Horse) { h.BornYearOnly = true },
		"not asked":     func(h *vitals.Horse) { h.NewUsual = nil },
		"the sign":      func(h *vitals.Horse) { h.NewUsual[0].Sign, h.NewUsual[0].Site = vitals.RespiratoryRate, "" },
		"the site":      func(h *vitals.Horse) { h.NewUsual[0].Site = site.SkinTentEyelid },
		"since when":    func(h *vitals.Horse) { h.NewUsual[0].From = spring.Add(time.Nanosecond) },
		"said when":     func(h *vitals.Horse) { h.NewUsual[0].Said = spring },
		"by whom":       func(h *vitals.Horse) { h.NewUsual[0].By = "Ben" },
		"not":           func(h *vitals.Horse) { h.NewUsual[0].Not = true },
		"taken back":    func(h *vitals.Horse) { h.NewUsual[0].Back = true },
	} {
		other := h
		other.NewUsual = slices.Clone(h.NewUsual)
		change(&other)
		_, err := OpenFit(other, data)
		td.CmpErrorIs(t, err, vitals.Fault{Code: FaultStaleFit}, name)
	}
}

// Notes in their order, each once, and nothing behind the last model.
func TestFitOfNotesInDisorder(t *testing.T) {
	t.Parallel()
	b := learned(aHorse(), quiet(0, heart(36)), quiet(3, heart(35)))
	write := func(behind string, order ...int) error {
		w := &fitWriter{}
		w.time(spring)
		w.num(len(order))
		for _, i := range order {
			w.note(b.summaries[i])
		}
		w.num(0)
		w.raw(behind)
		_, err := OpenFit(aHorse(), sealed(w.out))
		return err
	}
	td.CmpNoError(t, write("", 0, 1))
	td.CmpNoError(t, write("", 1))
	td.CmpErrorIs(t, write("", 1, 0), vitals.Fault{Code: FaultBadFit})
	td.CmpErrorIs(t, write("", 0, 0), vitals.Fault{Code: FaultBadFit})
	td.CmpErrorIs(t, write("\x00", 0, 1), vitals.Fault{Code: FaultBadFit})
	_, err := OpenFit(aHorse(), []byte(fitMagic))
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultStaleFit})
	_, err = OpenFit(aHorse(), nil)
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultBadFit})
}

// Cells of a kept model: each once and on the grid, the readings since the level began no more than there are,
// the stride inside the grid.
func TestFitOfCellsBeyondTheGrid(t *testing.T) {
	t.Parallel()
	at := spring.AddDate(0, 2, 0)
	b := learned(aHorse(), longHeart(26)...)
	models := b.models(at)
	write := func(spoil func(*level.Snapshot)) error {
		m := models[0]
		m.state = copied(m.state)
		spoil(m.state)
		w := &fitWriter{}
		w.time(at)
		w.num(len(b.summaries))
		for _, n := range b.summaries {
			w.note(n)
		}
		w.num(1)
		w.model(m)
		_, err := OpenFit(aHorse(), sealed(w.out))
		return err
	}
	for name, good := range map[string]func(*level.Snapshot){
		"as it is":           func(*level.Snapshot) {},
		"all at the level":   func(l *level.Snapshot) { l.Since = 26 },
		"the least stride":   func(l *level.Snapshot) { l.Stride = 1 },
		"each day a bad one": func(l *level.Snapshot) { l.BadDays = make([]float64, 26) },
	} {
		td.CmpNoError(t, write(good), name)
	}
	for name, spoil := range map[string]func(*level.Snapshot){
		"the same cell twice":   func(l *level.Snapshot) { l.Points[1].Index = l.Points[0].Index },
		"one beyond the grid":   func(l *level.Snapshot) { l.Points[0].Index = 1 << 20 },
		"bad days but for one":  func(l *level.Snapshot) { l.BadDays = make([]float64, 25) },
		"more than it has read": func(l *level.Snapshot) { l.Since = 27 },
	} {
		td.CmpErrorIs(t, write(spoil), vitals.Fault{Code: FaultBadFit}, name)
	}
}

// copied is a snapshot with points of its own.
func copied(s *level.Snapshot) *level.Snapshot {
	c := *s
	c.Points = slices.Clone(s.Points)
	return &c
}
