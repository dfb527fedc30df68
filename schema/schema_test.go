package schema_test

import (
	"bytes"
	"errors"
	"io"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"

	"whorl.example/schema"
	"whorl.example/vitals"
)

func barn(horses, exams string) string {
	return `{"kind":"whorl-barn","format":1,"horses":[` + horses + `],"exams":[` + exams + `]}`
}

const (
	horse = `{"id":"h","name":"Juniper","type":"horse"}`
	exam  = `{"id":"e","horse":"h","at":"2026-05-03T07:30:00+02:00","depth":"full","purpose":"routine","state":{"condition":"rest"},"status":"finished"`
)

func TestLimits(t *testing.T) {
	nested := func(n int) string {
		return strings.TrimSuffix(barn("", ""), "}") + `,"x":` + strings.Repeat("[", n) + strings.Repeat("]", n) + `}`
	}
	taps := func(n int) string {
		return barn(horse, exam+`,"findings":[{"sign":"heart-rate","taps":{"atMs":[`+strings.TrimSuffix(strings.Repeat("0,", n), ",")+`]}}]}`)
	}
	text := func(n int) string {
		return barn(`{"id":"h","name":"J","type":"horse","notes":"`+strings.Repeat("é", n)+`"}`, "")
	}
	for _, tc := range []struct {
		name, doc string
		code      vitals.FaultCode
		found     bool
	}{
		// The document itself is the first level.
		{"depth at the limit", nested(schema.MaxDepth - 1), schema.TooDeep, false},
		{"depth over it", nested(schema.MaxDepth), schema.TooDeep, true},
		{"depth far over it", nested(1_000_000), schema.TooDeep, true},
		{"items at the limit", taps(schema.MaxItems), schema.TooMany, false},
		{"items over it", taps(schema.MaxItems + 1), schema.TooMany, true},
		{"characters at the limit", text(schema.MaxText), schema.TooLong, false},
		{"characters over it", text(schema.MaxText + 1), schema.TooLong, true},
		{"bytes at the limit", barn("", "") + strings.Repeat(" ", schema.MaxBytes-len(barn("", ""))), schema.TooLarge, false},
		{"bytes over it", barn("", "") + strings.Repeat(" ", schema.MaxBytes), schema.TooLarge, true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := schema.Decode([]byte(tc.doc))
			td.Cmp(t, errors.Is(err, vitals.Fault{Code: tc.code}), tc.found, "%v", err)
		})
	}
	t.Run("faults listed", func(t *testing.T) {
		_, err := schema.Decode([]byte(barn(strings.Repeat("7,", 1000)+"7", "")))
		td.Cmp(t, err, td.Len(schema.MaxFaults))
	})
}

// Faults that only follow from another one are not listed beside it.
func TestFaultsThatFollowAreNotListed(t *testing.T) {
	_, err := schema.Decode([]byte(barn(`{"id":7,"name":"A","type":"horse"},{"id":7,"name":"B","type":"horse"}`, "")))
	td.Cmp(t, listed(err), []string{"not-text /horses/0/id", "not-text /horses/1/id"})
}

// The offset makes the meaning of a time, and the zone of the machine has no part in it.
func TestTimesDoNotTakeTheMachinesZone(t *testing.T) {
	defer func(zone *time.Location) { time.Local = zone }(time.Local)
	zone, err := time.LoadLocation("Europe/Madrid")
	if err != nil {
		t.Skip("no time zone database here")
	}
	time.Local = zone
	f, err := schema.Decode([]byte(barn(horse, exam+"}")))
	td.CmpNoError(t, err)
	// Half a year later the machine's zone would be an hour off.
	_, offset := f.Exams[0].At.AddDate(0, 6, 0).Zone()
	td.Cmp(t, offset, 7200)
}

