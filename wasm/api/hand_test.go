package api_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/wasm/api"
)

// What one page sends, another opens: the same report as the sender's.
func TestSentAndOpened(t *testing.T) {
	t.Parallel()
	record := `"horse":` + horse + `,"exams":` + history(12) + `,"exam":` + exam
	var sent struct {
		Fragment, Link string
		Code           struct{ Text, SVG string }
	}
	td.Require(t).CmpNoError(json.Unmarshal(value(t, "link", `{`+record+`,"page":"https://yard.example/"}`), &sent))
	td.Cmp(t, sent.Link, "https://yard.example/#"+sent.Fragment)
	td.Cmp(t, sent.Code.SVG, td.HasPrefix("<svg "))
	var told, opened struct {
		Text   string
		Rulers map[string]string
	}
	td.Require(t).CmpNoError(json.Unmarshal(value(t, "report", `{`+record+`}`), &told))
	_, code, _ := strings.Cut(sent.Code.Text, "#")
	for _, fragment := range []string{sent.Fragment, "#" + code} {
		td.Require(t).CmpNoError(json.Unmarshal(value(t, "open", `{"fragment":`+quoted(fragment)+`}`), &opened))
		td.Cmp(t, unmarked(t, opened.Text, true), unmarked(t, told.Text, false))
		td.Cmp(t, opened.Rulers["heart-rate/jaw"], td.HasPrefix("<svg "))
		td.Cmp(t, unmarked(t, string(value(t, "fhir", `{"fragment":`+quoted(fragment)+`}`)), true), unmarked(t, string(value(t, "fhir", `{`+record+`}`)), false))
	}
}

// unmarked is a text on one line without what is said of a sender's claim, and without our own that nothing differs, which it stands for.
func unmarked(t *testing.T, text string, sent bool) string {
	t.Helper()
	text = strings.Join(strings.Fields(text), " ")
	const mark, nothing = "What is usual for it was sent, by the sender. It cannot be checked here. The limits on when to call were worked out again here.", "Every sign compared is in its usual range."
	td.Cmp(t, []bool{strings.Contains(text, mark), strings.Contains(text, nothing)}, td.Any([]bool{sent, !sent}, []bool{sent, false}))
	text = strings.NewReplacer(mark, "", nothing, "", "By what was sent, everything compared is in the usual range for Juniper. That cannot be checked here.", "").Replace(text)
	text = strings.NewReplacer(`\u003cp\u003e\u003c/p\u003e`, "", "<p></p>", "").Replace(text)
	return strings.Join(strings.Fields(text), " ")
}

// Where the rechecks went travels, and is told by whoever opens the link as the sender
// tells it; a clinic that opens it adds its own rule, and says so.
func TestRechecksTravel(t *testing.T) {
	t.Parallel()
	look := func(id, at string, n int) string {
		return `{"id":"` + id + `","horse":"h","at":"2026-05-02T` + at + `:00+02:00","depth":"hands-on","purpose":"recheck","state":{"condition":"rest"},` +
			`"status":"finished","findings":[{"sign":"heart-rate","site":"jaw","count":{"events":` + strconv.Itoa(n) + `,"seconds":60,"start":"on-beat"}}]}`
	}
	before := strings.TrimSuffix(history(12), "]") + "," + look("r1", "10:00", 44) + "," + look("r2", "10:20", 52) + "," + look("r3", "10:40", 61) + "]"
	record := `"horse":` + horse + `,"exams":` + before + `,"exam":` + look("r4", "11:00", 70)
	var sent struct {
		Fragment string
		Code     struct{ Text string }
		Shorter  bool
	}
	td.Require(t).CmpNoError(json.Unmarshal(value(t, "link", `{`+record+`,"page":"https://yard.example/"}`), &sent))
	td.CmpFalse(t, sent.Shorter)
	td.Cmp(t, sent.Code.Text, td.Contains("#W1:"))
	var told, opened struct {
		Text    string
		Watched []struct{ Said []string }
	}
	td.Require(t).CmpNoError(json.Unmarshal(value(t, "report", `{`+record+`}`), &told))
	td.Cmp(t, told.Text, td.Contains("rising by about"))
	td.Require(t).CmpNoError(json.Unmarshal(value(t, "open", `{"fragment":`+quoted(sent.Fragment)+`}`), &opened))
	td.Cmp(t, unmarked(t, opened.Text, true), unmarked(t, told.Text, false))
	td.Cmp(t, opened.Watched, td.Len(1))
	td.Cmp(t, opened.Watched[0].Said[0], td.Contains("rising"))

	const clinic = `"pack":{"kind":"whorl-pack","format":1,"clinic":{"name":"A","numbers":[{"phone":"112","hours":""}]},` +
		`"thresholds":[{"id":"ours","sign":"heart-rate","urgency":"now","above":"68","unit":"/min","setBy":"Dr A"}]}`
	text := string(value(t, "open", `{"fragment":`+quoted(sent.Fragment)+`,`+clinic+`}`))
	td.Cmp(t, text, td.Contains("its own rule says to call at this heart rate, above 68 a minute (Dr A)"))
	var a answer
	td.Require(t).CmpNoError(json.Unmarshal(api.Call("open", []byte(`{"fragment":"w1=AA",`+strings.Replace(clinic, `"above":"68",`, ``, 1)+`}`)), &a))
	td.Cmp(t, listed(a), []string{"pack-limit /pack/thresholds/0"})
}

