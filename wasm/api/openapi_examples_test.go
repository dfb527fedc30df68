package api

import (
	"encoding/json"
	"fmt"
	"strconv"
)

const (
	askedHorse = `{"id":"h","name":"Juniper","type":"horse","born":"2014-04-21"}`
	askedState = `"depth":"full","purpose":"routine","state":{"condition":"rest"},"status":"finished"`
	askedExam  = `{"id":"e","horse":"h","at":"2026-05-03T07:30:00+02:00",` + askedState + `,"findings":[` +
		`{"sign":"heart-rate","site":"jaw","count":{"events":9,"seconds":15,"start":"on-beat"}},{"sign":"gum-colour","chosen":["pink"]},{"sign":"rectal-temperature","reading":{"value":"38.4","unit":"Cel"}},{"sign":"respiratory-rate","absent":"unsure"}]}`
	askedAt     = `"at":"2026-06-01T08:00:00Z"`
	askedRecord = `"horse":` + askedHorse + `,"exams":[` + askedExam + `]`
	askedNext   = `"horse":` + askedHorse + `,"exams":[],"exam":` + askedExam
	askedFile   = `{"kind":"whorl-barn","format":1,"horses":[` + askedHorse + `],"exams":[` + askedExam + `]}`
	askedPage   = `"page":"https://yard.example/"`
	askedAnswer = `{"answer":{"exam":"e","at":"2026-05-03T08:30:00+02:00","by":"the vet of the yard","advice":"Look again in an hour."},` + askedPage + `}`
)

// operations are all of them: the function of each, and a request that it answers.
var operations = []struct {
	name    string
	do      any
	example string
}{
	{"remember", remember, `{"on":false}`},
	{"version", version, `{"lang":"en"}`},
	{"words", messages, `{"lang":"es"}`},
	{"catalogue", catalogue, `{}`},
	{"figures", figures, `{}`},
	{"steps", steps, `{"depth":"full","holder":"not-held","closed":true}`},
	{"measure", measure, `{"sign":"heart-rate","finding":{"sign":"heart-rate","count":{"events":9,"seconds":15,"start":"on-beat"}}}`},
	{"taps", taps, `{"sign":"heart-rate","atMs":[0,1500,3000,4500,6000,7500,9000,10500,12000,13500,15000,16500]}`},
	{"compare", compare, `{` + askedNext + `}`},
	{"alarms", alarms, `{"horse":` + askedHorse + `,"exam":` + askedExam + `}`},
	{"explain", explain, `{` + askedNext + `}`},
	{"report", tell, `{` + askedNext + `}`},
	{"history", history, `{` + askedRecord + `,"sign":"heart-rate",` + askedAt + `}`},
	{"known", known, `{` + askedRecord + `,` + askedAt + `}`},
	{"normal", normal, `{` + askedRecord + `,` + askedAt + `}`},
	{"watch", recheckSeries, `{` + askedRecord + `,"first":"e"}`},
	{"recovery", recoveries, `{` + askedRecord + `}`},
	{"plan", plan, `{` + askedRecord + `,` + askedAt + `,"withinDays":30}`},
	{"schema", jsonSchema, `{}`},
	{"check", func(checkRequest) {}, `{"horse":` + askedHorse + `,"exam":` + askedExam + `}`},
	{"read", read, `{"file":` + strconv.Quote(askedFile) + `}`},
	{"write", write, `{"file":` + askedFile + `}`},
	{"merge", merge, `{"a":` + askedFile + `,"b":` + askedFile + `}`},
	{"link", handOver, `{` + askedNext + `,` + askedPage + `}`},
	{"open", open, fragmentOf("link", `{`+askedNext+`,`+askedPage+`}`)},
	{"answer", answer, askedAnswer},
	{"answered", answered, fragmentOf("answer", askedAnswer)},
	{"sheet", table, `{` + askedRecord + `}`},
	{"fhir", exported, `{` + askedNext + `}`},
	{"pack", packs, `{"pack":` + strconv.Quote(`{"kind":"whorl-pack","format":1,"clinic":{"name":"The yard's clinic","numbers":[{"phone":"+1 555 0100"}]}}`) + `}`},
	{"calendar", diary, `{"stamp":"2026-05-03T07:30:00Z","events":[{"uid":"u","start":"2026-05-04T07:30:00Z","summary":"Practice exam"}]}`},
}

// fragmentOf is a request with the fragment that another operation answers with.
func fragmentOf(op, request string) string {
	var a struct {
		Value  struct{ Fragment string }
		Faults json.RawMessage
	}
	if err := json.Unmarshal(Call(op, []byte(request)), &a); err != nil || a.Value.Fragment == "" {
		panic(fmt.Sprint(op, err, string(a.Faults)))
	}
	return `{"fragment":` + strconv.Quote(a.Value.Fragment) + `}`
}
