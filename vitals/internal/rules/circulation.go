package rules

// Circulation: gums, pulse, limbs, how fast colour and water come back, the heart's rate and rhythm.
const Circulation = `
now gum-colour circulation: gum-colour white brick-red blue
	read ucdavis-vmth: red, white or blue
now gum-purple circulation: gum-colour purple
	read uci-colic-1989: dark cyanotic
again 60 soon gum-pale circulation: gum-colour pale-pink
	common-practice
soon gum-pale-tacky circulation: gum-colour pale-pink
	with gum-moisture tacky dry
	assumed: two gum signs together
now gum-pale-and-more circulation: gum-colour pale-pink
	beside wounds slight heavy, heart-rate >= 100 /min, since-foaling ..2880, nostrils blood-flows, vulva blood, off-colour, capillary-refill > 2.5 s, pulse-strength weak not-felt
	read devereux: p. 957, after foaling; bleeding and a fast heart are ours
now gum-pale-heart circulation: gum-colour pale-pink
	of grown-horses
	with heart-rate >= 60 /min
	unless working
	derived devereux: p. 957; the heart beside it is ours
again 720 soon gum-yellow circulation: gum-colour yellow
	of older
	read central-lakes: half a day unfed commonly yellows; one practice's page
now gum-yellow-and-more circulation: gum-colour yellow
	of older
	beside off-colour, off-feed, urine dark, attitude quiet
	common-practice: a lay page names jaundice with weakness
now foal-gum-yellow foal: gum-colour yellow
	of foals
	read lenz-aqha: white or yellow
now gum-colour-pain belly: gum-colour pale-pink yellow
	with in-pain
	read malone-2012: off colour, with signs of colic
now dark-rim-pain belly: dark-rim present
	with in-pain
	read malone-2012: off colour, with signs of colic; that the rim is off colour is our reading
again 60 soon dark-rim circulation: dark-rim present
	common-practice: old horses with sore gums have one too
now dark-rim-and-more gut: dark-rim present
	beside droppings loose, rectal-temperature >= 38.6 Cel, off-colour, off-feed, capillary-refill > 2.5 s, attitude quiet
	common-practice: a dark rim with a sign of the gut or the blood; popular veterinary pages name it
now dark-rim-heart gut: dark-rim present
	of grown-horses
	with heart-rate >= 48 /min
	unless working
	read oglesby-colitis: an early rise of the heart rate; the limit is ours
now gum-moisture-pain belly: gum-moisture tacky dry
	with in-pain
	read malone-2012: tacky, with signs of colic
again 60 soon gum-dry circulation: gum-moisture dry
	common-practice
now gum-dry-and-more circulation: gum-moisture dry
	beside water none, droppings loose, off-colour
	assumed: dry gums with no water, loose droppings or dullness
soon refill-slow circulation: capillary-refill > 2.5 s
	read curtis-2015: odds ratio 3.21 (1.02 to 10.1) of a critical colic
now refill-slow-heart circulation: capillary-refill > 2.5 s
	of grown-horses
	with heart-rate >= 48 /min
	unless working
	derived curtis-2015: the refill; the heart beside it is ours
now refill-slow-pain belly: capillary-refill > 2.5 s
	with in-pain
	read curtis-2015: the threshold; that a long refill with signs of colic is for now is Malone 2012
now refill-very-slow circulation: capillary-refill > 3 s
	read latitude36: over 3 s; one practice's page; Devereux p. 720 prints within three seconds
now pulse-weak-pain belly: pulse-strength weak not-felt
	with in-pain
	read curtis-2015: a weak pulse, odds ratio 2.90 (1.39 to 5.99) of a critical colic
soon pulse-weak circulation: pulse-strength weak
	derived curtis-2015: a weak pulse without other signs is told
again 2 soon pulse-not-felt circulation: pulse-strength not-felt
	common-practice: the artery is often only missed; feel at another place first
now pulse-not-felt-and-more circulation: pulse-strength not-felt
	beside limb-warmth cold, gum-colour pale-pink yellow white brick-red purple blue, off-colour, capillary-refill > 2.5 s
	common-practice
now pulse-not-felt-heart circulation: pulse-strength not-felt
	of grown-horses
	with heart-rate >= 48 /min
	unless working
	common-practice
again 30 soon limbs-cold circulation: limb-warmth cold
	unless cold-day
	common-practice
now circulation circulation
	unless cold-day
	beside 2 of pulse-strength weak, coat cold-sweat, gum-colour pale-pink yellow, capillary-refill > 2.5 s, limb-warmth cold, gum-moisture dry
	common-practice: two signs of failing circulation together
now circulation-worried circulation: limb-warmth cool
	with worried
	unless cold-day
	beside pulse-strength weak, coat cold-sweat, gum-colour pale-pink yellow, capillary-refill > 2.5 s, gum-moisture dry
	common-practice: cool legs count where something is wrong; on a quiet day they may only be cool
now circulation-heart circulation
	of grown-horses
	with heart-rate >= 56 /min
	unless working
	beside pulse-strength weak, coat cold-sweat, capillary-refill > 2.5 s, limb-warmth cold
	common-practice: a fast heart with a sign of failing circulation
again 10 now cold-sweat circulation: coat cold-sweat
	common-practice
now sweating-and-more belly: coat sweating
	unless since-work ..120, hot-day, excited, foaling restless
	beside attitude anxious dull, off-feed, stance tucked-up, droppings few none, doing-usual unusual
	common-practice: sweat at rest in cool air, with another sign of distress
again 15 soon sweating-rest other: coat sweating
	unless since-work ..120, hot-day, excited, foaling restless waters white-bag feet-and-nose
	common-practice
now heart-pain belly: heart-rate >= 45 /min
	of grown-horses
	with in-pain
	unless working
	read malone-2012: over 45 to 50, with signs of colic; fired at the lower edge
now heart-high heart: heart-rate >= 60 /min
	of grown-horses
	unless working, since-work ..120, since-foaling ..120, foaling restless waters white-bag feet-and-nose
	calm
	read devereux: p. 760; stays above 60 between bouts; one practice's page says over 60 at rest
now heart-very-high heart: heart-rate >= 120 /min
	of grown-horses
	unless working
	assumed: twice the limit at rest; excitement alone is not taken to explain it
now yearling-heart-high heart: heart-rate >= 90 /min
	of yearling-horses
	unless working
	calm
	assumed: thirty over the printed top
now weanling-heart-high heart: heart-rate >= 110 /min
	of weanling-horses
	unless working
	calm
	assumed: fifty over the printed top
again 10 soon heart-raised heart: heart-rate > 48 /min
	of adult-horses
	unless working, first-stage
	derived newcastle-equine: over 48 where colic is suspected; one practice's page; counted twice is ours
again 10 soon two-year-old-heart heart: heart-rate > 50 /min
	of two-year-old-horses
	unless working
	assumed: over the printed top of two-year-olds
again 10 soon pony-heart-raised heart: heart-rate > 52 /min
	of grown-ponies
	unless working, first-stage
	assumed: ponies' own usual is printed up to 48
now heart-raised-and-more belly: heart-rate >= 48 /min
	of grown-horses
	unless working, excited, since-work ..120, foaling restless waters white-bag feet-and-nose
	beside off-feed, droppings few none, off-colour, attitude anxious, coat sweating cold-sweat
	derived newcastle-equine: over 48 where colic is suspected; one practice's page
now young-heart-raised-and-more belly: heart-rate >= 64 /min
	of yearling-horses
	unless working, excited
	beside off-feed, droppings few none, off-colour, attitude anxious, coat sweating cold-sweat
	assumed: over the printed top, beside another sign
now weanling-heart-raised-and-more belly: heart-rate >= 80 /min
	of weanling-horses
	unless working, excited
	beside off-feed, droppings few none, off-colour, attitude anxious, coat sweating cold-sweat
	assumed: over the printed top, beside another sign
soon donkey-heart-high heart: heart-rate > 68 /min
	of grown-donkeys
	unless working
	calm
	derived wvs-donkey: sustained above 60 to 80; healthy donkeys are printed up to 68
soon donkey-heart-sustained heart: heart-rate > 60 /min
	of grown-donkeys
	with rechecked
	unless working
	calm
	read wvs-donkey: sustained above 60 to 80: here, at a recheck
now donkey-heart-very-high heart: heart-rate > 80 /min
	of grown-donkeys
	unless working
	calm
	read wvs-donkey: sustained above 60 to 80
again 10 now yearling-heart heart: heart-rate > 70 /min
	of yearling-horses
	unless working
	assumed: ten over the printed top
again 10 now weanling-heart heart: heart-rate > 80 /min
	of weanling-horses
	unless working
	assumed: twenty over the printed top
again 10 soon young-donkey-heart heart: heart-rate > 80 /min
	of young-donkeys
	unless working
	derived wvs-donkey: young donkeys are printed up to 80
again 10 now newborn-heart-high foal: heart-rate > 150 /min
	of newborns
	derived newborn-foal-2010: up to 150 by twelve hours
again 10 now neonate-heart-high foal: heart-rate > 120 /min
	of neonates
	derived foaltimevet: 80 to 120 in the first week; one practice's page; counted twice is ours
now young-heart-low foal: heart-rate < 60 /min
	of neonates
	derived foaltimevet: over 60 from birth; one practice's page
now newborn-heart-low foal: heart-rate < 60 /min
	of newborns
	with since-birth 5..
	derived foaltimevet: over 60 from birth; one practice's page
again 5 now newborn-heart-low-unknown foal: heart-rate < 60 /min
	of newborns
	unless since-birth 5..
	derived foaltimevet: over 60 from birth; one practice's page
again 10 soon newborn-heart-slow foal: heart-rate < 70 /min
	of newborns
	with since-birth 120..
	assumed: the rows printed for foals some hours old begin at 70 to 80; an hour's foal may have less
again 10 soon foal-heart-raised foal: heart-rate > 100 /min
	of horse-foals-past-a-week
	common-practice: a lay page prints 60 to 90 in these months
again 10 now foal-heart-high foal: heart-rate > 120 /min
	of horse-foals-past-a-week
	assumed: over every row printed for foals after the first day
now foal-heart-and-more foal: heart-rate > 100 /min
	of horse-foals-past-a-week
	with other-rule
	common-practice
now foal-heart-breath foal: heart-rate > 120 /min
	of neonates-and-foals
	with respiratory-rate > 60 /min
	calm
	derived foaltimevet: both rates over every printed row
again 10 soon heart-low heart: heart-rate < 20 /min
	of grown-horses
	derived uci-colic-1989: athletic horses may show 20 to 25
now heart-low-weak heart: heart-rate < 24 /min
	of grown-horses
	beside pulse-strength weak not-felt, off-colour, sway sways falls, gum-colour pale-pink white
	derived uci-colic-1989: 20 to 25 in athletes, who are neither weak nor dull
soon rhythm-irregular heart: heart-rhythm irregular
	read mcgurrin-2015: irregular without pattern at a usual rate; not ridden until checked
now rhythm-and-more heart: heart-rhythm irregular
	beside pulse-strength weak not-felt, off-colour, sway sways falls, respiratory-effort flared pushing struggling
	read latitude36: a weak or irregular rhythm; one practice's page
now rhythm-fast heart: heart-rhythm irregular
	of grown-horses
	unless working
	beside heart-rate >= 60 /min, respiratory-rate > 24 /min
	derived mcgurrin-2015: irregular with a fast heart or breath
now foal-limbs-cold foal: limb-warmth cold
	of first-week
	common-practice
now foal-pulse-weak foal: pulse-strength weak not-felt
	of foals
	common-practice
soon foal-gum-dry foal: gum-moisture dry
	of foals
	common-practice
now newborn-heart-and-more foal: heart-rate > 120 /min
	of newborns
	with since-birth 60..
	beside rectal-temperature >= 38.9 Cel, attitude quiet, off-feed, gum-moisture tacky dry
	derived foaltimevet: 80 to 120 in the first week; beside another sign it is not counted again
now young-donkey-heart-high heart: heart-rate >= 110 /min
	of young-donkeys
	unless working
	calm
	derived wvs-donkey: young donkeys are printed up to 80; thirty over it is ours
now donkey-heart-and-more circulation
	of grown-donkeys
	with heart-rate >= 54 /min
	unless working
	beside pulse-strength weak, coat cold-sweat, capillary-refill > 2.5 s, limb-warmth cold, droppings few none, attitude quiet dull, off-feed, gum-colour pale-pink white, gum-moisture tacky dry
	derived wvs-donkey: healthy donkeys are printed to 68, most under 54; beside another sign it is not counted again
now young-circulation-heart circulation
	of young-horses
	with heart-rate >= 80 /min
	unless working
	beside pulse-strength weak, coat cold-sweat, capillary-refill > 2.5 s, limb-warmth cold
	common-practice: a fast heart with a sign of failing circulation
now heart-settled-72 heart: heart-rate >= 72 /min
	of grown-horses
	with since-work ..60
	unless working
	assumed: in the hour after easy work a heart is counted twice under 72
now heart-settled-64 heart: heart-rate >= 64 /min
	of grown-horses
	with since-work 60..120
	derived fei-2019: 64 within 20 to 30 minutes; an hour after work it should be long under
again 10 now heart-settling heart: heart-rate >= 60 /min
	of grown-horses
	with since-work ..120
	unless working
	derived devereux: p. 760; over 60 at rest; in the two hours after work it is counted twice
again 15 now foaling-heart mare: heart-rate >= 60 /min
	of grown-horses
	with since-foaling ..120
	unless working
	common-practice: after foaling a heart settles within the hour
again 10 now labour-heart mare: heart-rate >= 80 /min
	of grown-horses
	with foaling restless waters white-bag feet-and-nose
	common-practice
now rhythm-pauses-and-more heart: heart-rhythm pauses
	beside pulse-strength weak not-felt, off-colour, sway sways falls, respiratory-effort pushing struggling
	derived latitude36: a weak or irregular rhythm; one practice's page; pauses alone are common at rest
soon dry-skin circulation: gum-moisture tacky dry
	of older
	with skin-tent >= 3 s
	common-practice: the pinch alone says little (Pritchard 2008); beside dry gums it is told
again 15 soon donkey-heart-worried heart: heart-rate >= 54 /min
	of grown-donkeys
	with worried
	unless working, excited
	derived wvs-donkey: healthy donkeys are printed to 68, most under 54; counted again where somebody is worried
`
