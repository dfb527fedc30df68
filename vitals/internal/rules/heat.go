package rules

// Heat: temperature at rest, and during and after work, with the minutes since it ended.
const Heat = `
now fever fever: rectal-temperature >= 102.5 [degF]
	of past-a-week
	unless working
	calm
	read latitude36: over 102.5 F; a reposted notice of a state's veterinary association prints 102.5 F and over (WSVMA 2018)
now fever-high fever: rectal-temperature >= 103 [degF]
	of past-a-week
	unless working
	common-practice: excitement alone is not taken to explain it
soon fever-mild fever: rectal-temperature > 101.5 [degF]
	of yearlings-and-older-horses
	unless working, hot-day, lately vaccine, since-work ..120
	calm
	read vetspecialists-colitis: over 101.5 F; others begin at 102, 102.5 and 103 F
soon weanling-fever-mild fever: rectal-temperature > 102 [degF]
	of weanling-horses
	unless working, hot-day, lately vaccine
	calm
	derived performance-equine: weanlings are printed up to 102 F
again 30 soon fever-mild-hot fever: rectal-temperature > 101.5 [degF]
	of older-horses
	with hot-day
	unless working
	assumed: on a hot day, in the shade first
again 720 soon fever-vaccine fever: rectal-temperature > 101.5 [degF]
	of older-horses
	with lately vaccine
	unless working
	common-practice: a mild fever within two days of a vaccine; lay copies print it
now fever-and-ill fever: rectal-temperature >= 102 [degF]
	of older-horses
	unless working
	beside off-colour, off-feed, attitude quiet
	read purdue-emergency: over 102 F with dullness or off feed
now fever-and-swelling fever: rectal-temperature >= 38.6 Cel
	unless working
	beside swelling hot hot-large, swallowing drools cannot gulps, vulva discharge blood, udder hot
	derived equus-2016-november: foot to hock, fever and lame; with any hot swelling it is ours
now fever-journey fever: rectal-temperature >= 38.6 Cel
	of older-horses
	with lately journey
	beside cough few often, off-colour, off-feed, gait stiff short will-not-walk, attitude quiet, respiratory-rate > 20 /min
	read the-horse-shipping: fever after a long journey, with other signs
now fever-contact fever: rectal-temperature >= 38.6 Cel
	with lately contact
	unless since-work ..60
	second-hand cdfa-2019: 101.5 F once after contact; isolate
now fever-contact-masked fever: rectal-temperature >= 101 [degF]
	with lately contact, medicine-given
	read ncsu-ehm: 101 F where a painkiller was given
soon donkey-fever fever: rectal-temperature > 38.4 Cel
	of grown-donkeys
	unless working, hot-day
	calm
	derived wvs-donkey: healthy to 37.8 C, another table to 38.4 C; no threshold to call was found
now donkey-fever-and-ill fever: rectal-temperature > 37.8 Cel
	of grown-donkeys
	unless working, hot-day
	beside off-colour, off-feed, cough few often, nostrils coloured, droppings loose
	derived wvs-donkey: over 37.8 C with another sign; no threshold to call was found
soon young-donkey-fever fever: rectal-temperature > 102.1 [degF]
	of young-donkeys
	unless working, hot-day
	derived donkey-sanctuary-older: under two years to 102.1 F
now foal-fever foal: rectal-temperature > 102 [degF]
	of first-week
	second-hand gerros-osu: outside 99 to 102 F in the first four days: call
now foal-cold foal: rectal-temperature < 37.2 Cel
	of first-week
	read lenz-aqha: outside 99 to 101.5 F; 37.2 C is a hair under 99 F, and printed too
soon older-foal-warm foal: rectal-temperature > 102 [degF]
	of horse-foals-past-a-week
	read csu-foal-diarrhoea: 99 to 102 F
now older-foal-fever-and-more foal: rectal-temperature >= 39.0 Cel
	of horse-foals-past-a-week
	beside respiratory-rate > 40 /min, cough few often, gait short lame stiff will-not-walk, limb-load pointing, off-feed, off-colour, droppings loose
	derived rhodococcus-farm: over 39 C with a fast breath; with a cough, lameness or poor nursing it is ours
again 10 now older-foal-cold foal: rectal-temperature < 99 [degF]
	of horse-foals-past-a-week
	derived csu-foal-diarrhoea: 99 to 102 F; a thermometer that is not in far enough reads low
again 10 soon cold circulation: rectal-temperature < 36.0 Cel
	of older
	derived hall-2019: below the measured reference interval, 36.0 to 38.0 C; a thermometer that is not in far enough reads low
now cold-and-more circulation: rectal-temperature < 98 [degF]
	of older
	beside off-colour, in-pain, limb-warmth cold, pulse-strength weak not-felt, muscle hard painful, urine dark
	read latitude36: under 98 F; one practice's page; the other sign is ours
now heat-41 heat: rectal-temperature >= 41.0 Cel
	with worked
	first cool
	read horse-hound-crosscountry: over 41 C at risk
again 10 now heat-40.6 heat: rectal-temperature >= 40.6 Cel
	with worked, since-work ..30
	first cool
	common-practice: riders' pages name 105 F an alarm
again 10 now heat-40-early heat: rectal-temperature >= 40.0 Cel
	with worked, since-work 10..30
	first cool
	derived equus-2022-heat: over 104 F and stays so
now heat-40 heat: rectal-temperature >= 40.0 Cel
	with worked, since-work 30..
	first cool
	read equus-2022-heat: 104 F and over; that half an hour is too long is ours
again 10 now heat-39.4 heat: rectal-temperature >= 39.4 Cel
	with worked, since-work 30..60
	first cool
	common-practice: a seller and a lay page name 103 F that stays
again 30 soon fever-mild-work heat: rectal-temperature > 101.5 [degF]
	of yearlings-and-older-horses
	with worked, since-work 60..120
	unless hot-day
	derived verdegaal-2021: core temperature is back by 60 minutes in one discipline, still over 39 C in a third of another; two hours are ours
now heat-rest heat: rectal-temperature >= 40.0 Cel
	with hot-day
	unless worked
	beside respiratory-rate >= 40 /min, coat sweating hot-dry, lately journey
	first cool
	derived equus-2022-heat: 104 F and over; that a hot trailer or stall does what work does is ours
now heat-nerves heat: rectal-temperature >= 40.0 Cel
	with worked
	beside attitude dull anxious odd down-not-rising, gait staggers will-not-walk, sway sways falls
	first cool
	read brownlow-2023: signs of the brain are the main criterion
now heat-behaviour heat: attitude dull
	with worked, hot-day, working
	first cool
	derived brownlow-2023: begins as irritability or dullness; in the heat, without a thermometer
now dull-work heat: attitude dull
	with working
	unless hot-day
	first cool
	derived brownlow-2023: begins as irritability or dullness; that a dull horse after work is not left is ours
now off-feed-work heat: feed less none
	of older
	with working
	beside attitude quiet dull anxious, rectal-temperature >= 39.4 Cel, since-work 30..
	common-practice: a horse that has cooled wants its feed
again 15 now work-end-unknown heart
	of grown-horses
	with work-end-unknown
	beside heart-rate >= 64 /min, rectal-temperature >= 39.2 Cel, respiratory-rate >= 40 /min
	derived fei-2019: 64 within 20 to 30 minutes; where nobody noted when the work ended it is counted twice
now heat-down heat: attitude down-not-rising
	with worked, working
	first cool
	read brownlow-2023: signs of the brain are the main criterion
now heat-stagger heat: gait staggers
	with worked, working
	first cool
	read brownlow-2023: signs of the brain are the main criterion
again 10 now heart-stays-80 heat: heart-rate >= 80 /min
	with worked, since-work 10..30
	first cool
	derived weaver-house-heat: over 80 after two minutes of rest; one practice's page
again 10 now heart-80-early heat: heart-rate >= 80 /min
	with worked, since-work 2..10
	unless cooling recovering
	first cool
	derived weaver-house-heat: over 80 after two minutes of rest, unless it is seen to fall; one practice's page
now heart-80 heat: heart-rate >= 80 /min
	with worked, since-work 30..
	first cool
	derived aerc-2007: a fit horse is down within 30 minutes
again 10 now heart-stays-64 heat: heart-rate > 64 /min
	of grown-horses
	with worked, since-work 20..60
	first cool
	read fei-2019: article 821.2.3; 64 within 20 to 30 minutes
now heart-64-dull heat: heart-rate > 64 /min
	of grown-horses
	with worked, since-work 20..60
	beside attitude dull, head-carriage low, cooling slow
	first cool
	derived fei-2019: 64 within 20 to 30 minutes; that a dull horse does not wait for another count is ours
now breath-60-low heat: respiratory-rate >= 60 /min
	with worked
	beside attitude dull odd
	first cool
	read equus-2022-heat: 60 to 80 with head low and blank
now breath-60 heat: respiratory-rate >= 60 /min
	with worked, since-work 30..
	beside heart-rate > 64 /min, rectal-temperature >= 39.4 Cel, respiratory-effort pushing struggling
	first cool
	derived equus-2022-heat: still 60 after half an hour, with a fast heart or a high temperature
again 10 now breath-stays-60 heat: respiratory-rate >= 60 /min
	with worked, since-work 30..
	first cool
	derived equus-2022-heat: still 60 after half an hour
now hot-no-sweat heat: coat hot-dry
	with worked, rectal-temperature >= 39.4 Cel
	first cool
	read equus-2022-heat: sweat fails and the temperature climbs
again 10 now hot-dry-work heat: coat hot-dry
	with worked
	first cool
	derived equus-2022-heat: sweat fails; before the temperature is taken
soon hot-dry heat: coat hot-dry
	unless worked
	common-practice
now hot-dry-hot-day heat: coat hot-dry
	with hot-day
	first cool
	derived equus-2022-heat: sweat fails in the heat
again 10 now pushing-work heat: respiratory-effort pushing
	with since-work ..30
	unless hot-day
	common-practice
now pushing-work-late heat: respiratory-effort pushing
	with worked, since-work 30..
	first cool
	common-practice: belly pushing half an hour after work
again 10 now cooling-slow heat: cooling slow
	with worked
	first cool
	derived aerc-2007: not down by 30 minutes
now cooling-not heat: cooling not-recovering
	with worked
	first cool
	derived equus-2022-heat: stays hot
again 15 soon flared-work-late heat: respiratory-effort flared
	with worked, since-work 30..60
	common-practice
again 30 soon warm-after-work fever: rectal-temperature >= 39.2 Cel
	of older
	with working
	beside attitude quiet dull, off-feed, cough often, nostrils coloured, swelling hot hot-large
	assumed: work warms, and so does an illness beside it
again 30 soon donkey-fever-hot fever: rectal-temperature > 38.4 Cel
	of grown-donkeys
	with hot-day
	unless working
	derived wvs-donkey: healthy to 37.8 C, another table to 38.4 C; on a hot day in the shade first
again 60 now fever-contact-work fever: rectal-temperature >= 38.6 Cel
	with lately contact, since-work ..60
	second-hand cdfa-2019: 101.5 F once after contact; after work it is read again
now heat-head-low heat: head-carriage low
	with worked, since-work 10..
	beside rectal-temperature >= 40.0 Cel, respiratory-rate >= 60 /min
	first cool
	read equus-2022-heat: 60 to 80 with head low and blank
again 10 now donkey-foal-cold foal: rectal-temperature < 36.2 Cel
	of donkey-foals
	derived wvs-donkey: young donkeys are printed from 36.2 C; a thermometer that is not in far enough reads low
again 15 now foal-warm-and-fast foal: rectal-temperature >= 38.8 Cel
	of first-week
	with since-birth 60..
	unless hot-day
	beside heart-rate >= 115 /min, respiratory-rate > 50 /min
	derived lenz-aqha: outside 99 to 101.5 F; beside a heart or breath near the printed top it is taken again first
now foal-warm-fast-worried foal: rectal-temperature >= 38.8 Cel
	of first-week
	with worried, since-birth 60..
	unless hot-day, excited
	beside heart-rate >= 115 /min, respiratory-rate > 50 /min
	derived lenz-aqha: outside 99 to 101.5 F; where somebody is worried it is not taken again first
`
