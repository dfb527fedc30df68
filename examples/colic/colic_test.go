package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// table reads the published table, or skips.
func table(t *testing.T) []row {
	dir := os.Getenv("WHORL_DATA")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "data")
	}
	file, err := os.Open(filepath.Join(dir, "horse-colic.data"))
	if err != nil {
		t.Skip("horse-colic.data is not there: ", err)
	}
	defer file.Close()
	rows, err := readTable(file)
	td.Require(t).CmpNoError(err)
	return rows
}

// Counts by awk on the published file.
func TestTraps(t *testing.T) {
	t.Parallel()
	rows := table(t)
	td.Cmp(t, rows, td.Len(300))
	count := func(has func(row) bool) (n int) {
		for _, r := range rows {
			if has(r) {
				n++
			}
		}
		return n
	}
	td.Cmp(t, count(func(r row) bool { return r.young }), 24, "age 9 is the young one")
	td.Cmp(t, count(func(r row) bool { return r.outcome == unknown }), 1)
	td.Cmp(t, count(func(r row) bool { return r.outcome == lived }), 178)
	td.Cmp(t, count(func(r row) bool { return r.pulse == nil }), 24)
	td.Cmp(t, count(func(r row) bool { return r.temperature == nil }), 60)
	td.Cmp(t, count(func(r row) bool { return r.refill == 0 }), 34, "32 not recorded, 2 of an unknown code")
	numbers := map[string]int{}
	for _, r := range rows {
		numbers[r.hospital]++
	}
	td.Cmp(t, len(numbers), 284, "some came twice")
}

const line = "2 1 530101 38.50 66 28 3 3 ? 2 5 4 4 ? ? ? 3 5 45.00 8.40 ? ? 2 2 11300 00000 00000 2"

func with(t *testing.T, column int, value string) row {
	fields := strings.Fields(line)
	fields[column-1] = value
	rows, err := readTable(strings.NewReader(strings.Join(fields, " ") + "\n"))
	td.Require(t).CmpNoError(err)
	return rows[0]
}

func finding(e vitals.Exam, sign vitals.SignID) vitals.Finding {
	for _, f := range e.Findings {
		if f.Sign == sign {
			return f
		}
	}
	return vitals.Finding{}
}

// What the table leaves out is not checked; what it cannot mean is not made up.
func TestRowToExam(t *testing.T) {
	t.Parallel()
	e := with(t, 3, "530101").exam()
	td.Cmp(t, vitals.CheckExam(e, with(t, 3, "530101").horse()), td.Empty(), "an exam in order")
	td.Cmp(t, finding(e, vitals.GumColour).Absent, vitals.NotTried)
	td.Cmp(t, finding(e, vitals.GutSounds).Chosen, []vitals.GradeID{"none"})
	td.Cmp(t, finding(e, vitals.CapillaryRefill).Timed.CentiSeconds, []int{300})
	td.Cmp(t, finding(e, vitals.HeartRate).Reading.Value.String(), "66")
	td.Cmp(t, finding(with(t, 10, "3").exam(), vitals.CapillaryRefill).Absent, vitals.NotTried)
	td.Cmp(t, finding(with(t, 5, "?").exam(), vitals.HeartRate).Absent, vitals.NotTried)

	young := with(t, 2, "9")
	stage, known := young.horse().StageAt(night)
	td.Cmp(t, stage, vitals.Foal)
	td.CmpTrue(t, known)
	stage, _ = with(t, 2, "1").horse().StageAt(night)
	td.Cmp(t, stage, vitals.Adult)
}

// Two visits under one number are two comparisons, and neither teaches the other.
func TestRepeatedNumber(t *testing.T) {
	t.Parallel()
	rows, err := readTable(strings.NewReader(line + "\n" + line + "\n"))
	td.Require(t).CmpNoError(err)
	cases, err := compare(rows)
	td.Require(t).CmpNoError(err)
	td.Cmp(t, cases[0].Exam, td.Not(cases[1].Exam))
	td.Cmp(t, cases[0].Overall, cases[1].Overall)
	td.Cmp(t, cases[1].Lessons, td.Empty())
}

// Every line that does not fit is named.
func TestBadTable(t *testing.T) {
	t.Parallel()
	for text, wants := range map[string][]string{
		"":                         {"no row"},
		"1 2 3\n" + line + "\n4\n": {"line 1: 3 columns", "line 3: 1 columns"},
		strings.Replace(line, "66", "fast", 1) + "\n" + strings.Replace(line, " 2 1 530101", "", 1): {`line 1, column 5 (pulse): "fast"`},
		strings.Replace(line, "2 1 530101", "2 7 530101", 1):                                        {`column 2 (age): "7"`},
	} {
		_, err := readTable(strings.NewReader(text))
		if td.CmpError(t, err, text) {
			for _, want := range wants {
				td.Cmp(t, err.Error(), td.Contains(want))
			}
		}
	}
}

// Worked by hand: 5 of 6 pairs in order and one tie of a pair.
func TestROC(t *testing.T) {
	t.Parallel()
	c := roc([]float64{3, 5, 5}, []float64{1, 3})
	td.Cmp(t, c.area, 5.5/6)
	// Placements: bad .75 1 1, variance 1/48; good 1 5/6, variance 1/72.
	td.Cmp(t, c.se(), td.Between(math.Sqrt(1./144+1./144)-1e-12, math.Sqrt(1./144+1./144)+1e-12))
	td.Cmp(t, c.seOfDifference(c), 0.)
}

// The pulse alone gives the areas computed elsewhere on the same rows, and the number
// made of all that a handler sees is no worse.
func TestNumberBesidePulse(t *testing.T) {
	t.Parallel()
	cases, err := compare(table(t))
	td.Require(t).CmpNoError(err)
	bad, good := split(cases, pulse)
	p := roc(bad, good)
	td.Cmp(t, p.area, td.Between(.72, .74))
	bad, good = split(cases, far, pulse)
	f := roc(bad, good)
	td.Cmp(t, f.area, td.Gt(p.area))

	var out bytes.Buffer
	summary(&out, cases)
	td.Cmp(t, out.String(), td.Contains("pulse alone 0.7"))
	td.Cmp(t, cases[0].String(), td.All(td.Contains("heart-high"), td.Contains("died")))
}

func TestRun(t *testing.T) {
	t.Parallel()
	var out, errs bytes.Buffer
	td.Cmp(t, run(nil, &out, &errs), 2)
	td.Cmp(t, run([]string{"no-such-file"}, &out, &errs), 2)
	td.Cmp(t, out.Len(), 0)
	path := filepath.Join(t.TempDir(), "table")
	td.Require(t).CmpNoError(os.WriteFile(path, []byte(line+"\n"), 0o600))
	td.Cmp(t, run([]string{path}, &out, &errs), 0)
	td.Cmp(t, out.String(), td.HasPrefix("line   1  530101"))
}
