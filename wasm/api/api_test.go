package api_test

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/schema"
	"whorl.example/vitals/words"
	"whorl.example/wasm/api"
)

const (
	horse = `{"id":"h","name":"Juniper","type":"horse","born":"2014-04-21"}`
	exam  = `{"id":"e","horse":"h","at":"2026-05-03T07:30:00+02:00","depth":"full","purpose":"routine",` +
		`"state":{"condition":"rest"},"status":"finished","findings":[{"sign":"heart-rate","site":"jaw",` +
		`"count":{"events":9,"seconds":15,"start":"on-beat"}}]}`
	barn = `{"kind":"whorl-barn","format":1,"horses":[` + horse + `],"exams":[` + exam + `]}`
)

// requests are one of each operation, or more, that is answered with a value.
var requests = []struct{ op, request string }{
	{"version", `{}`},
	{"catalogue", `{}`},
	{"figures", `{"lang":"es"}`},
	{"words", `{"lang":"en"}`},
	{"steps", `{"depth":"full","holder":"held"}`},
	{"steps", `{"depth":"hands-on","holder":"not-held","closed":true}`},
	{"schema", `{}`},
	{"check", `{"horse":` + horse + `,"exam":` + exam + `}`},
	{"check", `{"horse":` + horse + `}`},
	{"check", `{"exam":` + exam + `}`},
	{"measure", `{"sign":"heart-rate","finding":{"sign":"heart-rate","count":{"events":9,"seconds":15,"start":"on-beat"}}}`},
	{"measure", `{"sign":"rectal-temperature","finding":{"sign":"rectal-temperature","reading":{"value":"100.40","unit":"[degF]","device":"digital","label":"blue one"}}}`},
	{"measure", `{"sign":"weight","finding":{"sign":"weight","girth":{"girth":"185","length":"165","unit":"cm"}},"horse":` + horse + `,"at":"2026-05-03T07:30:00+02:00"}`},
	{"taps", `{"sign":"heart-rate","atMs":[0,1480,2990,4510,5990,7480,9010,10490,12000,13510]}`},
	{"compare", `{"horse":` + horse + `,"exam":` + exam + `}`},
	{"compare", `{"horse":` + horse + `,"exams":` + history(12) + `,"exam":` + exam + `}`},
	{"report", `{"horse":` + horse + `,"exams":` + history(12) + `,"exam":` + exam + `}`},
	{"known", `{"horse":` + horse + `,"exams":` + history(12) + `,"at":"2026-05-03T07:30:00+02:00"}`},
	{"known", `{"horse":` + horse + `,"exams":[],"at":"2026-05-03T07:30:00+02:00"}`},
	{"normal", `{"horse":` + horse + `,"exams":` + history(12) + `,"at":"2026-05-03T07:30:00+02:00"}`},
	{"normal", `{"horse":` + horse + `,"exams":[],"at":"2026-05-03T07:30:00+02:00"}`},
	{"watch", `{"horse":` + horse + `,"exams":` + night() + `,"first":"e"}`},
	{"recovery", `{"horse":` + horse + `,"exams":` + afterWork() + `}`},
	{"recovery", `{"horse":` + horse + `,"exams":[]}`},
	{"plan", `{"horse":` + horse + `,"exams":` + history(3) + `,"at":"2026-05-03T07:30:00+02:00","withinDays":60,"next":true}`},
	{"read", `{"file":` + quoted(barn) + `}`},
	{"write", `{"file":` + barn + `}`},
	{"merge", `{"a":` + barn + `,"b":` + barn + `}`},
	{"link", `{"horse":` + horse + `,"exams":` + history(12) + `,"exam":` + exam + `,"page":"https://yard.example/whorl/"}`},
	{"answer", `{"answer":{"exam":"e","words":"AFGHKLZ","at":"2026-05-03T01:20:00Z","by":"Dr. Amalia Fern","advice":"Walk her in hand."},"page":"https://yard.example/"}`},
	{"answered", `{"fragment":"a1=uogSwKqGDgkogbJMeX4ReMjF0c3dw9snCmVQwMBU18A4xMDQysjAysAgCtZfdynSU3DMTczJTFRwg4wFJKZAs0R4Yk62QkZqkUJmnkJGYl6KnlItIAAA__8"}`},
	{"sheet", `{"horse":` + horse + `,"exams":` + history(3) + `}`},
	{"fhir", `{"horse":` + horse + `,"exams":` + history(12) + `,"exam":` + exam + `}`},
	{"pack", `{"pack":"{}"}`},
	{"calendar", `{"stamp":"2026-05-03T07:30:00+02:00","events":[{"uid":"p1","start":"2026-05-05T07:30:00+02:00","everyDays":2,"times":5,"summary":"Practise","remindMinutes":30}]}`},
}

