package schema_test

import (
	"bytes"
	"encoding/json"
	"os"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"whorl.example/schema"
)

// A barn file read strictly, beside the usual way: encoding/json into values, and a
// validator for the JSON Schema. Both accept the file; the vectors compare their refusals.
func BenchmarkDecodeAgainstValidator(b *testing.B) {
	data, err := os.ReadFile("../wasm/page/demo/barn.json")
	if err != nil {
		b.Fatal(err)
	}
	parsed, err := jsonschema.UnmarshalJSON(bytes.NewReader([]byte(schema.JSONSchema())))
	if err != nil {
		b.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource("barn.json", parsed); err != nil {
		b.Fatal(err)
	}
	validator, err := compiler.Compile("barn.json")
	if err != nil {
		b.Fatal(err)
	}
	b.Run("strict", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		for b.Loop() {
			if _, err := schema.Decode(data); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("json-and-validator", func(b *testing.B) {
		b.SetBytes(int64(len(data)))
		for b.Loop() {
			document, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
			if err != nil {
				b.Fatal(err)
			}
			if err := validator.Validate(document); err != nil {
				b.Fatal(err)
			}
			var value any // into the types it would take longer
			if err := json.Unmarshal(data, &value); err != nil {
				b.Fatal(err)
			}
		}
	})
}
