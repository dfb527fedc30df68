package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/baseline"
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

// line is a record with a history of n exams.
func line(id vitals.ID, n int) []byte {
	r := schema.Record{Horse: horse(id), Exam: exam(id, n, 44)}
	for i := range n {
		r.Exams = append(r.Exams, exam(id, i, 33+i%4))
	}
	text, err := schema.EncodeRecord(r)
	if err != nil {
		panic(err)
	}
	return text
}

func stream(n int) []byte {
	var all []byte
	for i := range n {
		if i%97 == 96 {
			all = append(all, "{\"horse\":\n\n"...)
			continue
		}
		all = append(all, line(vitals.ID(fmt.Sprintf("h%d", i)), i%5)...)
	}
	return all
}

func compared(t testing.TB, in []byte) []byte {
	var out bytes.Buffer
	td.Require(t).CmpNoError(Compare(bytes.NewReader(in), &out, Answer, func(int64, int64) error { return nil }))
	return out.Bytes()
}

func TestAnswersComeInOrderWithTheirFaults(t *testing.T) {
	t.Parallel()
	in := stream(300)
	lines := bytes.Split(bytes.TrimSpace(compared(t, in)), []byte("\n"))
	td.Require(t).Cmp(len(lines), 300)
	for i, l := range lines {
		if i%97 == 96 {
			td.Cmp(t, string(l), td.HasPrefix(`{"faults":[{"code":"bad-json"`))
		} else {
			td.Cmp(t, string(l), td.HasPrefix(fmt.Sprintf(`{"horse":"h%d",`, i)))
		}
	}
	td.Cmp(t, string(compared(t, in[:len(in)-1])), td.Not(""), "no newline at the end")
}

// A run that is killed after any batch, with half a batch written beyond it, goes on to the
// same bytes.
func TestKilledHalfWay(t *testing.T) {
	t.Parallel()
	in := stream(520)
	want := compared(t, in)
	killed := errors.New("killed")
	for _, after := range []int{1, 3, 7} {
		dir := t.TempDir()
		out, state := filepath.Join(dir, "out"), filepath.Join(dir, "state")
		n := 0
		err := Resume(bytes.NewReader(in), out, state, Answer, func() error {
			if n++; n == after {
				return killed
			}
			return nil
		})
		td.CmpErrorIs(t, err, killed)
		f, err := os.OpenFile(out, os.O_APPEND|os.O_WRONLY, 0)
		td.Require(t).CmpNoError(err)
		f.WriteString(`{"half a li`)
		f.Close()
		td.Require(t).CmpNoError(Resume(bytes.NewReader(in), out, state, Answer, nil))
		got, err := os.ReadFile(out)
		td.Require(t).CmpNoError(err)
		td.Cmp(t, string(got) == string(want), true, "killed after %d", after)
	}
}

// Exams in any two shards, in either order, give the bytes of one run.
func TestShardsReduceToTheSameBytes(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var shards [2][]string
		var all []string
		for _, id := range []vitals.ID{"a", "b", "c"} {
			for n := range rapid.IntRange(1, 6).Draw(t, "exams") {
				h := horse(id)
				h.Notes = rapid.SampledFrom([]string{"", "kicks", "shy"}).Draw(t, "notes")
				text, err := schema.EncodeRecord(schema.Record{Horse: h, Exam: exam(id, n, rapid.IntRange(28, 44).Draw(t, "beats"))})
				if err != nil {
					t.Fatal(err)
				}
				i := rapid.IntRange(0, 1).Draw(t, "shard")
				shards[i] = append(shards[i], string(text))
				all = append(all, string(text))
			}
		}
		reduced := func(texts ...[]string) string {
			var streams []io.Reader
			for _, s := range texts {
				streams = append(streams, strings.NewReader(strings.Join(s, "")))
			}
			var out bytes.Buffer
			herd, err := Gather(streams...)
			if err := errors.Join(err, herd.Write(&out), herd.WriteFits(&out)); err != nil {
				t.Fatal(err)
			}
			return out.String()
		}
		one := reduced(all)
		if two := reduced(shards[0], shards[1]); two != one {
			t.Fatalf("two shards give\n%s\none run\n%s", two, one)
		}
		if two := reduced(shards[1], shards[0]); two != one {
			t.Fatal("the order of the shards matters")
		}
	})
}

