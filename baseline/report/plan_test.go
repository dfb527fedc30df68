package report

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/baseline"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// What the next exam teaches is said as next to nothing below half a percent, and the week's advantage only where the
// rounded numbers show it.
func TestTeachingSaid(t *testing.T) {
	t.Parallel()
	say := func(today, tomorrow, week float64) string {
		return strings.Join(SayTeaching(baseline.Teaching{Sign: vitals.HeartRate, Next: []baseline.NextExam{{InDays: 0, Narrower: today}, {InDays: 1, Narrower: tomorrow}, {InDays: 7, Narrower: week}}}, words.English), "\n")
	}
	little := func(said string) int {
		n := 0
		for _, when := range []string{"0", "1", "7"} {
			n += strings.Count(said, words.Say(words.English, "plan.next-little", "sign", words.Say(words.English, "sign.heart-rate"), "when", words.Say(words.English, "plan.when."+when), "share", "0"))
		}
		return n
	}
	week := words.Say(words.English, "plan.week")
	td.Cmp(t, little(say(.004, .0049, .0049)), 3)
	td.Cmp(t, little(say(.005, .03, .04)), 0)
	td.Cmp(t, little(say(-.2, .03, .04)), 1, "an exam that would widen it")
	td.Cmp(t, strings.Contains(say(.02, .03, .0349), week), false)
	td.Cmp(t, strings.Contains(say(.02, .03, .0351), week), true)
	td.Cmp(t, strings.Contains(say(.02, .03, .02), week), false)
	td.Cmp(t, strings.Contains(say(.02, 0, .005), week), false)
}

// A plan made by hand, said: what it takes, what each sign gains, and how much wider other ways leave it.
func TestPlanOfOnesOwnSaid(t *testing.T) {
	t.Parallel()
	p := baseline.PracticePlan{Exams: 12, EveryDays: 16.4, Days: 180, Reached: true, Graded: 9,
		Signs:  []baseline.PlannedSign{{Sign: vitals.HeartRate, Unit: vitals.PerMinute, Before: 20, After: 12, Attainable: 11}},
		Others: []baseline.OtherPlan{{ID: "at-once", Ratio: 1.5}, {ID: "daily", EveryDays: 1, Days: 11, Ratio: 1.25}}}
	say := func(key string, args ...string) string { return words.Say(words.English, key, args...) }
	days := func(n string) string { return say("plan.days", "n", n) }
	want := []string{
		say("plan.fewest", "exams", "12", "every", "16", "span", days("180")),
		say("plan.sign", "sign", say("sign.heart-rate"), "before", watch.Amount(words.English, 20, 0, vitals.PerMinute), "after", watch.Amount(words.English, 12, 0, vitals.PerMinute), "attainable", watch.Amount(words.English, 11, 0, vitals.PerMinute)),
		say("plan.other", "how", say("plan.how.at-once"), "more", "50", "span", days("1")),
		say("plan.other", "how", say("plan.how.daily"), "more", "25", "span", days("11")),
		say("plan.graded", "n", "9"), say("plan.assumed"),
	}
	td.Cmp(t, SayPlan(p, words.English), want)
	p.Reached, p.Growing = false, true
	want[0] = say("plan.not-reached", "exams", "12", "every", "16", "span", days("180"))
	td.Cmp(t, SayPlan(p, words.English), append(append(want[:5:5], say("plan.growing")), want[5]))
}

// The plan of a real horse, and what its next exam would teach, in sentences.
func TestPlanSaid(t *testing.T) {
	t.Parallel()
	day := time.Date(2025, 6, 1, 8, 0, 0, 0, time.UTC)
	b := must(baseline.New(juniper))
	p := b.PracticePlan(day, 0)
	for i, rate := range []int{34, 37, 35} {
		must(b.Learn(vitals.Exam{
			ID: vitals.ID(fmt.Sprint("quiet-", i)), Horse: juniper.ID, At: day.AddDate(0, 0, 7*(i-3)), Status: vitals.Finished, Purpose: vitals.Learning,
			Wellness: vitals.Well, State: vitals.State{Condition: vitals.AtRest}, Depth: vitals.Full,
			Findings: []vitals.Finding{{Sign: vitals.HeartRate, Count: &vitals.Count{Events: rate, Seconds: 60, Start: vitals.Anywhere}}},
		}))
	}
	said := strings.Join(SayPlan(p, words.English), "\n")
	t.Log(said)
	for _, part := range []string{fmt.Sprintf("%d quiet-day exams, one every %.0f days over 182 days, teach within 10 %% of all", p.Exams, p.EveryDays),
		fmt.Sprintf("The same exams day after day (%d days)", p.Exams-1), fmt.Sprintf("The same exams all on one day (1 day) would leave it %.0f %% wider", 100*(p.Others[0].Ratio-1)), "How much horses vary from day to day is our estimate"} {
		td.CmpTrue(t, strings.Contains(said, part), said)
	}
	td.CmpFalse(t, strings.Contains(said, "{") || regexp.MustCompile(`plan\.\w`).MatchString(said), said)
	teaching := b.NextTeaches(day)[0]
	said = strings.Join(SayTeaching(teaching, words.English), "\n")
	td.CmpTrue(t, strings.Contains(said, fmt.Sprintf("today would make the usual range about %.0f %% narrower", 100*teaching.Next[0].Narrower)), said)
	td.CmpTrue(t, strings.Contains(said, "An exam a week from now teaches more than one tomorrow."), said)
	t.Log(said)
}
