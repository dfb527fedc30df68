// Made from the catalogue by go test ./vitals/answer -update. Do not edit.

package site

import "whorl.example/vitals"

// Of [vitals.Coat].
const (
	CoatAllOver         vitals.SiteID = "all-over"
	CoatNeck            vitals.SiteID = "neck"
	CoatShoulder        vitals.SiteID = "shoulder"
	CoatFlank           vitals.SiteID = "flank"
	CoatBetweenHindLegs vitals.SiteID = "between-hind-legs"
)

// Of [vitals.Wounds].
const (
	WoundsHead         vitals.SiteID = "head"
	WoundsNeck         vitals.SiteID = "neck"
	WoundsChest        vitals.SiteID = "chest"
	WoundsShoulder     vitals.SiteID = "shoulder"
	WoundsBack         vitals.SiteID = "back"
	WoundsBelly        vitals.SiteID = "belly"
	WoundsFlank        vitals.SiteID = "flank"
	WoundsHindquarters vitals.SiteID = "hindquarters"
	WoundsForeLeft     vitals.SiteID = "fore-left"
	WoundsForeRight    vitals.SiteID = "fore-right"
	WoundsHindLeft     vitals.SiteID = "hind-left"
	WoundsHindRight    vitals.SiteID = "hind-right"
)

// Of [vitals.Eye].
const (
	EyeEyeLeft  vitals.SiteID = "eye-left"
	EyeEyeRight vitals.SiteID = "eye-right"
)

// Of [vitals.Swelling].
const (
	SwellingThroat      vitals.SiteID = "throat"
	SwellingFace        vitals.SiteID = "face"
	SwellingNeck        vitals.SiteID = "neck"
	SwellingChest       vitals.SiteID = "chest"
	SwellingBelly       vitals.SiteID = "belly"
	SwellingSheathUdder vitals.SiteID = "sheath-udder"
	SwellingBack        vitals.SiteID = "back"
	SwellingForeLeft    vitals.SiteID = "fore-left"
	SwellingForeRight   vitals.SiteID = "fore-right"
	SwellingHindLeft    vitals.SiteID = "hind-left"
	SwellingHindRight   vitals.SiteID = "hind-right"
)

// Of [vitals.LimbLoad].
const (
	LimbLoadForeLeft  vitals.SiteID = "fore-left"
	LimbLoadForeRight vitals.SiteID = "fore-right"
	LimbLoadHindLeft  vitals.SiteID = "hind-left"
	LimbLoadHindRight vitals.SiteID = "hind-right"
)

// Of [vitals.Nostrils].
const (
	NostrilsNostrilLeft  vitals.SiteID = "nostril-left"
	NostrilsNostrilRight vitals.SiteID = "nostril-right"
)

// Of [vitals.RespiratoryRate].
const (
	RespiratoryRateAfar    vitals.SiteID = "afar"
	RespiratoryRateFlank   vitals.SiteID = "flank"
	RespiratoryRateNostril vitals.SiteID = "nostril"
)

// Of [vitals.SkinTent].
const (
	SkinTentEyelid   vitals.SiteID = "eyelid"
	SkinTentShoulder vitals.SiteID = "shoulder"
	SkinTentNeck     vitals.SiteID = "neck"
)

// Of [vitals.HeartRate].
const (
	HeartRateJaw           vitals.SiteID = "jaw"
	HeartRateDigitalArtery vitals.SiteID = "digital-artery"
	HeartRateChestLeft     vitals.SiteID = "chest-left"
)

// Of [vitals.DigitalPulse].
const (
	DigitalPulseForeLeft  vitals.SiteID = "fore-left"
	DigitalPulseForeRight vitals.SiteID = "fore-right"
	DigitalPulseHindLeft  vitals.SiteID = "hind-left"
	DigitalPulseHindRight vitals.SiteID = "hind-right"
)

// Of [vitals.HoofWarmth].
const (
	HoofWarmthForeLeft  vitals.SiteID = "fore-left"
	HoofWarmthForeRight vitals.SiteID = "fore-right"
	HoofWarmthHindLeft  vitals.SiteID = "hind-left"
	HoofWarmthHindRight vitals.SiteID = "hind-right"
)

// Of [vitals.GutSounds].
const (
	GutSoundsFlankLeft     vitals.SiteID = "flank-left"
	GutSoundsFlankRight    vitals.SiteID = "flank-right"
	GutSoundsGutUpperLeft  vitals.SiteID = "gut-upper-left"
	GutSoundsGutLowerLeft  vitals.SiteID = "gut-lower-left"
	GutSoundsGutUpperRight vitals.SiteID = "gut-upper-right"
	GutSoundsGutLowerRight vitals.SiteID = "gut-lower-right"
)

// Of [vitals.Joints].
const (
	JointsKnee    vitals.SiteID = "knee"
	JointsHock    vitals.SiteID = "hock"
	JointsStifle  vitals.SiteID = "stifle"
	JointsFetlock vitals.SiteID = "fetlock"
)

// Of [vitals.LungSounds].
const (
	LungSoundsLungLeft  vitals.SiteID = "lung-left"
	LungSoundsLungRight vitals.SiteID = "lung-right"
)

// Of [vitals.Muscle].
const (
	MuscleBackLeft         vitals.SiteID = "back-left"
	MuscleBackRight        vitals.SiteID = "back-right"
	MuscleThighLeft        vitals.SiteID = "thigh-left"
	MuscleThighRight       vitals.SiteID = "thigh-right"
	MuscleHindquarterLeft  vitals.SiteID = "hindquarter-left"
	MuscleHindquarterRight vitals.SiteID = "hindquarter-right"
	MuscleInnerThighLeft   vitals.SiteID = "inner-thigh-left"
	MuscleInnerThighRight  vitals.SiteID = "inner-thigh-right"
)
