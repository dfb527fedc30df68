package vitals_test

import (
	"fmt"
	"time"

	"whorl.example/vitals"
)

// Nine beats after the one that started the watch, in 15 seconds.
func ExampleCadence_FromCount() {
	m, err := vitals.Heart().FromCount(9, 15*time.Second, vitals.OnBeat)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f %s, standard uncertainty %.1f\n", m.Value, m.Unit, m.SD)
	// Output: 38 /min, standard uncertainty 1.2
}

// Ten beats tapped on a screen, and one of them missed.
func ExampleCadence_FromTaps() {
	taps := []time.Duration{0, 1480, 2990, 4510, 5990, 9010, 10490, 12000, 13510}
	for i := range taps {
		taps[i] *= time.Millisecond
	}
	t, err := vitals.Heart().FromTaps(taps)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f %s, standard uncertainty %.1f\n", t.Measure.Value, t.Measure.Unit, t.Measure.SD)
	// Output: 40.0 /min, standard uncertainty 0.1
}

// A thermometer that shows Fahrenheit. The reading is kept as it was read; its measure is
// in the sign's own unit.
func ExampleFinding_Measure() {
	read, err := vitals.ParseReading("100.4", vitals.Fahrenheit)
	if err != nil {
		fmt.Println(err)
		return
	}
	finding := vitals.Finding{
		Sign:    vitals.RectalTemperature,
		Reading: &vitals.Reading{Value: read, Unit: vitals.Fahrenheit, Device: vitals.Digital, Label: "blue one"},
	}
	sign, _ := vitals.Lookup(finding.Sign)
	m, err := finding.Measure(sign)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s %s is %.2f %s, standard uncertainty %.2f\n", vitals.AsRead(read), vitals.Fahrenheit, m.Value, m.Unit, m.SD)
	// Output: 100.4 [degF] is 38.00 Cel, standard uncertainty 0.10
}

// Everything that is wrong is said at once, each with its place.
func ExampleCheckExam() {
	horse := vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse}
	exam := vitals.Exam{
		ID: "tonight", Horse: horse.ID, At: time.Date(2026, 5, 3, 2, 10, 0, 0, time.UTC),
		Depth: vitals.Full, Purpose: vitals.Concern, Status: vitals.Finished,
		State: vitals.State{Condition: vitals.AtRest},
		Findings: []vitals.Finding{
			{Sign: vitals.HeartRate, Site: "knee", Count: &vitals.Count{Events: 9, Seconds: 15, Start: vitals.OnBeat}},
			{Sign: vitals.GumColour},
			{Sign: vitals.RectalTemperature, Absent: vitals.CouldNot},
		},
	}
	for _, fault := range vitals.CheckExam(exam, horse) {
		fmt.Println(fault.Code, fault.Path)
	}
	// Output:
	// unknown-site /findings/0/site
	// no-value /findings/1
}
