package baseline

import (
	"testing"
	"time"

	"github.com/maxatome/go-testdeep/td"

	"whorl.example/vitals"
)

func TestDue(t *testing.T) {
	t.Parallel()
	at := planDay
	d := juniper(nil).Due(at)
	td.Cmp(t, d.Now, true)
	td.Cmp(t, d.At.IsZero() && d.LastAt.IsZero(), true)
	td.Cmp(t, d.Unknown, td.Contains(vitals.HeartRate))
	td.Cmp(t, d.Unknown, td.Contains(vitals.GumColour))
	td.Cmp(t, d.Unknown, td.Not(td.Contains(vitals.LungSounds)), "of the graded ones only those without equipment")

	four := juniper(quietHeart(4, 34, 37, 35)) // the last a week ago
	d = four.Due(at)
	td.Cmp(t, []any{d.Exams, d.Now, d.EveryDays, d.At}, []any{4, false, 17, at.AddDate(0, 0, 10)})
	td.Cmp(t, four.Due(at.AddDate(0, 0, 10)).Now, true)
	td.Cmp(t, four.Due(at.AddDate(0, 0, 10).Add(-time.Second)).Now, false)
	td.Cmp(t, d.Unknown, td.All(td.Not(td.Contains(vitals.HeartRate)), td.Contains(vitals.RectalTemperature)))
	// Once the plan is done, monthly.
	td.Cmp(t, juniper(quietHeart(practiceExams, 34, 37, 35)).Due(at).EveryDays, 30)
	// A foal's usual moves by the week.
	foal := must(New(vitals.Horse{ID: "foal", Name: "Juniper", Type: vitals.TypeHorse, Born: vitals.DateOf(at.AddDate(0, -3, 0))}))
	td.Cmp(t, foal.Due(at).EveryDays, 7)
	// An exam of a bad day teaches nothing, and so nothing is due later for it.
	sick := quietHeart(1, 60)
	sick[0].Wellness = vitals.Unwell
	td.Cmp(t, juniper(sick).Due(at).Exams, 0)
}

// The rhythm that the barn's list shows is the plan's.
func TestDueIsThePlans(t *testing.T) {
	t.Parallel()
	for _, kind := range []vitals.Type{vitals.TypeHorse, vitals.TypeDonkey} {
		p := must(New(vitals.Horse{ID: "h", Name: "Juniper", Type: kind})).PracticePlan(planDay, 0)
		td.Cmp(t, p.Exams, td.Between(practiceExams-1, practiceExams+1), string(kind))
		td.Cmp(t, p.EveryDays, td.Between(15.5, 17.5), string(kind))
	}
}

func TestTelling(t *testing.T) {
	t.Parallel()
	c := Comparison{
		Alarms: []vitals.Fired{{Alarm: "x", Sign: vitals.GutSounds}, {Alarm: "y", Sign: vitals.HeartRate}},
		Signs: []Compared{
			{Sign: vitals.RectalTemperature, Statement: AsUsual},
			{Sign: vitals.GutSounds, Site: "gut-upper-left", Statement: Differs}, {Sign: vitals.GutSounds, Site: "gut-upper-right", Statement: Differs},
			{Sign: vitals.CapillaryRefill, Statement: AsUsual, Settle: &Settle{}},
			{Sign: vitals.RespiratoryRate, Statement: Higher, Settle: &Settle{}},
			{Sign: vitals.Attitude, Statement: Noted},
		},
	}
	td.Cmp(t, c.Telling(), []Telling{
		{vitals.RespiratoryRate, TellingUnusual}, {vitals.CapillaryRefill, TellingSettle},
		{vitals.HeartRate, TellingAlarm}, {vitals.GutSounds, TellingAlarm},
	})
	td.Cmp(t, Comparison{}.Telling(), td.Empty())
}
