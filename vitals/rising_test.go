package vitals

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"
	"github.com/shopspring/decimal"
)

// What creeps up over the looks of one case, each time inside its limits, is told; what goes up and down, too few looks, other
// cases and looks after work are not.
func TestWhatRisesIsTold(t *testing.T) {
	t.Parallel()
	look := func(minute int, sign SignID, value float64) Exam {
		s, _ := Lookup(sign)
		e := examOf(Finding{Sign: sign, Reading: &Reading{Value: decimal.NewFromFloat(value), Unit: s.Unit}})
		e.At, e.RecheckOf, e.State = testMoment.Add(time.Duration(minute)*time.Minute), "first", State{Condition: AtRest}
		e.ID = ID(e.At.Format("1504"))
		if minute == 0 {
			e.ID, e.RecheckOf = "first", ""
		}
		return e
	}
	run := func(sign SignID, values ...float64) []Exam {
		var out []Exam
		for i, v := range values {
			out = append(out, look(60*i, sign, v))
		}
		return out
	}
	told := func(list []Exam) []SignID {
		var out []SignID
		for _, f := range RisingAlarms(list[len(list)-1], list[:len(list)-1]) {
			td.Cmp(t, f.Urgency, RingSoon)
			out = append(out, f.Sign)
		}
		return out
	}
	worked, another, late := run(HeartRate, 36, 40, 44, 46), run(HeartRate, 36, 40, 44, 46), run(HeartRate, 36, 40, 46)
	worked[0].State, worked[1].State = State{Condition: AfterWork}, State{Condition: AfterWork}
	another[0].Horse, another[1].Horse = "other", "other"
	late[0].At = late[0].At.Add(-11 * time.Hour)
	single := run(HeartRate, 36, 40, 46)
	single[2].Findings = nil
	for _, x := range []struct {
		name string
		run  []Exam
		want []SignID
	}{
		{"a heart", run(HeartRate, 36, 40, 44, 46), []SignID{HeartRate}},
		{"20 per cent", run(HeartRate, 40, 44, 48), []SignID{HeartRate}},
		{"a little less", run(HeartRate, 40, 44, 47), nil},
		{"two looks", run(HeartRate, 36, 46), nil},
		{"up and down", run(HeartRate, 36, 46, 40, 48), nil},
		{"a stand", run(HeartRate, 36, 44, 44), nil},
		{"after work", worked, nil},
		{"another horse", another, nil},
		{"over twelve hours", late, nil},
		{"not counted now", single, nil},
		{"a breath", run(RespiratoryRate, 10, 12, 14), []SignID{RespiratoryRate}},
		{"a breath, less", run(RespiratoryRate, 10, 12, 13), nil},
		{"a temperature", run(RectalTemperature, 37.5, 37.8, 38.1), []SignID{RectalTemperature}},
		{"a temperature, less", run(RectalTemperature, 37.5, 37.8, 38), nil},
	} {
		td.Cmp(t, told(x.run), x.want, x.name)
	}
}

// Answers that hardly go together are pointed out, and fire all that they fire alone.
func TestContraryAnswersArePointedOut(t *testing.T) {
	t.Parallel()
	h := animal(TypeHorse, Adult)
	for _, x := range []struct {
		found []Finding
		want  [][2]SignID
	}{
		{[]Finding{choose(Attitude, "", "down-not-rising"), choose(Gait, "", "free")}, [][2]SignID{{Attitude, Gait}}},
		{[]Finding{choose(LimbLoad, "", "no-weight"), choose(Gait, "", "free")}, [][2]SignID{{LimbLoad, Gait}}},
		{[]Finding{choose(GumColour, "", "pink"), {Sign: CapillaryRefill, Timed: &Timed{CentiSeconds: []int{400}}}}, [][2]SignID{{GumColour, CapillaryRefill}}},
		{[]Finding{choose(GumColour, "", "pink"), {Sign: CapillaryRefill, Timed: &Timed{CentiSeconds: []int{200}}}}, nil},
		{[]Finding{choose(Feed, "", "none"), choose(Doing, "", "eating")}, [][2]SignID{{Feed, Doing}}},
		{[]Finding{choose(Attitude, "", "bright"), choose(Gait, "", "free")}, nil},
	} {
		e := examOf(x.found...)
		td.Cmp(t, Contrary(h, e), x.want)
		if x.want != nil {
			td.CmpNot(t, Strongest(FiredAlarms(h, e)), Urgency(""))
		}
	}
}

// What was counted in a full minute is what the rules go by: the half beat of the estimate moves nobody over a limit.
func TestAFullMinuteIsAsCounted(t *testing.T) {
	t.Parallel()
	h := animal(TypeHorse, Adult)
	counted := func(n int) []Fired {
		e := examOf(Finding{Sign: HeartRate, Count: &Count{Events: n, Seconds: 60, Start: OnBeat}})
		e.State = State{Condition: AtRest}
		return FiredAlarms(h, e)
	}
	td.Cmp(t, counted(48), td.Empty())
	td.Cmp(t, counted(49), td.Len(1))
}
