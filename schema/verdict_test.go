package schema_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// beyond are the faults that a JSON Schema cannot state, or that its readers mend before
// it looks; a document that has no other fault is one that the validator may accept.
var beyond = []vitals.FaultCode{
	// What one part says of another.
	"duplicate-id", "unknown-horse", "duplicate-finding", "before-birth", "tap-order",
	// A span that is the sign's own, or in either of two units; a unit of the air.
	"beyond-span", "out-of-range", "wrong-unit",
	// A text of nothing but white space, or with a control character where none may stand.
	"missing-text", "control-character",
	// Bytes that are no UTF-8, and numbers beyond 2^53: a reader has mended both before a validator looks.
	"bad-text", "number-too-big",
}

// TestVerdictsOnMutatedDocuments gives documents that were in order, and were then changed
// in one to three places, to the strict decoder and to a validator of the JSON Schema.
// What the validator refuses the decoder refuses; what the decoder alone refuses has a
// fault of beyond. 12,000 documents, or 120,000 with WHORL_LONG=1; the seed is fixed.
func TestVerdictsOnMutatedDocuments(t *testing.T) {
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
	r := rand.New(rand.NewPCG(7, 11))
	m := mutator{r}
	var both, neither, alone int
	codes := map[vitals.FaultCode]int{}
	for range documents {
		data := m.mutate(valid[r.IntN(len(valid))])
		_, err := schema.Decode(data)
		refused := true
		if doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data)); err == nil {
			refused = jsonSchema(t).Validate(doc) != nil
		}
		switch faults, _ := errors.AsType[vitals.Faults](err); {
		case err == nil && refused:
			t.Errorf("the validator alone refuses %.3000s", data)
		case err == nil:
			both++
		case refused:
			neither++
		default:
			alone++
			stated := true
			for _, f := range faults {
				stated = stated && !slices.Contains(beyond, f.Code)
				codes[f.Code]++
			}
			if stated {
				t.Errorf("the decoder alone refuses (%v) %.3000s", listed(err), data)
			}
		}
	}
	t.Logf("%d documents: both accept %d, both refuse %d, the decoder alone refuses %d %v", documents, both, neither, alone, codes)
}

// mutator changes documents.
type mutator struct{ *rand.Rand }

func (m mutator) mutate(data []byte) []byte {
	if m.IntN(8) == 0 {
		return m.bytes(data)
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
