package words

// english is the English message file. A block has one owner in the code.
var english = table{
	// ---- catalogue: signs, grades, sites, cautions, remarks, alarms ----
	// sign.ID, sign.ID.ask (the question), sign.ID.how (one or two short lines), sign.ID.say (in the spoken report)

	// ---- end of catalogue ----

	// ---- units, types, states and other enumerations ----

	// ---- end of enumerations ----

	// ---- faults: fault.CODE ----

	// ---- end of faults ----

	// ---- measuring: method sentences, advice, refusals ----

	// ---- end of measuring ----

	// ---- comparison and report ----

	// ---- end of comparison and report ----

	// ---- page ----

	// ---- end of page ----
}
