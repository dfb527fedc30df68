package herd_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"iter"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/baseline"
	"whorl.example/examples/herd"
	"whorl.example/schema"
	"whorl.example/vitals"
)

func exam(horse vitals.ID, n, beats int) vitals.Exam {
	return vitals.Exam{
		ID: vitals.ID(fmt.Sprintf("%s-%d", horse, n)), Horse: horse, Depth: vitals.Full, Purpose: vitals.Learning,
		At:    time.Date(2026, 1, 1, 7, 30, 0, 0, time.UTC).AddDate(0, 0, 7*n),
		State: vitals.State{Condition: vitals.AtRest}, Wellness: vitals.Well, Status: vitals.Finished,
		Findings: []vitals.Finding{
			{Sign: vitals.HeartRate, Site: "chest-left", Count: &vitals.Count{Events: beats, Seconds: 60, Start: vitals.OnBeat}},
			{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{120 + n, 140, 130 + beats}}},
			{Sign: vitals.Attitude, Chosen: []vitals.GradeID{"bright"}},
		},
	}
}

func horse(id vitals.ID) vitals.Horse {
	return vitals.Horse{ID: id, Name: "Juniper", Type: vitals.TypeHorse}
}

func record(id vitals.ID, n, beats int) schema.Record {
	return schema.Record{Horse: horse(id), Exam: exam(id, n, beats)}
}

// sorted gives records as a stream in the order of their horses.
func sorted(records ...schema.Record) herd.Records {
	records = slices.Clone(records)
	slices.SortStableFunc(records, func(a, b schema.Record) int { return strings.Compare(string(a.Horse.ID), string(b.Horse.ID)) })
	return func(yield func(schema.Record, error) bool) {
		for _, r := range records {
			if !yield(r, nil) {
				return
			}
		}
	}
}

// written is what comes of streams, as lines.
func written(of herd.Records) (string, error) {
	var out strings.Builder
	for r, err := range of {
		if err != nil {
			return out.String(), err
		}
		text, err := schema.EncodeRecord(r)
		if err != nil {
			return out.String(), err
		}
		out.Write(text)
	}
	return out.String(), nil
}

// Exams in any three shards, in whatever order, joined in two steps or in one, give the same bytes.
func TestShardsJoinToTheSameBytes(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var shards [3][]schema.Record
		var all []schema.Record
		for _, id := range []vitals.ID{"a", "a-1", "b"} {
			for n := range rapid.IntRange(1, 6).Draw(t, "exams") {
				r := record(id, n, rapid.IntRange(28, 44).Draw(t, "beats"))
				r.Horse.Notes = rapid.SampledFrom([]string{"", "kicks", "shy"}).Draw(t, "notes")
				if rapid.Bool().Draw(t, "new usual") {
					r.Horse.NewUsual = []vitals.NewUsual{{Sign: vitals.HeartRate, From: r.Exam.At, Said: r.Exam.At}}
				}
				i := rapid.IntRange(0, 2).Draw(t, "shard")
				shards[i] = append(shards[i], r)
				all = append(all, r)
			}
		}
		gathered := func(streams ...herd.Records) string {
			text, err := written(herd.Gather(t.Context(), streams...))
			if err != nil {
				t.Fatal(err)
			}
			return text
		}
		one, a, b, c := gathered(sorted(all...)), sorted(shards[0]...), sorted(shards[1]...), sorted(shards[2]...)
		if got := gathered(c, a, b); got != one {
			t.Fatalf("three shards give\n%s\none\n%s", got, one)
		}
		two := schema.Records(strings.NewReader(gathered(b, c)))
		if got := gathered(two, a); got != one {
			t.Fatalf("two shards joined before give\n%s\none\n%s", got, one)
		}
	})
}

