package api_test

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/wasm/api"
)

// night is twelve quiet exams, then the exam e with a heart at 52, and two rechecks of it.
func night() string {
	first := strings.Replace(exam, `"events":9,"seconds":15`, `"events":52,"seconds":60`, 1)
	all := []string{strings.Trim(history(12), "[]"), first}
	for i, n := range []int{57, 60} {
		r := strings.Replace(first, `"id":"e"`, `"id":"r`+strconv.Itoa(i)+`","recheckOf":"e"`, 1)
		r = strings.Replace(r, `"purpose":"routine"`, `"purpose":"recheck"`, 1)
		r = strings.Replace(r, "07:30:00", []string{"07:45:00", "08:00:00"}[i], 1)
		all = append(all, strings.Replace(r, `"events":52`, `"events":`+strconv.Itoa(n), 1))
	}
	return "[" + strings.Join(all, ",") + "]"
}

func TestWatchOp(t *testing.T) {
	t.Parallel()
	v := value(t, "watch", `{"horse":`+horse+`,"exams":`+night()+`,"first":"e"}`)
	td.Cmp(t, v, td.JSON(`SuperMapOf({
		"series":[SuperMapOf({"sign":"heart-rate","trend":"rising","points":Len(3),"own":NotEmpty(),
			"said":ArrayEach(NotEmpty()),"drawing":HasPrefix("<svg")})],
		"telling":[{"sign":"heart-rate","why":"alarm"}],"alarms":ArrayEach(SuperMapOf({"sign":"heart-rate"})),"latest":"r1"})`))
	var got struct {
		Series []struct{ Said []string }
	}
	td.Require(t).CmpNoError(json.Unmarshal(v, &got))
	td.Cmp(t, got.Series[0].Said[0], td.Re(`^Heart rate: [0-9, ]+ a minute in 30 minutes, rising by about \d a minute every 10 minutes`))
	// The clinic's file names what it asks for, and its rule fires.
	const clinic = `"pack":{"kind":"whorl-pack","format":1,"clinic":{"name":"A","numbers":[{"phone":"112","hours":""}]},"ask":["gut-sounds","heart-rate"],` +
		`"thresholds":[{"id":"ours","sign":"heart-rate","urgency":"now","above":"30","unit":"/min","setBy":"A"}]}`
	v = value(t, "watch", `{"horse":`+horse+`,"exams":`+night()+`,"first":"e",`+clinic+`}`)
	td.Cmp(t, string(v), td.Contains(`{"sign":"gut-sounds","why":"asked"}`))
	td.Cmp(t, string(v), td.Contains(`"alarm":"ours"`))
	td.Cmp(t, strings.Count(string(v), `"sign":"heart-rate","why"`), 1)
}

// A thermometer that reads Fahrenheit is told in Fahrenheit.
func TestWatchOpKeepsTheUnit(t *testing.T) {
	t.Parallel()
	warm := func(s string) string {
		n := strings.ReplaceAll(s, `"sign":"heart-rate","site":"jaw","count":{"events":`, `"sign":"rectal-temperature","reading":{"unit":"[degF]","device":"digital","value":"10`)
		return strings.NewReplacer(`52,"seconds":60,"start":"on-beat"}`, `2.4"}`, `57,"seconds":60,"start":"on-beat"}`, `3.4"}`, `60,"seconds":60,"start":"on-beat"}`, `4.4"}`).Replace(n)
	}
	all := warm(night()[strings.Index(night(), `{"id":"e",`):])
	v := string(value(t, "watch", `{"horse":`+horse+`,"exams":[`+all+`,"first":"e"}`))
	td.Cmp(t, v, td.Contains(`"unit":"[degF]"`))
	td.Cmp(t, v, td.Contains("102.4 °F"))
	td.Cmp(t, v, td.Not(td.Contains("°C")))
}

// afterWork is three counts after work that ended at 15:00:20, and one after a trot.
func afterWork() string {
	var all []string
	for i, c := range []struct {
		id, at string
		beats  int
		more   string
	}{
		{"w0", "15:03:00", 96, ""}, {"w1", "15:09:00", 72, ""}, {"w2", "15:14:20", 60, ""},
		{"w3", "15:16:00", 68, `,"trot":{"before":"w2","outMetres":"38.1","clock":"trot-start","seconds":60}`},
	} {
		all = append(all, `{"id":"`+c.id+`","horse":"h","at":"2026-05-03T`+c.at+`+02:00","depth":"hands-on","purpose":"recovery","status":"finished",`+
			`"state":{"condition":"after-work","sinceMinutes":`+strconv.Itoa(2+5*i)+`,"ended":"2026-05-03T15:00:20+02:00"}`+c.more+
			`,"findings":[{"sign":"heart-rate","count":{"events":`+strconv.Itoa(c.beats)+`,"seconds":60,"start":"anywhere"}}]}`)
	}
	return "[" + strings.Join(all, ",") + "]"
}

