package recovery

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/baseline"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// afterWork is an exam so many minutes after work that ended on a day of June.
func afterWork(dayOfJune, minutes int, findings ...vitals.Finding) vitals.Exam {
	ended := time.Date(2025, 6, dayOfJune, 17, 0, 0, 0, time.UTC)
	return vitals.Exam{
		ID: vitals.ID(fmt.Sprintf("work-%d-%d", dayOfJune, minutes)), Horse: "juniper", At: ended.Add(time.Duration(minutes) * time.Minute),
		Status: vitals.Finished, Purpose: vitals.Recovery, Depth: vitals.Full, Wellness: vitals.Well,
		State:    vitals.State{Condition: vitals.AfterWork, SinceMinutes: minutes, Effort: vitals.Moderate},
		Findings: findings,
	}
}

func bout(dayOfJune int, pairs ...int) []vitals.Exam {
	var out []vitals.Exam
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, afterWork(dayOfJune, pairs[i], beats(pairs[i+1])))
	}
	return out
}

func TestRecoveriesFromExams(t *testing.T) {
	t.Parallel()
	exams := slices.Concat(bout(1, 2, 92, 10, 60, 20, 48), bout(4, 2, 96, 10, 58, 20, 48), bout(8, 3, 90, 10, 56, 20, 44), bout(12, 2, 120, 10, 92, 22, 72))
	rs := Find("juniper", exams)
	td.Cmp(t, rs, td.Len(4))
	td.Cmp(t, rs[0].Own[0].Statement, baseline.Noted)
	last := rs[3]
	td.Cmp(t, last.Heart, td.Len(3))
	td.Cmp(t, last.Ended, time.Date(2025, 6, 12, 17, 0, 0, 0, time.UTC))
	td.Cmp(t, last.Own[0], td.Struct(RecoveryCompared{Quantity: RateAtTen, Statement: baseline.Higher}, td.StructFields{
		"Value": td.Between(91.9, 92.1), "Own": td.NotNil(), "Tail": td.Between(0.0, .025), "Basis": td.Ignore()}))
	said := strings.Join(last.Say(words.English), "\n")
	for _, want := range []string{
		"Ten minutes after work the heart rate was 92 a minute, higher than after similar work (",
		"Down to 64 a minute not even after 22 minutes, later than after similar work (",
		"Still above 64 a minute at the last count, 22 minutes after work.",
		"FEI from 2020, finish, at most 64: not within 20 minutes by these counts. From memory, not checked against the source.",
		"AERC, usually at most 64: these counts do not say whether it was within 30 minutes. As quoted by others.",
		"These counts do not replace the vet check.",
	} {
		td.CmpTrue(t, strings.Contains(said, want), want+"\nin\n"+said)
	}
	td.CmpFalse(t, strings.Contains(said, "{") || strings.Contains(said, "recovery."), said)

	// Another effort is not compared with these.
	hard := bout(15, 2, 110, 10, 70)
	for i := range hard {
		hard[i].State.Effort = vitals.Hard
	}
	rs = Find("juniper", append(exams, hard...))
	td.Cmp(t, rs[4].Own[0].Statement, baseline.Noted)
	td.Cmp(t, Find("another", exams), td.Empty())
}

// "Minutes since" is entered in whole minutes at each exam; the counts of one bout stay one bout.
func TestRecoveryBouts(t *testing.T) {
	t.Parallel()
	exams := bout(1, 2, 92, 10, 60)
	exams[1].State.SinceMinutes = 8 // by its own word the work ended two minutes later
	rs := Find("juniper", exams)
	td.Cmp(t, rs, td.Len(1))
	td.Cmp(t, rs[0].Heart[1].Minutes, 10.0)
	// A second piece of work the same afternoon is another.
	again := bout(1, 3, 100)
	again[0].ID, again[0].At = "again", again[0].At.Add(time.Hour)
	td.Cmp(t, Find("juniper", append(exams, again...)), td.Len(2))
}

func TestInversion(t *testing.T) {
	t.Parallel()
	breaths := func(n int) vitals.Finding {
		return vitals.Finding{Sign: vitals.RespiratoryRate, Count: &vitals.Count{Events: n, Seconds: 60, Start: vitals.Anywhere}}
	}
	r := Find("juniper", []vitals.Exam{afterWork(1, 10, beats(64), breaths(80)), afterWork(1, 20, beats(52), breaths(40))})[0]
	td.Cmp(t, r.Inversions, td.Len(1))
	td.Cmp(t, r.Inversions[0].Chance, td.Gt(.999))
	said := strings.Join(r.Say(words.English), "\n")
	td.CmpTrue(t, strings.Contains(said, "At 10 minutes the breathing rate (80 a minute) was above the heart rate (64). Sources disagree"), said)
}

func TestTrotSaid(t *testing.T) {
	t.Parallel()
	m := func(v float64) vitals.Measure { return vitals.Measure{Value: v, SD: .8, Unit: vitals.PerMinute} }
	a, _ := TrotOut{HR0: m(60), HR1: m(64), OutMetres: 38.1, Clock: FromTrotStart, Seconds: 60}.Answer()
	td.Cmp(t, a.Say(words.English), []string{
		"After the trot-out the heart beat 4 a minute faster (60, then 64; uncertain by 1.1).",
		"Under the definition of AERC (125 feet out and back, one minute from the start of the trot), count again in 10 to 15 minutes.",
	})
	a, _ = TrotOut{HR0: m(60), HR1: m(60)}.Answer()
	td.Cmp(t, a.Say(words.English), []string{
		"After the trot-out the heart beat as before (60, then 60; uncertain by 1.1).",
		"The distance and the clock fit no published definition, so only the difference is shown.",
	})
}

// The order of the exams does not matter, nor a shift by whole days; odd input does not panic.
func TestRecoveriesProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 6).Draw(t, "n")
		var exams []vitals.Exam
		for i := range n {
			e := afterWork(rapid.IntRange(1, 3).Draw(t, "day"), rapid.IntRange(-5, 40).Draw(t, "minutes"), beats(rapid.IntRange(-1, 200).Draw(t, "beats")),
				vitals.Finding{Sign: "no-such-sign"}, vitals.Finding{Sign: vitals.RespiratoryRate, Absent: vitals.CouldNot})
			e.ID = vitals.ID(fmt.Sprint(i))
			exams = append(exams, e)
		}
		want := Find("juniper", exams)
		mixed := slices.Clone(exams)
		rand.New(rand.NewPCG(3, 4)).Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		if !td.EqDeeply(Find("juniper", mixed), want) {
			t.Fatal("order matters")
		}
		for i := range mixed {
			mixed[i].At = mixed[i].At.AddDate(0, 0, 7)
		}
		for i, r := range Find("juniper", mixed) {
			if !td.EqDeeply(r.Criteria, want[i].Criteria) || !td.EqDeeply(r.Own, want[i].Own) {
				t.Fatal("a week later it is another answer")
			}
			r.Say(words.English)
		}
	})
}