func TestDecimalsKeepTheirPlaces(t *testing.T) {
	for _, s := range []string{"0", "0.0", "38", "38.4", "38.40", "-3.50", "123456789012345", "0.00000000000001", "10"} {
		var v struct {
			D decimal.Decimal `json:"d"`
		}
		doc := []byte(`{"d":"` + s + `"}`)
		td.CmpNoError(t, schema.Unmarshal(doc, &v), s)
		text, err := schema.Marshal(v)
		td.CmpNoError(t, err)
		td.Cmp(t, string(text), string(doc))
		td.Cmp(t, v.D.Equal(decimal.RequireFromString(s)), true)
	}
}

// Values that JSON, or the format, cannot carry are refused with their place, and those
// that Go can hold in several ways are written in one.
func TestMarshal(t *testing.T) {
	type inner struct {
		X float64           `json:"x"`
		M map[string]string `json:"m,omitempty"`
	}
	type outer struct {
		List []inner             `json:"list"`
		At   time.Time           `json:"at,omitzero"`
		On   vitals.Date         `json:"on,omitzero"`
		D    *decimal.Decimal    `json:"d,omitempty"`
		N    decimal.NullDecimal `json:"n,omitzero"`
		S    string              `json:"s,omitempty"`
	}
	many, hundred := decimal.New(1, -40), decimal.New(1, 2)
	for _, tc := range []struct {
		name  string
		in    outer
		out   string
		fault string
	}{
		{name: "a nil list", out: `{"list":[]}`},
		{name: "minus zero", in: outer{List: []inner{{X: math.Copysign(0, -1)}}}, out: `{"list":[{"x":0}]}`},
		{name: "nine digits", in: outer{List: []inner{{X: math.Pi * 10}, {X: 1.0 / 3}, {X: 1e21}}}, out: `{"list":[{"x":31.4159265},{"x":0.333333333},{"x":1e+21}]}`},
		{name: "the largest", in: outer{List: []inner{{X: math.MaxFloat64}}}, out: `{"list":[{"x":1.79769313e+308}]}`},
		{name: "keys in order", in: outer{List: []inner{{M: map[string]string{"b": "2", "a": "1", "é": "3"}}}}, out: `{"list":[{"x":0,"m":{"a":"1","b":"2","é":"3"}}]}`},
		{name: "hundreds", in: outer{D: &hundred, N: decimal.NewNullDecimal(decimal.New(-50, -1))}, out: `{"list":[],"d":"100","n":"-5.0"}`},
		{name: "half milliseconds", in: outer{At: time.Date(2026, 5, 3, 7, 30, 0, 500_500_000, time.FixedZone("", -5400))}, out: `{"list":[],"at":"2026-05-03T07:30:00.5-01:30"}`},
		{name: "NaN", in: outer{List: []inner{{}, {X: math.NaN()}}}, fault: "not-finite /list/1/x"},
		{name: "infinity", in: outer{List: []inner{{X: math.Inf(-1)}}}, fault: "not-finite /list/0/x"},
		{name: "a year too late", in: outer{At: time.Date(2200, 1, 1, 0, 0, 0, 0, time.UTC)}, fault: "bad-time /at"},
		{name: "an offset of seconds", in: outer{At: time.Date(1900, 1, 1, 0, 0, 0, 0, time.FixedZone("LMT", 1172))}, fault: "bad-time /at"},
		{name: "no such day", in: outer{On: vitals.Date{Year: 2026, Month: 13, Day: 1}}, fault: "bad-date /on"},
		{name: "a year too early", in: outer{On: vitals.Date{Year: 800, Month: 1, Day: 1}}, fault: "bad-date /on"},
		{name: "too many places", in: outer{D: &many}, fault: "bad-decimal /d"},
		{name: "not UTF-8", in: outer{S: "a\xff"}, fault: "bad-text /s"},
		{name: "not UTF-8 in a key", in: outer{List: []inner{{M: map[string]string{"\xff": ""}}}}, fault: "bad-text /list/0/m"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			text, err := schema.Marshal(tc.in)
			td.Cmp(t, string(text), tc.out)
			td.Cmp(t, strings.Join(listed(err), " "), tc.fault)
		})
	}
}

