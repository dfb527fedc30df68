package rules

// Behaviour: how the animal seems, its nerves, belly pain, and what goes in and out.
const Behaviour = `
now down-not-rising other: attitude down-not-rising
	read lightfoot-2020: recumbency, the sign receptionists most often named critical
now down-thrashing belly: attitude down-thrashing
	read devereux: pp. 759-760
now odd-temper nerves: attitude odd
	read aaep-when-to-call: aggressive or unusual behaviour
soon dull other: attitude dull
	of other-than-donkeys-or-mules
	read react: any change in behaviour
now dull-and-more other: attitude dull
	of other-than-donkeys-or-mules
	with any-rule
	derived purdue-emergency: dull with a fever or off feed; with any other rule is ours
now donkey-dull feed: attitude dull
	of donkeys
	read ukvet-donkey: potentially an emergency
now mule-dull feed: attitude dull
	of older-mules
	derived ukvet-donkey: printed for donkeys; a dull mule is taken as one
now foal-dull foal: attitude dull
	of horse-foals
	read lenz-aqha
again 30 now foal-quiet foal: attitude quiet
	of foals
	derived gerros-osu: any foal that looks ill; that a quiet one is roused and checked again is ours
again 60 soon donkey-quiet feed: attitude quiet
	of older-donkeys
	derived ukvet-donkey: donkeys hide illness; one that stays quiet is told of
again 30 soon anxious other: attitude anxious
	unless excited, working, first-stage
	common-practice
soon quiet-and-more other: attitude quiet
	of older-horses
	with any-rule
	unless since-foaling ..120
	assumed: quieter than bright, with another rule
now quiet-and-two other: attitude quiet
	of older-horses
	with two-rules, worried
	assumed: quieter than bright, with two other rules
now donkey-quiet-and-more feed: attitude quiet
	of older-donkeys
	with any-rule
	derived ukvet-donkey: donkeys hide illness; one that is quiet with any other sign is not left for the day
now in-foal-dull mare: attitude dull
	of older-horses
	with in-foal
	common-practice
now in-foal-quiet-and-more mare: attitude quiet
	of older-horses
	with in-foal, any-rule, worried
	common-practice
now after-foaling-quiet mare: attitude quiet
	of older-horses
	with since-foaling 120..14400, other-rule
	derived devereux: p. 962; dull after foaling; quiet with another sign, and ten days, are ours
soon two-signs other
	of older
	with two-rules
	unless other-rule, since-work ..120, foaling restless waters white-bag feet-and-nose
	assumed: two little signs at once
now three-signs other
	of older
	with three-rules, worried
	unless now-rule, working
	assumed: three little signs at once
now donkey-two-signs feed
	of older-donkeys
	with two-rules, worried
	unless now-rule
	derived ukvet-donkey: donkeys hide illness; two signs at once are not left for the day
soon worse other: attitude bright quiet anxious
	of older
	with worried, getting-worse
	derived react: a change in behaviour that the handler says gets worse
now worse-and-more other: attitude bright quiet anxious dull
	of older
	with worried, getting-worse, any-rule
	assumed: a sign that the handler says gets worse
soon asked-to-come other: attitude bright quiet anxious
	of older
	with worried, asked-to-come
	common-practice: who asks for a visit is heard the same day
again 30 soon unusual-here other: doing-usual unusual
	derived react: any change in behaviour
now staggers nerves: gait staggers
	read latitude36: staggering, uncoordinated; one practice's page
now crosses nerves: turn crosses
	derived latitude36: uncoordinated; one practice's page
now sways nerves: sway sways falls
	read latitude36: staggering, falling; one practice's page
now straddled nerves: stance straddled
	read latitude36: stands like a saw-horse; one practice's page
soon head-tilted nerves: head-carriage tilted
	derived chiltern-nervous: a common sign; that it may wait for the day is ours
now tilted-and-more nerves: head-carriage tilted
	beside attitude dull quiet anxious, sway shifting, gait stiff short will-not-walk, turn sore, swallowing drops-feed drools gulps cannot, eye half-shut shut swollen, stance straddled
	read acequine-nervous: tilt with a changed attitude or walk: immediately; one practice's page
soon head-low other: head-carriage low
	with other-rule
	assumed: a low head with another rule
again 15 soon head-stretched swallow: head-carriage stretched
	common-practice
again 60 soon shifts-feet feet: sway shifting
	common-practice
now fever-and-nerves nerves: rectal-temperature >= 38.6 Cel
	beside sway sways falls, gait staggers, turn crosses, head-carriage tilted, swallowing drools cannot, urine strains
	read chiltern-nervous: over 38.5 C in a horse with such signs; infection is likelier
now third-eyelid nerves: eye third-eyelid
	read vch-tetanus: one practice's page
now stiff-all-over nerves: gait stiff
	beside swallowing drools cannot drops-feed, stance straddled, head-carriage stretched
	derived wikivet-tetanus: stiff walk with jaw, ears or tail; the combination is ours
now colic-behaviour belly: doing rolling pawing watching-flank
	with in-pain
	unless lone-pain
	read ucdavis-vmth: signs of colic: call at once
now pain-signs belly: pain-signs lip-curl plays-in-water watches-flank paws stretches-out kicks-belly bites-belly groans bloated up-and-down rolls sits-like-a-dog on-its-back
	unless first-stage, lone-pain
	read ucdavis-vmth: signs of colic: call at once
now eased-suddenly belly: pain-signs eased-suddenly
	read devereux: p. 759; the last stage may turn quiet
soon early-pain-signs belly: pain-signs lies-more leaves-feed
	of older-horses
	unless first-stage
	read react
now early-pain-donkey belly: pain-signs lies-more leaves-feed
	of donkeys
	read ukvet-donkey: dull, lying, off feed
now early-pain-foal foal: pain-signs lies-more leaves-feed
	of foals
	derived gerros-osu: any foal that looks ill
now early-pain-heart belly: pain-signs lies-more leaves-feed
	of grown-horses
	with heart-rate >= 48 /min
	unless working, first-stage
	read newcastle-equine: over 48 where colic is suspected; one practice's page
now yearling-early-pain-heart belly: pain-signs lies-more leaves-feed
	of yearling-horses
	with heart-rate >= 60 /min
	unless working
	assumed: under the printed top, beside an early sign
now weanling-early-pain-heart belly: pain-signs lies-more leaves-feed
	of weanling-horses
	with heart-rate >= 72 /min
	unless working
	assumed: over the printed top, beside an early sign
now early-pain-more belly: pain-signs lies-more leaves-feed
	beside droppings few none, gut-sounds none, stance tucked-up, gum-moisture tacky dry
	assumed: two early signs together
soon tucked-up belly: stance tucked-up
	unless working
	common-practice
again 60 soon parked-out other: stance parked-out
	common-practice
again 30 soon lies-unusual belly: doing lying
	of older
	with doing-usual unusual
	derived react: lies down more than usual
now lies-unusual-feet feet: gait short lame stiff
	of older
	beside doing-usual unusual, pain-signs lies-more
	with doing lying
	derived equus-2017-laminitis: sore feet are rested by lying; the combination is ours
now masked-pain belly
	with medicine-given
	beside feed less none, droppings few none, pain-signs lies-more leaves-feed, stance tucked-up, gut-sounds none, doing pawing rolling
	read equus-2018-colic: painkillers mask how severe it is; that early signs then count is ours
soon masked-worried belly: attitude bright quiet anxious
	of older
	with medicine-given, worried
	derived equus-2018-colic: painkillers mask how severe it is; that it is told the same day is ours
now masked-heart belly: heart-rate >= 48 /min
	of grown-horses
	with medicine-given, worried
	unless working
	derived equus-2014-painkillers: the count is Newcastle Equine's for a suspected colic
soon masked-warm fever: rectal-temperature >= 101 [degF]
	of older-horses
	with medicine-given
	unless working
	derived ncsu-ehm: 101 F with a painkiller where 101.5 F is a fever without
now gut-silent belly: gut-sounds none everywhere
	read devereux: p. 760; Curtis 2015 keeps absence too
soon gut-part-silent belly: gut-sounds none
	derived devereux: p. 760; silence at one place is told
now gut-silent-pain belly: gut-sounds none
	beside in-pain, early-pain, off-colour, feed none
	derived curtis-2015: absent sounds with signs of pain or a fast heart
now gut-silent-heart belly: gut-sounds none
	of grown-horses
	with heart-rate >= 48 /min
	unless working, excited
	derived curtis-2015: absent sounds with a fast heart
again 60 soon gut-less belly: gut-sounds less none everywhere
	common-practice
soon eats-less feed: feed less none
	of older-horses
	unless since-work ..30, foaling restless waters white-bag feet-and-nose
	read react: eating less
now off-feed-few-droppings belly: feed less none
	of older
	with droppings few none
	unless foaling restless waters white-bag feet-and-nose
	derived devereux: pp. 759-760; that both together are not left for the day is ours
now eats-nothing-and-more feed: feed none
	of older-horses
	with other-rule
	derived purdue-emergency: off feed with a fever or dull; with any other rule is ours
now donkey-eats-less feed: feed less none
	of donkeys
	read ukvet-donkey: inappetence is potentially an emergency
now foal-nurses-less foal: feed less none
	of horse-foals
	read lenz-aqha: nurses 4 to 5 times an hour in its first week; in the months after it is the practice's word
now breeding-eats-less feed: feed less none
	of older-ponies
	with breeding
	unless foaling restless waters white-bag feet-and-nose
	read devereux: p. 792; pregnant and milking females are most at risk
now overweight-eats-less feed: feed less none
	of older-ponies
	with overweight
	read devereux: p. 792; overweight ponies
now pony-eats-nothing feed: feed none
	of older-ponies
	derived devereux: pp. 792-794; that a pony off feed altogether is not left for the day is ours
soon no-droppings belly: droppings none
	of older
	read react: fewer droppings
soon few-droppings belly: droppings few
	read react: fewer droppings
again 240 soon dry-droppings belly: droppings dry
	common-practice
now no-droppings-and-more belly: droppings none
	beside in-pain, early-pain, off-colour, feed none, heart-rate >= 60 /min
	derived newcastle-equine: none in 12 hours with any other sign; one practice's page
now foal-no-droppings foal: droppings none
	of foals
	derived gerros-osu: any foal that looks ill
again 720 soon loose gut: droppings loose
	of older-horses
	read devereux: p. 779; more than a day or two
soon donkey-loose gut: droppings loose
	of older-donkeys
	derived donkey-sanctuary-colitis: not common in donkeys
now loose-and-ill gut: droppings loose
	of older
	beside water none, rectal-temperature >= 38.6 Cel, off-colour, attitude quiet, off-feed, gum-moisture dry
	read devereux: p. 779; off colour or with a temperature: immediately
again 720 soon foal-loose foal: droppings loose
	of neonates-and-foals
	with attitude bright, feed usual, since-birth 5760..21600
	derived csu-foal-diarrhoea: days 4 to 14, bright and sucking, temperature 99 to 102 F: watched twice a day
now foal-loose-age foal: droppings loose
	of neonates-and-foals
	unless since-birth 5760..21600
	derived csu-foal-diarrhoea: outside days 4 to 14 it is not the loose dung of that age
now loose-heart gut: droppings loose
	of grown-horses
	with heart-rate >= 52 /min
	unless working, excited
	derived oglesby-colitis: an early rise to the mid fifties; one practice's page
soon loose-heart-mild gut: droppings loose
	of grown-horses
	with heart-rate >= 48 /min
	unless working, excited
	assumed: under the mid fifties, at which one practice calls
now loose-heart-young gut: droppings loose
	of young-horses
	with heart-rate >= 80 /min
	unless working, excited
	assumed: over the printed top
now loose-feet gut: droppings loose
	of older
	with digital-pulse bounding at 2 of fore-left fore-right
	unless working
	derived vet-evidence-253: a bounding pulse hours before lameness; beside loose manure is ours
now foal-loose-and-ill foal: droppings loose
	of foals
	beside feed less none, attitude dull quiet, rectal-temperature > 102 [degF], rectal-temperature < 99 [degF], swallowing milk-at-nose
	read devereux: p. 779; foals with loose droppings: urgently
now foal-loose-unknown foal: droppings loose
	of foals
	unless attitude bright
	read devereux: p. 779; foals with loose droppings: urgently
again 30 now foal-loose-nursing-unknown foal: droppings loose
	of foals
	unless feed usual less none
	derived devereux: p. 779; foals with loose droppings: urgently; whether it nurses is looked at first
now newborn-loose foal: droppings loose
	of newborns
	derived csu-foal-diarrhoea: before the fourth day it is not the loose dung of that age
now takes-nothing feed: feed none
	of older
	with water none
	common-practice
again 240 soon drinks-nothing other: water none
	common-practice: sources print 6 hours to 4 days
again 720 soon drinks-less other: water less
	common-practice
soon drinks-more other: water more
	unless hot-day, worked
	common-practice
now drinks-nothing-and-more other: water none
	beside gum-moisture dry, in-pain, hot-day, worked, off-colour
	common-practice: no water with pain, heat or dry gums
now urine-dark muscle: urine dark
	read umn-urine: red, brown or orange as it is passed: immediately
soon urine-strains other: urine strains
	of older
	read umn-urine: frequent or straining
now male-urine other: urine strains
	of older
	with male
	common-practice: a blocked urethra is a male's
now male-urine-none other: urine none
	of older
	with male
	beside attitude quiet dull anxious, stance parked-out straddled
	common-practice: a blocked urethra is a male's
now urine-strains-foal foal: urine strains
	of foals
	derived umn-urine: for foals it is ours
soon urine-none other: urine none
	of older
	common-practice
now urine-none-pain other: urine none strains
	of older
	beside in-pain, off-colour
	derived umn-urine: with pain, or dull, it is not left for the day
now urine-none-foal foal: urine none
	of foals
	derived walker-2023: over 12 hours; watched for hours in a foal is taken so
again 60 soon quiet-worried other: attitude quiet
	of older-horses
	with worried
	derived react: any change in behaviour; counted where the handler is worried
again 60 soon head-low-worried other: head-carriage low
	with worried
	assumed: a low head alone, where the handler is worried
now foal-quiet-breath foal: attitude quiet
	of neonates-and-foals
	with respiratory-rate >= 60 /min
	derived gerros-osu: any foal that looks ill; the rate is ours
now foal-quiet-worried foal: attitude quiet
	of first-week
	with worried
	derived gerros-osu: any foal that looks ill; in its first week, and somebody is worried
soon loose-dry gut: droppings loose
	of older-horses
	beside gum-moisture tacky, water less
	derived devereux: p. 779; loose with the first sign of drying out
now sweating-hot-and-more belly: coat sweating
	with hot-day
	unless since-work ..120
	beside off-feed, stance tucked-up, droppings few none
	common-practice: sweat on a hot day does not explain an animal that is off its feed
now heart-work-and-more belly: heart-rate >= 64 /min
	of grown-horses
	with working, since-work 5..
	beside droppings few none, gut-sounds none, early-pain, stance tucked-up
	assumed: a heart that stays over 64 with a sign of the belly is not taken for work
soon journey-and-more other: lately journey
	of older-horses
	beside attitude quiet, rectal-temperature >= 38.6 Cel, cough few often, off-feed, gait stiff
	derived the-horse-shipping: a fever is watched for after a long journey; with a first sign the vet is told
soon thin other: body-condition <= 2 1
	of past-a-week
	common-practice: poor or very thin on the scale of nine
again 15 now lone-pain-sign belly: pain-signs lip-curl paws
	of older-horses
	with lone-pain
	unless first-stage
	common-practice: one of the mildest signs, once, in a horse that eats; seen again, or with another, it is called for
again 15 now lone-pawing belly: doing pawing
	of older-horses
	with lone-pain
	unless first-stage
	common-practice: as a lone sign at the belly's question
now breeding-eats-nothing feed: feed none
	of grown-horses
	with breeding
	unless foaling restless waters white-bag feet-and-nose
	read devereux: p. 792; pregnant and milking females are most at risk
now breeding-less-and-more feed: feed less
	of grown-horses
	with breeding, any-rule
	unless foaling restless waters white-bag feet-and-nose
	derived devereux: p. 792; a little less alone is told the same day, with another sign it is not left
now mule-eats-nothing feed: feed none
	of older-mules
	derived ukvet-donkey: printed for donkeys; a mule is taken as one where it eats nothing
now mule-quiet-and-more feed: attitude quiet
	of older-mules
	with any-rule
	derived ukvet-donkey: printed for donkeys; a mule hides illness too
again 30 soon near-edges other
	of grown-horses
	with worried
	unless now-rule, working, since-work ..120, excited, hot-day, foaling restless waters white-bag feet-and-nose
	beside 2 of heart-rate >= 44 /min, respiratory-rate >= 20 /min, rectal-temperature >= 38.3 Cel, capillary-refill >= 2.5 s, attitude quiet, gum-moisture tacky, droppings dry, water less
	assumed: each at the edge of what is printed; two of them at once are looked at again
soon near-edges-three other
	of full-grown-horses
	unless now-rule, working, since-work ..120, excited, hot-day, foaling restless waters white-bag feet-and-nose
	beside 3 of heart-rate >= 44 /min, respiratory-rate >= 20 /min, rectal-temperature >= 38.3 Cel, capillary-refill >= 2.5 s, attitude quiet, gum-moisture tacky, droppings dry, water less
	assumed: each at the edge of what is printed; three of them at once are told
again 30 soon young-near-edges other
	of young-horses
	with worried
	unless now-rule, working, since-work ..120, excited, hot-day
	beside 2 of heart-rate >= 60 /min, respiratory-rate >= 24 /min, rectal-temperature >= 38.6 Cel, capillary-refill >= 2.5 s, attitude quiet, gum-moisture tacky, water less
	assumed: each at the edge of what is printed of weanlings and yearlings
again 30 soon donkey-near-edges feed
	of grown-donkeys
	with worried
	unless now-rule, working, excited, hot-day
	beside 2 of heart-rate >= 54 /min, respiratory-rate >= 36 /min, rectal-temperature >= 37.8 Cel, capillary-refill >= 2.5 s, attitude quiet, gum-moisture tacky, droppings dry, water less
	assumed: each at the edge of what is printed of donkeys, which show little else
`
