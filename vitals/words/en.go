package words

// english is the English message file. Keys are sorted within their blocks; a block has
// one owner in the code: the catalogue, the faults, the report, the page.
var english = table{}
