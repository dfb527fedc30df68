package schema_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"whorl.example/schema"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

const vectors = "testdata/barn-1"

// files gives the documents of a directory of vectors by their names without ".json".
func files(t testing.TB, dir string) map[string][]byte {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(vectors, dir, "*.json"))
	if err != nil || len(names) == 0 {
		t.Fatalf("no vectors in %s: %v", dir, err)
	}
	out := map[string][]byte{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out[strings.TrimSuffix(filepath.Base(name), ".json")] = data
	}
	return out
}

// want reads the sidecar of a document to be refused: whether the JSON Schema refuses it
// too, then one fault a line: its code and place ("-" is the whole document).
func want(t *testing.T, name string) (byJSONSchema string, faults []string) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(vectors, "fail", name+".want"))
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	byJSONSchema, ok := strings.CutPrefix(lines[0], "schema: ")
	if !ok {
		t.Fatalf("%s.want: no line schema:", name)
	}
	return byJSONSchema, lines[1:]
}

func listed(err error) []string {
	var out []string
	faults, _ := errors.AsType[vitals.Faults](err)
	for _, f := range faults {
		path := f.Path
		if path == "" {
			path = "-"
		}
		out = append(out, string(f.Code)+" "+path)
	}
	return out
}

func TestVectorsThatPass(t *testing.T) {
	for name, data := range files(t, "pass") {
		t.Run(name, func(t *testing.T) {
			file, err := schema.Decode(data)
			td.CmpNoError(t, err)
			text, err := schema.Encode(file)
			td.CmpNoError(t, err)
			again, err := schema.Decode(text)
			td.CmpNoError(t, err)
			td.Cmp(t, again, file)
			td.CmpNoError(t, jsonSchema(t).Validate(instance(t, data)), "JSON Schema, as written")
			td.CmpNoError(t, jsonSchema(t).Validate(instance(t, text)), "JSON Schema, in canonical form")
		})
	}
}

func TestVectorsThatFail(t *testing.T) {
	for name, data := range files(t, "fail") {
		t.Run(name, func(t *testing.T) {
			byJSONSchema, faults := want(t, name)
			file, err := schema.Decode(data)
			td.Cmp(t, listed(err), td.Bag(td.Flatten(faults)))
			td.Cmp(t, file, schema.File{}, "nothing of a refused file is used")
			faulty, _ := errors.AsType[vitals.Faults](err)
			for _, f := range faulty {
				td.CmpTrue(t, words.Has(words.English, "fault."+string(f.Code)), "a sentence for %s", f.Code)
				td.CmpNot(t, f.Sentence, td.Contains("{"), "every field of the sentence of %s is filled", f.Code)
			}
			td.Cmp(t, verdict(t, data), byJSONSchema)
		})
	}
}

// verdict says what the JSON Schema makes of a document.
func verdict(t *testing.T, data []byte) string {
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		return "cannot read"
	}
	if jsonSchema(t).Validate(doc) != nil {
		return "refuses"
	}
	return "accepts"
}

func instance(t *testing.T, data []byte) any {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// jsonSchema is the committed schema; the compiler holds it to the 2020-12 metaschema.
func jsonSchema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	s, err := compiled()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

var compiled = sync.OnceValues(func() (*jsonschema.Schema, error) {
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(string(schema.JSONSchema())))
	if err != nil {
		return nil, err
	}
	const at = "whorl-1.schema.json"
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource(at, doc); err != nil {
		return nil, err
	}
	return c.Compile(at)
})
