package rules

// Breath: breathing, cough, lungs, and what comes from the nostrils.
const Breath = `
now struggling-breath breath: respiratory-effort struggling
	read aaep-when-to-call: difficulty breathing
now pushing-breath breath: respiratory-effort pushing
	unless working, hot-day
	read coach-house-breathing: belly push and flared nostrils; one practice's page
again 10 now pushing-breath-hot breath: respiratory-effort pushing
	with hot-day
	unless working
	derived coach-house-breathing: in the heat, moved to the shade first
soon flared-breath breath: respiratory-effort flared
	unless working, hot-day, excited
	derived horse-hound-breathing: flared at rest in cool air
again 30 soon flared-breath-hot breath: respiratory-effort flared
	unless working
	beside hot-day, excited
	derived horse-hound-breathing: in the heat, or excited, checked again when quiet
now flared-and-more breath: respiratory-effort flared
	unless working
	beside rectal-temperature >= 38.6 Cel, cough often, respiratory-rate > 60 /min, off-colour, gum-colour pale-pink
	derived coach-house-breathing: with a fast breath, a cough or a fever
now flared-fast breath: respiratory-effort flared
	of older-horses
	with respiratory-rate > 24 /min
	unless working, hot-day
	calm
	derived coach-house-breathing: with a fast breath
now flared-donkey breath: respiratory-effort flared
	of older-donkeys
	with respiratory-rate > 44 /min
	unless working, hot-day
	derived coach-house-breathing: with a breath over what is printed of donkeys
now breathing-very-fast breath: respiratory-rate >= 60 /min
	of older-horses
	unless working, hot-day
	calm
	assumed: far over every printed range at rest
again 10 now breathing-fast breath: respiratory-rate >= 40 /min
	of older-horses
	unless working, hot-day
	assumed: a checklist for colic calls over 40 severe; counted twice, cool and calm
now breathing-fast-and-more breath: respiratory-rate >= 40 /min
	of older-horses
	unless working
	beside rectal-temperature >= 38.6 Cel, in-pain, early-pain, off-colour, off-feed, respiratory-effort flared pushing struggling, cough often, lung-sounds wheeze crackle, gum-colour pale-pink white brick-red purple blue, nostrils coloured froth bloody blood-flows
	derived ilv-colic: over 40 severe; beside another sign
now breathless-quiet breath: attitude quiet
	of older-horses
	unless working, since-work ..120, hot-day, excited
	beside respiratory-rate >= 40 /min, respiratory-effort flared
	derived ilv-colic: over 40 severe; that a quiet horse with such a breath does not wait is ours
again 30 soon breathing-fast-hot breath: respiratory-rate > 30 /min
	of older-horses
	with hot-day
	unless working
	derived the-horse-foal-breath: printed for foals; in the shade first
again 10 now breathing-very-fast-hot breath: respiratory-rate >= 80 /min
	of older-horses
	with hot-day
	unless working
	derived the-horse-foal-breath: 60 to 80 printed of foals in heat; moved to the shade first
again 10 now foal-breathing-very-fast-hot foal: respiratory-rate > 80 /min
	of foals
	with hot-day
	derived the-horse-foal-breath: 60 to 80 only in heat; moved to the shade first
again 15 soon breathing-raised breath: respiratory-rate > 24 /min
	of yearlings-and-older-horses
	unless working, hot-day, first-stage
	derived horse-hound-breathing: over 20 at rest is raised; over 24, counted twice, is ours
again 15 soon weanling-breathing-raised breath: respiratory-rate > 30 /min
	of weanling-horses
	unless working, hot-day
	assumed: over the printed top of 25
now breathing-raised-and-more breath: respiratory-rate > 24 /min
	of grown-horses
	unless working, since-work ..120, hot-day, excited
	beside rectal-temperature >= 38.6 Cel, in-pain, lung-sounds wheeze crackle, off-colour, cough often
	derived horse-hound-breathing: raised at rest, with effort, fever or pain
again 15 now donkey-breathing breath: respiratory-rate > 44 /min
	of grown-donkeys
	unless working, hot-day
	derived donkey-sanctuary-older: healthy donkeys to 44; that beyond it one calls is ours
again 15 soon young-donkey-breathing breath: respiratory-rate > 48 /min
	of young-donkeys
	unless working, hot-day
	derived donkey-sanctuary-older: under two years to 48
again 15 now newborn-breathing foal: respiratory-rate > 60 /min
	of newborns
	with since-birth 60..
	unless hot-day
	derived newborn-foal-2010: 30 to 45 after the first half hour
again 15 now newborn-breathing-unknown foal: respiratory-rate > 90 /min
	of newborns
	unless since-birth 60.., hot-day
	derived tennessee-foal-pneumonia: 60 to 90 at birth
again 15 now foal-breathing foal: respiratory-rate > 60 /min
	of neonates-and-foals
	unless hot-day
	read the-horse-foal-breath: 60 to 80 only in heat
again 15 soon foal-breathing-raised foal: respiratory-rate > 50 /min
	of horse-foals-past-a-week
	unless hot-day
	derived rhodococcus-farm: over 40 a minute with a fever; without one ten more, counted twice, is ours
now foal-breathing-and-more foal: respiratory-rate > 60 /min
	of neonates-and-foals
	beside attitude quiet dull, off-feed, cough few often, nostrils coloured
	derived the-horse-foal-breath: 60 to 80 only in heat; that a foal with another sign is not counted again is ours
now foal-breathing-fever foal: respiratory-rate > 40 /min
	of horse-foals
	with rectal-temperature >= 39.0 Cel
	unless since-birth ..60
	read rhodococcus-farm: over 40 a minute and over 39 C
now donkey-foal-breathing-fever foal: respiratory-rate > 48 /min
	of donkey-foals
	with rectal-temperature >= 39.0 Cel
	unless since-birth ..60
	derived rhodococcus-farm: printed of horses' foals; young donkeys are printed up to 48
now foal-breathing-hard foal: respiratory-effort flared pushing
	of foals
	unless hot-day, since-birth ..60
	read the-horse-foal-breath: difficult breathing or cough with a fever
again 720 soon cough-few breath: cough few
	of older
	common-practice
soon cough-often breath: cough often
	read uk-welfare-2005: cough, nose or glands: within 48 hours
soon foal-cough foal: cough few often
	of foals
	derived the-horse-foal-breath: a cough in a foal is told
now cough-and-fever breath: cough few often
	with rectal-temperature >= 38.6 Cel
	unless working
	beside off-colour, off-feed, respiratory-rate > 24 /min, lately journey
	derived the-horse-foal-breath: printed for foals; in others with dullness or a fast breath
now foal-cough-fever foal: cough few often
	of foals
	with rectal-temperature > 102 [degF]
	read the-horse-foal-breath: cough with a fever
soon cough-fever breath: cough few often
	with rectal-temperature >= 38.6 Cel
	unless working
	read uk-welfare-2005: within 48 hours
soon lungs breath: lung-sounds wheeze crackle quieter
	common-practice
now lungs-and-more breath: lung-sounds wheeze crackle quieter
	unless working
	beside rectal-temperature >= 38.6 Cel, respiratory-effort pushing struggling flared, off-colour
	derived the-horse-shipping: with fever, effort or a fast breath
now lungs-fast breath: lung-sounds wheeze crackle quieter
	of older-horses
	with respiratory-rate > 24 /min
	unless working, hot-day
	derived the-horse-shipping: with a fast breath
now foal-lungs foal: lung-sounds wheeze crackle quieter
	of foals
	derived tennessee-foal-pneumonia: changed lung sounds in a foal are not left for the day
now blood-flows nose: nostrils blood-flows
	read devereux: p. 705; pouring: at once
now nose-froth breath: nostrils froth
	common-practice
again 15 now nose-blood nose: nostrils bloody
	unless working
	read devereux: pp. 704-705; stops within 15 minutes; others print 20 and 30
now nose-blood-both nose: nostrils bloody at 2 of nostril-left nostril-right
	unless worked
	derived avon-ridge: bleeding that goes on; that both sides at rest are for now is ours
again 15 soon nose-blood-work nose: nostrils bloody
	with working
	read irish-field-nosebleed: both nostrils after fast work
now nose-blood-work-and-more nose: nostrils bloody
	with worked
	beside respiratory-effort pushing struggling, off-colour, gait staggers will-not-walk, gum-colour pale-pink white, respiratory-rate >= 60 /min
	derived irish-field-nosebleed: with effort or weakness
now nose-blood-and-more nose: nostrils bloody
	unless working
	beside gum-colour pale-pink white, pulse-strength weak, off-colour, heart-rate >= 60 /min
	derived hvd-nosebleed: a second bleed or one with other signs; one practice's page
soon nose-coloured breath: nostrils coloured
	read uk-welfare-2005: within 48 hours
now nose-coloured-foal foal: nostrils coloured
	of foals
	beside rectal-temperature > 102 [degF], respiratory-rate > 60 /min, off-colour, off-feed
	derived tennessee-foal-pneumonia: with a fever or fast breath
again 10 now young-donkey-breathing-fast breath: respiratory-rate >= 72 /min
	of young-donkeys
	unless working, hot-day
	derived donkey-sanctuary-older: under two years to 48; half as fast again is ours
`
