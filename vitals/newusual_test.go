package vitals_test

import (
	"slices"
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"pgregory.net/rapid"

	"whorl.example/vitals"
)

var spring = time.Date(2026, 4, 1, 7, 0, 0, 0, time.UTC)

func drawnUsual(t *rapid.T) []vitals.NewUsual {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) vitals.NewUsual {
		day := func(label string) time.Time {
			zone := time.FixedZone("", 3600*rapid.IntRange(0, 2).Draw(t, "offset"))
			return spring.AddDate(0, 0, rapid.IntRange(0, 2).Draw(t, label)).In(zone)
		}
		return vitals.NewUsual{
			Sign: rapid.SampledFrom([]vitals.SignID{vitals.HeartRate, vitals.RectalTemperature}).Draw(t, "sign"),
			From: day("from"), Said: day("said"), By: rapid.SampledFrom([]string{"", "Ann"}).Draw(t, "by"),
			Not: rapid.Bool().Draw(t, "not"), Back: rapid.Bool().Draw(t, "back"),
		}
	}), 0, 5).Draw(t, "answers")
}

// Merging is a union: no order, grouping or repetition changes it, and what was taken back on one
// telephone stays taken back.
func TestMergeNewUsualLaws(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := drawnUsual(t), drawnUsual(t), drawnUsual(t)
		m := vitals.MergeNewUsual
		all := m(m(a, b), c)
		for _, other := range [][]vitals.NewUsual{m(a, m(b, c)), m(m(c, b), a), m(all, all), m(all, b), m(slices.Concat(c, b, a), nil)} {
			td.Cmp(t, other, all)
		}
		for _, u := range slices.Concat(a, b, c) {
			i := slices.IndexFunc(all, func(v vitals.NewUsual) bool {
				return v.Sign == u.Sign && v.From.Equal(u.From) && v.Said.Equal(u.Said) && v.By == u.By && v.Not == u.Not
			})
			td.Cmp(t, i >= 0 && (all[i].Back || !u.Back), true)
		}
	})
}

func TestUsualFrom(t *testing.T) {
	t.Parallel()
	on := func(days int) time.Time { return spring.AddDate(0, 0, days) }
	h := vitals.Horse{NewUsual: []vitals.NewUsual{
		{Sign: vitals.HeartRate, From: on(20), Said: on(26)},
		{Sign: vitals.HeartRate, From: on(10), Said: on(16)},
		{Sign: vitals.HeartRate, From: on(30), Said: on(36), Not: true},
		{Sign: vitals.HeartRate, From: on(40), Said: on(46), Back: true},
		{Sign: vitals.RectalTemperature, From: on(5), Said: on(5)},
	}}
	for days, from := range map[int]int{9: -1, 10: 10, 19: 10, 20: 20, 50: 20} {
		u, ok := h.UsualFrom(vitals.HeartRate, "", on(days))
		td.Cmp(t, ok, from >= 0, "day %d", days)
		if ok {
			td.Cmp(t, u.From, on(from), "day %d", days)
		}
	}
	_, ok := h.UsualFrom(vitals.RespiratoryRate, "", on(50))
	td.Cmp(t, ok, false)
}

func TestNewUsualIsChecked(t *testing.T) {
	t.Parallel()
	horse := vitals.Horse{ID: "juniper", Name: "Juniper", Type: vitals.TypeHorse, Born: vitals.DateOf(spring.AddDate(-5, 0, 0))}
	for _, v := range []struct {
		u    vitals.NewUsual
		want []string
	}{
		{vitals.NewUsual{Sign: vitals.HeartRate, From: spring, Said: spring, By: "Ann"}, nil},
		{vitals.NewUsual{Sign: "heart", From: spring, Said: spring}, []string{"unknown-sign /newUsual/0/sign"}},
		{vitals.NewUsual{Sign: vitals.GumColour, From: spring, Said: spring}, []string{"wrong-kind /newUsual/0/sign"}},
		{vitals.NewUsual{Sign: vitals.HeartRate, Site: "jaw", From: spring, Said: spring}, []string{"unknown-site /newUsual/0/site"}},
		{vitals.NewUsual{Sign: vitals.HeartRate, From: spring, Said: spring.Add(-time.Hour)}, []string{"said-before /newUsual/0/said"}},
		{vitals.NewUsual{Sign: vitals.HeartRate, From: spring.AddDate(-9, 0, 0), Said: spring, By: "A\nB"},
			[]string{"control-character /newUsual/0/by"}},
		{vitals.NewUsual{Sign: vitals.HeartRate}, []string{"impossible-time /newUsual/0/from", "impossible-time /newUsual/0/said"}},
	} {
		horse.NewUsual = []vitals.NewUsual{v.u}
		var got []string
		for _, f := range vitals.CheckHorse(horse) {
			got = append(got, string(f.Code)+" "+f.Path)
		}
		td.Cmp(t, got, v.want)
	}
}
