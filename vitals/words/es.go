package words

// spanish is the Spanish message file: the Spanish of barns in the United States and in
// Mexico, usted, the words of grooms on the form (sign.ID, its grades) and of veterinarians
// in the report (sign.ID.say). What has a gender agrees with what stands in the same
// sentence: the answers of sign.attitude with "actitud", those of gum moisture with "encía".
// No Spanish-speaking veterinarian has checked it yet; report.translation and
// page.translation say so.
var spanish = tables{&spanishSigns, &spanishAlarms, &spanishNames, &spanishReport}

// pageSpanish is what only the page says.
var pageSpanish = tables{&pageSpanishExam, &pageSpanishAfter}