func TestRecoveryOp(t *testing.T) {
	t.Parallel()
	v := value(t, "recovery", `{"horse":`+horse+`,"exams":`+afterWork()+`}`)
	td.Cmp(t, v, td.JSON(`{
		"recovery":SuperMapOf({"ended":"2026-05-03T15:00:20+02:00","heart":Len(3),"trots":Len(1)}),
		"said":{"own":Len(Gte(2)),"limits":All(Len(3),ArrayEach(SuperMapOf({"reached":Len(Gte(1)),"criteria":NotEmpty()}))),
			"note":Contains("do not replace the vet check"),"trots":Len(Gte(2)),"inversions":[],"why":NotEmpty()},
		"curve":HasPrefix("<svg"),"earlier":[]}`))
	td.Cmp(t, string(v), td.Contains(`"atMost":64,"reached":["Down to 64 a minute about 12 minutes after work`))
	td.Cmp(t, string(v), td.Contains("After the trot-out the heart beat 8 a minute faster (60, then 68"))
	// A second bout of work has the first beside it.
	second := strings.NewReplacer(`"w`, `"x`, "2026-05-03", "2026-05-09").Replace(afterWork())
	both := strings.TrimSuffix(afterWork(), "]") + "," + strings.TrimPrefix(second, "[")
	v = value(t, "recovery", `{"horse":`+horse+`,"exams":`+both+`}`)
	td.Cmp(t, v, td.JSON(`SuperMapOf({"recovery":SuperMapOf({"ended":"2026-05-09T15:00:20+02:00"}),
		"earlier":[SuperMapOf({"ended":"2026-05-03T15:00:20+02:00","said":NotEmpty()})]})`))
	v = value(t, "recovery", `{"horse":`+horse+`,"exams":`+both+`,"of":"w1"}`)
	td.Cmp(t, v, td.JSON(`SuperMapOf({"recovery":SuperMapOf({"ended":"2026-05-03T15:00:20+02:00"}),"earlier":[]})`))
}

func TestPlanOp(t *testing.T) {
	t.Parallel()
	v := value(t, "plan", `{"horse":`+horse+`,"exams":`+history(3)+`,"at":"2026-05-03T07:30:00+02:00","withinDays":60,"next":true}`)
	td.Cmp(t, v, td.JSON(`{"plan":SuperMapOf({"exams":Gt(3),"days":60}),"said":NotEmpty(),
		"next":All(Len(3),ArrayEach(SuperMapOf({"said":NotEmpty()}))),
		"due":SuperMapOf({"exams":3,"now":false,"lastAt":"2026-05-01T07:00:00+02:00","at":"2026-05-18T07:00:00+02:00"})}`))
}

func TestWatchRecoveryPlanRefuse(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ op, request, code, path string }{
		{"watch", `{"horse":` + horse + `,"exams":[],"first":"e"}`, "unknown-exam", "/first"},
		{"recovery", `{"horse":` + horse + `,"exams":` + afterWork() + `,"of":"e"}`, "unknown-exam", "/of"},
		{"plan", `{"horse":` + horse + `,"exams":[],"at":"2026-05-03T07:30:00Z","withinDays":3}`, "out-of-range", "/withinDays"},
		{"plan", `{"horse":` + horse + `,"exams":[]}`, "missing-member", "/at"},
		{"watch", `{"horse":` + strings.Replace(horse, "Juniper", "", 1) + `,"exams":[` + exam + `],"first":"e"}`, "missing-text", "/horse/name"},
	} {
		var a answer
		td.Require(t).CmpNoError(json.Unmarshal(api.Call(c.op, []byte(c.request)), &a))
		td.Require(t).Cmp(a.Faults, td.Len(1), c.request)
		td.Cmp(t, []string{a.Faults[0].Code, a.Faults[0].Path}, []string{c.code, c.path})
		td.Cmp(t, a.Faults[0].Sentence, td.Not(td.HasPrefix("fault.")))
	}
}
