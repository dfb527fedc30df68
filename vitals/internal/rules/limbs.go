package rules

// Limbs: weight, stance, walk and feet, hard muscle, wounds, swellings, skin and eyes, swallowing.
const Limbs = `
now no-weight limb: limb-load no-weight
	read devereux: p. 146; unable to bear any weight
soon pointing limb: limb-load pointing
	of older
	read devereux: p. 147; lame, and none of the emergencies
now foal-lame foal: gait short lame stiff
	of foals
	read devereux: p. 387; infection until shown otherwise
now foal-pointing foal: limb-load pointing
	of foals
	read devereux: p. 387; infection until shown otherwise
now rocked-back feet: stance rocked-back
	read devereux: p. 147; immediate
now will-not-walk feet: gait will-not-walk
	read latitude36: unwilling to move; one practice's page
soon lame limb: gait lame
	of older
	read devereux: p. 147
soon short-steps feet: gait short
	of older
	read devereux: p. 147
now stiff-fever muscle: gait stiff
	of older
	with rectal-temperature >= 38.6 Cel
	unless working, since-work ..120, lately vaccine
	common-practice: fever and a stiff walk are not left for the day
soon stiff muscle: gait stiff
	of older
	common-practice
soon turn-sore feet: turn sore
	derived devereux: p. 147; lame in the turn
soon pulses-bounding feet: digital-pulse bounding at 2 of fore-left fore-right
	unless working
	derived vet-evidence-253: the pulse may rise hours before lameness
now pulses-bounding-hot feet: digital-pulse bounding at 2 of fore-left fore-right
	unless working
	beside hoof-warmth hot, limb-load pointing no-weight, gait short lame stiff will-not-walk, sway shifting, turn sore, stance rocked-back, off-colour
	read devereux: p. 255; bounding and warm
now pulses-bounding-lame feet: digital-pulse bounding at 2 of fore-left fore-right
	beside gait short lame stiff will-not-walk, sway shifting, limb-load pointing no-weight, stance rocked-back
	derived devereux: p. 255; after work the pulse alone says little, with a changed walk or stance it does
now hind-pulses-lame feet: digital-pulse bounding at 2 of hind-left hind-right
	beside gait short lame stiff will-not-walk, sway shifting, stance rocked-back
	derived devereux: p. 255; printed of the fores
now both-fores-pointed feet: limb-load pointing at 2 of fore-left fore-right
	of older
	with gait short lame stiff will-not-walk
	derived devereux: p. 255; weight off both fores in turn, with a changed walk
now pulses-three feet: digital-pulse bounding at 3 of fore-left fore-right hind-left hind-right
	unless working
	read equus-2017-laminitis: three feet and more
now fores-hot-short feet: hoof-warmth hot at 2 of fore-left fore-right
	unless working
	beside gait short lame stiff, sway shifting, turn sore, limb-load pointing
	derived devereux: p. 255; both fores hot with a changed stance or walk
again 120 soon pulse-bounding-one feet: digital-pulse bounding
	unless working
	common-practice
soon foot-hot-bounding feet: digital-pulse bounding
	with hoof-warmth hot
	unless working
	derived hampton-abscess: one foot hot and bounding; one practice's page
again 120 soon hoof-hot feet: hoof-warmth hot
	unless working, digital-pulse faint at 2 of fore-left fore-right
	common-practice: in the shade, or rested, first; hot in the sun with faint pulses is no sign
soon muscle muscle: muscle hard painful
	read devereux: p. 469; the signs
now muscle-work muscle: muscle hard painful
	beside worked, coat sweating cold-sweat, gait stiff short will-not-walk, urine dark, off-colour, in-pain, off-feed
	derived devereux: p. 469; the signs, after work; that one calls at once stands in lay texts only
now stiff-work muscle: gait stiff
	beside working, urine dark, coat cold-sweat
	derived devereux: p. 469; stiff after work, or weak with sweat
now stiff-sweating muscle: gait stiff
	with coat sweating cold-sweat
	unless working, hot-day
	derived devereux: p. 469; the signs, at rest or an hour and more after work
now stiff-sweating-distressed muscle: gait stiff short
	with coat sweating cold-sweat
	beside attitude anxious quiet dull odd
	derived devereux: p. 469; the signs, at any time after work
now heavy-bleeding bleeding: wounds heavy
	first press
	read aaep-when-to-call: uncontrolled bleeding
now wound-place wound: wound-place joint tendon eye chest-belly foot fluid object
	read purdue-emergency: near a joint or tendon, however small; Devereux p. 146 and the AAEP Foundation name the others
now wound-deep wound: wound-place deep
	read devereux: p. 99; through the skin and over 2.5 cm
soon wound-unplaced wound: wounds slight
	unless wound-place none
	derived devereux: p. 116; whether it is near a joint was not answered, and tetanus cover is asked of every wound
now wound-lame wound: wounds slight
	beside gait short stiff lame will-not-walk, limb-load pointing no-weight, swelling hot hot-large
	read devereux: p. 99; lamer than the wound looks
now wound-ill wound: wounds slight
	beside off-colour
	common-practice: a wound does not make a horse dull by itself
again 720 soon wound-watch wound: wounds slight
	with wound-place none
	read devereux: p. 116; every wound: ask about tetanus cover
soon swelling-cool skin: swelling cool
	read avon-ridge: away from vital parts: the same or the next day; one practice's page
soon swelling-hot limb: swelling hot
	derived avon-ridge: one practice's page
now swelling-large limb: swelling hot-large
	read devereux: p. 146; severe swelling of a limb
now swelling-throat breath: swelling cool hot hot-large at 1 of throat face
	beside respiratory-rate >= 30 /min, off-feed, cough often, respiratory-effort flared pushing struggling, coat bumps, swallowing gulps drools cannot feed-at-nose
	read avon-ridge: round the throat; one practice's page; beside respiratory-rate >= 30 /min, off-feed, noisy or hard breathing
now swelling-lame limb: swelling hot
	beside gait lame will-not-walk, limb-load pointing no-weight
	read devereux: p. 146; swelling with severe lameness; p. 99
now foal-swelling foal: swelling hot
	of foals
	derived devereux: p. 387; hot swelling in a foal
again 60 soon bumps skin: coat bumps
	common-practice: bumps alone; they may come before a swollen face or hard breathing
now bumps-and-more skin: coat bumps
	beside swelling cool hot hot-large at 1 of face throat, respiratory-effort flared pushing struggling, in-pain, off-colour, respiratory-rate >= 30 /min, attitude anxious dull, lately vaccine
	read mwv-vaccine: hives with a swollen face, hard breathing, pain or collapse; one practice's page
now after-injection skin: lately vaccine
	beside respiratory-effort pushing struggling, in-pain, swelling cool hot hot-large at 1 of face throat, attitude down-not-rising
	read mwv-vaccine: call immediately; one practice's page
now eye eye: eye half-shut shut swollen cloudy injured
	read purdue-emergency: any sign of the eye: do not wait a day
soon eye-weeping eye: eye weeping
	unless eye weeping at 2 of eye-left eye-right
	read nfe-eye: that day; one practice's page; Purdue would call at once
again 720 soon eyes-weeping eye: eye weeping at 2 of eye-left eye-right
	derived equus-2015-eye: both, open and clear: flies, wind or a blocked duct
now cannot-swallow swallow: swallowing cannot
	first feed-water-away
	common-practice
again 10 now swallow-blocked swallow: swallowing feed-at-nose gulps
	of older-horses
	first feed-water-away
	read devereux: p. 745; clears in 5 to 10 minutes; others print 15 minutes and hours
now swallow-distressed swallow: swallowing feed-at-nose gulps
	beside respiratory-effort flared pushing struggling, cough often, rectal-temperature >= 38.6 Cel, off-colour, medicine-given, attitude anxious, coat sweating cold-sweat, nostrils bloody blood-flows froth, respiratory-rate >= 40 /min
	first feed-water-away
	read devereux: p. 745; if distressed: call
now swallow-donkey-foal swallow: swallowing feed-at-nose gulps
	of donkeys
	first feed-water-away
	assumed: a donkey, or a foal, is not left for ten minutes
now swallow-foal foal: swallowing feed-at-nose gulps
	of foals
	assumed: a foal is not left for ten minutes
now milk-at-nose foal: swallowing milk-at-nose
	read the-horse-foal-2020: wrong swallowing; the lungs are at risk
soon drools swallow: swallowing drools drops-feed
	common-practice
now drools-and-more nerves: swallowing drools drops-feed
	beside off-colour, gait stiff staggers, head-carriage stretched tilted, rectal-temperature >= 38.6 Cel, attitude odd anxious
	common-practice
again 10 now coughs-stretched swallow: head-carriage stretched
	of older
	with cough few often
	first feed-water-away
	derived devereux: pp. 744-745; stretched neck and cough
now foal-swelling-limb foal: swelling cool at 1 of fore-left fore-right hind-left hind-right
	of foals
	derived devereux: p. 387; a swelling of a foal's leg that is not hot
now drools-cough swallow: swallowing drools drops-feed
	of older-horses
	beside cough few often, head-carriage stretched, nostrils coloured
	first feed-water-away
	derived devereux: pp. 744-745; stretched neck, cough and slobber
`