// An exam that came by a link and is kept, of a horse of which nothing else is known here: its comparison stays the sender's, with the
// range that was sent and whose it is; sent on, it is the same link. What was changed since is compared by what is known here.
func TestAKeptLinkKeepsTheSendersNormal(t *testing.T) {
	t.Parallel()
	at := func(day, rate int) string {
		return `{"id":"e` + strconv.Itoa(day) + `","horse":"h","at":"2026-05-` + fmt.Sprintf("%02d", day) + `T07:30:00Z","depth":"full","purpose":"learning","state":{"condition":"rest"},` +
			`"wellness":"well","status":"finished","by":"Rowan","findings":[{"sign":"heart-rate","site":"jaw","count":{"events":` + strconv.Itoa(rate) + `,"seconds":60,"start":"anywhere"}}]}`
	}
	const horse = `{"id":"h","name":"Sorrel","type":"horse","sex":"mare","born":"2015-05-01"}`
	var past []string
	for i := range 8 {
		past = append(past, at(i+1, 44+i%4))
	}
	tonight := `"horse":` + horse + `,"exam":` + at(20, 44)
	ask := func(op, request string) (c struct {
		Comparison baseline.Comparison
		Remarks    []string
		Text       string
		Fragment   string
	}) {
		td.Require(t).CmpNoError(json.Unmarshal(value(t, op, request), &c))
		return c
	}
	const page = `,"page":"https://yard.example/"`
	here := ask("compare", `{`+tonight+`,"exams":[`+strings.Join(past, ",")+`]}`)
	sent := ask("link", `{`+tonight+`,"exams":[`+strings.Join(past, ",")+`]`+page+`}`).Fragment
	with := `,"fragment":` + quoted(sent)
	alone, kept := ask("compare", `{`+tonight+`}`), ask("compare", `{`+tonight+with+`}`)
	own := func(c baseline.Comparison) []int {
		return []int{int(math.Round(c.Signs[0].Own.Low)), int(math.Round(c.Signs[0].Own.High))}
	}
	td.Require(t).Cmp(own(alone.Comparison), td.Not(own(here.Comparison)), "it is a horse of its own")
	td.Cmp(t, own(kept.Comparison), own(here.Comparison))
	td.Cmp(t, kept.Comparison.Signs[0].Statement, here.Comparison.Signs[0].Statement)
	td.Cmp(t, kept.Remarks, td.Contains("What is usual for her was sent, by “Rowan”. It cannot be checked here. The limits on when to call were worked out again here."))
	td.Cmp(t, strings.Join(strings.Fields(ask("report", `{`+tonight+with+`}`).Text), " "), td.Contains("was sent, by “Rowan”"))
	td.Cmp(t, ask("link", `{`+tonight+with+page+`}`).Fragment, sent, "sent on")
	changed := `"horse":` + horse + `,"exam":` + at(20, 45)
	td.Cmp(t, own(ask("compare", `{`+changed+with+`}`).Comparison), own(alone.Comparison), "changed since")
	td.Cmp(t, own(ask("compare", `{`+tonight+`,"fragment":"w1=cut"}`).Comparison), own(alone.Comparison))
}

