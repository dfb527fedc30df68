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
	td.Require(t).CmpNoError(Compare(bytes.NewReader(in), &out, func(int64, int64) error { return nil }))
	return out.Bytes()
}

func TestAnswersComeInOrderWithTheirFaults(t *testing.T) {
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
	in := stream(520)
	want := compared(t, in)
	killed := errors.New("killed")
	for _, after := range []int{1, 3, 7} {
		dir := t.TempDir()
		out, state := filepath.Join(dir, "out"), filepath.Join(dir, "state")
		n := 0
		err := Resume(bytes.NewReader(in), out, state, func() error {
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
		td.Require(t).CmpNoError(Resume(bytes.NewReader(in), out, state, nil))
		got, err := os.ReadFile(out)
		td.Require(t).CmpNoError(err)
		td.Cmp(t, string(got) == string(want), true, "killed after %d", after)
	}
}

// Exams in any two shards, in either order, give the bytes of one run.
func TestShardsReduceToTheSameBytes(t *testing.T) {
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
			if err := Reduce(&out, streams...); err != nil {
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

// endless gives the same line n times without holding them.
type endless struct {
	line []byte
	n    int
	rest []byte
}

func (e *endless) Read(p []byte) (int, error) {
	if len(e.rest) == 0 {
		if e.n == 0 {
			return 0, io.EOF
		}
		e.n--
		e.rest = e.line
	}
	n := copy(p, e.rest)
	e.rest = e.rest[n:]
	return n, nil
}

// Memory does not grow with the stream. WHORL_LONG=1 runs a million exams.
func TestMemoryIsFlat(t *testing.T) {
	n := 1500
	if os.Getenv("WHORL_LONG") != "" {
		n = 1_000_000
	}
	var most uint64
	batches := 0
	begin := time.Now()
	err := Compare(&endless{line: line("h", 0), n: n}, io.Discard, func(int64, int64) error {
		if batches++; batches%(n/batch/8) == 0 {
			runtime.GC()
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapAlloc)
		}
		return nil
	})
	td.Require(t).CmpNoError(err)
	t.Logf("%d exams in %.1f s, at most %.1f MB alive", n, time.Since(begin).Seconds(), float64(most)/1e6)
	td.Cmp(t, most, td.Lt(uint64(32<<20)))
}

// One exam against a baseline that is already there, and a whole line.
func BenchmarkCompare(b *testing.B) {
	warm := baseline.New(horse("h"))
	for i := range 12 {
		warm.Learn(exam("h", i, 33+i%4))
	}
	tonight := exam("h", 12, 44)
	b.Run("warm", func(b *testing.B) {
		for b.Loop() {
			if _, err := warm.Compare(tonight); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "exams/s")
	})
	text := line("h", 12)
	b.Run("line", func(b *testing.B) {
		b.SetBytes(int64(len(text)))
		for b.Loop() {
			Answer(text)
		}
		b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "exams/s")
	})
}
