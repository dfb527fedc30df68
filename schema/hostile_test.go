package schema_test

import (
	"errors"
	"io"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// hostileBytes is how long the documents are that ask for as much as they can: 4 MB, or all that is read at all
// with WHORL_LONG=1. The bounds are by the byte.
func hostileBytes() int {
	if os.Getenv("WHORL_LONG") == "1" {
		return schema.MaxBytes
	}
	return 4 << 20
}

// again is a list of an item as long as a document may be.
func again(item string) string {
	return strings.TrimSuffix(strings.Repeat(item+",", max(1, (hostileBytes()-1000)/(len(item)+1))), ",")
}

// each is many of what holds n items of its own.
func each(open, item string, n int, end string) string {
	return again(open + strings.TrimSuffix(strings.Repeat(item+",", n), ",") + end)
}

// worked gives what a call allocated: bytes in all, and how often. A call that does not come back is told as what it is.
func worked(t *testing.T, what string, call func()) (size, times uint64) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	done := make(chan struct{})
	go func() { defer close(done); call() }()
	select {
	case <-done:
	case <-time.After(5 * time.Minute):
		t.Fatalf("%s: no end", what)
	}
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc, after.Mallocs - before.Mallocs
}

// A document that asks for as much as its length allows is refused, with at most MaxFaults faults, 64 bytes of memory
// in all and one allocation for each byte of it.
func TestHostileFilesAreRefusedWithinBounds(t *testing.T) {
	const head, horses = `{"kind":"whorl-barn","format":1,"horses":[],"exams":[`, `{"kind":"whorl-barn","format":1,"exams":[],"horses":[`
	open := strings.Replace(exam, "2026", "10000", 1) + `,"findings":[`
	n := hostileBytes()
	for name, tc := range map[string]struct {
		doc  string
		code vitals.FaultCode // one of those told
	}{
		"empty exams":              {head + again(`{}`) + `]}`, schema.MissingMember},
		"numbers for exams":        {head + again(`0`) + `]}`, schema.NotObject},
		"lists for exams":          {head + again(`[]`) + `]}`, schema.NotObject},
		"exams of the year 10000":  {head + again(open+`]}`) + `]}`, schema.BadTime},
		"empty findings":           {head + each(open, `{}`, 50_000, `]}`) + `]}`, schema.MissingMember},
		"findings of no sign":      {head + each(open, `{"sign":"x"}`, 50_000, `]}`) + `]}`, schema.UnknownHorse},
		"few findings in each":     {head + each(exam+`,"findings":[`, `{"sign":"x"}`, 20, `]}`) + `]}`, schema.UnknownHorse},
		"answers of no sign":       {head + each(exam+`,"findings":[{"sign":"gum-colour","chosen":[`, `"a"`, 50_000, `]}]}`) + `]}`, vitals.FaultUnknownGrade},
		"taps":                     {head + each(exam+`,"findings":[{"sign":"heart-rate","taps":{"atMs":[`, `0`, 50_000, `]}}]}`) + `]}`, vitals.FaultTapOrder},
		"too many taps":            {head + exam + `,"findings":[{"sign":"heart-rate","taps":{"atMs":[` + again("1") + `]}}]}]}`, schema.TooMany},
		"horses under one id":      {horses + each(`{"id":"h","name":"J","type":"horse","contacts":[`, `{"name":"x"}`, 50_000, `]}`) + `]}`, ""},
		"contacts of nobody":       {horses + each(`{"id":"h","name":"J","type":"horse","contacts":[`, `{"name":""}`, 50_000, `]}`) + `]}`, vitals.FaultNoContact},
		"answers to one question":  {horses + `{"id":"h","name":"J","type":"horse","newUsual":[` + again(`{"sign":"heart-rate","from":"2026-05-03T07:30:00Z","said":"2026-05-03T07:30:00Z"}`) + `]}]}`, schema.TooMany},
		"conflicts of nothing":     {head + `],"conflicts":[` + again(`{}`) + `]}`, schema.TooMany},
		"versions of one horse":    {strings.Replace(head, "[]", "["+horse+"]", 1) + `],"conflicts":[` + again(`{"horse":`+horse+`}`) + `]}`, schema.TooMany},
		"one member again":         {head + `],` + again(`"format":1`) + `}`, schema.DuplicateMember},
		"unknown members":          {head + `],` + again(`"a":1`) + `}`, schema.UnknownMember},
		"a name of tildes":         {head + `],"` + strings.Repeat("~", n/2) + `":[` + strings.Repeat("0,", n/6) + `0]}`, schema.UnknownMember},
		"half a surrogate":         {head + again(`"\ud800"`) + `]}`, schema.NotObject},
		"names of half surrogates": {head + `],` + again(`"\udc00":1`) + `}`, schema.BadText},
		"NaN":                      {head + again(`NaN`) + `]}`, schema.BadJSON},
		"numbers beyond all":       {strings.Replace(head, `"format":1`, `"format":1e400`, 1) + `]}`, schema.NumberTooBig},
		"a number of digits":       {strings.Replace(head, `"format":1`, `"format":`+strings.Repeat("9", n/2), 1) + `]}`, schema.NumberTooBig},
		"a text without end":       {head + `],"kind":"` + strings.Repeat("a", n/2), schema.BadJSON},
		"deep":                     {strings.Repeat("[", n/2), schema.TooDeep},
		"deep in what is unknown":  {head + `],"x":` + strings.Repeat(`{"a":`, n/6), schema.TooDeep},
		"nothing but brackets":     {head + `]}` + strings.Repeat("{", n/2), schema.TrailingText},
		"100 MB":                   {strings.Repeat(" ", 100_000_000), schema.TooLarge},
	} {
		var err error
		size, times := worked(t, name, func() { _, err = schema.Decode([]byte(tc.doc)) })
		size -= min(size, uint64(len(tc.doc))) // the copy made here
		codes := map[vitals.FaultCode]bool{}
		faults, _ := errors.AsType[vitals.Faults](err)
		for _, f := range faults {
			codes[f.Code] = true
		}
		td.Cmp(t, len(faults), td.Between(1, schema.MaxFaults), name)
		if tc.code != "" && !codes[tc.code] {
			t.Errorf("%s: %v", name, codes)
		}
		bytes := uint64(len(tc.doc))
		t.Logf("%-26s %5.1f MB: %6.1f bytes and %.2f allocations a byte, %d faults", name, float64(bytes)/1e6, float64(size)/float64(bytes), float64(times)/float64(bytes), len(faults))
		if size > 64*bytes+1<<20 || times > bytes+10_000 {
			t.Errorf("%s: %d bytes in %d allocations for %d", name, size, times, bytes)
		}
	}
}

