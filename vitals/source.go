package vitals

// Mark says how far a figure can be trusted: how it came from its source into the
// catalogue. Every figure that ships carries one.
type Mark string

const (
	// Read: the figure was read in the source named.
	Read Mark = "read"
	// SecondHand: read in a copy or quotation that names the original.
	SecondHand Mark = "second-hand"
	// Memory: from memory, not checked against the source.
	Memory Mark = "memory"
	// Derived: by arithmetic from figures that carry their own marks.
	Derived Mark = "derived"
	// CommonPractice: a fact of the trade without a published source.
	CommonPractice Mark = "common-practice"
	// Assumed: chosen by us because no source was found.
	Assumed Mark = "assumed"
)

// SourceID names one entry of [Sources].
type SourceID string

// Source is a published work that figures of the catalogue come from.
type Source struct {
	ID SourceID `json:"id"`
	// Cite is the citation as a reader would look for it.
	Cite string `json:"cite"`
	// Where is a page, article or identifier inside the work, or an address.
	Where string `json:"where,omitempty"`
}

// Provenance is where one figure comes from.
type Provenance struct {
	Source SourceID `json:"source,omitempty"`
	Mark   Mark     `json:"mark"`
	// Note says what a reader must know besides: the derivation, a doubt, what was assumed.
	Note string `json:"note,omitempty"`
}
