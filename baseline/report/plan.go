package report

import (
	"whorl.example/baseline"
	"whorl.example/baseline/watch"
	"whorl.example/vitals"
	"whorl.example/vitals/words"
)

// SayPlan tells the plan in sentences.
func SayPlan(p baseline.PracticePlan, l words.Lang) []string {
	var out []string
	say := func(key string, args ...string) { out = append(out, words.Say(l, key, args...)) }
	key := "plan.fewest"
	if !p.Reached {
		key = "plan.not-reached"
	}
	say(key, "exams", itoa(p.Exams), "every", vitals.Decimals(p.EveryDays, 0), "span", words.Say(l, "plan.days", "n", vitals.Decimals(p.Days, 0)))
	for _, s := range p.Signs {
		places := watch.Places(s.Sign)
		amount := func(x float64) string { return watch.Amount(l, x, places, s.Unit) }
		say("plan.sign", "sign", words.Say(l, "sign."+string(s.Sign)), "before", amount(s.Before), "after", amount(s.After), "attainable", amount(s.Attainable))
	}
	for _, o := range p.Others {
		say("plan.other", "how", words.Say(l, "plan.how."+o.ID), "more", vitals.Decimals(100*(o.Ratio-1), 0),
			"span", words.Say(l, "plan.days", "n", vitals.Decimals(max(1, o.Days), 0)))
	}
	say("plan.graded", "n", itoa(p.Graded))
	if p.Growing {
		say("plan.growing")
	}
	say("plan.assumed")
	return out
}

// SayTeaching tells what the next exam would teach of the sign.
func SayTeaching(t baseline.Teaching, l words.Lang) []string {
	var out []string
	narrower := map[int]float64{}
	for _, n := range t.Next {
		narrower[n.InDays] = n.Narrower
		key := "plan.next"
		if n.Narrower < .005 {
			key = "plan.next-little"
		}
		out = append(out, words.Say(l, key, "sign", words.Say(l, "sign."+string(t.Sign)),
			"when", words.Say(l, "plan.when."+itoa(n.InDays)), "share", vitals.Decimals(100*n.Narrower, 0)))
	}
	// Said only where the difference is one that the rounded numbers show.
	if narrower[7] > narrower[1]+.005 {
		out = append(out, words.Say(l, "plan.week"))
	}
	return out
}
