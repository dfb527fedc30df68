package baseline_test

import (
	"fmt"
	"log"
	"time"

	"whorl.example/baseline"
	"whorl.example/vitals"
)

var juniper = vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse}

// exam is a heart counted for a minute, on a well day, at rest.
func exam(id vitals.ID, at time.Time, beats int) vitals.Exam {
	return vitals.Exam{
		ID: id, Horse: juniper.ID, At: at, Depth: vitals.Full, Purpose: vitals.Learning,
		State: vitals.State{Condition: vitals.AtRest}, Wellness: vitals.Well, Status: vitals.Finished,
		Findings: []vitals.Finding{{
			Sign: vitals.HeartRate, Site: "chest-left",
			Count: &vitals.Count{Events: beats, Seconds: 60, Start: vitals.OnBeat},
		}},
	}
}

// quiet is a history of eight mornings.
func quiet() *baseline.Baseline {
	b := baseline.New(juniper)
	day := time.Date(2026, 3, 1, 7, 30, 0, 0, time.UTC)
	for i, beats := range []int{33, 34, 32, 35, 33, 34, 33, 32} {
		b.Learn(exam(vitals.ID(fmt.Sprintf("quiet-%d", i)), day.AddDate(0, 0, 7*i), beats))
	}
	return b
}

// An exam that cannot teach is kept all the same, and says why.
func ExampleBaseline_Learn() {
	b := baseline.New(juniper)
	at := time.Date(2026, 3, 1, 7, 30, 0, 0, time.UTC)
	fmt.Println(b.Learn(exam("first", at, 33)).Taught)
	ill := exam("second", at.AddDate(0, 0, 1), 52)
	ill.Wellness = vitals.Unwell
	lesson := b.Learn(ill)
	fmt.Println(lesson.Taught, lesson.Reason)
	// Output:
	// true
	// false lesson.unwell
}

// A heart rate that any printed range allows, and that is not this horse's.
func ExampleBaseline_Compare() {
	tonight := exam("tonight", time.Date(2026, 5, 3, 2, 10, 0, 0, time.UTC), 43)
	tonight.Purpose, tonight.Wellness = vitals.Concern, vitals.NotSure
	c, err := quiet().Compare(tonight)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range c.Signs {
		fmt.Printf("%s %s: %.0f, usual %.0f to %.0f on %d exams\n",
			s.Sign, s.Statement, s.Measure.Value, s.Own.Low, s.Own.High, s.Basis.Exams)
	}
	fmt.Println("not checked:", len(c.Unchecked) > 0)
	// Output:
	// heart-rate higher: 44, usual 31 to 37 on 8 exams
	// not checked: true
}

// What is usual of one sign, before and after the horse is known.
func ExampleBaseline_Normal() {
	at := time.Date(2026, 5, 3, 7, 30, 0, 0, time.UTC)
	for _, b := range []*baseline.Baseline{baseline.New(juniper), quiet()} {
		n, _ := b.Normal(vitals.HeartRate, "", at)
		fmt.Printf("%.0f to %.0f, on %d exams\n", n.Own.Low, n.Own.High, n.Basis.Exams)
	}
	// Output:
	// 25 to 47, on 0 exams
	// 31 to 37, on 8 exams
}

// A fit is kept beside the exams and compares at once; when the rules have changed it is refused, and
// made anew from the exams.
func ExampleFit() {
	night := exam("tonight", time.Date(2026, 5, 1, 22, 0, 0, 0, time.UTC), 44)
	kept := quiet().Fit().Encode(night.At)

	fit, err := baseline.OpenFit(juniper, kept)
	if err != nil { // stale, or not whole
		fit = quiet().Fit()
	}
	c, err := fit.Compare(night)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(c.Signs[0].Statement, "after", c.Signs[0].Basis.Exams, "exams")
	// Output: higher after 8 exams
}
