package pack

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// byDecoder are the faults that a schema has no words for.
var byDecoder = []string{"out-of-range", "pack-limit", "wrong-unit", "pack-id", "duplicate-id", "unknown-grade", "control-character"}

// The committed schema takes the examples; of the broken files it refuses each but those whose fault it cannot say, and what it
// refuses the decoder refuses.
func TestTheSchemaSaysWhatTheDecoderSays(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("whorl-pack-1.schema.json")
	td.Require(t).CmpNoError(err)
	parsed, err := jsonschema.UnmarshalJSON(strings.NewReader(string(text)))
	td.Require(t).CmpNoError(err)
	c := jsonschema.NewCompiler()
	td.Require(t).CmpNoError(c.AddResource("pack.json", parsed))
	s, err := c.Compile("pack.json")
	td.Require(t).CmpNoError(err)
	valid := func(file string) bool {
		doc, err := jsonschema.UnmarshalJSON(strings.NewReader(file))
		return err == nil && s.Validate(doc) == nil
	}
	td.CmpTrue(t, valid(example(t)))
	taken := 0
	for _, b := range broken {
		file := strings.Replace(example(t), b.old, b.new, 1)
		code, _, _ := strings.Cut(b.at, " ")
		switch {
		case valid(file):
			taken++
			dosed := code == string(NoAsking) && strings.Contains(b.new, "?\"")
			td.CmpTrue(t, dosed || slices.Contains(byDecoder, code), "%s is taken by the schema", b.at)
		case code == "out-of-range", code == "pack-id", code == "duplicate-id":
			t.Errorf("%s: the schema refuses something else", b.at)
		}
	}
	td.Cmp(t, len(broken)-taken, td.Gte(25), "the schema refuses too little")
	for _, ok := range []string{`"low": "38.3"`, `"high": "38.3"`} {
		td.CmpTrue(t, valid(strings.Replace(example(t), `"low": "37.0", "high": "38.4"`, ok, 1)), ok)
	}
}