// What cannot be read back is not written.
func TestEncodeRefusesWhatDecodeRefuses(t *testing.T) {
	f, err := schema.Decode([]byte(barn(horse, "")))
	td.CmpNoError(t, err)
	f.Horses = append(f.Horses, f.Horses[0])
	_, err = schema.Encode(f)
	td.Cmp(t, listed(err), []string{"duplicate-id /horses/1/id"})
	f.Horses = f.Horses[:1]
	f.Horses[0].Notes = strings.Repeat("x", schema.MaxText+1)
	_, err = schema.Encode(f)
	td.Cmp(t, listed(err), []string{"too-long /horses/0/notes"})
}

func TestRecords(t *testing.T) {
	good := `{"horse":` + horse + `,"exam":` + exam + `}}`
	other := strings.Replace(good, `"horse":"h"`, `"horse":"g"`, 1)
	stream := strings.Join([]string{good, "", "nonsense", other, `{"horse":` + horse + `}`, good}, "\r\n")
	var got []string
	for r, err := range schema.Records(strings.NewReader(stream)) {
		line := string(r.Horse.ID)
		if e, ok := errors.AsType[*schema.LineError](err); ok {
			line = strconv.Itoa(e.Line) + " " + strings.Join(listed(err), ",")
		}
		got = append(got, line)
	}
	td.Cmp(t, got, []string{"h", "3 bad-json -", "4 other-horse /exam/horse", "5 missing-member /exam", "h"})

	t.Run("a broken reader ends it", func(t *testing.T) {
		var last error
		n := 0
		for _, err := range schema.Records(io.MultiReader(strings.NewReader(good+"\n"), iotest.ErrReader(io.ErrClosedPipe))) {
			n, last = n+1, err
		}
		td.Cmp(t, n, 2)
		td.Cmp(t, errors.Is(last, io.ErrClosedPipe), true)
	})
	t.Run("a line without end is refused, and the next one read", func(t *testing.T) {
		var codes []string
		long := bytes.Repeat([]byte("["), schema.MaxBytes+100)
		for _, err := range schema.Records(io.MultiReader(bytes.NewReader(long), strings.NewReader("\n"+good))) {
			codes = append(codes, strings.Join(listed(err), ","))
		}
		td.Cmp(t, codes, []string{"too-large -", ""})
	})
	t.Run("a record is a line", func(t *testing.T) {
		r, err := schema.DecodeRecord([]byte(good))
		td.CmpNoError(t, err)
		text, err := schema.EncodeRecord(r)
		td.CmpNoError(t, err)
		td.Cmp(t, string(text), good+"\n")
	})
}

// Whatever is accepted has one canonical form, which is accepted and stays as it is (white space, the order of
// members and the spelling of numbers and times are free in what is read);
// whatever is refused is refused with faults that can be shown.
func FuzzDecode(f *testing.F) {
	for _, dir := range []string{"pass", "fail"} {
		for _, data := range files(f, dir) {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := schema.Decode(data)
		if err != nil {
			faults, ok := errors.AsType[vitals.Faults](err)
			if !ok || len(faults) == 0 || len(faults) > schema.MaxFaults {
				t.Fatalf("%T: %v", err, err)
			}
			if _, err := schema.Marshal(faults); err != nil {
				t.Fatalf("faults that cannot be written: %v", err)
			}
			return
		}
		once, err := schema.Encode(file)
		if err != nil {
			t.Fatalf("accepted and not written: %v", err)
		}
		again, err := schema.Decode(once)
		if err != nil {
			t.Fatal(err)
		}
		twice, err := schema.Encode(again)
		if err != nil || !bytes.Equal(once, twice) {
			t.Fatalf("%v\n%s\n%s", err, once, twice)
		}
	})
}

