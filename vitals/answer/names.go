// Made from the catalogue by go test ./vitals/answer -update. Do not edit.

package answer

import "whorl.example/vitals"

// Of [vitals.Attitude].
const (
	AttitudeBright        vitals.GradeID = "bright"
	AttitudeQuiet         vitals.GradeID = "quiet"
	AttitudeDull          vitals.GradeID = "dull"
	AttitudeAnxious       vitals.GradeID = "anxious"
	AttitudeOdd           vitals.GradeID = "odd"
	AttitudeDownNotRising vitals.GradeID = "down-not-rising"
	AttitudeDownThrashing vitals.GradeID = "down-thrashing"
)

// Of [vitals.HeadCarriage].
const (
	HeadCarriageUsual     vitals.GradeID = "usual"
	HeadCarriageLow       vitals.GradeID = "low"
	HeadCarriageTilted    vitals.GradeID = "tilted"
	HeadCarriageStretched vitals.GradeID = "stretched"
)

// Of [vitals.Coat].
const (
	CoatSmooth    vitals.GradeID = "smooth"
	CoatStaring   vitals.GradeID = "staring"
	CoatBumps     vitals.GradeID = "bumps"
	CoatSweating  vitals.GradeID = "sweating"
	CoatColdSweat vitals.GradeID = "cold-sweat"
	CoatHotDry    vitals.GradeID = "hot-dry"
)

// Of [vitals.Wounds].
const (
	WoundsNone   vitals.GradeID = "none"
	WoundsSlight vitals.GradeID = "slight"
	WoundsHeavy  vitals.GradeID = "heavy"
)

// Of [vitals.WoundPlace].
const (
	WoundPlaceNone       vitals.GradeID = "none"
	WoundPlaceJoint      vitals.GradeID = "joint"
	WoundPlaceTendon     vitals.GradeID = "tendon"
	WoundPlaceEye        vitals.GradeID = "eye"
	WoundPlaceChestBelly vitals.GradeID = "chest-belly"
	WoundPlaceFoot       vitals.GradeID = "foot"
	WoundPlaceDeep       vitals.GradeID = "deep"
	WoundPlaceFluid      vitals.GradeID = "fluid"
	WoundPlaceObject     vitals.GradeID = "object"
)

// Of [vitals.Eye].
const (
	EyeClear       vitals.GradeID = "clear"
	EyeWeeping     vitals.GradeID = "weeping"
	EyeHalfShut    vitals.GradeID = "half-shut"
	EyeShut        vitals.GradeID = "shut"
	EyeSwollen     vitals.GradeID = "swollen"
	EyeThirdEyelid vitals.GradeID = "third-eyelid"
	EyeCloudy      vitals.GradeID = "cloudy"
	EyeInjured     vitals.GradeID = "injured"
)

// Of [vitals.Swelling].
const (
	SwellingNone     vitals.GradeID = "none"
	SwellingPairCool vitals.GradeID = "pair-cool"
	SwellingCool     vitals.GradeID = "cool"
	SwellingHot      vitals.GradeID = "hot"
	SwellingHotLarge vitals.GradeID = "hot-large"
)

// Of [vitals.LimbLoad].
const (
	LimbLoadEven     vitals.GradeID = "even"
	LimbLoadResting  vitals.GradeID = "resting"
	LimbLoadPointing vitals.GradeID = "pointing"
	LimbLoadNoWeight vitals.GradeID = "no-weight"
)

// Of [vitals.Stance].
const (
	StanceSquare     vitals.GradeID = "square"
	StanceParkedOut  vitals.GradeID = "parked-out"
	StanceStraddled  vitals.GradeID = "straddled"
	StanceTuckedUp   vitals.GradeID = "tucked-up"
	StanceRockedBack vitals.GradeID = "rocked-back"
)

