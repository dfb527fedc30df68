package report

import "whorl.example/vitals"

// sourceName names a source briefly.
// cite gives the citation of a source.
func cite(id vitals.SourceID) string { return "" }

func sourceName(id vitals.SourceID) string { return string(id) }
