package baseline

import (
	"strings"
	"testing"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// When a rate was reached is said with both sides where both are known, with one where one is, and without.
func TestReachedSaid(t *testing.T) {
	low, high := 4., 9.
	for _, c := range []struct {
		r    Reached
		key  string
		args []string
	}{
		{Reached{Low: &low, High: &high}, "recovery.range", []string{"low", "4", "high", "9"}}, {Reached{Low: &low}, "recovery.range-low", []string{"low", "4"}},
		{Reached{High: &high}, "recovery.range-high", []string{"high", "9"}}, {Reached{}, "recovery.range-none", nil},
	} {
		c.r.State, c.r.Minutes = ReachedBetween, 6
		said := c.r.Say(words.English, 64)
		td.Cmp(t, said, []string{words.Say(words.English, "recovery."+string(ReachedBetween), "limit", "64", "minutes", "6", "range", words.Say(words.English, c.key, c.args...))})
	}
	td.Cmp(t, Reached{State: ReachedBetween, RoseAgain: true}.Say(words.English, 64), td.Len(2))
}

// The chance of a criterion is said where it is neither sure nor out of the question.
func TestChanceSaid(t *testing.T) {
	for p, want := range map[float64]string{.02: "", .03: "3", .5: "50", .97: "97", .98: ""} {
		said := CriterionAnswer{Criterion: Criteria()[0], Within: Within, Chance: &p}.Say(words.English)
		chance := words.Say(words.English, "recovery.chance", "p", want)
		td.Cmp(t, strings.Contains(said, chance), want != "", "%g: %s", p, said)
		if want == "" {
			td.Cmp(t, said, CriterionAnswer{Criterion: Criteria()[0], Within: Within}.Say(words.English))
		}
	}
	for p, want := range map[float64]string{0: "0.0", .0123: "1.2", .0994: "9.9", .0995: "10", .5: "50"} {
		td.Cmp(t, sayPercent(p), want, "%g", p)
	}
}

// A plan made by hand, said: what it takes, what each sign gains, and how much wider other ways leave it.
func TestPlanOfOnesOwnSaid(t *testing.T) {
	p := PracticePlan{Exams: 12, EveryDays: 16.4, Days: 180, Reached: true, Graded: 9,
		Signs:  []PlannedSign{{Sign: vitals.HeartRate, Unit: vitals.PerMinute, Before: 20, After: 12, Attainable: 11}},
		Others: []OtherPlan{{ID: "at-once", Ratio: 1.5}, {ID: "daily", EveryDays: 1, Days: 11, Ratio: 1.25}}}
	say := func(key string, args ...string) string { return words.Say(words.English, key, args...) }
	days := func(n string) string { return say("plan.days", "n", n) }
	want := []string{
		say("plan.fewest", "exams", "12", "every", "16", "span", days("180")),
		say("plan.sign", "sign", say("sign.heart-rate"), "before", sayAmount(words.English, 20, 0, vitals.PerMinute), "after", sayAmount(words.English, 12, 0, vitals.PerMinute), "attainable", sayAmount(words.English, 11, 0, vitals.PerMinute)),
		say("plan.other", "how", say("plan.how.at-once"), "more", "50", "span", days("1")),
		say("plan.other", "how", say("plan.how.daily"), "more", "25", "span", days("11")),
		say("plan.graded", "n", "9"), say("plan.assumed"),
	}
	td.Cmp(t, p.Say(words.English), want)
	p.Reached, p.Growing = false, true
	want[0] = say("plan.not-reached", "exams", "12", "every", "16", "span", days("180"))
	td.Cmp(t, p.Say(words.English), append(append(want[:5:5], say("plan.growing")), want[5]))
}

// A slope is said with one place more where it is less than two steps of the display; where none was shown, by what would have shown.
func TestSlopeSaidWithAPlaceMore(t *testing.T) {
	said := func(trend Trend, perHour, shows float64, every int) string {
		w := Watched{Sign: vitals.HeartRate, Unit: vitals.PerMinute, Trend: trend, Slope: &Slope{PerHour: perHour, Low: perHour - 1.26, High: perHour + 1.26, WouldShow: shows, EveryMinutes: every}}
		var out []string
		w.saySlope(words.English, func(key string, args ...string) { out = append(out, strings.Join(args, " ")) })
		return strings.Join(out, "\n")
	}
	td.Cmp(t, said(Rising, 1.94, 9, 60), td.Contains("1.9"))
	td.Cmp(t, said(Rising, 2.04, 9, 60), td.Not(td.Contains("2.0")))
	td.Cmp(t, said(Falling, -1.94, 9, 60), td.Contains("1.9"))
	td.Cmp(t, said(Rising, 11.4, 9, 10), td.Contains("1.9"), "of ten minutes a sixth")
	td.Cmp(t, said(NoTrendShown, 9, 1.84, 60), td.Contains("1.9"), "rounded up")
	td.Cmp(t, said(NoTrendShown, .3, 2.4, 60), td.All(td.Contains("3"), td.Not(td.Contains("2.4"))))
}
