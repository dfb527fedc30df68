// Package site names every place at which a sign is taken or seen, so that none has to be written as
// text:
//
//	vitals.Finding{Sign: vitals.HeartRate, Site: site.HeartRateJaw, ...}
//
// The names are those of the catalogue, the sign first: places of [vitals.Finding.Site], then those of
// [vitals.Finding.Where]. The answers of graded signs are in package whorl.example/vitals/answer.
package site