// nth is the n-th of the requests of an operation, from 0.
func nth(op string, n int) string {
	for _, r := range requests {
		if r.op != op {
			continue
		}
		if n == 0 {
			return r.request
		}
		n--
	}
	panic("no such request of " + op)
}

// history is n quiet exams before the exam, two days apart, of a heart at 36 to 38 a minute.
func history(n int) string {
	var all []string
	at := time.Date(2026, 5, 3, 7, 0, 0, 0, time.FixedZone("", 7200))
	for i := range n {
		at = at.AddDate(0, 0, -2)
		e := strings.Replace(exam, `"id":"e"`, `"id":"e`+strconv.Itoa(i)+`","wellness":"well"`, 1)
		e = strings.Replace(e, "2026-05-03T07:30:00+02:00", at.Format(time.RFC3339), 1)
		e = strings.Replace(e, `"events":9,"seconds":15`, `"events":`+strconv.Itoa(36+i%3)+`,"seconds":60`, 1)
		all = append(all, e)
	}
	return "[" + strings.Join(all, ",") + "]"
}

func quoted(s string) string {
	b, err := json.Marshal(s)
	if err != nil {
		panic(err)
	}
	return string(b)
}

type answer struct {
	OK     bool            `json:"ok"`
	Value  json.RawMessage `json:"value"`
	Faults []struct {
		Code     string   `json:"code"`
		Path     string   `json:"path"`
		Args     []string `json:"args"`
		Sentence string   `json:"sentence"`
	} `json:"faults"`
}

func call(t testing.TB, op, request string) answer {
	t.Helper()
	var a answer
	text := api.Call(op, []byte(request))
	d := json.NewDecoder(strings.NewReader(string(text)))
	d.DisallowUnknownFields()
	if err := d.Decode(&a); err != nil {
		t.Fatalf("%s: %v\n%s", op, err, text)
	}
	return a
}

// A barn file at the limit comes in, though each of its characters is escaped in the request; one beyond it does not.
func TestAFileAtTheLimitComesIn(t *testing.T) {
	t.Parallel()
	file := barn + strings.Repeat("\n", schema.MaxBytes-len(barn))
	td.CmpTrue(t, call(t, "read", `{"file":`+quoted(file)+`}`).OK)
	td.Cmp(t, listed(call(t, "read", `{"file":`+quoted(file+"\n")+`}`)), []string{"too-large "})
	td.CmpTrue(t, call(t, "merge", `{"a":`+file+`,"b":`+file+`}`).OK)
}

func listed(a answer) (out []string) {
	for _, f := range a.Faults {
		out = append(out, f.Code+" "+f.Path)
	}
	return out
}

func TestEveryOperationAnswers(t *testing.T) {
	t.Parallel()
	for _, r := range requests {
		a := call(t, r.op, r.request)
		td.CmpTrue(t, a.OK, "%s %s: %v", r.op, r.request, a.Faults)
		again := api.Call(r.op, []byte(r.request))
		td.Cmp(t, again, api.Call(r.op, []byte(r.request)), "the same bytes each time")
	}
}

