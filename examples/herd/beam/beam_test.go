package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	parquet "github.com/parquet-go/parquet-go"

	"whorl.example/examples/herd"
	"whorl.example/schema"
)

func TestMain(m *testing.M) {
	flag.Parse()
	beam.Init()
	os.Exit(m.Run())
}

// without is what the package says without Beam: comparisons whole, and rows, each as sorted lines.
func without(t *testing.T, sorted []string) (whole, rows []string) {
	t.Helper()
	line := func(v any) string {
		text, err := schema.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	for r, err := range herd.Gather(t.Context(), schema.Records(strings.NewReader(strings.Join(sorted, "")))) {
		if err != nil {
			t.Fatal(err)
		}
		for c, err := range herd.Compare(r) {
			if err != nil {
				t.Fatal(err)
			}
			whole = append(whole, line(c))
			for _, row := range herd.Narrow(c) {
				rows = append(rows, line(row))
			}
		}
	}
	slices.Sort(whole)
	slices.Sort(rows)
	return whole, rows
}

// From lines and from Parquet, on both runners that need no other machine, Beam tells what the package tells without it; and what is
// no record is named.
func TestBeamTellsTheSame(t *testing.T) {
	const horses, exams = 20, 5
	var drawn []string
	for r := range herd.Draw(horses, exams) {
		text, err := schema.EncodeRecord(r)
		if err != nil {
			t.Fatal(err)
		}
		drawn = append(drawn, string(text))
	}
	dir := t.TempDir()
	inputs := map[string]int{"exams.jsonl": 2, "exams.parquet": 0}
	var pack bytes.Buffer
	if err := packed(strings.NewReader(strings.Join(drawn, "")), &pack); err != nil {
		t.Fatal(err)
	}
	damaged := strings.Join(drawn, "") + "{\"horse\":\n" + strings.Replace(drawn[0], `"findings":[`, `"findings":[7,`, 1)
	for name, data := range map[string][]byte{"exams.jsonl": []byte(damaged), "exams.parquet": pack.Bytes()} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	slices.Sort(drawn)
	whole, rows := without(t, drawn)
	if len(whole) != horses*exams {
		t.Fatalf("%d comparisons", len(whole))
	}
	for _, runner := range []string{"direct", "prism"} {
		for input, refused := range inputs {
			t.Run(runner+" "+input, func(t *testing.T) {
				out := t.TempDir()
				p, s := beam.NewPipelineWithRoot()
				job{filepath.Join(dir, input), out, 3, true}.build(s)
				if _, err := beam.Run(t.Context(), runner, p); err != nil {
					t.Fatal(err)
				}
				if got := lines(t, filepath.Join(out, "comparisons.jsonl")); !slices.Equal(got, whole) {
					t.Errorf("%d comparisons are others than the %d without Beam", len(got), len(whole))
				}
				if got := lines(t, filepath.Join(out, "refused.txt")); len(got) != refused {
					t.Errorf("refused: %q", got)
				}
				if got := rowsIn(t, out); !slices.Equal(got, rows) {
					t.Errorf("%d rows are others than the %d without Beam", len(got), len(rows))
				}
			})
		}
	}
}

// lines are those of a file, sorted; of a file that is not there, none.
func lines(t *testing.T, name string) []string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	all := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	if len(text) == 0 {
		return nil
	}
	slices.Sort(all)
	return all
}

// rowsIn are the rows of all files of a folder, sorted. Another library than the one that wrote them finds as many rows, and the columns by their names.
func rowsIn(t *testing.T, dir string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.parquet"))
	if err != nil || len(files) != 3 {
		t.Fatal(files, err)
	}
	var all bytes.Buffer
	counted := 0
	for _, name := range files {
		if err := printed(&all, name); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		other, err := parquet.OpenFile(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			t.Fatal(err)
		}
		counted += int(other.NumRows())
		var columns []string
		for _, c := range other.Schema().Columns() {
			columns = append(columns, strings.ToLower(c[0]))
		}
		if got := fmt.Sprint(columns); got != "[horse exam sign site statement exams tail alarms]" {
			t.Errorf("columns %s", got)
		}
	}
	rows := strings.Split(strings.TrimSuffix(all.String(), "\n"), "\n")
	if len(rows) != counted {
		t.Errorf("%d rows, by another reader %d", len(rows), counted)
	}
	slices.Sort(rows)
	return rows
}