// A newer file is told as that, however much it has that this version does not know.
func TestANewerFileIsToldBehindManyFaults(t *testing.T) {
	doc := `{"kind":"whorl-barn","exams":[` + again(`{"x":1}`) + `],"horses":[],"format":2}`
	_, err := schema.Decode([]byte(doc))
	td.Cmp(t, listed(err), []string{"newer-format /format"})
}

// Files that are in order and were made to be merged slowly, each version with each, are merged within bounds: a
// hundred versions of one exam that differ in their last finding only, and drafts, of which each may be earlier.
func TestHostileVersionsAreMergedWithinBounds(t *testing.T) {
	minute := func(i int) string { // as many findings as the minutes of a day
		return strings.Replace(`{"sign":"heart-rate","minutes":N,"count":{"events":9,"seconds":15,"start":"on-beat"}}`, "N", strconv.Itoa(i), 1)
	}
	var findings []string
	for i := range 100 {
		findings = append(findings, minute(i))
	}
	draft := strings.Replace(exam, "finished", "draft", 1) + `,"findings":[` + strings.Join(findings, ",") + ","
	var a, b []string
	for i := range schema.MaxVersions {
		a = append(a, `{"exam":`+draft+minute(200+i)+`]}}`)
		b = append(b, `{"exam":`+draft+minute(400+i)+`]}}`)
	}
	file := func(conflicts []string) (schema.File, int) {
		doc := strings.TrimSuffix(barn(horse, draft+minute(1000)+`]}`), "}") + `,"conflicts":[` + strings.Join(conflicts, ",") + `]}`
		f, err := schema.Decode([]byte(doc))
		td.Require(t).CmpNoError(err)
		return f, len(doc)
	}
	x, n := file(a)
	y, m := file(b)
	var merged schema.File
	var err error
	size, _ := worked(t, "merge", func() { merged, _, err = schema.Merge(x, y) })
	td.CmpNoError(t, err)
	td.Cmp(t, len(merged.Conflicts), 2*schema.MaxVersions)
	t.Logf("two files of %d and %d bytes: %d MB", n, m, size>>20)
	// 201 versions, each held against each: twenty thousand times the findings of one.
	td.Cmp(t, size < 2<<30, true)
	_, err = schema.Encode(merged)
	td.Cmp(t, listed(err), []string{"too-many /conflicts/100"})
}

// A stream whose line does not end is passed over without being kept.
func TestALineOf100MB(t *testing.T) {
	var codes []string
	size, _ := worked(t, "stream", func() {
		for _, err := range schema.Records(io.LimitReader(endless{}, 100_000_000)) {
			codes = append(codes, listed(err)...)
		}
	})
	td.Cmp(t, codes, []string{"too-large -"})
	td.Cmp(t, size < 8*schema.MaxBytes, true, "%d bytes", size)
}

type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '['
	}
	return len(p), nil
}