func value(t *testing.T, op, request string) json.RawMessage {
	t.Helper()
	var a answer
	td.Require(t).CmpNoError(json.Unmarshal(api.Call(op, []byte(request)), &a))
	td.Require(t).Cmp(a.OK, true, "%s: %v", op, a.Faults)
	return a.Value
}

// A clinic's file adds its rule to the comparison; one that is not in order is refused
// with its place.
func TestAClinicAdds(t *testing.T) {
	t.Parallel()
	const clinic = `"pack":{"kind":"whorl-pack","format":1,"clinic":{"name":"A","numbers":[{"phone":"112","hours":""}]},` +
		`"thresholds":[{"id":"ours","sign":"heart-rate","urgency":"now","above":"30","unit":"/min","setBy":"A"}]}`
	request := `{"horse":` + horse + `,"exam":` + exam + `,` + clinic + `}`
	td.Cmp(t, string(value(t, "compare", request)), td.Contains(`"alarm":"ours"`))
	td.Cmp(t, string(value(t, "report", request)), td.Contains("It is not a published rule"))
	var a answer
	td.Require(t).CmpNoError(json.Unmarshal(api.Call("compare", []byte(strings.Replace(request, `"unit":"/min","setBy"`, `"unit":"kg","setBy"`, 1))), &a))
	td.Require(t).Cmp(a.Faults, td.Len(1))
	td.Cmp(t, a.Faults[0].Path, "/pack/thresholds/0/unit")
}

func TestHandingOverRefuses(t *testing.T) {
	t.Parallel()
	cut := string(value(t, "link", `{"horse":`+horse+`,"exam":`+exam+`,"page":"https://yard.example/"}`))
	cut = cut[strings.Index(cut, "w1="):][:60]
	for _, c := range []struct{ op, request, code, path string }{
		{"open", `{"fragment":"` + cut + `"}`, "link-cut", "/fragment"},
		{"fhir", `{"fragment":"` + cut + `"}`, "link-cut", "/fragment"},
		{"fhir", `{"horse":` + horse + `}`, "missing-member", "/exam"},
		{"fhir", `{"horse":` + horse + `,"exam":` + exam + `,"fragment":"w1=AA"}`, "unknown-member", "/fragment"},
		{"open", `{"fragment":"#top"}`, "link-foreign", "/fragment"},
		{"open", `{"fragment":"#w9=AAAA"}`, "link-newer", "/fragment"},
		{"link", `{"horse":` + horse + `,"exam":` + exam + `,"page":"yard.example#x"}`, "bad-page", "/page"},
		{"calendar", `{"stamp":"2026-05-03T07:30:00Z","events":[{"uid":"a","start":"2026-05-03T07:30:00Z","summary":"x","times":-1}]}`, "bad-event", "/events/0"},
		{"merge", `{"a":` + barn + `,"b":` + strings.Replace(barn, `"name":"Juniper"`, `"name":""`, 1) + `}`, "missing-text", "/b/horses/0/name"},
		{"sheet", `{"horse":` + horse + `,"exams":[` + strings.Replace(exam, `"horse":"h"`, `"horse":"g"`, 1) + `]}`, "other-horse", "/exams/0/horse"},
	} {
		var a answer
		td.Require(t).CmpNoError(json.Unmarshal(api.Call(c.op, []byte(c.request)), &a))
		td.Require(t).Cmp(a.Faults, td.Len(1), c.request)
		td.Cmp(t, []string{a.Faults[0].Code, a.Faults[0].Path}, []string{c.code, c.path})
		td.Cmp(t, a.Faults[0].Sentence, td.Not(td.HasPrefix("fault.")))
	}
}
