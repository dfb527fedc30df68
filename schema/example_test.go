package schema_test

import (
	"errors"
	"fmt"

	"whorl.example/schema"
	"whorl.example/vitals"
)

func ExampleDecode() {
	file, err := schema.Decode([]byte(`{
		"kind": "whorl-barn", "format": 1,
		"horses": [{"id": "juniper", "name": "Juniper", "type": "horse"}],
		"exams": [{"id": "first", "horse": "juniper", "at": "2026-05-03T07:30:00+02:00", "depth": "full",
			"purpose": "learning", "state": {"condition": "rest"}, "wellness": "well", "status": "finished",
			"findings": [{"sign": "rectal-temperature", "reading": {"value": "37.60", "unit": "Cel"}}]}]
	}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, e := range file.Exams {
		fmt.Println(file.Horses[0].Name, vitals.AsRead(e.Findings[0].Reading.Value))
	}
	// Output: Juniper 37.60
}

// A file with two faults gives both, each at its place.
func ExampleDecode_faults() {
	_, err := schema.Decode([]byte(`{
		"kind": "whorl-barn", "format": 1,
		"horses": [{"id": "juniper", "name": "Juniper", "type": "zebra"}],
		"exams": [], "weather": "fair"
	}`))
	if faults, ok := errors.AsType[vitals.Faults](err); ok {
		for _, f := range faults {
			fmt.Println(f.Code, f.Path)
		}
	}
	// Output:
	// unknown-member /weather
	// unknown-answer /horses/0/type
}
