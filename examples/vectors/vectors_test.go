package vectors_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"regexp"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/examples/vectors"
	"whorl.example/wasm/api"
)

var update = flag.Bool("update", false, "write vectors.jsonl anew")

const file = "vectors.jsonl"

func TestNative(t *testing.T) {
	t.Parallel()
	if *update {
		var out bytes.Buffer
		e := json.NewEncoder(&out)
		e.SetEscapeHTML(false)
		for _, v := range vectors.Make() {
			td.Require(t).CmpNoError(e.Encode(v))
		}
		td.Require(t).CmpNoError(os.WriteFile(file, out.Bytes(), 0o644))
	}
	all, err := vectors.Read(file)
	td.Require(t).CmpNoError(err)
	td.Require(t).Cmp(len(all), td.Gte(200))
	refused := 0
	for i, v := range all {
		answer := api.Call(v.Op, []byte(v.Request))
		if vectors.Hash(answer) != v.SHA256 {
			t.Errorf("vector %d: %s of %.200s answers otherwise", i+1, v.Op, v.Request)
		}
		if bytes.HasPrefix(answer, []byte(`{"ok":false`)) {
			refused++
		}
	}
	td.Cmp(t, refused, td.Gte(40), "bad input is among them")
	td.Cmp(t, len(all)-refused, td.Gte(150))
	if t.Failed() {
		t.Log("if a figure or a sentence was changed on purpose: go test ./examples/vectors -update")
	}
}

// Every operation has a vector that is answered with a value; remember changes what is kept between calls, and no answer.
func TestEveryOperationHasAVector(t *testing.T) {
	t.Parallel()
	page, err := os.ReadFile("../../wasm/api/OPERATIONS.md")
	td.Require(t).CmpNoError(err)
	all, err := vectors.Read(file)
	td.Require(t).CmpNoError(err)
	answered := map[string]bool{"remember": true}
	for _, v := range all {
		if !answered[v.Op] {
			answered[v.Op] = bytes.HasPrefix(api.Call(v.Op, []byte(v.Request)), []byte(`{"ok":true`))
		}
	}
	ops := regexp.MustCompile("(?m)^\\| `(\\w+)` \\|").FindAllStringSubmatch(string(page), -1)
	td.Cmp(t, ops, td.Len(td.Gt(20)))
	for _, op := range ops {
		if !answered[op[1]] {
			t.Errorf("%s: no vector with a value: add a call in make.go, then go test ./examples/vectors -update", op[1])
		}
	}
}
