// Package herd reads and writes what the horses of a yard teach together ([baseline.Herd]) as JSON. It stands apart, since a page that only
// compares has no use for it.
package herd

import (
	"encoding/json"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

// file is the JSON form.
type file struct {
	Tables []baseline.HerdTable `json:"herd"`
}

// Encode gives what may leave a yard ([baseline.Herd.Tables]). The same horses give the same bytes.
func Encode(h *baseline.Herd) []byte { return encode(h.Tables()) }

// EncodeAll gives all of it ([baseline.Herd.AllTables]), which is to be treated as a horse's record.
func EncodeAll(h *baseline.Herd) []byte { return encode(h.AllTables()) }

func encode(tables []baseline.HerdTable) []byte {
	out, err := json.Marshal(file{tables})
	if err != nil { // of text and integers there is none
		return nil
	}
	return out
}

// Decode reads either. The error is a [vitals.Faults] of the codes of [baseline.HerdOf].
func Decode(data []byte) (*baseline.Herd, error) {
	var f file
	if err := json.Unmarshal(data, &f); err != nil || f.Tables == nil {
		return nil, vitals.Faults{{Code: baseline.FaultBadHerd}}
	}
	return baseline.HerdOf(f.Tables)
}
