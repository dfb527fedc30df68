// Package vectors holds what every way of running Whorl must answer with the same bytes:
// vectors.jsonl, one vector a line, for any language.
//
//	{"op":"compare","request":"…","sha256":"…"}
//
// The request is a text, since some are not JSON; sha256 is of the answer's bytes, in hex.
// The tests answer each natively, and those of hosts in JavaScript under node and in Chromium, in WASI and at the edge. A
// change of a figure or a sentence that is meant writes the file anew:
//
//	go test ./examples/vectors -update
package vectors

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
	"whorl.example/wasm/api"
)

// Vector is a call and the hash of its answer.
type Vector struct {
	Op      string `json:"op"`
	Request string `json:"request"`
	SHA256  string `json:"sha256"`
}

// Hash is the SHA-256 of an answer, in hex.
func Hash(answer []byte) string {
	sum := sha256.Sum256(answer)
	return hex.EncodeToString(sum[:])
}

// Read reads a file of vectors.
func Read(name string) ([]Vector, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	var all []Vector
	for in := json.NewDecoder(bytes.NewReader(text)); in.More(); {
		var v Vector
		if err := in.Decode(&v); err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	return all, nil
}

// Make makes the vectors with the answers of this machine. They are the same each time.
func Make() []Vector {
	var out []Vector
	add := func(op, request string) {
		out = append(out, Vector{op, request, Hash(api.Call(op, []byte(request)))})
	}
	for _, op := range []string{"version", "catalogue", "schema"} {
		add(op, "{}")
	}
	for _, lang := range words.Langs() {
		add("words", `{"lang":"`+string(lang)+`"}`)
	}
	for _, d := range vitals.Depths() {
		add("steps", `{"depth":"`+string(d)+`"}`)
		add("steps", `{"depth":"`+string(d)+`","holder":"not-held","closed":true}`)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 60 {
		record := records(r, n)
		text, err := schema.Marshal(record)
		if err != nil {
			panic(err) // a record of ours that cannot be written is a mistake of ours
		}
		line := string(text)
		// Every language: what one record is compared in, the other is told in.
		for i, op := range []string{"compare", "report"} {
			lang := words.Langs()[(n+i)%len(words.Langs())]
			add(op, strings.Replace(line, "{", `{"lang":"`+string(lang)+`",`, 1))
		}
		add("known", fmt.Sprintf(`{"horse":%s,"exams":%s,"at":"2026-06-01T08:00:00Z"}`, part(record.Horse), part(record.Exams)))
		// Bad input: cut off, a letter changed, and a member doubled.
		switch n % 4 {
		case 0:
			add("compare", line[:r.IntN(len(line))])
		case 1:
			add("compare", strings.Replace(line, `"sign":"heart-rate"`, `"sign":"hart-rate"`, 2))
		case 2:
			add("report", strings.Replace(line, `{"horse":{`, `{"horse":{"id":"twice",`, 1))
		case 3:
			at := r.IntN(len(line))
			add("report", line[:at]+string(rune('!'+r.IntN(90)))+line[at+1:])
		}
	}
	for n := range 3 {
		onOneExam(add, records(r, n))
	}
	for range 20 {
		add("taps", `{"sign":"heart-rate","atMs":`+part(tapped(r, 5+r.IntN(26), 700+r.IntN(1500)))+`}`)
		add("taps", `{"sign":"respiratory-rate","atMs":`+part(tapped(r, 4+r.IntN(12), 2500+r.IntN(4000)))+`}`)
	}
	for n := range 6 {
		horse, exams := series(r, n)
		add("watch", fmt.Sprintf(`{"horse":%s,"exams":%s,"first":"first"}`, part(horse), part(exams)))
		add("recovery", fmt.Sprintf(`{"horse":%s,"exams":%s}`, part(horse), part(bouts(r, horse.ID, n))))
	}
	add("watch", `{"horse":{"id":"h","name":"Juniper","type":"horse"},"exams":[],"first":"e"}`)
	add("plan", `{"horse":{"id":"h","name":"Juniper","type":"horse"},"exams":[],"at":"2026-06-01T08:00:00Z","withinDays":30}`)
	for _, request := range []string{"", "{", "null", "[]", `{"x":1}`, `{"lang":"tlh"}`, "\u0000", `{"lang":"en","lang":"en"}`} {
		add("version", request)
		add("compare", request)
		add("read", request)
		add("diagnose", request)
	}
	return out
}

// onOneExam adds one call of each operation that takes an exam, a barn file or a fragment.
func onOneExam(add func(op, request string), record schema.Record) {
	horse, exams, exam := part(record.Horse), part(record.Exams), part(record.Exam)
	whole := `"horse":` + horse + `,"exams":` + exams + `,"exam":` + exam
	barn := `{"kind":"whorl-barn","format":1,"horses":[` + horse + `],"exams":` + exams + `}`
	link := `{` + whole + `,"page":"https://yard.example/"}`
	add("alarms", `{"horse":`+horse+`,"exam":`+exam+`}`)
	add("check", `{"horse":`+horse+`,"exam":`+exam+`}`)
	add("explain", `{`+whole+`}`)
	add("fhir", `{`+whole+`}`)
	add("link", link)
	add("open", `{"fragment":"`+fragmentOf("link", link)+`"}`)
	add("history", `{"horse":`+horse+`,"exams":`+exams+`,"sign":"heart-rate","at":"2026-06-01T08:00:00Z"}`)
	add("normal", `{"horse":`+horse+`,"exams":`+exams+`,"at":"2026-06-01T08:00:00Z"}`)
	add("sheet", `{"horse":`+horse+`,"exams":`+exams+`}`)
	add("write", `{"file":`+barn+`}`)
	add("read", `{"file":`+part(barn)+`}`)
	add("merge", `{"a":`+barn+`,"b":`+barn+`}`)
	add("measure", `{"sign":"heart-rate","finding":{"sign":"heart-rate","count":{"events":9,"seconds":15,"start":"on-beat"}}}`)
	answer := `{"answer":{"exam":"e","words":"AFGHKLZ","at":"2026-05-03T01:20:00Z","by":"Dr. Amalia Fern","advice":"Walk her in hand."},"page":"https://yard.example/"}`
	add("answer", answer)
	add("answered", `{"fragment":"`+fragmentOf("answer", answer)+`"}`)
	add("pack", `{"pack":"{}"}`)
	add("calendar", `{"stamp":"2026-05-03T07:30:00+02:00","events":[{"uid":"p1","start":"2026-05-05T07:30:00+02:00","everyDays":2,"times":5,"summary":"Practise"}]}`)
	add("figures", `{}`)
}

// fragmentOf is the fragment that an operation answers with.
func fragmentOf(op, request string) string {
	var said struct {
		Value struct{ Fragment string }
	}
	if err := json.Unmarshal(api.Call(op, []byte(request)), &said); err != nil {
		panic(err) // an answer that is not JSON is a mistake of ours
	}
	return said.Value.Fragment
}

func part(v any) string {
	text, err := schema.Marshal(v)
	if err != nil {
		panic(err)
	}
	return string(text)
}

// tapped is a series of taps with the jitter of a finger; one in three misses an event.
func tapped(r *rand.Rand, n, interval int) []int {
	at, skip := []int{0}, r.IntN(3*n)
	for i := 1; i < n; i++ {
		next := at[len(at)-1] + interval + r.IntN(1+interval/12) - interval/24
		if i == skip {
			next += interval
		}
		at = append(at, next)
	}
	return at
}

// records makes a record of a horse of the n-th kind with up to five exams before.
func records(r *rand.Rand, n int) schema.Record {
	horse := vitals.Horse{
		ID: vitals.ID("horse-" + strconv.Itoa(n)), Name: []string{"Juniper", "Ḧàlima 🐴", "Αστέρι", "O'Malley & <Sons>"}[n%4],
		Type: vitals.Types()[n%len(vitals.Types())], Sex: vitals.Sexes()[n%len(vitals.Sexes())],
	}
	if n%3 > 0 {
		horse.Born = vitals.Date{Year: 2026 - r.IntN(24), Month: time.January, Day: 1 + r.IntN(20)}
	}
	record := schema.Record{Horse: horse}
	start := time.Date(2026, 2, 1, 7, 0, 0, 0, time.FixedZone("", 3600*(n%5-2)))
	rate := 30 + r.IntN(14)
	for i := range n % 6 {
		e := exam(r, occasion{horse.ID, "quiet-" + strconv.Itoa(i), start.AddDate(0, 0, 6*i).Add(time.Duration(r.IntN(600)) * time.Minute), rate, false})
		e.Wellness = vitals.Well
		record.Exams = append(record.Exams, e)
	}
	record.Exam = exam(r, occasion{horse.ID, "tonight", start.AddDate(0, 0, 80), rate, n%2 == 0})
	return record
}

// series makes a night's exam and up to seven rechecks of it, a quarter of an hour apart.
func series(r *rand.Rand, n int) (vitals.Horse, []vitals.Exam) {
	record := records(r, n)
	first := record.Exam
	first.ID = "first"
	exams := append(record.Exams, first)
	for i := range 1 + n {
		e := exam(r, occasion{record.Horse.ID, "recheck-" + strconv.Itoa(i), first.At.Add(time.Duration(15*(i+1)) * time.Minute), 40 + 3*i, n%2 == 0})
		e.Purpose, e.RecheckOf = vitals.Recheck, first.ID
		exams = append(exams, e)
	}
	return record.Horse, exams
}

// bouts makes the counts after work of n+1 days, every other with a trot in hand.
func bouts(r *rand.Rand, horse vitals.ID, n int) []vitals.Exam {
	var exams []vitals.Exam
	for day := range n + 1 {
		ended := time.Date(2026, 4, 1+day, 15, 0, r.IntN(60), 0, time.UTC)
		for i, minutes := range []int{2, 9 + r.IntN(3), 16, 18} {
			e := exam(r, occasion{horse, fmt.Sprintf("work-%d-%d", day, i), ended.Add(time.Duration(minutes*60+r.IntN(50)) * time.Second), 96 - 18*i + r.IntN(12), false})
			e.Purpose = vitals.Recovery
			e.State = vitals.State{Condition: vitals.AfterWork, SinceMinutes: minutes, Effort: vitals.Moderate, Ended: ended}
			if i == 3 && day%2 == 0 {
				e.Trot = &vitals.Trot{Before: exams[len(exams)-1].ID, OutMetres: decimal.New(int64(381+r.IntN(30)), -1), Clock: vitals.TrotClocks()[day%4], Seconds: 60}
			}
			exams = append(exams, e)
		}
	}
	return exams
}

// occasion is what an exam is made for; its heart rate lies about rate.
type occasion struct {
	horse vitals.ID
	id    string
	at    time.Time
	rate  int
	ill   bool
}

// exam makes an exam with some of the measured signs and of the graded ones.
func exam(r *rand.Rand, of occasion) vitals.Exam {
	at, rate := of.at, of.rate
	e := vitals.Exam{
		ID: vitals.ID(of.id), Horse: of.horse, At: at, Depth: vitals.Full, Purpose: vitals.Routine,
		State: vitals.State{Condition: vitals.AtRest}, Wellness: vitals.NotSure, Status: vitals.Finished,
	}
	if of.ill {
		rate += r.IntN(40)
		e.Wellness, e.Purpose = vitals.Unwell, vitals.Concern
		e.Story = &vitals.Story{Noticed: "not finishing the hay", Since: at.Add(-3 * time.Hour), Course: vitals.Worse, Callback: "202-555-0142"}
	}
	seconds := []int{15, 30, 60}[r.IntN(3)]
	e.Findings = append(e.Findings, vitals.Finding{Sign: vitals.HeartRate, Site: "chest-left",
		Count: &vitals.Count{Events: max(2, (rate+r.IntN(5)-2)*seconds/60), Seconds: seconds, Start: vitals.Starts()[r.IntN(2)]}})
	if r.IntN(2) == 0 {
		e.Findings = append(e.Findings, vitals.Finding{Sign: vitals.RespiratoryRate, Site: "afar", Taps: &vitals.Taps{AtMS: tapped(r, 6+r.IntN(9), 3000+r.IntN(3000))}})
	}
	if r.IntN(3) > 0 {
		reading := vitals.Reading{Value: decimal.New(int64(374+r.IntN(12)), -1), Unit: vitals.Celsius, Device: vitals.Digital}
		if r.IntN(2) == 0 {
			reading.Value, reading.Unit, reading.Label = decimal.New(int64(993+r.IntN(25)), -1), vitals.Fahrenheit, "blue one"
		}
		e.Findings = append(e.Findings, vitals.Finding{Sign: vitals.RectalTemperature, Reading: &reading})
	}
	if r.IntN(3) > 0 {
		tries := make([]int, 1+r.IntN(3))
		for i := range tries {
			tries[i] = 80 + r.IntN(170)
		}
		e.Findings = append(e.Findings, vitals.Finding{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: tries, Aloud: r.IntN(2) == 0}})
	}
	for _, id := range []vitals.SignID{vitals.Attitude, vitals.GumColour, vitals.GumMoisture, vitals.Droppings} {
		sign, _ := vitals.Lookup(id)
		grade := sign.Grades[0]
		if of.ill && r.IntN(2) == 0 {
			grade = sign.Grades[r.IntN(len(sign.Grades))]
		}
		f := vitals.Finding{Sign: id, Chosen: []vitals.GradeID{grade.ID}}
		if r.IntN(5) == 0 {
			f = vitals.Finding{Sign: id, Absent: vitals.Absences()[r.IntN(len(vitals.Absences()))]}
		}
		e.Findings = append(e.Findings, f)
	}
	return e
}
