package schema_test

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/wasm/checks"
)

// beyond are the faults that a JSON Schema cannot state, or that its readers mend before
// it looks; a document that has no other fault is one that the validator may accept.
var beyond = []vitals.FaultCode{
	// What one part says of another.
	"duplicate-id", "unknown-horse", "duplicate-finding", "tap-order", "said-before", "ended-later",
	// A span that is the sign's own, or in either of two units; a unit of the air.
	"beyond-span", "out-of-range", "wrong-unit",
	// A text of nothing but white space, or with a control character where none may stand.
	"missing-text", "control-character",
	// Bytes that are no UTF-8, and numbers beyond 2^53: a reader has mended both before a validator looks.
	"bad-text", "number-too-big",
}

// ajv reads documents, one a line and in base64, and writes a letter for each: a accepts, r
// refuses, x is no JSON. The formats are those of ajv-formats.
const ajv = `
const {createRequire} = require("node:module");
const from = home => createRequire(home + "/x.js");
const Ajv = from(process.argv[2])("ajv/dist/2020").default;
const {fullFormats} = from(process.argv[3])("ajv-formats/dist/formats");
const checker = new Ajv({strict: false, formats: fullFormats});
const accepts = checker.compile(JSON.parse(require("node:fs").readFileSync("whorl-1.schema.json", "utf8")));
let out = "";
require("node:readline").createInterface({input: process.stdin}).on("line", line => {
  let doc;
  try { doc = JSON.parse(Buffer.from(line, "base64").toString("utf8")); } catch { out += "x"; return; }
  out += accepts(doc) ? "a" : "r";
}).on("close", () => process.stdout.write(out));
`