// Each exam of a horse has the answer that the library gives of it beside the horse's whole history, whichever horses come with it.
func TestEachExamIsComparedAsAlone(t *testing.T) {
	t.Parallel()
	var all []schema.Record
	want := map[vitals.ID]baseline.Comparison{}
	for _, id := range []vitals.ID{"c", "a", "b"} {
		var exams []vitals.Exam
		for n := range 5 {
			exams = append(exams, exam(id, n, 33+n%4))
			all = append(all, record(id, n, 33+n%4))
		}
		for _, e := range exams {
			b, err := baseline.Of(horse(id), exams)
			td.Require(t).CmpNoError(err)
			want[e.ID], err = b.Compare(e)
			td.Require(t).CmpNoError(err)
		}
	}
	var order []vitals.ID
	for r, err := range herd.Gather(t.Context(), sorted(all...)) {
		td.Require(t).CmpNoError(err)
		for c, err := range herd.Compare(r) {
			td.Require(t).CmpNoError(err)
			order = append(order, c.Exam)
			td.Cmp(t, c, want[c.Exam])
			rows := herd.Narrow(c)
			td.Require(t).Cmp(len(rows), len(c.Signs))
			for i, s := range c.Signs {
				td.Cmp(t, rows[i], herd.Told{Horse: c.Horse, Exam: c.Exam, Sign: s.Sign, Site: s.Site, Statement: s.Statement,
					Exams: s.Basis.Exams, Tail: s.Tail, Alarms: len(c.Alarms)})
			}
		}
	}
	td.Cmp(t, order, []vitals.ID{"a-0", "a-1", "a-2", "a-3", "a-4", "b-0", "b-1", "b-2", "b-3", "b-4", "c-0", "c-1", "c-2", "c-3", "c-4"})
}

// A line that is no record is passed on as its faults, and nothing of the horse around it is lost.
func TestWhatIsNoRecordIsNamed(t *testing.T) {
	t.Parallel()
	one, err := schema.EncodeRecord(record("a", 0, 34))
	td.Require(t).CmpNoError(err)
	two, err := schema.EncodeRecord(record("a", 1, 34))
	td.Require(t).CmpNoError(err)
	faults, exams := 0, 0
	for r, err := range herd.Gather(t.Context(), schema.Records(strings.NewReader(string(one)+"{\"horse\":\n\n"+string(two)))) {
		if err != nil {
			td.Cmp(t, err.Error(), td.HasPrefix("line 2: "))
			faults++
			continue
		}
		exams += len(r.Exams) + 1
	}
	td.Cmp(t, []int{faults, exams}, []int{1, 2})
}

// Streams that are not sorted, that break, or whose run is called off end with that, and never with half a horse.
func TestAnEndBeforeTheEnd(t *testing.T) {
	t.Parallel()
	a, b := record("a", 0, 34), record("b", 0, 34)
	broken := errors.New("broken")
	then := func(records []schema.Record, end error) herd.Records {
		return func(yield func(schema.Record, error) bool) {
			for _, r := range records {
				if !yield(r, nil) {
					return
				}
			}
			if end != nil {
				yield(schema.Record{}, end)
			}
		}
	}
	off, cancel := context.WithCancel(t.Context())
	cancel()
	for _, c := range []struct {
		ctx    context.Context
		stream herd.Records
		want   error
		horses int
	}{
		{t.Context(), then([]schema.Record{a, b, a}, nil), herd.ErrOrder, 1},
		{t.Context(), then([]schema.Record{a, b}, broken), broken, 1},
		{off, then([]schema.Record{a, b}, nil), context.Canceled, 0},
	} {
		text, err := written(herd.Gather(c.ctx, c.stream))
		td.CmpErrorIs(t, err, c.want)
		td.Cmp(t, strings.Count(text, "\n"), c.horses)
	}
	for r := range herd.Gather(t.Context(), sorted(a, b), sorted(a, b)) {
		td.Cmp(t, r.Horse.ID, vitals.ID("a"))
		break // who has enough stops
	}
	_, err := herd.Join()
	td.CmpError(t, err)
	_, err = herd.Join(a, b)
	td.CmpError(t, err, "two horses")
}

