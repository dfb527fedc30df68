package baseline

import (
	"encoding/json"
	"fmt"
	"slices"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// herdFile is the JSON form of a herd.
type herdFile struct {
	Tables []herdFileTable `json:"herd"`
}

type herdFileTable struct {
	Rules  string        `json:"rules"`
	Type   vitals.Type   `json:"type"`
	Sign   vitals.SignID `json:"sign"`
	Horses int           `json:"horses"`
	Sums   []int64       `json:"sums"`
}

// MarshalJSON gives what may leave a yard: the sums of [HerdLeast] horses or more. The same horses give the same bytes. Two files of one yard that
// differ by one horse tell of that horse whoever has both.
func (h *Herd) MarshalJSON() ([]byte, error) { return json.Marshal(h.file(HerdLeast)) }

// Encode gives all of it, for a sum that is still being made, by a combine step or on one's own device: it may tell of a single horse and is to be
// treated as its record. Both forms are read by [OpenHerd].
func (h *Herd) Encode() []byte {
	out, err := json.Marshal(h.file(1))
	if err != nil { // of text and integers there is none
		return nil
	}
	return out
}

func (h *Herd) file(least int) herdFile {
	f := herdFile{Tables: []herdFileTable{}}
	for i := range h.tables {
		t := &h.tables[i]
		if rules, ok := herdRules(t.typ, t.sign); ok && t.horses >= least {
			f.Tables = append(f.Tables, herdFileTable{rulesText(rules), t.typ, t.sign, t.horses, t.sums})
		}
	}
	return f
}

func rulesText(p [2]uint64) string { return fmt.Sprintf("%016x", p[0]) }

// OpenHerd reads a herd. The error is a [vitals.Faults]: [FaultBadHerd], or [FaultStaleHerd] where sums were made by other rules.
func OpenHerd(data []byte) (*Herd, error) {
	var f herdFile
	if err := json.Unmarshal(data, &f); err != nil || f.Tables == nil {
		return nil, fault(FaultBadHerd, "")
	}
	h := new(Herd)
	for i, x := range f.Tables {
		path := "/herd/" + itoa(i)
		rules, ok := herdRules(x.Type, x.Sign)
		if !ok || !slices.Contains(vitals.Types(), x.Type) || x.Horses < 1 || x.Horses > mostHorses || len(x.Sums) != level.EvidencePoints || h.horses(x.Type, x.Sign) > 0 {
			return nil, fault(FaultBadHerd, path)
		}
		if x.Rules != rulesText(rules) {
			return nil, fault(FaultStaleHerd, path)
		}
		for _, s := range x.Sums {
			if s > int64(x.Horses)*level.EvidenceMost || s < -int64(x.Horses)*level.EvidenceMost {
				return nil, fault(FaultBadHerd, path)
			}
		}
		h.put(&herdTable{x.Type, x.Sign, x.Horses, x.Sums}, 1)
	}
	return h, nil
}

// UnmarshalJSON is [OpenHerd].
func (h *Herd) UnmarshalJSON(data []byte) error {
	o, err := OpenHerd(data)
	if err == nil {
		*h = *o
	}
	return err
}

// mostHorses of a sum; of a thousand such sums the integers still hold.
const mostHorses = 1_000_000
