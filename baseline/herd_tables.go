package baseline

import (
	"slices"
	"strconv"

	"whorl.example/baseline/internal/level"
	"whorl.example/vitals"
)

// HerdTable is a herd's sums of one sign of one type of animal, to be written down; package whorl.example/schema/herd has their JSON form.
type HerdTable struct {
	Rules  string        `json:"rules"` // by which the sums were made
	Type   vitals.Type   `json:"type"`
	Sign   vitals.SignID `json:"sign"`
	Horses int           `json:"horses"`
	Sums   []int64       `json:"sums"`
}

// Tables gives what may leave a yard: the sums of [HerdLeast] horses or more, the caller's own copy. The same horses give the same tables. Two
// files of one yard that differ by one horse tell of that horse whoever has both.
func (h *Herd) Tables() []HerdTable { return h.ofAtLeast(HerdLeast) }

// AllTables gives all of it, for a sum that is still being made, by a combine step or on one's own device: it may tell of a single horse and is to be
// treated as its record.
func (h *Herd) AllTables() []HerdTable { return h.ofAtLeast(1) }

func (h *Herd) ofAtLeast(least int) []HerdTable {
	out := []HerdTable{}
	for i := range h.tables {
		t := &h.tables[i]
		if rules, ok := herdRules(t.typ, t.sign); ok && t.horses >= least {
			out = append(out, HerdTable{rulesText(rules), t.typ, t.sign, t.horses, slices.Clone(t.sums)})
		}
	}
	return out
}

func rulesText(p [2]uint64) string {
	text := strconv.FormatUint(p[0], 16)
	return "0000000000000000"[len(text):] + text
}

// HerdOf gives the herd of tables of [Herd.Tables] or [Herd.AllTables]. The error is a [vitals.Faults]: [FaultBadHerd], or [FaultStaleHerd]
// where sums were made by other rules, at the table's place.
func HerdOf(tables []HerdTable) (*Herd, error) {
	h := new(Herd)
	for i, x := range tables {
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
		h.put(&herdTable{x.Type, x.Sign, x.Horses, slices.Clone(x.Sums)}, 1)
	}
	return h, nil
}

// mostHorses of a sum; of a thousand such sums the integers still hold.
const mostHorses = 1_000_000
