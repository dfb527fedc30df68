package recovery

import "whorl.example/vitals"

// CriterionID names a published criterion of recovery; its words are under
// "recovery.criterion.ID".
type CriterionID string

// RecoveryClock is the moment from which a published time limit runs.
type RecoveryClock string

const (
	// ClockArrival: arrival at the vet gate, the control point or the finish.
	ClockArrival RecoveryClock = "arrival"
	// ClockUnstated: the text at hand does not say.
	ClockUnstated RecoveryClock = "unstated"
)

// Criterion is a published heart rate that a horse must have come down to after work.
// Several bodies publish several; each is kept and each is answered, none is chosen.
type Criterion struct {
	ID CriterionID `json:"id"`
	// AtMost is the heart rate, per minute; a count of exactly that much meets it.
	AtMost float64 `json:"atMost"`
	// WithinMinutes is the time limit; 0 where the text gives none.
	WithinMinutes int           `json:"withinMinutes,omitempty"`
	Clock         RecoveryClock `json:"clock"`
	vitals.Provenance
}

// Criteria lists the published criteria for heart rate after endurance work.
func Criteria() []Criterion {
	m := func(id CriterionID, atMost float64, within int, clock RecoveryClock, source vitals.SourceID, mark vitals.Mark, note string) Criterion {
		return Criterion{id, atMost, within, clock, vitals.Provenance{Source: source, Mark: mark, Note: note}}
	}
	return []Criterion{
		m("fei-2019", 64, 0, ClockUnstated, srcFEI2019, vitals.Read, `"or as prescribed in the schedule"; the article read gives no time`),
		m("fei-2020-gate", 64, 15, ClockArrival, srcFEI2020, vitals.Memory, "from memory, not checked against the source"),
		m("fei-2020-final", 64, 20, ClockArrival, srcFEI2020, vitals.Memory, "from memory, not checked against the source"),
		m("fei-trial-first", 64, 20, ClockUnstated, srcFEITrial, vitals.Read, "trial of February to April 2019, first gate"),
		m("fei-trial-later", 60, 20, ClockUnstated, srcFEITrial, vitals.Read, "trial of February to April 2019, later gates and the final"),
		m("fei-2002-high", 64, 30, ClockUnstated, srcFEI2002, vitals.SecondHand, "proposal for three- and four-star rides"),
		m("fei-2002-two", 64, 20, ClockUnstated, srcFEI2002, vitals.SecondHand, "proposal for two-star rides"),
		m("fei-2002-one", 56, 20, ClockUnstated, srcFEI2002, vitals.SecondHand, "proposal for one-star rides"),
		m("aerc", 64, 30, ClockArrival, srcAERC, vitals.SecondHand, `the rule says a reasonable recovery for the day's conditions within 30 minutes; "usually of 64 bpm or less" is the handbook's`),
	}
}

// TrotClock is the moment from which the second count after a trot-out is timed.
type TrotClock = vitals.TrotClock

// Clock starts of a trot-out.
const (
	FromTrotStart  = vitals.FromTrotStart
	FromFirstCount = vitals.FromFirstCount
	FromTrotEnd    = vitals.FromTrotEnd
	FromUnknown    = vitals.FromUnknown
)

// TrotDefinition is one published definition of the difference after a trot-out (cardiac
// recovery index). They differ in the distance and in what starts the clock, so that a
// difference taken by one must not be read by another.
type TrotDefinition struct {
	ID string `json:"id"`
	// OutMetres is the way out; the way back is as long.
	OutMetres float64   `json:"outMetres"`
	Clock     TrotClock `json:"clock"`
	// Seconds from the clock's start to the second count; 0 where the text gives none.
	Seconds int `json:"seconds,omitempty"`
	// Above is the difference HR1-HR0, per minute, above which the source takes notice.
	// Nil where the text at hand gives none.
	Above *float64 `json:"above,omitempty"`
	// OnlyAbove: the source found it to matter only with HR0 above this.
	OnlyAbove *float64 `json:"onlyAbove,omitempty"`
	// AgainMinutes are the least and the most minutes after which the source counts again.
	AgainMinutes []int `json:"againMinutes,omitempty"`
	vitals.Provenance
}

// TrotDefinitions lists the published definitions.
func TrotDefinitions() []TrotDefinition {
	num := func(x float64) *float64 { return &x }
	return []TrotDefinition{
		{ID: "aerc", OutMetres: 125 * 0.3048, Clock: FromTrotStart, Seconds: 60, Above: num(0), AgainMinutes: []int{10, 15},
			Provenance: vitals.Provenance{Source: srcAERCJudge, Mark: vitals.SecondHand, Note: "125 ft out and back; good is the same or 4 lower, higher is counted again"}},
		{ID: "fei", OutMetres: 40, Clock: FromFirstCount, Seconds: 60,
			Provenance: vitals.Provenance{Source: srcMira, Mark: vitals.Read}},
		{ID: "france", OutMetres: 30, Clock: FromUnknown, Above: num(4), OnlyAbove: num(60),
			Provenance: vitals.Provenance{Source: srcFrance, Mark: vitals.Read, Note: "489 horses; the clock's start is not in the text at hand"}},
	}
}

// Sources of the criteria and definitions, and of the remark on breathing faster than the heart beats.
const (
	srcFEI2019   vitals.SourceID = "fei-endurance-2019"
	srcFEITrial  vitals.SourceID = "fei-endurance-trial-2019"
	srcFEI2002   vitals.SourceID = "fei-endurance-proposal-2002"
	srcFEI2020   vitals.SourceID = "fei-endurance-2020"
	srcAERC      vitals.SourceID = "aerc-rules-2000"
	srcAERCJudge vitals.SourceID = "aerc-control-judge"
	srcMira      vitals.SourceID = "mira-cri"
	srcFrance    vitals.SourceID = "evj-suppl-2002-cri"
	srcRides     vitals.SourceID = "endurance-postings-1995"
)

// Sources lists the sources that [Criteria], [TrotDefinitions] and [Inversion] name.
func Sources() []vitals.Source {
	return []vitals.Source{
		{ID: srcFEI2019, Cite: "Fédération Equestre Internationale, Endurance Rules 2019", Where: "art. 821.2.3"},
		{ID: srcFEITrial, Cite: "Fédération Equestre Internationale, trial rules for endurance, February to April 2019", Where: "nzequestrian.org.nz"},
		{ID: srcFEI2002, Cite: "Proposal to the Fédération Equestre Internationale on recovery in endurance, about 2002, as quoted", Where: "endurance.net archive, msg00459"},
		{ID: srcFEI2020, Cite: "Fédération Equestre Internationale, Endurance Rules, 11th edition 2020"},
		{ID: srcAERC, Cite: "American Endurance Ride Conference, rules of 2000, with the rider's handbook, as quoted", Where: "rule 6.2.1.2"},
		{ID: srcAERCJudge, Cite: "American Endurance Ride Conference, Control Judge Handbook, as quoted", Where: "endurance.net archive 09/45, msg00037"},
		{ID: srcMira, Cite: "Mira, Williams and Marlin, abstract on the cardiac recovery index"},
		{ID: srcFrance, Cite: "Cardiac recovery index in endurance horses, Equine Veterinary Journal Supplement 34 (2002)", Where: "doi 10.1111/j.2042-3306.2002.tb05400.x"},
		{ID: srcRides, Cite: "Postings of riders and veterinarians on breathing faster than the heart beats, 1995 to 1996 (opinion, not a standard)", Where: "endurance.net archive"},
	}
}