// Of [vitals.Doing].
const (
	DoingEating        vitals.GradeID = "eating"
	DoingStanding      vitals.GradeID = "standing"
	DoingMoving        vitals.GradeID = "moving"
	DoingLying         vitals.GradeID = "lying"
	DoingRolling       vitals.GradeID = "rolling"
	DoingPawing        vitals.GradeID = "pawing"
	DoingWatchingFlank vitals.GradeID = "watching-flank"
)

// Of [vitals.DoingUsual].
const (
	DoingUsualUsual   vitals.GradeID = "usual"
	DoingUsualUnusual vitals.GradeID = "unusual"
)

// Of [vitals.PainSigns].
const (
	PainSignsNone          vitals.GradeID = "none"
	PainSignsLiesMore      vitals.GradeID = "lies-more"
	PainSignsLeavesFeed    vitals.GradeID = "leaves-feed"
	PainSignsLipCurl       vitals.GradeID = "lip-curl"
	PainSignsPlaysInWater  vitals.GradeID = "plays-in-water"
	PainSignsWatchesFlank  vitals.GradeID = "watches-flank"
	PainSignsPaws          vitals.GradeID = "paws"
	PainSignsStretchesOut  vitals.GradeID = "stretches-out"
	PainSignsKicksBelly    vitals.GradeID = "kicks-belly"
	PainSignsBitesBelly    vitals.GradeID = "bites-belly"
	PainSignsGroans        vitals.GradeID = "groans"
	PainSignsBloated       vitals.GradeID = "bloated"
	PainSignsUpAndDown     vitals.GradeID = "up-and-down"
	PainSignsRolls         vitals.GradeID = "rolls"
	PainSignsSitsLikeADog  vitals.GradeID = "sits-like-a-dog"
	PainSignsOnItsBack     vitals.GradeID = "on-its-back"
	PainSignsEasedSuddenly vitals.GradeID = "eased-suddenly"
)

// Of [vitals.Gait].
const (
	GaitFree        vitals.GradeID = "free"
	GaitShort       vitals.GradeID = "short"
	GaitLame        vitals.GradeID = "lame"
	GaitStiff       vitals.GradeID = "stiff"
	GaitWillNotWalk vitals.GradeID = "will-not-walk"
	GaitStaggers    vitals.GradeID = "staggers"
)

// Of [vitals.Turn].
const (
	TurnEasy    vitals.GradeID = "easy"
	TurnSore    vitals.GradeID = "sore"
	TurnCrosses vitals.GradeID = "crosses"
)

// Of [vitals.Sway].
const (
	SwaySteady   vitals.GradeID = "steady"
	SwayShifting vitals.GradeID = "shifting"
	SwaySways    vitals.GradeID = "sways"
	SwayFalls    vitals.GradeID = "falls"
)

// Of [vitals.Cooling].
const (
	CoolingRecovering    vitals.GradeID = "recovering"
	CoolingSlow          vitals.GradeID = "slow"
	CoolingNotRecovering vitals.GradeID = "not-recovering"
)

// Of [vitals.Foaling].
const (
	FoalingNone        vitals.GradeID = "none"
	FoalingRestless    vitals.GradeID = "restless"
	FoalingWaters      vitals.GradeID = "waters"
	FoalingWhiteBag    vitals.GradeID = "white-bag"
	FoalingFeetAndNose vitals.GradeID = "feet-and-nose"
	FoalingRedBag      vitals.GradeID = "red-bag"
	FoalingWrong       vitals.GradeID = "wrong"
	FoalingStuck       vitals.GradeID = "stuck"
)

// Of [vitals.Afterbirth].
const (
	AfterbirthOut     vitals.GradeID = "out"
	AfterbirthHanging vitals.GradeID = "hanging"
	AfterbirthLate    vitals.GradeID = "late"
	AfterbirthTorn    vitals.GradeID = "torn"
)

// Of [vitals.Vulva].
const (
	VulvaUsual     vitals.GradeID = "usual"
	VulvaSlack     vitals.GradeID = "slack"
	VulvaDischarge vitals.GradeID = "discharge"
	VulvaBlood     vitals.GradeID = "blood"
	VulvaTear      vitals.GradeID = "tear"
)

