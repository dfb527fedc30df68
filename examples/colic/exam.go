package main

import (
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/vitals"
)

// night is when every exam is put: the table gives no time. Noon is the hour at which the daily rhythm of
// temperature is halfway.
var night = time.Date(1989, time.August, 6, 12, 0, 0, 0, time.UTC)

// horse is the animal of a row. The table knows two ages; three months stands for the young one.
// Its numbers repeat where a horse came twice; each visit is looked at by itself.
func (r row) horse() vitals.Horse {
	h := vitals.Horse{ID: vitals.ID("case-" + r.hospital), Name: r.hospital, Type: vitals.TypeHorse}
	if r.young {
		h.Born = vitals.DateOf(night.AddDate(0, -3, 0))
	}
	return h
}

// exam is the row as a handler would have entered it. What the table does not say is not
// checked.
func (r row) exam() vitals.Exam {
	e := vitals.Exam{
		ID: vitals.ID("line-" + strconv.Itoa(r.line)), Horse: r.horse().ID, At: night,
		Depth: vitals.Full, Purpose: vitals.Concern, State: vitals.State{Condition: vitals.AtRest},
		Wellness: vitals.Unwell, Status: vitals.Finished,
	}
	reading := func(sign vitals.SignID, value *decimal.Decimal, unit vitals.Unit, device vitals.Device) {
		f := vitals.Finding{Sign: sign}
		if value == nil {
			f.Absent = vitals.NotTried
		} else {
			f.Reading = &vitals.Reading{Value: *value, Unit: unit, Device: device}
		}
		e.Findings = append(e.Findings, f)
	}
	// answers holds the answer of each code, from 1; "" is not checked.
	chosen := func(sign vitals.SignID, site vitals.SiteID, code int, answers ...vitals.GradeID) {
		f := vitals.Finding{Sign: sign, Site: site, Absent: vitals.NotTried}
		if code >= 1 && code <= len(answers) && answers[code-1] != "" {
			f.Absent, f.Chosen = "", answers[code-1:code]
		}
		e.Findings = append(e.Findings, f)
	}
	reading(vitals.RespiratoryRate, r.breathing, vitals.PerMinute, vitals.Told)
	// Bright pink is "normal or slightly increased circulation" in the description; injected
	// is bright red; pale cyanotic is blue and dark cyanotic purple to a handler.
	chosen(vitals.GumColour, "", r.gums, "pink", "pink", "pale-pink", "blue", "brick-red", "purple")
	e.Findings = append(e.Findings, refill(r.refill))
	reading(vitals.HeartRate, r.pulse, vitals.PerMinute, vitals.Told)
	chosen(vitals.PulseStrength, "", r.pulseQuality, "usual", "strong", "weak", "not-felt")
	chosen(vitals.LimbWarmth, "", r.extremities, "usual", "warm", "cool", "cold")
	// One answer for the whole belly, and both flanks bear it.
	for _, flank := range []vitals.SiteID{"flank-left", "flank-right"} {
		chosen(vitals.GutSounds, flank, r.peristalsis, "more", "usual", "less", "none")
	}
	reading(vitals.RectalTemperature, r.temperature, vitals.Celsius, vitals.Glass)
	return e
}

// refill turns "under 3 s" and "3 s or more" into times: the usual one and a half seconds, and the three
// seconds that it was at least.
func refill(code int) vitals.Finding {
	f := vitals.Finding{Sign: vitals.CapillaryRefill}
	switch code {
	case 1:
		f.Timed = &vitals.Timed{CentiSeconds: []int{150}}
	case 2:
		f.Timed = &vitals.Timed{CentiSeconds: []int{300}}
	default:
		f.Absent = vitals.NotTried
	}
	return f
}
