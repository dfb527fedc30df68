package baseline

import (
	"math"
	"slices"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/internal/fingerprint"
	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// sealed gives bytes the right beginning and end of a fit of aHorse, so that what lies between is read.
func sealed(middle []byte) []byte {
	w := &fitWriter{}
	w.raw(fitMagic)
	w.print(must(New(aHorse())).rules())
	w.out = append(w.out, middle...)
	sum := fingerprint.Hash{}
	sum.Text(string(w.out))
	w.print(sum)
	return w.out
}

// middle is what lies between.
func middle(data []byte) []byte { return data[len(fitMagic)+16 : len(data)-16] }

// longHeart is a history so long that the states of its model are kept.
func longHeart(n int) []vitals.Exam {
	var exams []vitals.Exam
	for i := range n {
		exams = append(exams, quiet(2*float64(i), heart(34+i%5)))
	}
	return exams
}

// Bytes from elsewhere do not panic, whatever they are, and what is opened is written to bytes that open, and that
// are written to themselves.
func FuzzOpenFit(f *testing.F) {
	f.Add(middle(learned(aHorse(), wholeHistory(3)...).Fit().Encode(spring.AddDate(0, 1, 0))))
	f.Add(middle(learned(aHorse(), longHeart(26)...).Fit().Encode(spring.AddDate(0, 2, 0))))
	f.Fuzz(func(t *testing.T, middle []byte) {
		data := sealed(middle)
		fit, err := OpenFit(aHorse(), data)
		if err != nil {
			return
		}
		at := (&fitReader{in: middle}).time()
		once := fit.Encode(at)
		again, err := OpenFit(aHorse(), once)
		if err != nil {
			t.Fatalf("what was opened is written and not opened again: %v", err)
		}
		if twice := again.Encode(at); !slices.Equal(once, twice) {
			t.Fatalf("%d bytes are written to %d others", len(once), len(twice))
		}
		fit.Compare(tonight(40, heart(40)))
		fit.Known(spring)
	})
}

// A model takes milliseconds to bring up to its readings and a few bytes to ask for. A fit that asks for one place
// again and again is refused at the second, and so is one whose figures are no numbers or do not fit its readings.
func TestAFitThatAsksForTooMuch(t *testing.T) {
	t.Parallel()
	at := spring.AddDate(0, 2, 0)
	b := learned(aHorse(), longHeart(26)...)
	write := func(spoil func(w *fitWriter, m model)) error {
		w := &fitWriter{}
		w.time(at)
		w.num(len(b.summaries))
		for _, n := range b.summaries {
			w.note(n)
		}
		models := b.models(at)
		td.Require(t).Cmp(len(models), 1)
		spoil(w, models[0])
		_, err := OpenFit(aHorse(), sealed(w.out))
		return err
	}
	spoilt := func(spoil func(l *level.Snapshot, m *model)) func(w *fitWriter, m model) {
		return func(w *fitWriter, m model) {
			m.state = copied(m.state)
			spoil(m.state, &m)
			w.num(1)
			w.model(m)
		}
	}
	td.Require(t).CmpNoError(write(spoilt(func(*level.Snapshot, *model) {})))
	for name, spoil := range map[string]func(w *fitWriter, m model){
		"ten thousand times the same": func(w *fitWriter, m model) {
			w.num(10_000)
			for range 10_000 {
				w.model(m)
			}
		},
		"no sign":  spoilt(func(_ *level.Snapshot, m *model) { m.sign = "ears" }),
		"no site":  spoilt(func(_ *level.Snapshot, m *model) { m.site = "jaw" }),
		"NaN":      spoilt(func(l *level.Snapshot, _ *model) { l.Points[0].State[0] = math.NaN() }),
		"infinite": spoilt(func(_ *level.Snapshot, m *model) { m.trend.PerDay = math.Inf(1) }),
		"no weight": spoilt(func(l *level.Snapshot, _ *model) {
			for i := range l.Points {
				l.Points[i].Weight = 0
			}
		}),
		"less than nothing": spoilt(func(l *level.Snapshot, _ *model) {
			w := l.Points[0].Weight
			l.Points[0].Weight, l.Points[1].Weight = -w, 3*w
		}),
		"no cell":            spoilt(func(l *level.Snapshot, _ *model) { l.Points = nil }),
		"since when":         spoilt(func(l *level.Snapshot, _ *model) { l.Since = 27 }),
		"no stride":          spoilt(func(l *level.Snapshot, _ *model) { l.Stride = 0 }),
		"too few bad days":   spoilt(func(l *level.Snapshot, _ *model) { l.BadDays = []float64{.5} }),
		"more models coming": func(w *fitWriter, m model) { w.num(1 << 30); w.model(m) },
	} {
		td.CmpErrorIs(t, write(spoil), vitals.Fault{Code: FaultBadFit}, name)
	}
}