// A record is read as a barn file is, and a stream of one record is that record.
func FuzzDecodeRecord(f *testing.F) {
	text, err := os.ReadFile("../examples/assess/testdata/record.json")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte(`{"horse":` + horse + `,"exams":[` + exam + `}],"exam":` + exam + `,"findings":[{"sign":"heart-rate","taps":{"atMs":[0,1500,3100]}}]}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		record, err := schema.DecodeRecord(data)
		if err != nil {
			if len(listed(err)) == 0 {
				t.Fatalf("%T: %v", err, err)
			}
			return
		}
		once, err := schema.EncodeRecord(record)
		if err != nil {
			t.Fatalf("accepted and not written: %v", err)
		}
		n := 0
		for again, err := range schema.Records(bytes.NewReader(once)) {
			if err != nil {
				t.Fatal(err)
			}
			twice, err := schema.EncodeRecord(again)
			if err != nil || !bytes.Equal(once, twice) {
				t.Fatalf("%v\n%s\n%s", err, once, twice)
			}
			n++
		}
		if n != 1 {
			t.Fatalf("%d records", n)
		}
	})
}

// What stands in a text and is no text (a decimal, a time, a day) is written as it was read: to the byte, but for a
// time, which keeps its moment and its offset, and for a minus before nothing but zeros.
func FuzzScalars(f *testing.F) {
	for _, s := range []string{"38.40", "-0.0", "-3.50", "00", "1e5", "2026-05-03T07:30:00+02:00", "2026-05-03T07:30:00.120-00:00", "2026-05-03T24:00:00Z",
		"2026-05-03T07:30:60Z", "2026-05-03T07:30:00+02:60", "2200-01-01T00:00:00+14:00", "2024-02-29", "2023-02-29", "10000-01-01", "\u0663"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		quoted, err := schema.Marshal(text)
		if err != nil {
			return
		}
		var d struct {
			X decimal.Decimal `json:"x"`
		}
		if scalar(t, quoted, &d, &d) {
			if got, want := d.X.StringFixed(max(0, -d.X.Exponent())), text; got != want && (!d.X.IsZero() || "-"+got != want) {
				t.Errorf("%q is written %q", want, got)
			}
		}
		var day struct {
			X vitals.Date `json:"x"`
		}
		if scalar(t, quoted, &day, &day) && day.X.String() != text {
			t.Errorf("%q is written %q", text, day.X)
		}
		var at struct {
			X time.Time `json:"x"`
		}
		if scalar(t, quoted, &at, &at) {
			// The grammar of RFC 3339, 5.6; and the reader of the standard library, which is lenient, says the same moment.
			if !rfc3339.MatchString(text) {
				t.Errorf("%q is read", text)
			}
			other, err := time.Parse(time.RFC3339, text)
			_, offset := at.X.Zone()
			_, otherOffset := other.Zone()
			if err != nil || !other.Equal(at.X) || offset != otherOffset {
				t.Errorf("%q is %v, for another reader %v: %v", text, at.X, other, err)
			}
		}
	})
}

var rfc3339 = regexp.MustCompile(`^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d+)?(Z|[+-]([01]\d|2[0-3]):[0-5]\d)$`)

// scalar reads {"x":quoted} into v and writes and reads it again; false if it is refused.
func scalar(t *testing.T, quoted []byte, v, again any) bool {
	t.Helper()
	if schema.Unmarshal([]byte(`{"x":`+string(quoted)+`}`), v) != nil {
		return false
	}
	once, err := schema.Marshal(v)
	if err != nil {
		t.Fatalf("%s is read and not written: %v", quoted, err)
	}
	if err := schema.Unmarshal(once, again); err != nil {
		t.Fatalf("%s is written %s, which is refused: %v", quoted, once, err)
	}
	if twice, err := schema.Marshal(again); err != nil || !bytes.Equal(once, twice) {
		t.Fatalf("%s is written %s and then %s: %v", quoted, once, twice, err)
	}
	return true
}
