package words

// english is the English message file. A block has one owner in the code.
var english = tables{&englishSigns, &englishAlarms, &englishNames, &englishReport}

// pageEnglish is what only the page says: its buttons, its questions about the exam as a
// whole, and faults of typing.
var pageEnglish = tables{&pageEnglishExam, &pageEnglishAfter}
