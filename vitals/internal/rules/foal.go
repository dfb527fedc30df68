package rules

// Foal: foaling and the mare after it, the first hours, navel and joints, and what happened in the days before.
const Foal = `
now red-bag foaling: foaling red-bag
	first cut-bag
	read aqha-foaling: pp. 33-34; no time to wait; Devereux p. 956
now foal-wrong foaling: foaling wrong
	read aqha-foaling: pp. 33-34; one foot, soles up, no nose
now foaling-stuck foaling: foaling stuck
	read uvma-foaling: 20 minutes; others print 30
again 5 now waters-broken foaling: foaling waters
	read aqha-foaling: pp. 33-34; white bag or a foot within 5 minutes
again 20 now foal-coming foaling: foaling white-bag feet-and-nose
	read uvma-foaling: 20 minutes; others print 30
again 60 now foaling-restless foaling: foaling restless
	derived veteriankey-foaling: 2 to 5 hours; that without progress one calls after an hour is ours
again 60 now afterbirth-hanging mare: afterbirth hanging
	read the-horse-afterbirth: 3 hours; others print 4 and 6
now afterbirth-hanging-late mare: afterbirth hanging
	with since-foaling 180..
	read the-horse-afterbirth: 3 hours; others print 4 and 6
now afterbirth-late mare: afterbirth late
	read the-horse-afterbirth: 3 hours; others print 4 and 6
now afterbirth-torn mare: afterbirth torn
	read devereux: p. 962; a piece left behind
now mare-ill-after mare
	with since-foaling ..14400
	beside rectal-temperature >= 38.6 Cel, off-colour, vulva discharge, digital-pulse bounding, gait short stiff will-not-walk, in-pain, gum-colour pale-pink
	read devereux: p. 962; dull, feverish or sore-footed after foaling; ten days are ours
soon vulva-discharge mare: vulva discharge
	common-practice
now in-foal-discharge mare: vulva discharge
	with in-foal
	common-practice
now vulva-discharge-ill mare: vulva discharge
	beside rectal-temperature >= 38.6 Cel, off-colour, off-feed
	derived beh-afterbirth: with fever or dullness; one practice's page
now vulva-blood mare: vulva blood
	derived devereux: p. 957
soon vulva-tear mare: vulva tear
	common-practice
soon milk-running mare: udder dripping
	read uvma-foaling: milk that runs before the birth is lost to the foal
now udder-full foal: udder full
	derived the-horse-foal-2020: a full udder: the foal does not suck
soon udder-hot mare: udder hot
	common-practice
now not-on-chest foal: first-hours not-on-chest
	of newborns
	unless since-birth ..10
	read walker-2023: table 1; over 10 minutes
again 5 now not-on-chest-yet foal: first-hours not-on-chest
	of newborns
	with since-birth ..10
	read walker-2023: table 1; over 10 minutes
now no-suck-reflex foal: first-hours no-suck-reflex
	of newborns
	unless since-birth ..15
	read walker-2023: table 1; over 15 minutes
again 10 now no-suck-reflex-yet foal: first-hours no-suck-reflex
	of newborns
	with since-birth ..15
	read walker-2023: table 1; over 15 minutes
again 30 now not-standing foal: first-hours not-standing
	of newborns
	with since-birth ..60
	read austin-2013: 1 hour; Devereux p. 957 and Walker 2023 print 2
soon not-standing-late foal: first-hours not-standing
	of newborns
	with since-birth 60..120
	read austin-2013: 1 hour; Devereux p. 957 and Walker 2023 print 2
now not-standing-later foal: first-hours not-standing
	of newborns
	unless since-birth ..120
	read austin-2013: 1 hour; Devereux p. 957 and Walker 2023 print 2
now not-standing-weak foal: first-hours not-standing
	of newborns
	unless since-birth ..15
	beside off-colour, first-hours no-suck-reflex
	read austin-2013: 1 hour; Devereux p. 957 and Walker 2023 print 2
again 60 now not-nursed foal: first-hours not-nursed
	of newborns
	with since-birth ..120
	read austin-2013: 2 hours; another page prints 3, Walker 2023 over 4
soon not-nursed-late foal: first-hours not-nursed
	of newborns
	with since-birth 120..180
	read austin-2013: 2 hours; another page prints 3, Walker 2023 over 4
now not-nursed-later foal: first-hours not-nursed
	of newborns
	unless since-birth ..180
	read austin-2013: 2 hours; another page prints 3, Walker 2023 over 4
now not-nursed-weak foal: first-hours not-nursed
	of newborns
	unless since-birth ..15
	beside off-colour, first-hours no-suck-reflex
	read austin-2013: 2 hours; another page prints 3, Walker 2023 over 4
again 60 soon no-dung foal: first-hours no-dung
	of newborns
	with since-birth ..180
	read walker-2023: table 1; within 3 hours
soon no-dung-late foal: first-hours no-dung
	of newborns
	with since-birth 180..360
	read walker-2023: table 1; 3 to 6 hours
now no-dung-later foal: first-hours no-dung
	of newborns
	unless since-birth ..360
	read walker-2023: table 1; over 6 hours
again 120 now no-urine foal: first-hours no-urine
	of newborns
	with since-birth ..600
	read walker-2023: table 1; 6 to 10 hours; another page prints up to 18
soon no-urine-late foal: first-hours no-urine
	of newborns
	with since-birth 600..720
	read walker-2023: table 1; 10 to 12 hours are a concern
now no-urine-later foal: first-hours no-urine
	of newborns
	unless since-birth ..720
	read walker-2023: table 1; over 12 hours
now navel foal: navel wet swollen
	read paradis-foals: half of infected joints have an infected navel
now joints foal: joints full hot
	read devereux: p. 387; infection until shown otherwise
now first-hours-undated foal: first-hours not-on-chest no-suck-reflex not-standing not-nursed no-dung no-urine
	of past-first-day
	derived walker-2023: table 1; where the age is not known, or over a day, no milestone is still to come
soon others-ill other: lately others-ill
	derived aaep-when-to-call: several animals ill at once; one other is told
now others-ill-and-more other: lately others-ill
	with other-rule
	read aaep-when-to-call: several animals ill at once
again 720 soon contact fever: lately contact
	read ucdavis-ehv-2011: temperature twice a day for 14 days
now feed-raid belly: lately feed-raid
	common-practice: much grain or hard feed at once: before any sign
now ate-harmful other: lately ate-harmful
	common-practice
soon bite other: lately bite
	common-practice
now bite-and-more other: lately bite
	beside swelling cool hot hot-large at 1 of face throat, respiratory-effort flared pushing struggling, attitude quiet anxious dull odd down-not-rising down-thrashing, swelling hot hot-large, coat bumps
	common-practice
soon operation-and-more other: lately operation
	with any-rule
	common-practice
now operation-and-ill other: lately operation
	beside off-feed, in-pain, off-colour, rectal-temperature >= 38.6 Cel, wounds heavy, swelling hot-large, gait will-not-walk
	common-practice
`
