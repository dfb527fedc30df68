package report_test

import (
	"fmt"
	"time"

	"whorl.example/baseline"
	"whorl.example/baseline/report"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// The first parts of a call report, as they are read out on the telephone.
func ExampleCall() {
	horse := vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse}
	tonight := vitals.Exam{
		ID: "tonight", Horse: horse.ID, At: time.Date(2026, 5, 3, 2, 10, 0, 0, time.UTC),
		Depth: vitals.HandsOn, Purpose: vitals.Concern, Wellness: vitals.Unwell, Status: vitals.Finished,
		State: vitals.State{Condition: vitals.AtRest},
		Findings: []vitals.Finding{
			{Sign: vitals.Attitude, Chosen: []vitals.GradeID{"dull"}},
			{Sign: vitals.HeartRate, Site: "jaw", Count: &vitals.Count{Events: 62, Seconds: 60, Start: vitals.OnBeat}},
		},
		Story: &vitals.Story{Noticed: "did not come for his feed", Callback: "202-555-0142"},
	}
	usual, err := baseline.New(horse)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := usual.Compare(tonight)
	if err != nil {
		fmt.Println(err)
		return
	}
	r := report.Call(report.Input{Horse: horse, Exam: tonight, Comparison: c}, words.English)
	for _, part := range r.Parts[:3] {
		fmt.Println(part.Heading)
		for _, line := range part.Lines {
			fmt.Println("-", line.Text)
		}
	}
	// Output:
	// Who and where
	// - Call back: 202-555-0142. About Juniper, horse, age not known, sex not entered.
	// - Where it is, and how to get there:
	// What is wrong
	// - Did not come for his feed.
	// - Since when:
	// - Better, worse or the same; all the time, or on and off:
	// How urgent
	// - Urgent: heart rate 62; dull.
}
