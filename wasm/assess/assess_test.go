package assess

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals"
)

func ran(in string, args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = Run(args, strings.NewReader(in), &o, &e)
	return code, o.String(), e.String()
}

func record(t *testing.T) string {
	text, err := os.ReadFile("../../examples/assess/testdata/record.json")
	td.Require(t).CmpNoError(err)
	return string(text)
}

func TestRecordFromFileAndInput(t *testing.T) {
	code, out, errs := ran("", "../../examples/assess/testdata/record.json")
	td.Cmp(t, code, 0)
	td.Cmp(t, errs, "")
	td.Cmp(t, out, td.All(td.HasPrefix(`{"horse":"juniper","exam":"tonight"`), td.HasSuffix("}\n")))
	for _, want := range []string{`"statement":"higher"`, `"reason":"lesson.unwell"`, `"reason":"could-not"`, `"far":`} {
		td.Cmp(t, out, td.Contains(want))
	}
	_, piped, _ := ran(record(t))
	td.Cmp(t, piped, out, "a file and standard input give the same bytes")
}

func TestReport(t *testing.T) {
	code, out, errs := ran("", "-report", "../../examples/assess/testdata/record.json")
	td.Cmp(t, code, 0)
	td.Cmp(t, errs, "")
	td.Cmp(t, out, td.Contains("Juniper"))
	td.Cmp(t, out, td.Not(td.HasPrefix("{")))
}

// One record a line, for many horses, each answered on its own line.
func TestStream(t *testing.T) {
	r, err := schema.DecodeRecord([]byte(record(t)))
	td.Require(t).CmpNoError(err)
	var stream bytes.Buffer
	for _, id := range []string{"a", "b", "c"} {
		r.Horse.ID, r.Exam.Horse, r.Exams = vitals.ID(id), vitals.ID(id), nil
		line, err := schema.EncodeRecord(r)
		td.Require(t).CmpNoError(err)
		stream.Write(line)
		stream.WriteString("\n") // empty lines are passed over
	}
	code, out, errs := ran(stream.String())
	td.Cmp(t, code, 0)
	td.Cmp(t, errs, "")
	td.Cmp(t, strings.Count(out, "\n"), 3)
}

// Whatever is wrong, all of it is said, nothing is answered, and the exit code is 2.
func TestMalformed(t *testing.T) {
	good := record(t)
	whole, _ := schema.DecodeRecord([]byte(good))
	line, _ := schema.EncodeRecord(whole)
	for name, c := range map[string]struct {
		in    string
		args  []string
		wants []string
	}{
		"nothing":         {"", nil, []string{"[bad-json]"}},
		"not JSON":        {"hello", nil, []string{"[bad-json]"}},
		"broken off":      {good[:len(good)/2], nil, []string{"[bad-json]"}},
		"unknown member":  {strings.Replace(good, `"name"`, `"nome"`, 1), nil, []string{"/horse/nome", "/horse/name"}},
		"twice":           {strings.Replace(good, `"name": "Juniper"`, `"name": "Juniper", "name": "June"`, 1), nil, []string{"[duplicate-member]"}},
		"two faults":      {strings.Replace(strings.Replace(good, `"born": "2015-04-12"`, `"born": "2015-02-30"`, 1), `"37.4"`, `37.4`, 1), nil, []string{"/horse/born", "/exams/0/findings/7/reading/value"}},
		"another horse":   {strings.Replace(good, `"horse": "juniper"`, `"horse": "clover"`, 1), nil, []string{"/exams/0/horse"}},
		"unknown sign":    {strings.Replace(good, `"sign": "heart-rate"`, `"sign": "aura"`, 1), nil, []string{"aura"}},
		"second line":     {string(line) + strings.Replace(string(line), "juniper", "clover", 1) + string(line), nil, []string{"line 2: "}},
		"unknown lang":    {good, []string{"-lang", "xx"}, []string{`"xx"`}},
		"no such file":    {good, []string{"no-such-file"}, []string{"no-such-file"}},
		"too many files":  {good, []string{"a", "b"}, []string{"one file"}},
		"unknown flag":    {good, []string{"-frobnicate"}, []string{"frobnicate"}},
		"trailing record": {good + "\nxyz", nil, []string{"[trailing-text]"}},
	} {
		t.Run(name, func(t *testing.T) {
			code, out, errs := ran(c.in, c.args...)
			td.Cmp(t, code, 2)
			td.Cmp(t, out, "")
			for _, want := range c.wants {
				td.Cmp(t, errs, td.Contains(want))
			}
		})
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room") }

func TestAnswerThatCannotBeWritten(t *testing.T) {
	var errs bytes.Buffer
	td.Cmp(t, Run([]string{"../../examples/assess/testdata/record.json"}, nil, full{}, &errs), 1)
	td.Cmp(t, errs.String(), td.Contains("no room"))
}