// A hundred times as many horses take no more memory: the most that is alive in the first tenth and after it. WHORL_LONG=1 takes a million exams.
func TestMemoryIsFlat(t *testing.T) {
	horses := 500
	if os.Getenv("WHORL_LONG") != "" {
		horses = 100_000
	}
	each := func(yield func(schema.Record, error) bool) { // one horse after the other, and its exams at once
		for n := range horses {
			id := vitals.ID(fmt.Sprintf("h%07d", n))
			for k := range 10 {
				if !yield(record(id, k, 33+k%4), nil) {
					return
				}
			}
		}
	}
	var early, late uint64
	n, exams, begin := 0, 0, time.Now()
	for r, err := range herd.Gather(t.Context(), iter.Seq2[schema.Record, error](each)) {
		td.Require(t).CmpNoError(err)
		for _, err := range herd.Compare(r) {
			td.Require(t).CmpNoError(err)
			exams++
		}
		if n++; n%(horses/50) == 0 {
			runtime.GC()
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			if n <= horses/10 {
				early = max(early, m.HeapAlloc)
			} else {
				late = max(late, m.HeapAlloc)
			}
		}
	}
	t.Logf("%d exams in %.1f s; alive at most %.2f MB in the first tenth, %.2f after it", exams, time.Since(begin).Seconds(), float64(early)/1e6, float64(late)/1e6)
	td.Cmp(t, exams, 10*horses)
	td.Cmp(t, late, td.Lt(early+2<<20))
}

// What is drawn is in order, is the same each time, and has exams that stand out.
func TestDraw(t *testing.T) {
	t.Parallel()
	draw := func() (lines []string) {
		for r := range herd.Draw(40, 10) {
			text, err := schema.EncodeRecord(r)
			td.Require(t).CmpNoError(err)
			lines = append(lines, string(text))
		}
		return lines
	}
	lines := draw()
	td.Cmp(t, len(lines), 400)
	td.Cmp(t, draw(), lines)
	// As LC_ALL=C sort does.
	slices.Sort(lines)
	told := map[baseline.Statement]int{}
	for r, err := range herd.Gather(t.Context(), schema.Records(strings.NewReader(strings.Join(lines, "")))) {
		td.Require(t).CmpNoError(err)
		td.Cmp(t, len(r.Exams), 9)
		for c, err := range herd.Compare(r) {
			td.Require(t).CmpNoError(err)
			for _, row := range herd.Narrow(c) {
				told[row.Statement]++
			}
		}
	}
	td.Cmp(t, told[baseline.AsUsual], td.Gt(3000))
	td.Cmp(t, told[baseline.Higher], td.Gt(10))
}

// One exam of three findings beside a warm baseline of 12; and from lines: the 12 exams of a horse, gathered and each compared. Goal: 5,000
// exams a second a core against warm baselines.
func BenchmarkCompare(b *testing.B) {
	warm, err := baseline.New(horse("h"))
	if err != nil {
		b.Fatal(err)
	}
	var lines bytes.Buffer
	for i := range 12 {
		r := record("h", i, 33+i%4)
		text, err := schema.EncodeRecord(r)
		_, err2 := warm.Learn(r.Exam)
		if err := errors.Join(err, err2); err != nil {
			b.Fatal(err)
		}
		lines.Write(text)
	}
	tonight := exam("h", 12, 44)
	b.Run("warm", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := warm.Compare(tonight); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "exams/s")
	})
	b.Run("lines", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for r, err := range herd.Gather(b.Context(), schema.Records(bytes.NewReader(lines.Bytes()))) {
				if err != nil {
					b.Fatal(err)
				}
				for _, err := range herd.Compare(r) {
					if err != nil {
						b.Fatal(err)
					}
				}
			}
		}
		b.ReportMetric(12*float64(b.N)/b.Elapsed().Seconds(), "exams/s")
	})
}
