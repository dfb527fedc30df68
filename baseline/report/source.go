package report

import (
	"strings"

	"whorl.example/vitals"
)

// sourceName names a source briefly: its citation up to the first comma (who published it).
func sourceName(id vitals.SourceID) string {
	if s, ok := vitals.LookupSource(id); ok {
		name, _, _ := strings.Cut(s.Cite, ",")
		return name
	}
	return clean(string(id))
}

// cite gives the citation of a source in full; empty if the catalogue does not have it.
func cite(id vitals.SourceID) string {
	s, ok := vitals.LookupSource(id)
	if !ok {
		return ""
	}
	if s.Where == "" {
		return s.Cite
	}
	return s.Cite + " (" + s.Where + ")"
}
