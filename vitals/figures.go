package vitals

// Figure is one number that decides what is said of a measurement or an exam; its words are
// under "figures.ID".
type Figure struct {
	ID     string
	Figure float64
	Provenance
}

// Figures lists the figures of the instruments that no other table holds.
func Figures() []Figure {
	assumed := func(note string) Provenance { return Provenance{Mark: Assumed, Note: note} }
	return []Figure{
		{"settled-minutes", settledMinutes, assumed("an alarm on a resting rate waits until an hour after work")},
		{"settled-easy", settledEasy, assumed("the same after easy work")},
		{"counts-within", countsWithin, assumed("a rule that is checked again within so many minutes counts beside others")},
		{"excited-minutes", againExcited, assumed("an excited horse is counted again after so long")},
		{"rising-looks", risingLooks, assumed("two looks differ by chance; three that rise one after the other seldom do")},
		{"rising-heart", risingHeart, assumed("36 to 44 a minute")},
		{"rising-breath", risingBreath, assumed("breathing scatters more than a heart")},
		{"rising-warmth", risingWarmth, assumed("more than the hours of a half day do")},
		{"held-hours", heldHours, assumed("one night: for so long a rule to call now holds at a sign that was not looked at again")},
		{"masked-hours", maskedHours, assumed("for so long something given may hide pain or fever; medicines differ")},
		{"hot-air", hotAir, assumed("°C of the air from which fast breathing waits for shade, beside a heat sum over 150")},
		{"cold-air", coldAir, assumed("°C of the air under which cold legs say little")},
		{"violent-pain", ViolentPain, assumed("severity from which pain is called violent: on the side, rolling; that it stops from one look to the next is then not called better")},
		{"most-years", mostYears, assumed("older than any horse is known to have become; a date beyond it cannot be right")},
		{"rhythm-pairs", rhythmFrom, assumed("with fewer pairs of intervals a third of them is two or three")},
		{"rhythm-irregular", irregularFrom, Provenance{"flethoj-2016", Derived,
			"halfway, by ratio, between 6 % in sinus rhythm at rest and 24 % in fibrillation, the latter after Tateno and Glass 2001 from memory"}},
		{"rhythm-pauses", pausesFrom, assumed("one gap may be a missed tap")},
		{"aloud-pace", AloudPace, assumed("how far a second counted in the head is off, as a share; more tries of one person do not mend it")},
		{"taps-uneven", unevenness, Provenance{Mark: Derived, Note: "chosen by simulation, with how many may be uneven: one in twenty"}},
		{"taps-shortest", shortest, assumed("300 a minute; a finger or a screen that bounces makes shorter intervals")},
	}
}
