package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
)

// ran is what the command writes.
func ran(t *testing.T, in string, args ...string) (string, error) {
	t.Helper()
	var out bytes.Buffer
	err := run(t.Context(), args, strings.NewReader(in), &out)
	return out.String(), err
}

// What is drawn, sorted, gathered in two files and compared from both is what is compared from one stream; a line that is no
// record changes none of the others, and the end says that there was one.
func TestHerd(t *testing.T) {
	t.Parallel()
	drawn, err := ran(t, "", "draw", "6", "4")
	td.Require(t).CmpNoError(err)
	lines := slices.Sorted(strings.Lines(drawn))
	want, err := ran(t, strings.Join(lines, ""), "compare")
	td.Require(t).CmpNoError(err)
	td.Cmp(t, strings.Count(want, "\n"), 24)
	var names []string
	for i, part := range [][]string{lines[:11], lines[11:]} {
		gathered, err := ran(t, strings.Join(part, ""), "gather")
		td.Require(t).CmpNoError(err)
		name := filepath.Join(t.TempDir(), string(rune('a'+i)))
		td.Require(t).CmpNoError(os.WriteFile(name, []byte(gathered), 0o600))
		names = append(names, name)
	}
	got, err := ran(t, "", append([]string{"compare"}, names...)...)
	td.CmpNoError(t, err)
	td.Cmp(t, got == want, true)

	got, err = ran(t, strings.Join(slices.Insert(slices.Clone(lines), 5, "{\"horse\":\n"), ""), "compare")
	td.Require(t).CmpError(err)
	td.Cmp(t, err.Error(), "1 refused")
	td.Cmp(t, got == want, true)

	narrow, err := ran(t, strings.Join(lines, ""), "compare", "-narrow")
	td.CmpNoError(t, err)
	td.Cmp(t, strings.Count(narrow, "\n"), 240)
	td.Cmp(t, narrow, td.HasPrefix(`{"horse":"h0000000","exam":"h0000000-0","sign":"heart-rate","site":"chest-left","statement":"`))

	for _, args := range [][]string{nil, {"frobnicate"}, {"draw"}, {"draw", "a", "1"}, {"gather", "/no/such/file"}} {
		_, err := ran(t, "", args...)
		td.CmpError(t, err, "%q", args)
	}
}
