package level

// aDay is a daily rhythm as that of temperature.
var aDay = Rhythm{Amplitude: .25, AmplitudeSD: .1, From: 16, To: 23}
