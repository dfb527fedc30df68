package pack

import (
	"errors"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// A file that asks for as much as its length allows is refused, and the lines of its faults are found, within 64
// bytes of memory for each byte of it, and in one pass: a quadratic one would not come back.
func TestHostilePacksAreRefusedWithinBounds(t *testing.T) {
	text := example(t)
	const n = 4 << 20
	again := func(item string) string {
		return strings.TrimSuffix(strings.Repeat(item+",\n", n/(len(item)+2)), ",\n")
	}
	in := func(from, to string) string {
		td.Require(t).Cmp(strings.Contains(text, from), true, from)
		return strings.Replace(text, from, to, 1)
	}
	for name, tc := range map[string]struct {
		text string
		code vitals.FaultCode
	}{
		"100 MB":                  {strings.Repeat(" ", 100_000_000), schema.TooLarge},
		"deep":                    {strings.Repeat("[", n), schema.TooDeep},
		"deep in what is unknown": {in(`{`, `{"x":`+strings.Repeat("[", n)), schema.TooDeep},
		"deep again and again":    {in(`{`, `{"x":[`+again(strings.Repeat("[", 900)+strings.Repeat("]", 900))+`],`), schema.TooDeep},
		"shallow":                 {in(`{`, `{"x":[`+again("[]")+`],`), schema.UnknownMember},
		"a long name of much":     {in(`{`, `{"`+strings.Repeat("x", n/2)+`":[`+again("0")+`],`), schema.UnknownMember},
		"numbers of no telephone": {in(`"numbers": [`, `"numbers": [`+again(`{"phone":"","hours":""}`)+`,`), schema.TooMany},
		"ranges of no sign":       {in(`"ranges": [`, `"ranges": [`+again(`{"sign":"x","unit":"x","setBy":""}`)+`,`), schema.TooMany},
		"empty ranges":            {in(`"ranges": [`, `"ranges": [`+again(`{}`)+`,`), schema.MissingMember},
		"one member again":        {in(`{`, `{`+again(`"kind":"x"`)+`,`), schema.DuplicateMember},
		"half a surrogate":        {in(`{`, `{"\udc00":1,`), schema.BadText},
		"NaN":                     {in(`"format": 1`, `"format": NaN`), schema.BadJSON},
		"a number beyond all":     {in(`"format": 1`, `"format": 1e400`), schema.NumberTooBig},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		var faults vitals.Faults
		done := make(chan []int)
		go func() {
			_, err := Decode([]byte(tc.text))
			faults, _ = errors.AsType[vitals.Faults](err)
			done <- Lines([]byte(tc.text), faults)
		}()
		var lines []int
		select {
		case lines = <-done:
		case <-time.After(5 * time.Minute):
			t.Fatalf("%s: no end", name)
		}
		runtime.ReadMemStats(&after)
		size := int(after.TotalAlloc - before.TotalAlloc)
		found := false
		for i, f := range faults {
			found = found || f.Code == tc.code
			if last := 1 + strings.Count(tc.text, "\n"); lines[i] < 1 || lines[i] > last {
				t.Errorf("%s: %v on line %d of %d", name, f.Code, lines[i], last)
			}
		}
		td.Cmp(t, found, true, "%s: %d faults", name, len(faults))
		td.Cmp(t, len(faults) <= schema.MaxFaults, true)
		t.Logf("%-24s %9d bytes: %4.1f bytes a byte, %d faults", name, len(tc.text), float64(size)/float64(len(tc.text)), len(faults))
		if size > 64*len(tc.text)+1<<20 {
			t.Errorf("%s: %d bytes for %d", name, size, len(tc.text))
		}
	}
}