func TestValues(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		op, request string
		value       string // as JSON; td.JSON placeholders
	}{
		{"version", `{}`, `{"version":"` + api.Version + `","kind":"whorl-barn","format":1,"langs":NotEmpty()}`},
		{"check", `{"horse":` + horse + `,"exam":` + exam + `}`, `{"faults":[]}`},
		// 9 events and half of one in 15 s; the SD is (60/15)·√(1/12 + 0.03²·9.5), as on paper.
		{"measure", nth("measure", 0), `{"measure":{"value":38,"sd":Between(1.21,1.22),"unit":"/min"},"shown":"38 a minute","how":Contains("15 s")}`},
		{"measure", nth("measure", 1), `{"measure":{"value":38,"sd":Gt(0),"unit":"Cel"},"shown":"100.4 °F","how":Contains("blue one")}`},
		{"compare", nth("compare", 1), `{"heading":NotEmpty(),"remarks":Ignore(),"rulers":{"heart-rate/jaw":HasPrefix("<svg")},
			"said":{"heart-rate/jaw":NotEmpty()},"sentences":{"heart-rate/jaw":Contains(SuperMapOf({"kind":"published","text":HasPrefix("Published ranges")}))},
			"comparison":SuperMapOf({"horse":"h","exam":"e","signs":[SuperMapOf({"sign":"heart-rate","site":"jaw","statement":"as-usual",
				"basis":SuperMapOf({"exams":12})})]})}`},
		{"report", nth("report", 0), `{"report":SuperMapOf({"lang":"en","title":Contains("Juniper")}),"text":Contains("38"),"aloud":Contains(SuperMapOf({"part":"usual","pieces":Contains(SuperMapOf({"say":"thirty-eight","figure":"38"}))}))}`},
		{"known", nth("known", 0), `SuperMapOf({"exams":12,"lastAt":"2026-05-01T07:00:00+02:00","said":Contains("12"),"whorl":HasPrefix("<svg")})`},
		{"normal", nth("normal", 0), `{"rows":ArrayEach(SuperMapOf({"name":NotEmpty(),"value":NotEmpty(),"at":NotEmpty()}))}`},
		{"normal", nth("normal", 1), `{"rows":[]}`},
		{"known", nth("known", 1), `SuperMapOf({"exams":0,"said":NotEmpty(),"whorl":Contains("stroke-dasharray")})`},
		{"write", `{"file":` + barn + `}`, `{"text":` + quoted(barn+"\n") + `}`},
		{"read", `{"file":` + quoted(barn) + `}`, barn},
	} {
		a := call(t, tc.op, tc.request)
		td.CmpTrue(t, a.OK, "%s: %v", tc.op, a.Faults)
		td.Cmp(t, a.Value, td.JSON(tc.value), tc.op)
	}
}

