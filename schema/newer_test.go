package schema

import (
	"os"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

// ninth is a file of format 1.9, which does not exist: a sign, an answer, a way to enter a sign, members, a purpose, a type of animal and
// a list that this version does not know.
func ninth(t *testing.T) string {
	text, err := os.ReadFile("testdata/newer/barn-1.9.json")
	td.Require(t).CmpNoError(err)
	return string(text)
}

// pieces are what this version does not understand of it, to the byte, and by how many of what.
var pieces = []string{
	`{"sign":"hoof-angle","site":"fore-left","angle":{"degrees":"52.50"}}`,
	`{"sign":"heart-rate","site":"chest-left","minutes":20,"sound":{"seconds":30,"beats":[0,1712,3420]}}`,
	`{"sign":"gum-colour","chosen":["marbled"]}`,
	`"steady":true`,
	`"footing":"sand"`,
	`"microchip":"985000000000000"`,
	`"yard":{"name":"Lower barn","boxes":12}`,
	`{"id":"e3","horse":"juniper","at":"2026-04-03T07:30:00+02:00","depth":"laboratory","purpose":"routine","state":{"condition":"rest"},"status":"finished","samples":["blood"]}`,
	`{"id":"zebedee","name":"Zebedee","type":"zebra"}`,
	`"reminders":[{"every":7,"what":"weigh"}]`,
}

func TestANewerMinorFormatIsRead(t *testing.T) {
	text := ninth(t)
	f, err := Decode([]byte(text))
	td.Require(t).CmpNoError(err)
	td.Cmp(t, f.Minor, 9)
	td.Cmp(t, f.Horses, td.Len(2), "the zebra is kept aside")
	td.Cmp(t, f.Exams, td.Len(2))
	td.Cmp(t, f.Exams[0].Findings, td.Len(2), "what is understood is there")
	td.Cmp(t, f.Exams[0].NotUnderstood(), 5)
	td.Cmp(t, f.Exams[1].NotUnderstood(), 0)

	// In an answer of the core it is a list that the page hands back; nothing of it is where it is looked for.
	for _, e := range f.Exams {
		text, err := Marshal(e)
		td.CmpNoError(t, err)
		var back vitals.Exam
		td.CmpNoError(t, Unmarshal(text, &back))
		td.Cmp(t, back.NotUnderstood(), e.NotUnderstood())
	}

	// It is written again, each piece to the byte, and reads the same.
	out, err := Encode(f)
	td.Require(t).CmpNoError(err)
	for _, p := range pieces {
		td.Require(t).Cmp(text, td.Contains(p))
		td.Cmp(t, string(out), td.Contains(p))
		td.Cmp(t, strings.Count(string(out), p), 1)
	}
	td.Cmp(t, string(out), td.All(td.Contains(`"minor":9`), td.Not(td.Contains(`"unknown"`))))
	again, err := Decode(out)
	td.CmpNoError(t, err)
	twice, err := Encode(again)
	td.CmpNoError(t, err)
	td.Cmp(t, string(twice), string(out))

	// The minor format is not forgotten where a caller does not carry it.
	f.Minor = 0
	out2, err := Encode(f)
	td.CmpNoError(t, err)
	td.Cmp(t, string(out2), string(out))
}

// A file that says nothing of a newer format is held to this one, and a newer one to whatever any format holds.
func TestWhatNewerDoesNotExcuse(t *testing.T) {
	text := ninth(t)
	for change, code := range map[[2]string]vitals.FaultCode{
		{`"minor":9,`, ``}:                      UnknownMember,
		{`"minor":9,`, `"minor":-9,`}:           UnknownMember,
		{`"format":1,`, `"format":2,`}:          NewerFormat,
		{`"value":"37.6"`, `"value":"381"`}:     vitals.FaultBeyondSpan,
		{`"id":"e2"`, `"id":"e1"`}:              DuplicateID,
		{`"condition":"rest"`, `"condition":7`}: NotText,
		{`"microchip":"98`, `"microchip":98`}:   BadJSON,
	} {
		changed := strings.Replace(text, change[0], change[1], 1)
		td.Require(t).Cmp(changed, td.Not(text), change[0])
		_, err := Decode([]byte(changed))
		td.CmpErrorIs(t, err, vitals.Fault{Code: code}, change[1])
	}
	many := strings.Replace(text, `"footing":"sand"`, `"footing":[`+strings.Repeat(`"sand",`, vitals.MaxUnknownBytes/7)+`"sand"]`, 1)
	_, err := Decode([]byte(many))
	td.CmpErrorIs(t, err, vitals.Fault{Code: vitals.FaultTooLong})
}

// Merging with an older phone's file loses nothing, in either order.
func TestNewerIsMerged(t *testing.T) {
	f, err := Decode([]byte(ninth(t)))
	td.Require(t).CmpNoError(err)
	old := File{Kind: Kind, Format: Format, Horses: f.Horses[1:]}
	for _, pair := range [][2]File{{f, old}, {old, f}, {f, f}} {
		m, _, err := Merge(pair[0], pair[1])
		td.Require(t).CmpNoError(err)
		out, err := Encode(m)
		td.Require(t).CmpNoError(err)
		for _, p := range pieces {
			td.Cmp(t, strings.Count(string(out), p), 1, p)
		}
	}
}

// What has lost its place, and what is no JSON.
func TestWhatIsKeptIsJSON(t *testing.T) {
	f, err := Decode([]byte(ninth(t)))
	td.Require(t).CmpNoError(err)
	f.Exams[0].Unknown[0].At = "/story/given/7/colour"
	out, err := Encode(f)
	td.Require(t).CmpNoError(err)
	again, err := Decode(out)
	td.CmpNoError(t, err)
	td.Cmp(t, again.Exams[0].NotUnderstood(), 5, "no place, and still there")
	for _, text := range []vitals.Raw{"", "1,2", `1,"status":"draft"`, "{", "nul", "1 "} {
		f.Exams[0].Unknown[0] = vitals.Unknown{At: "/x", JSON: text, Minor: 9}
		_, err = Encode(f)
		td.CmpErrorIs(t, err, vitals.Fault{Code: BadJSON}, string(text))
	}
}
