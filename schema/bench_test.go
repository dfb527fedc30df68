package schema_test

import (
	"bytes"
	"encoding/json"
	"strconv"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// tenYears is a barn file of 500 exams, about one a week for ten years.
func tenYears(b *testing.B) []byte {
	b.Helper()
	file, err := schema.Decode(files(b, "pass")["every-kind-of-finding"])
	if err != nil {
		b.Fatal(err)
	}
	one := file.Exams[0]
	file.Exams = nil
	for i := range 500 {
		one.ID = vitals.ID("e" + strconv.Itoa(i))
		file.Exams = append(file.Exams, one)
	}
	text, err := schema.Encode(file)
	if err != nil {
		b.Fatal(err)
	}
	return text
}

// BenchmarkDecode sets the strict decoder beside what it is instead of: encoding/json alone,
// which lets duplicates and broken text pass and stops at its first fault, and a validator
// of the JSON Schema before it, which says nothing of ids, dates and values.
func BenchmarkDecode(b *testing.B) {
	text := tenYears(b)
	run := func(name string, read func() error) {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				if err := read(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	run("schema", func() error { _, err := schema.Decode(text); return err })
	run("encoding-json", func() error { var f schema.File; return json.Unmarshal(text, &f) })
	validator := jsonSchema(b)
	run("json-schema", func() error {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			return err
		}
		return validator.Validate(doc)
	})
}

func BenchmarkEncode(b *testing.B) {
	file, err := schema.Decode(tenYears(b))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := schema.Encode(file); err != nil {
			b.Fatal(err)
		}
	}
}
