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
	b, err := baseline.New(juniper)
	if err != nil {
		log.Fatal(err)
	}
	day := time.Date(2026, 3, 1, 7, 30, 0, 0, time.UTC)
	for i, beats := range []int{33, 34, 32, 35, 33, 34, 33, 32} {
		if _, err := b.Learn(exam(vitals.ID(fmt.Sprintf("quiet-%d", i)), day.AddDate(0, 0, 7*i), beats)); err != nil {
			log.Fatal(err)
		}
	}
	return b
}

// An exam that cannot teach is kept all the same, and says why. One that is not in order is refused, with all
// that is wrong with it.
func ExampleBaseline_Learn() {
	b, err := baseline.New(juniper)
	if err != nil {
		log.Fatal(err)
	}
	at := time.Date(2026, 3, 1, 7, 30, 0, 0, time.UTC)
	ill := exam("second", at.AddDate(0, 0, 1), 52)
	ill.Wellness = vitals.Unwell
	for _, e := range []vitals.Exam{exam("first", at, 33), ill, exam("", at, 3300)} {
		lesson, err := b.Learn(e)
		fmt.Println(lesson.Taught, lesson.Reason, err)
	}
	// Output:
	// true  <nil>
	// false lesson.unwell <nil>
	// false  /id: An id is 1 to 64 letters, digits, hyphens, underscores or dots.
	// /findings/0/count/events: Please check this number. It must be between 10 and 260 /min. Is it a typing mistake?
}

// A horse and its exams at once; every fault comes with its place.
func ExampleOf() {
	pony := vitals.Horse{ID: "plum", Name: "Plum", Type: vitals.TypePony}
	_, err := baseline.Of(pony, []vitals.Exam{exam("first", time.Date(2026, 3, 1, 7, 30, 0, 0, time.UTC), 33)})
	fmt.Println(err)
	// Output: /exams/0/horse: This exam is of another horse (“juniper”).
}

// A horse of a type that is none has no baseline.
func ExampleNew() {
	_, err := baseline.New(vitals.Horse{ID: "dune", Name: "Dune", Type: "camel"})
	fmt.Println(err)
	// Output: /type: “camel” is not one of the answers.
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
	unknown, err := baseline.New(juniper)
	if err != nil {
		log.Fatal(err)
	}
	for _, b := range []*baseline.Baseline{unknown, quiet()} {
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
