package wasm_test

import (
	"encoding/json"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals/words"
	"whorl.example/wasm/api"
)

// hand is a page without a page: it loads the core as a page does, calls it with each list
// of arguments that it reads, and writes the answers.
const hand = `
import { readFileSync } from 'node:fs';
import { argv } from 'node:process';
await import('file://' + argv[2]);
const go = new globalThis.Go();
let events = 0;
globalThis.dispatchEvent = e => { if (e.type === 'whorl-ready') events++; };
const { instance } = await WebAssembly.instantiate(readFileSync(argv[3]), go.importObject);
go.run(instance);
const { words, calls } = JSON.parse(readFileSync(argv[4], 'utf8'));
for (const [lang, all] of Object.entries(words)) globalThis.whorlWords(lang, Object.entries(all).flat().map(s => s + '\0').join(''));
const answers = calls.map(args => globalThis.whorlCall(...args));
process.stdout.write(JSON.stringify({ events, answers }), () => process.exit(0));
`

// The core gives the page the same bytes that package api gives natively; and a call that
// is no call gets faults and leaves the core alive.
func TestTheBrowsersCoreAnswersAsTheNativeOne(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("left out by -short: builds the core")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here; the page's own tests call the core in a browser")
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	compiled, err := core()
	if err != nil {
		t.Fatal(err)
	}
	const horse = `{"id":"h","name":"Ḧàlima 🐴","type":"donkey"}`
	good := [][]any{
		{"version", "{}"}, {"catalogue", "{}"}, {"words", "{}"}, {"schema", "{}"}, {"steps", `{"depth":"full"}`},
		{"check", `{"horse":` + horse + `}`}, {"nothing", "{}"}, {"read", `{"file":"{"}`},
		{"write", `{"file":{"kind":"whorl-barn","format":1,"horses":[` + horse + `],"exams":[]}}`},
		{"taps", `{"sign":"heart-rate","atMs":[0,1480,2990,4510,5990,7480,9010,10490,12000,13510]}`},
		{"measure", `{"sign":"capillary-refill","finding":{"sign":"capillary-refill","timed":{"centiSeconds":[150,163,171]}}}`},
	}
	const record = `"horse":{"id":"h","name":"Juniper","type":"horse","sex":"mare"},"exams":[` +
		`{"id":"a","horse":"h","at":"2026-05-01T07:30:00+02:00","depth":"full","purpose":"learning","state":{"condition":"rest"},` +
		`"wellness":"well","status":"finished","findings":[{"sign":"heart-rate","count":{"events":37,"seconds":60,"start":"on-beat"}},` +
		`{"sign":"rectal-temperature","reading":{"value":"100.2","unit":"[degF]","device":"digital"}}]}]`
	const exam = `"exam":{"id":"b","horse":"h","at":"2026-05-03T02:10:00+02:00","depth":"full","purpose":"concern","state":{"condition":"rest"},` +
		`"status":"draft","findings":[{"sign":"heart-rate","taps":{"atMs":[0,1180,2390,3610,4790,5980,7210,8390,9600,10810]}},` +
		`{"sign":"rectal-temperature","reading":{"value":"102.9","unit":"[degF]","device":"digital"}},` +
		`{"sign":"attitude","chosen":["dull"]},{"sign":"digital-pulse","site":"fore-left","absent":"could-not"}]}`
	for _, op := range []string{"compare", "report"} {
		good = append(good, []any{op, `{` + record + `,` + exam + `}`})
	}
	good = append(good, []any{"known", `{` + record + `,"at":"2026-05-03T02:10:00+02:00"}`})
	misused := [][]any{{}, {"version"}, {"version", 7}, {7, "{}"}, {nil, nil}, {"version", "{}", "x"}, {"version", []int{1}}}

	asked := len(good)
	// The vectors that every host must answer alike.
	vectors, err := os.Open(filepath.Join(root, "examples", "vectors", "vectors.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	defer vectors.Close()
	for in := json.NewDecoder(vectors); ; {
		var v struct{ Op, Request string }
		if err := in.Decode(&v); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		good = append(good, []any{v.Op, v.Request})
	}
	// The page gives its own words too; the core leaves them.
	said := map[words.Lang]map[string]string{}
	for _, l := range words.Langs() {
		said[l] = words.Keys(l)
		maps.Copy(said[l], words.Page(l))
	}
	input, err := json.Marshal(map[string]any{"words": said, "calls": append(append(misused, good...), misused...)})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for name, text := range map[string][]byte{"hand.mjs": []byte(hand), "core.wasm": compiled, "calls.json": input} {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(node, filepath.Join(dir, "hand.mjs"),
		filepath.Join(strings.TrimSpace(string(goroot)), "lib", "wasm", "wasm_exec.js"), filepath.Join(dir, "core.wasm"), filepath.Join(dir, "calls.json"))
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Events  int      `json:"events"`
		Answers []string `json:"answers"`
	}
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	td.Cmp(t, got.Events, 1)
	td.Cmp(t, got.Answers, td.Len(len(good)+2*len(misused)))
	for i := range misused {
		td.Cmp(t, got.Answers[i], td.Contains(`"code":"not-text"`))
	}
	for i, c := range good {
		op, request := c[0].(string), c[1].(string)
		native := string(api.Call(op, []byte(request)))
		td.Cmp(t, got.Answers[len(misused)+i], native, op)
		if i < asked && op != "nothing" && op != "read" {
			td.Cmp(t, native, td.HasPrefix(`{"ok":true`), op)
		}
	}
}
