package link

import (
	"bytes"
	"errors"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline/report"
	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// allocated gives the bytes that a call allocates in all.
func allocated(call func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	call()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// A link that is long, or opens to much, is refused within 20 MB, whatever it asks for.
func TestHostileLinksAreRefusedWithinBounds(t *testing.T) {
	exam, c := compared(t, 3)
	record, err := schema.Marshal(New(bramble, exam, &c))
	td.Require(t).CmpNoError(err)
	within := func(from, to string) []byte { return bytes.Replace(record, []byte(from), []byte(to), 1) }
	inside := func(n int) string { return strings.Repeat("[", n) + strings.Repeat("]", n) }
	for name, tc := range map[string]struct {
		text string
		want error
	}{
		"100 MB of base64":         {prefixLink + strings.Repeat("A", 100_000_000), ErrLarge},
		"100 MB of base 43":        {prefixCode + strings.Repeat("0", 100_000_000), ErrLarge},
		"100 MB of nothing":        {strings.Repeat("w", 100_000_000), ErrLarge},
		"a thousand to one":        {Fragment(bytes.Repeat([]byte{' '}, 100_000_000)), ErrLarge},
		"just too much":            {Fragment(append(bytes.Clone(record), bytes.Repeat([]byte{' '}, MaxRecord+1-len(record))...)), ErrLarge},
		"deep":                     {Fragment([]byte(inside(MaxRecord / 2))), vitals.Fault{Code: schema.TooDeep}},
		"deep in what is unknown":  {Fragment(within(`{`, `{"x":`+inside(100_000)+`,`)), vitals.Fault{Code: schema.TooDeep}},
		"empty findings":           {Fragment(within(`"findings":[`, `"findings":[`+strings.Repeat(`{},`, 80_000))), vitals.Fault{Code: schema.MissingMember}},
		"findings of no sign":      {Fragment(within(`"findings":[`, `"findings":[`+strings.Repeat(`{"sign":"x"},`, 18_000))), vitals.Fault{Code: vitals.FaultUnknownSign}},
		"one member again":         {Fragment(within(`{`, `{`+strings.Repeat(`"exam":{},`, 20_000))), vitals.Fault{Code: schema.DuplicateMember}},
		"half a surrogate":         {Fragment(within(`"Bramble"`, `"\ud800"`)), vitals.Fault{Code: schema.BadText}},
		"a NUL":                    {Fragment(within(`"Bramble"`, `"\u0000"`)), vitals.Fault{Code: schema.BadText}},
		"NaN":                      {Fragment(within(`"overall":[`, `"overall":[NaN,`)), vitals.Fault{Code: schema.BadJSON}},
		"a number beyond all":      {Fragment(within(`"overall":[`, `"overall":[1e400,`)), vitals.Fault{Code: schema.NumberTooBig}},
		"the year 10000":           {Fragment(within(`"at":"2026`, `"at":"10000`)), vitals.Fault{Code: schema.BadTime}},
		"a number for the lessons": {Fragment(within(`"taught":`, `"taught":900000000000000`)), vitals.Fault{Code: FaultNotOfExam}},
	} {
		var err error
		size := allocated(func() { _, err = Read(tc.text) })
		if !errors.Is(err, tc.want) {
			t.Errorf("%s: %.300v", name, err)
		}
		t.Logf("%-26s %9d characters: %5d kB", name, len(tc.text), size>>10)
		if size > 20<<20 {
			t.Errorf("%s: %d bytes", name, size)
		}
	}
}

// What a link says of the lessons is a number, and the receiver makes a list of it: together no more than maxLessons
// for each of the two.
func TestLessonsOfALinkAreBounded(t *testing.T) {
	t.Parallel()
	exam, c := compared(t, 3)
	s := New(bramble, exam, &c)
	s.Rests.Taught, s.Rests.Not = maxLessons, nil
	for range 50 {
		s.Rests.Not = append(s.Rests.Not, []string{"unwell", strconv.Itoa(maxLessons / 50)})
	}
	fragment, err := s.Fragment()
	td.Require(t).CmpNoError(err)
	read, err := Read(fragment)
	td.Require(t).CmpNoError(err)
	got, err := read.Comparison()
	td.CmpNoError(t, err)
	td.Cmp(t, len(got.Lessons), 2*maxLessons)
	s.Rests.Not = append(s.Rests.Not, []string{"unwell", "1"})
	_, err = s.Fragment()
	td.CmpErrorIs(t, err, vitals.Fault{Code: FaultNotOfExam, Path: "/rests/not/50"})
}

// The longest record of a link, with as many findings as it can hold, is told within bounds.
func TestTheLongestLinkIsTold(t *testing.T) {
	exam, _ := compared(t, 0)
	exam.Findings = nil
	for i := range 1400 {
		exam.Findings = append(exam.Findings, vitals.Finding{Sign: vitals.HeartRate, Minutes: i,
			Count: &vitals.Count{Events: 9, Seconds: 15, Start: vitals.Anywhere}, Note: strings.Repeat("=", 20)})
	}
	fragment, err := New(bramble, exam, nil).Fragment()
	td.Require(t).CmpNoError(err)
	size := allocated(func() {
		s, err := Read(fragment)
		td.Require(t).CmpNoError(err)
		c, err := s.Comparison()
		td.Require(t).CmpNoError(err)
		report.Call(report.Input{Horse: s.Horse, Exam: s.Exam, Comparison: c}, words.English).Text()
	})
	t.Logf("%d characters: %d MB", len(fragment), size>>20)
	td.CmpTrue(t, size < 1<<30)
}

// What could not be opened again is not sent.
func TestTooMuchForALinkIsNotSent(t *testing.T) {
	t.Parallel()
	exam, c := compared(t, 0)
	for i := range exam.Findings {
		exam.Findings[i].Note = strings.Repeat("馬", 2000)
	}
	s := New(bramble, exam, &c)
	for len(s.Exam.Findings) < 60 {
		f := s.Exam.Findings[0]
		f.Minutes = len(s.Exam.Findings)
		s.Exam.Findings = append(s.Exam.Findings, f)
	}
	s.Rests = nil
	_, err := s.Fragment()
	td.CmpErrorIs(t, err, ErrLarge)
	_, err = s.Code()
	td.CmpErrorIs(t, err, ErrLarge)
}