// startAjv gives what takes a document, and what then gives the letters; the test is skipped without ajv.
func startAjv(t *testing.T) (take func([]byte), letters func() string) {
	script := filepath.Join(t.TempDir(), "ajv.cjs")
	if err := os.WriteFile(script, []byte(ajv), 0o600); err != nil {
		t.Fatal(err)
	}
	node := exec.Command(checks.Node(t), script, checks.NPM(t, "ajv@8.17.1"), checks.NPM(t, "ajv-formats@3.0.1"))
	var out bytes.Buffer
	node.Stdout, node.Stderr = &out, os.Stderr
	in, err := node.StdinPipe()
	if err == nil {
		err = node.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewWriter(in)
	take = func(doc []byte) { lines.WriteString(base64.StdEncoding.EncodeToString(doc) + "\n") }
	return take, func() string {
		if err := errors.Join(lines.Flush(), in.Close(), node.Wait()); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
}

// TestVerdictsOnMutatedDocuments gives documents that were in order, and were then changed
// in one to three places, to the strict decoder and to two validators of the JSON Schema:
// santhosh-tekuri/jsonschema, and ajv where npm has it. What a validator refuses the decoder refuses; what
// the decoder alone refuses has a fault of beyond. Both validators say the same, but of a number that is infinite in
// JavaScript. 12,000 documents, or 120,000 with WHORL_LONG=1; the seed is fixed.
func TestVerdictsOnMutatedDocuments(t *testing.T) {
	ran := false
	t.Run("both", func(t *testing.T) {
		take, letters := startAjv(t)
		ran = true
		verdicts(t, take, letters)
	})
	if !ran {
		verdicts(t, nil, nil)
	}
}

func verdicts(t *testing.T, take func([]byte), letters func() string) {
	documents := 12_000
	if os.Getenv("WHORL_LONG") == "1" {
		documents = 120_000
	}
	var valid [][]byte
	for _, data := range files(t, "pass") {
		if len(data) < 6_000 {
			valid = append(valid, data)
		}
	}
	slices.SortFunc(valid, bytes.Compare)
	m := mutator{rand.New(rand.NewPCG(7, 11))}
	var both, neither, alone int
	codes := map[vitals.FaultCode]int{}
	type verdict struct {
		faults vitals.Faults
		other  bool // accepted by the validator
		doc    []byte
	}
	var all []verdict
	for range documents {
		data := m.mutate(valid[m.IntN(len(valid))])
		_, err := schema.Decode(data)
		doc, broken := jsonschema.UnmarshalJSON(bytes.NewReader(data))
		v := verdict{other: broken == nil && jsonSchema(t).Validate(doc) == nil}
		v.faults, _ = errors.AsType[vitals.Faults](err)
		if take != nil {
			take(data)
			v.doc = data
			all = append(all, v)
		}
		agree(t, "jsonschema", data, v.faults, v.other)
		switch {
		case len(v.faults) == 0:
			both++
		case !v.other:
			neither++
		default:
			alone++
			for _, f := range v.faults {
				codes[f.Code]++
			}
		}
	}
	t.Logf("%d documents: both accept %d, both refuse %d, the decoder alone refuses %d %v", documents, both, neither, alone, codes)
	if take == nil {
		return
	}
	said := letters()
	if len(said) != documents {
		t.Fatalf("%d verdicts of %d documents", len(said), documents)
	}
	for i, v := range all {
		accepts := said[i] == 'a'
		agree(t, "ajv", v.doc, v.faults, accepts)
		infinite := slices.ContainsFunc(v.faults, func(f vitals.Fault) bool { return f.Code == schema.NumberTooBig })
		if accepts != v.other && !infinite {
			t.Errorf("ajv accepts: %v, jsonschema: %v: %.3000s", accepts, v.other, v.doc)
		}
	}
	t.Logf("ajv accepts %d, refuses %d, cannot read %d", strings.Count(said, "a"), strings.Count(said, "r"), strings.Count(said, "x"))
}

// agree holds the decoder's verdict to a validator's.
func agree(t *testing.T, validator string, doc []byte, faults vitals.Faults, accepts bool) {
	t.Helper()
	if len(faults) == 0 && !accepts {
		t.Errorf("%s alone refuses %.3000s", validator, doc)
	}
	stated := len(faults) > 0
	for _, f := range faults {
		stated = stated && !slices.Contains(beyond, f.Code)
	}
	if stated && accepts {
		t.Errorf("the decoder alone refuses (%v) what %s accepts: %.3000s", listed(faults), validator, doc)
	}
}

// mutator changes documents.
type mutator struct{ *rand.Rand }

func (m mutator) mutate(data []byte) []byte {
	if m.IntN(8) == 0 {
		return m.bytes(data)
	}
	if m.IntN(4) == 0 {
		return m.digits(data)
	}
	var tree any
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	if d.Decode(&tree) != nil {
		return data
	}
	for range 1 + m.IntN(2)*m.IntN(3) {
		tree = m.change(tree)
	}
	out, err := json.Marshal(tree)
	if err != nil {
		return data
	}
	return out
}

// bytes changes the text itself.
func (m mutator) bytes(data []byte) []byte {
	out := slices.Clone(data)
	i := m.IntN(len(out))
	switch m.IntN(4) {
	case 0:
		return out[:i]
	case 1:
		out[i] = byte(m.IntN(256))
	case 2:
		out = slices.Insert(out, i, []byte(`,:{}[]"\0e.-`)[m.IntN(12)])
	default:
		out = slices.Delete(out, i, min(len(out), i+1+m.IntN(8)))
	}
	return out
}

// digits changes one digit for another, which leaves most documents in order: another reading, another time.
func (m mutator) digits(data []byte) []byte {
	out := slices.Clone(data)
	for range 50 {
		if i := m.IntN(len(out)); out[i] >= '0' && out[i] <= '9' {
			out[i] = byte('0' + m.IntN(10))
			break
		}
	}
	return out
}

// change changes one place somewhere in a tree.
func (m mutator) change(v any) any {
	switch v := v.(type) {
	case map[string]any:
		if len(v) > 0 && m.IntN(12) > 0 {
			name := m.name(v)
			switch m.IntN(10) {
			case 0:
				delete(v, name)
			case 1:
				v[name+"x"] = v[name]
			default:
				v[name] = m.change(v[name])
			}
			return v
		}
	case []any:
		if len(v) > 0 && m.IntN(12) > 0 {
			i := m.IntN(len(v))
			switch m.IntN(10) {
			case 0:
				return slices.Delete(v, i, i+1)
			case 1:
				return append(v, v[i])
			default:
				v[i] = m.change(v[i])
			}
			return v
		}
	case string:
		if m.IntN(3) > 0 {
			return m.text(v)
		}
	case json.Number:
		if m.IntN(3) > 0 {
			n, _ := strconv.Atoi(string(v))
			return json.Number([]string{"-1", "0", strconv.Itoa(n + 1), strconv.Itoa(n * 7), "1.5", "1e3", "1e400", "9007199254740993"}[m.IntN(8)])
		}
	}
	return []any{nil, true, "", "x", json.Number("3"), []any{}, map[string]any{}, []any{"x"}, "38.4", "2026-05-03", "2026-05-03T07:30:00Z"}[m.IntN(11)]
}

func (m mutator) name(v map[string]any) string {
	names := make([]string, 0, len(v))
	for name := range v {
		names = append(names, name)
	}
	slices.Sort(names)
	return names[m.IntN(len(names))]
}

// others are texts that mean something elsewhere in a document.
var others = []string{"well", "rest", "heart-rate", "gum-colour", "pink", "jaw", "Cel", "[degF]", "/min", "mare", "horse", "full",
	"2026-02-30", "2026-05-03T07:30:00+02:00", "0", "-5", "1.50", "99999999999999999999", "１２", "on-beat", "digital", "not-tried", "finished"}

func (m mutator) text(s string) string {
	switch m.IntN(6) {
	case 0:
		return s + s
	case 1:
		return s + " "
	case 2:
		if len(s) > 0 {
			return s[:len(s)-1]
		}
		return "-"
	case 3:
		return "\x00" + s
	default:
		return others[m.IntN(len(others))]
	}
}