// A record without its history, beside the kept fit, has the answer of the record with it; a stale fit is a fault.
func TestFitsAnswerAsHistories(t *testing.T) {
	t.Parallel()
	var histories, full, bare []byte
	for i := range 40 {
		id := vitals.ID(fmt.Sprintf("h%d", i))
		r := schema.Record{Horse: horse(id), Exam: exam(id, 30, 44)}
		for n := range i {
			e := exam(id, n, 33+n%4)
			text, err := schema.EncodeRecord(schema.Record{Horse: horse(id), Exam: e})
			td.Require(t).CmpNoError(err)
			r.Exams, histories = append(r.Exams, e), append(histories, text...)
		}
		for _, out := range []*[]byte{&full, &bare} {
			text, err := schema.EncodeRecord(r)
			td.Require(t).CmpNoError(err)
			*out = append(*out, text...)
			r.Exams = nil
		}
	}
	shelf := shelved(t, histories)
	want, got := compared(t, full), bytes.Buffer{}
	for range 2 { // opened, and ready
		got.Reset()
		td.Require(t).CmpNoError(Compare(bytes.NewReader(bare), &got, shelf.Answer, func(int64, int64) error { return nil }))
		td.Cmp(t, got.String() == string(want), true)
	}
	pony := horse("h9")
	pony.Type = vitals.TypePony
	text, err := schema.EncodeRecord(schema.Record{Horse: pony, Exam: exam("h9", 30, 44)})
	td.Require(t).CmpNoError(err)
	td.Cmp(t, string(shelf.Answer(text)), td.Contains(`"stale-fit"`))
}

func shelved(t testing.TB, histories []byte) *Shelf {
	herd, err := Gather(bytes.NewReader(histories))
	var fits bytes.Buffer
	td.Require(t).CmpNoError(errors.Join(err, herd.WriteFits(&fits)))
	shelf, err := NewShelf(bytes.NewReader(fits.Bytes()))
	td.Require(t).CmpNoError(err)
	return shelf
}

// endless gives lines over and over, each so many times in a row, without holding more than one round.
type endless struct {
	lines [][]byte
	inRow int
	n     int // lines left
	given int
	rest  []byte
}

func (e *endless) Read(p []byte) (int, error) {
	if len(e.rest) == 0 {
		if e.n == 0 {
			return 0, io.EOF
		}
		e.rest = e.lines[e.given/e.inRow%len(e.lines)]
		e.n--
		e.given++
	}
	n := copy(p, e.rest)
	e.rest = e.rest[n:]
	return n, nil
}

// Memory does not grow with the stream, of more horses than a shelf holds ready. WHORL_LONG=1 runs a million exams.
func TestMemoryIsFlat(t *testing.T) {
	n, horses := 6000, 1200
	if os.Getenv("WHORL_LONG") != "" {
		n = 1_000_000
	}
	var histories []byte
	e := &endless{inRow: 10, n: n}
	for i := range horses {
		id := vitals.ID(fmt.Sprintf("h%d", i))
		for k := range 6 {
			text, err := schema.EncodeRecord(schema.Record{Horse: horse(id), Exam: exam(id, k, 33+k%4)})
			td.Require(t).CmpNoError(err)
			histories = append(histories, text...)
		}
		text, err := schema.EncodeRecord(schema.Record{Horse: horse(id), Exam: exam(id, 6, 44)})
		td.Require(t).CmpNoError(err)
		e.lines = append(e.lines, text)
	}
	shelf := shelved(t, histories)
	var early, late uint64 // most bytes alive, in the first and in the second half
	batches := 0
	begin := time.Now()
	err := Compare(e, io.Discard, shelf.Answer, func(int64, int64) error {
		if batches++; batches%(n/batch/16) == 0 {
			runtime.GC()
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			if batches < n/batch/2 {
				early = max(early, m.HeapAlloc)
			} else {
				late = max(late, m.HeapAlloc)
			}
		}
		return nil
	})
	td.Require(t).CmpNoError(err)
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	t.Logf("%d exams in %.1f s; alive at most %.1f MB in the first half, %.1f in the second; %.1f MB taken from the system; peak of the process %s",
		n, time.Since(begin).Seconds(), float64(early)/1e6, float64(late)/1e6, float64(m.Sys)/1e6, peak())
	td.Cmp(t, late, td.Lt(uint64(256<<20)))
	if os.Getenv("WHORL_LONG") != "" {
		td.Cmp(t, late, td.Lt(early+8<<20))
	}
}

// peak is the most memory that the process has had, where the system tells.
func peak() string {
	text, _ := os.ReadFile("/proc/self/status")
	for line := range strings.Lines(string(text)) {
		if size, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			return strings.TrimSpace(size)
		}
	}
	return "not known"
}

// One exam against a fit that is ready, of a horse with 12 exams, and whole lines: with the history, and beside the
// kept fit. Goal: 5,000 exams a second a core against warm baselines.
func BenchmarkCompare(b *testing.B) {
	warm := must(baseline.New(horse("h")))
	var histories []byte
	for i := range 12 {
		e := exam("h", i, 33+i%4)
		must(warm.Learn(e))
		text, err := schema.EncodeRecord(schema.Record{Horse: horse("h"), Exam: e})
		if err != nil {
			b.Fatal(err)
		}
		histories = append(histories, text...)
	}
	tonight := exam("h", 12, 44)
	rate := func(b *testing.B) { b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "exams/s") }
	b.Run("warm", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := warm.Compare(tonight); err != nil {
				b.Fatal(err)
			}
		}
		rate(b)
	})
	shelf := shelved(b, histories)
	lines := func(text []byte, answer func([]byte) []byte) func(b *testing.B) {
		return func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				answer(text)
			}
			rate(b)
		}
	}
	b.Run("line", lines(line("h", 12), Answer))
	b.Run("line-fit", lines(line("h", 0), shelf.Answer))
}
