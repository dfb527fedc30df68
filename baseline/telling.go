package baseline

import (
	"slices"

	"whorl.example/vitals"
)

// TellingWhy is why a sign is worth looking at again.
type TellingWhy string

const (
	TellingAlarm   TellingWhy = "alarm"   // a rule to ring fired by it
	TellingUnusual TellingWhy = "unusual" // not as usual for this horse
	TellingSettle  TellingWhy = "settle"  // a better measurement may change what is said of it
)

// Telling is a sign of an exam that is worth looking at again.
type Telling struct {
	Sign vitals.SignID `json:"sign"`
	Why  TellingWhy    `json:"why"`
}

// Telling gives the signs that a series of rechecks should look at: those by which a rule
// to ring fired, those not as usual, and those where a better measurement may change the
// statement. Each comes once, with the first of these reasons, in the catalogue's order.
func (c Comparison) Telling() []Telling {
	why := map[vitals.SignID]TellingWhy{}
	add := func(sign vitals.SignID, reason TellingWhy) {
		if _, there := why[sign]; !there {
			why[sign] = reason
		}
	}
	for _, a := range c.Alarms {
		for _, sign := range append([]vitals.SignID{a.Sign}, a.With...) {
			add(sign, TellingAlarm)
		}
	}
	for _, s := range c.Signs {
		if s.Statement.Unusual() || s.Statement == FirstSeen {
			add(s.Sign, TellingUnusual)
		}
	}
	for _, s := range c.Signs {
		if s.Settle != nil {
			add(s.Sign, TellingSettle)
		}
	}
	var out []Telling
	for _, sign := range vitals.Catalogue() {
		if reason, there := why[sign.ID]; there {
			out = append(out, Telling{sign.ID, reason})
		}
	}
	return slices.Clip(out)
}