func TestFaults(t *testing.T) {
	t.Parallel()
	bad := strings.Replace(exam, `"events":9`, `"events":"9"`, 1)
	other := strings.Replace(exam, `"horse":"h"`, `"horse":"g"`, 1)
	for _, tc := range []struct {
		name, op, request string
		want              []string
	}{
		{"no such operation", "diagnose", `{}`, []string{"unknown-op "}},
		{"an operation in broken text", "\xff", `{}`, []string{"bad-text "}},
		{"no request", "version", ``, []string{"bad-json "}},
		{"no object", "version", `[]`, []string{"not-object "}},
		{"no such member", "version", `{"x":1}`, []string{"unknown-member /x"}},
		{"no such language", "version", `{"lang":"tlh"}`, []string{"unknown-lang /lang"}},
		{"language and member", "read", `{"lang":"tlh"}`, []string{"unknown-lang /lang", "missing-member /file"}},
		{"places of a file are places in the file", "read", `{"file":` + quoted(strings.Replace(barn, "Juniper", "", 1)) + `}`, []string{"missing-text /horses/0/name"}},
		{"a file that breaks off", "read", `{"file":` + quoted(barn[:60]) + `}`, []string{"bad-json /horses/0/name"}},
		{"a file to be written", "write", `{"file":` + strings.Replace(barn, `"h",`, `"h/1",`, 1) + `}`,
			[]string{"bad-id /file/horses/0/id", "unknown-horse /file/exams/0/horse"}},
		{"a record in no language", "check", `{"lang":"tlh","horse":` + horse + `}`, []string{"unknown-lang /lang"}},
		{"a check that breaks off", "check", `{"horse":{"id"`, []string{"bad-json /horse/id"}},
		{"a sign unknown", "measure", `{"sign":"mood","finding":{"sign":"mood","absent":"unsure"}}`, []string{"unknown-sign /sign"}},
		{"nothing to measure", "measure", `{"sign":"heart-rate","finding":{"sign":"heart-rate","absent":"unsure"}}`, []string{"no-value /finding"}},
		{"a window of no length", "measure", `{"sign":"heart-rate","finding":{"sign":"heart-rate","count":{"events":9,"seconds":0,"start":"on-beat"}}}`, []string{"out-of-range /finding/count/seconds"}},
		{"taps beyond a Duration", "taps", `{"sign":"heart-rate","atMs":[0,1000,2000,9007199254740991]}`, []string{"many-taps /atMs"}},
		{"a girth of no animal", "measure", `{"sign":"weight","finding":{"sign":"weight","girth":{"girth":"185","length":"165","unit":"cm"}}}`,
			[]string{"missing-member /horse", "missing-member /at"}},
		{"a donkey by the formula of a horse", "measure", strings.Replace(nth("measure", 2), `"type":"horse"`, `"type":"donkey"`, 1),
			[]string{"no-weight-formula /finding/girth"}},
		{"too few taps", "taps", `{"sign":"heart-rate","atMs":[0,1000]}`, []string{"taps-few /atMs"}},
		{"no rate", "taps", `{"sign":"attitude","atMs":[0,1000]}`, []string{"unknown-sign /sign"}},
		{"an exam of another horse", "compare", `{"horse":` + horse + `,"exam":` + other + `}`, []string{"other-horse /exam/horse"}},
		{"an exam that cannot be measured", "report", `{"horse":` + horse + `,"exam":` + bad + `}`, []string{"not-number /exam/findings/0/count/events"}},
		{"known without a time", "known", `{"horse":` + horse + `,"exams":[` + other + `]}`, []string{"missing-member /at", "other-horse /exams/0/horse"}},
		{"no such depth", "steps", `{"depth":"deep"}`, []string{"unknown-answer /depth"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			a := call(t, tc.op, tc.request)
			td.CmpFalse(t, a.OK)
			td.Cmp(t, listed(a), tc.want)
			for _, f := range a.Faults {
				td.Cmp(t, f.Sentence, td.All(td.Not(""), td.Not(td.Contains("fault.")), td.Not(td.Contains("{"))), f.Code)
			}
		})
	}
	t.Run("what is wrong with an exam is an answer", func(t *testing.T) {
		a := call(t, "check", `{"horse":`+strings.Replace(horse, "Juniper", " ", 1)+`,"exam":`+bad+`}`)
		td.CmpTrue(t, a.OK)
		td.Cmp(t, a.Value, td.JSON(`{"faults":[
			{"code":"not-number","path":"/exam/findings/0/count/events","sentence":NotEmpty()},
			{"code":"missing-text","path":"/horse/name","sentence":NotEmpty()}]}`))
	})
	t.Run("an exam of another horse", func(t *testing.T) {
		a := call(t, "check", `{"horse":`+horse+`,"exam":`+other+`}`)
		td.Cmp(t, string(a.Value), td.Contains(`"code":"other-horse","path":"/exam/horse"`))
	})
}

// Every fault that an operation can give has its sentence in every language.
func TestFaultsAreSaidInEveryLanguage(t *testing.T) {
	t.Parallel()
	for _, lang := range words.Langs() {
		a := call(t, "read", `{"lang":"`+string(lang)+`","file":"{}"}`)
		td.Cmp(t, listed(a), []string{"not-whorl /kind"})
		td.Cmp(t, a.Faults[0].Sentence, words.Say(lang, "fault.not-whorl", "kind", "whorl-barn"))
	}
}

// Whatever it is given, the core answers in the one form, and never says that it failed. A plan takes
// seconds, more than a fuzzed input may; TestEveryOperationAnswers has it.
func FuzzCall(f *testing.F) {
	for _, r := range requests {
		f.Add(r.op, []byte(r.request))
		f.Add(r.op, []byte(r.request[:len(r.request)/2]))
	}
	f.Fuzz(func(t *testing.T, op string, request []byte) {
		if op == "plan" {
			return
		}
		a := call(t, op, string(request))
		if a.OK == (len(a.Faults) > 0) {
			t.Fatalf("ok is %v with %d faults", a.OK, len(a.Faults))
		}
		for _, fault := range a.Faults {
			if fault.Code == string(api.Internal) || fault.Sentence == "" {
				t.Fatalf("%s at %s: %q", fault.Code, fault.Path, fault.Sentence)
			}
		}
	})
}