// Of [vitals.Droppings].
const (
	DroppingsUsual vitals.GradeID = "usual"
	DroppingsFew   vitals.GradeID = "few"
	DroppingsDry   vitals.GradeID = "dry"
	DroppingsLoose vitals.GradeID = "loose"
	DroppingsNone  vitals.GradeID = "none"
)

// Of [vitals.Water].
const (
	WaterUsual vitals.GradeID = "usual"
	WaterLess  vitals.GradeID = "less"
	WaterMore  vitals.GradeID = "more"
	WaterNone  vitals.GradeID = "none"
)

// Of [vitals.Feed].
const (
	FeedUsual vitals.GradeID = "usual"
	FeedLess  vitals.GradeID = "less"
	FeedNone  vitals.GradeID = "none"
)

// Of [vitals.Swallowing].
const (
	SwallowingUsual      vitals.GradeID = "usual"
	SwallowingDropsFeed  vitals.GradeID = "drops-feed"
	SwallowingGulps      vitals.GradeID = "gulps"
	SwallowingDrools     vitals.GradeID = "drools"
	SwallowingCannot     vitals.GradeID = "cannot"
	SwallowingFeedAtNose vitals.GradeID = "feed-at-nose"
	SwallowingMilkAtNose vitals.GradeID = "milk-at-nose"
)

// Of [vitals.Urine].
const (
	UrineUsual   vitals.GradeID = "usual"
	UrineDark    vitals.GradeID = "dark"
	UrineStrains vitals.GradeID = "strains"
	UrineNone    vitals.GradeID = "none"
)

// Of [vitals.FirstHours].
const (
	FirstHoursDone         vitals.GradeID = "done"
	FirstHoursNotOnChest   vitals.GradeID = "not-on-chest"
	FirstHoursNoSuckReflex vitals.GradeID = "no-suck-reflex"
	FirstHoursNotStanding  vitals.GradeID = "not-standing"
	FirstHoursNotNursed    vitals.GradeID = "not-nursed"
	FirstHoursNoDung       vitals.GradeID = "no-dung"
	FirstHoursNoUrine      vitals.GradeID = "no-urine"
)

// Of [vitals.Lately].
const (
	LatelyNone       vitals.GradeID = "none"
	LatelyContact    vitals.GradeID = "contact"
	LatelyJourney    vitals.GradeID = "journey"
	LatelyVaccine    vitals.GradeID = "vaccine"
	LatelyOthersIll  vitals.GradeID = "others-ill"
	LatelyFeedRaid   vitals.GradeID = "feed-raid"
	LatelyAteHarmful vitals.GradeID = "ate-harmful"
	LatelyBite       vitals.GradeID = "bite"
	LatelyOperation  vitals.GradeID = "operation"
)

// Of [vitals.RespiratoryEffort].
const (
	RespiratoryEffortEasy       vitals.GradeID = "easy"
	RespiratoryEffortFlared     vitals.GradeID = "flared"
	RespiratoryEffortPushing    vitals.GradeID = "pushing"
	RespiratoryEffortStruggling vitals.GradeID = "struggling"
)

// Of [vitals.Nostrils].
const (
	NostrilsDry        vitals.GradeID = "dry"
	NostrilsClear      vitals.GradeID = "clear"
	NostrilsColoured   vitals.GradeID = "coloured"
	NostrilsBloody     vitals.GradeID = "bloody"
	NostrilsFroth      vitals.GradeID = "froth"
	NostrilsBloodFlows vitals.GradeID = "blood-flows"
)

// Of [vitals.Cough].
const (
	CoughNone  vitals.GradeID = "none"
	CoughFew   vitals.GradeID = "few"
	CoughOften vitals.GradeID = "often"
)

