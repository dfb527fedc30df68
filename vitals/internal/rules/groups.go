// Package rules has the rules on when to call, as text that a veterinarian can read, one file for each part of the exam.
//
// How a rule is written. The first line: how soon (now, soon, or again after so many minutes, and what it is if still so), the
// rule's name, its problem, and after a colon the test at whose sign it fires. Then, each on a line of its own: of which animals;
// with what all must hold beside it; unless what; beside which one (or "2 of") several; calm, where an excited horse is counted
// again first; first, what is done before the call. Last, whose word it is: the mark, the source, and after a colon a note.
//
// A test is a fact ("in-pain"), minutes of a clock ("since-work 30..60"), a number of a sign ("heart-rate >= 48 /min"), or any of
// its answers ("attitude dull quiet"), "at 2 of" so many places, or "everywhere".
package rules

// Groups are the animals that rules are narrowed to.
const Groups = `
group other-than-donkeys-or-mules: horse pony draft / weanling yearling two-year-old adult senior
group donkeys: donkey /
group older-mules: mule / weanling yearling two-year-old adult senior
group horse-foals: horse pony draft mule / newborn neonate foal
group foals: / newborn neonate foal
group older-donkeys: donkey / weanling yearling two-year-old adult senior
group older-horses: horse pony draft mule / weanling yearling two-year-old adult senior
group grown-horses: horse pony draft mule / two-year-old adult senior
group older: / weanling yearling two-year-old adult senior
group older-ponies: pony / weanling yearling two-year-old adult senior
group neonates-and-foals: / neonate foal
group newborns: / newborn
group adult-horses: horse draft mule / adult senior
group two-year-old-horses: horse draft mule / two-year-old
group grown-ponies: pony / two-year-old adult senior
group grown-donkeys: donkey / two-year-old adult senior
group yearling-horses: horse pony draft mule / yearling
group weanling-horses: horse pony draft mule / weanling
group young-donkeys: donkey / foal weanling yearling
group neonates: / neonate
group horse-foals-past-a-week: horse pony draft mule / foal
group yearlings-and-older-horses: horse pony draft mule / yearling two-year-old adult senior
group horse-foals-past-a-day: horse pony draft mule / neonate foal
group donkey-foals: donkey / newborn neonate foal
group past-a-week: / foal weanling yearling two-year-old adult senior
group first-week: / newborn neonate
group young-horses: horse pony draft mule / weanling yearling
group full-grown-horses: horse pony draft mule / adult senior
group past-first-day: / neonate foal weanling yearling two-year-old adult senior
`
