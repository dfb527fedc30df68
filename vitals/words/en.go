package words

// english is the English message file. A block has one owner in the code.
var english = table{
	// ---- catalogue: signs, grades, sites, cautions, remarks, alarms ----
	// sign.ID, sign.ID.ask (the question), sign.ID.how (one or two short lines), sign.ID.say (in the spoken report)

	// ---- end of catalogue ----

	// ---- units, types, states and other enumerations ----

	// ---- end of enumerations ----

	// ---- faults: fault.CODE ----
	// of a document's structure (package schema)
	"fault.bad-json":         "This is not whole: the text breaks off or is wrong at line {line}, column {column}.",
	"fault.trailing-text":    "Something stands after the end of the record.",
	"fault.too-large":        "This is larger than {most} MB, and no barn file is.",
	"fault.too-deep":         "This holds more than {most} levels inside each other, and no barn file does.",
	"fault.too-many":         "This list is longer than {most}.",
	"fault.too-long":         "This text is longer than {most} characters.",
	"fault.bad-text":         "This text holds broken characters.",
	"fault.duplicate-member": "“{name}” stands here twice.",
	"fault.unknown-member":   "“{name}” is not a part of the record.",
	"fault.missing-member":   "“{name}” is missing.",
	"fault.not-object":       "A group of named parts must stand here.",
	"fault.not-list":         "A list must stand here.",
	"fault.not-text":         "Text must stand here, in quotation marks.",
	"fault.empty":            "Nothing stands between the quotation marks.",
	"fault.not-boolean":      "true or false must stand here.",
	"fault.not-number":       "A number must stand here, without quotation marks.",
	"fault.not-whole":        "This must be a whole number.",
	"fault.number-too-big":   "This number is too large.",
	"fault.bad-decimal":      "This must be a number in plain digits, such as 38.4.",
	"fault.bad-time":         "This must be a day and time with its offset, such as 2026-05-03T07:30:00+02:00.",
	"fault.bad-date":         "This must be a day of the calendar, such as 2026-05-03.",
	"fault.not-whorl":        "This is not a barn file of Whorl.",
	"fault.newer-format":     "This file was written by a newer version (format {format}; this version reads up to {known}). Get the newer version to open it; the file itself is in order.",
	"fault.bad-format":       "There is no such format; the first is {known}.",
	"fault.duplicate-id":     "The id “{id}” is used twice.",
	"fault.unknown-horse":    "This exam belongs to a horse that is not here (“{id}”).",
	"fault.not-finite":       "This number could not be worked out.",
	// of a request (package api)
	"fault.unknown-op":   "There is no operation “{op}”.",
	"fault.unknown-lang": "There is no message file for the language “{lang}”.",
	"fault.internal":     "Whorl itself failed here. What was entered is not lost: copy or export it before going on.",

	// ---- end of faults ----

	// ---- measuring: method sentences, advice, refusals ----

	// ---- end of measuring ----

	// ---- comparison and report ----

	// ---- end of comparison and report ----

	// ---- page ----

	// ---- end of page ----
}
