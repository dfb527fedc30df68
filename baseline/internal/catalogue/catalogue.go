// Package catalogue holds one copy of the catalogue of signs for all that compare exams.
package catalogue

import (
	"sync"

	"whorl.example/vitals"
)

// Signs is the package's own copy of the signs.
var Signs = sync.OnceValue(vitals.Catalogue)

var Index = sync.OnceValue(func() map[vitals.SignID]int {
	m := make(map[vitals.SignID]int)
	for i, s := range Signs() {
		m[s.ID] = i
	}
	return m
})

// indexFrom gives the place of a sign in the catalogue. Findings mostly stand in its order: from the place of the one
// before, the next few are looked at first.
func IndexFrom(signs []vitals.Sign, from int, id vitals.SignID) (i int, ok bool) {
	for i = from; i < min(from+8, len(signs)); i++ {
		if signs[i].ID == id {
			return i, true
		}
	}
	i, ok = Index()[id]
	return i, ok
}

// lookup is vitals.Lookup, whose answer shares its lists with every other.
func Lookup(id vitals.SignID) (sign vitals.Sign, ok bool) {
	i, ok := Index()[id]
	if !ok {
		return vitals.Sign{}, false
	}
	return Signs()[i], true
}