// Of [vitals.GumColour].
const (
	GumColourPink     vitals.GradeID = "pink"
	GumColourPalePink vitals.GradeID = "pale-pink"
	GumColourYellow   vitals.GradeID = "yellow"
	GumColourWhite    vitals.GradeID = "white"
	GumColourBrickRed vitals.GradeID = "brick-red"
	GumColourPurple   vitals.GradeID = "purple"
	GumColourBlue     vitals.GradeID = "blue"
)

// Of [vitals.DarkRim].
const (
	DarkRimNone    vitals.GradeID = "none"
	DarkRimPresent vitals.GradeID = "present"
)

// Of [vitals.GumMoisture].
const (
	GumMoistureWet   vitals.GradeID = "wet"
	GumMoistureTacky vitals.GradeID = "tacky"
	GumMoistureDry   vitals.GradeID = "dry"
)

// Of [vitals.PulseStrength].
const (
	PulseStrengthUsual   vitals.GradeID = "usual"
	PulseStrengthStrong  vitals.GradeID = "strong"
	PulseStrengthWeak    vitals.GradeID = "weak"
	PulseStrengthNotFelt vitals.GradeID = "not-felt"
)

// Of [vitals.LimbWarmth].
const (
	LimbWarmthUsual vitals.GradeID = "usual"
	LimbWarmthWarm  vitals.GradeID = "warm"
	LimbWarmthCool  vitals.GradeID = "cool"
	LimbWarmthCold  vitals.GradeID = "cold"
)

// Of [vitals.DigitalPulse].
const (
	DigitalPulseFaint    vitals.GradeID = "faint"
	DigitalPulseEasy     vitals.GradeID = "easy"
	DigitalPulseBounding vitals.GradeID = "bounding"
)

// Of [vitals.HoofWarmth].
const (
	HoofWarmthCool vitals.GradeID = "cool"
	HoofWarmthWarm vitals.GradeID = "warm"
	HoofWarmthHot  vitals.GradeID = "hot"
)

// Of [vitals.GutSounds].
const (
	GutSoundsNone  vitals.GradeID = "none"
	GutSoundsLess  vitals.GradeID = "less"
	GutSoundsUsual vitals.GradeID = "usual"
	GutSoundsMore  vitals.GradeID = "more"
)

// Of [vitals.Udder].
const (
	UdderUsual    vitals.GradeID = "usual"
	UdderFilling  vitals.GradeID = "filling"
	UdderWax      vitals.GradeID = "wax"
	UdderDripping vitals.GradeID = "dripping"
	UdderFull     vitals.GradeID = "full"
	UdderHot      vitals.GradeID = "hot"
)

// Of [vitals.Navel].
const (
	NavelDry     vitals.GradeID = "dry"
	NavelWet     vitals.GradeID = "wet"
	NavelSwollen vitals.GradeID = "swollen"
)

// Of [vitals.Joints].
const (
	JointsFlat vitals.GradeID = "flat"
	JointsFull vitals.GradeID = "full"
	JointsHot  vitals.GradeID = "hot"
)

// Of [vitals.HeartRhythm].
const (
	HeartRhythmRegular   vitals.GradeID = "regular"
	HeartRhythmPauses    vitals.GradeID = "pauses"
	HeartRhythmIrregular vitals.GradeID = "irregular"
)

// Of [vitals.GutOrder].
const (
	GutOrderOrderly   vitals.GradeID = "orderly"
	GutOrderHaphazard vitals.GradeID = "haphazard"
)

// Of [vitals.LungSounds].
const (
	LungSoundsUsual   vitals.GradeID = "usual"
	LungSoundsQuieter vitals.GradeID = "quieter"
	LungSoundsWheeze  vitals.GradeID = "wheeze"
	LungSoundsCrackle vitals.GradeID = "crackle"
)

// Of [vitals.Muscle].
const (
	MuscleUsual   vitals.GradeID = "usual"
	MuscleSoft    vitals.GradeID = "soft"
	MuscleHard    vitals.GradeID = "hard"
	MusclePainful vitals.GradeID = "painful"
)
