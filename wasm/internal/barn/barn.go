// Package barn invents exams for measurements.
package barn

import (
	"fmt"
	"math/rand/v2"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/vitals"
)

// Exam is the i-th quiet exam of a horse, one every so many days at changing hours: 25 findings, seven of them measured.
func Exam(rng *rand.Rand, horse vitals.ID, i, everyDays int) vitals.Exam {
	e := vitals.Exam{
		ID: vitals.ID(fmt.Sprint("e", i)), Horse: horse, Depth: vitals.Full, Purpose: vitals.Learning, Holder: vitals.Held,
		At:    time.Date(2024, 3, 1, 7, 30, 0, 0, time.UTC).AddDate(0, 0, everyDays*i).Add(time.Duration(i%5) * 2 * time.Hour),
		State: vitals.State{Condition: vitals.AtRest}, Wellness: vitals.Well, Status: vitals.Finished,
	}
	for _, f := range []struct {
		sign  vitals.SignID
		grade vitals.GradeID
	}{
		{vitals.Attitude, "bright"}, {vitals.HeadCarriage, "usual"}, {vitals.Coat, "smooth"}, {vitals.Wounds, "none"},
		{vitals.LimbLoad, "even"}, {vitals.Stance, "square"}, {vitals.Doing, "eating"}, {vitals.DoingUsual, "usual"},
		{vitals.Droppings, "usual"}, {vitals.Water, "usual"}, {vitals.Feed, "usual"}, {vitals.RespiratoryEffort, "easy"},
		{vitals.Nostrils, "dry"}, {vitals.GumColour, "pink"}, {vitals.GumMoisture, "wet"}, {vitals.PulseStrength, "usual"},
		{vitals.LimbWarmth, "usual"}, {vitals.HeartRhythm, "regular"},
	} {
		e.Findings = append(e.Findings, vitals.Finding{Sign: f.sign, Chosen: []vitals.GradeID{f.grade}})
	}
	tries := func(middle int) *vitals.Timed {
		return &vitals.Timed{CentiSeconds: []int{middle + rng.IntN(20), middle + rng.IntN(20), middle + rng.IntN(20)}}
	}
	read := func(value int64, exp int32, unit vitals.Unit, device vitals.Device) *vitals.Reading {
		return &vitals.Reading{Value: decimal.New(value, exp), Unit: unit, Device: device}
	}
	e.Findings = append(e.Findings,
		vitals.Finding{Sign: vitals.RespiratoryRate, Site: "flank", Count: &vitals.Count{Events: 10 + rng.IntN(5), Seconds: 60, Start: vitals.Anywhere}},
		vitals.Finding{Sign: vitals.HeartRate, Site: "chest-left", Count: &vitals.Count{Events: 15 + rng.IntN(4), Seconds: 30, Start: vitals.OnBeat}},
		vitals.Finding{Sign: vitals.CapillaryRefill, Timed: tries(140)}, vitals.Finding{Sign: vitals.SkinTent, Site: "eyelid", Timed: tries(90)},
		vitals.Finding{Sign: vitals.JugularRefill, Timed: tries(210)},
		vitals.Finding{Sign: vitals.RectalTemperature, Reading: read(373+int64(rng.IntN(6)), -1, vitals.Celsius, vitals.Digital)},
		vitals.Finding{Sign: vitals.Weight, Reading: read(505+int64(rng.IntN(9)), 0, vitals.Kilogram, vitals.Scale)},
	)
	return e
}
