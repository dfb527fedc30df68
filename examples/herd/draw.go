package herd

import (
	"fmt"
	"iter"
	"math/rand/v2"
	"time"

	"github.com/shopspring/decimal"

	"whorl.example/schema"
	"whorl.example/vitals"
)

// graded are the signs of a drawn exam that are answered by choice; its other four are measured.
var graded = []vitals.SignID{vitals.Attitude, vitals.GumColour, vitals.GumMoisture, vitals.RespiratoryEffort, vitals.Feed, vitals.Water}

// Draw invents a record for each of so many exams of so many horses, week by week, the same ones each time. One exam in forty is of a
// bad day. The figures are made up to have something to compare; they say nothing of horses.
func Draw(horses, exams int) iter.Seq[schema.Record] {
	return func(yield func(schema.Record) bool) {
		for week := range exams {
			for n := range horses {
				if !yield(drawn(n, week)) {
					return
				}
			}
		}
	}
}

func drawn(n, week int) schema.Record {
	own, day := rand.New(rand.NewPCG(1, uint64(n))), rand.New(rand.NewPCG(uint64(n)+2, uint64(week)))
	id := vitals.ID(fmt.Sprintf("h%07d", n))
	heart, breaths, degrees := 30+own.IntN(9), 9+own.IntN(5), 37.3+.6*own.Float64()
	bad := day.IntN(40) == 0
	exam := vitals.Exam{
		ID: vitals.ID(fmt.Sprintf("%s-%d", id, week)), Horse: id, Depth: vitals.Full, Purpose: vitals.Learning,
		At:    time.Date(2026, 1, 5, 7, n%60, 0, 0, time.UTC).AddDate(0, 0, 7*week),
		State: vitals.State{Condition: vitals.AtRest}, Wellness: vitals.Well, Status: vitals.Finished,
	}
	if bad {
		heart, breaths, degrees = heart+14, breaths+8, degrees+.9
		exam.Purpose, exam.Wellness = vitals.Concern, vitals.NotSure
	}
	count := func(sign vitals.SignID, site vitals.SiteID, events int) vitals.Finding {
		return vitals.Finding{Sign: sign, Site: site, Count: &vitals.Count{Events: events, Seconds: 60, Start: vitals.OnBeat}}
	}
	refill := 110 + day.IntN(50)
	exam.Findings = []vitals.Finding{
		count(vitals.HeartRate, "chest-left", heart+day.IntN(5)-2),
		count(vitals.RespiratoryRate, "", breaths+day.IntN(3)-1),
		{Sign: vitals.RectalTemperature, Reading: &vitals.Reading{
			Value: decimal.NewFromFloat(degrees + .4*day.Float64() - .2).Round(1), Unit: vitals.Celsius, Device: vitals.Digital}},
		{Sign: vitals.CapillaryRefill, Timed: &vitals.Timed{CentiSeconds: []int{refill, refill + day.IntN(20), refill + day.IntN(20)}}},
	}
	for _, sign := range graded {
		s, _ := vitals.Lookup(sign)
		answer := s.Grades[0]
		for _, g := range s.Grades {
			if bad && g.Rank == 1 && day.IntN(3) == 0 {
				answer = g
			}
		}
		exam.Findings = append(exam.Findings, vitals.Finding{Sign: sign, Chosen: []vitals.GradeID{answer.ID}})
	}
	return schema.Record{Horse: vitals.Horse{ID: id, Name: "Drawn " + string(id), Type: vitals.TypeHorse}, Exam: exam}
}
